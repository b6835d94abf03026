"""What stands on a plan is called by its mark, and by its name where there is room for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from criteria.drawing.drawing import Field
from criteria.drawing.lettering import LEAST_MM, NAME_MM, width_mm
from criteria.drawing.marks import Box, Gap, Point, around, meet
from criteria.drawing.pens import Tone
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.plan_parts import Sheet, gap_of
from criteria.walking.pictured import Pictured, Standing

LINE_MM = 3.6
"""From one line of small letters to the next [mm]."""
SMALL = 128
"""At a smaller scale furniture has no room for its marks; what is in a way keeps them [1]."""
OVER_SHARE = 0.55
"""A mark stands on a piece that is at least so wide, as a share of it [1]."""
COLUMNS, ROWS = 5, (1, 5, 0, 6, 2, 4, 3)
"""Places that a room's name is tried at: near its upper and lower walls first."""


def outlines(shown: Pictured, sheet: Sheet) -> Iterator[Box]:
    """Give the paper that each piece of furniture takes."""
    return (outline(piece, sheet) for piece in shown.pieces)


def outline(piece: Standing, sheet: Sheet) -> Box:
    """Return the paper that a piece takes."""
    left, low, right, high = around(piece.body.corners)
    grown = piece.body.radius_m
    return around(sheet.all((left - grown, low - grown), (right + grown, high + grown)))


def letter_names(
    shown: Pictured,
    sheet: Sheet,
    placing: Placing,
    field: Field,
    met: Iterable[str],
    avoids: Sequence[Box],
) -> tuple[str, ...]:
    """Letter all that stands on a plan; return what found no place.

    met      marks of what stands in a way, which are picked out
    avoids   where rooms are named only if they can't be elsewhere
    """
    names = _Names(shown, sheet, placing, field, frozenset(met))
    names.pieces()
    names.climbs()
    names.openings()
    names.rooms(avoids)
    return tuple(names.unlettered)


