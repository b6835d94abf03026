"""Odd values of what is brought and moved: pieces, masses, lifts, stowage."""

import re
from collections.abc import Iterator

from criteria.findings import Amount
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.states import PACKED_KINDS, named_states
from criteria.units import LENGTH, LITRES, MASS, ROOM_LENGTH, VOLUME

NEAR = 0.02
"""A side this near its limit is asked about: eyes and eaves are easily left out. Relative [1]."""
OVER_LIMIT = 1.35
"""A side so far over what can be brought is a unit rather than a choice [1]."""
LIGHTEST, LIGHTEST_SOFT = 20.0, 5.0
HEAVIEST, HEAVIEST_SOLID = 1200.0, 8000.0
"""What pieces weigh to their outside size; insulation, and steel or stone [kg/m³]. Practice."""

_SOFT = re.compile(r"insulat|wool|foam|batt|fibre|textile|awning|canvas", re.IGNORECASE)
_SOLID = re.compile(
    r"steel|iron|stone|hearth|core|concrete|ballast|masonry|brick|batter|stove", re.IGNORECASE
)

OFF_BY = 0.10
"""Pieces and the building's empty mass differ by more than tools and packing [1]."""
A_PERSON_KG = 75.0
"""A person without luggage [kg]. Common practice."""
WATER_KG_M3 = 1000.0
NESTED_M = 0.005
"""Room a side under which nothing slides into another [m]. Common practice."""
HELD_SLIDE = 0.9
"""What slides further than this of its length wants legs [1]. Practice keeps a third inside."""
OF_CARGO = 0.5
"""A laden axle group carries at least this much of the pieces [1]."""


def brought(package: Package) -> list[Piece]:
    """Return the pieces that are there when packed, not what is put together of them."""
    kinds = {state.key: state.if_given("kind") for state in named_states(package.states)}
    away = {
        row.mark
        for row in package.pieces_by_state
        if row.is_absent and kinds.get(row.state) in PACKED_KINDS
    }
    return [piece for piece in package.pieces if piece.mark not in away]


def pieces(package: Package) -> Iterator[OddValue]:
    """Ask about sides just within their limit or far over it, and masses no material has."""
    site = package.site
    limits = (site.piece_l_m, site.piece_w_m, site.piece_h_m)
    for piece in brought(package):
        sides = zip(("l_m", "w_m", "h_m"), piece.sizes_m, limits, strict=True)
        for head, side, limit in sides:
            if not side or not limit:
                continue
            most = Amount(limit, ROOM_LENGTH)
            if (1 - NEAR) * limit <= side <= limit * (1 + 1e-9) and None not in limits:
                words = (
                    "{} measures {}, and {} can be brought. Are lifting eyes, eaves and straps in "
                    "it?"
                )
                yield ask(piece, head, words, piece.mark, said(piece, head), most)
            elif side > OVER_LIMIT * limit:
                words = "{} measures {}, and {} can be brought. Which unit was meant?"
                figures = (piece.mark, said(piece, head), most)
                yield ask(piece, head, words, *figures, is_mismatch=True)
        yield from _mass(piece)


def _mass(piece: Piece) -> Iterator[OddValue]:
    length, width, height = piece.sizes_m
    mass, name = piece.mass_kg, piece.piece or ""
    if not (mass and length and width and height):
        return
    volume = length * width * height
    least = LIGHTEST_SOFT if _SOFT.search(name) else LIGHTEST
    most = HEAVIEST_SOLID if _SOLID.search(name) else HEAVIEST
    if least <= mass / volume <= most:
        return
    is_in_tonnes = least <= 1000 * mass / volume <= most
    mended = f"{mass:.6g} t" if is_in_tonnes else ""
    asks = f"Is it {mended}?" if mended else "Is it the mass, or a side?"
    words = "{} ({}): {} in {} outside. {}"
    figures = (piece.mark, name, said(piece, "kg_each"), Amount(volume, VOLUME), asks)
    yield ask(piece, "kg_each", words, *figures, mended=mended, is_mismatch=True)


