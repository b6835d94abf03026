"""Odd values of what is drawn: rooms, windows, envelope, doors, the ramp and pieces."""

import math
import re
from collections.abc import Iterator

from criteria.checks.access import step_free_doors
from criteria.checks.moving import piece_limits
from criteria.findings import Amount, Step, listed
from criteria.measures.access import SLOPE_RUN
from criteria.measures.envelope import BEST_OPEN_W_MK, STILL_AIR_W_MK, apparent_conductivity
from criteria.odd.value import NOTHING, OddValue
from criteria.package import Package
from criteria.schedules.envelope import Layer
from criteria.schedules.rooms import HEADROOM_COUNTED_M, LIVED_IN
from criteria.typed.cells import Lacking
from criteria.units import AREA, CONDUCTIVITY, DISTANCE, FLOOR, LENGTH, RESISTANCE, ROOM_LENGTH

FRAME_SHARE = 0.95
"""Glass at this share of the frame both ways is probably the frame itself [1]. Common practice."""

_LOFT = re.compile(r"loft|attic|gallery|gable|mezzanine", re.IGNORECASE)


def rooms(package: Package) -> Iterator[OddValue]:
    """Ask about heights, floors and lofts that can't be as typed."""
    package = package.leniently
    for room in package.rooms:
        floor, low = room.floor_m2, room.low_headroom_m2
        head = Amount(HEADROOM_COUNTED_M, DISTANCE)
        if floor is not None and low is not None and low > floor:
            read, whole = Amount(low, FLOOR), Amount(floor, FLOOR)
            words = "{}: {} under {} high in a floor of {}. Which is it?"
            question = Step(words, (room.mark, read, head, whole))
            yield OddValue("rooms", room.mark, "low_headroom_m2", read, question)
        if floor is not None and not 0.5 <= floor <= 200:
            read = Amount(floor, FLOOR)
            question = Step("{} has a floor of {}. Which unit was meant?", (room.mark, read))
            yield OddValue("rooms", room.mark, "floor_m2", read, question)
        height = room.clear_height_m
        if height is not None and room.use in LIVED_IN and not 1.2 <= height <= 6:
            read = Amount(height, ROOM_LENGTH)
            question = Step("{} is {} high. Which unit was meant?", (room.mark, read))
            yield OddValue("rooms", room.mark, "clear_height_m", read, question)
        if _LOFT.search(room.name or "") and not low:
            words = "{} is a loft with no floor under {} high. Is all of it that high?"
            question = Step(words, (room.name, head))
            yield OddValue("rooms", room.mark, "low_headroom_m2", NOTHING, question)


def windows(package: Package) -> Iterator[OddValue]:
    """Ask about glass as large as its frame, fixed glass that opens, and slips of unit."""
    package = package.leniently
    for window in package.windows:
        sides = (
            (window.glass_w_m, window.frame_w_m, "glass_w"),
            (window.glass_h_m, window.frame_h_m, "glass_h"),
        )
        if all(g and f and g >= FRAME_SHARE * f for g, f, _ in sides):
            words = "{}: the glass is as large as its frame. Was the frame measured?"
            read = Amount(window.glass_w_m or 0, LENGTH)
            yield OddValue("windows", window.mark, "glass_w", read, Step(words, (window.mark,)))
        for glass, frame, head in sides:
            if glass and frame and glass > frame:
                read, around = Amount(glass, LENGTH), Amount(frame, LENGTH)
                words = "{}: glass {} in a frame of {}. Which is it?"
                question = Step(words, (window.mark, read, around))
                yield OddValue("windows", window.mark, head, read, question)
        if window.is_fixed and (window.open_share or 0) > 0:
            yield OddValue(
                "windows", window.mark, "open_share", Step("{}", (f"{window.open_share:g}",)),
                Step("{} is fixed but counted as opening. Which is it?", (window.mark,)), "0",
                is_mismatch=True,
            )  # fmt: skip
        for head, side in (("frame_w", window.frame_w_m), ("frame_h", window.frame_h_m)):
            if side is not None and not 0.1 <= side <= 4:
                read = Amount(side, LENGTH)
                words = "{}: a frame side of {}. Which unit was meant?"
                question = Step(words, (window.mark, read))
                yield OddValue("windows", window.mark, head, read, question)


