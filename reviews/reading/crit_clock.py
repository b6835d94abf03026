"""The clock of a slot: its state, part and minutes, read of what the timekeeper did.

Pure: entries, the minutes of the parts and a moment in, a `Reading` out. Nothing is on, and nothing
is over, because an hour has come: a state is set by somebody. Without an entry a slot is to come.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, time, timedelta
from enum import StrEnum

from reviews.models import ClockEntry

Deed = ClockEntry.Deed

OVER_S = 120.0
"""By how much a slot may run over its time before it is said. Common practice [s]."""

SAME_PRESS = timedelta(seconds=2)
"""Within so long the same deed twice is one: two timekeepers at once, or a tap that bounced."""


class Part(StrEnum):
    """The parts of a slot, in their order."""

    PRESENT = "present"
    DISCUSS = "discuss"
    WRITING = "writing"


WORDS = {Part.PRESENT: "Presenting", Part.DISCUSS: "Discussion", Part.WRITING: "Silent writing"}


class State(StrEnum):
    """How far a slot has come, as somebody set it."""

    TO_COME = "to come"
    MOVED = "moved"
    CALLED = "called"
    ON = "on"
    WRITING = "writing"
    DONE = "done"
    AGREED = "stood down, agreed absence"
    SILENT = "stood down, without word"
    OFFERED = "stood down, another time offered"


WAITS = frozenset({State.TO_COME, State.MOVED, State.CALLED})
RUNS = frozenset({State.ON, State.WRITING})
STOOD_DOWN = frozenset({State.AGREED, State.SILENT, State.OFFERED})

Minutes = Mapping[Part, float]
"""How long each part of a slot takes [min]; a part of none is passed over."""


@dataclass(frozen=True)
class Entry:
    """One thing that was done, as `ClockEntry` keeps it; words name the part that begins."""

    deed: str
    at: datetime
    minutes: int | None = None
    words: str = ""
    starts_at: time | None = None
    room: str = ""


@dataclass(frozen=True)
class Offer:
    """Another time, offered once: what became of it, None while nobody has answered."""

    starts_at: time | None
    room: str
    is_taken: bool | None = None


@dataclass(frozen=True)
class Reading:
    """A slot by its clock.

    part        the one that is on; None where none is
    length_s    of that part, with what was added
    left_s      of that part, below nothing where it is over its time
    ends_at     when that part ends; None where nothing runs
    given_s     by part, what was paused left out
    over_s      by how much what was given passes the time of the parts so far
    began_at    when it was started, and when it was ended or stood down
    passed_over what doesn't fit what was done before it, and counts for nothing
    """

    state: State = State.TO_COME
    part: Part | None = None
    is_paused: bool = False
    length_s: float = 0.0
    left_s: float | None = None
    ends_at: datetime | None = None
    given_s: Mapping[Part, float] = field(default_factory=dict)
    extra_min: int = 0
    paused_s: float = 0.0
    over_s: float = 0.0
    began_at: datetime | None = None
    ended_at: datetime | None = None
    offer: Offer | None = None
    passed_over: tuple[Entry, ...] = ()

    @property
    def runs(self) -> bool:
        """Whether it is on, in silent writing too."""
        return self.state in RUNS

    @property
    def given_in_all_s(self) -> float:
        """Everything that it was given."""
        return sum(self.given_s.values())

    @property
    def is_long_over(self) -> bool:
        """Whether it runs, or ran, over by more than is let pass."""
        return self.over_s > OVER_S


def parts_in(minutes: Minutes) -> list[Part]:
    """The parts that a slot has."""
    return [part for part in Part if minutes.get(part, 0) > 0]


def part_after(part: Part | None, minutes: Minutes) -> Part | None:
    """The part that follows; None after the last."""
    order = list(Part)
    first = order.index(part) + 1 if part else 0
    return next((each for each in order[first:] if minutes.get(each, 0) > 0), None)


def read(entries: Iterable[Entry], minutes: Minutes, now: datetime) -> Reading:
    """Read a slot's clock at a moment.

    Entries stand in the order of their moments, whatever the order in which they arrived; what was
    pressed twice at once is one. A moment before an entry, where the clock was set back, counts as
    that entry's own: no time is ever taken away.
    """
    hand = _Hand(minutes)
    for entry in once(entries):
        hand.take(entry)
    return hand.reading(now)


def once(entries: Iterable[Entry]) -> list[Entry]:
    """Entries in the order of their moments, the same deed twice at once left out."""
    kept: list[Entry] = []
    for entry in sorted(entries, key=lambda each: each.at):
        before = kept[-1] if kept else None
        if before is None or not is_same_press(before, entry):
            kept.append(entry)
    return kept


def is_same_press(before: Entry, after: Entry) -> bool:
    """Whether two entries are one press, by two people or twice."""
    same = (before.deed, before.starts_at, before.room) == (after.deed, after.starts_at, after.room)
    return same and after.at - before.at <= SAME_PRESS


class _Hand:
    """What a slot has come to, entry by entry."""

    def __init__(self, minutes: Minutes) -> None:
        self.minutes = minutes
        self.state = State.TO_COME
        self.stood = State.AGREED
        self.part: Part | None = None
        self.since: datetime | None = None
        self.paused_at: datetime | None = None
        self.given: dict[Part, float] = {}
        self.allowed: dict[Part, float] = {}
        self.extra = 0
        self.paused_s = 0.0
        self.began_at: datetime | None = None
        self.ended_at: datetime | None = None
        self.offer: Offer | None = None
        self.passed_over: list[Entry] = []

    def take(self, entry: Entry) -> None:
        does = {
            Deed.CALLED: self._called,
            Deed.STARTED: self._started,
            Deed.NEXT_PART: self._next_part,
            Deed.PAUSED: self._paused,
            Deed.WENT_ON: self._went_on,
            Deed.EXTRA: self._extra,
            Deed.ENDED: self._ended,
            Deed.STOOD_DOWN_AGREED: self._stood_down,
            Deed.STOOD_DOWN_SILENT: self._stood_down,
            Deed.OFFERED: self._offered,
            Deed.TAKEN: self._answered,
            Deed.DECLINED: self._answered,
            Deed.MOVED: self._moved,
        }.get(Deed(entry.deed))
        if does is None or not does(entry):
            self.passed_over.append(entry)

    @property
    def is_begun(self) -> bool:
        return self.began_at is not None

    def _called(self, entry: Entry) -> bool:
        if self.is_begun or self.state is State.CALLED:
            return False
        self.state = State.CALLED
        return True

    def _started(self, entry: Entry) -> bool:
        first = part_after(None, self.minutes)
        if self.is_begun or first is None:
            return False
        self.began_at, self.ended_at = entry.at, None
        self._begin(first, entry.at)
        return True

    def _next_part(self, entry: Entry) -> bool:
        if self.state not in RUNS:
            return False
        order = list(Part)
        named = next((part for part in Part if part == entry.words), None)
        to = named or part_after(self.part, self.minutes)
        if to is None or self.part is None or order.index(to) <= order.index(self.part):
            return False
        self._stop(entry.at)
        self._begin(to, entry.at)
        return True

    def _paused(self, entry: Entry) -> bool:
        if self.state not in RUNS or self.paused_at:
            return False
        self._stop(entry.at)
        self.paused_at = entry.at
        return True

    def _went_on(self, entry: Entry) -> bool:
        if self.paused_at is None:
            return False
        self._stop(entry.at)
        self.since = entry.at
        return True

    def _extra(self, entry: Entry) -> bool:
        if self.part is None:
            return False
        more = entry.minutes or 1
        self.extra += more
        self.allowed[self.part] += more * 60
        return True

    def _ended(self, entry: Entry) -> bool:
        if self.state not in RUNS:
            return False
        self._close(entry.at, State.DONE)
        return True

    def _stood_down(self, entry: Entry) -> bool:
        if self.state is State.DONE or self.state in STOOD_DOWN:
            return False
        agreed = entry.deed == Deed.STOOD_DOWN_AGREED
        self.stood = State.AGREED if agreed else State.SILENT
        self._close(entry.at, self.stood)
        return True

    def _offered(self, entry: Entry) -> bool:
        if self.state not in (State.AGREED, State.SILENT) or self.offer:
            return False
        self.offer = Offer(entry.starts_at, entry.room)
        self.state = State.OFFERED
        return True

    def _answered(self, entry: Entry) -> bool:
        if self.state is not State.OFFERED or self.offer is None:
            return False
        taken = entry.deed == Deed.TAKEN
        self.offer = replace(self.offer, is_taken=taken)
        self.state = State.MOVED if taken else self.stood
        if taken:  # it begins anew, and is given its whole time
            self.began_at = self.ended_at = None
            self.given, self.allowed, self.extra = {}, {}, 0
        return True

    def _moved(self, entry: Entry) -> bool:
        if self.state not in WAITS:
            return False
        self.state = State.MOVED
        return True

    def _begin(self, part: Part, at: datetime) -> None:
        self.part, self.since = part, at
        self.allowed.setdefault(part, self.minutes.get(part, 0) * 60)
        self.given.setdefault(part, 0.0)
        self.state = State.WRITING if part is Part.WRITING else State.ON

    def _stop(self, at: datetime) -> None:
        """Add up what ran, or what was paused, until now."""
        if self.part and self.since:
            self.given[self.part] += _seconds(self.since, at)
        if self.paused_at:
            self.paused_s += _seconds(self.paused_at, at)
        self.since = self.paused_at = None

    def _close(self, at: datetime, state: State) -> None:
        self._stop(at)
        self.state, self.part, self.ended_at = state, None, at

    def reading(self, now: datetime) -> Reading:
        given, paused_s = dict(self.given), self.paused_s
        if self.part and self.since:
            given[self.part] += _seconds(self.since, now)
        if self.paused_at:
            paused_s += _seconds(self.paused_at, now)
        length = left = 0.0
        ends_at = None
        if self.part:
            length = self.allowed[self.part]
            left = length - given[self.part]
            if self.since:
                ends_at = self.since + timedelta(seconds=length - self.given[self.part])
        return Reading(
            state=self.state,
            part=self.part,
            is_paused=self.paused_at is not None,
            length_s=length,
            left_s=left if self.part else None,
            ends_at=ends_at,
            given_s=given,
            extra_min=self.extra,
            paused_s=paused_s,
            over_s=max(0.0, sum(given.values()) - sum(self.allowed.values())),
            began_at=self.began_at,
            ended_at=self.ended_at,
            offer=self.offer,
            passed_over=tuple(self.passed_over),
        )


def _seconds(begin: datetime, end: datetime) -> float:
    return max(0.0, (end - begin).total_seconds())
