"""Pieces, drawn: the one that decides in the box it must keep within, the rest, lifts by weight."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from criteria.checks.moving import PIECE_CHECKS, piece_limits
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.lift_bars import Bars
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Touch, around
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.projecting import Dimetric, Sizes, extent_m
from criteria.drawing.scales import DrawnScale, largest, lettered
from criteria.findings import SAME, Amount, Measured
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.typed.cells import Lacking
from criteria.units import ROOM_LENGTH, System

BOX_SHARE, BOX_TALL_MM, CELL_MM, CELL_TALL_MM = 0.46, 44.0, 24.0, 22.0
"""Of the width the piece that decides may take, how tall it may be; how wide a place of the rest
is at least, and how tall one of them may be."""
GAP_MM, LINE_MM = 4.0, 3.9
MOST_TALL_MM = 134.0
"""Pieces are drawn as far down as this; those that come after are named [mm]."""
AXES = ("length", "width", "height")
HAND = "hand_carry"


@dataclass(frozen=True)
class Boxed:
    """A piece that has its sizes."""

    row: Piece
    sizes_m: Sizes

    @property
    def title(self) -> str:
        """How many, its mark and its name."""
        n = self.row.n
        counted = f"{n} × " if n and n > 1 else ""
        return f"{counted}{self.row.mark} {self.row.piece or ''}".strip()


def boxed(package: Package) -> tuple[tuple[Boxed, ...], tuple[Gap, ...]]:
    """Return the pieces that have sizes, and of the rest what isn't given."""
    found, gaps = [], []
    for row in package.leniently.pieces:
        sizes = dict(zip(AXES, row.sizes_m, strict=True))
        if lacking := next((axis for axis, size in sizes.items() if size is None), ""):
            column = f"{lacking[0]}_m"
            says = f"{row.mark}: {lacking} not given"
            gaps.append(Gap(schedule="pieces", mark=row.mark, column=column, says=says))
        else:
            found.append(Boxed(row, row.sizes_m))
        if row.n is None:
            says = f"{row.mark}: how many not given"
            gaps.append(Gap(schedule="pieces", mark=row.mark, column="n", says=says))
    return tuple(found), tuple(gaps)


def figures_of(package: Package, slug: str) -> tuple[Measured, ...]:
    """Return what a check of pieces says of each; nothing where it can't be asked."""
    check = next(each for each in PIECE_CHECKS if each.slug == slug)
    try:
        return tuple(each for each in check.measure(package, ()) if each.values)
    except Lacking:
        return ()


def limits_of(package: Package) -> Sizes | None:
    """Return the largest that can be brought [m], None where a side of it isn't given."""
    try:
        return piece_limits(package.site)
    except Lacking:
        return None


def beyond(sizes_m: Sizes, limits_m: Sizes | None) -> Mapping[str, float]:
    """Return how far a piece sticks out of its limits, by the side that does [m]."""
    if limits_m is None:
        return {}
    sides = zip(AXES, sizes_m, limits_m, strict=True)
    return {axis: size - most for axis, size, most in sides if size > most * (1 + SAME)}


def draw_pieces(seen: Seen, field: Field) -> Drawing:
    """Draw the pieces of a package."""
    return _Pieces(seen, field).drawing()


