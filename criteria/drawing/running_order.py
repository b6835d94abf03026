"""A day of showing, drawn as dimension lines: a tick a scheme, what is on, and the hour.

Wide, a room is a line across; on a telephone time runs down, a line to each room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Disc, Lettering, Mark, Path, Point
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.placing import Look, Placing

HEAD_MM, ROOM_MM, FOOT_MM, SIDE_MM = 6.0, 24.0, 2.0, 2.0
LINE_MM, STROKE_MM, END_MM, SIGN_MM = 11.0, 1.4, 0.9, 2.2
DOWN_MM = 5.4
"""How far apart lines of words stand on a telephone [mm]."""
LEAST_MINUTES = 30
"""A day is drawn at least so long, and so long after its last scheme."""


class Turn(StrEnum):
    """How far a scheme's turn has come."""

    DONE = "done"
    ON = "on"
    WAITING = "waiting"
    STOOD_DOWN = "stood down"


@dataclass(frozen=True, kw_only=True)
class Showing:
    """A scheme's time in a room.

    minute      after midnight
    is_settled  whether every sheet of it is locked; None where nobody is told
    is_own      whether it is the reader's
    """

    number: str
    name: str
    minute: int
    turn: Turn
    is_settled: bool | None = None
    is_own: bool = False


@dataclass(frozen=True, kw_only=True)
class Line:
    """A room and what it sees, in the order of the hour."""

    room: str
    shown: Sequence[Showing]


def clock(minute: int) -> str:
    """Write an hour of the day.

    >>> clock(555), clock(0)
    ('09:15', '00:00')
    """
    return "{:02}:{:02}".format(*divmod(minute, 60))


def draw_running_order(lines: Sequence[Line], now: int | None, field: Field) -> Drawing:
    """Draw a day; each room shows something. What is outside of the day has no hour on it.

    now   minutes after midnight, None on another day
    """
    minutes = [each.minute for line in lines for each in line.shown]
    first, last = min(minutes), max(minutes) + LEAST_MINUTES
    now = now if now is not None and first <= now <= last else None
    day = _Day(lines, first, last, now, field)
    marks, height, key = day.down() if field.is_narrow else day.across()
    return Drawing(
        title="The running order",
        says=day.says(),
        width_mm=field.width_mm,
        height_mm=round(height, 2),
        marks=marks,
        key=key,
    )


