"""Fresh air at night, from the vent schedule."""

from fractions import Fraction

from criteria.checks.check import Check, blank
from criteria.checks.reading import all_but, each
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import air
from criteria.package import Package
from criteria.schedules.air import Vent
from criteria.schedules.plant import Plant
from criteria.schedules.rooms import LIVED_IN, Room
from criteria.sources import AIR_622, CO2_BALANCE, IRC_EXTRACT, PRACTICE, SINGLE_SIDED
from criteria.units import (
    AIR_FLOW,
    CFM,
    CONCENTRATION,
    COUNT,
    FLOOR,
    FT2,
    L_S,
    RATIO,
    ROOM_LENGTH,
    Scale,
    Unit,
)


def _night_air(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return [_of_room(package, room) for room in package.rooms_used_for(("sleep",)) if _sleeps(room)]


def _sleeps(room: Room) -> bool:
    return room.sleepers is None or room.sleepers > 0


def _of_room(package: Package, room: Room) -> Measured:
    about = {"subject": room.mark, "name": room.name, "use": room.use or ""}
    vents = [vent for vent in package.vents if vent.room == room.mark]
    missing = blank(Room.schedule, room, "sleepers")
    if not package.vents:
        missing = ("rows of the vent schedule", *missing)
    for vent in vents:
        missing += blank(Vent.schedule, vent, "n", "l_s_each")
    if missing:
        return Measured(missing=missing, **about)
    steps, total = [], 0.0
    for vent in vents:
        assert vent.n is not None and vent.flow_m3_s is not None
        flow = vent.n * vent.flow_m3_s
        total += flow
        amounts = (vent.mark, vent.n, Amount(vent.flow_m3_s, AIR_FLOW), Amount(flow, AIR_FLOW))
        steps.append(Step("{}: {} × {} = {}", amounts))
    value = air.air_per_sleeper(total, room.sleepers or 0)
    last = (Amount(total, AIR_FLOW), room.sleepers or 0, Amount(value, AIR_FLOW))
    steps.append(Step("{} ÷ {} sleepers = {}", last))
    notes = () if vents else (Step("no row for {} in the vent schedule", (room.mark,)),)
    return Measured(values=(value,), steps=tuple(steps), notes=notes, **about)


def _supply(package: Package) -> tuple[float, tuple[str, ...]]:
    """Return the air of all vents [m³/s], and what is blank of them."""
    if not package.vents:
        return 0.0, ("rows of the vent schedule",)
    cells = [c for vent in package.vents for c in blank(Vent.schedule, vent, "n", "l_s_each")]
    return sum((v.n or 0) * (v.flow_m3_s or 0) for v in package.vents), tuple(cells)


AIR_BY_FLOOR = Scale(
    Unit("L/s·m²", "air by floor", Fraction(1, 1000)),
    Unit("cfm/ft²", "air by floor", CFM.factor / FT2.factor),
    2,
    4,
)
"""Shown in working and never read."""


def _dwelling_air(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, missing = _supply(package)
    floors = [cell for room in package.rooms for cell in blank(Room.schedule, room, "floor_m2")]
    if not package.rooms:
        floors = ["rows of the room schedule"]
    if missing or floors:
        return [Measured(missing=(*missing, *floors))]
    floor = sum(room.floor_m2 or 0 for room in package.rooms)
    bedrooms = max(1, len(package.rooms_used_for(("sleep",))))
    need = air.dwelling_air_si(floor, bedrooms)
    value = total / need
    supplied, needed = Amount(total, AIR_FLOW), Amount(need, AIR_FLOW)
    by_floor = (Amount(air.PER_FLOOR_M_S, AIR_BY_FLOOR), Amount(floor, FLOOR))
    by_bedroom = (Amount(air.PER_BEDROOM_M3_S, AIR_FLOW), bedrooms)
    steps = (
        Step("{} × {} + {} × ({} + 1) = {}", (*by_floor, *by_bedroom, needed)),
        Step("{} ÷ {} = {}", (supplied, needed, Amount(value, RATIO))),
    )
    notes = (Step("{} of {}", (supplied, needed)),)
    return [Measured(values=(value,), steps=steps, notes=notes)]


CO2_FLOW = Scale(L_S, CFM, 4, 4)
"""For what one person breathes out."""
OUTSIDE_CO2 = 420e-6
"""Carbon dioxide of outside air [1]. Common practice, near the 2023 mean."""
ASLEEP_CO2_M3_S = 3.9e-6
"""Given off by an adult at rest [m³/s]. Persily and de Jonge (2017), from memory."""


def _co2(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for night in _night_air(package, uses):
        about = {"subject": night.subject, "name": night.name, "use": night.use}
        if not night.values or not night.values[0]:
            said = Step("no fresh air in {}: it never settles", (night.name,))
            note = () if night.missing else (said,)
            cells = night.missing or (f"fresh air of {night.name} (vent schedule)",)
            found.append(Measured(missing=cells, notes=note, **about))
            continue
        each_one = night.values[0]
        value = air.steady_co2(1, each_one, OUTSIDE_CO2, ASLEEP_CO2_M3_S)
        figures = (
            Amount(OUTSIDE_CO2, CONCENTRATION), Amount(ASLEEP_CO2_M3_S, CO2_FLOW),
            Amount(each_one, AIR_FLOW), Amount(value, CONCENTRATION),
        )  # fmt: skip
        steps = (*night.steps, Step("{} + {} ÷ {} = {}", figures))
        found.append(Measured(values=(value,), steps=steps, **about))
    return found


def _wet_extract(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("wc", "kitchen"))
    if not package.vents:
        return [Measured(missing=("rows of the vent schedule",))]
    if not rooms:
        return []
    served = {vent.room for vent in package.vents}
    return [all_but([room.name for room in rooms if room.mark not in served])]


def _combustion(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    plant = package.plant
    if plant.burns is None:
        return [Measured(missing=blank(Plant.schedule, plant, "burns"))]
    if not plant.burns:
        return [all_but([], notes=(Step("nothing burns indoors"),))]
    return [all_but([] if plant.combustion_air else ["the fire's air from outside"])]


def _single_sided(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or LIVED_IN)
    return each(Room.schedule, rooms, ("depth_m", "clear_height_m"), _depth_in_heights)


def _depth_in_heights(room: Room) -> tuple[float, tuple[Step, ...]]:
    depth, height = room.depth_m or 0, room.clear_height_m or 0
    value = depth / height
    figures = (Amount(depth, ROOM_LENGTH), Amount(height, ROOM_LENGTH), Amount(value, RATIO))
    return value, (Step("{} ÷ {} = {}", figures),)


_BURNING = (
    "Where anything burns indoors it needs air of its own and a carbon monoxide alarm; a licensed "
    "installer decides."
)

DWELLING_AIR = Check(
    slug="dwelling_air",
    title="Whole-dwelling air, given / needed",
    topic="Air",
    scales=(RATIO,),
    measure=_dwelling_air,
    schedules=("rooms", "vents"),
    formula="r = Σ(n · q) ÷ (0.15 · A + 3.5 · (N + 1))",
    meaning="n, q vents and what each gives [L/s]; A floor [m²]; N sleeping rooms, at least one",
    citations=(AIR_622,),
    limits="Dwellings. The inch-pound form of the standard is another figure, 1.3 % apart; a hut "
    "that sleeps many in a room needs more, as night air shows.",
    question="Vents give {value} of what a dwelling needs, against {target}. What is open in a "
    "calm?",
)

NIGHT_CO2 = Check(
    slug="night_co2",
    title="Carbon dioxide by morning",
    topic="Air",
    scales=(CONCENTRATION,),
    measure=_co2,
    schedules=("rooms", "vents"),
    rule=Rule.AT_MOST,
    formula="C = C_o + G ÷ q",
    meaning="C_o outside, 420 ppm; G given off by a sleeper, 0.0039 L/s; q fresh air of each [L/s]",
    citations=(CO2_BALANCE,),
    limits="Settled, well mixed. A sign of staleness; no code sets it as a limit for dwellings.",
    question="{name} settles at {value} by morning, against {target}. Who wakes with a headache?",
)

WET_EXTRACT = Check(
    slug="wet_extract",
    title="Kitchen, toilet and washing with a vent",
    topic="Air",
    scales=(COUNT,),
    measure=_wet_extract,
    schedules=("rooms", "vents"),
    uses=("wc", "kitchen"),
    rule=Rule.ALL,
    is_count=True,
    formula="every such room has a row in the vent schedule",
    meaning="rooms of use wc and kitchen",
    citations=(IRC_EXTRACT,),
    limits="A row, not its flow: 20 cfm (10 L/s) always or 50 cfm (25 L/s) at need is the code's.",
    question="{value}: no vent. Draw the way that the air takes.",
)

COMBUSTION_AIR = Check(
    slug="combustion_air",
    title="Air for what burns",
    topic="Air",
    scales=(COUNT,),
    measure=_combustion,
    schedules=("plant",),
    rule=Rule.ALL,
    is_count=True,
    formula="what burns indoors has air from outside",
    meaning="the plant's row says where from",
    citations=(PRACTICE,),
    limits="Says that a way is named, not that it is large enough.",
    question="Nothing brings the fire air from outside. Where does it come from, doors shut?",
    caution=_BURNING,
)

SINGLE_SIDED_DEPTH = Check(
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
    limits="Windows in one wall: 2.5 is the usual limit, 5 with windows opposite. Sources take "
    "the opening's height instead of the room's.",
    question="{name} is {value} heights deep, against {target}. What moves the air at the back?",
)

NIGHT_AIR = Check(
    slug="night_air",
    title="Night fresh air per sleeper",
    topic="Air",
    scales=(AIR_FLOW,),
    measure=_night_air,
    schedules=("rooms", "vents"),
    formula="q = Σ(n · q_vent) ÷ n_s",
    meaning="n vents alike; q_vent fresh air of each as it is left in a storm [L/s]; n_s sleepers "
    "in the room",
    citations=(PRACTICE,),
    limits="Openings that can be left in a storm; windows are not counted. The worst sleeping "
    "room decides, a warden's included; a room without a row counts as 0.",
    question="People asleep in {name}, door shut, gale outside: {value} each, against {target}. "
    "What is open?",
    caution=_BURNING,
)
