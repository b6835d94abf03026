"""A piece on its deck or under its hook: from the side and the end, within what lets it through."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from criteria.drawing.answering import SIDE_MM
from criteria.drawing.dimensions import across, level, upwards
from criteria.drawing.drawing import Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Disc, Lettering, Mark, Path, Point, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.pieces import Boxed
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import SAME, Amount
from criteria.units import ANGLE, ROOM_LENGTH, Scale

TALL_MM, LEFT_MM, APART_MM, PAST_MM = 46.0, 9.0, 9.0, 3.0
"""How tall a view is at most; kept at its left for a height, between views, and how far road and
deck pass what stands on them."""
NAME_UNDER_MM = 13.0
"""From the road down to the name of the piece, under its dimensions."""
HOOK_MM, EARTH_MM = 1.6, 1.8


@dataclass(frozen=True)
class Limits:
    """The most that a road lets through [m]; None where nothing is asked."""

    height_m: float | None
    width_m: float | None


@dataclass
class View:
    """What is drawn, where it ends down and across the paper, and the figures on it.

    eyes, middle   of what hangs, on paper
    """

    foot_mm: float
    right_mm: float
    scale: str
    eyes: tuple[Point, ...] = ()
    middle: Point = (0.0, 0.0)
    marks: list[Mark] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)

    def lettered(self, si: float, scale: Scale, what: str, on: Field) -> str:
        """Write a typed figure, and keep it for the table."""
        amount = Amount(si, scale)
        words = lettered(amount, on.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words


def on_deck(piece: Boxed, deck_m: float, limits: Limits, on: Field, top: float) -> View:
    """Draw a piece on a deck, from the side and from the end."""
    length, width, height = piece.sizes_m
    tall = max(deck_m + height, limits.height_m or 0.0)
    wide = max(width, limits.width_m or 0.0)
    deck = lettered(Amount(deck_m, ROOM_LENGTH), on.system)
    before = PAST_MM if on.is_narrow else LEFT_MM
    after = 0.0 if on.is_narrow else 6.0 + width_mm(deck, LEAST_MM)
    free = on.width_mm - 2 * SIDE_MM - before - APART_MM - PAST_MM - after
    scale = largest((length + wide, tall), (free, TALL_MM), on.system, ratio=50)
    road = top + 4.5 + scale.mm(tall)
    view = View(road + NAME_UNDER_MM + 2.0, on.width_mm, scale.name)
    side = SIDE_MM + before
    end = side + scale.mm(length) + APART_MM + scale.mm(wide - width) / 2
    # dimensions of what is small are wider than it is
    needs = [
        width_mm(lettered(Amount(m, ROOM_LENGTH), on.system), LEAST_MM) for m in (length, width)
    ]
    side = max(side, needs[0] / 2 + 1.0 - scale.mm(length) / 2)
    end = max(end, side + (sum(needs) + scale.mm(length) - scale.mm(width)) / 2 + 1.0)
    for what, x, size in (("length", side, length), ("width", end, width)):
        seen = _Seen(x, x + scale.mm(size), road, deck_m, height, scale)
        view.marks += seen.marks(piece, limits.height_m)
        words = view.lettered(size, ROOM_LENGTH, f"{piece.row.mark}, {what} as typed", on)
        view.marks += across(x, seen.right, road + 7.0, words, of=road)
    if limits.width_m is not None:
        seen.between(limits.width_m, road - scale.mm(tall), view)
    words = lettered(Amount(height, ROOM_LENGTH), on.system)
    if not on.is_narrow:
        view.marks += level((seen.right + PAST_MM + 3.0, seen.floor), deck)
    is_roomy = not on.is_narrow and scale.mm(height) > width_mm(words, LEAST_MM) + 1.0
    if is_roomy:
        view.marks += upwards(seen.upper, seen.floor, side - 4.5, words, of=side - PAST_MM)
    for size, what, said in (
        (deck_m, "deck as typed", "" if on.is_narrow else deck),
        (height, f"{piece.row.mark}, height as typed", words if is_roomy else ""),
    ):
        view.figures.append(Figure(what=what, amount=Amount(size, ROOM_LENGTH), lettered=said))
    if limits.height_m is not None:
        words = f"at most {lettered(Amount(limits.height_m, ROOM_LENGTH), on.system)}"
        view.marks.append(Lettering(words=words, at=(side, road - scale.mm(limits.height_m) - 1.2)))
    view.marks.append(_name(piece, scale, on, road + NAME_UNDER_MM))
    return view


@dataclass(frozen=True)
class _Seen:
    """One of both views: where it stands on paper."""

    left: float
    right: float
    road: float
    deck_m: float
    height_m: float
    scale: DrawnScale

    @property
    def floor(self) -> float:
        """Where the deck lies on paper."""
        return self.road - self.scale.mm(self.deck_m)

    @property
    def upper(self) -> float:
        """Where the piece ends above."""
        return self.floor - self.scale.mm(self.height_m)

    def marks(self, piece: Boxed, most_m: float | None) -> Iterator[Mark]:
        ends = self.left - PAST_MM, self.right + PAST_MM
        yield Path(points=((ends[0], self.road), (ends[1], self.road)), pen=Pen.CUT)
        yield _earth(ends, self.road)
        box = rectangle((self.left, self.upper, self.right, self.floor))
        solid = Path(points=box, fill=Fill.PAPER, is_closed=True)
        says = f"{piece.title}, as it travels"
        yield Touch(schedule="pieces", mark=piece.row.mark, says=says, marks=(solid,))
        yield Path(points=((ends[0], self.floor), (ends[1], self.floor)), pen=Pen.SEEN)
        if most_m is None:
            return
        y = self.road - self.scale.mm(most_m)
        yield Path(points=((ends[0], y), (ends[1], y)), pen=Pen.CUT)
        if self.deck_m + self.height_m > most_m * (1 + SAME):
            yield from _over((self.left, self.upper, self.right, min(y, self.floor)))

    def between(self, most_m: float, upper: float, view: View) -> None:
        """The width that the road lets through, between two heavy lines, and what is over it."""
        middle, half = (self.left + self.right) / 2, self.scale.mm(most_m) / 2
        for sign in (-1, 1):
            x = middle + sign * half
            view.marks.append(Path(points=((x, upper), (x, self.road)), pen=Pen.CUT))
            far = middle + sign * (self.right - self.left) / 2
            if (far - x) * sign > SAME:
                view.marks += _over((min(x, far), self.upper, max(x, far), self.floor))


def _earth(ends: tuple[float, float], y: float) -> Strokes:
    """Ground as it is cut: short strokes under its line."""
    count = int((ends[1] - ends[0]) / EARTH_MM)
    starts = [ends[0] + (n + 1) * EARTH_MM for n in range(count)]
    return Strokes(segments=tuple(((x, y), (x - EARTH_MM, y + EARTH_MM)) for x in starts))


def _over(box: tuple[float, float, float, float]) -> Iterator[Mark]:
    yield Path(points=rectangle(box), tone=Tone.SHORT, is_closed=True)
    yield hatched(rectangle(box), 1.1, Tone.SHORT)


def on_hook(piece: Boxed, on: Field, top: float) -> View:
    """Draw a piece as it hangs: its legs from the level as its row says, its eyes at their height.

    The eyes stand at the ends of its length, which gives the least height under the hook.
    """
    row, (length, _, height) = piece.row, piece.sizes_m
    eye, angle = float(row.eye_h_m), math.radians(row.sling_deg)
    rise = length / 2 * math.tan(min(angle, math.radians(85)))
    tall = max(height, eye + rise)
    free = on.width_mm / 2 - 2 * SIDE_MM - LEFT_MM
    scale = largest((length, tall), (free, TALL_MM), on.system, ratio=50)
    foot, left = top + 4.0 + scale.mm(tall), SIDE_MM + LEFT_MM
    right, eyes = left + scale.mm(length), foot - scale.mm(eye)
    hook = (left + right) / 2, eyes - scale.mm(rise)
    view = View(foot + NAME_UNDER_MM + 2.0, right + 3.0, scale.name)
    box = rectangle((left, foot - scale.mm(height), right, foot))
    solid = Path(points=box, fill=Fill.PAPER, is_closed=True)
    legs = [Path(points=(hook, (x, eyes)), pen=Pen.SEEN) for x in (left, right)]
    says = f"{piece.title}, in its sling"
    view.marks.append(Touch(schedule="pieces", mark=row.mark, says=says, marks=(solid, *legs)))
    view.eyes, view.middle = ((left, eyes), (right, eyes)), (hook[0], foot - scale.mm(height) / 2)
    view.marks += [Disc(middle=each, radius_mm=0.6, fill=Fill.INK) for each in view.eyes]
    view.marks.append(Disc(middle=hook, radius_mm=HOOK_MM / 2, fill=Fill.PAPER))
    words = view.lettered(length, ROOM_LENGTH, f"{row.mark}, length as typed", on)
    view.marks += across(left, right, foot + 7.0, words, of=foot)
    degrees = view.lettered(row.sling_deg, ANGLE, f"{row.mark}, sling as typed", on)
    words = f"{row.eyes} eyes, {degrees}"
    view.marks.append(Lettering(words=words, at=(right + 3.0, eyes + LEAST_MM / 2)))
    name = _name(piece, scale, on, foot + NAME_UNDER_MM)
    view.marks.append(name)
    view.right_mm = max(view.right_mm + width_mm(words, LEAST_MM), name.box[2])
    return view


def _name(piece: Boxed, scale: DrawnScale, on: Field, y: float) -> Lettering:
    said = f", {scale.name}"
    room = on.width_mm - 2 * SIDE_MM - width_mm(said, NAME_MM)
    words = fitted(piece.title, NAME_MM, room) + said
    return Lettering(words=words, at=(SIDE_MM, y), cap_mm=NAME_MM, is_strong=True)
