"""A ramp as it is drawn: what its rise needs, what rows have of it, and what they lack."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.checks.access import ramp_rule
from criteria.drawing.marks import Gap
from criteria.measures.access import SLOPE_RUN, RampNeed, RampRule, ramp_need
from criteria.package import Package
from criteria.schedules.access import Ramp

MOST_FLOOD_M = 10.0
"""Over the floor; what lies higher is a slip of the pen, and is named [m]."""


@dataclass(frozen=True, kw_only=True)
class Ramped:
    """A ramp as its rows have it, and what its rise needs: None where a cell isn't given [m]."""

    rise_m: float
    need: RampNeed
    rule: RampRule
    drawn_m: float | None
    landings: int | None
    slope_run: float | None
    clear_m: float | None
    rails: int | None
    flood_m: float | None
    gaps: tuple[Gap, ...]

    @property
    def longest_m(self) -> float:
        """The longer of what is drawn and what is needed."""
        return max(self.need.length_m, self.drawn_m or 0.0, 1.0)


GIVEN = {
    "drawn_m": "length drawn",
    "landings": "landings drawn",
    "slope_run": "slope drawn",
    "clear_w_m": "clear width",
    "handrails": "handrails",
}


def ramped(package: Package) -> Ramped:
    """Return the ramp of a package. Raises Lacking where its rise isn't known."""
    row: Ramp = package.ramp
    rule = ramp_rule(package)
    held = {name: row.typed(name) for name in GIVEN}
    gaps = [
        Gap(schedule="ramp", mark="", column=row.cell(name).head, says=f"{words} not given")
        for name, words in GIVEN.items()
        if held[name] is None
    ]
    site = package.leniently.site
    flood = None
    if site.flood_m is not None and site.ground_m is not None:
        flood = site.flood_m - site.ground_m
        if flood > row.rise_m + MOST_FLOOD_M:
            says = "flood or storm tide: it lies too far over the ground to be drawn"
            gaps.append(Gap(schedule="site", mark="", column="flood_m", says=says))
            flood = None
    return Ramped(
        rise_m=row.rise_m,
        need=ramp_need(row.rise_m, rule),
        rule=rule,
        drawn_m=held["drawn_m"],
        landings=held["landings"],
        slope_run=held["slope_run"],
        clear_m=held["clear_w_m"],
        rails=held["handrails"],
        flood_m=flood,
        gaps=tuple(gaps),
    )


def profile(ramp: Ramped) -> list[tuple[float, float, bool]]:
    """Return the stretches that a rise needs, from the door outwards: length, fall, if level."""
    need, rule = ramp.need, ramp.rule
    found = [(rule.landing_m, 0.0, True)] if need.runs else []
    for _ in range(need.runs):
        fall = ramp.rise_m / need.runs
        found += [(SLOPE_RUN * fall, fall, False), (rule.landing_m, 0.0, True)]
    return found
