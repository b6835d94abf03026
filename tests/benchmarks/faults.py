"""What is lost or doubled when server, worker and database are killed under sixty people who save.

    python -m tests.benchmarks.faults [sqlite|postgresql] [--kills 100] [--every 4] [--full]
         [--clock] [--seed 1]

A real `serve` of two processes on a folder of its own. Every few seconds something is killed
(signal 9): one process with the worker inside it, the process that watches, the whole group at
once, or the database's own (of SQLite that is the process). --full fills the disk by turns (a small
tmpfs, which only root mounts); --clock sets the server's clock an hour back and a day forward.
Everybody keeps a ledger of what was said to be kept; at the end it is held to what stands. Prints
what was done and what is wrong. Not collected by pytest; a short form of it is
tests/reviews/test_faults.py.
"""

from __future__ import annotations

import argparse
import collections
import contextlib
import os
import random
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.client import HTTPException
from pathlib import Path

from tests import crowd, crowd_site
from tests.clusters import Cluster, cluster
from tests.served import ROOT, _prepared, free_port, manage, surroundings

PROCESSES = 2
UP_WITHIN_S = 180
DRAINED_WITHIN_S = 90
SHIFTED = """
import pathlib, time
from datetime import timedelta
from django.utils import timezone
file = pathlib.Path(__file__).with_name("hours")
now, ticks = timezone.now, time.time
timezone.now = lambda: now() + timedelta(hours=float(file.read_text()))
time.time = lambda: ticks() + 3600 * float(file.read_text())
"""
"""Read by Python as it starts: sets the clock of the server alone by the hours in a file."""


@dataclass
class Place:
    """A site in a folder, its server, and its database where that is a process of its own."""

    folder: Path
    env: dict[str, str]
    cluster: Cluster | None = None
    port: int = field(default_factory=free_port)
    server: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start the server, as a watching system does until it stands."""
        words = ["serve", "--port", f"{self.port}", "--processes", f"{PROCESSES}"]
        with (self.folder / "log").open("a") as log:
            self.server = subprocess.Popen(
                [sys.executable, str(ROOT / "manage.py"), *words],
                cwd=ROOT,
                env=self.env,
                start_new_session=True,
                stdout=log,
                stderr=subprocess.STDOUT,
            )

    @property
    def log(self) -> str:
        return (self.folder / "log").read_text(encoding="utf-8")

    def workers(self) -> list[int]:
        assert self.server
        asked = ["ps", "-o", "pid=", "--ppid", f"{self.server.pid}"]
        found = subprocess.run(asked, capture_output=True, text=True, check=False)
        return [int(pid) for pid in found.stdout.split()]

    def is_up(self) -> bool:
        """Whether it answers that all works; one that left is started again."""
        assert self.server
        if self.server.poll() is not None:  # the address was still taken
            self.start()
        asked = crowd.Person(self.port, "", (0, 0))
        try:
            return asked.ask("GET", "/healthz")[0] == 200
        except (OSError, HTTPException):
            return False
        finally:
            asked.leave()

    def wait(self) -> None:
        ends = time.monotonic() + UP_WITHIN_S
        while not self.is_up():
            assert time.monotonic() < ends, f"The server does not come back: {self.log[-3000:]}"
            time.sleep(0.2)

    def kill(self, what: str) -> None:
        """Kill something, and start again what nothing else starts."""
        assert self.server
        if what == "process":
            if found := self.workers():
                os.kill(random.choice(found), signal.SIGKILL)
        elif what == "watcher":
            self.server.kill()
            self.server.wait()
            self.start()
        elif what == "all":
            os.killpg(self.server.pid, signal.SIGKILL)
            self.server.wait()
            self.start()
        elif what == "database":
            assert self.cluster
            self.cluster.kill()
            time.sleep(random.uniform(0, 1.5))
            self.cluster.start()

    def stop(self) -> None:
        if self.server and self.server.poll() is None:
            self.server.terminate()
            self.server.wait(30)


@contextlib.contextmanager
def place(kind: str, folder: Path) -> Iterator[Place]:
    """A migrated site with nobody in it whom a crowd would meet."""
    prepared, _, _ = _prepared()
    shutil.copytree(prepared, folder / "data")
    with contextlib.ExitStack() as open_:
        held = open_.enter_context(cluster(folder / "cluster")) if kind == "postgresql" else None
        own = {"DATABASE_URL": held.url} if held else {}
        env = surroundings(folder / "data", **own)
        if held:
            done = manage("migrate", "-v0", **env)
            assert done.returncode == 0, done.stderr
        found = Place(folder, env, held)
        try:
            yield found
        finally:
            found.stop()


def wrong(place: Place, people: list[crowd.Person]) -> list[str]:
    """Everything that isn't as the ledgers say; and whatever the database says of itself."""
    now = crowd_site.run(crowd_site.DUMP, **place.env)
    told: list[str] = []

    def holds(what: object, save: crowd.Save, values: list[str], name: str) -> None:
        if len(values) > 1:
            told.append(f"{name} {what} stands {len(values)} times")
        elif not values and save.kept is not None:
            told.append(f"{name} {what} is lost: {save.kept} was acknowledged")
        elif values and not save.may_stand(values[0]):
            told.append(f"{name} {what} is {values[0]}, acknowledged {save.kept} of {save.sent}")

    by: dict[tuple[object, ...], list[str]] = collections.defaultdict(list)
    versions: dict[tuple[object, ...], int] = {}
    for scheme, mark, floor in now["rows"]:
        by[(scheme, mark)].append(floor)
    for *what, level, version in now["levels"]:
        by[tuple(what)].append(str(level))
        versions[tuple(what)] = version
    for key, words, _ in now["comments"]:
        by[("comment", key)].append(words)
    for scheme, number, is_whole in now["sheets"]:
        by[(scheme, "sheet", number)].append(number)
        if not is_whole:
            told.append(f"Sheet {number} of {scheme} has no file")
    for scheme, number in now["in_line"]:  # said to be there, and so it is; sent twice, hung once
        by[(scheme, "sheet", number)] = by[(scheme, "sheet", number)] or [number]
    for scheme, letter, _ in now["revisions"]:
        by[(scheme, "letter", letter)].append(letter)
    for person in people:
        told += person.faults
        for what, save in person.ledger.items():
            known = ("comment", what[2]) if what[0] == "comment" else what
            holds(what, save, by.get(known, []), type(person).__name__)
            if what in versions and versions[what] > len(save.sent):
                told.append(f"{what} was set {versions[what]} times, sent {len(save.sent)}")
    told += [f"change {key} twice" for key, times in now["changes"].items() if times > 1]
    told += _wrong_letters(place, now)
    return told + _wrong_inside(place)