_EXEMPT = re.compile(r"aerogel|vacuum|evacuated|plastic|plaster|render|sealant", re.IGNORECASE)
_KINDS = (
    ("fibreboard", re.compile(r"fib(?:re|er)[ -]?board|wood[ -]fib", re.IGNORECASE), 0.035, 0.20),
    (
        "insulation",
        re.compile(
            r"wool|fibre|fiber|foam|batt|insulat|cork|cellulose|\beps\b|\bxps\b|\bpir\b|textile",
            re.IGNORECASE,
        ),
        0.015,
        0.08,
    ),
    (
        "timber",
        re.compile(r"timber|wood|ply\b|plywood|larch|pine|birch|spruce|oak|\bosb\b", re.IGNORECASE),
        0.08,
        0.25,
    ),
)
"""Kind, its words, and the least and most of its conductivity [W/mK]. ISO 10456 and practice."""


def envelope(package: Package) -> Iterator[OddValue]:
    """Ask about conductivities ten times out and resistances that no layer has."""
    package = package.leniently
    for number, layer in enumerate(package.envelope, start=1):
        yield from _conductivity(number, layer)
        yield from _claimed(number, layer)
    openings = _openings_m2(package)
    walls = [la.gross_area_m2 for la in package.envelope if la.part == "wall" and la.gross_area_m2]
    if walls and openings > 0.6 * walls[0]:
        read = Amount(walls[0], AREA)
        words = (
            "Windows and doors take {} of a wall of {}. Were its openings taken off the gross "
            "wall already?"
        )
        question = Step(words, (Amount(openings, AREA), read))
        yield OddValue("envelope", "", "gross_area_m2", read, question, is_mismatch=True)


def _openings_m2(package: Package) -> float:
    """Return windows by frame and outside doors by leaf, as far as they are known [m²]."""
    windows = [(w.n or 1, w.frame_w_m or 0, w.frame_h_m or 0) for w in package.windows]
    doors = [(1, d.leaf_w_m or 0, d.height_m or 0) for d in package.doors if d.is_outside]
    return math.fsum(n * w * h for n, w, h in (*windows, *doors))


def _on_the_way(package: Package) -> list[str]:
    """Return the marks of the doors on the step-free way, where they are known."""
    try:
        return [door.mark for door in step_free_doors(package.strictly)]
    except Lacking:
        return []


def _conductivity(number: int, layer: Layer) -> Iterator[OddValue]:
    value, name = layer.lambda_w_mk, layer.layer or ""
    if value is None or _EXEMPT.search(name):
        return
    for kind, named, least, most in _KINDS:
        if not named.search(name):
            continue
        if not least <= value <= most:
            mended = next((x for x in (value / 10, value * 10) if least <= x <= most), None)
            read = Amount(value, CONDUCTIVITY)
            bounds = (Amount(least, CONDUCTIVITY), Amount(most, CONDUCTIVITY))
            words = "{} ({}) conducts {}; " + kind + " is usually {} to {}."
            figures: tuple[Amount | str, ...] = (name, layer.part, read, *bounds)
            if mended:
                words, figures = words + " Is it {}?", (*figures, Amount(mended, CONDUCTIVITY))
            suggestion = f"{mended:g} W/mK" if mended else ""
            question = Step(words, figures)
            yield OddValue("envelope", "", "lambda", read, question, suggestion, number)
        return


def _claimed(number: int, layer: Layer) -> Iterator[OddValue]:
    if not layer.claimed_m2k_w or not layer.thickness_m:
        return
    if layer.claim_covers not in (None, "layer alone"):
        return
    value = apparent_conductivity(layer.thickness_m, layer.claimed_m2k_w)
    if value >= BEST_OPEN_W_MK:
        return
    read = Amount(layer.claimed_m2k_w, RESISTANCE)
    as_us = apparent_conductivity(layer.thickness_m, layer.claimed_m2k_w / 5.678263)
    slip = as_us >= BEST_OPEN_W_MK
    asks = "Is it R in US units?" if slip else "Which test says so, and of the layer alone?"
    words = "{}: R {} in a thickness of {} would conduct {}; still air conducts {}. " + asks
    figures = (layer.layer or "", read, Amount(layer.thickness_m, LENGTH),
               Amount(value, CONDUCTIVITY), Amount(STILL_AIR_W_MK, CONDUCTIVITY))  # fmt: skip
    question = Step(words, figures)
    mended = f"{layer.claimed_m2k_w / 5.678263:.3g} m²K/W" if slip else ""
    yield OddValue("envelope", "", "claimed_r", read, question, mended, number)


