"""Heat loss on the coldest night, surface by surface, and when no heating is needed."""

from dataclasses import dataclass
from fractions import Fraction

from criteria.checks.check import Check
from criteria.checks.envelope import gross_area, part_resistance
from criteria.checks.reading import gathered
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import heat
from criteria.measures.envelope import u_value
from criteria.measures.heat import Air
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.climate import Month
from criteria.schedules.envelope import PARTS
from criteria.schedules.openings import Window
from criteria.sources import AIR_AT_ALTITUDE, HEAT_TRANSFER, PRACTICE
from criteria.typed.cells import Lacking, lacking, require_some
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
class Surface:
    """A part of the envelope, a row of windows or a door: area [m²] and U [W/m²K]."""

    name: str
    area_m2: float
    u_w_m2k: float

    @property
    def rate_w_k(self) -> float:
        """Heat through it for a degree of difference [W/K]."""
        return self.area_m2 * self.u_w_m2k


@dataclass(frozen=True, kw_only=True)
class Fabric:
    """What stands between inside and outside, whatever the season.

    parts, windows, doors   surfaces; the wall's is without its openings
    volume_m3               of all rooms [m³]
    air                     what it is reckoned to let in [m³/s]
    """

    gross_wall_m2: float
    parts: tuple[Surface, ...]
    windows: tuple[Surface, ...]
    doors: tuple[Surface, ...]
    volume_m3: float
    air: Air
    recovery: float

    @property
    def surfaces(self) -> tuple[Surface, ...]:
        """All of them."""
        return (*self.parts, *self.windows, *self.doors)

    @property
    def windows_m2(self) -> float:
        """Windows by frame [m²]."""
        return sum(each.area_m2 for each in self.windows)

    @property
    def doors_m2(self) -> float:
        """Outside doors by leaf [m²]."""
        return sum(each.area_m2 for each in self.doors)

    @property
    def wall_net_m2(self) -> float:
        """Wall without its openings [m²]."""
        return self.gross_wall_m2 - self.windows_m2 - self.doors_m2

    @property
    def fabric_w_k(self) -> float:
        """Loss through surfaces before bridges [W/K]."""
        return sum(each.rate_w_k for each in self.surfaces)


@dataclass(frozen=True, kw_only=True)
class Balance(Fabric):
    """The heat balance on the coldest night."""

    air_heat_j_m3k: float
    inside_k: float
    outside_k: float

    @property
    def air_w_k(self) -> float:
        """Loss with the air [W/K]."""
        return heat.air_loss_rate(self.air, self.air_heat_j_m3k, self.recovery)

    @property
    def rate_w_k(self) -> float:
        """Loss of the whole for a degree of difference [W/K]."""
        return BRIDGES * self.fabric_w_k + self.air_w_k

    def loss_w(self, air_heat_j_m3k: float | None = None) -> float:
        """Return the loss at design temperatures [W], with other air if it is given."""
        held = air_heat_j_m3k or self.air_heat_j_m3k
        air = heat.air_loss_rate(self.air, held, self.recovery)
        return heat.heat_loss(BRIDGES * self.fabric_w_k, air, self.inside_k, self.outside_k)


def _window(row: Window) -> Surface:
    return Surface(
        name=row.mark, area_m2=row.n * row.frame_w_m * row.frame_h_m, u_w_m2k=row.u_w_m2k
    )


def _door(row: Door) -> Surface:
    return Surface(name=row.mark, area_m2=row.leaf_w_m * row.height_m, u_w_m2k=row.u_w_m2k)


def _doors(package: Package) -> list[Surface]:
    outside = [door for door in package.doors if door.is_outside]
    require_some(outside, "an outside door (door schedule)")
    return gathered(outside, _door)


def _parts(package: Package, openings_m2: float) -> list[Surface]:
    found = []
    for part in PARTS:
        gross = gross_area(package, part)
        net = gross - openings_m2 if part == "wall" else gross
        if net <= 0:
            raise lacking("wall, a gross area larger than its openings (envelope layers)")
        u = u_value(part_resistance(package, part).resistance)
        found.append(Surface(name=part, area_m2=net, u_w_m2k=u))
    return found


