"""What an inverter must give at once, and what a battery gives in the cold."""

from dataclasses import replace
from functools import partial

from criteria.checks.check import Check
from criteria.checks.power import POWER_CAUTION, how_many, used
from criteria.checks.reading import gathered, measured
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Step, listed
from criteria.measures import power
from criteria.package import Package
from criteria.schedules.power import LITHIUM_IRON, START_FACTORS, Load
from criteria.sources import BATTERY, COLD_BATTERY, PRACTICE
from criteria.units import DAYS, ELECTRIC_POWER, ENERGY, RATIO, STORED_ENERGY, TEMPERATURE

ZERO_C_K = 273.15


def _watts(watts: float) -> Amount:
    return Amount(watts, ELECTRIC_POWER)


def _running(package: Package) -> list[Measured]:
    def load(row: Load) -> tuple[str, power.Drawn]:
        return row.mark, power.Drawn(how_many(package, row), row.power_w, 1.0, row.is_together)

    drawn, gives = gathered(package.loads, load), package.power.inverter_w
    running, _ = power.drawn_at_once([each for _, each in drawn])
    return [_held("running", gives, running, _together(drawn, running))]


def _starting(package: Package) -> list[Measured]:
    def load(row: Load) -> tuple[str, power.Drawn]:
        factor = START_FACTORS[row.starts]
        return row.mark, power.Drawn(how_many(package, row), row.power_w, factor, row.is_together)

    drawn, gives = gathered(package.loads, load), package.power.surge_w
    running, starting = power.drawn_at_once([each for _, each in drawn])
    mark, most = max(drawn, key=lambda pair: (pair[1].starting_w, pair[0]))
    words = "at most {} for a moment, as {} starts at {} times its {}"
    last = Step(words, (_watts(starting), mark, f"{most.start:g}", _watts(most.power_w)))
    return [_held("starting", gives, starting, (*_together(drawn, running), last))]


def _together(drawn: list[tuple[str, power.Drawn]], running: float) -> tuple[Step, ...]:
    parts = [
        Step("{} {} × {}", (mark, each.n, _watts(each.power_w)))
        for mark, each in drawn
        if each.is_together
    ]
    total = sum(each.running_w for _, each in drawn if each.is_together)
    steps = (Step("{} = {}", (listed(parts, " + "), _watts(total))),) if parts else ()
    alone = ", ".join(mark for mark, each in drawn if not each.is_together)
    if not alone:
        return steps
    return (*steps, Step("kept apart: {}; at once at most {}", (alone, _watts(running))))


def _held(name: str, gives: float, draws: float, steps: tuple[Step, ...]) -> Measured:
    value = gives / require_positive("power at once", draws, "W")
    last = Step("{} ÷ {} = {}", (_watts(gives), _watts(draws), Amount(value, RATIO)))
    return Measured(subject=name, values=(value,), steps=(*steps, last))


def _inverter(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for name, figure in (("running", _running), ("starting", _starting)):
        found += [replace(each, subject=name) for each in measured(partial(figure, package))]
    return found


def _cold_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    plant, use = package.power, used(package, package.loads)
    celsius, kind = plant.battery_k - ZERO_C_K, plant.battery_kind
    at = Amount(plant.battery_k, TEMPERATURE)
    if kind == LITHIUM_IRON:
        factor = 1.0
        frozen = Step("at {} it takes no charge: it isn't filled again before it is warmer", (at,))
        notes: tuple[Step, ...] = (frozen,) if celsius <= 0 else ()
    else:
        factor = power.lead_cold_factor(celsius)
        notes = (Step("lead at {}", (at,)),)
    value = power.battery_days(plant.battery_j / factor, plant.usable_share, use.total_j)
    figures = (
        Amount(plant.battery_j, STORED_ENERGY),
        f"{plant.usable_share:g}",
        f"{factor:.3f}",
        Amount(use.total_j, ENERGY),
        Amount(value, DAYS),
    )
    last = Step("{} × {} usable ÷ {} ÷ {} a day = {}", figures)
    return [Measured(values=(value,), steps=(*use.steps, last), notes=notes)]


INVERTER_CHECKS = (
    Check(
        slug="inverter_start",
        title="Inverter / what is drawn at once",
        topic="Power",
        by_people=True,
        scales=(RATIO,),
        measure=_inverter,
        schedules=("power", "loads"),
        formula="r = P_inv ÷ Σ(n · W), and P_surge ÷ (Σ(n · W) + max((k − 1) · W))",
        meaning="n, W of each load that may run with others [W]; k how many times its power a load "
        "draws as it starts: 5 a compressor, 3 a pump, 1 the rest",
        citations=(PRACTICE,),
        limits="One motor starts at a time; makers' own figures of starting come first. Cables, "
        "fuses and what the battery can give aren't in it.",
        question="{name}, the inverter gives {value} times what is drawn, against {target}. What "
        "goes dark when the compressor starts?",
        caution=POWER_CAUTION,
    ),
    Check(
        slug="battery_in_cold",
        title="Battery days in the cold",
        topic="Power",
        by_people=True,
        scales=(DAYS,),
        measure=_cold_days,
        schedules=("power", "loads"),
        formula="t = C · d ÷ f ÷ Σ(n · W · h)",
        meaning="C battery as labelled [Wh]; d share that may be drawn [1]; f of lead 1.00, 1.11, "
        "1.30, 1.52 at 25, 15.6, 4.4, −3.9 °C, of lithium iron 1; n, W, h of each load",
        citations=(COLD_BATTERY, BATTERY, PRACTICE),
        limits="New battery. Lithium iron gives somewhat less in the cold too, and must not be "
        "charged under 0 °C; a lead battery that stands empty freezes.",
        question="In the cold the battery lasts {value}, against {target}. What keeps it warm?",
        caution=POWER_CAUTION,
    ),
)
