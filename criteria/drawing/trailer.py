"""A trailer as it is loaded: from the side about its hitch and axles, from the end about its tyres.

Where the mass of all lies is read from the working of the check that is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from criteria.checks.transport import carried
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.dimensions import across, upwards
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import arrow, centre_of_mass
from criteria.drawing.held import amounts_in, held
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Disc, Gap, Lettering, Mark, Path, Touch, meet, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import largest, lettered
from criteria.findings import Amount
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.typed.cells import Lacking
from criteria.units import ROOM_LENGTH

HITCH, OVER = "hitch_share", "static_stability"
TALL_MM, ARROW_MM, TYRE_M, TYRE_W_M = 46.0, 8.0, 0.65, 0.2
"""How tall a view is at most, how long an arrow is [mm]; a tyre from the side and the end [m]."""
LINE_MM = 4.0
DECK_M = 0.6
"""Above the road, where nobody says how high the deck is: dashed [m]."""


@dataclass(frozen=True)
class Load:
    """A piece on the deck: its middle from the hitch and its underside over the deck [m]."""

    row: Piece
    at_m: float
    up_m: float


def loads_of(package: Package) -> tuple[tuple[Load, ...], tuple[Gap, ...]]:
    """Return the pieces that stand on the trailer, and what isn't given of them."""
    found, gaps = [], []
    try:
        on_it = [(piece.leniently, at) for piece, at in carried(package) if not piece.packs_into]
    except Lacking:
        return (), ()
    floors = [row.at_z_m for row, _ in on_it if row.at_z_m is not None]
    floor = min(floors, default=0.0)
    for row, at in on_it:
        for name, column in (("length_m", "l_m"), ("width_m", "w_m"), ("height_m", "h_m")):
            if getattr(row, name) is None:
                says = f"{row.mark}: {name.removesuffix('_m')} not given"
                gaps.append(Gap(schedule="pieces", mark=row.mark, column=column, says=says))
        if None not in (row.length_m, row.width_m, row.height_m):
            up = 0.0 if row.at_z_m is None else row.at_z_m - floor
            found.append(Load(row, at, up))
    return tuple(found), tuple(gaps)


def draw_trailer(loads: tuple[Load, ...], gaps: tuple[Gap, ...], seen: Seen, on: Field) -> Drawing:
    """Draw a trailer with what is on it."""
    return _Trailer(loads, seen, on).drawing(gaps)


