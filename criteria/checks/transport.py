"""On the road, in a container, one piece inside another, and in what order."""

from criteria.checks.check import Check
from criteria.checks.moving import holder, in_all, lift_mass, lifted
from criteria.checks.reading import all_that_hold, gathered, of_each
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.measures.moving import centre_of_mass, fits_in_any_order, tongue_load
from criteria.measures.packing import MOST_BOXES, TRIES, Box, Fit, Packing, pack
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.states import PACKED_KINDS, ROAD
from criteria.sources import CONTAINER, PRACTICE, ROAD_EU, ROAD_US
from criteria.typed.cells import lacking, require_some
from criteria.units import LENGTH, MASS, RATIO, ROOM_LENGTH, SHARE_PERCENT

_CAUTION = "Lifting and carrying: a licensed rigger plans every lift, a haulier every road."


def _road_height(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        height, deck = piece.height_m, package.transport.deck_m
        figures = [Amount(x, ROOM_LENGTH) for x in (height, deck, height + deck)]
        step = Step("{} + deck {} = {}", tuple(figures))
        return Measured(values=(height + deck,), steps=(step,))

    return of_each(package.pieces, figure)


def _road_width(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        step = Step("{} as packed", (Amount(piece.width_m, ROOM_LENGTH),))
        return Measured(values=(piece.width_m,), steps=(step,))

    return of_each(package.pieces, figure)


def _payload(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    vehicle = package.transport.if_given("vehicle")
    notes = in_all(package) + ((Step("by {}", (vehicle,)),) if vehicle else ())

    def figure(piece: Piece) -> Measured:
        payload, (mass, working) = package.transport.payload_kg, lift_mass(package, piece)
        figures = (Amount(mass, MASS), Amount(payload, MASS), Amount(mass / payload, RATIO))
        steps = (working, Step("{} ÷ {} = {}", figures))
        return Measured(values=(mass / payload,), steps=steps, notes=notes)

    return of_each(lifted(package), figure)


def _place(package: Package, piece: Piece | None) -> float | None:
    """Return where a piece stands from the hitch: its own place, or that of what holds it [m]."""
    while piece and piece.at_m is None:
        piece = next((p for p in package.pieces if p.mark == piece.packs_into), None)
    return piece.at_m if piece else None


def carried(package: Package) -> list[tuple[Piece, float]]:
    """Return the pieces on the trailer, each with its place from the hitch [m]."""
    lifted(package)  # a ring of pieces stands nowhere
    places = [(piece, _place(package, piece)) for piece in package.pieces]
    loaded = [(piece, at) for piece, at in places if at is not None]
    require_some(loaded, "Centre from the hitch (piece schedule)")
    return loaded


def moments(package: Package, *, of_trailer: bool) -> list[tuple[float, float]]:
    """Return the masses on the trailer, and where asked its own, and their places [kg, m]."""
    loaded, row = carried(package), package.transport
    masses = gathered([piece for piece, _ in loaded], lambda piece: piece.n * piece.mass_kg)
    parts = [(mass, at) for mass, (_, at) in zip(masses, loaded, strict=True)]
    return [*parts, (row.trailer_kg, row.trailer_at_m)] if of_trailer else parts


def _hitch(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    given = (package.transport.unless_blank(name) for name in ("trailer_kg", "trailer_at_m"))
    is_known = any(each is not None for each in given)
    parts = moments(package, of_trailer=is_known)
    total, centre = sum(mass for mass, _ in parts), centre_of_mass(parts)
    axle = package.transport.axle_m
    value = tongue_load(total, centre, axle) / total
    place = Amount(centre, ROOM_LENGTH)
    words = " + ".join(["{} × {}"] * len(parts))
    figures = [x for mass, at in parts for x in (Amount(mass, MASS), Amount(at, ROOM_LENGTH))]
    steps = (
        Step(f"({words}) ÷ {{}} = {{}}", (*figures, Amount(total, MASS), place)),
        Step("1 − {} ÷ {} = {}", (place, Amount(axle, ROOM_LENGTH), Amount(value, SHARE_PERCENT))),
    )
    said = "the trailer's own mass with it" if is_known else "the trailer's own mass left out"
    return [Measured(values=(value,), steps=steps, notes=(Step(said),))]


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
    kind = package.transport.container
    inside = listed([Amount(x, ROOM_LENGTH) for x in CONTAINERS_M[kind][0]], " × ")
    steps = (Step("{} inside: {}", (kind, inside)),)
    return [all_that_hold(package.pieces, lambda piece: fits_container(piece.sizes_m, kind), steps)]


def _nesting(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(piece: Piece) -> Measured:
        outer = holder(package, piece)
        pairs = zip(sorted(piece.sizes_m), sorted(outer.inside_m), strict=True)
        value = min((room - size) / 2 for size, room in pairs)
        figures = (outer.mark, piece.mark, Amount(value, LENGTH))
        step = Step("inside of {} less outside of {}, least half: {}", figures)
        return Measured(values=(value,), steps=(step,))

    return of_each([piece for piece in package.pieces if piece.packs_into], figure)


def packing_of(package: Package, piece: Piece) -> Packing:
    """Return how the furniture stowed in a piece packs."""
    rows = [row for row in package.furniture if row.stowed_in == piece.mark]
    sizes = gathered(rows, lambda row: row.stowed_sizes_m)
    boxes = [
        Box(f"{row.mark}.{i + 1}" if row.n > 1 else row.mark, each)
        for row, each in zip(rows, sizes, strict=True)
        for i in range(row.n)
    ]
    return pack(piece.inside_m, boxes)


def _stowing(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    used = {row.stowed_in for row in package.furniture}
    pieces = [piece for piece in package.pieces if piece.mark in used]
    require_some(pieces, "Stowed in: mark of a piece (furniture schedule)")
    steps: list[Step] = []

    def fits(piece: Piece) -> bool:
        answer = packing_of(package, piece)
        if answer.fit is Fit.UNKNOWN:
            stops = f"the search stops at {TRIES:,} positions or {MOST_BOXES} things"
            raise lacking(f"an answer for {piece.mark}: {stops}")
        steps.append(Step("{}: {} ({} positions tried)", (piece.mark, answer.fit, answer.tries)))
        for place in answer.places:
            corner = listed([Amount(x, LENGTH) for x in place.corner_m])
            steps.append(Step("{} at {} from the near left corner", (place.mark, corner)))
        return answer.fit is Fit.FITS

    return [all_that_hold(pieces, fits, steps)]


def _order(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    orders = gathered(package.pieces, lambda piece: piece.unless_blank("order"))
    if all(order is None for order in orders):
        raise lacking("Order (piece schedule)")
    once = {order for order in orders if order is not None and orders.count(order) == 1}
    return [all_that_hold(package.pieces, lambda piece: piece.unless_blank("order") in once)]


TRANSPORT_CHECKS = (
    Check(
        slug="road_height",
        title="Height on the road",
        topic="Moving",
        scales=(ROOM_LENGTH,),
        measure=_road_height,
        is_monotone=True,
        schedules=("pieces", "transport"),
        kinds=(ROAD,),
        rule=Rule.AT_MOST,
        formula="H = h + h_deck",
        meaning="h height of a piece as packed [m]; h_deck deck above the road [m]",
        citations=(ROAD_EU, ROAD_US),
        limits="Straps and eyes not in it. US states set the height, mostly 13 ft 6 in to 14 ft.",
        question="{name} stands {value} on the road, against {target}. Which bridge?",
        caution=_CAUTION,
    ),
    Check(
        slug="road_width",
        title="Width on the road",
        topic="Moving",
        scales=(ROOM_LENGTH,),
        measure=_road_width,
        is_monotone=True,
        schedules=("pieces",),
        kinds=(ROAD,),
        rule=Rule.AT_MOST,
        formula="w",
        meaning="w width of a piece as packed [m]",
        citations=(ROAD_EU, ROAD_US),
        limits="Without a permit. The federal US width is 102 in, taken as 2.6 m.",
        question="{name} is {value} wide on the road, against {target}. Whose permit?",
        caution=_CAUTION,
    ),
    Check(
        slug="payload",
        title="Heaviest lift / payload",
        topic="Moving",
        scales=(RATIO,),
        measure=_payload,
        is_monotone=True,
        schedules=("pieces", "transport"),
        kinds=PACKED_KINDS,
        rule=Rule.AT_MOST,
        formula="r = max(m) ÷ m_pay",
        meaning="m mass of a piece with what is packed inside it [kg]; m_pay what the vehicle may "
        "carry [kg]",
        citations=(PRACTICE,),
        limits="One lift at a time. Axles and the hitch have limits of their own.",
        question="The heaviest lift takes {value} of the payload, against {target}. Wet?",
        caution=_CAUTION,
    ),
    Check(
        slug="hitch_share",
        title="Share of the load on the hitch",
        topic="Moving",
        scales=(SHARE_PERCENT,),
        measure=_hitch,
        schedules=("pieces", "transport"),
        kinds=(ROAD,),
        formula="s = 1 − (Σ(m · x) ÷ Σ m) ÷ x_axle",
        meaning="m mass of each piece on the trailer, and of the trailer once it is given [kg]; x "
        "its centre from the hitch, or that of the piece it packs into [m]; x_axle middle of the "
        "axles [m]",
        citations=(PRACTICE,),
        limits="Pieces with a place alone, without water and tools. Drivers in the US "
        "keep 10 to 15 %, in Europe 5 to 7 % within the coupling's own limit (common practice, "
        "from memory). Too little sways.",
        question="{value} of the load is on the hitch, against {target}. Which piece moves?",
        caution=_CAUTION,
    ),
    Check(
        slug="container_fit",
        title="Every piece fits the container",
        topic="Moving",
        measure=_container,
        is_monotone=True,
        schedules=("pieces", "transport"),
        kinds=(ROAD,),
        rule=Rule.ALL,
        formula="two sides pass the door, and all stand inside",
        meaning="least inside sizes and door opening of the container",
        citations=(CONTAINER,),
        limits="Square to the walls, one piece at a time: how many go in together is another "
        "matter.",
        question="{value}: too large for the container. Through the door, or in two?",
        caution=_CAUTION,
    ),
    Check(
        slug="nesting_clearance",
        title="Clearance of pieces that nest",
        topic="Moving",
        scales=(LENGTH,),
        measure=_nesting,
        is_monotone=True,
        schedules=("pieces",),
        kinds=PACKED_KINDS,
        formula="c = min((inside − outside) ÷ 2)",
        meaning="inside of the outer piece and outside of the inner, side by side in order of "
        "size [mm]",
        citations=(PRACTICE,),
        limits="Square to each other. Room to slide is some 10 mm each side (common practice).",
        question="{name} slides in with {value} each side, against {target}. In wind, in gloves?",
    ),
    Check(
        slug="furniture_packs",
        title="Furniture fits the closed piece",
        topic="Moving",
        measure=_stowing,
        schedules=("furniture", "pieces"),
        rule=Rule.ALL,
        formula="an arrangement of the stowed sizes within the inside of the piece",
        meaning="sizes put away [mm], on any face, square to the walls",
        citations=(PRACTICE,),
        limits=f"An exact search that stops after {TRIES:,} positions, or at more than "
        f"{MOST_BOXES} things, and says so. Whether each can be brought in past the others is not "
        "in it.",
        question="{value}: what is stowed there does not fit. Where does the table go?",
    ),
    Check(
        slug="order_numbers",
        title="Every piece has its own order number",
        topic="Moving",
        measure=_order,
        schedules=("pieces",),
        rule=Rule.ALL,
        formula="each row has a number that no other has",
        meaning="order of arrival in the piece schedule",
        citations=(PRACTICE,),
        limits="That they are numbered, not that the order works.",
        question="{value}: no order number, or another's. Which goes first, and on what?",
    ),
)