class _Pieces:
    def __init__(self, seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.pieces, self.gaps = boxed(seen.package)
        self.limits = limits_of(seen.package)
        self.first = self._first()
        self.rest = sorted(
            (piece for piece in self.pieces if piece is not self.first),
            key=lambda piece: -(piece.row.mass_kg or 0.0),
        )
        self.figures: list[Figure] = []
        self.left_over: list[str] = []
        self.scales: list[str] = []

    def _first(self) -> Boxed:
        """The piece of the figure; else that which sticks out furthest, or comes nearest to it."""
        subject = self.seen.asked.measured.subject
        if found := next((each for each in self.pieces if each.row.mark == subject), None):
            return found
        limits = self.limits or (1.0, 1.0, 1.0)
        return max(
            self.pieces,
            key=lambda each: max(
                size / most for size, most in zip(each.sizes_m, limits, strict=True)
            ),
        )

    def drawing(self) -> Drawing:
        """Draw the answer, the piece that decides, the rest about it, and every lift."""
        head = answer(self.seen, self.field)
        self.placing = Placing(self.field.width_mm, 400.0)
        marks: list[Mark] = [*head.letters]
        for letter in head.letters:
            self.placing.keep_free(letter.box)
        right, foot, large = self._large(head.height_mm)
        marks += large
        foot, small = self._small(head.height_mm, right, foot)
        marks += small
        slug = HAND if self.seen.check == HAND else "piece_mass"
        bars = Bars(figures_of(self.seen.package, slug), slug, self.seen, self.field)
        marks += bars.marks(foot + 2.0)
        limit = () if self.limits else (_no_limit(self.seen.package),)
        return Drawing(
            title="Pieces in the box they must keep within" if self.limits else "Pieces",
            says=f"{head.says} {self._says()}".strip(),
            width_mm=self.field.width_mm,
            height_mm=round(foot + 2.0 + bars.height_mm, 2),
            marks=(*marks, *self.placing.letters),
            figures=(*head.figures, *self.figures, *bars.figures),
            scale=" and ".join(dict.fromkeys(self.scales)),
            left_out=(*self.gaps, *limit, *bars.gaps),
            key=(*bars.unlettered, *self.left_over),
        )

    def _says(self) -> str:
        said = []
        for piece in self.pieces:
            over = beyond(piece.sizes_m, self.limits)
            said += [
                f"{piece.row.mark} {self._write(far)} over {axis}" for axis, far in over.items()
            ]
        return f"{'; '.join(said)}." if said else ""

    def _write(self, m: float) -> str:
        return Amount(m, ROOM_LENGTH).write(self.field.system)

    def _sides(self, sizes_m: Sizes) -> str:
        written = [ROOM_LENGTH.write(size, self.field.system) for size in sizes_m]
        if self.field.system is System.METRIC:
            written[:-1] = [each.removesuffix(" m") for each in written[:-1]]
        return " × ".join(written)

    def _large(self, top: float) -> tuple[float, float, list[Mark]]:
        """The piece that decides, in its box; return also where its paper ends."""
        piece, limits = self.first, self.limits
        most = tuple(map(max, piece.sizes_m, limits or piece.sizes_m))
        size = extent_m((most[0], most[1], most[2]))
        wide = self.field.width_mm - 2 * SIDE_MM
        room = wide if self.field.is_narrow else wide * BOX_SHARE
        scale = largest(size, (room - 2.0, BOX_TALL_MM), self.field.system, ratio=50)
        self.scales.append(scale.name)
        view = Dimetric.of((most[0], most[1], most[2]), scale, SIDE_MM, top + 1.0)
        marks: list[Mark] = [view.edges(limits)] if limits else []
        marks.append(self._touch(piece, view))
        foot = top + 1.0 + scale.mm(size[1]) + GAP_MM
        marks += self._captions(piece, foot, room, scale)
        over = beyond(piece.sizes_m, limits)
        for axis, far in over.items():
            amount = Amount(far, ROOM_LENGTH)
            words = f"{lettered(amount, self.field.system)} over"
            what = f"{piece.row.mark}, over in {axis}"
            self.figures.append(Figure(what=what, amount=amount, lettered=words))
            self._beside(_slab(piece.sizes_m, limits, axis), view, words)
        return SIDE_MM + room, foot + 3 * LINE_MM, marks

    def _beside(self, slab: tuple[Sizes, Sizes], view: Dimetric, words: str) -> None:
        """Letter how far it sticks out beside the part that does."""
        corners = [point for face in view.faces(*slab) for point in face]
        box = around(corners)
        self.placing.keep_free(box)
        left, top, right, foot = box
        half, middle = width_mm(words, LEAST_MM) / 2 + 1.2, (top + foot) / 2
        up = LEAST_MM / 2 + 1.2
        places = [(right + half, middle), (left + half, top - up), (right - half, foot + up)]
        places += about(((left + right) / 2, middle), words, LEAST_MM, 3.0)
        look = Look(tone=Tone.SHORT, is_strong=True)
        if not self.placing.letter(words, places, look):
            self.left_over.append(words)

    def _captions(
        self, piece: Boxed, foot: float, wide: float, scale: DrawnScale
    ) -> Iterator[Mark]:
        lines = [(fitted(piece.title, NAME_MM, wide), NAME_MM, True, Tone.INK)]
        sides = self._sides(piece.sizes_m)
        sides = fitted(f"{sides}, {scale.name}", LEAST_MM, wide)
        lines.append((sides, LEAST_MM, False, Tone.INK))
        if self.limits:
            words = fitted(f"within {self._sides(self.limits)}", LEAST_MM, wide)
            lines.append((words, LEAST_MM, False, Tone.GRAPHITE))
        for n, (words, cap_mm, is_strong, tone) in enumerate(lines):
            at = (SIDE_MM, foot + n * LINE_MM)
            letter = Lettering(words=words, at=at, cap_mm=cap_mm, is_strong=is_strong, tone=tone)
            self.placing.keep_free(letter.box)
            yield letter
        self._size_figures(piece, sides)

    def _size_figures(self, piece: Boxed, sides: str) -> None:
        for axis, size in zip(AXES, piece.sizes_m, strict=True):
            amount, what = Amount(size, ROOM_LENGTH), f"{piece.row.mark}, {axis} as typed"
            self.figures.append(Figure(what=what, amount=amount, lettered=sides))
            sides = ""

    def _touch(self, piece: Boxed, view: Dimetric) -> Touch:
        over = beyond(piece.sizes_m, self.limits)
        marks: list[Path] = [*view.solid(piece.sizes_m)]
        hatch = [hatched(view.end((0, 0, 0), piece.sizes_m), 0.9, Tone.GRAPHITE)]
        for axis in over:
            faces = view.faces(*_slab(piece.sizes_m, self.limits, axis))
            for points in faces[axis == "width" :]:  # the near face of what is behind isn't seen
                marks.append(Path(points=points, pen=Pen.SEEN, tone=Tone.SHORT, is_closed=True))
                hatch.append(hatched(points, 0.9, Tone.SHORT, is_rising=False))
        says = f"{piece.title}, {self._sides(piece.sizes_m)}"
        return Touch(schedule="pieces", mark=piece.row.mark, says=says, marks=(*marks, *hatch))

    # The rest: to one scale, in rows beside the one that decides and then under it

    def _small(self, top: float, left: float, foot: float) -> tuple[float, list[Mark]]:
        if not self.rest:
            return foot, []
        extents = [extent_m(piece.sizes_m) for piece in self.rest]
        size = max(wide for wide, _ in extents), max(tall for _, tall in extents)
        paper = self.field.width_mm - SIDE_MM
        room = (paper - SIDE_MM) / 2 - GAP_MM
        scale = largest(size, (room, CELL_TALL_MM), self.field.system, ratio=190)
        self.scales.append(scale.name)
        cell = max(scale.mm(size[0]), CELL_MM) + GAP_MM
        is_beside = left + 2 * GAP_MM + cell <= paper
        at_x, y = (left + 2 * GAP_MM, top) if is_beside else (SIDE_MM, foot)
        at = (at_x, y + LEAST_MM + 1.0)
        words = f"the rest, {scale.name}"
        marks: list[Mark] = [Lettering(words=words, at=at, tone=Tone.GRAPHITE)]
        y += LEAST_MM + 2.5
        rest = self.rest
        while rest:
            columns = max(1, int((paper + GAP_MM - at_x) / cell))
            row, after = rest[:columns], rest[columns:]
            tall = max(scale.mm(extent_m(piece.sizes_m)[1]) for piece in row)
            if at_x > SIDE_MM and y + tall + LINE_MM > foot:
                at_x, y = SIDE_MM, foot
                continue
            if y + tall > MOST_TALL_MM:
                self.left_over += [piece.row.mark for piece in rest]
                break
            for n, piece in enumerate(row):
                marks.append(self._cell(piece, (at_x + n * cell, y + tall), cell, scale))
            y, rest = y + tall + LINE_MM + GAP_MM, after
        return max(y, foot), marks

    def _cell(self, piece: Boxed, at: tuple[float, float], cell: float, scale: DrawnScale) -> Touch:
        x, base = at
        tall = scale.mm(extent_m(piece.sizes_m)[1])
        touch = self._touch(piece, Dimetric.of(piece.sizes_m, scale, x, base - tall))
        tone = Tone.SHORT if beyond(piece.sizes_m, self.limits) else Tone.INK
        title = fitted(piece.title, LEAST_MM, cell - 1.5)
        name = Lettering(words=title, at=(x, base + LEAST_MM + 1.2), tone=tone)
        self.placing.keep_free(name.box)
        self._size_figures(piece, "")
        return replace(touch, marks=(*touch.marks, name))


def _slab(sizes_m: Sizes, limits_m: Sizes | None, axis: str) -> tuple[Sizes, Sizes]:
    """The part of a piece that lies beyond its limit along one side: near and far corner."""
    x, y, z = (
        most if each == axis else 0.0 for each, most in zip(AXES, limits_m or sizes_m, strict=True)
    )
    return (x, y, z), sizes_m


def _no_limit(package: Package) -> Gap:
    return Gap(schedule="site", mark="", column="piece_l_m", says="limit of size: not given")


def _ready(seen: Seen) -> Ready | None:
    found, _ = boxed(seen.package)
    return Ready(partial(draw_pieces, seen)) if found else None


PIECES = Picture(
    ready=_ready,
    wants="pieces want length, width and height",
    checks=tuple(check.slug for check in PIECE_CHECKS),
    schedules=("pieces",),
    main="piece_envelope",
)
