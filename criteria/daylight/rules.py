"""Published criteria for daylight, view and sun, held against what was computed.

EN 17037 speaks of shares of the plane; BS 8206-2 of a mean over it. A figure of one is never
held against a threshold of the other.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from criteria.daylight.field import Field
from criteria.daylight.refusals import ImpossibleInput, require_within
from criteria.findings import Rule, compare
from criteria.sources import Certainty, Citation, Source

EN_17037 = Source(
    "EN 17037, Daylight in buildings",
    "2018+A1:2021",
    "nobody by itself; countries and clients ask for it",
)
BS_8206_2 = Source(
    "BS 8206-2, Lighting for buildings: code of practice for daylighting",
    "2008 (superseded by BS EN 17037 and withdrawn)",
    "nobody any longer; still an early screen",
)

DAYLIGHT_PROVISION = Citation(EN_17037, "daylight provision, annex A", Certainty.QUOTED)
VIEW_OUT = Citation(EN_17037, "view out, annex A", Certainty.QUOTED)
SUNLIGHT = Citation(EN_17037, "exposure to sunlight, 5.3 and annex A", Certainty.MEMORY)
AVERAGE_DAYLIGHT = Citation(BS_8206_2, "minimum average daylight factors", Certainty.QUOTED)


class Level(StrEnum):
    """How well a recommendation of EN 17037 is met, lowest first."""

    NONE = "none"
    MINIMUM = "minimum"
    MEDIUM = "medium"
    HIGH = "high"


STEPS = (Level.MINIMUM, Level.MEDIUM, Level.HIGH)


def _steps(*values: float) -> Mapping[Level, float]:
    return MappingProxyType(dict(zip(STEPS, values, strict=True)))


TARGET_LX = _steps(300, 500, 750)
"""E_T, over half of the plane for half of the daylight hours [lx]. EN 17037."""
LEAST_LX = _steps(100, 300, 500)
"""E_TM, over 95 % of the plane for half of the daylight hours [lx]. EN 17037."""
TARGET_SHARE, LEAST_SHARE = 0.50, 0.95
"""Shares of the plane that those are asked over [1]. EN 17037."""
SIGHT_ANGLE_DEG = _steps(14, 28, 54)
"""Least horizontal sight angle [deg]. EN 17037."""
VIEW_DISTANCE_M = _steps(6, 20, 50)
"""Least distance to what is seen outside [m]. EN 17037."""
VIEW_LAYERS = _steps(1, 2, 3)
"""Layers seen, of sky, landscape and ground; the landscape always among them. EN 17037."""
VIEW_SHARE = 0.75
"""Share of the used area that has the view [1]. EN 17037, quoted."""
SUN_HOURS = _steps(1.5, 3.0, 4.0)
"""Possible sun in one room on one date from 1 February to 21 March [h]. EN 17037. From memory."""

AVERAGE_PCT = MappingProxyType({"kitchen": 2.0, "living": 1.5, "bedroom": 1.0})
"""Least average daylight factor by use [%]. BS 8206-2:2008, superseded."""


def at_least(value: float, limit: float) -> bool:
    """Whether a value is at or over a limit, by the one comparison of criteria.findings."""
    return compare(value, limit, Rule.AT_LEAST, is_count=True).is_met


def highest_step(value: float, steps: Mapping[Level, float]) -> Level:
    """Return the highest level whose figure a value reaches.

    >>> highest_step(28.07, SIGHT_ANGLE_DEG).value, highest_step(12.84, SIGHT_ANGLE_DEG).value
    ('medium', 'none')
    """
    reached = [level for level in STEPS if at_least(value, steps[level])]
    return reached[-1] if reached else Level.NONE


def lowest(levels: Iterable[Level]) -> Level:
    """Return the lowest of some levels: what all of them reach."""
    order = (Level.NONE, *STEPS)
    return min(levels, key=order.index)


def daylight_factor_for_pct(illuminance_lx: float, median_diffuse_lx: float) -> float:
    """Daylight factor that gives an illuminance for half of the daylight hours [%].

        D = 100 E / E_v,d,med

    median_diffuse_lx   the site's median outdoor diffuse illuminance over the daylight hours:
                        EN 17037 lists one for each capital (London 14 100 lx)

    Source: EN 17037, method 1. From memory.

    >>> round(daylight_factor_for_pct(300, 14_100), 2)
    2.13
    """
    require_within("illuminance_lx", illuminance_lx, "lx", at_least=0)
    require_within(
        "median_diffuse_lx",
        median_diffuse_lx,
        "lx",
        at_least=1000,
        at_most=60_000,
        why="lux outdoors, half of the daylight hours",
    )
    return 100 * illuminance_lx / median_diffuse_lx


@dataclass(frozen=True, kw_only=True)
class ProvisionStep:
    """One level of daylight provision: what it asks and over how much of the plane it is had.

    target_pct, target_share    daylight factor for E_T [%], share of the plane that has it [1]
    least_pct, least_share      the same for E_TM; None under horizontal rooflights alone
    """

    level: Level
    target_pct: float
    target_share: float
    least_pct: float | None
    least_share: float | None
    is_met: bool


@dataclass(frozen=True, kw_only=True)
class DaylightProvision:
    """Daylight provision of a room by EN 17037, all levels."""

    median_diffuse_lx: float
    steps: tuple[ProvisionStep, ...]

    @property
    def level(self) -> Level:
        """The highest level met."""
        met = [step.level for step in self.steps if step.is_met]
        return met[-1] if met else Level.NONE


def daylight_provision(field: Field, *, median_diffuse_lx: float) -> DaylightProvision:
    """Hold a field to EN 17037's daylight provision by the daylight factor method.

        share of the plane with D ≥ 100 E_T / E_v,d,med     at least 50 %
        share of the plane with D ≥ 100 E_TM / E_v,d,med    at least 95 %

    Under horizontal rooflights alone E_T is asked over 95 % and nothing else (from memory).
    A level is met only if both are. The plane is the field's: EN 17037 takes 0.85 m, 0.5 m in
    from the walls.
    """
    from_above = bool(field.room.rooflights) and not field.room.windows
    steps = []
    for level in STEPS:
        target = daylight_factor_for_pct(TARGET_LX[level], median_diffuse_lx)
        least = daylight_factor_for_pct(LEAST_LX[level], median_diffuse_lx)
        target_share = field.share_at_or_over(target)
        least_share = field.share_at_or_over(least)
        if from_above:
            met = at_least(target_share, LEAST_SHARE)
        else:
            met = at_least(target_share, TARGET_SHARE) and at_least(least_share, LEAST_SHARE)
        steps.append(
            ProvisionStep(
                level=level,
                target_pct=target,
                target_share=target_share,
                least_pct=None if from_above else least,
                least_share=None if from_above else least_share,
                is_met=met,
            )
        )
    return DaylightProvision(median_diffuse_lx=median_diffuse_lx, steps=tuple(steps))


def least_average_pct(uses: Iterable[str]) -> float:
    """Average daylight factor that the superseded BS 8206-2 asks of a room with these uses [%].

    A room with several uses takes the highest.

    >>> least_average_pct(["living", "kitchen"])
    2.0
    """
    asked = [_by_use(AVERAGE_PCT, use) for use in uses]
    if not asked:
        raise ImpossibleInput(field="uses", read="none", expected="kitchen, living or bedroom")
    return max(asked)


def view_level(
    *, sight_angle_deg: float, distance_m: float | None, layers: int, sees_landscape: bool
) -> Level | None:
    """Level of a view out by EN 17037: angle, distance and layers, the lowest of the three.

    distance_m      inf for an open horizon; None where nobody has said how far: then None,
                    unless angle or layers already decide that there is no level at all
    """
    known = [
        highest_step(sight_angle_deg, SIGHT_ANGLE_DEG),
        highest_step(layers, VIEW_LAYERS) if sees_landscape else Level.NONE,
    ]
    if distance_m is None:
        return Level.NONE if Level.NONE in known else None
    if math.isinf(distance_m):
        return lowest(known)
    return lowest([*known, highest_step(distance_m, VIEW_DISTANCE_M)])


def sunlight_level(hours: float) -> Level:
    """Level of exposure to sunlight by EN 17037. From memory: it advises only."""
    return highest_step(hours, SUN_HOURS)


def _by_use(table: Mapping[str, float], use: str) -> float:
    if use not in table:
        raise ImpossibleInput(field="use", read=f"{use!r}", expected=" or ".join(table))
    return table[use]
