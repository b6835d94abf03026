"""What axles, tyres and plates carry on the road, and how far a load leans before it goes over."""

from collections.abc import Callable
from dataclasses import replace

from criteria.checks.check import Check
from criteria.checks.moving import holder
from criteria.checks.reading import gathered, measured
from criteria.checks.transport import carried, moments
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.measures import moving, water
from criteria.measures.moving import bridge_formula
from criteria.package import Package
from criteria.schedules.moving import Piece
from criteria.schedules.states import ROAD
from criteria.schedules.water import Tank
from criteria.sources import BRIDGE_FORMULA, PRACTICE
from criteria.typed.cells import lacking
from criteria.units import FOOT, INCH, MASS, POUND, RATIO, ROOM_LENGTH

_CAUTION = "Loading and road permits: a licensed haulier decides."

GROSS_KG = 80_000 * float(POUND)
"""Most that a vehicle may weigh, laden, without a permit [kg]. 23 CFR 658.17(b), quoted."""
CLOSE = ((40 * float(INCH), 20_000 * float(POUND)), (8 * float(FOOT), 34_000 * float(POUND)))
"""Most on axles that stand within so much of each other [m], [kg]: one axle, and a tandem.
23 CFR 658.5 and 658.17(c) and (d), quoted."""


def most_on_axles(axles: int, spread_m: float) -> float:
    """Return the most that a group of axles may carry, whatever else the vehicle does [kg].

    >>> [round(most_on_axles(2, feet * 0.3048) / 0.45359237) for feet in (40 / 12, 4, 8, 8.1)]
    [20000, 34000, 34000, 38000]
    """
    close = next((most for within, most in CLOSE if spread_m <= within * (1 + SAME)), GROSS_KG)
    return min(bridge_formula(axles, spread_m), close, GROSS_KG)