def fabric(package: Package) -> Fabric:
    """Return what stands between inside and outside. Raises Lacking with the cells it lacks."""
    windows = gathered(package.windows, _window)
    doors = _doors(package)
    openings = sum(each.area_m2 for each in (*windows, *doors))
    volume = sum(gathered(package.rooms, lambda room: room.floor_m2 * room.clear_height_m))
    site = package.site
    return Fabric(
        gross_wall_m2=gross_area(package, "wall"),
        parts=tuple(_parts(package, openings)),
        windows=tuple(windows),
        doors=tuple(doors),
        volume_m3=volume,
        air=heat.design_air(volume, package.people, site.fresh_air_m3_s, CHANGES_PER_H),
        recovery=package.plant.recovery,
    )


def air_heat(package: Package, inside_k: float, outside_k: float) -> float:
    """Return what the site's air holds [J/m³K]: the brief's figure, else by its altitude."""
    given = package.site.air_heat_j_m3k
    if given is not None:
        return given
    return heat.air_heat(package.site.altitude_m, (inside_k + outside_k) / 2)


def balance(package: Package) -> Balance:
    """Return the heat balance of a package. Raises Lacking with the cells that it lacks."""
    inside, outside = package.site.design_inside_k, package.site.design_outside_k
    if inside <= outside:
        raise lacking("Design inside, warmer than outside (site sheet)")
    known = fabric(package)
    held = air_heat(package, inside, outside)
    return Balance(**vars(known), air_heat_j_m3k=held, inside_k=inside, outside_k=outside)


def recovery_notes(package: Package) -> tuple[Step, ...]:
    """Say where no heat recovery is given."""
    if package.plant.unless_blank("recovery") is None:
        return (Step("no heat recovery is said: none is taken"),)
    return ()


def _surface_step(each: Surface) -> Step:
    area, u = Amount(each.area_m2, AREA), Amount(each.u_w_m2k, U_VALUE)
    return Step("{}: {} × {} = {}", (each.name, area, u, Amount(each.rate_w_k, HEAT_LOSS_RATE)))


def air_step(air: Air, held_j_m3k: float, recovery: float) -> Step:
    """Write the loss with the air; leaks stand apart where there are any."""
    held, rate = Amount(held_j_m3k, AIR_HEAT), heat.air_loss_rate(air, held_j_m3k, recovery)
    fresh, last = Amount(air.fresh, VENTILATION), Amount(rate, HEAT_LOSS_RATE)
    if not air.leaks:
        return Step("air {} × {} × (1 − {}) = {}", (fresh, held, f"{recovery:g}", last))
    figures = (Amount(air.leaks, VENTILATION), fresh, f"{recovery:g}", held, last)
    return Step("air (leaks {} + {} × (1 − {})) × {} = {}", figures)


def _steps(b: Balance) -> tuple[Step, ...]:
    rate, air = Amount(b.fabric_w_k, HEAT_LOSS_RATE), Amount(b.air_w_k, HEAT_LOSS_RATE)
    apart = Amount(b.inside_k - b.outside_k, TEMPERATURE_DIFFERENCE)
    last = (f"{BRIDGES:.2f}", rate, air, apart, Amount(b.loss_w(), POWER))
    return (
        *map(_surface_step, sorted(b.surfaces, key=lambda each: -each.rate_w_k)),
        Step("surfaces together {}", (rate,)),
        Step("volume {}", (Amount(b.volume_m3, VOLUME),)),
        air_step(b.air, b.air_heat_j_m3k, b.recovery),
        Step("({} × {} + {}) × {} = {}", last),
    )


def _coldest(package: Package) -> tuple[Step, ...]:
    """Say where the climate's coldest month is colder at night than what is designed for."""
    try:
        coldest = min(gathered(package.rows_of(Month), lambda row: row.mean_min_k), default=None)
    except Lacking:
        return ()
    if coldest is None or coldest >= package.site.design_outside_k:
        return ()
    words = "the coldest month's nights are {} in the mean, colder than what is designed for"
    return (Step(words, (Amount(coldest, TEMPERATURE),)),)


