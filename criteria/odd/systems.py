"""Odd values of systems and people: tanks, heat, power, occupants, stowage, precedents."""

from collections.abc import Iterator

from criteria.findings import Amount, Step
from criteria.odd.value import NOTHING, OddValue
from criteria.package import Package
from criteria.schedules.power import Load
from criteria.typed import quantities
from criteria.units import COUNT, HOURS, LITRES

LEAST_TANK_M3 = 0.020
MOST_TANK_M3 = 20.0

ALL = Step("1.00")
"""A usable share of everything."""


def tanks(package: Package) -> Iterator[OddValue]:
    """Ask about cubic metres typed as litres, and tanks usable to the last drop."""
    package = package.leniently
    for tank in package.tanks:
        volume = tank.volume_m3
        if volume is not None and volume < LEAST_TANK_M3:
            plain = f"{float(LITRES.metric.from_si(volume)):g}"
            # as typed in litres, and what is in question is the unit
            words = "{} reads {} L. Is that {} m³, {}?"
            question = Step(words, (tank.mark, plain, plain, Amount(volume * 1000, LITRES)))
            yield OddValue(
                "tanks", tank.mark, "litres", Step("{} L", (plain,)), question, f"{plain} m³"
            )
        elif volume is not None and volume > MOST_TANK_M3:
            read = Amount(volume, LITRES)
            words = "{} reads {}, more than a lorry carries. Which unit was meant?"
            question = Step(words, (tank.mark, read))
            yield OddValue("tanks", tank.mark, "litres", read, question)
        if tank.usable_share == 1:
            words = "{} is said to be usable to the last drop. Where is its outlet?"
            yield OddValue("tanks", tank.mark, "usable_share", ALL, Step(words, (tank.mark,)))
        if tank.usable_share is None and volume is not None:
            words = "{}: how much of its {} can be drawn or filled?"
            question = Step(words, (tank.mark, Amount(volume, LITRES)))
            yield OddValue("tanks", tank.mark, "usable_share", NOTHING, question)


def plant(package: Package) -> Iterator[OddValue]:
    """Ask about a percentage typed for a fraction: it is refused, and easily mended."""
    package = package.leniently
    refusal = package.plant.refused.get("recovery")
    if refusal is None or not quantities.is_bare(refusal.read):
        return
    typed = float(quantities.read(refusal.read, COUNT).si)
    mended = f"{typed / 100:g}" if 1 < typed <= 100 else ""
    read = Step("{}", (refusal.read,))
    question = Step("Heat recovery reads {}. Is that a percentage, or a fraction?", (read,))
    yield OddValue("plant", "", "hrv_as_typed", read, question, mended)


def _called(load: Load) -> str:
    return f"{load.mark} ({load.item})" if load.item else load.mark


def power(package: Package) -> Iterator[OddValue]:
    """Ask about sun of another month, a battery's label and loads without hours."""
    package = package.leniently
    row, site = package.power, package.site
    if row.sun_s is not None and site.sun_hours_s is not None and row.sun_s > site.sun_hours_s:
        month = f" in {site.design_month}" if site.design_month else ""
        read, said = Amount(row.sun_s, HOURS), Amount(site.sun_hours_s, HOURS)
        words = (
            "Your sheet uses {} of sun a day; the site sheet says {}{}. Which month did you "
            "design for?"
        )
        question = Step(words, (read, said, month))
        head, mended = "sun_hours_on_sheet", said.write()
        yield OddValue("power", "", head, read, question, mended, is_mismatch=True)
    if row.battery_j and (row.usable_share is None or row.usable_share == 1):
        share = NOTHING if row.usable_share is None else ALL
        question = Step("The battery has its label's energy. How much of it may be drawn?")
        yield OddValue("power", "", "usable_share", share, question)
    for load in package.loads:
        if load.run_s is None:
            question = Step("{} has no hours. Does it run all night?", (_called(load),))
            yield OddValue("loads", load.mark, "h_day", NOTHING, question)


def people(package: Package) -> Iterator[OddValue]:
    """Ask who is missing where the schedule and the brief count differently."""
    package = package.leniently
    sleeping = [row.n for row in package.occupants if row.sleeps_here and row.n is not None]
    asked = package.site.people
    if sleeping and asked is not None and sum(sleeping) != asked:
        who = "missing: a warden, staff, a visitor" if sum(sleeping) < asked else "not in the brief"
        words = "The schedule sleeps {}, the brief asks for {}. Who is " + who + "?"
        question = Step(words, (sum(sleeping), asked))
        read = Step("{}", (sum(sleeping),))
        yield OddValue("occupants", "", "n", read, question, is_mismatch=True)


def stowage(package: Package) -> Iterator[OddValue]:
    """Ask about volume that two things take."""
    package = package.leniently
    for row in package.stowage:
        if row.also_used_as:
            read = Step("{}", (row.also_used_as,))
            figures = (row.mark, row.what or "stowage", read)
            question = Step("{} ({}): {}. Which of the two has it?", figures)
            yield OddValue("stowage", row.mark, "also_used_as", read, question, is_mismatch=True)


def precedents(package: Package) -> Iterator[OddValue]:
    """Ask for a precedent that failed."""
    package = package.leniently
    if package.precedents and not any(row.has_failed for row in package.precedents):
        words = "No precedent is said to have failed. Which one did, and what did it teach?"
        yield OddValue("precedents", "", "outcome", Step("none failed"), Step(words))