def _wrong_letters(place: Place, now: dict[str, list[tuple[int, str, str]]]) -> list[str]:
    """Receipts: one a student and revision; sent once where it says so, else at most once."""
    folder = Path(place.env["MUNTIN_DATA_DIR"], "mail")
    written = "".join(path.read_text(encoding="utf-8") for path in folder.glob("*"))
    sent = collections.Counter(map(int, re.findall(r"^Message-ID: <letter-(\d+)@", written, re.M)))
    told = []
    for pk, key, state in now["mails"]:
        if sent[pk] > 1 or (state == "sent" and sent[pk] != 1):
            told.append(f"letter {key}, {state}, was written {sent[pk]} times")
        if state in ("queued", "failed"):
            told.append(f"letter {key} is {state}")
    receipts = sum(students for _, _, students in now["revisions"])
    of = [key for _, key, _ in now["mails"] if key.startswith("receipt:")]
    if len(of) != receipts:
        told.append(f"{len(of)} receipts for {receipts} students of revisions")
    return told


def _wrong_inside(place: Place) -> list[str]:
    if place.cluster:
        return place.cluster.wrong()
    base = sqlite3.connect(Path(place.env["MUNTIN_DATA_DIR"], "muntin.sqlite3"))
    (said,) = base.execute("PRAGMA integrity_check").fetchone()
    base.close()
    return [] if said == "ok" else [said]


@contextlib.contextmanager
def full(folder: Path) -> Iterator[None]:
    """Take all the room that the disk has."""
    filler = folder / "filler"
    with filler.open("wb") as out, contextlib.suppress(OSError):
        while True:
            out.write(b"x" * 65_536)
            out.flush()
    try:
        yield
    finally:
        filler.unlink()


@contextlib.contextmanager
def clock(folder: Path, hours: str) -> Iterator[None]:
    """Set the server's clock by some hours, and back."""
    (folder / "clock" / "hours").write_text(hours, encoding="ascii")
    try:
        yield
    finally:
        (folder / "clock" / "hours").write_text("0", encoding="ascii")