def _heat_loss(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    b = balance(package)
    notes = (*recovery_notes(package), *_coldest(package))
    if abs(b.air_heat_j_m3k / heat.SEA_LEVEL_AIR_J_M3K - 1) > 0.01:
        sea = Amount(b.loss_w(heat.SEA_LEVEL_AIR_J_M3K), POWER)
        notes = (Step("sea-level air would give {}", (sea,)), *notes)
    return [Measured(values=(b.loss_w(),), steps=_steps(b), notes=notes)]


def _colder_than(package: Package, limit_k: float) -> tuple[Step, ...]:
    """Name the months that are colder in the mean, where the climate says so of every month."""
    try:
        months = gathered(package.rows_of(Month), lambda row: (row.month, row.mean_k))
    except Lacking:
        return ()
    colder = ", ".join(month for month, mean in months if mean < limit_k)
    return (Step("months colder in the mean: {}", (colder or "none",)),) if months else ()


def _balance_temperature(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    b, people = balance(package), package.people
    value = heat.balance_temperature(b.inside_k, people * heat.PERSON_SENSIBLE_W, b.rate_w_k)
    inside, outside = Amount(b.inside_k, TEMPERATURE), Amount(value, TEMPERATURE)
    each, rate = Amount(heat.PERSON_SENSIBLE_W, POWER), Amount(b.rate_w_k, HEAT_LOSS_RATE)
    step = Step("{} − {} × {} ÷ {} = {}", (inside, people, each, rate, outside))
    note = Step("people alone, awake and all at home; sun and equipment would lower it")
    notes = (*recovery_notes(package), note, *_colder_than(package, value))
    return [Measured(values=(value,), steps=(step,), notes=notes)]


HEAT_SCHEDULES = ("envelope", "windows", "doors", "rooms", "plant", "site")

HEAT_CHECKS = (
    Check(
        slug="heat_loss",
        title="Design heat loss",
        topic="Heat",
        by_people=True,
        scales=(POWER,),
        measure=_heat_loss,
        is_monotone=True,
        schedules=(*HEAT_SCHEDULES, "climate"),
        rule=Rule.AT_MOST,
        formula="Q = (1.10 · Σ(U · A) + c · (q − η · q_people)) · (T_in − T_out)",
        meaning="U, A of each surface [W/m²K, m²]; 1.10 for edges and fixings; q_people each "
        "person's design air [m³/s]; q all air, the larger of that and 0.5 of the volume an hour: "
        "what is over comes in by cracks; c heat that air holds [J/m³K]; η heat recovery, of "
        "q_people alone [1]; T design temperatures [K]",
        citations=(HEAT_TRANSFER, AIR_AT_ALTITUDE, PRACTICE),
        limits="Steady, the coldest night, without sun, people or stored heat. Windows by frame "
        "and outside doors by leaf are taken off the wall, roof lights too. A first look for "
        "sizing a stove, not a design.",
        question="You lose {value} on the coldest night, against {target}. Which surface would "
        "you thicken first?",
        caution="A stove and its flue are designed and fitted by licensed people.",
    ),
    Check(
        slug="balance_temperature",
        title="Outside temperature that people alone hold",
        topic="Heat",
        by_people=True,
        scales=(TEMPERATURE,),
        measure=_balance_temperature,
        schedules=(*HEAT_SCHEDULES, "climate"),
        rule=Rule.AT_MOST,
        near=0.0,
        formula="T_b = T_in − n · 75 W ÷ H",
        meaning="n people in the brief; H loss of the whole for a degree [W/K]; T_in inside [°C]",
        citations=(HEAT_TRANSFER,),
        limits="Full house, awake, steady. With two people in it the figure is far higher.",
        question="People alone hold it at {value} outside, against {target}. When only two come, "
        "what heats it?",
    ),
)
