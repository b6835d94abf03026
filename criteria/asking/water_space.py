"""Water, waste, space and privacy: questions 28 to 47."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.schedules.rooms import HEADROOM_COUNTED_M
from criteria.units import DISTANCE, FLOOR, MASS

WATER, WASTE, SPACE = "Water", "Waste", "Space and privacy"


def _february(facts: Facts) -> Words | None:
    outside = [
        tank.mark
        for tank in facts.package.tanks
        if tank.holds in ("potable", "grey") and not (tank.place or "").strip()
    ]
    return {"marks": ", ".join(outside)} if outside else None


def _rain(facts: Facts) -> Words | None:
    return {} if facts.package.tanks else None


def _heavy_tank(facts: Facts) -> Words | None:
    found = next((f for f in facts.sheet.findings if f.check == "tank_mass"), None)
    heaviest = max((m for m in found.worst_first if m.values), key=lambda m: m.values,
                   default=None) if found else None  # fmt: skip
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


def _any_room(facts: Facts) -> Words | None:
    return {} if facts.package.rooms else None


QUESTIONS: tuple[Template, ...] = (
    Template(
        number=28, topic=WATER, trigger=Trigger.CLAIM, check="water_days",
        words="The sheet says {claim}; the schedules give {computed}. Which changed: people, "
        "litres or days?",
        datum="tank schedule; occupants; site sheet, water per person-day",
    ),
    Template(
        number=29, topic=WATER, trigger=Trigger.MISSED, check="water_days",
        datum="tank schedule; site sheet",
    ),
    Template(
        number=30, topic=WATER, trigger=Trigger.ODD, check="water_days",
        cells=(("tanks", "litres"), ("tanks", "usable_share")), datum="tank schedule, volume",
    ),
    Template(
        number=31, topic=WATER, trigger=Trigger.BLANK, check="tank_frost", when=_february,
        words="{marks}: nothing says where they stand. Where is the water in February?",
        datum="tank schedule, place",
    ),
    Template(
        number=32, topic=WATER, trigger=Trigger.ALWAYS, check="rain_catch", when=_rain,
        words="What does the roof catch in the driest month that you are open?",
        datum="envelope layers, roof; climate by month",
    ),
    Template(
        number=33, topic=WATER, trigger=Trigger.ALWAYS, check="tank_mass", when=_heavy_tank,
        words="{mark} full weighs {mass}. Show the line of that load to the ground.",
        datum="tank schedule; section",
    ),
    Template(
        number=34, topic=WATER, trigger=Trigger.MISMATCH, check="sleeping_places",
        cells=(("occupants", "n"),), datum="occupant schedule; site sheet, people",
    ),
    Template(
        number=35, topic=WASTE, trigger=Trigger.MISSED, check="grey_days",
        datum="tank schedule, grey",
    ),
    Template(
        number=36, topic=WASTE, trigger=Trigger.ALWAYS, check="carry_mass", when=_carry,
        words="A full bin of solids may weigh {mass}. Who carries it, how far, in what?",
        datum="tank schedule, solids; the way on the site plan",
    ),
    Template(
        number=37, topic=WASTE, trigger=Trigger.MISSED, check="urine_days",
        datum="tank schedule, urine; site sheet, supply visits",
    ),
    Template(
        number=38, topic=WASTE, trigger=Trigger.BLANK, check="wet_extract", when=_toilet,
        words="{rooms}: no fan or stack of its own. Draw the way that the smell takes.",
        datum="vent schedule",
    ),
    Template(
        number=39, topic=WASTE, trigger=Trigger.ALWAYS, when=_packaging,
        words="Supplies come every {days} days with packaging. Where does it wait to go out?",
        datum="stowage schedule; site sheet",
    ),
    Template(
        number=40, topic=SPACE, trigger=Trigger.MISSED, check="floor_per_sleeper",
        datum="room schedule; bunk plan",
    ),
    Template(
        number=41, topic=SPACE, trigger=Trigger.ALWAYS, check="floor_per_sleeper", when=_low,
        words="{low} of {name} is under {head} high. Is it floor?",
        datum="room schedule, of which under 1.5 m",
    ),
    Template(
        number=42, topic=SPACE, trigger=Trigger.MISSED, check="air_volume_per_sleeper",
        datum="room schedule, floor and height",
    ),
    Template(
        number=43, topic=SPACE, trigger=Trigger.ALWAYS, check="place_alone", when=_any_room,
        words="Ten minutes alone: where does one person go?",
        datum="room schedule, can be closed; plan",
    ),
    Template(
        number=44, topic=SPACE, trigger=Trigger.MISSED, check="passage_width",
        datum="room schedule, narrowest passage",
    ),
    Template(
        number=45, topic=SPACE, trigger=Trigger.ALWAYS, check="place_alone", when=_shared_sleep,
        words="{name} is shared by people who have just met. Where do they change?",
        datum="room schedule, can be closed; curtains on the plan",
    ),
    Template(
        number=46, topic=SPACE, trigger=Trigger.MISSED, check="sit_up",
        datum="furniture schedule, clear above",
    ),
    Template(
        number=47, topic=SPACE, trigger=Trigger.ALWAYS, when=_shared_sleep,
        words="A snorer, an early start, a child that cries: which wall of {name} deals with it?",
        datum="plan and section",
    ),
)  # fmt: skip
