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
    against = "the snow" if facts.may_snow else "whoever comes in"
    return {"marks": ", ".join(unsaid), "against": against} if unsaid else None


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
    Template(48, FURNITURE, Trigger.MISSED, "change_of_use").found_in(
        "change of use, seconds and people"
    ),
    Template(49, FURNITURE, Trigger.MISSED, "change_lift", is_hazard=True)
    .asks("{item}, {mass}, is lifted by the fire. Who lets go?", _over_heat)
    .found_in("change of use, weight and lifted over heat"),
    Template(50, FURNITURE, Trigger.MISSED, "stowage_per_guest").found_in("stowage schedule"),
    Template(
        51, FURNITURE, Trigger.MISMATCH, "stowage_per_guest", cells=(("stowage", "also_used_as"),)
    ).found_in("stowage schedule, also used as; sheets"),
    Template(52, FURNITURE, Trigger.MISSED, "wet_hooks").found_in(
        "stowage schedule, wet gear and boots"
    ),
    Template(53, FURNITURE, Trigger.ALWAYS, "night_seats", needs="moves")
    .asks("The beds are made, and someone wants tea. Where do they sit?")
    .found_in("furniture schedule, seats at night"),
    Template(54, FURNITURE, Trigger.ALWAYS)
    .asks(
        "{item} goes from {before} to {after} every night. How often can its hinge do that?",
        _states,
    )
    .found_in("detail; hardware"),
    Template(55, FURNITURE, Trigger.ALWAYS, "change_of_use", needs="moves")
    .asks("Show one elevation with everything put away, and the same with everything out.")
    .found_in("hand-in list: both states drawn"),
    Template(56, ACCESS, Trigger.MISSED, "ramp_length").found_in("ramp, rise, length and landings"),
    Template(57, ACCESS, Trigger.ALWAYS, "ramp_length")
    .asks("A rise of {rise} from what to what: ground, deck or finished floor?", _rise)
    .found_in("levels in section; site sheet, ground"),
    Template(58, ACCESS, Trigger.BLANK, "step_free_doors", cells=(("doors", "clear_w"),)).found_in(
        "door schedule, clear width"
    ),
    Template(59, ACCESS, Trigger.BLANK, "turning_circle")
    .asks("No turning circle is drawn. Draw one of {circle} where a wheelchair turns.", _no_circle)
    .found_in("room schedule, turning circle; plan"),
    Template(60, ACCESS, Trigger.ALWAYS, "step_free_beds")
    .asks("{who}: {note}. Is theirs the worst bed?", _worst_bunk)
    .found_in("occupant schedule, step-free and note"),
    Template(61, ACCESS, Trigger.ALWAYS)
    .asks("Who can't get here at all, and do you say so?", _cannot)
    .found_in("site sheet; statement"),
    Template(62, OUT, Trigger.MISSED, "ways_out", is_hazard=True).found_in("ways out; plan"),
    Template(63, OUT, Trigger.MISSED, "furthest_bunk", is_hazard=True).found_in(
        "ways out, furthest bunk"
    ),
    Template(64, OUT, Trigger.MISSED, "second_exit_threshold", is_hazard=True).found_in(
        "ways out, threshold; site sheet, drift"
    ),
    Template(65, OUT, Trigger.BLANK, "door_swings", is_hazard=True)
    .asks("{marks}: nothing says which way they open. Inwards, or against {against}?", _swing)
    .found_in("door schedule, swing"),
    Template(66, OUT, Trigger.BLANK, "smoke_alarms", is_hazard=True)
    .asks(
        "No alarm is scheduled for {name}. Where is it, and what wakes someone who is deaf?",
        _detector,
    )
    .found_in("ways out, smoke and carbon monoxide alarms"),
    Template(67, OUT, Trigger.BLANK, "guard_height", is_hazard=True)
    .asks("The terrace ends in a drop of {drop}, in the dark. What stops me?", _edge)
    .found_in("ways out, drop and guard"),
    Template(68, OUT, Trigger.ALWAYS, "ways_out", is_hazard=True)
    .asks("One of the ways out is climbed through: {which}. Is it an escape for everyone?", _ways)
    .found_in("door schedule; window schedule, clear opening and sill"),
)
