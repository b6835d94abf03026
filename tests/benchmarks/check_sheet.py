"""How long a whole check sheet takes, and what it allocates.

    python -m tests.benchmarks.check_sheet

The demo's largest package, then one of 200 rows made of it, then that in four states and for
three people cases; each with its thirty targets, odd values and claims, and with the checks that
nothing asks for. Prints the median processor's time of some runs and the most memory held at
once, and exits 1 where a sheet takes longer than it may. The packing search is apart: it stops
at a number of positions, and that is timed too. Not collected by pytest.
"""

import statistics
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import asked_sheet, check_sheet
from criteria.command.folder import FolderReading, read_folder
from criteria.measures.packing import TRIES, Box, pack
from criteria.package import Package
from criteria.schedules import SCHEDULES
from criteria.schedules.by_state import RoomState
from criteria.schedules.states import BuildingState, PeopleCase

ALLOWED_MS = 20
ALLOWED_IN_STATES_MS = 40
RUNS = 31
DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"


def count_rows(package: Package) -> int:
    return sum(len(package.rows_of(s.row)) for s in SCHEDULES if not s.is_single)


def grown(package: Package, rows: int) -> Package:
    """Return a package with so many rows: loads, pieces and stowage again under other marks."""
    again = 0
    while (lacks := rows - count_rows(package)) > 0:
        again += 1
        parts = {}
        for slug in ("loads", "pieces", "stowage", "moves"):
            held = package._held[slug]
            copies = held[: min(len(held), max(0, lacks))]
            lacks -= len(copies)
            marked = [row.but(mark=f"{row.mark}.{again}") for row in copies]
            parts[slug] = (*held, *marked)
        package = package.but(**parts)
    return package


def changing(package: Package) -> Package:
    """Return a package in four states, each room otherwise used in two, for three cases."""
    kinds = {"packed": "road", "day": "day", "night": "night", "storm": "night"}
    rooms = package.rooms
    return package.but(
        states=tuple(BuildingState(state=state, kind=kind) for state, kind in kinds.items()),
        cases=tuple(PeopleCase(case=f"case{n}", people=n, days=90) for n in (3, 5, 9)),
        rooms_by_state=tuple(
            RoomState(room=room.mark, state=state, sleepers=room.sleepers + 1)
            for room in rooms
            for state in ("night", "storm")
            if room.if_given("sleepers")
        ),
    )


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    work()
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
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
    many = grown(largest.package, 200)
    ways = (largest.package, ALLOWED_MS), (many, ALLOWED_MS), (changing(many), ALLOWED_IN_STATES_MS)
    for package, allowed in ways:

        def sheet(package: Package = package) -> object:
            return asked_sheet(package.but(), largest.targets)

        def whole(package: Package = package) -> object:
            return check_sheet(package.but(), largest.targets)

        def questions(package: Package = package) -> object:
            return likely_questions(asked_sheet(package.but(), largest.targets), package)

        took = median_ms(sheet)
        slow = slow or took > allowed
        print(
            f"{count_rows(package)} rows: targets {took:.1f} ms of {allowed}, with all other "
            f"checks {median_ms(whole):.1f} ms, with questions {median_ms(questions):.1f} ms, "
            f"{most_kib(sheet):,.0f} KiB at most"
        )
    bricks = [Box(f"B{i}", (0.4, 0.2, 0.1)) for i in range(27)]
    took = median_ms(lambda: pack((0.6, 0.6, 0.6), bricks), 3)
    print(f"a packing that is given up after {TRIES:,} positions: {took:.0f} ms")
    return int(slow)


if __name__ == "__main__":
    sys.exit(main())
