"""Odd values of systems: tanks, uses of water, heat recovery, power; and of precedents."""

from collections.abc import Iterator

from criteria.findings import SAME, Amount, Step
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.fixtures import Fixture
from criteria.typed import quantities
from criteria.units import AREA, COUNT, ENERGY, HOURS, LITRES, LITRES_A_DAY

LEAST_TANK_M3, MOST_TANK_M3 = 0.020, 10.0
"""A jerrican, and ten tonnes: what a small building's tank holds [m³]. Common practice."""
GREY_OF_POTABLE = 0.12
"""A grey tank rarely holds less of what the potable ones hold than this [1]. Practice."""
USE_OF_BRIEF = (0.7, 1.4)
"""Fixtures' use of water to the brief's rate [1]. Common practice."""
PANELS_W_M2 = 200.0
"""Peak power of a square metre of panels. IEC 60904 standard conditions, 20 %, from memory."""
OF_ROOF = 1.1
MADE_OF_USED = 6.0
"""Electricity made to used, above which a unit is likelier than a choice [1]. Practice."""

ALL = Step("1.00")
"""A usable share of everything."""


def tanks(package: Package) -> Iterator[OddValue]:
    """Ask about cubic metres typed as litres, and tanks usable to the last drop."""
    for tank in package.tanks:
        volume, mark = tank.volume_m3, tank.mark
        if volume is not None and volume < LEAST_TANK_M3:
            plain = f"{float(LITRES.metric.from_si(volume)):g}"
            # as typed in litres, and what is in question is the unit
            words = "{} reads {} L. Is that {} m³, {}?"
            figures = (mark, plain, plain, Amount(volume * 1000, LITRES))
            read = Step("{} L", (plain,))
            yield ask(tank, "litres", words, *figures, mended=f"{plain} m³", read=read)
        elif volume is not None and volume > MOST_TANK_M3:
            words = "{} reads {}, more than a lorry carries. Which unit was meant?"
            yield ask(tank, "litres", words, mark, said(tank, "litres"))
        if tank.usable_share == 1:
            words = "{} is said to be usable to the last drop. Where is its outlet?"
            yield ask(tank, "usable_share", words, mark, read=ALL)
        if tank.usable_share is None and volume is not None:
            words = "{}: how much of its {} can be drawn or filled?"
            yield ask(tank, "usable_share", words, mark, said(tank, "litres"))


def waste(package: Package) -> Iterator[OddValue]:
    """Ask about grey tanks that are small for the water, and black water that nothing holds."""
    held = {
        holds: [tank for tank in package.tanks if tank.holds == holds and tank.volume_m3]
        for holds in ("potable", "grey", "black")
    }
    potable, grey = (sum(t.volume_m3 for t in held[holds]) for holds in ("potable", "grey"))
    if held["grey"] and grey < GREY_OF_POTABLE * potable:
        tank = held["grey"][0]
        words = "{} holds {} of grey water, and {} of water come in. Emptied how often?"
        figures = (tank.mark, Amount(grey, LITRES), Amount(potable, LITRES))
        yield ask(tank, "litres", words, *figures, is_mismatch=True)
    flushes = [row for row in package.fixtures if row.goes_to == "black"]
    if package.fixtures and held["black"] and not flushes:
        tank = held["black"][0]
        words = "{} holds black water, and no use of water ends in it. What flushes?"
        yield ask(tank, "holds", words, tank.mark, is_mismatch=True)
    if flushes and package.tanks and not held["black"]:
        row = flushes[0]
        words = "{} ({}) ends in black water, and no tank holds it. Where does it go?"
        yield ask(row, "goes_to", words, row.mark, row.use or "", is_mismatch=True)


def dry_toilets(package: Package) -> Iterator[OddValue]:
    """Ask about black water beside the tanks of a dry toilet, where no use of water tells."""
    black = [tank for tank in package.tanks if tank.holds == "black"]
    dry = [tank for tank in package.tanks if tank.holds in ("solids", "urine")]
    if black and dry and not package.fixtures:
        words = "{} holds black water, and {} {} of a dry toilet. Which toilet is it?"
        figures = (black[0].mark, dry[0].mark, dry[0].holds or "")
        yield ask(black[0], "holds", words, *figures, is_mismatch=True)


