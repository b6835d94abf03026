"""Slings, drawn: a piece on its hook with its eyes and its middle, and what one leg carries."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from criteria.checks.slings import SLING_CHECKS, WANTED_DEG
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import centre_of_mass
from criteria.drawing.held import failing, held
from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.marks import Gap, Lettering, Mark, Path
from criteria.drawing.on_the_road import View, on_hook
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.pieces import Boxed, boxed
from criteria.drawing.scales import lettered
from criteria.drawing.value_bars import Bar, height_mm, strip
from criteria.findings import Amount
from criteria.units import ANGLE

TENSION, EYES = (check.slug for check in SLING_CHECKS)
WANTED_MM, MOST = 16.0, 8
"""How long the flattest leg that may be is drawn [mm]; pieces that have a bar."""
WANTS = {"eyes": "eyes", "sling_deg": "sling", "eye_h_m": "eye_h_m"}
"""What a piece in a sling must have: its attribute and its column."""
LACKS = {"eyes": "lifting eyes", "sling_deg": "slope of its sling", "eye_h_m": "height of its eyes"}


def slung(seen: Seen) -> tuple[list[Boxed], tuple[Gap, ...]]:
    """Return the pieces that can be drawn as they hang, those that fail first; what lacks."""
    pieces, gaps = boxed(seen.package)
    found, missed = [], failing(seen)
    gaps = tuple(gap for gap in gaps if gap.column != "n")
    for each in pieces:
        lacks = [name for name in WANTS if getattr(each.row, name) is None]
        if each.row.eyes == 0 or each.row.packs_into:
            continue
        if not lacks:
            found.append(each)
        for name in lacks:
            says = f"{each.row.mark}: {LACKS[name]} not given"
            gaps += (Gap(schedule="pieces", mark=each.row.mark, column=WANTS[name], says=says),)
    subject = seen.asked.measured.subject
    found.sort(key=lambda each: (each.row.mark != subject, each.row.mark not in missed))
    return found, gaps


def draw_slung(pieces: Sequence[Boxed], gaps: tuple[Gap, ...], seen: Seen, on: Field) -> Drawing:
    """Draw the piece that decides as it hangs, and what one leg of each carries."""
    head, first = answer(seen, on), pieces[0]
    view = on_hook(first, on, head.height_mm)
    marks: list[Mark] = [*head.letters, *view.marks]
    marks += [*centre_of_mass(view.middle), *_held_to(first, seen, view)]
    bars, figures = _bars(seen, on)
    top = view.foot_mm
    if seen.check == EYES:
        words, figure = _said(on)
        marks.append(Lettering(words=words, at=(SIDE_MM, top + LEAST_MM), tone=Tone.GRAPHITE))
        figures.append(figure)
        top += LEAST_MM + 2.0
    marks += strip(bars, top + 1.0, on)
    return Drawing(
        title="As it hangs in its sling",
        says=head.says,
        width_mm=on.width_mm,
        height_mm=round(top + 3.0 + height_mm(bars, is_stacked=on.is_narrow), 2),
        marks=tuple(marks),
        figures=(*head.figures, *view.figures, *figures),
        scale=view.scale,
        left_out=gaps,
    )


def _said(on: Field) -> tuple[str, Figure]:
    amount = Amount(WANTED_DEG, ANGLE)
    words = f"heavy: {lettered(amount, on.system)} at least; dash-dot: eyes above it"
    return words, Figure(what="A leg, at least", amount=amount, lettered=words)


def _held_to(first: Boxed, seen: Seen, view: View) -> Iterator[Mark]:
    """How flat a leg may be, and the level of the middle that eyes must be above."""
    if seen.check != EYES:
        return
    (left, eye), (right, _) = view.eyes
    turn = math.radians(WANTED_DEG)
    is_flat = first.row.sling_deg < WANTED_DEG
    far = min(WANTED_MM, (right - left) / 2)
    end = left + far * math.cos(turn), eye - far * math.sin(turn)
    tone = Tone.SHORT if is_flat else Tone.INK
    yield Path(points=((left, eye), end), pen=Pen.CUT, tone=tone)
    is_low = first.row.eye_h_m <= first.sizes_m[2] / 2
    y, tone = view.middle[1], Tone.SHORT if is_low else Tone.GRAPHITE
    yield Path(points=((left, y), (right, y)), pen=Pen.DATUM, tone=tone)


def _bars(seen: Seen, on: Field) -> tuple[list[Bar], list[Figure]]:
    """What one leg of each carries, the most first."""
    bars, figures = [], []
    for each in held(seen, TENSION)[:MOST]:
        mark = each.measured.subject
        words = each.write_beside(on.system, is_narrow=on.is_narrow)
        is_picked = each.measured == seen.asked.measured
        name, row = f"{mark}, one leg", ("pieces", mark)
        bars.append(Bar(name=name, held=each, words=words, row=row, is_strong=is_picked))
        figures.append(Figure(what=name, amount=each.amount, lettered=words))
    return bars, figures


def _ready(seen: Seen) -> Ready | None:
    pieces, gaps = slung(seen)
    return Ready(partial(draw_slung, pieces, gaps, seen)) if pieces else None


SLUNG = Picture(
    ready=_ready,
    wants="pieces that are slung want sizes, eyes, the height of these and the slope of the sling",
    checks=(TENSION, EYES),
)
