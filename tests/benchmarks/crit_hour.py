"""An hour of a crit pressed into two minutes: a hundred devices, and the server killed ten times.

    python -m tests.benchmarks.crit_hour [sqlite|postgresql] [--kills 10] [--seconds 120]
         [--processes 3] [--seed 1]

Sixty jurors set levels and write comments, each as many in two minutes as in an hour of a crit, and
their devices ask every three seconds how their room stands, as the pages' own script does; forty
more, projectors and people at the side, only ask. First for the time asked without a fault, beside
as many who change one row each and do nothing else (tests/bare); then again while the server is
killed (signal 9: a process, the watcher, the whole group, by turns; of PostgreSQL its own too).
Everybody keeps a ledger of what was said to be kept, and it is held to what stands. Prints sent,
kept, lost and doubled, p50 and p99 of saves and of the bare write, and what asking costs. Nothing
leaves this machine. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from http.client import HTTPException
from pathlib import Path

from tests import crowd, crowd_site
from tests.benchmarks import faults
from tests.benchmarks.load import BareWriter, for_a_while

JURORS, SCHEMES, OTHERS = 60, 8, 40
SAVES_AN_HOUR = 60
"""Sixteen taps a scheme, words beside them, three or four schemes: common practice."""
ASKS_EVERY_S = (2.5, 3.5)

ROOM = """
import json, django; django.setup()
from reviews.models import Crit, RoomLink
link, _ = RoomLink.objects.get_or_create(crit=Crit.objects.last(), room="")
print(json.dumps({"code": link.code}))
"""


@dataclass
class Asker(crowd.Person):
    """A device that asks how a room stands, and is mostly told that nothing changed."""

    path: str = ""
    known: str = ""

    def step(self) -> None:
        heads = {"If-None-Match": self.known} if self.known else {}
        try:
            status, _ = self.ask("GET", self.path, None, **heads)
        except (OSError, HTTPException) as cut:
            self.answers[type(cut).__name__] += 1
            return
        self.answers[str(status)] += 1
        if status == 200:
            self.known = self.tag
        if status not in (200, 304, 503):
            self.faults.append(f"{status} to {self.path}")


def askers(studio: crowd_site.Studio, port: int, code: str) -> list[Asker]:
    how = {"port": port, "pause_s": ASKS_EVERY_S}
    own = [Asker(session=session, path="/jury/live/", **how) for session in studio.jurors]
    return own + [Asker(session="", path=f"/rooms/{code}/live/", **how) for _ in range(OTHERS)]


def quantile(times: list[float], hundredth: int) -> float:
    return statistics.quantiles(times, n=100)[hundredth - 1]


def without_a_fault(
    here: faults.Place, studio: crowd_site.Studio, code: str, seconds: float
) -> None:
    """Saves and asks of a hundred devices, beside as many bare writes."""
    pause_s = (0.5 * seconds / SAVES_AN_HOUR, 1.5 * seconds / SAVES_AN_HOUR)
    jurors = [p for p in crowd.people_of(studio, here.port, pause_s) if isinstance(p, crowd.Juror)]
    asking = askers(studio, here.port, code)
    everybody = [*jurors, *asking]
    for_a_while(everybody, 10)
    for person in everybody:
        person.answers.clear()
    for_a_while(everybody, seconds)
    saves = [ms for person in jurors for ms in person.times_ms]
    asks = [ms for person in asking for ms in person.times_ms]
    asked = sum((person.answers for person in asking), Counter())
    bare = [
        BareWriter(
            session=s, row=studio.rows[n % len(studio.rows)], port=here.port, pause_s=pause_s
        )
        for n, s in enumerate(studio.jurors)
    ]
    for_a_while(bare, 5)
    for_a_while(bare, seconds)
    least = [ms for person in bare for ms in person.times_ms]
    for name, times in (("saves", saves), ("asks", asks), ("bare writes", least)):
        p50, p99 = quantile(times, 50), quantile(times, 99)
        print(
            f"  {name:<12}{len(times):>7} p50 {p50:6.0f} p99 {p99:6.0f} most {max(times):6.0f} ms"
        )
    print(f"  p99 of saves ÷ bare write: {quantile(saves, 99) / quantile(least, 99):.1f}")
    print(f"  nothing new: {100 * asked['304'] / sum(asked.values()):.0f} % of what was asked")


def while_killed(
    kind: str, here: faults.Place, studio: crowd_site.Studio, kills: int, seconds: float
) -> None:
    """The same crowd's saves while the server is killed; held to what stands."""
    pause_s = (0.5 * seconds / SAVES_AN_HOUR, 1.5 * seconds / SAVES_AN_HOUR)
    hits = ["process", "watcher", "all"] + ["database"] * (kind == "postgresql")
    asked = [hits[n % len(hits)] for n in range(kills)]
    told = faults.under_faults(here, studio, asked, seconds / max(kills, 1), pause_s)
    print(f"  {dict(told.kills)}; said to be kept {told.acknowledged:,}")
    print(f"  answers {dict(told.answers.most_common())}")
    print(f"  lost or doubled: {len(told.wrong)}", *told.wrong[:20], sep="\n    ", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kinds", nargs="*", default=["sqlite", "postgresql"])
    parser.add_argument("--kills", type=int, default=10)
    parser.add_argument("--seconds", type=float, default=120)
    parser.add_argument("--processes", type=int, default=3)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    random.seed(asked.seed)
    for kind in asked.kinds:
        faults.PROCESSES = asked.processes if kind == "postgresql" else 1
        print(f"{kind}, {faults.PROCESSES} process(es), {JURORS} jurors, {OTHERS} others")
        with tempfile.TemporaryDirectory() as name:
            Path(name).chmod(0o755)
            with faults.place(kind, Path(name)) as here:
                studio = crowd_site.seeded(JURORS, SCHEMES, **here.env)
                code = str(crowd_site.run(ROOM, **here.env)["code"])
                here.env["DJANGO_SETTINGS_MODULE"] = "tests.bare.settings"
                here.start()
                here.wait()
                without_a_fault(here, studio, code, asked.seconds)
                here.stop()
                del here.env["DJANGO_SETTINGS_MODULE"]
                time.sleep(1)
                while_killed(kind, here, studio, asked.kills, asked.seconds)


if __name__ == "__main__":
    main()
