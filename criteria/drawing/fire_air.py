"""Air for what burns, drawn: the fire in its room, and the way by which its air comes to it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.forces import arrow
from criteria.drawing.lettering import LEAST_MM, fitted
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.schedules.plant import BURNING, FED_FROM_OUTSIDE, FROM_THE_ROOM, Plant

TALL_MM, WALL_MM, LINE_MM = 34.0, 3.0, 4.0
FIRE_MM, FLUE_MM, DUCT_MM = (11.0, 14.0), 3.0, 4.0
"""A fire as wide and as high as it is drawn, its flue, a duct [mm]; none is to scale."""


def draw_fire(plant: Plant, seen: Seen, field: Field) -> Drawing:
    """Draw a section of a room with what burns in it."""
    return _Fire(plant, seen, field).drawing()


class _Fire:
    def __init__(self, plant: Plant, seen: Seen, field: Field) -> None:
        self.plant, self.seen, self.field = plant, seen, field
        self.head = answer(seen, field)
        self.top = self.head.height_mm + 12.0
        self.foot = self.top + TALL_MM
        self.left = SIDE_MM + (16.0 if field.is_narrow else 40.0)
        self.right = field.width_mm - SIDE_MM - (4.0 if field.is_narrow else 40.0)
        self.at = self.left + (self.right - self.left) * 0.62

    @property
    def is_fed(self) -> bool:
        """Whether its air is said to come from outside."""
        return self.plant.fire_air in FED_FROM_OUTSIDE

    def drawing(self) -> Drawing:
        """Draw the answer, the room in section, the fire, and its air."""
        marks: list[Mark] = [*self.head.letters, *self._room()]
        marks.append(Touch(schedule="plant", mark="", says=self._named, marks=tuple(self._fire())))
        marks += self._air()
        y = self.foot + LEAST_MM + 5.0
        says = f"{self._named}; air: {self._way}" if self.is_burning else self._named
        lines = [(says, Tone.INK), ("not to scale", Tone.GRAPHITE)]
        for n, (words, tone) in enumerate(lines):
            words = fitted(words, LEAST_MM, self.field.width_mm - 2 * SIDE_MM)
            marks.append(Lettering(words=words, at=(SIDE_MM, y + n * LINE_MM), tone=tone))
        return Drawing(
            title="Air for what burns",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(y + len(lines) * LINE_MM, 2),
            marks=tuple(marks),
            figures=self.head.figures,
        )

    @property
    def _named(self) -> str:
        """What burns, by its kind where that is given."""
        if not self.is_burning:
            return "nothing burns indoors"
        return self.plant.heater if self.plant.heater in BURNING else "what burns"

    @property
    def _way(self) -> str:
        said = self.plant.fire_air or "not given"
        how = self.plant.combustion_air
        return f"{said}, {how}" if how and self.is_fed else said

    @property
    def is_burning(self) -> bool:
        """Whether anything burns, as the check has it."""
        return bool(self.plant.burns) or self.plant.heater in BURNING

    def _room(self) -> Iterator[Path | Strokes]:
        """Floor, walls and roof as they are cut; what lies under the building."""
        left, top, right, foot = self.left, self.top, self.right, self.foot
        inner = (left + WALL_MM, top + WALL_MM, right - WALL_MM, foot - WALL_MM)
        for box, pen in (((left, top, right, foot), Pen.CUT), (inner, Pen.CUT)):
            yield Path(points=rectangle(box), pen=pen, is_closed=True)
        ground = foot + 3.0
        ends = left - 12.0, right + (4.0 if self.field.is_narrow else 12.0)
        yield Path(points=((ends[0], ground), (ends[1], ground)), pen=Pen.SEEN)

    def _fire(self) -> Iterator[Path | Strokes]:
        """The appliance on the floor with its flue through the roof; nothing where none burns."""
        if not self.is_burning:
            return
        wide, high = FIRE_MM
        floor = self.foot - WALL_MM
        box = (self.at - wide / 2, floor - high, self.at + wide / 2, floor)
        flue = (self.at - FLUE_MM / 2, self.top - 8.0, self.at + FLUE_MM / 2, floor - high)
        for each in (flue, box):
            yield Path(points=rectangle(each), pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
        glass = (box[0] + 2.0, box[1] + 2.5, box[2] - 2.0, box[1] + 8.5)
        yield Path(points=rectangle(glass), pen=Pen.FINE, fill=Fill.TRACE, is_closed=True)
        yield from arrow((self.at, self.top - 4.0), (self.at, self.top - 11.0), pen=Pen.FINE)

    def _air(self) -> Iterator[Mark]:
        """The way of its air: under the floor from outside, out of the room, or not given."""
        if not self.is_burning:
            return
        floor = self.foot - WALL_MM / 2
        start = self.left - 12.0, floor
        end = self.at, floor
        if self.is_fed:
            yield from self._duct(start, end)
        elif self.plant.fire_air == FROM_THE_ROOM:
            y = self.foot - WALL_MM - 5.0
            begin, stop = self.left + WALL_MM + 4.0, self.at - FIRE_MM[0] / 2 - 0.6
            yield from arrow((begin, y), (stop, y), pen=Pen.SEEN, tone=Tone.SHORT)
            yield Lettering(words=FROM_THE_ROOM, at=(begin, y - 1.8), tone=Tone.SHORT)
        else:
            says = "air for the fire: not given"
            gap = Gap(schedule="plant", mark="", column="fire_air", says=says)
            way = start, end, (self.at, self.foot - WALL_MM)
            yield Path(points=way, pen=Pen.ASSUMED, gap=gap)
            at = (self.left + WALL_MM + 2.0, self.foot - WALL_MM - 3.0)
            yield Lettering(words="not given", at=at, tone=Tone.SHORT, gap=gap)

    def _duct(self, start: tuple[float, float], end: tuple[float, float]) -> Iterator[Mark]:
        """A duct under the floor and up into the fire."""
        half = DUCT_MM / 2
        y = self.foot - WALL_MM / 2
        box = (start[0] + 5.0, y - half, end[0] + half, y + half)
        yield Path(points=rectangle(box), pen=Pen.SEEN, fill=Fill.GLASS, is_closed=True)
        yield from arrow((start[0], y), (end[0] - half, y), pen=Pen.SEEN)
        yield from arrow((end[0], y), (end[0], self.foot - WALL_MM - 4.5), pen=Pen.SEEN)


def _ready(seen: Seen) -> Ready | None:
    plant = seen.package.leniently.plant
    is_said = plant.burns is not None or plant.heater is not None
    return Ready(partial(draw_fire, plant, seen)) if is_said else None


FIRE_AIR = Picture(
    ready=_ready,
    wants="the plant wants what it is heated by",
    checks=("combustion_air",),
)