def slides(package: Package) -> Iterator[OddValue]:
    """Ask about pieces that slide nearly all of their length out, with no leg under them."""
    for over in package.pieces_by_state:
        piece = next((piece for piece in package.pieces if piece.mark == over.mark), None)
        if piece is None or piece.opens_by != "slides" or not (over.packs_into or piece.packs_into):
            continue
        ways = (
            (piece.length_m, piece.at_x_m, over.at_x_m),
            (piece.width_m, piece.at_y_m, over.at_y_m),
        )
        outs = [
            (abs(to - start), side)
            for side, to, start in ways
            if None not in (side, to, start) and side
        ]
        travel, side = max(outs, key=lambda each: each[0] / each[1], default=(0.0, 1.0))
        if travel > HELD_SLIDE * side and not _has_leg(package, piece):
            words = "{} slides {} out of a length of {}, and no leg is under it. What holds it?"
            figures = (piece.mark, Amount(travel, ROOM_LENGTH), Amount(side, ROOM_LENGTH))
            yield ask(piece, "opens_by", words, *figures, is_mismatch=True)


def _has_leg(package: Package, piece: Piece) -> bool:
    x, y, length, width = piece.at_x_m, piece.at_y_m, piece.length_m, piece.width_m
    return any(
        None not in (x, y, length, width, leg.at_x_m, leg.at_y_m)
        and x <= leg.at_x_m <= x + length
        and y <= leg.at_y_m <= y + width
        for leg in package.legs
    )


def masses(package: Package) -> Iterator[OddValue]:
    """Ask where pieces, empty building, load and axles don't add up."""
    pieces = brought(package)
    weighed = [(p.n or 1) * p.mass_kg for p in pieces if p.mass_kg]
    total, row = sum(weighed), package.supports
    together = Amount(total, MASS)
    if row.mass_kg and total:
        is_less = total < (1 - OFF_BY) * row.mass_kg and len(weighed) == len(pieces)
        if is_less or total > (1 + OFF_BY) * row.mass_kg:
            words = "The pieces weigh {} together, the building {} empty. What makes the rest?"
            yield ask(row, "empty_kg", words, together, said(row, "empty_kg"), is_mismatch=True)
    volume = sum(tank.volume_m3 or 0 for tank in package.tanks)
    people = package.site.people or 0
    least = WATER_KG_M3 * volume + A_PERSON_KG * people
    if row.full_kg and row.full_kg < least:
        words = "{} of load when full; {} in tanks and {} people weigh {}. What is left out?"
        figures = (said(row, "load_kg"), Amount(volume, LITRES), people, Amount(least, MASS))
        yield ask(row, "load_kg", words, *figures, is_mismatch=True)
    axles = package.transport
    if axles.group_kg and axles.group_kg < OF_CARGO * total:
        words = "{} stand on the axles, and the pieces weigh {}. Laden, and in how many journeys?"
        laden = said(axles, "axle_group_kg")
        yield ask(axles, "axle_group_kg", words, laden, together, is_mismatch=True)


def nested(package: Package) -> Iterator[OddValue]:
    """Ask about pieces with hardly any room in the one that they pack into."""
    holders = {piece.mark: piece for piece in package.pieces}
    for piece in package.pieces:
        holder = holders.get(piece.packs_into or "")
        sizes = (*piece.sizes_m, *holder.inside_m) if holder else ()
        if holder is None or None in sizes:
            continue
        spare = min(each - own for own, each in zip(sizes[:3], sizes[3:], strict=True)) / 2
        if 0 <= spare < NESTED_M:
            words = "{} has {} a side in {}. Wet, bent and painted?"
            yield ask(piece, "packs_into", words, piece.mark, Amount(spare, LENGTH), holder.mark)


def stowage(package: Package) -> Iterator[OddValue]:
    """Ask about volume that two things take."""
    for row in package.stowage:
        if row.also_used_as:
            words = "{} ({}): {}. Which of the two has it?"
            figures = (row.mark, row.what or "stowage", said(row, "also_used_as"))
            yield ask(row, "also_used_as", words, *figures, is_mismatch=True)
