"""An hour of a crit pressed into two minutes: a hundred devices, and the server killed ten times.

    python -m tests.benchmarks.crit_hour [sqlite|postgresql] [--kills 10] [--seconds 120]
         [--processes 3] [--seed 1]

What an hour holds (common practice): two rooms, in each 60 ÷ 27 slots of a final crit and six
jurors, the opening's panel; of each scheme an impression, eight levels, two comments begun and
worded, and the lock: 14 saves. Together 2 × 2.2 × 6 × 14 = 373, which here come in the time asked;
with three jurors a room, half of that. A hundred devices ask how their room stands
every three seconds of the clock, as the pages' own script does: the twelve of the jurors, and
projectors, scribes and people at the side.

First without a fault, beside as many who change one row each and do nothing else (tests/bare), by
turns in quarters of the time, so that whatever else the machine does falls on both. Then again, all
hundred, while the server is killed (signal 9: a process, the watcher, the whole group, by turns; of
PostgreSQL its own too). Everybody keeps a ledger of what was said to be kept, and it is held to
what stands. Prints sent, kept, lost and doubled, p50 and p99 of saves and of the bare write, and
what asking costs. Nothing leaves this machine. Not collected by pytest.
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

ROOMS, SLOTS_AN_HOUR, SITTING, SAVES_A_SCHEME = 2, 60 / 27, 6, 14
JURORS, SCHEMES, DEVICES = ROOMS * SITTING, 8, 100
SAVES_AN_HOUR = SLOTS_AN_HOUR * SAVES_A_SCHEME
"""Of one juror."""
QUARTERS = 4
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
    return own + [
        Asker(session="", path=f"/rooms/{code}/live/", **how) for _ in range(DEVICES - JURORS)
    ]


def quantile(times: list[float], hundredth: int) -> float:
    return statistics.quantiles(times, n=100)[hundredth - 1]


def savers(studio: crowd_site.Studio, port: int, seconds: float) -> list[crowd.Person]:
    """The jurors, who save an hour's worth in so many seconds."""
    mean = seconds / SAVES_AN_HOUR
    people = crowd.people_of(studio, port, (0.5 * mean, 1.5 * mean))
    return [person for person in people if isinstance(person, crowd.Juror)]


def without_a_fault(
    here: faults.Place,
    studio: crowd_site.Studio,
    jurors: list[crowd.Person],
    code: str,
    seconds: float,
) -> None:
    """Saves and asks of a hundred devices, beside as many bare writes."""
    asking = askers(studio, here.port, code)
    bare = [
        BareWriter(
            session=session,
            row=studio.rows[n % len(studio.rows)],
            port=here.port,
            pause_s=jurors[0].pause_s,
        )
        for n, session in enumerate(studio.jurors)
    ]
    for people in ([*jurors, *asking], bare):
        for_a_while(people, 10)
    for person in asking:
        person.answers.clear()
    saves, asks, least = [], [], []
    for _ in range(QUARTERS):
        for_a_while([*jurors, *asking], seconds / QUARTERS)
        saves += [ms for person in jurors for ms in person.times_ms]
        asks += [ms for person in asking for ms in person.times_ms]
        for_a_while([*bare, *asking], seconds / QUARTERS)
        least += [ms for person in bare for ms in person.times_ms]
    for name, times in (("saves", saves), ("bare writes", least), ("asks", asks)):
        p50, p99 = quantile(times, 50), quantile(times, 99)
        print(
            f"  {name:<12}{len(times):>7} p50 {p50:6.0f} p99 {p99:6.0f} most {max(times):6.0f} ms"
        )
    asked = sum((person.answers for person in asking), Counter())
    print(f"  p50 of saves ÷ bare write: {quantile(saves, 50) / quantile(least, 50):.1f}", end="")
    print(f", p99: {quantile(saves, 99) / quantile(least, 99):.1f}")
    print(f"  nothing new: {100 * asked['304'] / sum(asked.values()):.0f} % of what was asked")


def while_killed(
    kind: str,
    here: faults.Place,
    studio: crowd_site.Studio,
    jurors: list[crowd.Person],
    code: str,
    asked: argparse.Namespace,
) -> None:
    """The same hundred, with all they kept, while the server is killed; held to what stands."""
    hits = ["process", "watcher", "all"] + ["database"] * (kind == "postgresql")
    kills = [hits[n % len(hits)] for n in range(asked.kills)]
    people = [*jurors, *askers(studio, here.port, code)]
    for person in people:
        person.over.clear()
        person.answers.clear()
    every_s = asked.seconds / max(asked.kills, 1)
    told = faults.under_faults(here, studio, kills, every_s, people=people)
    lost = [words for words in told.wrong if "is lost" in words or "acknowledged" in words]
    doubled = [words for words in told.wrong if "times" in words or "twice" in words]
    print(f"  killed {dict(told.kills)}")
    print(f"  answers {dict(told.answers.most_common())}")
    print(f"  sent {told.sent:,}, said to be kept {told.acknowledged:,}, ", end="")
    print(f"lost {len(lost)}, doubled {len(doubled)}, wrong in all {len(told.wrong)}")
    print("".join(f"    {words}\n" for words in told.wrong[:20]), end="", flush=True)


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
        print(f"{kind}, {faults.PROCESSES} process(es), {JURORS} jurors of {DEVICES}")
        with tempfile.TemporaryDirectory() as name:
            Path(name).chmod(0o755)
            with faults.place(kind, Path(name)) as here:
                studio = crowd_site.seeded(JURORS, SCHEMES, **here.env)
                code = str(crowd_site.run(ROOM, **here.env)["code"])
                here.env["DJANGO_SETTINGS_MODULE"] = "tests.bare.settings"
                here.start()
                here.wait()
                jurors = savers(studio, here.port, asked.seconds)
                without_a_fault(here, studio, jurors, code, asked.seconds)
                here.stop()
                del here.env["DJANGO_SETTINGS_MODULE"]
                time.sleep(1)
                while_killed(kind, here, studio, jurors, code, asked)


if __name__ == "__main__":
    main()