LEAF_LESS_CLEAR_M = 0.040
"""Stop and open leaf take at least this much of a door's leaf [m]. Common practice."""


def doors(package: Package) -> Iterator[OddValue]:
    """Ask for clear widths that are blank on the step-free way, or are the leaf's."""
    package = package.leniently
    on_the_way = _on_the_way(package)
    for door in package.doors:
        leaf, clear = door.leaf_w_m, door.clear_w_m
        if clear is None and door.mark in on_the_way:
            words = "{} has a leaf and no clear width. How much is clear when it stands open?"
            yield OddValue("doors", door.mark, "clear_w", NOTHING, Step(words, (door.mark,)))
        elif leaf is not None and clear is not None and clear > leaf - LEAF_LESS_CLEAR_M:
            read = Amount(clear, LENGTH)
            words = "{}: {} clear of a leaf of {}. Is that the leaf's own width?"
            question = Step(words, (door.mark, read, Amount(leaf, LENGTH)))
            yield OddValue("doors", door.mark, "clear_w", read, question)
    second = [d.threshold_m for d in package.doors if d.role == "second exit"]
    said = package.ways_out.second_threshold_m
    known = [threshold for threshold in second if threshold is not None]
    if said is not None and known and all(abs(t - said) > 0.05 for t in known):
        read, others = Amount(said, LENGTH), listed([Amount(t, LENGTH) for t in known])
        words = (
            "The second exit's threshold is {} here and {} in the door schedule. Which would the "
            "builder follow?"
        )
        question = Step(words, (read, others))
        head = "second_exit_threshold_mm"
        yield OddValue("ways_out", "", head, read, question, is_mismatch=True)


def ramp(package: Package) -> Iterator[OddValue]:
    """Ask about a ramp that is as long as its runs alone."""
    package = package.leniently
    row = package.ramp
    if not row.rise_m or row.drawn_m is None:
        return
    run = SLOPE_RUN * row.rise_m
    if abs(row.drawn_m - run) <= 0.02 * run and not row.landings:
        read = Amount(row.drawn_m, ROOM_LENGTH)
        words = "The ramp is {} for a rise of {}: 12 times the rise. Where are the landings?"
        question = Step(words, (read, Amount(row.rise_m, ROOM_LENGTH)))
        yield OddValue("ramp", "", "ramp_drawn_mm", read, question)


SAME_LEVEL_M = 0.010
"""Levels nearer than this are one level [m]. Common practice."""


def levels(package: Package) -> Iterator[OddValue]:
    """Ask where ground, rise and finished floor don't add up."""
    package = package.leniently
    ground, rise, floor = package.site.ground_m, package.ramp.rise_m, package.ramp.floor_m
    if ground is None or rise is None or floor is None:
        return
    if abs(floor - ground - rise) > SAME_LEVEL_M:
        read, added = Amount(rise, LENGTH), Amount(ground + rise, ROOM_LENGTH)
        words = "Ground {} and a rise of {} make {}; the section says {}. Measured to what?"
        figures = (Amount(ground, ROOM_LENGTH), read, added, Amount(floor, ROOM_LENGTH))
        mended = LENGTH.write(floor - ground) if floor > ground else ""
        question = Step(words, figures)
        yield OddValue("ramp", "", "rise_mm", read, question, mended, is_mismatch=True)


NEAR = 0.02
"""A side this near its limit is asked about: eyes and eaves are easily left out. Relative [1]."""


def pieces(package: Package) -> Iterator[OddValue]:
    """Ask about sides that are just within the limit."""
    package = package.leniently
    site = package.site
    known = None not in (site.piece_l_m, site.piece_w_m, site.piece_h_m)
    limits = piece_limits(site) if known else None
    for piece in package.pieces if limits else ():
        sides = zip(("l_m", "w_m", "h_m"), piece.sizes_m, limits or (), strict=True)
        for head, side, limit in sides:
            if side is not None and (1 - NEAR) * limit <= side <= limit * (1 + 1e-9):
                read, most = Amount(side, ROOM_LENGTH), Amount(limit, ROOM_LENGTH)
                words = (
                    "{} measures {}, and {} can be brought. Are lifting eyes, eaves and straps in "
                    "it?"
                )
                question = Step(words, (piece.mark, read, most))
                yield OddValue("pieces", piece.mark, head, read, question)