@dataclass(frozen=True)
class _Day:
    lines: Sequence[Line]
    first: int
    last: int
    now: int | None
    field: Field

    def says(self) -> str:
        parts = [f"It is {clock(self.now)}."] if self.now is not None else []
        for line in self.lines:
            turns = (
                f"{clock(each.minute)} {each.number} {each.name}, {each.turn}"
                + {None: "", True: ", locked", False: ", not locked"}[each.is_settled]
                for each in line.shown
            )
            parts.append(f"{line.room}: {'; '.join(turns)}.")
        return " ".join(parts)

    def across(self) -> tuple[tuple[Mark, ...], float, tuple[str, ...]]:
        """A line across for each room, under the hour."""
        left = SIDE_MM + max(width_mm(line.room, NAME_MM) for line in self.lines) + 6.0
        right = self.field.width_mm - SIDE_MM - width_mm("00:00", LEAST_MM) / 2
        per_minute = (right - left) / (self.last - self.first)
        height = HEAD_MM + ROOM_MM * len(self.lines) + FOOT_MM
        placing, marks = Placing(self.field.width_mm, height), list[Mark]()
        key = []
        if self.now is not None:
            x = left + (self.now - self.first) * per_minute
            marks.append(Path(points=((x, HEAD_MM - 1), (x, height - FOOT_MM)), pen=Pen.DATUM))
            placing.letter(f"now {clock(self.now)}", [(x, HEAD_MM - 3.5)], Look(is_strong=True))
        for n, line in enumerate(self.lines):
            y = HEAD_MM + ROOM_MM * n + LINE_MM
            at = (SIDE_MM, y + NAME_MM / 2)
            marks.append(Lettering(words=line.room, at=at, cap_mm=NAME_MM, is_strong=True))
            marks.append(Path(points=((left, y), (right, y)), pen=Pen.FINE))
            for each in line.shown:
                x = left + (each.minute - self.first) * per_minute
                marks += _tick(each, (x, y), across=True)
                above = [(x, y - 4.2), (x, y - 8.0)]
                told = placing.letter(clock(each.minute), above, Look(tone=Tone.GRAPHITE))
                below = [(x, y + 5.4), (x, y + 9.0), (x, y + 12.4)]
                if not (placing.letter(_number(each), below, _look(each)) and told):
                    key.append(f"{clock(each.minute)} {each.number} in {line.room}")
        return (*marks, *placing.letters), height, tuple(key)

    def down(self) -> tuple[tuple[Mark, ...], float, tuple[str, ...]]:
        """A line down for each room, one under the other."""
        marks, top, x = list[Mark](), HEAD_MM, SIDE_MM + width_mm("00:00", LEAST_MM) + 4.0
        for line in self.lines:
            at = (SIDE_MM, top)
            marks.append(Lettering(words=line.room, at=at, cap_mm=NAME_MM, is_strong=True))
            begins = top + 4.0
            rows = list(_rows(line.shown, self.now))
            top = begins + DOWN_MM * len(rows)
            marks.append(Path(points=((x, begins), (x, top)), pen=Pen.FINE))
            for n, each in enumerate(rows):
                y = begins + DOWN_MM * (n + 0.5)
                marks += self._row(each, x, y)
            top += 7.0
        return tuple(marks), top - 5.0, ()

    def _row(self, each: Showing | None, x: float, y: float) -> Iterator[Mark]:
        foot = y + LEAST_MM / 2
        if each is None:
            assert self.now is not None
            ends = ((SIDE_MM, y), (self.field.width_mm - SIDE_MM, y))
            yield Path(points=ends, pen=Pen.DATUM)
            at = (self.field.width_mm - SIDE_MM, y - 1.0)
            yield Lettering(words=f"now {clock(self.now)}", at=at, anchor="end", is_strong=True)
            return
        yield from _tick(each, (x, y), across=False)
        tone = Tone.GRAPHITE
        yield Lettering(words=clock(each.minute), at=(SIDE_MM, foot), tone=tone)
        look, at = _look(each), (x + 5.4, foot)
        name = f"{_number(each)} {each.name}"
        words = fitted(name, LEAST_MM, self.field.width_mm - SIDE_MM - at[0])
        yield Lettering(words=words, at=at, tone=look.tone, is_strong=look.is_strong)


def _rows(shown: Iterable[Showing], now: int | None) -> Iterator[Showing | None]:
    """The schemes, and nothing where the hour comes between them."""
    for each in shown:
        if now is not None and now < each.minute:
            yield None
            now = None
        yield each
    if now is not None:
        yield None


def _number(each: Showing) -> str:
    return f"({each.number})" if each.turn is Turn.STOOD_DOWN else each.number


def _look(each: Showing) -> Look:
    is_strong = each.is_own or each.turn is Turn.ON
    is_over = each.turn in (Turn.DONE, Turn.STOOD_DOWN) and not is_strong
    return Look(tone=Tone.GRAPHITE if is_over else Tone.INK, is_strong=is_strong)


def _tick(each: Showing, at: Point, *, across: bool) -> Iterator[Mark]:
    """An oblique stroke, wide for the reader's own; a level mark at what is on; its sheets' end."""
    x, y = at
    stroke = ((x - STROKE_MM, y + STROKE_MM), (x + STROKE_MM, y - STROKE_MM))
    yield Path(points=stroke, pen=Pen.CUT if each.is_own else Pen.SEEN)
    if each.turn is Turn.ON:
        ends = (x - SIGN_MM / 2, y - SIGN_MM), (x + SIGN_MM / 2, y - SIGN_MM)
        if not across:
            ends = (x - SIGN_MM, y - SIGN_MM / 2), (x - SIGN_MM, y + SIGN_MM / 2)
        yield Path(points=(at, *ends), pen=Pen.SEEN, fill=Fill.INK, is_closed=True)
    if each.is_settled is not None:
        fill = Fill.INK if each.is_settled else Fill.PAPER
        middle = (x, y + 2.6) if across else (x + 3.0, y)
        yield Disc(middle=middle, radius_mm=END_MM, fill=fill)
