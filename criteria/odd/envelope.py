"""Odd values of the envelope: conductivities, claimed resistances, areas."""

import math
import re
from collections.abc import Iterator

from criteria.findings import Amount, Step
from criteria.measures.envelope import BEST_OPEN_W_MK, STILL_AIR_W_MK, apparent_conductivity
from criteria.odd.space import whole_floor_m2
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.envelope import FACES, FACES_ADD_UP, Layer
from criteria.units import AREA, CONDUCTIVITY, FLOOR, M2K_W, R_US

US_OF_METRIC = float(M2K_W.factor / R_US.factor)
"""How many R of the US one m²K/W is [1]."""
OPEN_OF_WALL = 0.6
"""Windows and doors rarely take more of a wall than this [1]. Common practice."""
OF_PLAN = (0.5, 2.0)
"""The building's plan to the floor or roof that the envelope gives [1]. Common practice."""
OF_FLOORS = (0.35, 2.5)
"""A roof or floor of the envelope to the floors of all rooms, lofts with them [1]."""
ALIKE = 1.01
"""Areas of a part this near are one area [1]."""

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


def layers(package: Package) -> Iterator[OddValue]:
    """Ask about conductivities ten times out and resistances that no layer has."""
    for number, layer in enumerate(package.envelope, start=1):
        yield from _conductivity(number, layer)
        yield from _claimed(number, layer)


def _conductivity(number: int, layer: Layer) -> Iterator[OddValue]:
    value, name = layer.lambda_w_mk, layer.layer or ""
    if value is None or _EXEMPT.search(name):
        return
    kinds = (kind for kind in _KINDS if kind[1].search(name))
    kind, _, least, most = next(kinds, ("", None, value, value))
    if least <= value <= most:
        return
    meant = next((x for x in (value / 10, value * 10) if least <= x <= most), None)
    words = "{} ({}) conducts {}; {} is usually {} to {}.{}"
    figures = (name, layer.part or "", said(layer, "lambda"), kind)
    bounds = (Amount(least, CONDUCTIVITY), Amount(most, CONDUCTIVITY))
    asks = Step(" Is it {}?", (Amount(meant, CONDUCTIVITY),)) if meant else ""
    mended = f"{meant:g} W/mK" if meant else ""
    yield ask(layer, "lambda", words, *figures, *bounds, asks, mended=mended, number=number)


def _claimed(number: int, layer: Layer) -> Iterator[OddValue]:
    claimed, thickness = layer.claimed_m2k_w, layer.thickness_m
    if not claimed or not thickness or layer.claim_covers not in (None, "layer alone"):
        return
    value = apparent_conductivity(thickness, claimed)
    if value >= BEST_OPEN_W_MK:
        return
    is_us = apparent_conductivity(thickness, claimed / US_OF_METRIC) >= BEST_OPEN_W_MK
    asks = "Is it R in US units?" if is_us else "Which test says so, and of the layer alone?"
    words = "{}: R {} in a thickness of {} would conduct {}; still air conducts {}. {}"
    figures = (layer.layer or "", said(layer, "claimed_r"), said(layer, "mm"))
    conducts = (Amount(value, CONDUCTIVITY), Amount(STILL_AIR_W_MK, CONDUCTIVITY))
    mended = f"{claimed / US_OF_METRIC:.3g} m²K/W" if is_us else ""
    yield ask(layer, "claimed_r", words, *figures, *conducts, asks, mended=mended, number=number)


def areas(package: Package) -> Iterator[OddValue]:
    """Ask about areas that openings, other rows, floors or the building's size contradict."""
    for part in ("wall", "roof", "floor"):
        rows = [
            (number, layer, layer.gross_area_m2)
            for number, layer in enumerate(package.envelope, start=1)
            if layer.part == part and layer.gross_area_m2
        ]
        if not rows:
            continue
        least, most = (of(area for *_, area in rows) for of in (min, max))
        number, layer, area = rows[0]
        if most > ALIKE * least:
            words = "The {} is {} in one row and {} in another. Which is it?"
            both = (Amount(least, AREA), Amount(most, AREA))
            yield _asked(layer, number, words, part, *both)
        elif part == "wall":
            yield from _by_face(package, area)
            yield from _openings(package, layer, number, area)
        else:
            yield from _of_size(package, layer, number, area)


def _asked(layer: Layer, number: int, words: str, *figures: Amount | Step | str) -> OddValue:
    return ask(layer, "gross_area_m2", words, *figures, number=number, is_mismatch=True)


def _by_face(package: Package, area: float) -> Iterator[OddValue]:
    """Ask about an outermost row whose walls by the way they face aren't the gross wall."""
    rows = ((n, row) for n, row in enumerate(package.envelope, start=1) if row.part == "wall")
    number, outermost = next(rows)
    found = {face: getattr(outermost, face) for face in FACES}
    given = {face: each for face, each in found.items() if each is not None}
    whole = math.fsum(given.values())
    if given and abs(whole - area) > FACES_ADD_UP * area:
        head = outermost.schedule.by_attribute[next(iter(given))].head
        words = "By the way that they face walls come to {}, and the gross wall is {}. Which is it?"
        both = (Amount(whole, AREA), Amount(area, AREA))
        yield ask(outermost, head, words, *both, number=number, is_mismatch=True)


def _openings(package: Package, wall: Layer, number: int, area: float) -> Iterator[OddValue]:
    windows = [(w.n or 1, w.frame_w_m or 0, w.frame_h_m or 0) for w in package.windows]
    doors = [(1, d.leaf_w_m or 0, d.height_m or 0) for d in package.doors if d.is_outside]
    openings = math.fsum(n * w * h for n, w, h in (*windows, *doors))
    if openings > OPEN_OF_WALL * area:
        words = (
            "Windows and doors take {} of a wall of {}. Were its openings taken off the gross "
            "wall already?"
        )
        yield _asked(wall, number, words, Amount(openings, AREA), said(wall, "gross_area_m2"))


def _of_size(package: Package, layer: Layer, number: int, area: float) -> Iterator[OddValue]:
    whole, part = whole_floor_m2(package), layer.part or ""
    if whole and not OF_FLOORS[0] <= area / whole <= OF_FLOORS[1]:
        words = "The {} is {}, and all rooms have {} of floor. Which unit was meant?"
        read = said(layer, "gross_area_m2")
        yield _asked(layer, number, words, part, read, Amount(whole, FLOOR))
        return
    row = package.supports
    if not row.length_m or not row.width_m:
        return
    plan = row.length_m * row.width_m
    if not OF_PLAN[0] <= plan / area <= OF_PLAN[1]:
        words = "{} by {} is a plan of {}; the {} is {}. Which is it?"
        sides = (said(row, "building_l_m"), said(row, "building_w_m"), Amount(plan, AREA))
        yield ask(row, "building_l_m", words, *sides, part, Amount(area, AREA), is_mismatch=True)
