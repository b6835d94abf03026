"""What a building stands on, in plan: pieces, feet, where it weighs, what each leg carries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from math import dist, sqrt

from criteria.checks.standing import corners_of, foot_of, has_own_place
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import CENTRE_MM, arrow, centre_of_mass
from criteria.drawing.held import Held, amounts_in, held, is_of_its_case
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Disc, Gap, Lettering, Path, Touch, around, box_of
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.scales import largest
from criteria.findings import Amount, Step
from criteria.schedules.moving import Piece
from criteria.schedules.standing import Leg
from criteria.standing.tipping import inside_m
from criteria.typed.cells import Lacking
from criteria.units import ROOM_LENGTH
from criteria.walking.bodies import Point, hull

CENTRE, LOAD = "centre_in_feet", "leg_load"
TALL_MM, ROUND_MM, FOOT_MM, PERSON_MM, WIDEST_MM = 96.0, 10.0, 1.3, 1.6, 5.5
"""How tall the plan is at most; kept around it; radius of a foot, and of the largest load."""


@dataclass(frozen=True)
class Footing:
    """What is drawn: pieces by their corners on the plan, feet by their place [m]; what lacks."""

    pieces: tuple[tuple[Piece, tuple[Point, ...]], ...]
    feet: tuple[tuple[Leg, Point], ...]
    gaps: tuple[Gap, ...]


def footing_of(seen: Seen) -> Footing:
    """Return what stands on the plan. Raises Lacking where rows can't be told from others."""
    package = seen.package
    pieces, feet = [], []
    gaps: list[Gap] = []
    for piece in package.rows_of(Piece):
        try:
            if has_own_place(piece, package):
                pieces.append((piece, tuple(corners_of(piece))))
        except Lacking as lacks:
            gaps += _gaps("pieces", piece.mark, lacks)
        if piece.typed("mass_kg") is None:
            says = f"{piece.mark}: weight not given"
            gaps.append(Gap(schedule="pieces", mark=piece.mark, column="kg_each", says=says))
    for leg in package.rows_of(Leg):
        try:
            feet.append((leg, foot_of(leg, package)))
        except Lacking as lacks:
            gaps += _gaps("legs", leg.mark, lacks)
    return Footing(tuple(pieces), tuple(feet), tuple(dict.fromkeys(gaps)))


def _gaps(schedule: str, mark: str, lacks: Lacking) -> Iterator[Gap]:
    for cell in lacks.cells:
        says = f"{mark}: {cell.head or 'place'} not given"
        yield Gap(schedule=schedule, mark=mark, column=cell.head, says=says)


def draw_feet(footing: Footing, seen: Seen, field: Field) -> Drawing:
    """Draw what a building stands on."""
    return _Feet(footing, seen, field).drawing()


