"""Furniture, access and ways out: questions 48 to 68."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.checks.escape import GUARDED_DROP_M
from criteria.findings import listed
from criteria.units import LENGTH, MASS

FURNITURE, ACCESS, OUT = "Furniture and change of use", "Access", "Ways out and safety"
LIFT_KG = 15.0
"""A lift over this in a change of use is asked about [kg]. Common practice."""
CIRCLE_M = 1.524
"""Diameter in which a wheelchair turns, 60 in [m]. ADA 2010, 304.3.1, from memory."""


def _over_heat(facts: Facts) -> Words | None:
    for move in facts.package.moves:
        where = f"{move.over_heat or ''} {move.item or ''}".casefold()
        hot = move.over_heat or any(word in where for word in ("hearth", "stove", "fire"))
        if hot and (move.mass_kg or 0) > LIFT_KG:
            return {"item": move.item or "", "mass": facts.write(move.mass_kg, MASS)}
    return None


def _table_bed(facts: Facts) -> Words | None:
    return {} if facts.package.moves else None


def _states(facts: Facts) -> Words | None:
    move = next((m for m in facts.package.moves if m.from_state and m.to_state), None)
    if move is None:
        return None
    return {"item": move.item or "", "before": move.from_state or "", "after": move.to_state or ""}


def _rise(facts: Facts) -> Words | None:
    ramp, site = facts.package.ramp, facts.package.site
    if ramp.rise_m is None or site.ground_m is not None:
        return None
    return {"rise": facts.write(ramp.rise_m, LENGTH)}


def _no_circle(facts: Facts) -> Words | None:
    lacks = [room for room in facts.package.rooms if room.turning_m is not None]
    if lacks or not facts.package.rooms:
        return None
    return {"circle": facts.write(CIRCLE_M, LENGTH)}


def _worst_bunk(facts: Facts) -> Words | None:
    rows = [row for row in facts.package.occupants if row.step_free]
    return {"who": rows[0].who or "Someone", "note": rows[0].note or "no note"} if rows else None


def _cannot(facts: Facts) -> Words | None:
    return {} if facts.package.ramp.rise_m else None


def _ways(facts: Facts) -> Words | None:
    if facts.missed("ways_out"):
        return None
    notes = [note for f in facts.sheet.findings if f.check == "ways_out" for note in f.notes]
    return {"which": listed(notes[0].amounts).write(facts.system)} if notes else None


def _swing(facts: Facts) -> Words | None:
    unsaid = [d.mark for d in facts.package.doors if d.is_outside and d.swing is None]
    return {"marks": ", ".join(unsaid)} if unsaid else None


def _detector(facts: Facts) -> Words | None:
    has_row = facts.package.ways_out.smoke_alarms is not None
    sleeps = facts.any_use("sleep")
    return None if has_row or not sleeps else {"name": sleeps}


def _edge(facts: Facts) -> Words | None:
    row = facts.package.ways_out
    if (row.drop_m or 0) <= GUARDED_DROP_M or row.guard_m:
        return None
    return {"drop": facts.write(row.drop_m, LENGTH)}


QUESTIONS: tuple[Template, ...] = (
    Template(
        number=48, topic=FURNITURE, trigger=Trigger.MISSED, check="change_of_use",
        datum="change of use, seconds and people",
    ),
    Template(
        number=49, topic=FURNITURE, trigger=Trigger.MISSED, check="change_lift", when=_over_heat,
        words="{item}, {mass}, is lifted by the fire. Who lets go?",
        datum="change of use, kg and lifted over heat", is_hazard=True,
    ),
    Template(
        number=50, topic=FURNITURE, trigger=Trigger.MISSED, check="stowage_per_guest",
        datum="stowage schedule",
    ),
    Template(
        number=51, topic=FURNITURE, trigger=Trigger.MISMATCH, check="stowage_per_guest",
        cells=(("stowage", "also_used_as"),), datum="stowage schedule, also used as; sheets",
    ),
    Template(
        number=52, topic=FURNITURE, trigger=Trigger.MISSED, check="wet_hooks",
        datum="stowage schedule, wet gear and boots",
    ),
    Template(
        number=53, topic=FURNITURE, trigger=Trigger.ALWAYS, check="night_seats", when=_table_bed,
        words="The beds are made, and someone wants tea. Where do they sit?",
        datum="furniture schedule, seats at night",
    ),
    Template(
        number=54, topic=FURNITURE, trigger=Trigger.ALWAYS, when=_states,
        words="{item} goes from {before} to {after} every night. How often can its hinge do that?",
        datum="detail; hardware",
    ),
    Template(
        number=55, topic=FURNITURE, trigger=Trigger.ALWAYS, check="change_of_use",
        when=_table_bed,
        words="Show one elevation with everything put away, and the same with everything out.",
        datum="hand-in list: both states drawn",
    ),
    Template(
        number=56, topic=ACCESS, trigger=Trigger.MISSED, check="ramp_length",
        datum="ramp, rise, length and landings",
    ),
    Template(
        number=57, topic=ACCESS, trigger=Trigger.ALWAYS, check="ramp_length", when=_rise,
        words="A rise of {rise} from what to what: ground, deck or finished floor?",
        datum="levels in section; site sheet, ground",
    ),
    Template(
        number=58, topic=ACCESS, trigger=Trigger.BLANK, check="step_free_doors",
        cells=(("doors", "clear_w"),), datum="door schedule, clear width",
    ),
    Template(
        number=59, topic=ACCESS, trigger=Trigger.BLANK, check="turning_circle", when=_no_circle,
        words="No turning circle is drawn. Draw one of {circle} where a wheelchair turns.",
        datum="room schedule, turning circle; plan",
    ),
    Template(
        number=60, topic=ACCESS, trigger=Trigger.ALWAYS, check="step_free_beds", when=_worst_bunk,
        words="{who}: {note}. Is theirs the worst bed?",
        datum="occupant schedule, step-free and note",
    ),
    Template(
        number=61, topic=ACCESS, trigger=Trigger.ALWAYS, when=_cannot,
        words="Who can't get here at all, and do you say so?",
        datum="site sheet; statement",
    ),
    Template(
        number=62, topic=OUT, trigger=Trigger.MISSED, check="ways_out", is_hazard=True,
        datum="ways out; plan",
    ),
    Template(
        number=63, topic=OUT, trigger=Trigger.MISSED, check="furthest_bunk", is_hazard=True,
        datum="ways out, furthest bunk",
    ),
    Template(
        number=64, topic=OUT, trigger=Trigger.MISSED, check="second_exit_threshold",
        is_hazard=True, datum="ways out, threshold; site sheet, drift",
    ),
    Template(
        number=65, topic=OUT, trigger=Trigger.BLANK, check="door_swings", when=_swing,
        words="{marks}: nothing says which way they open. Inwards, or against the snow?",
        datum="door schedule, swing", is_hazard=True,
    ),
    Template(
        number=66, topic=OUT, trigger=Trigger.BLANK, check="smoke_alarms", when=_detector,
        words="No alarm is scheduled for {name}. Where is it, and what wakes a guest who is deaf?",
        datum="ways out, smoke and carbon monoxide alarms", is_hazard=True,
    ),
    Template(
        number=67, topic=OUT, trigger=Trigger.BLANK, check="guard_height", when=_edge,
        words="The terrace ends in a drop of {drop}, in fog. What stops me?",
        datum="ways out, drop and guard", is_hazard=True,
    ),
    Template(
        number=68, topic=OUT, trigger=Trigger.ALWAYS, check="ways_out", when=_ways,
        words="One of the ways out is climbed through: {which}. Is it an escape for everyone?",
        datum="door schedule; window schedule, clear opening and sill", is_hazard=True,
    ),
)  # fmt: skip
