"""Who sees what: rooms, crossings, interests and absences put together; whose panel is small."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from criteria.crit_day.timetable import Turn
from criteria.errors import InputError

LEAST_PANEL = 3
"""Jurors a scheme. Common practice [no.]."""


@dataclass(frozen=True)
class Juror:
    """A juror's own room, "" for one who sees every room's, and kind: in-house, visiting …"""

    name: str
    room: str = ""
    kind: str = ""


@dataclass(frozen=True)
class Interest:
    """What a juror declared: steps aside and leaves the room, or comments and sets no level."""

    juror: str
    number: str
    may_comment: bool = False


@dataclass(frozen=True)
class Crossing:
    """A juror who for one slot comes to another room than the own, or is away from the own."""

    juror: str
    number: str
    comes: bool


@dataclass(frozen=True)
class Absence:
    """From when until when a juror isn't there, in the minutes of the turns; None is for good.

    A slot that it touches isn't seen from start to end, so it isn't judged.
    """

    juror: str
    since: int | None = None
    until: int | None = None

    def touches(self, turn: Turn) -> bool:
        """Whether the juror misses some of a turn; of one without an hour that is taken so."""
        if turn.span is None:
            return True
        begun = self.since is None or self.since < turn.span[1]
        return begun and (self.until is None or turn.span[0] < self.until)


@dataclass(frozen=True)
class Panel:
    """Who sits before one scheme.

    present   jurors in the room
    levels    those of them who set levels: without a declared interest
    """

    number: str
    present: tuple[str, ...]
    levels: tuple[str, ...]

    @property
    def size(self) -> int:
        """Jurors in the room."""
        return len(self.present)

    @property
    def is_short(self) -> bool:
        """Whether fewer sit there, or fewer set levels, than is usual."""
        return len(self.levels) < LEAST_PANEL


@dataclass(frozen=True)
class Sees:
    """Everything that says who sees what.

    Later words win: a crossing over the room, an interest over both, an absence over all.
    """

    jurors: tuple[Juror, ...]
    turns: tuple[Turn, ...]
    interests: tuple[Interest, ...] = ()
    crossings: tuple[Crossing, ...] = ()
    absences: tuple[Absence, ...] = ()

    def __post_init__(self) -> None:
        for what, names in (("juror", self.names), ("scheme", self.numbers)):
            if len(set(names)) != len(names):
                raise InputError(f"a {what} stands twice; expected each once")

    @property
    def names(self) -> tuple[str, ...]:
        """The jurors."""
        return tuple(juror.name for juror in self.jurors)

    @property
    def numbers(self) -> tuple[str, ...]:
        """The schemes."""
        return tuple(turn.number for turn in self.turns)

    def turn(self, number: str) -> Turn:
        """A scheme's turn. Raises InputError for one that has none."""
        if number not in self._turns:
            raise InputError(f"{number} has no turn")
        return self._turns[number]

    def is_present(self, juror: Juror, turn: Turn) -> bool:
        """Whether a juror sits before a scheme."""
        key = juror.name, turn.number
        crossed = self._crossings.get(key)
        here = not turn.room or not juror.room or turn.room == juror.room
        if not (here if crossed is None else crossed) or self._interests.get(key) is False:
            return False
        absences = (each for each in self.absences if each.juror == juror.name)
        return not any(each.touches(turn) for each in absences)

    def sets_levels(self, juror: Juror, turn: Turn) -> bool:
        """Whether a juror sits there and has declared no interest."""
        return self.is_present(juror, turn) and (juror.name, turn.number) not in self._interests

    def panel(self, number: str) -> Panel:
        """Who sits before a scheme."""
        turn = self.turn(number)
        present = [juror for juror in self.jurors if self.is_present(juror, turn)]
        levels = [juror for juror in present if self.sets_levels(juror, turn)]
        return Panel(number, tuple(j.name for j in present), tuple(j.name for j in levels))

    def panels(self) -> tuple[Panel, ...]:
        """Who sits before each scheme, in order."""
        return tuple(self.panel(number) for number in self.numbers)

    def turns_of(self, juror: Juror) -> tuple[Turn, ...]:
        """What a juror sees, in order."""
        return tuple(turn for turn in self.turns if self.is_present(juror, turn))

    def load(self, name: str) -> int:
        """How many schemes a juror sees."""
        return len(self.turns_of(self.juror(name)))

    def juror(self, name: str) -> Juror:
        """A juror by name. Raises InputError for one who doesn't sit."""
        found = next((juror for juror in self.jurors if juror.name == name), None)
        if found is None:
            raise InputError(f"{name} has no seat")
        return found

    def interest_of(self, name: str, number: str) -> bool:
        """Whether a juror declared any interest in a scheme."""
        return (name, number) in self._interests

    def with_crossings(self, crossings: Iterable[Crossing]) -> Sees:
        """The same with more crossings; of two of a juror and scheme the later stands."""
        return Sees(
            self.jurors,
            self.turns,
            self.interests,
            (*self.crossings, *crossings),
            self.absences,
        )

    @cached_property
    def _turns(self) -> dict[str, Turn]:
        return {turn.number: turn for turn in self.turns}

    @cached_property
    def _crossings(self) -> dict[tuple[str, str], bool]:
        return {(each.juror, each.number): each.comes for each in self.crossings}

    @cached_property
    def _interests(self) -> dict[tuple[str, str], bool]:
        return {(each.juror, each.number): each.may_comment for each in self.interests}


def short_panels(sees: Sees) -> tuple[Panel, ...]:
    """The panels that are smaller than is usual, in order; none where nobody is invited yet."""
    if not sees.jurors:
        return ()
    return tuple(panel for panel in sees.panels() if panel.is_short)


def names_of(names: Sequence[str], last: str = "and") -> str:
    """Names as they are said: Ann, Bo and Cy."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"
