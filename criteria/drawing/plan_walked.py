"""The plan walked, drawn: a storey in one state, the way as a ribbon, and where it is narrow."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import pairwise

from criteria.checks.decided import DRAWN, Decided, Leaf, Strip, decided
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, NAME_MM, width_mm
from criteria.drawing.marks import Box, Disc, Flat, Mark, Path, Point, Ribbon, Touch, around
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.plan_counts import counts_of
from criteria.drawing.plan_names import letter_names, outlines
from criteria.drawing.plan_parts import (
    Sheet,
    climb,
    furniture,
    gap_of,
    leaf,
    north,
    opening,
    scale_bar,
    walls,
    window,
)
from criteria.drawing.scales import largest, lettered
from criteria.findings import Amount, Part, State
from criteria.units import LENGTH
from criteria.walking.pictured import Pictured, pictured

SIDE_MM, HEAD_MM, FOOT_MM = 8.0, 6.0, 14.0
"""Kept beside a plan for marks, over it, and under it for scale and north [mm]."""
SIDE_NARROW_MM = 2.0
BEFORE_M = 0.45
"""How far outside a way is shown: it begins further off [m]."""
TALLEST_MM, TALLEST_NARROW_MM = 150.0, 130.0
STROKE_MM, BLOCK_MM = 0.9, 1.6
"""Half a stroke at the end of a dimension, and half of how wide what is missing is drawn [mm]."""
ROOMY_MM = 9.0
"""In a circle of a larger radius its figure stands within it [mm]."""
LED_MM = 9.0
"""A figure that stands further from its place is led to it by a line [mm]."""


def draw_plan(shown: Pictured, found: Decided, asked: Asked, field: Field) -> Drawing:
    """Draw a storey with what decided a figure."""
    found = replace(found, way=_shown_way(shown, found.way))
    return _PlanDrawing(shown, found, asked, field).drawing()


class _PlanDrawing:
    """A plan while it is drawn."""

    def __init__(self, shown: Pictured, found: Decided, asked: Asked, field: Field) -> None:
        self.shown, self.found, self.asked, self.field = shown, found, asked, field
        box = around(list(self._corners()))
        size = box[2] - box[0], box[3] - box[1]
        side, tallest = SIDE_MM, TALLEST_MM
        if field.is_narrow:
            side, tallest = SIDE_NARROW_MM, TALLEST_NARROW_MM
        tallest = field.tallest_mm or tallest
        room = field.width_mm - 2 * side, tallest - HEAD_MM - FOOT_MM
        scale = largest(size, room, field.system, ratio=field.ratio)
        self.height_mm = HEAD_MM + scale.mm(size[1]) + FOOT_MM
        left = max(side, (field.width_mm - scale.mm(size[0])) / 2)
        self.sheet = Sheet(scale, box[0], box[3], left, HEAD_MM)
        self.placing = Placing(field.width_mm, self.height_mm)
        self.figures: list[Figure] = []
        self.unlettered: list[str] = []

    def _corners(self) -> Iterator[Point]:
        """All that must lie on the paper."""
        thick = self.shown.wall_m or 0.0
        for place in self.shown.storey.places:
            (x, y), (to_x, to_y) = place.low, place.high
            yield from ((x - thick, y - thick), (to_x + thick, to_y + thick))
        half = self.found.way_m / 2
        for x, y in self.found.way:
            yield from ((x - half, y - half), (x + half, y + half))
        for hung in self.shown.doors:
            reach = math.dist(hung.gate.left, hung.gate.right) if hung.swing == "out" else 0.0
            (x, y), out = hung.gate.middle, hung.gate.out
            yield x + out[0] * (reach + thick), y + out[1] * (reach + thick)

    def drawing(self) -> Drawing:
        """Draw all parts in their order; the answer is lettered first, and keeps its place."""
        sheet, shown = self.sheet, self.shown
        marks: list[Mark] = list(walls(shown, sheet))
        for glazed in shown.windows:
            marks += _touch("windows", glazed.mark, "window", window(shown.wall_m, glazed, sheet))
        for hung in shown.doors:
            marks += opening(shown.wall_m, hung, sheet)
        marks += [*self._ribbon(), *self._strips()]
        short = {each.mark: each.opens.si for each in self.found.leaves}
        for hung in shown.doors:
            tone = Tone.SHORT if hung.gate.mark in short else Tone.INK
            hanging = leaf(shown.wall_m, hung, sheet, short.get(hung.gate.mark, 90.0), tone)
            marks += _touch("doors", hung.gate.mark, "door", hanging)
        for piece in shown.pieces:
            is_met = piece.body.mark in self.found.met
            standing = furniture(piece, sheet, Tone.SHORT if is_met else Tone.INK)
            marks += _touch("furniture", piece.body.mark, piece.name or piece.kind, standing)
        for way in shown.climbs:
            marks += _touch("climbs", way.mark, "climb", climb(way, sheet))
        marks += [*self._answer(), *self._foot()]
        shy = [*self._on_ribbon(), *self._swings()]
        self.unlettered += letter_names(shown, sheet, self.placing, self.field, self.found.met, shy)
        return Drawing(
            title=self._title(),
            says=self._says(),
            width_mm=self.field.width_mm,
            height_mm=round(self.height_mm, 2),
            marks=(*marks, *self.placing.letters),
            figures=tuple(self.figures),
            scale=sheet.scale.name,
            left_out=tuple(gap_of(each) for each in shown.missing),
            key=tuple(self.unlettered),
        )

    def _title(self) -> str:
        where = f", {self.asked.situation}" if self.asked.situation else ""
        found, amount = self.found, self.asked.amount
        is_placed = found.across or found.circle or found.way or found.at
        figure = f", {amount.write(self.field.system)}" if amount and not is_placed else ""
        return f"Plan{where}: {self.asked.title}{figure}".removesuffix(": ")

    def _says(self) -> str:
        parts = [step.write(self.field.system) for step in self.asked.measured.steps]
        made = ", ".join(piece.body.mark for piece in self.shown.pieces if piece.is_made)
        parts = parts or [f"Beds made: {made or 'none'}"]
        if self.asked.state is not State.NOT_ASKED:
            parts.append(self.asked.state.word)
        gaps = [each.says for each in self.shown.missing]
        gaps += [each.missing.says for each in self.shown.windows if each.missing]
        parts += [f"Not given: {'; '.join(gaps)}"] if gaps else []
        return ". ".join(parts)

    # The way, and its figure at its place: ruled across, about a circle, beside a leaf

    def _ribbon(self) -> Iterator[Mark]:
        if self.found.way:
            points = self.sheet.all(*self.found.way)
            yield Ribbon(points=points, width_mm=self.sheet.scale.mm(self.found.way_m))
            yield Path(points=points, pen=Pen.DATUM, tone=Tone.GRAPHITE)

    def _on_ribbon(self) -> Iterator[Box]:
        """The paper that the way takes, in pieces."""
        half = self.sheet.scale.mm(self.found.way_m / 2)
        for one, other in pairwise(self.found.way):
            count = 1 + int(math.dist(one, other) / 0.2)
            for n in range(count + 1):
                x, y = self.sheet.at(_between(one, other, n / count))
                yield x - half, y - half, x + half, y + half

    def _swings(self) -> Iterator[Box]:
        """The paper that leaves and their arcs take."""
        for hung in self.shown.doors:
            for mark in leaf(self.shown.wall_m, hung, self.sheet):
                yield around(mark.points)

    def _answer(self) -> Iterator[Mark]:
        if self.asked.amount is not None:
            yield from self._figure(self.asked.amount)
        for each in self.found.leaves:
            self._letter_leaf(each)
        for strip in self.found.strips:
            self._letter_strip(strip)
        for sight in self.found.sights:
            yield Path(points=self.sheet.all(*sight), pen=Pen.DATUM, tone=Tone.SHORT)
        for place, number in self.found.counts:
            at, words = self.sheet.at(place), str(number)
            look = Look(cap_mm=NAME_MM, is_strong=True)
            self._letter(words, [at, *about(at, words, NAME_MM, 1.0)], look)

    def _figure(self, amount: Amount) -> Iterator[Mark]:
        if self.found.across:
            one, other = self.found.across
            yield from self._across(self.sheet.at(one), self.sheet.at(other), amount)
        elif self.found.circle:
            middle = self.sheet.at(self.found.circle.middle)
            radius = self.sheet.scale.mm(self.found.circle.diameter_m / 2)
            yield from self._circle(middle, radius, amount)
        elif self.found.at:
            at = self.sheet.at(self.found.at)
            yield from self._letter_answer(at, 2.0, amount, [at])
        elif self.found.way:
            yield from self._letter_answer(self.sheet.at(_half_way(self.found.way)), 2.0, amount)

    def _across(self, a: Point, b: Point, amount: Amount) -> Iterator[Mark]:
        tone = self.asked.tone
        yield Path(points=(a, b), pen=Pen.SEEN, tone=tone)
        for x, y in (a, b):
            ends = (x - STROKE_MM, y + STROKE_MM), (x + STROKE_MM, y - STROKE_MM)
            yield Path(points=ends, pen=Pen.SEEN, tone=tone)
        self.placing.keep_free(around([a, b]))
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        limit = self.asked.limit
        is_length = amount.scale == LENGTH
        if limit and is_length and self.asked.state is State.SHORT and a != b:
            yield from self._missing(a, b, Amount(limit.si - amount.si, LENGTH))
        yield from self._letter_answer(middle, 1.2, amount)

    def _missing(self, a: Point, b: Point, amount: Amount) -> Iterator[Mark]:
        """What is missing, to scale, from the end where furniture stands."""
        a, b = sorted((a, b), key=self._is_wall, reverse=True)
        length, more = math.dist(a, b), self.sheet.scale.mm(amount.si)
        along = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        half = -along[1] * BLOCK_MM, along[0] * BLOCK_MM
        end = b[0] + along[0] * more, b[1] + along[1] * more
        corners = (
            (b[0] + half[0], b[1] + half[1]),
            (end[0] + half[0], end[1] + half[1]),
            (end[0] - half[0], end[1] - half[1]),
            (b[0] - half[0], b[1] - half[1]),
        )
        yield Path(points=corners, pen=Pen.FINE, tone=Tone.SHORT, fill=Fill.PAPER, is_closed=True)
        yield hatched(corners, 1.1, Tone.SHORT)
        words = f"{lettered(amount, self.field.system)} short"
        self.figures.append(Figure(what="Short by", amount=amount, lettered=words))
        self.placing.keep_free(around(corners))
        middle = (b[0] + end[0]) / 2, (b[1] + end[1]) / 2
        look = Look(tone=Tone.SHORT)
        self._letter(words, about(middle, words, LEAST_MM, 2.2), look)

    def _is_wall(self, point: Point) -> bool:
        """Whether a point on paper lies on a wall, and on no furniture."""
        x, y = point
        near = (x - 0.1, y - 0.1, x + 0.1, y + 0.1)
        return not any(
            near[0] < right and left < near[2] and near[1] < low and top < near[3]
            for left, top, right, low in outlines(self.shown, self.sheet)
        )

    def _circle(self, middle: Point, radius_mm: float, amount: Amount) -> Iterator[Mark]:
        tone, turn = self.asked.tone, math.radians(20)
        across, up = radius_mm * math.cos(turn), radius_mm * math.sin(turn)
        ends = (middle[0] - across, middle[1] + up), (middle[0] + across, middle[1] - up)
        yield Disc(middle=middle, radius_mm=radius_mm, tone=tone)
        yield Path(points=ends, pen=Pen.FINE, tone=tone)
        is_roomy = radius_mm > ROOMY_MM
        (x, y), up_mm = middle, ANSWER_MM
        inside = ((x, y - up_mm), (x, y + up_mm)) if is_roomy else ()
        away = 3.0 if is_roomy else radius_mm + 0.8
        yield from self._letter_answer(middle, away, amount, inside)

    def _letter_answer(
        self, middle: Point, away_mm: float, amount: Amount, first: Sequence[Point] = ()
    ) -> Iterator[Mark]:
        words = lettered(amount, self.field.system, self._finer(amount, self.asked.limit))
        self.figures.append(Figure(what=self.asked.title, amount=amount, lettered=words))
        look = Look(cap_mm=ANSWER_MM, tone=self.asked.tone, is_strong=True)
        places = [*first, *about(middle, words, ANSWER_MM, away_mm)]
        if self._letter(words, places, look, outlines(self.shown, self.sheet)):
            left, top, right, bottom = self.placing.letters[-1].box
            near = min(max(middle[0], left), right), min(max(middle[1], top), bottom)
            if math.dist(near, middle) > LED_MM:
                yield Path(points=(middle, near), pen=Pen.FINE, tone=self.asked.tone)

    def _finer(self, amount: Amount, limit: Amount | None, state: State | None = None) -> int:
        """How much finer than usual a figure is lettered, to be told from a limit it misses."""
        target = limit.si if limit else None
        state = state or self.asked.state
        part = Part(name="", scale=amount.scale, value=amount.si, target=target, state=state)
        return part.finer(self.field.system)

    def _letter_leaf(self, each: Leaf) -> None:
        hung = next(hung for hung in self.shown.doors if hung.gate.mark == each.mark)
        words = lettered(each.opens, self.field.system)
        self.figures.append(Figure(what=f"{each.mark} opens", amount=each.opens, lettered=words))
        (x, y), out = hung.gate.middle, hung.gate.out
        inside = self.sheet.at((x - out[0] * 0.5, y - out[1] * 0.5))
        look = Look(cap_mm=NAME_MM, tone=Tone.SHORT, is_strong=True)
        self._letter(words, [inside, *about(inside, words, NAME_MM, 2.0)], look)

    # Floor before what is used

    def _strips(self) -> Iterator[Mark]:
        for strip in self.found.strips:
            shown_m = min(strip.depth_m, strip.wanted_m)
            if strip.depth_m < strip.wanted_m:
                points = self.sheet.all(*_before(strip, strip.wanted_m))
                yield Path(points=points, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
                yield hatched(points, 1.6, Tone.SHORT)
            points = self.sheet.all(*_before(strip, shown_m))
            yield Path(points=points, pen=Pen.FINE, fill=Fill.TRACE, is_closed=True)

    def _letter_strip(self, strip: Strip) -> None:
        amount, wanted = Amount(strip.depth_m, LENGTH), Amount(strip.wanted_m, LENGTH)
        is_short = strip.depth_m < strip.wanted_m
        more = self._finer(amount, wanted, State.SHORT)
        words = lettered(amount, self.field.system, more) if is_short else ""
        what = f"Free before {strip.mark}"
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        if not is_short:
            return
        look = Look(cap_mm=NAME_MM, tone=Tone.SHORT, is_strong=True)
        left, top, right, bottom = around(self.sheet.all(*_before(strip, strip.wanted_m)))
        middle = (left + right) / 2, (top + bottom) / 2
        self._letter(words, [middle, *about(middle, words, NAME_MM, 1.0)], look)

    def _letter(
        self,
        words: str,
        places: Iterable[Point],
        look: Look,
        avoids: Iterable[Box] = (),
    ) -> bool:
        is_lettered = self.placing.letter(words, places, look, avoids)
        if not is_lettered:
            self.unlettered.append(words)
        return is_lettered

    def _foot(self) -> Iterator[Mark]:
        """Scale and north, under the plan."""
        field, y, quiet = self.field, self.height_mm - 5.0, Look(tone=Tone.GRAPHITE)
        bar = scale_bar((2.0, y), self.sheet.scale, field.width_mm * 0.4, field.system)
        yield from bar.marks
        self.placing.keep_free((2.0, y, 2.0 + bar.length_mm, y + 1.4))
        half = width_mm(bar.says, LEAST_MM) / 2
        self._letter(bar.says, [(3.5 + bar.length_mm + half, y + 0.7), (2 + half, y - 2.4)], quiet)
        if self.shown.turns:
            at = field.width_mm - 4.0, self.height_mm - 4.0
            yield from north(at, self.shown.storey.turned_deg)
            self.placing.keep_free((at[0] - 3.2, at[1] - 3.2, at[0] + 3.2, at[1] + 3.2))
            self._letter("N", [(at[0] - 5.2, at[1])], quiet)
        if self.asked.state is not State.NOT_ASKED:
            word, tone = self.asked.state.word, self.asked.tone
            look = Look(tone=Tone.MEETS if self.asked.state is State.MEETS else tone)
            middle = field.width_mm - 12.5 - width_mm(word, LEAST_MM) / 2
            self._letter(word, [(middle, y + 0.7), (middle, y - 2.4)], look)


def _shown_way(shown: Pictured, way: tuple[Point, ...]) -> tuple[Point, ...]:
    """A way from just outside the walls: where it begins further off, it is cut."""
    if len(way) < 2:
        return ()
    far = (shown.wall_m or 0.0) + BEFORE_M
    lows = [place.low for place in shown.storey.places]
    highs = [place.high for place in shown.storey.places]
    low = min(x for x, _ in lows) - far, min(y for _, y in lows) - far
    high = max(x for x, _ in highs) + far, max(y for _, y in highs) + far
    share = max(_beyond(a, b, *ends) for a, b, *ends in zip(way[0], way[1], low, high, strict=True))
    return (_between(way[0], way[1], share), *way[1:])


def _beyond(start: float, end: float, low: float, high: float) -> float:
    """The share of a line that lies beyond a limit on the side that it starts on."""
    limit = min(max(start, low), high)
    return min(1.0, (limit - start) / (end - start)) if limit != start and end != start else 0.0


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share


def _half_way(way: tuple[Point, ...]) -> Point:
    """The middle of the longest piece of a way."""
    return _between(*max(pairwise(way), key=lambda pair: math.dist(*pair)), 0.5)


def _before(strip: Strip, deep_m: float) -> tuple[Point, ...]:
    """The corners of the floor before a side, so deep."""
    (x, y), (to_x, to_y) = strip.front.start, strip.front.end
    length = math.dist(strip.front.start, strip.front.end)
    across = -(to_y - y) / length * deep_m, (to_x - x) / length * deep_m
    return (
        (x, y),
        (to_x, to_y),
        (to_x + across[0], to_y + across[1]),
        (x + across[0], y + across[1]),
    )


def _touch(schedule: str, mark: str, name: str, marks: Iterable[Flat]) -> Iterator[Touch]:
    drawn = tuple(marks)
    if drawn:
        yield Touch(schedule=schedule, mark=mark, says=f"{mark}, {name}", marks=drawn)


def _ready(seen: Seen) -> Ready | None:
    found = decided(seen.package, seen.check, seen.asked.measured)
    if found is None:
        return None
    found = replace(found, counts=tuple(counts_of(seen.package, found.storey, seen.check)))
    return Ready(partial(draw_plan, pictured(seen.package, found.storey), found, seen.asked))


PLAN = Picture(
    ready=_ready,
    wants="rooms want width and depth, doors and furniture places",
    checks=DRAWN,
)
