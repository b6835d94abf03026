"""Fresh air at night, from the vent schedule."""

from fractions import Fraction
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import all_but, gathered, of_each
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import air
from criteria.package import Package
from criteria.schedules.plant import BURNING, FED_FROM_OUTSIDE
from criteria.schedules.rooms import LIVED_IN, Room
from criteria.schedules.states import NIGHT
from criteria.sources import AIR_622, CO2_BALANCE, IRC_EXTRACT, PRACTICE, SINGLE_SIDED
from criteria.typed.cells import lacking
from criteria.units import (
    AIR_FLOW,
    CFM,
    CONCENTRATION,
    FLOOR,
    FT2,
    L_S,
    RATIO,
    ROOM_LENGTH,
    Scale,
    Unit,
)


def _of_room(package: Package, room: Room) -> Measured:
    vents = [vent for vent in package.vents if vent.room == room.mark]
    flows = gathered(vents, lambda vent: vent.n * vent.flow_m3_s)
    total = sum(flows)
    steps = [
        Step("{}: {} × {} = {}", (v.mark, v.n, Amount(v.flow_m3_s, AIR_FLOW), Amount(f, AIR_FLOW)))
        for v, f in zip(vents, flows, strict=True)
    ]
    value = air.air_per_sleeper(total, room.sleepers)
    last = (Amount(total, AIR_FLOW), room.sleepers, Amount(value, AIR_FLOW))
    steps.append(Step("{} ÷ {} sleepers = {}", last))
    notes = () if vents else (Step("no row for {} in the vent schedule", (room.mark,)),)
    return Measured(values=(value,), steps=tuple(steps), notes=notes)


AIR_BY_FLOOR = Scale(
    Unit("L/s·m²", "air by floor", Fraction(1, 1000)),
    Unit("cfm/ft²", "air by floor", CFM.factor / FT2.factor),
    2,
    4,
)
"""Shown in working and never read."""