def uses(package: Package) -> Iterator[OddValue]:
    """Ask where the uses of water come to another rate than the brief's."""
    each = [_a_day(row) for row in package.fixtures]
    rate, known = package.site.water_m3_pd, [use for use in each if use is not None]
    if not rate or not known or len(known) < len(each):
        return
    if not USE_OF_BRIEF[0] - SAME <= sum(known) / rate <= USE_OF_BRIEF[1] + SAME:
        largest = package.fixtures[known.index(max(known))]
        words = "The uses of water come to {} a person, the brief reckons {}. Which is it?"
        figures = (Amount(sum(known), LITRES_A_DAY), Amount(rate, LITRES_A_DAY))
        yield ask(largest, "uses_a_day", words, *figures, is_mismatch=True)


def _a_day(row: Fixture) -> float | None:
    """Return what a use takes in a day [m³], or None where a cell of it isn't known."""
    each = row.each_m3
    if each is None and row.flow_m3_s is not None and row.run_s is not None:
        each = row.flow_m3_s * row.run_s
    return None if each is None or row.uses_a_day is None else row.uses_a_day * each


def plant(package: Package) -> Iterator[OddValue]:
    """Ask about a percentage typed for a fraction: it is refused, and easily mended."""
    refusal = package.plant.refused.get("recovery")
    if refusal is None or not quantities.is_bare(refusal.read):
        return
    typed = float(quantities.read(refusal.read, COUNT).si)
    mended = f"{typed / 100:g}" if 1 < typed <= 100 else ""
    read = Step("{}", (refusal.read,))
    words = "Heat recovery reads {}. Is that a percentage, or a fraction?"
    yield ask(package.plant, "hrv_as_typed", words, read, mended=mended, read=read)


def power(package: Package) -> Iterator[OddValue]:
    """Ask about sun of another month, a battery's label, loads without hours and the panels."""
    row, site = package.power, package.site
    if row.sun_s is not None and site.sun_hours_s is not None and row.sun_s > site.sun_hours_s:
        month = f" in {site.design_month}" if site.design_month else ""
        words = (
            "Your sheet uses {} of sun a day; the site sheet says {}{}. Which month did you "
            "design for?"
        )
        head, sun = "sun_hours_on_sheet", Amount(site.sun_hours_s, HOURS)
        figures = (said(row, head), sun, month)
        yield ask(row, head, words, *figures, mended=sun.write(), is_mismatch=True)
    if row.battery_j and (row.usable_share is None or row.usable_share == 1):
        words = "The battery has its label's energy. How much of it may be drawn?"
        yield ask(row, "usable_share", words, read=None if row.usable_share is None else ALL)
    for load in package.loads:
        if load.run_s is None:
            called = f"{load.mark} ({load.item})" if load.item else load.mark
            yield ask(load, "h_day", "{} has no hours. Does it run all night?", called)
    largest = max(package.loads, key=lambda load: load.power_w or 0, default=None)
    if row.inverter_w and largest and (largest.power_w or 0) > row.inverter_w:
        words = "The inverter gives {}, and {} alone takes {}. Which is it?"
        takes = said(largest, "w_each")
        read = said(row, "inverter_w")
        yield ask(row, "inverter_w", words, read, largest.mark, takes, is_mismatch=True)
    yield from _panels(package)


def _panels(package: Package) -> Iterator[OddValue]:
    row, site = package.power, package.site
    if not row.panels_w:
        return
    read, area = said(row, "pv_kwp"), row.panels_w / PANELS_W_M2
    roof = max((x.gross_area_m2 or 0 for x in package.envelope if x.part == "roof"), default=0)
    used = sum((x.n or 0) * (x.power_w or 0) * (x.run_s or 0) for x in package.loads)
    made = row.panels_w * (site.sun_hours_s or 0) * (site.system_factor or 0)
    if roof and area > OF_ROOF * roof:
        words = "{} of panels take {}, and the roof is {}. Which unit was meant?"
        figures = (Amount(area, AREA), Amount(roof, AREA))
        yield ask(row, "pv_kwp", words, read, *figures, is_mismatch=True)
    elif used and made > MADE_OF_USED * used:
        words = "{} of panels make {} a day, and {} are used. Is it the panels, or the loads?"
        figures = (Amount(made, ENERGY), Amount(used, ENERGY))
        yield ask(row, "pv_kwp", words, read, *figures, is_mismatch=True)


def precedents(package: Package) -> Iterator[OddValue]:
    """Ask for a precedent that failed."""
    if package.precedents and not any(row.has_failed for row in package.precedents):
        words = "No precedent is said to have failed. Which one did, and what did it teach?"
        yield OddValue("precedents", "", "outcome", Step("none failed"), Step(words))
