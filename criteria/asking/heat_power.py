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


def _dear_load(facts: Facts) -> Words | None:
    share = facts.number("largest_load")
    found = next((f for f in facts.sheet.findings if f.check == "largest_load"), None)
    if found is None or share is None or share <= 0.40:
        return None
    return {"name": found.name, "value": found.write_value(facts.system)}


def _swept(facts: Facts) -> Words | None:
    row = facts.package.power
    if not row.panels_w or row.swept_from or not facts.may_snow:
        return None
    tilt = f" at {row.tilt_deg:g}°" if row.tilt_deg is not None else ""
    return {"tilt": tilt}


def _essential(facts: Facts) -> Words | None:
    loads = facts.package.loads
    return {} if loads and not any(load.essential for load in loads) else None


QUESTIONS: tuple[Template, ...] = (
    Template(
        14, HEAT, Trigger.ODD, "wall_u", cells=(("envelope", "lambda"), ("envelope", "claimed_r"))
    ).found_in("envelope layers, thickness and λ"),
    Template(15, HEAT, Trigger.MISSED, "heat_loss").found_in(
        "envelope layers; window and door schedules"
    ),
    Template(16, HEAT, Trigger.ALWAYS, "heat_loss")
    .asks("Fresh air is {share} of the loss. Would you insulate, or recover?", _air_share)
    .found_in("working of the heat loss"),
    Template(17, HEAT, Trigger.ALWAYS, "heat_loss")
    .asks("At {altitude} air holds {held}. Which figure did your own sums use?", _thin_air)
    .found_in("site sheet, altitude"),
    Template(18, HEAT, Trigger.ALWAYS, "warm_up")
    .asks(
        "Warm in {claim}, the sheet says. From how cold, and how heavy is what is warmed?", _warm_up
    )
    .found_in("heat and air plant, heat output, timber and stone warmed"),
    Template(19, HEAT, Trigger.ALWAYS, "wall_u", needs="envelope")
    .asks("Where a leg or a bracket goes through the insulation, what stops the cold?")
    .found_in("detail 1:10"),
    Template(20, HEAT, Trigger.ALWAYS, "balance_temperature")
    .asks(
        "{people} people give off about {heat}. Are they counted, and what when two come?", _gains
    )
    .found_in("occupant schedule"),
    Template(21, POWER_TOPIC, Trigger.MISSED, "power_ratio").found_in("load schedule; power plant"),
    Template(
        22, POWER_TOPIC, Trigger.MISMATCH, "power_ratio", cells=(("power", "sun_hours_on_sheet"),)
    ).found_in("power plant; site sheet, sun-hours"),
    Template(23, POWER_TOPIC, Trigger.ALWAYS, "largest_load")
    .asks("{name} takes {value} of the day's energy. Is it worth it?", _dear_load)
    .found_in("load schedule"),
    Template(24, POWER_TOPIC, Trigger.BLANK, "power_ratio", cells=(("loads", "h_day"),)).found_in(
        "load schedule, hours"
    ),
    Template(25, POWER_TOPIC, Trigger.MISSED, "battery_days").found_in(
        "power plant, battery and usable share"
    ),
    Template(26, POWER_TOPIC, Trigger.ALWAYS, "panel_tilt")
    .asks("Snow lies on the panels{tilt}. Who sweeps them, standing on what?", _swept)
    .found_in("power plant, tilt and swept from"),
    Template(27, POWER_TOPIC, Trigger.BLANK, "essential_days")
    .asks(
        "The power goes out at night, and no load is marked essential. What still works?",
        _essential,
    )
    .found_in("load schedule, essential"),
)
