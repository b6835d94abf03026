"""Moving, materials, precedents, idea and drawing: questions 69 to 92."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.schedules.by_state import says_something
from criteria.units import MASS, WIND

MOVING, MATERIAL, PRECEDENT = "Moving and removing", "Materials and cleaning", "Precedents"
IDEA, DRAWING = "Idea", "Drawing and telling"


def _lifts(facts: Facts) -> Words | None:
    value = facts.value("lifts")
    return {"lifts": value} if value else None


def _order(facts: Facts) -> Words | None:
    pieces = facts.package.pieces
    bare = [piece.mark for piece in pieces if piece.order is None]
    return {"count": str(len(bare)), "of": str(len(pieces))} if bare else None


def _no_weight(facts: Facts) -> Words | None:
    bare = [f"{p.mark} ({p.piece})" for p in facts.package.pieces if p.mass_kg is None]
    return {"pieces": ", ".join(bare)} if bare else None


def _by_hand(facts: Facts) -> Words | None:
    light = [p for p in facts.package.pieces if p.mass_kg is not None and 50 < p.mass_kg <= 100]
    heaviest = max(light, key=lambda piece: (piece.mass_kg, piece.mark), default=None)
    if heaviest is None:
        return None
    blows = [month.wind_m_s for month in facts.package.climate if month.wind_m_s is not None]
    wind = f"wind of {facts.write(max(blows), WIND)} in the mean" if blows else "wind"
    mass = facts.write(heaviest.mass_kg, MASS)
    return {"piece": heaviest.piece or heaviest.mark, "mass": mass, "wind": wind}


def _left_behind(facts: Facts) -> Words | None:
    leaving = [row for row in facts.package.steps if says_something(row.leaves)]
    is_said = facts.package.supports.anchors or not facts.package.pieces
    if is_said and not leaving:
        return None
    return {"leaves": "".join(f"{row.mark} leaves {row.leaves}. " for row in leaving)}


def _on_legs(facts: Facts) -> Words | None:
    legs = facts.package.supports.legs
    words = any("leg" in (p.piece or "").casefold() for p in facts.package.pieces)
    return {} if legs or words else None


def _no_finish(facts: Facts) -> Words | None:
    return None if facts.package.finishes or not facts.package.rooms else {}


def _sleeping(facts: Facts) -> Words | None:
    name = facts.any_use("sleep")
    return {"name": name} if name else None


def _emissions(facts: Facts) -> Words | None:
    said = any(row.emissions for row in facts.package.finishes)
    return None if said or not facts.package.rooms else {}


def _same(facts: Facts) -> Words | None:
    rows = facts.package.precedents
    return {"building": rows[0].building or rows[0].mark} if rows else None


def _known_too(facts: Facts) -> Words | None:
    if not facts.known_too:
        return None
    return {"of": str(facts.cohort), "which": ", ".join(facts.known_too)}


def _untraced(facts: Facts) -> Words | None:
    rows = [row.mark for row in facts.package.precedents if not row.is_traced]
    return {"marks": ", ".join(rows)} if rows else None


def _claims(facts: Facts) -> Words | None:
    return {"count": str(len(facts.package.claims))} if facts.package.claims else None


def _short(facts: Facts) -> Words | None:
    worst = facts.sheet.missed
    return {"count": str(worst)} if worst else None


QUESTIONS: tuple[Template, ...] = (
    Template(69, MOVING, Trigger.MISSED, "piece_mass").found_in("piece schedule, weight each"),
    Template(70, MOVING, Trigger.MISSED, "piece_envelope").found_in("piece schedule, sizes"),
    Template(71, MOVING, Trigger.ALWAYS, "lifts")
    .asks("{lifts} lifts. At how many minutes each, and how many days of fair weather?", _lifts)
    .found_in("piece schedule; order sheet"),
    Template(72, MOVING, Trigger.BLANK, "order_numbers")
    .asks("Pieces without an order number: {count} of {of}. Which goes first, and on what?", _order)
    .found_in("piece schedule, order; order sheet"),
    Template(73, MOVING, Trigger.BLANK, "piece_mass", is_hazard=True)
    .asks("{pieces}: no weight. Who signs the lift?", _no_weight)
    .found_in("piece schedule, weight each"),
    Template(74, MOVING, Trigger.ALWAYS, "hand_carry")
    .asks("{piece} is {mass}. Two people, no crane, {wind}: can they hold it?", _by_hand)
    .found_in("piece schedule"),
    Template(75, MOVING, Trigger.ALWAYS)
    .asks("Take it away again. {leaves}What is left in the ground?", _left_behind)
    .found_in("supports, anchors; set-up steps, leaves; removal sheet"),
    Template(76, MOVING, Trigger.ALWAYS)
    .asks("Why does it stand on legs?", _on_legs)
    .found_in("section; site note"),
    Template(77, MATERIAL, Trigger.BLANK, "floor_finishes")
    .asks("No finish is scheduled. Boots, soup, ash, wet wool: which floor forgives?", _no_finish)
    .found_in("finish schedule"),
    Template(78, MATERIAL, Trigger.ALWAYS)
    .asks("{name}: how is a mattress aired, and how is it swept under?", _sleeping)
    .found_in("bunk detail"),
    Template(79, MATERIAL, Trigger.ALWAYS, needs="pieces")
    .asks("Frost, salt or sun: which fixing goes first, and can one person replace it?")
    .found_in("detail; fixings"),
    Template(80, MATERIAL, Trigger.BLANK, "flame_spread")
    .asks(
        "Nothing says what the linings give off. What here would you rather not breathe?",
        _emissions,
    )
    .found_in("finish schedule, emissions"),
    Template(81, PRECEDENT, Trigger.MISSED, "precedents").found_in("precedent schedule, outcome"),
    Template(82, PRECEDENT, Trigger.ALWAYS, "precedents")
    .asks(
        "Of the cohort’s {of} schemes several study the same: {which}. What did you see that the "
        "others did not?",
        _known_too,
    )
    .found_in("precedent schedules of the cohort"),
    Template(83, PRECEDENT, Trigger.BLANK, "precedents")
    .asks("{marks}: no lesson, or no sheet. Which line of the plan comes from it?", _untraced)
    .found_in("precedent schedule, lesson and sheet"),
    Template(84, PRECEDENT, Trigger.ALWAYS, "precedents")
    .asks("{building}: did it work for those who used it, or for the photographs?", _same)
    .found_in("precedent schedule, outcome; sources"),
    Template(85, IDEA, Trigger.ALWAYS)
    .asks("Say it in one sentence, without the word space.")
    .found_in("statement"),
    Template(86, IDEA, Trigger.ALWAYS)
    .asks("What did you give up for this idea?")
    .found_in("rejected options"),
    Template(87, IDEA, Trigger.ALWAYS)
    .asks("Without the picture, is the idea still there in plan and section?")
    .found_in("plan and section"),
    Template(88, IDEA, Trigger.ALWAYS)
    .asks(
        "{count} targets are short or over. Which of them did you choose to leave, and why?", _short
    )
    .found_in("check sheet; answers to comments"),
    Template(89, DRAWING, Trigger.CLAIM)
    .asks(
        "{about}: the sheet says {claim}, held as {held}; the schedules give {computed}. Which "
        "would the builder follow?"
    )
    .found_in("claims on sheets; the schedule that each is about"),
    Template(90, DRAWING, Trigger.ALWAYS)
    .asks("What scale is this, and where is north?")
    .found_in("title block of each sheet"),
    Template(91, DRAWING, Trigger.ALWAYS)
    .asks("Your sheets assert {count} numbers. How many will you say in the first minute?", _claims)
    .found_in("running time of the rehearsal"),
    Template(92, DRAWING, Trigger.ALWAYS)
    .asks("Which one drawing should I have looked at first?")
    .found_in("sheet list"),
)
