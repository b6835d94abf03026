"""Heat loss on the coldest night, surface by surface, and when no heating is needed."""

from dataclasses import dataclass
from fractions import Fraction

from criteria.checks.check import Check, blank
from criteria.checks.envelope import part_resistance
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.measures.envelope import u_value
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.envelope import PARTS
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.sources import AIR_AT_ALTITUDE, HEAT_TRANSFER, PRACTICE
from criteria.units import (
    AIR_HEAT,
    AREA,
    HEAT_LOSS_RATE,
    POWER,
    RANKINE,
    TEMPERATURE,
    U_VALUE,
    VENTILATION,
    VOLUME,
    Scale,
    Unit,
)

TEMPERATURE_DIFFERENCE = Scale(
    Unit("K", "temperature difference", Fraction(1)),
    Unit("°F", "temperature difference", RANKINE),
    1,
    1,
)
"""Its units are shown and never read: "°F" as typed is a temperature."""
BRIDGES = 1.10
"""Fabric loss is taken this much larger for edges and fixings [1]. Common practice."""
CHANGES_PER_H = 0.5
"""Air changes of the whole volume that the loss reckons with at least [1/h]. Common practice."""


@dataclass(frozen=True, kw_only=True)
class Balance:
    """The heat balance of a package; figures hold only where nothing is missing.

    surfaces    name, area [m²] and U [W/m²K] of each
    air_m3_s    design air [m³/s]
    """

    volume_m3: float
    gross_wall_m2: float
    wall_net_m2: float
    windows_m2: float
    doors_m2: float
    surfaces: tuple[tuple[str, float, float], ...]
    air_m3_s: float
    air_heat_j_m3k: float
    recovery: float
    inside_k: float
    outside_k: float
    missing: tuple[str, ...]
    notes: tuple[Step, ...]

    @property
    def fabric_w_k(self) -> float:
        """Loss through surfaces before bridges [W/K]."""
        return sum(area * u for _, area, u in self.surfaces)

    @property
    def air_w_k(self) -> float:
        """Loss with the air [W/K]."""
        return heat.air_loss_rate(self.air_m3_s, self.air_heat_j_m3k, self.recovery)

    @property
    def rate_w_k(self) -> float:
        """Loss of the whole for a degree of difference [W/K]."""
        return BRIDGES * self.fabric_w_k + self.air_w_k

    def loss_w(self, air_heat_j_m3k: float | None = None) -> float:
        """Return the loss at design temperatures [W], with other air if it is given."""
        held = air_heat_j_m3k or self.air_heat_j_m3k
        air = heat.air_loss_rate(self.air_m3_s, held, self.recovery)
        return heat.heat_loss(BRIDGES * self.fabric_w_k, air, self.inside_k, self.outside_k)


def _gross(package: Package, part: str) -> tuple[float, tuple[str, ...]]:
    rows = [layer for layer in package.envelope if layer.part == part]
    areas = sorted({layer.gross_area_m2 for layer in rows if layer.gross_area_m2 is not None})
    if len(areas) > 1:
        said = f"one gross area in place of {len(areas)} that differ"
        return 0.0, (f"{part}, {said} (envelope layers)",)
    if not areas:
        return 0.0, (f"{part}, Gross area of the part (envelope layers)",)
    return areas[0], ()


def _windows(package: Package) -> tuple[list[tuple[str, float, float]], tuple[str, ...]]:
    if not package.windows:
        return [], ("rows of the window schedule",)
    found, missing = [], []
    for window in package.windows:
        cells = blank(Window.schedule, window, "n", "frame_w", "frame_h", "u")
        missing += cells
        if not cells:
            area = (window.n or 0) * (window.frame_w_m or 0) * (window.frame_h_m or 0)
            found.append((window.mark, area, window.u_w_m2k or 0))
    return found, tuple(missing)


