"""How long saves and pages take while sixty people work, beside a bare write of one row.

    python -m tests.benchmarks.load [sqlite|postgresql] [--rounds 4] [--seconds 45]
         [--processes 2] [--pause 3 9]

Forty students type rows of the room schedule, two to a scheme; fifteen jurors set levels and write
comments; five people read pages. Each waits 3 to 9 s after an answer, as long as it takes to type a
row or to tap a level, and saves as the pages' own scripts do. By turns, so that whatever else the
machine does falls on both, the same sixty do the least that could be done through the same server,
middleware and database: a view that knows who asks and changes one row (tests/bare/urls.py). The
first turn warms up and is left out. Prints p50, p95, p99 and the longest, and the ratio of the p99.
The goal is p99 of saves ≤ 3 × the bare one, and never above 2 s. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests import crowd, crowd_site
from tests.benchmarks import faults
from tests.served import TOKEN

READERS = 5


@dataclass
class BareWriter(crowd.Person):
    """Changes one row, and nothing is made of it."""

    row: int = 0

    def step(self) -> None:
        status, text = self.ask("POST", f"/bare/{self.row}/", b"", **{"X-CSRFToken": TOKEN})
        if status != 200:
            self.faults.append(f"{status}: {crowd.words_of(text)}")


def readers(
    studio: crowd_site.Studio, port: int, pause_s: tuple[float, float], *, are_bare: bool
) -> list[crowd.Person]:
    found: list[crowd.Person] = []
    for scheme, session in studio.students[:READERS]:
        at = f"/schemes/{scheme}/"
        pages = ("/", at, f"{at}schedules/rooms/", f"{at}checks/", f"{at}questions/")
        pages = ("/bare/",) if are_bare else pages
        found.append(crowd.Reader(port=port, session=session, pause_s=pause_s, pages=pages))
    return found


def for_a_while(people: Sequence[crowd.Person], seconds: float) -> tuple[list[float], list[float]]:
    """Let people work; return how long saves took, and how long reads [ms]."""
    for person in people:
        person.over.clear()
        person.times_ms.clear()
    threads = crowd.start(list(people))
    time.sleep(seconds)
    for person in people:
        person.over.set()
    for thread in threads:
        thread.join()
    told = [fault for person in people for fault in person.faults]
    assert not told, told[:5]
    are_read = [person for person in people if isinstance(person, crowd.Reader)]
    saves = [ms for person in people if person not in are_read for ms in person.times_ms]
    return saves, [ms for person in are_read for ms in person.times_ms]


def line(name: str, times: list[float]) -> float:
    of = statistics.quantiles(times, n=100)
    p50, p95, p99 = of[49], of[94], of[98]
    print(f"  {name:<18}{len(times):>7}{p50:>8.0f}{p95:>8.0f}{p99:>8.0f}{max(times):>8.0f}")
    return p99


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kinds", nargs="*", default=["sqlite", "postgresql"])
    parser.add_argument("--rounds", type=int, default=4)
    parser.add_argument("--seconds", type=float, default=45)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--pause", type=float, nargs=2, default=(3, 9))
    asked = parser.parse_args()
    pause_s = (asked.pause[0], asked.pause[1])
    faults.PROCESSES = asked.processes
    for kind in asked.kinds:
        with tempfile.TemporaryDirectory() as name:
            Path(name).chmod(0o755)
            with faults.place(kind, Path(name)) as here:
                studio = crowd_site.seeded(15, 20, **here.env)
                here.env["DJANGO_SETTINGS_MODULE"] = "tests.bare.settings"
                here.start()
                here.wait()
                measure(kind, here, studio, asked.rounds, asked.seconds, pause_s)


def measure(
    kind: str,
    here: faults.Place,
    studio: crowd_site.Studio,
    rounds: int,
    seconds: float,
    pause_s: tuple[float, float],
) -> None:
    """One table: saves and reads of the site, and of the least that could be done."""
    own = crowd.people_of(studio, here.port, pause_s)
    how = {"port": here.port, "pause_s": pause_s}
    sessions = [session for _, session in studio.students] + studio.jurors
    bare: list[crowd.Person] = [
        BareWriter(session=session, row=studio.rows[number % len(studio.rows)], **how)
        for number, session in enumerate(sessions)
    ]
    own += readers(studio, here.port, pause_s, are_bare=False)
    bare += readers(studio, here.port, pause_s, are_bare=True)
    for people in (own, bare):
        for_a_while(people, max(pause_s) + 5)
    found: list[list[float]] = [[], [], [], []]
    for _ in range(rounds):
        for people, into in ((own, found[:2]), (bare, found[2:])):
            for kept, times in zip(into, for_a_while(people, seconds), strict=True):
                kept += times
    processor = subprocess.run(["nproc"], capture_output=True, text=True, check=True).stdout
    print(f"{kind}, {len(own)} people, pause {pause_s} s, {processor.strip()} processors [ms]")
    print(f"  {'':<18}{'n':>7}{'p50':>8}{'p95':>8}{'p99':>8}{'most':>8}")
    saves = line("saves", found[0])
    line("pages read", found[1])
    least = line("bare write", found[2])
    line("bare page", found[3])
    print(f"  p99 of saves ÷ bare write: {saves / least:.1f}", flush=True)


if __name__ == "__main__":
    main()
