"""Every lift as a bar, the heaviest first, beside the line of what one may weigh."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from criteria.drawing.answering import SIDE_MM
from criteria.drawing.drawing import Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.label_lines import LabelLines
from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Seen
from criteria.drawing.scales import lettered
from criteria.findings import Amount, Finding, Measured, Rule
from criteria.package import Package
from criteria.units import COUNT, MASS

TALL_MM, HEAD_MM = 16.0, 6.4
WIDEST_MM, NARROWEST_MM = 5.0, 1.1
"""How wide one lift is drawn at most, and from where on lifts alike aren't parted [mm]."""
FAR = 3.0
"""A limit this many times over the tallest bar would make bars of nothing: it is left to words."""


class Bars:
    """The bars of one check of pieces: what each weighs, or how many people carry it."""

    def __init__(self, found: Sequence[Measured], slug: str, seen: Seen, field: Field) -> None:
        self.scale = MASS if slug == "piece_mass" else COUNT
        self.slug, self.seen, self.field = slug, seen, field
        counts = {row.mark: row.n for row in seen.package.leniently.pieces}
        known = [each for each in found if counts[each.subject]]
        self.rows = [
            (each.subject, counts[each.subject], each.values[0])
            for each in sorted(known, key=lambda each: -each.values[0])
        ]
        self.limit = _limit(seen, slug)
        self.gaps = tuple(_gaps(seen.package))
        self.figures: list[Figure] = []
        self.unlettered: list[str] = []
        self._labels = LabelLines(SIDE_MM, field.width_mm - SIDE_MM)

    @property
    def height_mm(self) -> float:
        """How much of the paper they take, once they are drawn."""
        return HEAD_MM + TALL_MM + self._labels.height_mm + 1.5 if self.rows else 0.0

    def marks(self, top: float) -> Iterator[Mark]:
        """Draw them."""
        if not self.rows:
            return
        foot = top + HEAD_MM + TALL_MM
        lifts = sum(n for _, n, _ in self.rows)
        wide = self.field.width_mm - 2 * SIDE_MM
        each_mm = min(WIDEST_MM, wide / lifts)
        tallest = self.rows[0][2]
        most = self.limit if self.limit and self.limit < FAR * tallest else 0.0
        per = TALL_MM / max(tallest, most)
        words = f"{lifts} lifts by weight" if self.scale is MASS else f"people for each of {lifts}"
        yield Lettering(words=words, at=(SIDE_MM, top + LEAST_MM), is_strong=True)
        x = SIDE_MM
        for mark, n, value in self.rows:
            box = (x, foot - per * value, x + n * each_mm, foot)
            x = box[2]
            yield from self._bar(mark, n, value, box, foot - per * most if most else 0.0)
        yield Path(points=((SIDE_MM, foot), (SIDE_MM + wide, foot)), pen=Pen.SEEN)
        if most:
            yield from self._line(foot - per * most, top)

    def _bar(
        self,
        mark: str,
        n: int,
        value: float,
        box: tuple[float, float, float, float],
        limit_y: float,
    ) -> Iterator[Mark]:
        left, top, right, foot = box
        is_over = top < limit_y - 1e-6
        is_first = mark == self.seen.asked.measured.subject
        fill = Fill.INK if is_first and not is_over else Fill.PAPER
        tone = Tone.SHORT if is_over else Tone.INK
        corners = rectangle(box)
        marks: list[Path | Strokes | Lettering] = [
            Path(points=corners, pen=Pen.FINE, tone=tone, fill=fill, is_closed=True)
        ]
        each = (right - left) / n
        if n > 1 and each >= NARROWEST_MM:
            parted = [left + (k + 1) * each for k in range(n - 1)]
            segments = tuple(((x, top), (x, foot)) for x in parted)
            marks.append(Strokes(segments=segments, pen=Pen.FINE, tone=tone))
        if is_over:
            marks.append(hatched(rectangle((left, top, right, limit_y)), 0.9, Tone.SHORT))
        amount = Amount(value, self.scale)
        written = lettered(amount, self.field.system)
        label = self._labels.label(mark, (left + right) / 2, foot, tone)
        if label:
            marks.append(label)
        else:
            self.unlettered.append(f"{mark} {written}")
        what = f"{mark}, one lift" if self.scale is MASS else f"{mark}, people"
        self.figures.append(Figure(what=what, amount=amount))
        says = f"{mark}, {written}" + (f", {n} alike" if n > 1 else "")
        yield Touch(schedule="pieces", mark=mark, says=says, marks=tuple(marks))

    def _line(self, y: float, top: float) -> Iterator[Mark]:
        right = self.field.width_mm - SIDE_MM
        yield Path(points=((SIDE_MM, y), (right, y)), pen=Pen.CUT)
        amount = Amount(self.limit or 0.0, self.scale)
        words = f"at most {lettered(amount, self.field.system)}"
        self.figures.append(Figure(what="Asked of one, at most", amount=amount, lettered=words))
        yield Lettering(words=words, at=(right, top + LEAST_MM), anchor="end")


def _limit(seen: Seen, slug: str) -> float | None:
    """What one lift is held to: of the figure that is drawn, else of its own finding."""
    finding: Finding | None = seen.findings.get(slug)
    if finding is None or finding.rule is not Rule.AT_MOST:
        return None
    return finding.target


def _gaps(package: Package) -> Iterator[Gap]:
    for row in package.leniently.pieces:
        if row.mass_kg is None:
            says = f"{row.mark}: weight not given"
            yield Gap(schedule="pieces", mark=row.mark, column="kg_each", says=says)