def _doors(package: Package) -> tuple[list[tuple[str, float, float]], tuple[str, ...]]:
    outside = [door for door in package.doors if door.is_outside]
    if not outside:
        return [], ("an outside door (door schedule)",)
    found, missing = [], []
    for door in outside:
        cells = blank(Door.schedule, door, "leaf_w", "height", "u")
        missing += cells
        if not cells:
            found.append((door.mark, (door.leaf_w_m or 0) * (door.height_m or 0), door.u_w_m2k))
    return found, tuple(missing)


def _air_heat(site: Site) -> tuple[float, tuple[str, ...]]:
    """Return what the site's air holds [J/m³K]: as given, or worked out from the altitude."""
    if site.air_heat_j_m3k is not None:
        return site.air_heat_j_m3k, ()
    missing = blank(Site.schedule, site, "altitude_m", "design_outside_c", "design_inside_c")
    if missing:
        return 0.0, missing
    mean = ((site.design_inside_k or 0) + (site.design_outside_k or 0)) / 2
    return heat.air_heat(site.altitude_m or 0, mean), ()


def balance(package: Package) -> Balance:
    """Return the heat balance of a package, and what it lacks."""
    site, missing, notes = package.site, [], []
    windows, blanks = _windows(package)
    missing += blanks
    doors, blanks = _doors(package)
    missing += blanks
    windows_m2 = sum(area for _, area, _ in windows)
    doors_m2 = sum(area for _, area, _ in doors)
    surfaces = []
    gross_wall = 0.0
    for part in PARTS:
        gross, blanks = _gross(package, part)
        layers = part_resistance(package, part)
        missing += (*blanks, *layers.missing)
        net = gross - windows_m2 - doors_m2 if part == "wall" else gross
        if part == "wall":
            gross_wall = gross
            if gross and net <= 0:
                missing.append("wall, a gross area larger than its openings (envelope layers)")
        if layers.resistance:
            surfaces.append((part, max(net, 0.0), u_value(layers.resistance)))
    if not package.rooms:
        missing.append("rows of the room schedule")
    for room in package.rooms:
        missing += blank(Room.schedule, room, "floor_m2", "clear_height_m")
    volume = sum((r.floor_m2 or 0) * (r.clear_height_m or 0) for r in package.rooms)
    heads = ("people", "fresh_air_l_s", "design_outside_c", "design_inside_c")
    missing += blank(Site.schedule, site, *heads)
    held, blanks = _air_heat(site)
    missing += blanks
    inside, outside = site.design_inside_k or 0, site.design_outside_k or 0
    if inside and outside and inside <= outside:
        missing.append("Design inside, warmer than outside (site sheet)")
    if package.plant.recovery_typed is None:
        notes.append(Step("no heat recovery is said: none is taken"))
    if package.plant.recovery_is_odd:
        typed = f"{package.plant.recovery_typed:g}"
        notes.append(Step("recovery {} is not a fraction, treated as 0", (typed,)))
    return Balance(
        volume_m3=volume,
        gross_wall_m2=gross_wall,
        wall_net_m2=gross_wall - windows_m2 - doors_m2,
        windows_m2=windows_m2,
        doors_m2=doors_m2,
        surfaces=(*surfaces, *windows, *doors),
        air_m3_s=heat.design_air(volume, site.people or 0, site.fresh_air_m3_s or 0, CHANGES_PER_H),
        air_heat_j_m3k=held,
        recovery=package.plant.recovery,
        inside_k=inside,
        outside_k=outside,
        missing=tuple(dict.fromkeys(missing)),
        notes=tuple(notes),
    )


def _steps(b: Balance) -> tuple[Step, ...]:
    ranked = sorted(b.surfaces, key=lambda s: -s[1] * s[2])
    surfaces = [
        Step(
            "{}: {} × {} = {}",
            (name, Amount(area, AREA), Amount(u, U_VALUE), Amount(area * u, HEAT_LOSS_RATE)),
        )
        for name, area, u in ranked
    ]
    volume = Amount(b.volume_m3, VOLUME)
    rate = Amount(b.fabric_w_k, HEAT_LOSS_RATE)
    flow = Amount(b.air_m3_s, VENTILATION)
    air = (flow, Amount(b.air_heat_j_m3k, AIR_HEAT), f"{b.recovery:g}")
    last = (
        f"{BRIDGES:.2f}", rate, Amount(b.air_w_k, HEAT_LOSS_RATE),
        Amount(b.inside_k - b.outside_k, TEMPERATURE_DIFFERENCE), Amount(b.loss_w(), POWER),
    )  # fmt: skip
    return (
        *surfaces,
        Step("surfaces together {}", (rate,)),
        Step("volume {}", (volume,)),
        Step("air {} × {} × (1 − {}) = {}", (*air, Amount(b.air_w_k, HEAT_LOSS_RATE))),
        Step("({} × {} + {}) × {} = {}", last),
    )


