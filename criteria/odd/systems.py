"""Odd values of systems and people: tanks, heat, power, occupants, stowage, precedents."""

from collections.abc import Iterator

from criteria.odd.value import OddValue
from criteria.package import Package
from criteria.units import HOURS, LITRES

LEAST_TANK_M3 = 0.020
MOST_TANK_M3 = 20.0


def tanks(package: Package) -> Iterator[OddValue]:
    """Ask about cubic metres typed as litres, and tanks usable to the last drop."""
    for tank in package.tanks:
        volume = tank.volume_m3
        if volume is not None and volume < LEAST_TANK_M3:
            litres = LITRES.metric.from_si(volume)
            plain = f"{float(litres):g}"
            yield OddValue(
                "tanks", tank.mark, "litres", f"{plain} L",
                f"{tank.mark} reads {plain} L. Is that {plain} m³, {float(litres) * 1000:,.0f} L?",
                f"{plain} m³",
            )  # fmt: skip
        elif volume is not None and volume > MOST_TANK_M3:
            read = LITRES.write(volume)
            question = f"{tank.mark} reads {read}, more than a lorry carries. Is it in litres?"
            yield OddValue("tanks", tank.mark, "litres", read, question)
        if tank.usable_share == 1:
            question = f"{tank.mark} is said to be usable to the last drop. Where is its outlet?"
            yield OddValue("tanks", tank.mark, "usable_share", "1.00", question)
        if tank.usable_share is None and volume is not None:
            question = (
                f"{tank.mark}: how much of its {LITRES.write(volume)} can be drawn or filled?"
            )
            yield OddValue("tanks", tank.mark, "usable_share", "nothing", question)


def plant(package: Package) -> Iterator[OddValue]:
    """Ask about a percentage typed for a fraction."""
    typed = package.plant.recovery_typed
    if typed is not None and package.plant.recovery_is_odd:
        mended = f"{typed / 100:g}" if typed <= 100 else ""
        question = f"Heat recovery reads {typed:g}. Is that a percentage, or a fraction?"
        yield OddValue("plant", "", "hrv_as_typed", f"{typed:g}", question, mended)


def power(package: Package) -> Iterator[OddValue]:
    """Ask about sun of another month, a battery's label and loads without hours."""
    row, site = package.power, package.site
    if row.sun_s is not None and site.sun_hours_s is not None and row.sun_s > site.sun_hours_s:
        month = f" in {site.design_month}" if site.design_month else ""
        question = (
            f"Your sheet uses {HOURS.write(row.sun_s)} of sun; the site sheet says "
            f"{HOURS.write(site.sun_hours_s)}{month}. Which month did you design for?"
        )
        mended = HOURS.write(site.sun_hours_s)
        yield OddValue(
            "power", "", "sun_hours_on_sheet", HOURS.write(row.sun_s), question, mended,
            is_mismatch=True,
        )  # fmt: skip
    if row.battery_j and (row.usable_share is None or row.usable_share == 1):
        read = "nothing" if row.usable_share is None else "1.00"
        question = "The battery has its label's energy. How much of it may be drawn?"
        yield OddValue("power", "", "usable_share", read, question)
    for load in package.loads:
        if load.run_s is None:
            question = f"{load.mark} ({load.item}) has no hours. Does it run all night?"
            yield OddValue("loads", load.mark, "h_day", "nothing", question)


def people(package: Package) -> Iterator[OddValue]:
    """Ask who is missing where the schedule and the brief count differently."""
    sleeping = [row.n for row in package.occupants if row.sleeps_here and row.n is not None]
    asked = package.site.people
    if sleeping and asked is not None and sum(sleeping) != asked:
        question = (
            f"The schedule sleeps {sum(sleeping)}, the brief asks for {asked}. Who is missing: "
            "a warden, staff, a visitor?"
        )
        yield OddValue("occupants", "", "n", str(sum(sleeping)), question, is_mismatch=True)


def stowage(package: Package) -> Iterator[OddValue]:
    """Ask about volume that two things take."""
    for row in package.stowage:
        if row.also_used_as:
            question = f"{row.mark} ({row.what}): {row.also_used_as}. Which of the two has it?"
            yield OddValue(
                "stowage", row.mark, "also_used_as", row.also_used_as, question, is_mismatch=True
            )


def precedents(package: Package) -> Iterator[OddValue]:
    """Ask for a precedent that failed."""
    if package.precedents and not any(row.has_failed for row in package.precedents):
        question = "Every precedent succeeded. Which one failed, and what did it teach?"
        yield OddValue("precedents", "", "outcome", "none failed", question)
