"""How long workbooks and ZIPs of tables take, out and in, how large they are, and what differs.

    python -m tests.benchmarks.exchange

Every package of the demo's tables goes out in both forms, the workbook in both systems of units
too, and is read again; cells that don't come back as typed are counted, which must be none. Prints
the median of the processor's time and the size of each. Not collected by pytest.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from criteria.schedules import SCHEDULES
from criteria.units import PLAIN, Notation, System
from reviews.deeds.record_typed import brought_back, taken_cells
from reviews.demo.tables import given, read_csv, typed
from reviews.exchange import data_package_in, workbook_in
from reviews.exchange.data_package import Told as DataTold
from reviews.exchange.data_package import data_package, zip_of
from reviews.exchange.workbook_schedules import Told, schedules_workbook

Records = dict[str, list[dict[str, str]]]


def packages() -> list[tuple[str, Records]]:
    """Each package of the demo's tables that has rows."""
    named = dict.fromkeys((row["scheme"], row["rev"]) for row in read_csv("rooms"))
    return [(f"{number}-{rev}", typed(given(number, rev))) for number, rev in named]


def as_workbook(records: Records, system: System) -> bytes:
    """All schedules as one workbook."""
    notation = Notation(system)
    tables = [
        (s, [taken_cells(s, row, notation) for row in records.get(s.slug, ())]) for s in SCHEDULES
    ]
    return schedules_workbook(tables, Told(title="Schedules", system=system))


def as_zip(records: Records, system: System) -> bytes:
    """The schedules with rows as a ZIP of tables, which is metric whoever reads it."""
    tables = [(s, records[s.slug]) for s in SCHEDULES if records.get(s.slug)]
    return zip_of(data_package(tables, DataTold(name="x", title="Schedules", notation=PLAIN)))


def differ(records: Records, proposal: Any, system: System) -> tuple[int, int]:
    """How many cells there are, and how many came back otherwise."""
    cells = wrong = 0
    for schedule in SCHEDULES:
        kept = [{h: t for h, t in row.items() if t} for row in records.get(schedule.slug, ())]
        told = [
            {head: cell.text for head, cell in row.cells.items()}
            for row in proposal.rows
            if row.schedule == schedule.slug
        ]
        back = told
        if system is System.US and schedule.mark_head:
            back = list(brought_back(schedule, told, kept, Notation(system)))
        elif system is System.US:
            continue  # only a row with a mark finds what is kept of it
        for was, came in zip(kept, back, strict=True):
            cells += len(was)
            wrong += sum(came.get(head) != text for head, text in was.items())
    return cells, wrong


def main() -> None:
    """Take every package out and in, and print what it took."""
    ways: dict[str, tuple[Callable[[Records, System], bytes], Any, System]] = {
        "workbook, metric": (as_workbook, workbook_in.read, System.METRIC),
        "workbook, US": (as_workbook, workbook_in.read, System.US),
        "ZIP of tables": (as_zip, data_package_in.read, System.METRIC),
    }
    held, lost = packages(), 0
    for name, (write, read, system) in ways.items():
        took: dict[str, list[float]] = {"written": [], "read": [], "kB": []}
        cells = wrong = 0
        with TemporaryDirectory() as folder:
            path = Path(folder, "sent")
            for _, records in held:
                begun = time.process_time()
                path.write_bytes(write(records, system))
                written = time.process_time()
                proposal = read(str(path), {})
                took["written"].append(1000 * (written - begun))
                took["read"].append(1000 * (time.process_time() - written))
                took["kB"].append(path.stat().st_size / 1000)
                counted, otherwise = differ(records, proposal, system)
                cells, wrong = cells + counted, wrong + otherwise
        medians = {what: statistics.median(each) for what, each in took.items()}
        print(
            f"{name:18} {len(held)} packages, {cells} cells, {wrong} differ; written "
            f"{medians['written']:.0f} ms, read {medians['read']:.0f} ms, {medians['kB']:.0f} kB"
        )
        lost += wrong
    sys.exit(1 if lost else 0)


if __name__ == "__main__":
    main()
