"""Odd values on the way in: doors, the ramp, levels."""

from collections.abc import Iterator

from criteria.checks.access import step_free_doors
from criteria.findings import Amount, listed
from criteria.measures.access import METRIC_RAMP, SLOPE_RUN
from criteria.measures.ground import leg_travel
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import LENGTH, ROOM_LENGTH

LEAF_LESS_CLEAR_M = 0.040
"""Stop and open leaf take at least this much of a door's leaf [m]. Common practice."""
SAME_THRESHOLD_M = 0.05
"""Thresholds nearer than this are one threshold [m]. Common practice."""
STEP_M = 0.1
"""A threshold of this at the head of a ramp is a step [m]. Common practice."""
NO_LANDING = 0.02
"""A ramp this near to the length of its runs has no landing. Relative [1]."""
SHORTER, LONGER = 0.85, 1.5
"""A drawn ramp to the run that its rise and slope take, without and with its landings [1]."""
IN_PERCENT = 100 / SLOPE_RUN
"""The slope of 1 in 12 as a percentage, which is typed for the run."""
SAME_LEVEL_M = 0.010
"""Levels nearer than this are one level [m]. Common practice."""


def doors(package: Package) -> Iterator[OddValue]:
    """Ask for clear widths that are blank on the step-free way or the leaf's, and for steps."""
    on_the_way = _on_the_way(package)
    has_ramp = package.ramp.rise_m and package.ramp.drawn_m
    for door in package.doors:
        leaf, clear, mark = door.leaf_w_m, door.clear_w_m, door.mark
        if clear is None and mark in on_the_way:
            words = "{} has a leaf and no clear width. How much is clear when it stands open?"
            yield ask(door, "clear_w", words, mark)
        elif leaf is not None and clear is not None and clear > leaf - LEAF_LESS_CLEAR_M:
            words = "{}: {} clear of a leaf of {}. Is that the leaf's own width?"
            yield ask(door, "clear_w", words, mark, said(door, "clear_w"), said(door, "leaf_w"))
        threshold = door.threshold_m if door.role == "main exit" and has_ramp else None
        if threshold is not None and threshold >= STEP_M:
            words = "A ramp leads to {}, whose threshold is {}. Is there a step?"
            read = said(door, "threshold_mm")
            yield ask(door, "threshold_mm", words, mark, read, is_mismatch=True)


def _on_the_way(package: Package) -> list[str]:
    """Return the marks of the doors on the step-free way, where they are known."""
    try:
        return [door.mark for door in step_free_doors(package.strictly)]
    except Lacking:
        return []


def second_exit(package: Package) -> Iterator[OddValue]:
    """Ask about two thresholds of one exit."""
    second = [d.threshold_m for d in package.doors if d.role == "second exit"]
    row, known = package.ways_out, [height for height in second if height is not None]
    height = row.second_threshold_m
    if height is None or not known:
        return
    if all(abs(other - height) > SAME_THRESHOLD_M for other in known):
        words = (
            "The second exit's threshold is {} here and {} in the door schedule. Which would the "
            "builder follow?"
        )
        head, others = "second_exit_threshold_mm", listed([Amount(t, LENGTH) for t in known])
        yield ask(row, head, words, said(row, head), others, is_mismatch=True)


def ramp(package: Package) -> Iterator[OddValue]:
    """Ask about a ramp as long as its runs alone, or one that its rise and slope contradict."""
    row = package.ramp
    rise, drawn, slope = row.rise_m, row.drawn_m, row.slope_run
    if slope and abs(slope / IN_PERCENT - 1) < 0.01:
        words = "A slope of 1 in {}: 8.3 % is 1 in 12. Which was meant?"
        yield ask(row, "slope_drawn", words, f"{slope:g}", mended=f"{SLOPE_RUN:g}")
    if not rise or drawn is None:
        return
    long, run = Amount(drawn, ROOM_LENGTH), SLOPE_RUN * rise
    if abs(drawn - run) <= NO_LANDING * run and not row.landings:
        words = "The ramp is {} for a rise of {}: 12 times the rise. Where are the landings?"
        yield ask(row, "ramp_drawn_mm", words, long, Amount(rise, ROOM_LENGTH), read=long)
    if not slope:
        return
    run = slope * rise
    most = LONGER * (run + max(row.landings or 0, 2) * METRIC_RAMP.landing_m)
    if not SHORTER * run <= drawn <= most:
        words = "A rise of {} at 1 in {} runs {}; the ramp is drawn {} long. Which is it?"
        figures = (said(row, "rise_mm"), f"{slope:g}", Amount(run, ROOM_LENGTH), long)
        head = "rise_mm" if drawn > most else "ramp_drawn_mm"
        yield ask(row, head, words, *figures, is_mismatch=True)


def levels(package: Package) -> Iterator[OddValue]:
    """Ask where ground, underside, rise and finished floor don't add up."""
    row, ground, supports = package.ramp, package.site.ground_m, package.supports
    rise, floor, clear = row.rise_m, row.floor_m, supports.clear_m
    is_known = ground is not None and rise is not None and floor is not None
    if is_known and abs(floor - ground - rise) > SAME_LEVEL_M:
        words = "Ground {} and a rise of {} make {}; the section says {}. Measured to what?"
        made, section = Amount(ground + rise, ROOM_LENGTH), said(row, "floor_m")
        figures = (Amount(ground, ROOM_LENGTH), said(row, "rise_mm"), made, section)
        mended = LENGTH.write(floor - ground) if floor > ground else ""
        yield ask(row, "rise_mm", words, *figures, mended=mended, is_mismatch=True)
    slope, sides = package.site.slope, (supports.length_m, supports.width_m)
    if slope and supports.travel_m and None not in sides:
        falls = leg_travel(*sides, slope)
        if supports.travel_m < falls:
            words = "Legs travel {}, and the ground falls {} from corner to corner. Which is it?"
            both = (said(supports, "travel"), Amount(falls, LENGTH))
            yield ask(supports, "travel", words, *both, is_mismatch=True)
    if rise and clear and clear > rise - SAME_LEVEL_M:
        words = "{} clear under the building and a rise of {} to its floor. How thick is the floor?"
        under = said(supports, "clear_under_m")
        high = Amount(rise, ROOM_LENGTH)
        yield ask(supports, "clear_under_m", words, under, high, is_mismatch=True)
