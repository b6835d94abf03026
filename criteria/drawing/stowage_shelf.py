"""Stowage, drawn: every place on one shelf as wide as it holds, and a guest's share of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.label_lines import LabelLines
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Box, Disc, Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import STEP
from criteria.findings import Amount, Rule, State
from criteria.package import Package
from criteria.schedules.stowage import Stowage
from criteria.units import LITRES

SHELF_MM, BAR_MM, HOOK_MM = 15.0, 5.0, 1.0
PARTED_MM, MOST_HOOKS = 1.2, 8
"""From how wide on places alike are parted [mm]; how many rows without volume are drawn."""


@dataclass(frozen=True)
class Places:
    """Rows that hold something, those for guests first; hooks, which hold none; what lacks."""

    held: tuple[Stowage, ...]
    hooks: tuple[Stowage, ...]
    gaps: tuple[Gap, ...]


def places_of(package: Package) -> Places:
    """Return the places of a package."""
    held: list[Stowage] = []
    hooks: list[Stowage] = []
    gaps: list[Gap] = []
    for row in package.leniently.stowage:
        if row.n is None or row.volume_m3 is None:
            lacks, column = ("number", "n") if row.n is None else ("litres", "l_each")
            says = f"{row.mark}: {lacks} not given"
            gaps.append(Gap(schedule="stowage", mark=row.mark, column=column, says=says))
        elif row.volume_m3 > 0:
            held.append(row)
        else:
            hooks.append(row)
    ordered = sorted(held, key=lambda row: not row.is_for_guests)
    return Places(tuple(ordered), tuple(hooks), tuple(gaps))


def draw_shelf(places: Places, seen: Seen, field: Field) -> Drawing:
    """Draw the places of a package."""
    return _Shelf(places, seen, field).drawing()


class _Shelf:
    def __init__(self, places: Places, seen: Seen, field: Field) -> None:
        self.places, self.seen, self.field = places, seen, field
        self.head = answer(seen, field)
        self.wide = field.width_mm - 2 * SIDE_MM
        self.labels = LabelLines(SIDE_MM, field.width_mm - SIDE_MM)
        total = sum(row.n * row.volume_m3 for row in places.held)
        self.m3_per_mm = total / self.wide
        self.figures: list[Figure] = []
        self.unlettered: list[str] = []

    def drawing(self) -> Drawing:
        """Draw the shelf, what hangs under it, and a guest's share."""
        top = self.head.height_mm + LEAST_MM + 2.0
        shelf = top + SHELF_MM
        marks: list[Mark] = [*self.head.letters, *self._scale(top)]
        x = SIDE_MM
        for row in self.places.held:
            end = x + row.n * row.volume_m3 / self.m3_per_mm
            marks.append(self._place(row, (x, top, end, shelf)))
            x = end
        y = shelf
        if self.places.held:
            ends = ((SIDE_MM, shelf), (self.field.width_mm - SIDE_MM, shelf))
            marks.append(Path(points=ends, pen=Pen.CUT))
            y += self.labels.height_mm + 3.0
        self.unlettered += [row.mark for row in self.places.hooks[MOST_HOOKS:]]
        for row in self.places.hooks[:MOST_HOOKS]:
            marks.append(self._hooks(row, y))
            y += 5.4
        share = list(self._share(y + 1.0))
        marks += share
        foot = y + (BAR_MM + 9.0 if share else 0.0)
        return Drawing(
            title="Stowage on one shelf",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            left_out=self.places.gaps,
            key=tuple(self.unlettered),
        )

    def _write(self, amount: Amount, what: str) -> str:
        words = amount.write(self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    def _scale(self, top: float) -> Iterator[Mark]:
        """A drawing without lengths says what a millimetre of it is."""
        if self.places.held:
            name, step = STEP[self.field.system]
            words = f"{name} = {LITRES.write(self.m3_per_mm * step, self.field.system, 1)}"
            at = (self.field.width_mm - SIDE_MM, top - 1.6)
            yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)
            is_double = any(row.also_used_as for row in self.places.held)
            words = "crossed: used twice" if is_double else "tinted: for guests"
            if is_double and not self.field.is_narrow:
                words = f"tinted: for guests; {words}"
            yield Lettering(words=words, at=(SIDE_MM, top - 1.6), tone=Tone.GRAPHITE)

    def _place(self, row: Stowage, box: Box) -> Touch:
        left, top, right, foot = box
        fill = Fill.TRACE if row.is_for_guests else Fill.PAPER
        corners = rectangle(box)
        marks: list[Path | Strokes | Disc | Lettering] = [
            Path(points=corners, fill=fill, is_closed=True)
        ]
        each = (right - left) / row.n
        if row.n > 1 and each >= PARTED_MM:
            xs = [left + (n + 1) * each for n in range(row.n - 1)]
            segments = tuple(((x, top), (x, foot)) for x in xs)
            marks.append(Strokes(segments=segments, pen=Pen.FINE))
        if row.also_used_as:
            marks += [hatched(corners, 1.6, Tone.INK, is_rising=rise) for rise in (True, False)]
        amount = Amount(row.volume_m3, LITRES)
        written = amount.write(self.field.system)
        name = f"{row.n} × {row.mark}" if row.n > 1 else row.mark
        words = next(
            (each for each in (f"{name}, {written}", name) if _fits(each, right - left)), row.mark
        )
        label = self.labels.label(words, (left + right) / 2, foot)
        if label:
            marks.append(label)
        else:
            self.unlettered.append(f"{name}, {written}")
        lettered = words if label and written in words else ""
        figure = Figure(what=f"{row.mark}, one holds", amount=amount, lettered=lettered)
        self.figures.append(figure)
        also = f", also used as {row.also_used_as}" if row.also_used_as else ""
        says = f"{name} {row.what or ''}, {written}{also}"
        return Touch(schedule="stowage", mark=row.mark, says=says, marks=tuple(marks))

    def _hooks(self, row: Stowage, y: float) -> Touch:
        """Places that hold no volume, as many as there are, as far as a line has room."""
        words = f"{row.n} × {row.mark} {row.used_by or ''}".strip()
        start = SIDE_MM + max(36.0, width_mm(words, LEAST_MM) + 3.0)
        room = int((self.field.width_mm - SIDE_MM - start) / (3 * HOOK_MM))
        middle = y + LEAST_MM / 2
        marks: list[Path | Disc | Lettering] = [Lettering(words=words, at=(SIDE_MM, y + LEAST_MM))]
        for n in range(min(row.n, room)):
            at = (start + 3 * HOOK_MM * n, middle)
            marks.append(Disc(middle=at, radius_mm=HOOK_MM, pen=Pen.FINE))
        says = f"{words}, {row.what or ''}"
        return Touch(schedule="stowage", mark=row.mark, says=says, marks=tuple(marks))

    def _share(self, top: float) -> Iterator[Mark]:
        """What one guest has, beside what is asked; what is missing is hatched."""
        asked = self.seen.asked
        if asked.amount is None:
            return
        value, limit = asked.amount.si, asked.limit.si if asked.limit else None
        rule = self.seen.findings[self.seen.check].rule if asked.limit else Rule.AT_LEAST
        per = self.wide / (1.02 * max(value, limit or 0.0, 1e-9))
        y, foot = top + LEAST_MM + 1.6, top + LEAST_MM + 1.6 + BAR_MM
        end = SIDE_MM + value * per
        words = f"for each guest {asked.amount.write(self.field.system)}"
        yield Lettering(words=words, at=(SIDE_MM, top + LEAST_MM))
        box = rectangle((SIDE_MM, y, end, foot))
        yield Path(points=box, fill=Fill.TRACE, is_closed=True)
        if limit is None:
            return
        x = SIDE_MM + limit * per
        if asked.state is State.SHORT:
            over = rectangle((end, y, x, foot))
            yield Path(points=over, tone=Tone.SHORT, is_closed=True)
            yield hatched(over, 1.1, Tone.SHORT)
            lacks = f"{self._write(Amount(limit - value, LITRES), 'Short by')} short"
            most = self.field.width_mm - SIDE_MM - width_mm(lacks, LEAST_MM)
            at = (min(end, most), foot + LEAST_MM + 1.2)
            yield Lettering(words=lacks, at=at, tone=Tone.SHORT)
        yield Path(points=((x, y - 1.2), (x, foot + 1.2)), pen=Pen.CUT)
        words = f"{rule} {LITRES.write(limit, self.field.system)}"
        at = (max(x - 0.8, SIDE_MM + width_mm(words, LEAST_MM)), foot + LEAST_MM + 1.2)
        if asked.state is State.SHORT:
            at = (x, top + LEAST_MM)
        yield Lettering(words=words, at=at, anchor="end")


def _fits(words: str, wide: float) -> bool:
    return width_mm(words, LEAST_MM) <= wide


def _ready(seen: Seen) -> Ready | None:
    places = places_of(seen.package)
    if not places.held and not places.hooks:
        return None
    return Ready(partial(draw_shelf, places, seen))


STOWAGE = Picture(
    ready=_ready,
    wants="places to stow want how many there are and what one holds",
    checks=("stowage_per_guest",),
    schedules=("stowage",),
    main="stowage_per_guest",
)