class _Trailer:
    def __init__(self, loads: tuple[Load, ...], seen: Seen, field: Field) -> None:
        self.loads, self.seen, self.field = loads, seen, field
        self.head = answer(seen, field)
        self.row = seen.package.leniently.transport
        self.is_side = seen.check == HITCH
        self.deck = DECK_M if self.row.deck_m is None else self.row.deck_m
        tall = self.deck + max(each.up_m + each.row.height_m for each in loads)
        axle = self.row.axle_m or 0.0
        if self.is_side:
            ends = [each.at_m + each.row.length_m / 2 for each in loads]
            starts = [each.at_m - each.row.length_m / 2 for each in loads]
            low, high = min(0.0, *starts), max(axle + TYRE_M, *ends)
        else:
            half = max(self.row.track_m or 0.0, *(each.row.width_m for each in loads)) / 2
            low, high = -half - TYRE_W_M, half + TYRE_W_M
        room = field.width_mm - 2 * SIDE_MM - 24.0
        size = high - low, tall
        self.scale = largest(size, (room, TALL_MM), field.system, ratio=50)
        self.zero = SIDE_MM + 12.0 - self.scale.mm(low)
        self.ends = (self.zero + self.scale.mm(low), self.zero + self.scale.mm(high))
        self.road = self.head.height_mm + 6.0 + self.scale.mm(tall)
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []

    def x(self, m: float) -> float:
        """Where a place lies across the paper."""
        return self.zero + self.scale.mm(m)

    def y(self, m: float) -> float:
        """Where a height above the road lies."""
        return self.road - self.scale.mm(m)

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        """Draw the road, the trailer, what stands on it, and where all of it weighs."""
        marks: list[Mark] = [*self.head.letters, *self._trailer(), *self._pieces()]
        marks += self._weighs_along() if self.is_side else self._weighs_up()
        foot = self.road + 18.0
        where = self.seen.asked.situation
        at = (self.field.width_mm - SIDE_MM, foot)
        words = self.scale.name if self.is_side else f"{self.scale.name}, pieces in the middle"
        marks.append(Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE))
        for gap in self.gaps:
            foot += LINE_MM
            at = (SIDE_MM, foot)
            marks.append(Lettering(words=gap.says, at=at, tone=Tone.GRAPHITE, gap=gap))
        side = "from the side" if self.is_side else "from behind"
        return Drawing(
            title=f"The trailer {side}{f', {where}' if where else ''}",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=gaps,
        )

    def _write(self, m: float, what: str) -> str:
        amount = Amount(m, ROOM_LENGTH)
        words = lettered(amount, self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def _trailer(self) -> Iterator[Mark]:
        left, right = self.ends
        yield Path(points=((left - 6.0, self.road), (right + 6.0, self.road)), pen=Pen.CUT)
        y = self.y(self.deck)
        deck = (self.x(0.0) if self.is_side else left, y), (right, y)
        if self.row.deck_m is None:
            gap = Gap(schedule="transport", mark="", column="deck_m", says="deck not given")
            self.gaps.append(gap)
            yield Path(points=deck, pen=Pen.ASSUMED, gap=gap)
        else:
            yield Path(points=deck, pen=Pen.SEEN)
        radius = self.scale.mm(TYRE_M) / 2
        if self.is_side and self.row.axle_m is not None:
            at = (self.x(self.row.axle_m), self.road - radius)
            yield Disc(middle=at, radius_mm=radius, fill=Fill.PAPER)
            yield Disc(middle=at, radius_mm=0.6, fill=Fill.INK)
        if not self.is_side and self.row.track_m is not None:
            wide = self.scale.mm(TYRE_W_M) / 2
            for sign in (-1, 1):
                x = self.x(sign * self.row.track_m / 2)
                box = (x - wide, self.road - 2 * radius, x + wide, self.road)
                yield Path(points=rectangle(box), fill=Fill.PAPER, is_closed=True)

    def _pieces(self) -> Iterator[Touch]:
        """What stands on the deck, and its mark where that has room in it."""
        taken: list[tuple[float, float, float, float]] = []
        for each in self.loads:
            row, middle = each.row, each.at_m if self.is_side else 0.0
            wide = (row.length_m if self.is_side else row.width_m) / 2
            low = self.deck + each.up_m
            left, right = self.x(middle - wide), self.x(middle + wide)
            box = left, self.y(low + row.height_m), right, self.y(low)
            shape = Path(points=rectangle(box), pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
            marks: list[Path | Lettering] = [shape]
            name = Lettering(words=row.mark, at=(box[0] + 1.2, box[1] + LEAST_MM + 1.2))
            fits = name.box[2] < box[2] and name.box[3] < box[3]
            if fits and not any(meet(name.box, one) for one in taken):
                taken.append(name.box)
                marks.append(name)
            says = f"{row.mark} {row.piece or ''}".strip()
            yield Touch(schedule="pieces", mark=row.mark, says=says, marks=tuple(marks))

    # Where all of it weighs, as the working of the check has it

    def _weighs_along(self) -> Iterator[Mark]:
        """The weight of all from above, what the hitch bears of it, and how far each is from it."""
        found = next(iter(held(self.seen, HITCH)), None)
        axle = self.row.axle_m
        if axle is not None:
            words = self._write(axle, "axles from the hitch, as typed")
            yield from across(self.x(0.0), self.x(axle), self.road + 13.5, words, of=self.road)
        if found is None:
            return
        total, place = amounts_in(found.measured.steps[0])[-2:]
        x, top = self.x(place.si), self.y(self.deck + self._high())
        yield from arrow((x, top - ARROW_MM + 3.0), (x, self.y(self.deck)), pen=Pen.SEEN)
        words = total.write(self.field.system)
        self.figures.append(Figure(what="weighs", amount=total, lettered=words))
        yield Lettering(words=words, at=(x + 1.5, top - 2.2))
        words = self._write(place.si, "centre of mass from the hitch")
        yield from across(self.x(0.0), x, self.road + 7.0, words, of=self.road)
        hitch = self.x(0.0), self.y(self.deck)
        yield Disc(middle=hitch, radius_mm=1.0, tone=found.tone, fill=Fill.PAPER)
        start = hitch[0], self.road - 0.6
        yield from arrow(start, (hitch[0], hitch[1] + 1.2), tone=found.tone)
        words = found.write(self.field.system)
        self.figures.append(Figure(what="on the hitch", amount=found.amount, lettered=words))
        wide = width_mm(words, LEAST_MM)
        at = (max(SIDE_MM + wide, hitch[0] - 1.6), hitch[1] - 2.6)
        yield Lettering(words=words, at=at, anchor="end", tone=found.tone, is_strong=True)

    def _weighs_up(self) -> Iterator[Mark]:
        """The centre of mass over the road, and the lines from it to the tyres it tips over."""
        if self.row.track_m is not None:
            half = self.row.track_m / 2
            words = self._write(self.row.track_m, "track, as typed")
            ends = self.x(-half), self.x(half)
            yield from across(*ends, self.road + 7.0, words, of=self.road)
        found = next(iter(held(self.seen, OVER)), None)
        if found is None or self.row.track_m is None:
            return
        up = amounts_in(found.measured.steps[-1])[1]
        at = self.x(0.0), self.y(up.si)
        for x in ends:
            yield Path(points=(at, (x, self.road)), pen=Pen.DATUM, tone=found.tone)
        yield from centre_of_mass(at, found.tone)
        words = self._write(up.si, "centre of mass above the road")
        right = self.ends[1]
        yield from upwards(at[1], self.road, right + 5.0, words)
        yield Path(points=(at, (right + 6.2, at[1])), pen=Pen.HATCH)

    def _high(self) -> float:
        return max(each.up_m + each.row.height_m for each in self.loads)


def _ready(seen: Seen) -> Ready | None:
    loads, gaps = loads_of(seen.package)
    return Ready(partial(draw_trailer, loads, gaps, seen)) if loads else None


TRAILER = Picture(
    ready=_ready,
    wants="pieces on the trailer want their sizes and their centre from the hitch",
    checks=(HITCH, OVER),
)