def _heat_loss(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    b = balance(package)
    if b.missing:
        return [Measured(missing=b.missing, notes=b.notes)]
    notes = list(b.notes)
    if abs(b.air_heat_j_m3k / heat.SEA_LEVEL_AIR_J_M3K - 1) > 0.01:
        sea = Amount(b.loss_w(heat.SEA_LEVEL_AIR_J_M3K), POWER)
        notes.insert(0, Step("sea-level air would give {}", (sea,)))
    return [Measured(values=(b.loss_w(),), steps=_steps(b), notes=tuple(notes))]


def _balance_temperature(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    b = balance(package)
    if b.missing:
        return [Measured(missing=b.missing, notes=b.notes)]
    people = package.site.people or 0
    gains = people * heat.PERSON_SENSIBLE_W
    value = heat.balance_temperature(b.inside_k, gains, b.rate_w_k)
    figures = (
        Amount(b.inside_k, TEMPERATURE), people, Amount(heat.PERSON_SENSIBLE_W, POWER),
        Amount(b.rate_w_k, HEAT_LOSS_RATE), Amount(value, TEMPERATURE),
    )  # fmt: skip
    step = Step("{} − {} × {} ÷ {} = {}", figures)
    note = Step("people alone, awake and all at home; sun and equipment would lower it")
    return [Measured(values=(value,), steps=(step,), notes=(*b.notes, note))]


_HEAT_SCHEDULES = ("envelope", "windows", "doors", "rooms", "plant", "site")

HEAT_LOSS = Check(
    slug="heat_loss",
    title="Design heat loss",
    topic="Heat",
    scales=(POWER,),
    measure=_heat_loss,
    schedules=_HEAT_SCHEDULES,
    rule=Rule.AT_MOST,
    formula="Q = (1.10 · Σ(U · A) + q · c · (1 − η)) · (T_in − T_out)",
    meaning="U, A of each surface [W/m²K, m²]; 1.10 for edges and fixings; q air, the larger of "
    "0.5 of the volume an hour and each person's design air [m³/s]; c heat that air holds "
    "[J/m³K]; η heat recovery [1]; T design temperatures [K]",
    citations=(HEAT_TRANSFER, AIR_AT_ALTITUDE, PRACTICE),
    limits="Steady, the coldest night, without sun, people or stored heat. Windows by frame and "
    "outside doors by leaf are taken off the wall, roof lights too. A first look for sizing a "
    "stove, not a design.",
    question="You lose {value} on the coldest night, against {target}. Which surface would you "
    "thicken first?",
    caution="A stove and its flue are designed and fitted by licensed people.",
)

BALANCE_TEMPERATURE = Check(
    slug="balance_temperature",
    title="Outside temperature that people alone hold",
    topic="Heat",
    scales=(TEMPERATURE,),
    measure=_balance_temperature,
    schedules=_HEAT_SCHEDULES,
    rule=Rule.AT_MOST,
    is_count=True,  # half a per cent of a temperature, from absolute zero, means nothing
    formula="T_b = T_in − n · 75 W ÷ H",
    meaning="n people in the brief; H loss of the whole for a degree [W/K]; T_in inside [°C]",
    citations=(HEAT_TRANSFER,),
    limits="Full house, awake, steady. With two people in it the figure is far higher.",
    question="People alone hold it at {value} outside, against {target}. When only two come, what "
    "heats it?",
)