def _dwelling_air(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    given = sum(gathered(package.vents, lambda vent: vent.n * vent.flow_m3_s))
    floor = sum(gathered(package.rooms, lambda room: room.floor_m2))
    bedrooms = max(1, len(package.slept_in))
    beyond = max(0, _sleepers(package) - bedrooms - 1)
    form = air.DWELLING_IP if package.is_us else air.DWELLING_SI
    need = air.dwelling_air(floor, bedrooms, beyond, form)
    value = given / need
    supplied, needed = Amount(given, AIR_FLOW), Amount(need, AIR_FLOW)
    figures = (
        Amount(form.per_floor_m_s, AIR_BY_FLOOR),
        Amount(floor, FLOOR),
        Amount(form.per_person_m3_s, AIR_FLOW),
        bedrooms,
        beyond,
        needed,
    )
    steps = (
        Step("{} × {} + {} × ({} bedrooms + 1 + {} more people) = {}", figures),
        Step("{} ÷ {} = {}", (supplied, needed, Amount(value, RATIO))),
    )
    notes = (Step("{} of {}", (supplied, needed)),)
    return [Measured(values=(value,), steps=steps, notes=notes)]


def _sleepers(package: Package) -> int:
    return sum(gathered(package.slept_in, lambda room: room.sleepers))


CO2_FLOW = Scale(L_S, CFM, 4, 4)
"""For what one person breathes out."""
OUTSIDE_CO2 = 420e-6
"""Carbon dioxide of outside air [1]. Common practice, near the 2023 mean."""
ASLEEP_CO2_M3_S = 3.9e-6
"""Given off by an adult at rest [m³/s]. Persily and de Jonge (2017), from memory."""


def _settles_at(package: Package, room: Room) -> Measured:
    night = _of_room(package, room)
    each_one = night.values[0]
    if not each_one:
        raise lacking(f"fresh air of {room.name}, without which it never settles (vent schedule)")
    value = air.steady_co2(1, each_one, OUTSIDE_CO2, ASLEEP_CO2_M3_S)
    figures = (
        Amount(OUTSIDE_CO2, CONCENTRATION),
        Amount(ASLEEP_CO2_M3_S, CO2_FLOW),
        Amount(each_one, AIR_FLOW),
        Amount(value, CONCENTRATION),
    )
    return Measured(values=(value,), steps=(*night.steps, Step("{} + {} ÷ {} = {}", figures)))


def _wet_extract(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("wc", "kitchen"))
    served = {vent.room for vent in package.vents}
    return (
        [all_but([room.if_given("name") or room.mark for room in rooms if room.mark not in served])]
        if rooms
        else []
    )


def _combustion(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    plant = package.plant
    if not plant.burns and plant.heater not in BURNING:
        return [all_but([], notes=(Step("nothing burns indoors"),))]
    fed = plant.fire_air in FED_FROM_OUTSIDE
    notes = (Step("air for the fire: {}", (plant.fire_air,)),)
    return [all_but([] if fed else ["the fire's air from outside"], notes=notes)]


def _single_sided(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return of_each(package.rooms_used_for(uses or LIVED_IN), _depth_in_heights)


def _depth_in_heights(room: Room) -> Measured:
    depth, height = room.depth_m, require_positive("height", room.clear_height_m, "m")
    value = depth / height
    figures = (Amount(depth, ROOM_LENGTH), Amount(height, ROOM_LENGTH), Amount(value, RATIO))
    return Measured(values=(value,), steps=(Step("{} ÷ {} = {}", figures),))


_BURNING = (
    "Where anything burns indoors it needs air of its own and a carbon monoxide alarm; a licensed "
    "installer decides."
)

AIR_CHECKS = (
    Check(
        slug="night_air",
        title="Night fresh air per sleeper",
        topic="Air",
        kinds=(NIGHT,),
        scales=(AIR_FLOW,),
        measure=lambda package, _: of_each(package.slept_in, partial(_of_room, package)),
        schedules=("rooms", "vents"),
        formula="q = Σ(n · q_vent) ÷ n_s",
        meaning="n vents alike; q_vent fresh air of each as it is left in a storm [L/s]; n_s "
        "sleepers in the room",
        citations=(PRACTICE,),
        limits="Openings that can be left in a storm; windows are not counted. The worst sleeping "
        "room decides, a warden's included; a room without a row counts as 0.",
        question="People asleep in {name}, door shut, gale outside: {value} each, against "
        "{target}. What is open?",
        caution=_BURNING,
    ),
    Check(
        slug="dwelling_air",
        title="Whole-dwelling air, given / needed",
        topic="Air",
        kinds=(NIGHT,),
        scales=(RATIO,),
        measure=_dwelling_air,
        schedules=("rooms", "vents"),
        formula="r = Σ(n · q) ÷ (0.15 · A + 3.5 · (N + 1 + max(0, P − N − 1)))",
        meaning="n, q vents and what each gives [L/s]; A floor [m²]; N rooms slept in, at least "
        "one; P sleepers",
        citations=(AIR_622,),
        limits="Dwellings. The inch-pound form of the standard, 0.03 cfm/ft² and 7.5 cfm, is "
        "another figure, 1.3 % apart: it holds where the studio works in US units, and the two "
        "never mix.",
        question="Vents give {value} of what a dwelling needs, against {target}. What is open in "
        "a calm?",
    ),
    Check(
        slug="night_co2",
        title="Carbon dioxide by morning",
        topic="Air",
        kinds=(NIGHT,),
        scales=(CONCENTRATION,),
        measure=lambda package, _: of_each(package.slept_in, partial(_settles_at, package)),
        schedules=("rooms", "vents"),
        rule=Rule.AT_MOST,
        formula="C = C_o + G ÷ q",
        meaning="C_o outside, 420 ppm; G given off by a sleeper, 0.0039 L/s; q fresh air of each "
        "[L/s]",
        citations=(CO2_BALANCE,),
        limits="Settled, well mixed. A sign of staleness; no code sets it as a limit for "
        "dwellings.",
        question="{name} settles at {value} by morning, against {target}. Who wakes with a "
        "headache?",
    ),
    Check(
        slug="wet_extract",
        title="Kitchen, toilet and washing with a vent",
        topic="Air",
        measure=_wet_extract,
        schedules=("rooms", "vents"),
        uses=("wc", "kitchen"),
        rule=Rule.ALL,
        formula="every such room has a row in the vent schedule",
        meaning="rooms of use wc and kitchen",
        citations=(IRC_EXTRACT,),
        limits="A row, not its flow. The code asks of toilets and baths 20 cfm (10 L/s) always or "
        "50 cfm (25 L/s) at need, of kitchens 25 cfm (12 L/s) always or 100 cfm (50 L/s) at need.",
        question="{value}: no vent. Draw the way that the air takes.",
    ),
    Check(
        slug="combustion_air",
        title="Air for what burns",
        topic="Air",
        measure=_combustion,
        schedules=("plant",),
        rule=Rule.ALL,
        formula="what burns indoors has air from outside",
        meaning="the plant's row says where from: a duct from outside, or a sealed appliance",
        citations=(PRACTICE,),
        limits="Says that a way is named, not that it is large enough.",
        question="Nothing brings the fire air from outside. Where does it come from, doors shut?",
        caution=_BURNING,
    ),
    Check(
        slug="single_sided_depth",
        title="Depth in room heights",
        topic="Air",
        scales=(RATIO,),
        measure=_single_sided,
        schedules=("rooms",),
        uses=LIVED_IN,
        rule=Rule.AT_MOST,
        formula="r = L ÷ h",
        meaning="L depth from the window wall [m]; h clear height [m]",
        citations=(SINGLE_SIDED,),
        limits="Windows in one wall: 2.5 is the usual limit, 5 with windows opposite. Sources "
        "take the opening's height instead of the room's.",
        question="{name} is {value} heights deep, against {target}. What moves the air at the "
        "back?",
    ),
)
