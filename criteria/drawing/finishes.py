"""Finishes, drawn: each room in section with a hatch a finish, and what its rows say of them.

Sections are signs, to no scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import Held, failing, finding_of, held
from criteria.drawing.lettering import LEAST_MM, fitted
from criteria.drawing.marks import Box, Disc, Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import lettered
from criteria.findings import Amount
from criteria.package import Package
from criteria.schedules.finishes import Finish
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking
from criteria.units import LENGTH, RATIO

SIDE_MM, APART_MM, TITLE_MM, LINE_MM, BETWEEN_MM = 2.0, 5.0, 4.2, LEAST_MM + 1.4, 3.0
SECTION_MM, THICK_MM, BESIDE_MM = (16.0, 11.0), 2.2, 2.5
"""A section, how thick its surfaces are drawn, and from it to its words [mm]."""
TALLEST_MM, COLUMNS = 150.0, 2
HATCHES = ((1.2, True), (1.2, False), (2.4, True), (2.4, False), (0.7, True))
"""From line to line [mm], and whether they rise: finishes take them in turn."""


Said = tuple[Finish, str, tuple[str, ...], Tone]
"""A row, its name, what it says, and the tone in which it stands."""


@dataclass(frozen=True)
class Lined:
    """A room with the finishes of its surfaces."""

    mark: str
    name: str
    rows: tuple[Finish, ...]

    @property
    def floor_gap(self) -> Gap | None:
        """Why its floor is dashed: no row says what it is finished with."""
        if any(row.if_given("surface") == "floor" for row in self.rows):
            return None
        says = f"{self.mark}: floor finish not given"
        return Gap(schedule="finishes", mark="", column="finish", says=says)


def lined_rooms(package: Package) -> tuple[Lined, ...]:
    """Return all rooms, or none without finishes. Raises Lacking where rows can't be told apart."""
    rows = package.rows_of(Finish)
    rooms = package.rows_of(Room) if rows else ()
    return tuple(
        Lined(
            room.mark,
            str(room.if_given("name") or ""),
            tuple(row for row in rows if row.if_given("room") == room.mark),
        )
        for room in rooms
    )


def draw_finishes(rooms: Sequence[Lined], seen: Seen, field: Field) -> Drawing:
    """Draw rooms in columns, each in the shortest."""
    return _Finishes(rooms, seen, field).drawing()


