"""Glass, or what opens, laid on a room's floor in plan: its share of it, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from criteria.checks.light import DAYLIGHT_RATIO, OPENABLE_RATIO
from criteria.drawing.drawing import Field, Figure
from criteria.drawing.elevations import Lit
from criteria.drawing.hatching import hatched
from criteria.drawing.held import stands
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Box, Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Seen
from criteria.drawing.scales import lettered
from criteria.errors import InputError
from criteria.findings import Amount, Measured, State
from criteria.typed.cells import Lacking
from criteria.units import SHARE_PERCENT

CHECKS = {check.slug: check for check in (DAYLIGHT_RATIO, OPENABLE_RATIO)}


@dataclass(frozen=True)
class Floor:
    """A floor that is drawn: its marks, its share in words, and that figure."""

    marks: tuple[Mark, ...]
    letter: Lettering
    figure: Figure | None = None


class Floors:
    """What lies on the floors of all rooms.

    shares   by the mark of a room, as the check has it
    """

    def __init__(self, seen: Seen) -> None:
        self._seen = seen
        self._slug = seen.check if seen.check in CHECKS else DAYLIGHT_RATIO.slug
        self.shares = {each.subject: each for each in self._measured()}

    def _measured(self) -> Iterator[Measured]:
        try:
            yield from CHECKS[self._slug].measure(self._seen.package, ())
        except (Lacking, InputError):
            return
        finding = self._seen.findings.get(self._seen.check)
        if finding and self._slug == self._seen.check:
            yield from (each for each in finding.worst_first if each.subject)

    def draw(self, room: Lit, box: Box, wide_mm: float, field: Field) -> Floor:
        """Draw a floor with a strip across it, and heavy lines for what is asked."""
        left, _, _, foot = box
        at = left, foot + LEAST_MM + 1.0
        pen = Pen.ASSUMED if room.gap else Pen.SEEN
        outline = Path(points=rectangle(box), pen=pen, is_closed=True, gap=room.gap)
        values = self.shares[room.mark].values
        if not values:
            return Floor((outline,), Lettering(words="not known", at=at))
        limits, state = self._limits_of(room)
        amount = Amount(values[0], SHARE_PERCENT)
        words = lettered(amount, field.system)
        figure = Figure(what=f"Over floor, {room.mark}", amount=amount, lettered=words)
        said = words if state is State.NOT_ASKED else f"{words} {state.word.lower()}"
        said = said if width_mm(said, LEAST_MM) <= wide_mm else words
        tone = Tone.SHORT if state.is_missed else Tone.INK
        letter = Lettering(words=said, at=at, tone=tone, is_strong=True)
        return Floor((*self._strip(values[0], limits, state, box), outline), letter, figure)

    def _strip(
        self, share: float, limits: tuple[float, ...], state: State, box: Box
    ) -> Iterator[Mark]:
        left, top, right, foot = box
        glass = foot - min(share, 1.0) * (foot - top)
        if share > 0:
            fill = Fill.GLASS if self._slug == DAYLIGHT_RATIO.slug else Fill.TRACE
            strip = rectangle((left, glass, right, foot))
            yield Path(points=strip, pen=Pen.FINE, fill=fill, is_closed=True)
        levels = [foot - limit * (foot - top) for limit in limits]
        if state is State.SHORT:
            short = rectangle((left, max(top, levels[0]), right, glass))
            yield Path(points=short, pen=Pen.FINE, tone=Tone.SHORT, is_closed=True)
            yield hatched(short, 1.2, Tone.SHORT)
        for y in levels:
            if y >= top:
                yield Path(points=((left - 1.0, y), (right + 1.0, y)), pen=Pen.CUT)

    def _limits_of(self, room: Lit) -> tuple[tuple[float, ...], State]:
        """What a room's share is held to, where the check that is drawn asks it of this room."""
        finding = self._seen.findings.get(self._seen.check)
        own = [m for m in finding.worst_first if m.subject == room.mark] if finding else []
        if not finding or finding.target is None or self._seen.check != self._slug or not own:
            return (), State.NOT_ASKED
        limits = finding.target, finding.not_over
        held = tuple(limit for limit in limits if limit is not None)
        return held, stands(finding, own[0])
