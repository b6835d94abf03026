"""On the road, in a container, one piece inside another, and in what order."""

from criteria.checks.check import Check, blank
from criteria.checks.moving import total_mass_kg
from criteria.checks.reading import all_but, rows_missing
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.measures.moving import centre_of_mass, fits_in_any_order, tongue_load
from criteria.measures.packing import TRIES, Box, Fit, Packing, pack
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.moving import Piece
from criteria.schedules.structure import Transport
from criteria.sources import CONTAINER, PRACTICE, ROAD_EU, ROAD_US, TONGUE
from criteria.units import COUNT, LENGTH, MASS, RATIO, ROOM_LENGTH, SHARE_PERCENT, TOTAL_MASS

_CAUTION = "Lifting and carrying: a licensed rigger plans every lift, a haulier every road."
_SIZES = ("l_m", "w_m", "h_m")
_NO_ROWS = rows_missing(Piece.schedule)


def _road(package: Package, head: str, attribute: str, deck: bool) -> list[Measured]:
    if not package.pieces:
        return _NO_ROWS
    row = package.transport
    missing = blank(Transport.schedule, row, "deck_m") if deck else ()
    found = []
    for piece in package.pieces:
        about = {"subject": piece.mark, "name": piece.piece or ""}
        cells = (*blank(Piece.schedule, piece, head), *missing)
        if cells:
            found.append(Measured(missing=cells, **about))
            continue
        side = getattr(piece, attribute)
        value = side + (row.deck_m or 0 if deck else 0)
        figures = (Amount(side, ROOM_LENGTH), Amount(row.deck_m or 0, ROOM_LENGTH))
        words = "{} + deck {} = {}" if deck else "{} as packed"
        amounts = (*figures, Amount(value, ROOM_LENGTH)) if deck else figures[:1]
        found.append(Measured(values=(value,), steps=(Step(words, amounts),), **about))
    return found


