"""Doors as they are drawn: what their rows say of leaf, clear width and swing, and what lacks."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.drawing.marks import Gap
from criteria.package import Package
from criteria.schedules.access import Door

ASSUMED_M = 2.0
"""How high a door is drawn that says no height [m]; it is dashed."""


@dataclass(frozen=True, kw_only=True)
class Leaf:
    """A door as it is drawn: its row's words and lengths, None where they aren't given [m]."""

    mark: str
    place: str
    wide_m: float
    high_m: float
    clear_m: float | None
    threshold_m: float | None
    swing: str
    hinge: str
    gaps: tuple[Gap, ...]

    @property
    def is_hung(self) -> bool:
        """Whether it is known how its leaf turns."""
        return self.swing in ("in", "out") and bool(self.hinge)


@dataclass(frozen=True)
class Leaves:
    """All doors that can be drawn, and what lacks for the others."""

    drawn: tuple[Leaf, ...]
    left_out: tuple[Gap, ...]


def leaves_of(package: Package) -> Leaves:
    """Return the doors of a package. Raises Lacking where rows can't be told from others."""
    found, left_out = [], []
    for row in package.rows_of(Door):
        wide = row.typed("leaf_w_m") or row.typed("clear_w_m")
        if wide is None:
            left_out.append(_gap(row, "leaf_w_m", "leaf and clear width"))
            continue
        wants = {"leaf_w_m": "leaf", "clear_w_m": "clear", "height_m": "height", "swing": "swing"}
        if row.typed("swing") in ("in", "out"):
            wants["hinge"] = "hinge"
        gaps = [_gap(row, name, words) for name, words in wants.items() if row.typed(name) is None]
        if "threshold_m" in row.refused:  # blank it is nobody's gap; unread it may be any height
            gaps.append(_gap(row, "threshold_m", "threshold", "can't be read"))
        found.append(
            Leaf(
                mark=row.mark,
                place=str(row.if_given("place") or ""),
                wide_m=wide,
                high_m=row.typed("height_m") or ASSUMED_M,
                clear_m=row.typed("clear_w_m"),
                threshold_m=row.typed("threshold_m"),
                swing=row.typed("swing") or "",
                hinge=row.typed("hinge") or "",
                gaps=tuple(gaps),
            )
        )
    return Leaves(tuple(found), tuple(left_out))


def _gap(row: Door, name: str, words: str, why: str = "not given") -> Gap:
    head = row.cell(name).head
    return Gap(schedule="doors", mark=row.mark, column=head, says=f"{row.mark}: {words} {why}")
