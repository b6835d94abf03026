"""A studio on crit day and the people in it, who save as the pages' own scripts do.

Each keeps a ledger of what the server said is kept. A save that gets no answer is sent again, with
the same key and version, until it has one; what is refused or stops with a bare 500 is a fault.
"""

from __future__ import annotations

import http.client
import io
import random
import re
import threading
import time
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from urllib.parse import urlencode
from uuid import uuid4

from PIL import Image

from tests.crowd_site import Studio
from tests.served import TOKEN

LONGEST_WAIT_S = 12
"""As long as the pages' own scripts wait."""

BOUNDARY = "what-no-picture-holds-7c1f4e2a90b8"
"""As long as a browser's: three signs stand in one of a hundred pictures, which is then no form."""
PICTURE_FORM = f"multipart/form-data; boundary={BOUNDARY}"

MOST_ROWS = 8
"""Rows that one student types; then they are changed."""


def _letter(issued: int) -> str:
    """The revision after so many, as the site letters them: Z, then AA."""
    before, last = divmod(issued, 26)
    return (_letter(before - 1) if before else "") + chr(ord("A") + last)


@dataclass
class Save:
    """One thing that somebody keeps: every value that was sent, and the last one said to be kept.

    acknowledged   how many sent values the server said it kept
    """

    sent: list[str] = field(default_factory=list)
    kept: str | None = None
    acknowledged: int = 0

    def may_stand(self, value: object) -> bool:
        """Whether a value may stand: the last acknowledged, or the last that was sent."""
        return value in (self.kept, self.sent[-1])


class Stopped(Exception):
    """Somebody goes home with a save still waiting."""


@dataclass
class Person:
    """Somebody at a browser, who saves and waits by turns."""

    port: int
    session: str
    pause_s: tuple[float, float]
    again_s: float = 0.5
    ledger: dict[tuple[object, ...], Save] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)
    answers: Counter[str] = field(default_factory=Counter)
    times_ms: list[float] = field(default_factory=list)
    over: threading.Event = field(default_factory=threading.Event)
    gone: threading.Event = field(default_factory=threading.Event)
    line: http.client.HTTPConnection | None = None
    tag: str = ""  # of the last answer, to ask by

    def step(self) -> None:
        """Save one thing."""
        raise NotImplementedError

    def work(self) -> None:
        """Go on until it is over."""
        try:
            while not self.over.wait(random.uniform(*self.pause_s)):
                self.step()
        except Stopped:
            return
        except Exception as fault:  # a writer that breaks is told, not lost
            self.faults.append(f"{type(self).__name__}: {fault!r}")
        finally:
            self.leave()

    def leave(self) -> None:
        """Close the browser."""
        if self.line is not None:
            self.line.close()
            self.line = None

    def ask(
        self, method: str, path: str, body: bytes | None = None, **heads: str
    ) -> tuple[int, str]:
        """One request on this person's connection; OSError or HTTPException where it breaks."""
        if self.line is None:
            self.line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=LONGEST_WAIT_S)
        cookies = f"sessionid={self.session}; csrftoken={TOKEN}"
        begun = time.perf_counter()
        try:
            self.line.request(method, path, body, {"Cookie": cookies, **heads})
            answer = self.line.getresponse()
            text = answer.read().decode() or answer.headers.get("Location", "")
        except (OSError, http.client.HTTPException):
            self.leave()
            raise
        self.times_ms.append((time.perf_counter() - begun) * 1000)
        self.tag = answer.headers.get("ETag", "")
        return answer.status, text

    def keep(
        self,
        what: tuple[object, ...],
        value: str,
        path: str,
        fields: Mapping[str, object] | bytes,
        *,
        is_kept: Callable[[int, str], bool] = lambda status, text: status == 200,
    ) -> str:
        """Send a save until it is said to be kept; return the answer."""
        held = self.ledger.setdefault(what, Save())
        held.sent.append(value)
        heads = {"X-CSRFToken": TOKEN}
        if isinstance(fields, bytes):
            body, heads["Content-Type"] = fields, PICTURE_FORM
        else:
            body, heads["Content-Type"] = (
                urlencode(fields).encode(),
                "application/x-www-form-urlencoded",
            )
            heads["HX-Request"] = "true"
        while True:
            try:
                status, text = self.ask("POST", path, body, **heads)
            except (OSError, http.client.HTTPException) as cut:
                self.answers[type(cut).__name__] += 1
            else:
                self.answers[str(status)] += 1
                if is_kept(status, text):
                    held.kept, held.acknowledged = value, held.acknowledged + 1
                    return text
                if status == 302:  # nothing differs from what is issued: there is none to keep
                    del self.ledger[what]
                    return text
                if status not in (503, 507) and "stored just now" not in text:
                    self.faults.append(f"{status} to {path}: {words_of(text)}")
                    if status < 500:
                        raise Stopped
            if self.gone.wait(self.again_s):
                raise Stopped


def words_of(page: str) -> str:
    """The words of a page, for a person who looks why."""
    return " ".join(re.sub(r"<[^>]*>", " ", page.partition("<main")[2] or page).split())[:300]


def found(pattern: str, text: str) -> str:
    match = re.search(pattern, text)
    assert match, f"no {pattern} in {words_of(text)}"
    return match[1]


