"""The night, drawn: who sleeps in each room, and the air that comes to them with the windows shut.

No shape of a room is shown, only its floor and the wall by which air comes: arrows are as wide as
the air of their vents, and each sleeper is one mark.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.held import Held, held, told
from criteria.drawing.lettering import LEAST_MM, fitted, wrapped
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Touch
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered, per_mm, stands_for
from criteria.drawing.value_bars import (
    LINE_MM,
    SIDE_MM,
    Bar,
    answer,
    height_mm,
    strip,
)
from criteria.findings import Amount
from criteria.schedules.air import Vent
from criteria.schedules.rooms import Room
from criteria.units import AIR_FLOW

WET = ("wc", "kitchen")
BARS = {"night_air": "fresh air each", "night_co2": "carbon dioxide by morning"}
"""Figures of each room that stand as bars, in words."""
MOST_ROOMS, MOST_NARROW, MOST_VENTS = 7, 4, 2
BLOCK_MM, APART_MM, TALL_MM, HEAD_MM = 36.0, 5.0, 15.0, 5.0
LYING_MM, ABOVE_MM, HEAD_R_MM = 5.0, 3.0, 0.75
"""A sleeper: how long, how much paper above each other, and how large the head [mm]."""
ARROW_MM, WIDEST_MM, TIP_MM = 9.0, 9.0, 2.4
"""How long an arrow is, how wide all of a room are together at most, and how long a tip [mm]."""


@dataclass(frozen=True, kw_only=True)
class Asleep:
    """A room as it is drawn, with the vents whose air is given."""

    room: Room
    vents: tuple[Vent, ...]

    @property
    def name(self) -> str:
        """Its mark and name."""
        return f"{self.room.title} {self.room.name or ''}".strip()

    @property
    def flow_m3_s(self) -> float:
        """The air that all of them bring together [m³/s]."""
        return sum(vent.n * vent.flow_m3_s for vent in self.vents)


def rooms_of(seen: Seen) -> tuple[list[Asleep], tuple[Gap, ...]]:
    """Return the rooms that are drawn, those that the check measured worst first."""
    package = seen.package.leniently
    given = [vent for vent in package.vents if vent.n and vent.flow_m3_s is not None]
    wanted = WET if seen.check == "wet_extract" else ()
    rooms = [room for room in package.rooms if (room.use in wanted if wanted else room.sleepers)]
    order = [each.measured.subject for each in held(seen, "night_air")]
    rooms.sort(key=lambda room: order.index(room.title) if room.title in order else len(order))
    gaps = [
        Gap(
            schedule="vents",
            mark=vent.title,
            column="l_s_each",
            says=f"{vent.title}: what it gives isn't given",
        )
        for vent in package.vents
        if vent not in given
    ]
    found = [
        Asleep(room=room, vents=tuple(vent for vent in given if vent.room == room.mark))
        for room in rooms
    ]
    return found, (*gaps, *(() if wanted else unsaid(package.rooms)))


def unsaid(rooms: Iterable[Room]) -> tuple[Gap, ...]:
    """Name the rooms of which nobody knows how many sleep there."""
    return tuple(
        Gap(
            schedule="rooms",
            mark=room.title,
            column="sleepers",
            says=f"{room.title}: sleepers not given",
        )
        for room in rooms
        if room.sleepers is None
    )


def draw_night(seen: Seen, rooms: Sequence[Asleep], gaps: tuple[Gap, ...], field: Field) -> Drawing:
    """Draw rooms with their sleepers and air, over how much that is for each."""
    return _Night(seen, rooms, field).drawing(gaps)


class _Night:
    def __init__(self, seen: Seen, rooms: Sequence[Asleep], field: Field) -> None:
        self.seen, self.field = seen, field
        most = MOST_NARROW if field.is_narrow else MOST_ROOMS
        self.rooms, self.past = rooms[:most], rooms[most:]
        widest = max(self._flow(room) for room in self.rooms)
        self.per_mm = per_mm(lambda per: widest / per <= WIDEST_MM, field.system)
        self.figures: list[Figure] = []

    def _flow(self, room: Asleep) -> float:
        return float(AIR_FLOW.unit(self.field.system).from_si(room.flow_m3_s))

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        asked, field = self.seen.asked, self.field
        marks, top = answer(asked, told(self.seen), field.width_mm, field.system)
        across = max(1, int((field.width_mm - 2 * SIDE_MM + APART_MM) / (BLOCK_MM + APART_MM)))
        for n, room in enumerate(self.rooms):
            left = SIDE_MM + n % across * (BLOCK_MM + APART_MM)
            marks += self._room(room, left, top + n // across * self._tall_mm)
        top += (1 + (len(self.rooms) - 1) // across) * self._tall_mm
        for line in self._lines():
            top += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top), tone=Tone.GRAPHITE))
        top += 3.0
        for check, words in self._checks():
            bars = self._bars(check)
            if bars:
                marks += self._strip(bars, words, top)
                top += LINE_MM + height_mm(bars, is_stacked=field.is_narrow) + 3.0
        past = ", ".join(room.room.title for room in self.past)
        return Drawing(
            title="Sleepers, and the air that comes to them",
            says=self._says(),
            width_mm=field.width_mm,
            height_mm=round(top, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale,
            left_out=gaps,
            key=(f"rooms: {past}",) if past else (),
        )

    @property
    def scale(self) -> str:
        """What the width of an arrow stands for."""
        system = self.field.system
        return stands_for(self.per_mm, AIR_FLOW.unit(system).symbol, system)

    @property
    def _tall_mm(self) -> float:
        vents = max(len(room.vents) for room in self.rooms)
        lines = min(max(vents, 1), MOST_VENTS) + any(room.room.sleepers for room in self.rooms)
        return HEAD_MM + TALL_MM + lines * LINE_MM + 2.0

    def _says(self) -> str:
        without = [room.name for room in self.rooms if not room.vents]
        says = f"{self.seen.asked.state.word}."
        return f"{says} Without a vent: {', '.join(without)}." if without else says

    def _lines(self) -> list[str]:
        words = f"arrows as wide as the air that comes, {self.scale}"
        return wrapped(words, LEAST_MM, self.field.width_mm - 2 * SIDE_MM)

    # One room: its floor, who lies on it, the wall and what comes by it

    def _room(self, room: Asleep, left: float, top: float) -> Iterator[Mark]:
        is_picked = self.seen.asked.measured.subject == room.room.title
        foot = top + HEAD_MM + TALL_MM
        wall = left + BLOCK_MM - ARROW_MM
        name = fitted(room.name, LEAST_MM, BLOCK_MM)
        title = Lettering(words=name, at=(left, top + LEAST_MM + 0.5), is_strong=is_picked)
        ground = Path(points=((left, foot), (wall, foot)), pen=Pen.CUT)
        count = room.room.sleepers or 0
        marks = (title, ground, *sleepers(count, left + 1.0, wall - TIP_MM - 1.0, foot))
        says = f"{room.name}, {count} asleep"
        yield Touch(schedule="rooms", mark=room.room.title, says=says, marks=marks)
        middle = top + HEAD_MM + TALL_MM / 2
        wide = self._flow(room) / self.per_mm
        for one, other in ((top + HEAD_MM, middle - wide / 2), (middle + wide / 2, foot)):
            yield Path(points=((wall, one), (wall, other)), pen=Pen.CUT)
        y = middle - wide / 2
        for vent in room.vents:
            flow = Amount(vent.n * vent.flow_m3_s, AIR_FLOW)
            thick = float(AIR_FLOW.unit(self.field.system).from_si(flow.si)) / self.per_mm
            says = f"{vent.title}, {lettered(flow, self.field.system)}"
            arrow = _arrow(wall, y, thick)
            yield Touch(schedule="vents", mark=vent.title, says=says, marks=(arrow,))
            self.figures.append(Figure(what=vent.title, amount=flow))
            y += thick
        system = self.field.system
        vents = [
            f"{v.title} {v.n} × {lettered(Amount(v.flow_m3_s, AIR_FLOW), system)}"
            for v in room.vents
        ]
        more = len(vents) - MOST_VENTS
        if more > 0:
            vents[MOST_VENTS - 1 :] = [f"and {more + 1} more"]
        lines = [(words, Tone.GRAPHITE) for words in vents] or [("no vent", Tone.SHORT)]
        lines += [(f"{count} asleep", Tone.GRAPHITE)] if count else []
        for n, (words, tone) in enumerate(lines, 1):
            at = (left, foot + n * LINE_MM)
            yield Lettering(words=fitted(words, LEAST_MM, BLOCK_MM + 2.0), at=at, tone=tone)

    # How much that is for each

    def _checks(self) -> list[tuple[str, str]]:
        if self.seen.check == "wet_extract":
            return []
        if not self.field.is_narrow:
            return list(BARS.items())
        check = self.seen.check if self.seen.check in BARS else "night_air"
        return [(check, BARS[check])]

    def _bars(self, check: str) -> list[Bar]:
        first: dict[str, Held] = {}
        for each in held(self.seen, check):
            first.setdefault(each.measured.subject, each)
        found = []
        system, is_narrow = self.field.system, self.field.is_narrow
        for room in self.rooms:
            if room.room.title in first:
                figure = first[room.room.title]
                bar = Bar(
                    name=room.name,
                    held=figure,
                    words=figure.write_beside(system, is_narrow=is_narrow),
                    row=("rooms", room.room.title),
                    is_strong=figure.measured == self.seen.asked.measured,
                )
                found.append(bar)
                what = f"{room.name}, {BARS[check]}"
                self.figures.append(Figure(what=what, amount=figure.amount))
        return found

    def _strip(self, bars: Sequence[Bar], words: str, top: float) -> Iterator[Mark]:
        yield Lettering(words=words, at=(SIDE_MM, top + LEAST_MM), tone=Tone.GRAPHITE)
        yield from strip(bars, top + LINE_MM, self.field)


def sleepers(
    count: int, left: float, right: float, foot: float, tall: float = TALL_MM
) -> Iterator[Path | Disc]:
    """Draw sleepers side by side and above each other, as many as there is paper for."""
    long = min(LYING_MM, right - left)
    across = max(int((right - left) / (LYING_MM + 1.0)), int(long > 3 * HEAD_R_MM))
    for n in range(min(count, across * int(tall / ABOVE_MM))):
        x = left + n % across * (LYING_MM + 1.0)
        y = foot - 1.2 - n // across * ABOVE_MM
        yield Disc(middle=(x + HEAD_R_MM, y - HEAD_R_MM), radius_mm=HEAD_R_MM, fill=Fill.INK)
        body = (x + 2.2 * HEAD_R_MM, y - HEAD_R_MM), (x + long, y - HEAD_R_MM)
        yield Path(points=body, pen=Pen.CUT)


def _arrow(wall: float, top: float, thick: float) -> Path:
    """An arrow through a wall into a room, as thick as the air that it stands for."""
    out, tip = wall + ARROW_MM, wall - TIP_MM
    foot = top + thick
    points = (out, top), (wall, top), (tip, (top + foot) / 2), (wall, foot), (out, foot)
    return Path(points=points, pen=Pen.SEEN, fill=Fill.GLASS, is_closed=True)


def _ready(seen: Seen) -> Ready | None:
    rooms, gaps = rooms_of(seen)
    return Ready(partial(draw_night, seen, rooms, gaps)) if rooms else None


NIGHT_AIR = Picture(
    ready=_ready,
    wants="rooms want how many sleep in them",
    checks=("night_air", "dwelling_air", "night_co2", "wet_extract"),
    schedules=("vents",),
    main="night_air",
)
