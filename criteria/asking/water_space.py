"""Water, waste, space and privacy: questions 28 to 47."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.schedules.rooms import HEADROOM_COUNTED_M
from criteria.units import DISTANCE, FLOOR, MASS

WATER, WASTE, SPACE = "Water", "Waste", "Space and privacy"


def _frozen(facts: Facts) -> Words | None:
    if not facts.may_freeze:
        return None
    outside = [
        tank.mark
        for tank in facts.package.tanks
        if tank.holds in ("potable", "grey") and not (tank.place or "").strip()
    ]
    return {"marks": ", ".join(outside)} if outside else None


def _heavy_tank(facts: Facts) -> Words | None:
    found = next((f for f in facts.sheet.findings if f.check == "tank_mass"), None)
    tanks = [m for m in found.worst_first if m.values] if found else []
    heaviest = max(tanks, key=lambda m: m.values, default=None)
    if heaviest is None or heaviest.values[0] <= 500:
        return None
    return {"mark": heaviest.subject, "mass": facts.write(heaviest.values[0], MASS)}


def _carry(facts: Facts) -> Words | None:
    value = facts.value("carry_mass")
    return {"mass": value} if value else None


def _toilet(facts: Facts) -> Words | None:
    served = {vent.room for vent in facts.package.vents}
    toilets = [r for r in facts.package.rooms_used_for(("wc",)) if r.mark not in served]
    return {"rooms": ", ".join(r.name or r.title for r in toilets)} if toilets else None


def _packaging(facts: Facts) -> Words | None:
    days = facts.package.site.supply_s
    return {"days": f"{days / 86400:.0f}"} if days else None


def _low(facts: Facts) -> Words | None:
    room = max(facts.package.rooms, key=lambda r: (r.low_headroom_m2 or 0, r.mark), default=None)
    if room is None or not room.low_headroom_m2:
        return None
    return {
        "name": room.name or room.title,
        "low": facts.write(room.low_headroom_m2, FLOOR),
        "head": facts.write(HEADROOM_COUNTED_M, DISTANCE),
    }


def _shared_sleep(facts: Facts) -> Words | None:
    rooms = [room for room in facts.package.rooms if (room.sleepers or 0) > 1]
    return {"name": rooms[0].name or rooms[0].title} if rooms else None


def _strangers(facts: Facts) -> Words | None:
    return _shared_sleep(facts) if facts.are_strangers else None


QUESTIONS: tuple[Template, ...] = (
    Template(28, WATER, Trigger.CLAIM, "water_days")
    .asks(
        "The sheet says {claim}; the schedules give {computed}. Which changed: people, litres or "
        "days?"
    )
    .found_in("tank schedule; occupants; site sheet, water per person-day"),
    Template(29, WATER, Trigger.MISSED, "water_days").found_in("tank schedule; site sheet"),
    Template(
        30, WATER, Trigger.ODD, "water_days", cells=(("tanks", "litres"), ("tanks", "usable_share"))
    ).found_in("tank schedule, volume"),
    Template(31, WATER, Trigger.BLANK, "tank_frost")
    .asks("{marks}: nothing says where they stand. Where is the water when it freezes?", _frozen)
    .found_in("tank schedule, place"),
    Template(32, WATER, Trigger.ALWAYS, "rain_catch", needs="tanks")
    .asks("What does the roof catch in the driest month that you are open?")
    .found_in("envelope layers, roof; climate by month"),
    Template(33, WATER, Trigger.ALWAYS, "tank_mass")
    .asks("{mark} full weighs {mass}. Show the line of that load to the ground.", _heavy_tank)
    .found_in("tank schedule; section"),
    Template(34, WATER, Trigger.MISMATCH, "sleeping_places", cells=(("occupants", "n"),)).found_in(
        "occupant schedule; site sheet, people"
    ),
    Template(35, WASTE, Trigger.MISSED, "grey_days").found_in("tank schedule, grey"),
    Template(36, WASTE, Trigger.ALWAYS, "carry_mass")
    .asks("A full bin of solids may weigh {mass}. Who carries it, how far, in what?", _carry)
    .found_in("tank schedule, solids; the way on the site plan"),
    Template(37, WASTE, Trigger.MISSED, "urine_days").found_in(
        "tank schedule, urine; site sheet, supply visits"
    ),
    Template(38, WASTE, Trigger.BLANK, "wet_extract")
    .asks("{rooms}: no fan or stack of its own. Draw the way that the smell takes.", _toilet)
    .found_in("vent schedule"),
    Template(39, WASTE, Trigger.ALWAYS)
    .asks(
        "Supplies come every {days} days with packaging. Where does it wait to go out?", _packaging
    )
    .found_in("stowage schedule; site sheet"),
    Template(40, SPACE, Trigger.MISSED, "floor_per_sleeper").found_in("room schedule; bunk plan"),
    Template(41, SPACE, Trigger.ALWAYS, "floor_per_sleeper")
    .asks("{low} of {name} is under {head} high. Is it floor?", _low)
    .found_in("room schedule, of which low"),
    Template(42, SPACE, Trigger.MISSED, "air_volume_per_sleeper").found_in(
        "room schedule, floor and height"
    ),
    Template(43, SPACE, Trigger.ALWAYS, "place_alone", needs="rooms")
    .asks("Ten minutes alone: where does one person go?")
    .found_in("room schedule, can be closed; plan"),
    Template(44, SPACE, Trigger.MISSED, "passage_width").found_in(
        "room schedule, narrowest passage"
    ),
    Template(45, SPACE, Trigger.ALWAYS, "place_alone")
    .asks("{name} is shared by people who have just met. Where do they change?", _strangers)
    .found_in("room schedule, can be closed; curtains on the plan"),
    Template(46, SPACE, Trigger.MISSED, "sit_up").found_in("furniture schedule, clear above"),
    Template(47, SPACE, Trigger.ALWAYS)
    .asks(
        "A snorer, an early start, a child that cries: which wall of {name} deals with it?",
        _shared_sleep,
    )
    .found_in("plan and section"),
)