@dataclass
class Student(Person):
    """Types rows of the room schedule, and changes them."""

    scheme: int = 0
    number: int = 0
    rows: list[list[str]] = field(default_factory=list)

    def step(self) -> None:
        address = f"/schemes/{self.scheme}/schedules/rooms/rows/"
        floor = f"{random.randint(100, 999_999) / 100:.2f}"
        if len(self.rows) < MOST_ROWS and (not self.rows or random.random() < 0.3):
            mark = f"P{self.number}x{len(self.rows)}"
            sent = {"cell-mark": mark, "cell-room": "Day room", "cell-use": "day"}
            sent |= {"cell-floor_m2": floor, "version": "0", "key": str(uuid4())}
            self.rows.append([mark, "", "0"])
            text = self.keep((self.scheme, mark), floor, f"{address}new/", sent)
            self.rows[-1][1:] = found(r'id="row-(\d+)"', text), "1"
            return
        row = random.choice(self.rows)
        mark, pk, version = row
        sent = {"cell-floor_m2": floor, "version": version, "key": str(uuid4())}
        text = self.keep((self.scheme, mark), floor, f"{address}{pk}/", sent)
        own = text.partition(f'id="row-{pk}"')[2]
        row[2] = found(r'name="version" value="(\d+)"', own)


@dataclass
class Juror(Person):
    """Sets levels and writes comments."""

    seat: int = 0
    criteria: list[int] = field(default_factory=list)
    schemes: dict[str, int] = field(default_factory=dict)
    seen: dict[tuple[object, ...], str] = field(default_factory=dict)

    def step(self) -> None:
        scheme, of = random.choice(list(self.schemes.items()))
        if random.random() < 0.3:
            return self._comment(scheme, of)
        criterion = random.choice(self.criteria)
        what = (self.seat, int(scheme), criterion)
        now = self.ledger.get(what)
        levels = [level for level in "12345" if now is None or level != now.kept]
        level = random.choice(levels)
        sent = {"level": level, "seen": self.seen.get(what, "0"), "of": of}
        text = self.keep(what, level, f"/jury/{scheme}/levels/{criterion}/", sent)
        self.seen[what] = found(r'data-seen="(\d+)"', text)
        return None

    def _comment(self, scheme: str, of: int) -> None:
        mine = [what for what in self.seen if what[0] == "comment" and what[1] == scheme]
        what = random.choice(mine) if len(mine) > 2 else ("comment", scheme, str(uuid4()))
        words = f"Show the number {random.random()}."
        sent = {"key": what[2], "kind": "Prove", "place": "", "criterion": "", "words": words}
        sent |= {"seen": self.seen.get(what, "0"), "of": of}
        text = self.keep(what, words, f"/jury/{scheme}/comments/", sent)
        self.seen[what] = found(rf'id="comment-{what[2]}" data-seen="(\d+)"', text)


@dataclass
class Hanger(Person):
    """Hangs sheets, and issues the package."""

    scheme: int = 0
    hung: int = 0
    letter: int = 0

    def step(self) -> None:
        address = f"/schemes/{self.scheme}"
        if self.hung > 2 * (self.letter + 1):
            letter = _letter(self.letter)
            what = (self.scheme, "letter", letter)
            sent = {"letter": letter}
            self.keep(
                what,
                letter,
                f"{address}/issue/",
                sent,
                is_kept=lambda status, text: status == 302 and "/revisions/" in text,
            )
            if what in self.ledger:  # else all that is new stands in line, and more is hung
                self.letter += 1
                return
        self.hung += 1
        number = f"{self.hung:02}"
        sent_as = f"{number} Plan.png"
        self.keep(
            (self.scheme, "sheet", number),
            number,
            f"{address}/sheets/",
            picture_form(sent_as, self.scheme * 1000 + self.hung),
            # hung at once, or said to stand in line; not what says that it can't be stored
            is_kept=lambda status, text: (
                status == 302
                or (status == 200 and sent_as in text and "stored just now" not in text)
            ),
        )


@dataclass
class Reader(Person):
    """Reads pages in turn."""

    pages: tuple[str, ...] = ()
    turn: int = 0

    def step(self) -> None:
        page = self.pages[self.turn % len(self.pages)]
        self.turn += 1
        status, text = self.ask("GET", page)
        if status != 200:
            self.faults.append(f"{status} to {page}: {words_of(text)}")


def picture_form(name: str, seed: int) -> bytes:
    """A multipart body with a picture that no other seed gives."""
    noise = random.Random(seed).randbytes(80 * 60 * 3)
    made = io.BytesIO()
    Image.frombytes("RGB", (80, 60), noise).resize((400, 300)).save(made, "PNG")
    head = f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="files"; filename="{name}"\r\n'
    foot = f"\r\n--{BOUNDARY}--\r\n"
    return f"{head}Content-Type: image/png\r\n\r\n".encode() + made.getvalue() + foot.encode()


def people_of(
    studio: Studio, port: int, pause_s: tuple[float, float], again_s: float = 0.5
) -> list[Person]:
    """Everybody who saves, as the studio names them."""
    how = {"port": port, "pause_s": pause_s, "again_s": again_s}
    people: list[Person] = [
        Student(session=session, scheme=scheme, number=number, **how)
        for number, (scheme, session) in enumerate(studio.students)
    ]
    people += [
        Juror(session=session, seat=seat, criteria=studio.criteria, schemes=studio.schemes, **how)
        for seat, session in enumerate(studio.jurors, start=1)
    ]
    people += [Hanger(session=session, scheme=scheme, **how) for scheme, session in studio.hangers]
    return people


def start(people: list[Person]) -> list[threading.Thread]:
    threads = [threading.Thread(target=person.work, daemon=True) for person in people]
    for thread in threads:
        thread.start()
    return threads