class _Feet:
    def __init__(self, footing: Footing, seen: Seen, field: Field) -> None:
        self.footing, self.seen, self.field = footing, seen, field
        self.head = answer(seen, field)
        self.loads = self._loads()
        corners = [point for _, at in footing.pieces for point in at]
        feet = [at for _, at in footing.feet]
        left, low, right, high = around([*corners, *feet])
        room = field.width_mm - 2 * (SIDE_MM + ROUND_MM)
        size = max(right - left, 0.1), max(high - low, 0.1)
        self.scale = largest(size, (room, TALL_MM), field.system, ratio=50)
        self.origin = left, high
        self.top = self.head.height_mm + ROUND_MM
        wide, tall = self.scale.mm(right - left), self.scale.mm(high - low)
        self.left = (field.width_mm - wide) / 2
        self.foot = self.top + tall + ROUND_MM
        self.placing = Placing(field.width_mm, self.foot + LEAST_MM)
        self.placing.keep_free((0.0, 0.0, field.width_mm, self.head.height_mm))
        self.figures: list[Figure] = []
        self.key: list[str] = []
        self.radii: dict[str, float] = {}
        self.said: list[tuple[Point, str, Look]] = []

    def at(self, point: Point) -> Point:
        """Where a place on the plan lies on paper."""
        across, down = point[0] - self.origin[0], self.origin[1] - point[1]
        return self.left + self.scale.mm(across), self.top + self.scale.mm(down)

    def _loads(self) -> dict[str, Held]:
        """What each leg carries as its check has it, in the state and the case that are drawn."""
        return {each.measured.subject: each for each in self._here(LOAD)}

    def _here(self, check: str) -> list[Held]:
        situation = self.seen.asked.situation
        return [
            each
            for each in held(self.seen, check)
            if is_of_its_case(self.seen, each)
            and (not situation or situation in each.measured.in_state.split(", "))
        ]

    def drawing(self) -> Drawing:
        """Draw pieces, the edge about the feet, the feet, and where it weighs."""
        pieces, feet = list(self._pieces()), list(self._feet())
        weighs = list(self._centre())
        for mark in (*feet, *weighs):
            for each in mark.marks if isinstance(mark, Touch) else (mark,):
                if not isinstance(each, Path):
                    self.placing.keep_free(box_of(each))
        at = (self.field.width_mm - SIDE_MM, self.foot + LEAST_MM)
        scale = Lettering(words=self.scale.name, at=at, anchor="end", tone=Tone.GRAPHITE)
        self.placing.keep_free(scale.box)
        self._letter_feet()
        for at, words, look in self.said:
            self._say(at, words, look)
        self._letter_pieces()
        where = f", {self.seen.asked.situation}" if self.seen.asked.situation else ""
        marks = (*self.head.letters, *pieces, *self._hull(), *feet, *weighs)
        return Drawing(
            title=f"What it stands on, in plan{where}",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(self.foot + LEAST_MM + 1.5, 2),
            marks=(*marks, *self.placing.letters, scale),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=self.footing.gaps,
            key=tuple(self.key),
        )

    # What stands there

    def _pieces(self) -> Iterator[Touch]:
        for piece, corners in self.footing.pieces:
            points = tuple(self.at(corner) for corner in corners)
            shape = Path(points=points, pen=Pen.FINE, fill=Fill.PAPER, is_closed=True)
            says = f"{piece.mark} {piece.leniently.piece or ''}".strip()
            yield Touch(schedule="pieces", mark=piece.mark, says=says, marks=(shape,))

    def _hull(self) -> Iterator[Path]:
        corners = hull([at for _, at in self.footing.feet]) if self.footing.feet else []
        if len(corners) > 2:
            points = tuple(self.at(corner) for corner in corners)
            yield Path(points=points, pen=Pen.DATUM, is_closed=True)

    def _feet(self) -> Iterator[Touch]:
        """A foot; about it a circle as large as its load, and one as large as it may be."""
        most = max((self._most(each) for each in self.loads.values()), default=0.0)
        for leg, place in self.footing.feet:
            at, each = self.at(place), self.loads.get(leg.mark)
            marks: list[Disc] = []
            if each and most and self.seen.check != CENTRE:
                radius = WIDEST_MM * sqrt(each.amount.si / most)
                self.radii[leg.mark] = radius
                pen = Pen.CUT if leg.mark == self.seen.asked.measured.subject else Pen.SEEN
                marks.append(
                    Disc(middle=at, radius_mm=radius, pen=pen, tone=each.tone, fill=Fill.TRACE)
                )
                if each.part.target:
                    radius = WIDEST_MM * sqrt(each.part.target / most)
                    marks.append(Disc(middle=at, radius_mm=radius, pen=Pen.FINE))
            marks.append(Disc(middle=at, radius_mm=FOOT_MM, fill=Fill.INK))
            says = f"{leg.mark}, a foot"
            if each:
                says = f"{leg.mark} carries {each.write(self.field.system)}"
            yield Touch(schedule="legs", mark=leg.mark, says=says, marks=tuple(marks))

    @staticmethod
    def _most(each: Held) -> float:
        return max(each.amount.si, each.part.target or 0.0)

    # Where it weighs

    def _centre(self) -> Iterator[Disc | Path]:
        """The centre of mass; with people in the worst corner, how near to the edge it comes."""
        found = next(iter(self._here(CENTRE)), None)
        if found is None:
            return
        empty, corner, (start, end) = _told(found)
        margin = found.amount.si
        yield from centre_of_mass(self.at(empty))
        centre = self.at(empty), "centre of mass", Look(tone=Tone.GRAPHITE)
        if self.seen.check != CENTRE:
            self.said.append(centre)
            return
        yield Path(points=(self.at(start), self.at(end)), pen=Pen.CUT, tone=found.tone)
        inside, there = inside_m(empty, start, end), inside_m(corner, start, end)
        share = (inside - margin) / (inside - there) if inside != there else 0.0
        comes = tuple(a + (b - a) * share for a, b in zip(empty, corner, strict=True))
        run = _along(start, end)
        at = self.at((comes[0], comes[1]))
        edge_at = self.at((comes[0] + run[1] * margin, comes[1] - run[0] * margin))
        if abs(self.scale.mm(margin)) > 2 * CENTRE_MM:
            yield from arrow(at, edge_at, pen=Pen.SEEN, tone=found.tone)
        words = f"{found.write(self.field.system)} inside"
        if margin < 0:
            beyond = Amount(-margin, found.part.scale)
            words = f"{beyond.write(self.field.system)} beyond the feet"
        middle = (at[0] + edge_at[0]) / 2, (at[1] + edge_at[1]) / 2
        self.said.append((middle, words, Look(tone=found.tone, is_strong=True)))
        self.figures.append(Figure(what="Centre inside the feet", amount=found.amount))
        if share > 0:
            said = found.measured.steps[-2]
            weight = amounts_in(said)[0].write(self.field.system)
            yield Path(points=(self.at(empty), self.at(corner)), pen=Pen.DATUM)
            yield Disc(middle=self.at(corner), radius_mm=PERSON_MM, fill=Fill.TRACE)
            words = f"{said.amounts[0]} people, {weight}"
            self.said.append((self.at(corner), words, Look()))
            yield from centre_of_mass(at, found.tone)
        self.said.append(centre)

    def _say(self, at: Point, words: str, look: Look, out_mm: float = 2.6) -> None:
        """Letter words away from the middle of the plan, else about their place, else in a line."""
        half = width_mm(words, look.cap_mm) / 2
        sign = 1 if at[1] > (self.top + self.foot - ROUND_MM) / 2 else -1
        up = out_mm + look.cap_mm / 2 + 1.4
        out = [(x, sign * (up + y)) for y in (0.0, 4.0) for x in (0.0, half, -half)]
        places = [(at[0] + x, at[1] + y) for x, y in out if not look.is_strong]
        places += about(at, words, look.cap_mm, out_mm)
        if not self.placing.letter(words, places, look):
            self.key.append(words)

    def _letter_feet(self) -> None:
        system = self.field.system
        for leg, place in self.footing.feet:
            each = self.loads.get(leg.mark) if self.seen.check != CENTRE else None
            words, look = leg.mark, Look()
            if each:
                words = f"{leg.mark} {each.write_beside(system, is_narrow=True)}"
                is_picked = leg.mark == self.seen.asked.measured.subject
                look = Look(tone=each.tone, is_strong=is_picked)
                self.figures.append(Figure(what=f"{leg.mark} carries", amount=each.amount))
            radius = self.radii.get(leg.mark, PERSON_MM)
            self._say(self.at(place), words, look, radius)

    def _letter_pieces(self) -> None:
        """A piece by its mark, in its own corners first, then in its middle."""
        for piece, corners in self.footing.pieces:
            left, top, right, foot = around([self.at(corner) for corner in corners])
            half, up = width_mm(piece.mark, LEAST_MM) / 2 + 1.0, LEAST_MM / 2 + 1.2
            places = [(x, y) for y in (top + up, foot - up) for x in (left + half, right - half)]
            look = Look(tone=Tone.GRAPHITE)
            middle = (left + right) / 2, (top + foot) / 2
            if not self.placing.letter(piece.mark, [*places, middle], look):
                self.key.append(piece.mark)


def _told(found: Held) -> tuple[Point, Point, tuple[Point, Point]]:
    """The places in the working of the check: the centre, the worst corner, the edge [m]."""
    first, *_, crowd, last = (_lengths(step) for step in found.measured.steps)
    return first[0], crowd[0], (last[0], last[1])


def _lengths(step: Step) -> list[Point]:
    """The places that a line of working names, across and up [m]."""
    found = [a.si for a in amounts_in(step) if a.scale == ROOM_LENGTH]
    return list(zip(found[::2], found[1::2], strict=True))


def _along(start: Point, end: Point) -> Point:
    far = dist(start, end)
    return (end[0] - start[0]) / far, (end[1] - start[1]) / far


def _ready(seen: Seen) -> Ready | None:
    try:
        footing = footing_of(seen)
    except Lacking:
        return None
    return Ready(partial(draw_feet, footing, seen)) if footing.feet or footing.pieces else None


FEET = Picture(
    ready=_ready,
    wants="pieces and legs want their places on the plan",
    checks=(CENTRE, LOAD),
    schedules=("legs",),
    main=CENTRE,
)