def _road_height(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _road(package, "h_m", "height_m", deck=True)


def _road_width(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _road(package, "w_m", "width_m", deck=False)


def _payload(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return _NO_ROWS
    missing = blank(Transport.schedule, package.transport, "payload_kg")
    masses = [p.mass_kg for p in package.pieces if p.mass_kg is not None]
    blanks = [cell for p in package.pieces for cell in blank(Piece.schedule, p, "kg_each")]
    if missing or not masses:
        return [Measured(missing=(*missing, *blanks))]
    payload = package.transport.payload_kg or 1
    value = max(masses) / payload
    figures = (Amount(max(masses), MASS), Amount(payload, MASS), Amount(value, RATIO))
    total, _ = total_mass_kg(package)
    notes = (Step("{} in all", (Amount(total, TOTAL_MASS),)),)
    step = Step("{} ÷ {} = {}", figures)
    return [Measured(values=(value,), steps=(step,), missing=tuple(blanks), notes=notes)]


def _hitch(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    loaded = [piece for piece in package.pieces if piece.at_m is not None]
    missing = [*blank(Transport.schedule, package.transport, "axle_m")]
    if not loaded:
        missing.append("Centre from the hitch (piece schedule)")
    missing += [c for piece in loaded for c in blank(Piece.schedule, piece, "n", "kg_each")]
    if missing:
        return [Measured(missing=tuple(missing))]
    parts = [((p.n or 0) * (p.mass_kg or 0), p.at_m or 0) for p in loaded]
    total, centre = sum(mass for mass, _ in parts), centre_of_mass(parts)
    axle = package.transport.axle_m or 0
    value = tongue_load(total, centre, axle) / total
    place = Amount(centre, ROOM_LENGTH)
    words = " + ".join(["{} × {}"] * len(parts))
    figures = [x for mass, at in parts for x in (Amount(mass, MASS), Amount(at, ROOM_LENGTH))]
    steps = (
        Step(f"({words}) ÷ {{}} = {{}}", (*figures, Amount(total, MASS), place)),
        Step("1 − {} ÷ {} = {}", (place, Amount(axle, ROOM_LENGTH), Amount(value, SHARE_PERCENT))),
    )
    return [
        Measured(values=(value,), steps=steps, notes=(Step("the trailer's own mass left out"),))
    ]


CONTAINERS_M = {
    "20 ft": ((5.867, 2.330, 2.350), (2.286, 2.261)),
    "40 ft": ((11.998, 2.330, 2.350), (2.286, 2.261)),
    "40 ft high": ((11.998, 2.330, 2.655), (2.286, 2.566)),
}
"""Least inside length, width and height, and door width and height [m]. ISO 1496-1."""


def fits_container(sizes_m: tuple[float, float, float], kind: str) -> bool:
    """Tell whether a piece goes through a container's door and stands in it, square to it.

    >>> fits_container((5.8, 2.2, 2.2), "20 ft"), fits_container((5.8, 2.3, 2.2), "20 ft")
    (True, False)
    """
    (length, width, height), door = CONTAINERS_M[kind]
    within = fits_in_any_order(sizes_m, (length, width, height))
    # one side points along the container; the other two pass the door, upright or lying
    through = any(
        sizes_m[i] <= length + 1e-9 and fits_in_any_order([*sizes_m[:i], *sizes_m[i + 1 :]], door)
        for i in range(3)
    )
    return within and through


def _container(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return _NO_ROWS
    kind = package.transport.container
    missing = [*blank(Transport.schedule, package.transport, "container")]
    sized = [p for p in package.pieces if not blank(Piece.schedule, p, *_SIZES)]
    missing += [c for p in package.pieces for c in blank(Piece.schedule, p, *_SIZES)]
    if kind is None or not sized:
        return [Measured(missing=tuple(missing))]
    outside = [p.mark for p in sized if not fits_container(_sides(p.sizes_m), kind)]
    inside = listed([Amount(x, ROOM_LENGTH) for x in CONTAINERS_M[kind][0]], " × ")
    return [all_but(outside, missing, (Step("{} inside: {}", (kind, inside)),))]


def _sides(sizes: tuple[float | None, ...]) -> tuple[float, float, float]:
    l, w, h = (size or 0.0 for size in sizes)
    return l, w, h


_INSIDE = ("inside_l_m", "inside_w_m", "inside_h_m")


def _nesting(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    by_mark = {piece.mark: piece for piece in package.pieces}
    nested = [piece for piece in package.pieces if piece.packs_into]
    found = []
    for piece in nested:
        about = {"subject": piece.mark, "name": piece.piece or ""}
        outer = by_mark.get(piece.packs_into or "")
        if outer is None:
            cell = f"{piece.mark}, Packs into: a mark of the piece schedule"
            found.append(Measured(missing=(cell,), **about))
            continue
        missing = (
            *blank(Piece.schedule, piece, *_SIZES), *blank(Piece.schedule, outer, *_INSIDE)
        )  # fmt: skip
        if missing:
            found.append(Measured(missing=missing, **about))
            continue
        inner = sorted(_sides(piece.sizes_m))
        room = sorted(_sides((outer.inside_l_m, outer.inside_w_m, outer.inside_h_m)))
        value = min((r - i) / 2 for i, r in zip(inner, room, strict=True))
        figures = (outer.mark, piece.mark, Amount(value, LENGTH))
        step = Step("inside of {} less outside of {}, least half: {}", figures)
        found.append(Measured(values=(value,), steps=(step,), **about))
    return found


def packing_of(package: Package, piece: Piece) -> Packing | None:
    """Return how the furniture stowed in a piece packs; None where sizes are blank or none is."""
    rows = [row for row in package.furniture if row.stowed_in == piece.mark]
    room = (piece.inside_l_m, piece.inside_w_m, piece.inside_h_m)
    sizes = [size for row in rows for size in row.stowed_sizes_m]
    if not rows or None in room or None in sizes or any(row.n is None for row in rows):
        return None
    boxes = [
        Box(f"{row.mark}.{i + 1}" if (row.n or 1) > 1 else row.mark, _sides(row.stowed_sizes_m))
        for row in rows
        for i in range(row.n or 1)
    ]
    return pack(_sides(room), boxes)


def _stowing(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    used = {row.stowed_in for row in package.furniture if row.stowed_in}
    pieces = [piece for piece in package.pieces if piece.mark in used]
    if not pieces:
        return [Measured(missing=("Stowed in: mark of a piece (furniture schedule)",))]
    outside, missing, steps = [], [], []
    for piece in pieces:
        answer = packing_of(package, piece)
        if answer is None:
            missing += blank(Piece.schedule, piece, *_INSIDE)
            for row in package.furniture:
                if row.stowed_in == piece.mark:
                    heads = ("n", "stowed_l", "stowed_w", "stowed_h")
                    missing += blank(Furniture.schedule, row, *heads)
            continue
        steps.append(Step("{}: {} ({} positions tried)", (piece.mark, answer.fit, answer.tries)))
        steps += [
            Step("{} at {} from the near left corner", (p.mark, _corner(p.corner_m)))
            for p in answer.places
        ]
        if answer.fit is Fit.DOES_NOT_FIT:
            outside.append(piece.mark)
        elif answer.fit is Fit.UNKNOWN:
            missing.append(f"an answer for {piece.mark}: the search stops at {TRIES:,} positions")
    if not steps:
        return [Measured(missing=tuple(missing))]
    return [all_but(outside, missing, steps)]


def _corner(corner_m: tuple[float, float, float]) -> Step:
    return listed([Amount(x, LENGTH) for x in corner_m])


def _order(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.pieces:
        return _NO_ROWS
    orders = [piece.order for piece in package.pieces]
    if all(order is None for order in orders):
        return [Measured(missing=("Order (piece schedule)",))]
    known = [order for order in orders if order is not None]
    outside = [
        piece.mark
        for piece in package.pieces
        if piece.order is None or known.count(piece.order) > 1
    ]
    return [all_but(outside)]


ROAD_HEIGHT = Check(
    slug="road_height",
    title="Height on the road",
    topic="Moving",
    scales=(ROOM_LENGTH,),
    measure=_road_height,
    schedules=("pieces", "transport"),
    rule=Rule.AT_MOST,
    formula="H = h + h_deck",
    meaning="h height of a piece as packed [m]; h_deck deck above the road [m]",
    citations=(ROAD_EU, ROAD_US),
    limits="Straps and eyes not in it. US states set the height, mostly 13 ft 6 in to 14 ft.",
    question="{name} stands {value} on the road, against {target}. Which bridge?",
    caution=_CAUTION,
)

ROAD_WIDTH = Check(
    slug="road_width",
    title="Width on the road",
    topic="Moving",
    scales=(ROOM_LENGTH,),
    measure=_road_width,
    schedules=("pieces",),
    rule=Rule.AT_MOST,
    formula="w",
    meaning="w width of a piece as packed [m]",
    citations=(ROAD_EU, ROAD_US),
    limits="Without a permit. The federal US width is 102 in, taken as 2.6 m.",
    question="{name} is {value} wide on the road, against {target}. Whose permit?",
    caution=_CAUTION,
)

PAYLOAD = Check(
    slug="payload",
    title="Heaviest piece / payload",
    topic="Moving",
    scales=(RATIO,),
    measure=_payload,
    schedules=("pieces", "transport"),
    rule=Rule.AT_MOST,
    formula="r = max(m) ÷ m_pay",
    meaning="m mass of a piece [kg]; m_pay what the vehicle may carry [kg]",
    citations=(PRACTICE,),
    limits="One piece at a time. Axles and the hitch have limits of their own.",
    question="The heaviest piece takes {value} of the payload, against {target}. Wet?",
    caution=_CAUTION,
)

HITCH_SHARE = Check(
    slug="hitch_share",
    title="Share of the load on the hitch",
    topic="Moving",
    scales=(SHARE_PERCENT,),
    measure=_hitch,
    schedules=("pieces", "transport"),
    formula="s = 1 − (Σ(m · x) ÷ Σ m) ÷ x_axle",
    meaning="m mass of each piece on the trailer [kg]; x its centre from the hitch [m]; x_axle "
    "middle of the axles [m]",
    citations=(TONGUE,),
    limits="Pieces with a place alone; the trailer's own mass is left out. US practice is 10 to "
    "15 %, European 5 to 7 % within the coupling's own limit. Too little sways.",
    question="{value} of the load is on the hitch, against {target}. Which piece moves?",
    caution=_CAUTION,
)

CONTAINER_FIT = Check(
    slug="container_fit",
    title="Every piece fits the container",
    topic="Moving",
    scales=(COUNT,),
    measure=_container,
    schedules=("pieces", "transport"),
    rule=Rule.ALL,
    is_count=True,
    formula="two sides pass the door, and all stand inside",
    meaning="least inside sizes and door opening of the container",
    citations=(CONTAINER,),
    limits="Square to the walls, one piece at a time: how many go in together is another matter.",
    question="{value}: too large for the container. Through the door, or in two?",
    caution=_CAUTION,
)

NESTING = Check(
    slug="nesting_clearance",
    title="Clearance of pieces that nest",
    topic="Moving",
    scales=(LENGTH,),
    measure=_nesting,
    schedules=("pieces",),
    formula="c = min((inside − outside) ÷ 2)",
    meaning="inside of the outer piece and outside of the inner, side by side in order of size "
    "[mm]",
    citations=(PRACTICE,),
    limits="Square to each other. Room to slide is some 10 mm each side (common practice).",
    question="{name} slides in with {value} each side, against {target}. Frozen, in gloves?",
)

STOWING = Check(
    slug="furniture_packs",
    title="Furniture fits the closed piece",
    topic="Moving",
    scales=(COUNT,),
    measure=_stowing,
    schedules=("furniture", "pieces"),
    rule=Rule.ALL,
    is_count=True,
    formula="an arrangement of the stowed sizes within the inside of the piece",
    meaning="sizes put away [mm], on any face, square to the walls",
    citations=(PRACTICE,),
    limits=f"An exact search that stops after {TRIES:,} positions and says so. Whether each can be "
    "brought in past the others is not in it.",
    question="{value}: what is stowed there does not fit. Where does the table go?",
)

ORDER = Check(
    slug="order_numbers",
    title="Every piece has its own order number",
    topic="Moving",
    scales=(COUNT,),
    measure=_order,
    schedules=("pieces",),
    rule=Rule.ALL,
    is_count=True,
    formula="each row has a number that no other has",
    meaning="order of arrival in the piece schedule",
    citations=(PRACTICE,),
    limits="That they are numbered, not that the order works.",
    question="{value}: no order number, or another's. Which goes first, and on what?",
)

TRANSPORT_CHECKS = (
    ROAD_HEIGHT,
    ROAD_WIDTH,
    PAYLOAD,
    HITCH_SHARE,
    CONTAINER_FIT,
    NESTING,
    STOWING,
    ORDER,
)
