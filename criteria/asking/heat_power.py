"""Heat and power: questions 14 to 27."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.measures.heat import PERSON_SENSIBLE_W
from criteria.units import AIR_HEAT, ALTITUDE, POWER

HEAT, POWER_TOPIC = "Heat", "Power"


def _air_share(facts: Facts) -> Words | None:
    b = facts.heat
    return None if b is None else {"share": f"{100 * b.air_w_k / b.rate_w_k:.0f} %"}


def _thin_air(facts: Facts) -> Words | None:
    b, altitude = facts.heat, facts.package.site.altitude_m
    held = b.air_heat_j_m3k if b else None
    if not held or not altitude or altitude < 500:
        return None
    return {"held": facts.write(held, AIR_HEAT), "altitude": facts.write(altitude, ALTITUDE)}


def _gains(facts: Facts) -> Words | None:
    if not facts.people:
        return None
    total = facts.write(facts.people * PERSON_SENSIBLE_W, POWER)
    return {"people": str(facts.people), "heat": total}


def _warm_up(facts: Facts) -> Words | None:
    said = next((c for c in facts.sheet.claims if "warm" in c.about.casefold()), None)
    return {"claim": said.text} if said else None


def _bare(facts: Facts) -> Words | None:
    return {} if facts.package.envelope else None


def _dear_load(facts: Facts) -> Words | None:
    share = facts.number("largest_load")
    found = next((f for f in facts.sheet.findings if f.check == "largest_load"), None)
    if found is None or share is None or share <= 0.40:
        return None
    return {"name": found.name, "value": found.write_value(facts.system)}


def _swept(facts: Facts) -> Words | None:
    row, months = facts.package.power, facts.package.climate
    lies = not months or any(month.snow_m for month in months)
    if not row.panels_w or row.swept_from or not lies:
        return None
    tilt = f" at {row.tilt_deg:g}°" if row.tilt_deg is not None else ""
    return {"tilt": tilt}


def _essential(facts: Facts) -> Words | None:
    loads = facts.package.loads
    return {} if loads and not any(load.essential for load in loads) else None


QUESTIONS: tuple[Template, ...] = (
    Template(
        number=14, topic=HEAT, trigger=Trigger.ODD, check="wall_u",
        cells=(("envelope", "lambda"), ("envelope", "claimed_r")),
        datum="envelope layers, thickness and λ",
    ),
    Template(
        number=15, topic=HEAT, trigger=Trigger.MISSED, check="heat_loss",
        datum="envelope layers; window and door schedules",
    ),
    Template(
        number=16, topic=HEAT, trigger=Trigger.ALWAYS, check="heat_loss", when=_air_share,
        words="Fresh air is {share} of the loss. Would you insulate, or recover?",
        datum="working of the heat loss",
    ),
    Template(
        number=17, topic=HEAT, trigger=Trigger.ALWAYS, check="heat_loss", when=_thin_air,
        words="At {altitude} air holds {held}. Which figure did your own sums use?",
        datum="site sheet, altitude",
    ),
    Template(
        number=18, topic=HEAT, trigger=Trigger.ALWAYS, check="warm_up", when=_warm_up,
        words="Warm in {claim}, the sheet says. From how cold, and how heavy is what is warmed?",
        datum="heat and air plant, heat output, timber and stone warmed",
    ),
    Template(
        number=19, topic=HEAT, trigger=Trigger.ALWAYS, check="wall_u", when=_bare,
        words="Where a leg or a bracket goes through the insulation, what stops the cold?",
        datum="detail 1:10",
    ),
    Template(
        number=20, topic=HEAT, trigger=Trigger.ALWAYS, check="balance_temperature", when=_gains,
        words="{people} people give off about {heat}. Are they counted, and what when two come?",
        datum="occupant schedule",
    ),
    Template(
        number=21, topic=POWER_TOPIC, trigger=Trigger.MISSED, check="power_ratio",
        datum="load schedule; power plant",
    ),
    Template(
        number=22, topic=POWER_TOPIC, trigger=Trigger.MISMATCH, check="power_ratio",
        cells=(("power", "sun_hours_on_sheet"),), datum="power plant; site sheet, sun-hours",
    ),
    Template(
        number=23, topic=POWER_TOPIC, trigger=Trigger.ALWAYS, check="largest_load",
        when=_dear_load,
        words="{name} takes {value} of the day's energy. Is it worth it?",
        datum="load schedule",
    ),
    Template(
        number=24, topic=POWER_TOPIC, trigger=Trigger.BLANK, check="power_ratio",
        cells=(("loads", "h_day"),), datum="load schedule, hours",
    ),
    Template(
        number=25, topic=POWER_TOPIC, trigger=Trigger.MISSED, check="battery_days",
        datum="power plant, battery and usable share",
    ),
    Template(
        number=26, topic=POWER_TOPIC, trigger=Trigger.ALWAYS, check="panel_tilt", when=_swept,
        words="Snow lies on the panels{tilt}. Who sweeps them, standing on what?",
        datum="power plant, tilt and swept from",
    ),
    Template(
        number=27, topic=POWER_TOPIC, trigger=Trigger.BLANK, check="essential_days",
        when=_essential,
        words="The power goes out at night, and no load is marked essential. What still works?",
        datum="load schedule, essential",
    ),
)  # fmt: skip
