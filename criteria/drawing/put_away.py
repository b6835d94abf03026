"""Furniture put away, drawn: what is stowed in a closed piece, as it was found to go in."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from criteria.checks.transport import packing_of
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.held import failing
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Flat, Lettering, Mark, Path, Point, Touch
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing
from criteria.drawing.projecting import Dimetric, Sizes, extent_m
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import Amount
from criteria.measures.packing import Fit, Packing, Place
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.typed.cells import Lacking
from criteria.units import ROOM_LENGTH

BOX_MM, APART_MM, LINE_MM = 62.0, 3.0, 3.9
"""How tall a closed piece is at most, between what is beside it, a line of words [mm]."""


def packed_first(seen: Seen) -> tuple[Piece, Packing] | None:
    """Return the piece that is drawn with what is put away in it: the first that fails, if any."""
    package, missed = seen.package, failing(seen)
    used = {row.stowed_in for row in package.leniently.furniture}
    rows = [row for row in package.leniently.pieces if row.mark in used]
    found = []
    for row in sorted(rows, key=lambda each: each.mark not in missed):
        piece = next(each for each in package.pieces if each.mark == row.mark)
        try:
            found.append((row, packing_of(package, piece)))
        except Lacking:
            continue
        break
    return found[0] if found else None


def back_to_front(places: Sequence[Place]) -> list[Place]:
    """Return boxes in an order in which each is drawn after what lies behind, left or under it."""
    left, order = list(places), []
    while left:
        first = next(
            (one for one in left if not any(_is_behind(o, one) for o in left if o is not one)),
            left[0],
        )
        left.remove(first)
        order.append(first)
    return order


def _is_behind(one: Place, other: Place) -> bool:
    """Whether a box must be drawn before another: it is farther back, more to the left or under."""
    (x, y, z), (to_x, to_y, to_z) = one.corner_m, _far(one)
    (at_x, at_y, at_z), (end_x, end_y, end_z) = other.corner_m, _far(other)
    same = 1e-9
    hides = y >= end_y - same or to_x <= at_x + same or to_z <= at_z + same
    hidden = at_y >= to_y - same or end_x <= x + same or end_z <= z + same
    return hides and not hidden


def _middle(face: Sequence[Point]) -> Point:
    return sum(x for x, _ in face) / len(face), sum(y for _, y in face) / len(face)


def _covers(face: Sequence[Point], at: Point) -> bool:
    """Whether a face of a box lies over a point of the paper."""
    turns = [
        (x - a) * (at[1] - b) - (y - b) * (at[0] - a)
        for (a, b), (x, y) in zip(face, [*face[1:], face[0]], strict=True)
    ]
    return all(turn >= 0 for turn in turns) or all(turn <= 0 for turn in turns)


def _far(place: Place) -> Sizes:
    (x, y, z), (length, width, height) = place.corner_m, place.sizes_m
    return x + length, y + width, z + height


def draw_packed(piece: Piece, packing: Packing, seen: Seen, field: Field) -> Drawing:
    """Draw what is put away in a closed piece."""
    head = answer(seen, field)
    inside: Sizes = piece.inside_m
    wide = field.width_mm - 2 * SIDE_MM
    scale = largest(extent_m(inside), (wide, BOX_MM), field.system, ratio=10)
    top = head.height_mm + 2.0
    view = Dimetric.of(inside, scale, SIDE_MM, top)
    foot = top + scale.mm(extent_m(inside)[1]) + 4.0
    placing = Placing(field.width_mm, foot)
    placing.keep_free((0.0, 0.0, field.width_mm, head.height_mm))
    marks: list[Mark] = [*head.letters, view.edges(inside)]
    unlettered: list[str] = []
    fits = packing.fit is Fit.FITS
    if not fits:
        beside, unlettered, foot = _beside(piece, seen.package, scale, foot, field)
        marks += beside
    order = back_to_front(packing.places)
    all_faces = [view.faces(place.corner_m, _far(place)) for place in order]
    for n, (place, faces) in enumerate(zip(order, all_faces, strict=True)):
        shapes = tuple(
            Path(points=points, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True) for points in faces
        )
        mark = place.mark.partition(".")[0]
        marks.append(Touch(schedule="furniture", mark=mark, says=place.mark, marks=shapes))
        hiding = [face for later in all_faces[n + 1 :] for face in later]
        middles = [_middle(face) for face in faces]
        seen_there = [at for at in middles if not any(_covers(face, at) for face in hiding)]
        if not placing.letter(place.mark, seen_there, Look()):
            unlettered.append(place.mark)
    sides = [lettered(Amount(m, ROOM_LENGTH), field.system).removesuffix(" m") for m in inside]
    title = f"{piece.mark} {piece.piece or ''}".strip()
    lines = [
        (f"{title}: what is put away {packing.fit}", Tone.INK if fits else Tone.SHORT),
        (f"inside {' × '.join(sides)}, {scale.name}", Tone.GRAPHITE),
    ]
    figures = []
    for side, m in zip(("long", "wide", "high"), inside, strict=True):
        what = f"{piece.mark}, {side} inside as typed"
        figures.append(Figure(what=what, amount=Amount(m, ROOM_LENGTH)))
    for n, (words, tone) in enumerate(lines):
        words = fitted(words, LEAST_MM, wide)
        marks.append(Lettering(words=words, at=(SIDE_MM, foot + n * LINE_MM), tone=tone))
    return Drawing(
        title="Furniture in the closed piece",
        says=head.says,
        width_mm=field.width_mm,
        height_mm=round(foot + 2 * LINE_MM, 2),
        marks=(*marks, *placing.letters),
        figures=(*head.figures, *figures),
        scale=scale.name,
        key=tuple(unlettered),
    )


def _beside(
    piece: Piece, package: Package, scale: DrawnScale, top: float, field: Field
) -> tuple[list[Touch], list[str], float]:
    """What is to be put away but doesn't go in, side by side; what has no room; and its foot."""
    rows = [row for row in package.leniently.furniture if row.stowed_in == piece.mark]
    sized = [(row, row.stowed_sizes_m) for row in rows if None not in row.stowed_sizes_m]
    marks, past, x = [], [], SIDE_MM
    tall = max(scale.mm(extent_m(sizes)[1]) for _, sizes in sized)
    for row, sizes in sized:
        words = f"{row.n} × {row.mark}" if row.n and row.n > 1 else row.mark
        wide, high = (scale.mm(m) for m in extent_m(sizes))
        room = max(wide, width_mm(words, LEAST_MM))
        if x + room > field.width_mm - SIDE_MM:
            past.append(words)
            continue
        view = Dimetric.of(sizes, scale, x, top + tall - high)
        name = Lettering(words=words, at=(x, top + tall + LEAST_MM + 1.2), tone=Tone.SHORT)
        shapes: tuple[Flat, ...] = (*view.solid(sizes, Tone.SHORT), name)
        marks.append(Touch(schedule="furniture", mark=row.mark, says=words, marks=shapes))
        x += room + APART_MM
    return marks, past, top + tall + LEAST_MM + 6.5


def _ready(seen: Seen) -> Ready | None:
    found = packed_first(seen)
    return Ready(partial(draw_packed, *found, seen)) if found else None


PUT_AWAY = Picture(
    ready=_ready,
    wants="furniture wants its sizes put away, and the piece it goes into its sizes inside",
    checks=("furniture_packs",),
)
