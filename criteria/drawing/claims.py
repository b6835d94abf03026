"""Claims, drawn: what a sheet says and what the rows give, each pair on one line of its own."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from criteria.check_sheet.claims import ClaimFinding, hold_claims
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Disc, Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.findings import Amount
from criteria.units import Scale

SIDE_MM, APART_MM, HEAD_MM = 2.0, 7.0, ANSWER_MM + 3.6
NAME_MM, LINE_MM, PAIR_MM, BETWEEN_MM = 4.4, 3.8, 3.4, 3.6
"""What the words of a claim, a line of figures, its pair, and what follows take [mm]."""
TALLEST_MM, COLUMNS = 155.0, 2


def draw_claims(found: Sequence[ClaimFinding], field: Field) -> Drawing:
    """Draw claims, the widest pair that differs first."""
    return _Claims(found, field).drawing()


def _apart(claim: ClaimFinding) -> float:
    """How many times one figure of a pair is the other; 0 where a claim doesn't differ."""
    if not claim.differs:
        return 0.0
    if not claim.claimed or not claim.computed:
        return math.inf
    return max(claim.claimed / claim.computed, claim.computed / claim.claimed)


class _Claims:
    """A drawing of claims while it is drawn."""

    def __init__(self, found: Sequence[ClaimFinding], field: Field) -> None:
        self.found, self.field, self.system = found, field, field.system
        self.columns = 1 if field.is_narrow else COLUMNS
        self.wide = (field.width_mm - 2 * SIDE_MM - APART_MM * (self.columns - 1)) / self.columns
        self.figures: list[Figure] = []

    def drawing(self) -> Drawing:
        """Draw how many differ, and each pair in the shorter column."""
        differ = sum(claim.differs for claim in self.found)
        says = f"{differ} of {len(self.found)} differ" if differ else "none differs"
        tone = Tone.CLAIM if differ else Tone.INK
        at = (SIDE_MM, ANSWER_MM + 0.6)
        head = Lettering(words=says, at=at, cap_mm=ANSWER_MM, tone=tone, is_strong=True)
        marks: list[Mark] = [head]
        foot = [HEAD_MM] * self.columns
        over = []
        for claim in sorted(self.found, key=_apart, reverse=True):
            column = foot.index(min(foot))
            high = NAME_MM + (2 * LINE_MM + PAIR_MM if _is_pair(claim) else LINE_MM) + BETWEEN_MM
            if foot[column] + high > TALLEST_MM:
                over.append(claim.about)
                continue
            marks += self._claim(claim, SIDE_MM + column * (self.wide + APART_MM), foot[column])
            foot[column] += high
        return Drawing(
            title="What sheets say, and what the rows give",
            says=f"{says.capitalize()}. {' '.join(map(self._line, self.found))}",
            width_mm=self.field.width_mm,
            height_mm=round(max(foot), 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            key=(", ".join(over),) if over else (),
        )

    def _line(self, claim: ClaimFinding) -> str:
        return f"{claim.about}, {claim.text}: {claim.result.word.lower()}."

    def _claim(self, claim: ClaimFinding, x: float, y: float) -> Iterator[Mark]:
        tone = Tone.CLAIM if claim.differs else Tone.INK
        result = " ".join(filter(None, (claim.result.word, claim.write_apart())))
        wide = width_mm(result, LEAST_MM)
        line = y + LEAST_MM + 0.4
        name = fitted(f"{claim.about}: {claim.text}", LEAST_MM, self.wide - wide - 2.0)
        yield Lettering(words=name, at=(x, line), is_strong=claim.differs, tone=tone)
        yield Lettering(words=result, at=(x + self.wide, line), anchor="end", tone=tone)
        if _is_pair(claim):
            assert claim.scale
            assert claim.claimed is not None
            assert claim.computed is not None
            pair = (claim.claimed, claim.computed)
            yield from self._pair(claim, pair, claim.scale, (x, y + NAME_MM))
            return
        said = "; ".join(claim.write_why(self.system)) or claim.write_computed(self.system)
        said = fitted(f"rows: {said}", LEAST_MM, self.wide)
        yield Lettering(words=said, at=(x, line + NAME_MM), tone=Tone.GRAPHITE)

    def _pair(
        self, claim: ClaimFinding, pair: tuple[float, float], scale: Scale, at: tuple[float, float]
    ) -> Iterator[Mark]:
        """Two marks on a line from nothing: a ring for the sheet, a dot for the rows."""
        x, top = at
        middle = top + LINE_MM + PAIR_MM / 2
        ends = [x + self.wide * share for share in _shares(pair)]
        yield Path(points=((x, middle), (x + self.wide, middle)), pen=Pen.FINE, tone=Tone.GRAPHITE)
        yield Path(points=((x, middle - 1.0), (x, middle + 1.0)), pen=Pen.SEEN)
        if claim.differs:
            corners = rectangle((min(ends), middle - 0.8, max(ends), middle + 0.8))
            yield Path(points=corners, pen=Pen.FINE, tone=Tone.CLAIM, is_closed=True)
            for is_rising in (True, False):
                yield hatched(corners, 1.2, Tone.CLAIM, is_rising=is_rising)
        said = zip(("sheet", "rows"), pair, ends, (top, middle + PAIR_MM / 2), strict=True)
        for who, si, end, line in said:
            amount = Amount(si, scale)
            words = f"{who} {amount.write(self.system)}"
            self.figures.append(Figure(what=f"{claim.about}, {who}", amount=amount, lettered=words))
            half = width_mm(words, LEAST_MM) / 2
            centre = max(x + half, min(end, x + self.wide - half))
            at = (centre, line + LEAST_MM + 0.3)
            yield Lettering(words=words, at=at, anchor="middle")
            fill = Fill.PAPER if who == "sheet" else Fill.INK
            yield Disc(middle=(end, middle), radius_mm=1.1, fill=fill)


def _is_pair(claim: ClaimFinding) -> bool:
    """Whether both figures can lie on one line from nothing: no temperatures, no words."""
    figures = (claim.claimed, claim.computed)
    if claim.scale is None or claim.is_of_all or claim.scale.dimension == "temperature":
        return False
    return all(si is not None and math.isfinite(si) and si >= 0 for si in figures) and any(figures)


def _shares(pair: tuple[float, float]) -> list[float]:
    """Where figures lie on their line, the larger at nine tenths of it.

    >>> [round(share, 2) for share in _shares((10.0, 5.0))]
    [0.9, 0.45]
    """
    return [0.9 * si / max(pair) for si in pair]


def _ready(seen: Seen) -> Ready | None:
    found = hold_claims(seen.package)
    key = ("a ring: the sheet; a dot: the rows",)
    return Ready(partial(draw_claims, found), key) if found else None


CLAIMS = Picture(
    ready=_ready,
    wants="claims want what they are about, and their words",
    schedules=("claims",),
)