class _Finishes:
    """A drawing of finishes while it is drawn."""

    def __init__(self, rooms: Sequence[Lined], seen: Seen, field: Field) -> None:
        self.rooms, self.seen, self.field, self.system = rooms, seen, field, field.system
        self.head = answer(seen, field)
        self.columns = 1 if field.is_narrow else COLUMNS
        self.wide = (field.width_mm - 2 * SIDE_MM - APART_MM * (self.columns - 1)) / self.columns
        names = [str(row.if_given("finish") or "") for room in rooms for row in room.rows]
        self.hatches = {name: n % len(HATCHES) for n, name in enumerate(dict.fromkeys(names))}
        self.failing = failing(seen)
        self.wet = {each.measured.subject: each for each in held(seen, "wet_friction")}
        self.classes = _classes(seen)
        self.figures = list(self.head.figures)
        self.left_out: list[Gap] = []

    def drawing(self) -> Drawing:
        """Draw the answer, then each room in the shortest column."""
        marks: list[Mark] = [*self.head.letters]
        at = [self.head.height_mm] * self.columns
        over = []
        for room in self.rooms:
            column = at.index(min(at))
            words = list(self._words(room))
            lines = sum(1 + len(facts) for _, _, facts, _ in words) + bool(room.floor_gap)
            high = TITLE_MM + max(SECTION_MM[1], lines * LINE_MM) + BETWEEN_MM
            if at[column] + high > TALLEST_MM:
                over.append(room.mark)
                continue
            x = SIDE_MM + column * (self.wide + APART_MM)
            marks += self._room(room, words, x, at[column])
            at[column] += high
        height = max(at) + 1.0
        gaps = [room.floor_gap.says for room in self.rooms if room.floor_gap]
        return Drawing(
            title=f"Finishes of each room: {self.seen.asked.title}".removesuffix(": "),
            says=f"{self.head.says} Not given: {'; '.join(gaps)}." if gaps else self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            key=(", ".join(over),) if over else (),
        )

    def _words(self, room: Lined) -> Iterator[Said]:
        """Of each row its name and what it says, and in which tone."""
        for row in room.rows:
            surface, finish = row.if_given("surface") or "", row.if_given("finish") or ""
            name = f"{row.mark} {surface}: {finish}"
            wet = self.wet.get(row.mark)
            is_short = row.mark in self.failing or (wet is not None and wet.part.state.is_missed)
            tone = Tone.SHORT if is_short else Tone.INK
            yield row, name, tuple(self._facts(row, wet)), tone

    def _facts(self, row: Finish, wet: Held | None) -> Iterator[str]:
        if row.typed("is_wet"):
            friction = row.typed("friction")
            if friction is None:
                yield "wet"
            else:
                more = wet.part.finer(self.system) if wet else 0
                amount = wet.amount if wet else Amount(friction, RATIO)
                yield f"{lettered(amount, self.system, more)} wet"
        rise, run = row.typed("fall_rise_m"), row.typed("fall_run_m")
        if rise is not None and run is not None:
            ends = (lettered(Amount(each, LENGTH), self.system) for each in (rise, run))
            yield f"falls {' in '.join(ends)}"
        if row.mark in self.classes:
            found = self.classes[row.mark]
            yield "no class" if found == "none" else f"class {found}"
        if row.typed("is_cleanable") is False:
            yield "can't be washed"

    def _room(self, room: Lined, words: list[Said], x: float, y: float) -> Iterator[Mark]:
        is_short = room.name in self.failing or room.mark in self.failing
        tone = Tone.SHORT if is_short else Tone.INK
        title = fitted(f"{room.mark} {room.name}".strip(), LEAST_MM, self.wide)
        yield Lettering(words=title, at=(x, y + LEAST_MM + 0.4), tone=tone, is_strong=True)
        top = y + TITLE_MM
        yield from self._section(room, words, x, top, tone)
        left = x + SECTION_MM[0] + BESIDE_MM
        most, line = self.wide - SECTION_MM[0] - BESIDE_MM, top + LEAST_MM
        if gap := room.floor_gap:
            words_of_gap = fitted("floor finish not given", LEAST_MM, most)
            yield Lettering(words=words_of_gap, at=(left, line), gap=gap, tone=tone)
            line += LINE_MM
        for row, name, facts, tone in words:
            marks = [Lettering(words=fitted(name, LEAST_MM, most), at=(left, line), tone=tone)]
            line += LINE_MM
            quiet = tone if tone is Tone.SHORT else Tone.GRAPHITE
            for fact in facts:
                said = fitted(fact, LEAST_MM, most)
                marks.append(Lettering(words=said, at=(left, line), tone=quiet))
                line += LINE_MM
            if row.mark in self.wet:
                amount = self.wet[row.mark].amount
                what = f"{row.mark} friction, wet"
                self.figures.append(Figure(what=what, amount=amount, lettered=facts[0]))
            yield Touch(schedule="finishes", mark=row.mark, says=name, marks=tuple(marks))

    def _section(
        self,
        room: Lined,
        words: list[Said],
        x: float,
        y: float,
        of_room: Tone,
    ) -> Iterator[Mark]:
        if gap := room.floor_gap:
            box = _surfaces(x, y)["floor"][0]
            yield Path(
                points=rectangle(box), pen=Pen.ASSUMED, tone=of_room, is_closed=True, gap=gap
            )
        for row, _, _, tone in words:
            boxes = _surfaces(x, y).get(row.if_given("surface") or "", ())
            apart, rises = HATCHES[self.hatches[str(row.if_given("finish") or "")]]
            hatch = tone if tone is Tone.SHORT else Tone.GRAPHITE
            marks: list[Path | Disc] = []
            strokes = []
            for box in boxes:
                corners = rectangle(box)
                marks.append(Path(points=corners, pen=Pen.FINE, tone=tone, is_closed=True))
                strokes.append(hatched(corners, apart, hatch, is_rising=rises))
            if row.typed("is_wet"):
                drops = ((x + share * SECTION_MM[0], y + 7.2) for share in (0.24, 0.36, 0.48))
                marks += [
                    Disc(middle=drop, radius_mm=0.45, pen=Pen.FINE, fill=Fill.GLASS)
                    for drop in drops
                ]
            yield Touch(
                schedule="finishes",
                mark=row.mark,
                says=f"{row.mark}, {row.if_given('surface')}",
                marks=(*marks, *strokes),
            )


def _surfaces(x: float, y: float) -> Mapping[str, tuple[Box, ...]]:
    """Where the surfaces of a room lie in its section."""
    right, foot, thick = x + SECTION_MM[0], y + SECTION_MM[1], THICK_MM
    walls = (
        (x, y + thick, x + thick, foot - thick),
        (right - thick, y + thick, right, foot - thick),
    )
    top = foot - 5.0
    return {
        "ceiling": ((x, y, right, y + thick),),
        "wall": walls,
        "floor": ((x, foot - thick, right, foot),),
        "worktop": ((right - thick - 5.0, top, right - thick, top + 1.0),),
    }


def _classes(seen: Seen) -> dict[str, str]:
    """The class of each lining, as the check of flame spread has it."""
    found = finding_of(seen, "flame_spread").worst_first
    steps = [step for measured in found for step in measured.steps]
    return {str(step.amounts[0]): str(step.amounts[3]) for step in steps}


def _ready(seen: Seen) -> Ready | None:
    try:
        rooms = lined_rooms(seen.package)
    except Lacking:
        return None
    return Ready(partial(draw_finishes, rooms, seen)) if rooms else None


FINISHES = Picture(
    ready=_ready,
    wants="finishes want rooms, and the surface that each is of",
    checks=("floor_finishes", "cleanable", "wet_friction", "flame_spread", "wet_room_fall"),
    schedules=("finishes",),
    main="floor_finishes",
)
