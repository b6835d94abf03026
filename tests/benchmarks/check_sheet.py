"""How long a whole check sheet takes, and what it allocates.

    python -m tests.benchmarks.check_sheet

The demo's largest package, then one of 200 rows made of it, each with its thirty targets, odd
values, claims and likely questions. Prints the median of some runs and the most memory held at
once, and exits 1 where 200 rows take over the 20 ms that they may. The packing search is apart:
it stops at a number of positions, and that is timed too. Not collected by pytest.
"""

import dataclasses
import statistics
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.command.folder import FolderReading, read_folder
from criteria.measures.packing import TRIES, Box, pack
from criteria.package import Package
from criteria.schedules import SCHEDULES

ALLOWED_MS = 20
RUNS = 31
DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"


def count_rows(package: Package) -> int:
    return sum(len(getattr(package, s.slug)) for s in SCHEDULES if not s.is_single)


def grown(package: Package, rows: int) -> Package:
    """Return a package with so many rows: loads, pieces and stowage again under other marks."""
    again = 0
    while (lacks := rows - count_rows(package)) > 0:
        again += 1
        parts = {}
        for slug in ("loads", "pieces", "stowage", "moves"):
            held = getattr(package, slug)
            copies = held[: min(len(held), max(0, lacks))]
            lacks -= len(copies)
            marked = [dataclasses.replace(row, mark=f"{row.mark}.{again}") for row in copies]
            parts[slug] = (*held, *marked)
        package = dataclasses.replace(package, **parts)
    return package


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times) * 1000


def most_kib(work: Callable[[], object]) -> float:
    tracemalloc.start()
    work()
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return most / 1024


def main() -> int:
    readings = [read_folder(DATA, scheme=s, rev=r) for s, r in (("H03", "B"), ("E11", "C"))]
    largest: FolderReading = max(readings, key=lambda reading: count_rows(reading.package))
    slow = False
    for package in (largest.package, grown(largest.package, 200)):

        def sheet(package: Package = package) -> object:
            return check_sheet(package, largest.targets)

        def questions(package: Package = package) -> object:
            return likely_questions(check_sheet(package, largest.targets), package)

        took = median_ms(sheet)
        slow = slow or took > ALLOWED_MS
        print(
            f"{count_rows(package)} rows: check sheet {took:.1f} ms of {ALLOWED_MS}, with "
            f"questions {median_ms(questions):.1f} ms, {most_kib(sheet):,.0f} KiB at most"
        )
    bricks = [Box(f"B{i}", (0.4, 0.2, 0.1)) for i in range(27)]
    took = median_ms(lambda: pack((0.6, 0.6, 0.6), bricks), 3)
    print(f"a packing that is given up after {TRIES:,} positions: {took:.0f} ms")
    return int(slow)


if __name__ == "__main__":
    sys.exit(main())
