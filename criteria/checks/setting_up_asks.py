"""What is asked beside a sequence of setting up: tools, wind, daylight, and what packing wants."""

import math
import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import lru_cache

from criteria.daylight import day_length_h
from criteria.findings import Amount, Step
from criteria.measures.ground import held_by_hand_m_s
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.plant import BURNING
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.site import MONTHS
from criteria.setting_up.network import Network
from criteria.units import AREA, HOURS, WIND

HOUR_S = 3600.0

_WET = ("potable", "grey", "black", "rain")
_DRAINED = re.compile(r"\b(drain|empt|pump)", re.IGNORECASE)
_COLD = re.compile(r"\b(stove|hearth|fire|ash|cool|cold)", re.IGNORECASE)
_DRY = re.compile(r"\b(bedding|mattress|blanket|dry|dried|air)", re.IGNORECASE)
"""Words by which a step says that it sees to something."""


def shared(steps: Network) -> Iterator[Step]:
    """Say which tools several steps take, and so not at once if there is one."""
    for tool in dict.fromkeys(tool for step in steps.steps for tool in step.tools):
        marks = [step.mark for step in steps.steps if tool in step.tools]
        have = max(step.tools.get(tool, 0) for step in steps.steps)
        if len(marks) > 1:
            yield Step("{}: {} for {}", (tool, have, ", ".join(marks)))


def weather(package: Package, rows: Sequence[SetUpStep]) -> Iterator[Step]:
    """Say in what wind steps can be done and things be held by hand, beside the design gust."""
    gust, known = package.leniently.site.gust_m_s, [row.leniently for row in rows]
    bears = [row.gust_most_m_s for row in known if row.gust_most_m_s is not None]
    if bears and (gust is None or min(bears) < gust):
        marks = ", ".join(row.mark for row in known if row.gust_most_m_s == min(bears))
        blows = Step(", where the design gust is {}", (Amount(gust, WIND),)) if gust else ""
        words = "in gusts up to {} alone: {}{}. On how many days?"
        yield Step(words, (Amount(min(bears), WIND), marks, blows))
    for row in known:
        area = panel_m2(package.leniently, row)
        held = held_by_hand_m_s(row.people, area) if area and row.people else math.inf
        if held < (row.gust_most_m_s or gust or 0):
            words = "{}: {} can hold {} by hand in gusts up to {}. And in a stronger one?"
            yield Step(words, (row.mark, row.people, Amount(area, AREA), Amount(held, WIND)))


def panel_m2(package: Package, row: SetUpStep) -> float:
    """Return the largest face that a step lifts by hand [m²]; 0 where nothing is said of one."""
    if not row.mass_kg:
        return 0.0
    faces = (_face_m2(piece) for piece in package.pieces if piece.mark in row.moved)
    return max(faces, default=0.0)


def _face_m2(piece: Piece) -> float:
    sides = sorted(side or 0.0 for side in piece.sizes_m)
    return sides[1] * sides[2]


def in_the_dark(package: Package, takes_s: float) -> Iterator[Step]:
    """Ask of what takes longer than the shortest day of the season has sun."""
    known = package.leniently
    if known.site.latitude_deg is None:
        return
    shortest, month = _shortest_day_h(known.site.latitude_deg, _season(known))
    if takes_s > shortest * HOUR_S:
        words = "longer than the shortest day in {}, {} of sun. What is done in the dark?"
        yield Step(words, (month, Amount(shortest * HOUR_S, HOURS)))


@lru_cache(64)
def _shortest_day_h(latitude_deg: float, season: frozenset[str]) -> tuple[float, str]:
    days = (date(2001, 1, 1) + timedelta(days=n) for n in range(365))
    months = ((day, MONTHS[day.month - 1]) for day in days)
    return min((day_length_h(latitude_deg, day), name) for day, name in months if name in season)


def _season(package: Package) -> frozenset[str]:
    """Months in which it is used: those open, else those of people cases, else any."""
    open_ = frozenset(row.month for row in package.climate if row.month and row.is_open)
    cases = [case for case in package.cases if not case.refused]
    return open_ or frozenset(month for case in cases for month in case.months) or frozenset(MONTHS)


def unsaid(package: Package) -> Iterator[Step]:
    """Ask what must be seen to before it travels, where no step says so."""
    known = package.leniently
    said = " ".join(row.step or "" for row in known.steps)
    burns = known.plant.burns or known.plant.heater in BURNING
    is_bed = any(row.kind == "bed" or row.night for row in known.furniture)
    wants = (
        (any(row.holds in _WET for row in known.tanks), _DRAINED, "that tanks are drained"),
        (burns, _COLD, "that the stove is cold"),
        (is_bed, _DRY, "that bedding is dry"),
    )
    open_ = [what for is_asked, says, what in wants if is_asked and not says.search(said)]
    if open_:
        yield Step("no step says {}: who sees to it?", (", ".join(open_),))
