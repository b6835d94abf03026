"""The paper that a daylight plan is drawn on: its scale, and where metres lie on it.

One unit is 0.2 mm on paper, so that printed it measures at the scale it names.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.html import format_html_join
from django.utils.safestring import SafeString

from criteria.plans.plan import RoomPlan

SCALES = (20, 25, 50, 100, 200)
UNIT_MM = 0.2
WIDEST, TALLEST = 880, 900
SIDE, HEAD, FOOT = 84, 58, 128
"""Room kept around the walls for marks, dimensions and the scale bar."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Paper:
    """Where metres on the plan lie on the drawing."""

    scale: int
    length_m: float
    width_m: float
    wall_m: float

    @property
    def per_m(self) -> float:
        """Units to a metre."""
        return 1000 / self.scale / UNIT_MM

    def x(self, x_m: float) -> float:
        """Across, from the left."""
        return SIDE + (self.wall_m + x_m) * self.per_m

    def y(self, y_m: float) -> float:
        """Down from the top."""
        return HEAD + (self.wall_m + self.width_m - y_m) * self.per_m

    @property
    def wide(self) -> float:
        """Width of the whole drawing [units]."""
        return 2 * SIDE + (self.length_m + 2 * self.wall_m) * self.per_m

    @property
    def high(self) -> float:
        """Height of the whole drawing [units]."""
        return HEAD + FOOT + (self.width_m + 2 * self.wall_m) * self.per_m

    def box(self, x_m: float, y_m: float, wide_m: float, high_m: float) -> tuple[str, ...]:
        """A rectangle's x, y, width and height as attributes."""
        return (
            units(self.x(x_m)),
            units(self.y(y_m + high_m)),
            units(wide_m * self.per_m),
            units(high_m * self.per_m),
        )


def paper_for(plan: RoomPlan, scale: int | None = None) -> Paper:
    """The largest usual scale at which a room fits a page, or a given one."""
    shell = plan.shell
    found = [
        Paper(scale, shell.length_m, shell.width_m, max(shell.wall_thickness_m, 0.05))
        for scale in ([scale] if scale else SCALES)
    ]
    return next((p for p in found if p.wide <= WIDEST and p.high <= TALLEST), found[-1])


def on_paper(paper: Paper, points: Iterable[Point]) -> list[Point]:
    """Points of the plan as points of the drawing."""
    return [(paper.x(x), paper.y(y)) for x, y in points]


def joined(parts: Iterable[SafeString]) -> SafeString:
    """Parts of a drawing as one."""
    return format_html_join("", "{}", ((part,) for part in parts))


def units(number: float) -> str:
    """A length on the drawing, as an attribute writes it."""
    return f"{number:.1f}".removesuffix(".0")