class _Names:
    def __init__(
        self, shown: Pictured, sheet: Sheet, placing: Placing, field: Field, met: frozenset[str]
    ) -> None:
        self.shown, self.sheet, self.placing = shown, sheet, placing
        self.field, self.met = field, met
        self.unlettered: list[str] = []

    def pieces(self) -> None:
        is_small = self.sheet.scale.ratio > SMALL
        stacks: dict[tuple[Point, ...], list[Standing]] = {}
        for piece in self.shown.pieces:
            stacks.setdefault(piece.body.corners, []).append(piece)
        for stack in stacks.values():
            if not is_small or any(piece.body.mark in self.met for piece in stack):
                self._stack(stack)

    def _stack(self, stack: list[Standing]) -> None:
        """Letter a piece, or those that stand over each other."""
        marks = " ".join(piece.body.mark for piece in stack)
        box = outline(stack[0], self.sheet)
        whole = f"{marks} {stack[0].name}".strip()
        is_met = any(piece.body.mark in self.met for piece in stack)
        look = Look(tone=Tone.SHORT if is_met else Tone.INK)
        words = [marks] if self.field.is_narrow or len(stack) > 1 else [whole, marks]
        if not any(self.placing.letter(each, _in(box, each), look) for each in words):
            away = (box[2] - box[0]) / 2 + 1.0
            places = (*_over(box, marks), *about(_middle(box), marks, LEAST_MM, away))
            if not self.placing.letter(marks, places, look):
                self.unlettered.append(whole)

    def climbs(self) -> None:
        """Letter which way a stair leads, beside the end that it is taken from."""
        for way in self.shown.climbs:
            words = f"{way.mark} {'up' if way.is_up else 'down'}"
            end = self.sheet.at(way.foot if way.is_up else way.head)
            away = self.sheet.scale.mm(way.width_m / 2) + 0.6
            self._letter(words, about(end, words, LEAST_MM, away), Look())

    def _letter(self, words: str, places: Iterable[Point], look: Look) -> None:
        if not self.placing.letter(words, places, look):
            self.unlettered.append(words)

    def openings(self) -> None:
        thick = self.shown.wall_m or 0.0
        for hung in self.shown.doors:
            (x, y), out = hung.gate.middle, hung.gate.out
            at = self.sheet.at((x + out[0] * thick, y + out[1] * thick))
            self._outside(hung.gate.mark, at, out, None)
        for glazed in self.shown.windows:
            ((ax, ay), (bx, by)), out = glazed.ends, glazed.out
            at = self.sheet.at(((ax + bx) / 2 + out[0] * thick, (ay + by) / 2 + out[1] * thick))
            gap = gap_of(glazed.missing) if glazed.missing else None
            self._outside(glazed.mark, at, out, gap)

    def _outside(self, mark: str, at: Point, out: Point, gap: Gap | None) -> None:
        """Letter a mark outside its wall; with what isn't given beside it."""
        words = mark
        if gap:
            words = f"{mark} not given" if self.field.is_narrow else f"{mark} place not given"
        half = width_mm(words, LEAST_MM) / 2
        places: list[Point] = []
        for away in (0.9, 2.4, 4.4, -8.0, -12.0):
            x = at[0] + out[0] * (away + half)
            y = at[1] - out[1] * (away + LEAST_MM / 2)
            places += [(x, y), (x, y - LINE_MM), (x, y + LINE_MM), (x - half, y), (x + half, y)]
        self._letter(words, places, Look(tone=Tone.GRAPHITE, gap=gap))

    def rooms(self, avoids: Sequence[Box]) -> None:
        names, done = dict(self.shown.names), set[str]()
        bodies = [*outlines(self.shown, self.sheet), *self._stairs()]
        for place in self.shown.storey.places:
            if place.room in done:
                continue
            done.add(place.room)
            box = around(self.sheet.all(place.low, place.high))
            whole = f"{place.room} {names.get(place.room, '')}".strip()
            tried = ((whole, NAME_MM), (place.room, NAME_MM), (place.room, LEAST_MM))
            if not any(
                self.placing.letter(
                    words,
                    _free_in(box, words, cap_mm, bodies),
                    Look(cap_mm=cap_mm, is_strong=True),
                    avoids,
                )
                for words, cap_mm in tried
            ):
                self.unlettered.append(whole)

    def _stairs(self) -> Iterator[Box]:
        """The paper that stairs take."""
        for way in self.shown.climbs:
            left, top, right, bottom = around(self.sheet.all(way.foot, way.head))
            half = self.sheet.scale.mm(way.width_m / 2)
            yield left - half, top - half, right + half, bottom + half


def _middle(box: Box) -> Point:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def _in(box: Box, words: str) -> Iterator[Point]:
    """Give places for words within a box: its middle, then over, under and beside that."""
    left, top, right, bottom = box
    half, (x, y) = width_mm(words, LEAST_MM) / 2 + 0.5, _middle(box)
    if right - left < 2 * half or bottom - top < LEAST_MM + 0.8:
        return
    room = (bottom - top - LEAST_MM) / 2 - 0.5
    for up in (0.0, -min(LINE_MM, room), min(LINE_MM, room)):
        yield from ((x, y + up), (left + half, y + up), (right - half, y + up))


def _over(box: Box, words: str) -> Iterator[Point]:
    """Give places for words on a box that is a little too small for them."""
    left, top, right, bottom = box
    if right - left > OVER_SHARE * width_mm(words, LEAST_MM) and bottom - top > LEAST_MM:
        x, y = _middle(box)
        yield from ((x, y), (x, y - LINE_MM), (x, y + LINE_MM))


def _free_in(box: Box, words: str, cap_mm: float, bodies: list[Box]) -> Iterator[Point]:
    """Give places for a name within a room, clear of its furniture."""
    left, top, right, bottom = box
    half, tall = width_mm(words, cap_mm) / 2 + 0.8, 0.9 * cap_mm
    if 2 * half > right - left or 2 * tall > bottom - top:
        return
    for row in ROWS:
        y = top + tall + (bottom - top - 2 * tall) * row / max(ROWS)
        for column in range(COLUMNS):
            x = left + half + (right - left - 2 * half) * column / (COLUMNS - 1)
            taken = (x - half, y - tall, x + half, y + tall)
            if not any(meet(taken, body) for body in bodies):
                yield x, y
