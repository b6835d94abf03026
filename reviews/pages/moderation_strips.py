"""What a leader decides before releasing: a strip a scheme, and a sentence where one is asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.safestring import SafeString

from criteria.drawing.lettering import initials_of
from criteria.drawing.level_strips import Dot, Strip, draw_levels, draw_strip
from criteria.scoring.levels import WeightedLevel
from reviews.drawn.svg import as_svg
from reviews.models import Scheme
from reviews.reading.crit_moderation_table import SchemeRow, Table

NOT_JUDGED = "Not judged yet."


@dataclass(frozen=True)
class SchemeStrip:
    """One scheme: its strip, what must be decided of it, and what is only told.

    asks       sentences that want a decision
    waits      what isn't ready yet
    unplaced   initials that found no place on the strip
    """

    scheme: Scheme
    drawn: SafeString
    asks: tuple[str, ...]
    waits: str
    told: str
    unplaced: tuple[str, ...]


@dataclass(frozen=True)
class Strips:
    """All of a crit, in the order of the day; nothing is ranked.

    initials   with the full name of each
    """

    answer: str
    scale: SafeString
    rows: list[SchemeStrip]
    initials: list[tuple[str, str]]

    @property
    def open(self) -> list[SchemeStrip]:
        """Those of which something is to be decided, or that somebody waits for."""
        return [row for row in self.rows if row.asks or row.waits]

    @property
    def others(self) -> list[SchemeStrip]:
        """Those that ask for nothing: jurors lie together, or nobody has judged yet."""
        return [row for row in self.rows if not (row.asks or row.waits)]


def strips_of(table: Table) -> Strips:
    """Draw each scheme of a table."""
    initials = initials_of(seat.name for seat in table.seats)
    rows = [_strip(row, initials) for row in table.rows]
    asked, waiting = sum(bool(row.asks) for row in rows), sum(bool(row.waits) for row in rows)
    said = [f"{asked or 'No'} scheme{'s' * (asked != 1)} to look at"]
    if waiting:
        said.append(f"{waiting} not ready")
    if to_come := sum(row.told == NOT_JUDGED for row in rows):
        said.append(f"{to_come} not judged yet")
    return Strips(
        answer=f"{'; '.join(said)}.",
        scale=as_svg(draw_levels(), "levels"),
        rows=rows,
        initials=[(short, name) for name, short in initials.items()],
    )


def _strip(row: SchemeRow, initials: dict[str, str]) -> SchemeStrip:
    dots = tuple(
        Dot(
            initials=initials[cell.seat.name],
            level=float(cell.weighted.value),
            counts=cell.counts,
        )
        for cell in row.cells
        if isinstance(cell.weighted, WeightedLevel)
    )
    asks, waits, told = tuple(_asks(row)), _waits(row), _told(row)
    drawing = draw_strip(
        Strip(
            name=str(row.scheme),
            says=" ".join(filter(None, (*asks, waits, told))),
            is_wide=row.is_wide,
            dots=dots,
        )
    )
    drawn = as_svg(drawing, f"strip-{row.scheme.pk}")
    return SchemeStrip(row.scheme, drawn, asks, waits, told, drawing.key)


def _asks(row: SchemeRow) -> Iterator[str]:
    if row.is_wide:
        yield f"{row.spread} levels apart: talk, then say why."
    if row.hazards:
        yield f"{row.hazards} hazard{'s' * (row.hazards != 1)} named: read {_it(row.hazards)}."
    if held := sum(comment.held_at is not None for comment in row.comments):
        yield f"{held} comment{'s' * (held != 1)} held: decide before the release."


def _it(number: int) -> str:
    return "it" if number == 1 else "them"


def _waits(row: SchemeRow) -> str:
    if row.is_closed:
        return "Open once your own sheet is locked."
    if row.not_locked and any(cell.sheet for cell in row.cells):
        return f"Not locked: {', '.join(row.not_locked)}."
    return ""


def _told(row: SchemeRow) -> str:
    if row.is_closed:
        return ""
    if not any(cell.sheet for cell in row.cells):
        return NOT_JUDGED
    locked = f"{len(row.counted)} of {len(row.counted) + len(row.not_locked)} locked"
    return f"{locked}, mean {row.mean}." if row.mean else f"{locked}."