def _axle_group(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.transport
    axles, spread, laden = row.axles, row.spread_m, row.group_kg
    by_formula = bridge_formula(axles, spread)
    allowed = most_on_axles(axles, spread)
    value = laden / allowed
    may = Amount(allowed, MASS)
    figures = (axles, Amount(spread, ROOM_LENGTH), Amount(by_formula, MASS))
    steps = (
        Step("{} axles over {}: {} by the formula", figures),
        Step("{} ÷ {} = {}", (Amount(laden, MASS), may, Amount(value, RATIO))),
    )
    words = "whatever the formula gives, {} is the most without a permit"
    notes = (Step(words, (may,)),) if allowed < by_formula else ()
    return [Measured(values=(value,), steps=steps, notes=notes)]


AXLE_GROUP = Check(
    slug="axle_group",
    title="Load on a group of axles / allowed",
    topic="Moving",
    scales=(RATIO,),
    measure=_axle_group,
    schedules=("transport",),
    rule=Rule.AT_MOST,
    formula="r = m ÷ min(W, 80,000 lb, 34,000 lb within 8 ft, 20,000 lb within 40 in); "
    "W = 500 · (L · N ÷ (N − 1) + 12 · N + 36)",
    meaning="m on the group, laden [kg]; N axles in it; L first to last of them [ft]; W to the "
    "nearest 500 [lb]",
    citations=(BRIDGE_FORMULA,),
    limits="US Interstate roads, one group of two or more axles at a time: hold each group in "
    "turn. Axles within 40 in count as one. A pair of tandems 36 ft apart has figures of its own; "
    "so have states and other countries.",
    question="The axles carry {value} of what is allowed, against {target}. Which piece stays?",
    caution=_CAUTION,
)


def _gross(package: Package) -> tuple[float, Step]:
    """What the trailer weighs, laden, in a state [kg], and its working."""
    row, parts = package.transport, moments(package, of_trailer=False)
    own, aboard = row.trailer_kg, row.aboard_kg
    loaded = sum(mass for mass, _ in parts)
    tanks = [tank for tank in package.rows_of(Tank) if tank.full_share]
    wet = sum(gathered(tanks, lambda tank: water.water_mass(tank.volume_m3) * tank.full_share))
    figures = (own, loaded, wet, aboard, own + loaded + wet + aboard)
    words = "trailer {} + pieces {} + in tanks {} + tools {} = {}"
    return figures[-1], Step(words, tuple(Amount(mass, MASS) for mass in figures))


def _on_axles(package: Package) -> tuple[float, Step]:
    """What its axles carry together [kg]: water and tools are taken to stand over them."""
    (gross, _), parts = _gross(package), moments(package, of_trailer=True)
    mass, centre = sum(mass for mass, _ in parts), moving.centre_of_mass(parts)
    hitch = moving.tongue_load(mass, centre, package.transport.axle_m)
    figures = (gross, hitch, gross - hitch)
    words = "{} − {} on the hitch = {} on the axles"
    return gross - hitch, Step(words, tuple(Amount(each, MASS) for each in figures))


def _on_plates(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.transport

    def gross() -> Measured:
        mass, working = _gross(package)
        return _held(mass, row.plate_kg, working)

    def axle() -> Measured:
        on, working = _on_axles(package)
        shared = Step("{} ÷ {} axles", (Amount(on, MASS), row.trailer_axles))
        return _held(on / row.trailer_axles, row.axle_plate_kg, working, shared)

    def tyre() -> Measured:
        on, working = _on_axles(package)
        tyres = row.trailer_axles * row.tyres
        shared = Step("{} ÷ {} tyres", (Amount(on, MASS), tyres))
        return _held(on / tyres, row.tyre_kg, working, shared)

    asked = {"gross": gross, "each axle": axle, "each tyre": tyre}
    return [replace(_one(figure), subject=name) for name, figure in asked.items()]


def _one(figure: Callable[[], Measured]) -> Measured:
    return measured(lambda: [figure()])[0]


def _held(mass_kg: float, may_kg: float, *working: Step) -> Measured:
    value = mass_kg / may_kg
    figures = (Amount(mass_kg, MASS), Amount(may_kg, MASS), Amount(value, RATIO))
    return Measured(values=(value,), steps=(*working, Step("{} ÷ {} = {}", figures)))


def _stability(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row, pieces = package.transport, [piece for piece, _ in carried(package)]
    wet = [tank.mark for tank in package.rows_of(Tank) if tank.full_share]
    if wet:
        raise lacking(f"{', '.join(wet)} empty on the road (tanks by state), or how high they lie")
    middles = dict(gathered(pieces, lambda piece: (piece.mark, _middle_m(piece, package))))
    floor = min(gathered([_on_deck(piece, package) for piece in pieces], lambda p: p.at_z_m))
    parts = [(row.trailer_kg, row.trailer_h_m)]
    parts += gathered(
        pieces,
        lambda piece: (piece.n * piece.mass_kg, row.deck_m + middles[piece.mark] - floor),
    )
    height, track = moving.centre_of_mass(parts), row.track_m
    value = track / (2 * height)
    words = " + ".join(["{} × {}"] * len(parts))
    figures = [x for mass, at in parts for x in (Amount(mass, MASS), Amount(at, ROOM_LENGTH))]
    total, up = Amount(sum(mass for mass, _ in parts), MASS), Amount(height, ROOM_LENGTH)
    steps = (
        Step(f"({words}) ÷ {{}} = {{}}", (*figures, total, up)),
        Step("{} ÷ (2 × {}) = {}", (Amount(track, ROOM_LENGTH), up, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=steps, notes=(Step("tools aboard left out"),))]


def _on_deck(piece: Piece, package: Package) -> Piece:
    """The piece whose height says how high a piece lies: what it stands in, unless it says so."""
    while piece.packs_into and not piece.is_of_state("at_z_m"):
        piece = holder(package, piece)
    return piece


def _middle_m(piece: Piece, package: Package) -> float:
    on = _on_deck(piece, package)
    return on.at_z_m + on.height_m / 2


ROAD_LOAD_CHECKS = (
    AXLE_GROUP,
    Check(
        slug="gross_on_plate",
        title="Gross mass, axles and tyres / their plates",
        topic="Moving",
        scales=(RATIO,),
        measure=_on_plates,
        is_monotone=True,
        schedules=("transport", "pieces", "pieces_by_state", "tanks", "tanks_by_state"),
        kinds=(ROAD,),
        rule=Rule.AT_MOST,
        formula="r = m ÷ plate; (m − T) ÷ N ÷ plate of one axle; (m − T) ÷ (N · n) ÷ load of one "
        "tyre; T = Σ m_i · (x_axle − x_i) ÷ x_axle",
        meaning="m trailer, pieces on it, what stays in tanks, and tools [kg]; T on the hitch "
        "[kg]; N axles, n tyres of each; x places from the hitch [m]; the worst decides",
        citations=(PRACTICE,),
        limits="One journey: pieces with a place from the hitch. Axles share alike; water and "
        "tools are taken to stand over them; tyres at the pressure of their load. What the car "
        "may pull is on its own plate.",
        question="{name} carries {value} of its plate, against {target}. Wet, with the tools?",
        caution=_CAUTION,
    ),
    Check(
        slug="static_stability",
        title="Track / twice the height of the centre of mass",
        topic="Moving",
        scales=(RATIO,),
        measure=_stability,
        schedules=("transport", "pieces", "pieces_by_state", "tanks", "tanks_by_state"),
        kinds=(ROAD,),
        formula="r = T ÷ (2 · h),  h = Σ(m · z) ÷ Σ m",
        meaning="T between the tyres left and right [m]; h centre of mass above the road, z of the "
        "trailer and of each piece on it [m]; the lowest stands on the deck",
        citations=(PRACTICE,),
        limits="Sideways pull in g at which a stiff load on stiff springs goes over; real ones go "
        "earlier. 0.35 at least (common practice, from memory). Water that stays in tanks leaves "
        "it unsaid: it lies as high as nobody types, and moves.",
        question="It goes over at {value} g, against {target}. On which bend, in which wind?",
        caution=_CAUTION,
    ),
)