@dataclass
class Told:
    """What a run did, and what came of it."""

    kills: collections.Counter[str]
    answers: collections.Counter[str]
    sent: int
    acknowledged: int
    wrong: list[str]
    log: str


def under_faults(
    place: Place,
    studio: crowd_site.Studio,
    kills: list[str],
    every_s: float,
    pause_s: tuple[float, float] = (0.5, 2),
    people: list[crowd.Person] | None = None,
) -> Told:
    """Let people save while things are killed; then hold their ledgers to what stands.

    people   who; None lets everybody of the studio
    """
    place.start()
    place.wait()
    people = people or crowd.people_of(studio, place.port, pause_s)
    threads = crowd.start(people)
    for what in kills:
        place.wait()
        time.sleep(random.uniform(0.1, 1.9) * every_s)
        if what == "full":
            with full(place.folder):
                time.sleep(every_s)
            if place.cluster:
                place.cluster.start()
        elif what.startswith(("+", "-")):
            with clock(place.folder, what):
                time.sleep(every_s)
        else:
            place.kill(what)
    place.wait()
    # a third of them go home at once, whatever waits; the others see theirs arrive
    for person in people:
        person.over.set()
    for person in people[::3]:
        person.gone.set()
    ends = time.monotonic() + DRAINED_WITHIN_S
    for thread in threads:
        thread.join(max(0, ends - time.monotonic()))
    assert not any(thread.is_alive() for thread in threads), "somebody still waits for an answer"
    _let_it_drain(place, studio)
    time.sleep(3)  # the worker looks at its queue each second
    place.stop()
    answers = sum((person.answers for person in people), collections.Counter())
    saves = [save for person in people for save in person.ledger.values()]
    return Told(
        kills=collections.Counter(kills),
        answers=answers,
        sent=sum(len(save.sent) for save in saves),
        acknowledged=sum(save.acknowledged for save in saves),
        wrong=wrong(place, people),
        log=place.log,
    )


def _let_it_drain(place: Place, studio: crowd_site.Studio) -> None:
    """Look at the sheets until no picture stands in line, as their page does by itself."""
    ends = time.monotonic() + DRAINED_WITHIN_S
    for scheme, session in studio.hangers:
        page = crowd.Person(place.port, session, (0, 0))
        while "In line" in (text := page.ask("GET", f"/schemes/{scheme}/sheets/")[1]) or (
            "Being read now" in text or "Next in line" in text
        ):
            assert time.monotonic() < ends, crowd.words_of(text)
            time.sleep(1)
        page.leave()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("kinds", nargs="*", default=["sqlite", "postgresql"])
    parser.add_argument("--kills", type=int, default=100)
    parser.add_argument("--every", type=float, default=4, help="seconds, from half to half as much")
    parser.add_argument("--full", action="store_true")
    parser.add_argument("--clock", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    random.seed(asked.seed)
    for kind in asked.kinds:
        with tempfile.TemporaryDirectory() as name, contextlib.ExitStack() as open_:
            folder, more = Path(name), {}
            folder.chmod(0o755)
            if asked.full:
                subprocess.run(["mount", "-t", "tmpfs", "-o", "size=300m", "x", name], check=True)
                open_.callback(subprocess.run, ["umount", "-l", name], check=True)
            if asked.clock:
                (folder / "clock").mkdir()
                (folder / "clock" / "hours").write_text("0", encoding="ascii")
                (folder / "clock" / "sitecustomize.py").write_text(SHIFTED, encoding="ascii")
                more = {"PYTHONPATH": str(folder / "clock")}
            here = open_.enter_context(place(kind, folder))
            studio = crowd_site.seeded(15, 20, 5, **here.env)
            here.env |= more
            hits = ["process", "watcher", "all"] + ["database"] * (kind == "postgresql")
            hits += ["full"] * asked.full + ["-1", "+24"] * asked.clock
            kills = [hits[n % len(hits)] for n in range(asked.kills)]
            random.shuffle(kills)
            told = under_faults(here, studio, kills, asked.every)
            print(f"{kind}: {dict(told.kills)}; acknowledged {told.acknowledged:,}")
            print(f"  answers {dict(told.answers.most_common())}")
            print("\n".join(["  nothing wrong"] if not told.wrong else told.wrong[:40]), flush=True)
            if told.wrong:
                print(told.log[-6000:])


if __name__ == "__main__":
    main()
