"""How long the demo's rooms take: the field alone, and all that a page shows of it.

    python -m tests.benchmarks.daylight_trial

Rooms of the four packages that are given in full, with all that a page shows: the field that is
judged, the field that is drawn, view, sun, heat and the drawing. Prints the median of some runs
beside the 100 ms that a room may take, and exits 1 where one is over. Not collected by pytest.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from criteria.command.folder import read_folder
from criteria.daylight import daylight_field
from criteria.daylight.reflected import solved
from criteria.plans.figures import inset_of, room_light
from criteria.plans.of_package import room_plan

DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"
PACKAGES = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
ALLOWED_MS = 100
RUNS = 15


def median_ms(work: Callable[[], object]) -> float:
    """Median of some runs, nothing kept from one to the next [ms]."""
    times = []
    for _ in range(RUNS):
        solved.cache_clear()
        room_light.cache_clear()
        start = time.process_time()
        work()
        times.append(1000 * (time.process_time() - start))
    return statistics.median(times)


def main() -> int:
    """Print the table; return 1 where a room takes too long."""
    print(f"{'room':<36}{'field':>9}{'all shown':>11}")
    fields = []
    for scheme, rev in PACKAGES:
        package = read_folder(DATA, scheme=scheme, rev=rev).package
        for row in package.rooms:
            if not package.windows_of(row):
                continue
            plan = room_plan(package, row.mark)
            field = median_ms(lambda p=plan: daylight_field(p.room, inset_m=inset_of(p)))
            whole = median_ms(lambda p=plan, s=package.site: room_light(p, s))
            fields.append(field)
            name = f"{scheme} {rev} {row.mark} {row.name}"[:35]
            print(f"{name:<36}{field:>6.0f} ms{whole:>8.0f} ms", flush=True)
    slowest, median = max(fields), statistics.median(fields)
    print(f"field: median of rooms {median:.0f} ms, slowest {slowest:.0f} ms, {ALLOWED_MS} allowed")
    return int(slowest > ALLOWED_MS)


if __name__ == "__main__":
    sys.exit(main())
