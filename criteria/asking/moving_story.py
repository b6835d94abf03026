"""Moving, materials, precedents, idea and drawing: questions 69 to 92."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
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
    return None if facts.package.supports.anchors or not facts.package.pieces else {}


def _any_piece(facts: Facts) -> Words | None:
    return {} if facts.package.pieces else None


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


def _untraced(facts: Facts) -> Words | None:
    rows = [row.mark for row in facts.package.precedents if not row.is_traced]
    return {"marks": ", ".join(rows)} if rows else None


def _claims(facts: Facts) -> Words | None:
    return {"count": str(len(facts.package.claims))} if facts.package.claims else None


def _short(facts: Facts) -> Words | None:
    worst = facts.sheet.missed
    return {"count": str(worst)} if worst else None


def _always(facts: Facts) -> Words | None:
    return {}


QUESTIONS: tuple[Template, ...] = (
    Template(
        number=69, topic=MOVING, trigger=Trigger.MISSED, check="piece_mass",
        datum="piece schedule, kg each",
    ),
    Template(
        number=70, topic=MOVING, trigger=Trigger.MISSED, check="piece_envelope",
        datum="piece schedule, sizes",
    ),
    Template(
        number=71, topic=MOVING, trigger=Trigger.ALWAYS, check="lifts", when=_lifts,
        words="{lifts} lifts. At how many minutes each, and how many days of fair weather?",
        datum="piece schedule; order sheet",
    ),
    Template(
        number=72, topic=MOVING, trigger=Trigger.BLANK, check="order_numbers", when=_order,
        words="Pieces without an order number: {count} of {of}. Which goes first, and on what?",
        datum="piece schedule, order; order sheet",
    ),
    Template(
        number=73, topic=MOVING, trigger=Trigger.BLANK, check="piece_mass", when=_no_weight,
        words="{pieces}: no weight. Who signs the lift?",
        datum="piece schedule, kg each", is_hazard=True,
    ),
    Template(
        number=74, topic=MOVING, trigger=Trigger.ALWAYS, check="hand_carry", when=_by_hand,
        words="{piece} is {mass}. Two people, no crane, {wind}: can they hold it?",
        datum="piece schedule",
    ),
    Template(
        number=75, topic=MOVING, trigger=Trigger.ALWAYS, when=_left_behind,
        words="Take it away again. What is left in the ground?",
        datum="supports, anchors; removal sheet",
    ),
    Template(
        number=76, topic=MOVING, trigger=Trigger.ALWAYS, when=_on_legs,
        words="Why does it stand on legs?",
        datum="section; site note",
    ),
    Template(
        number=77, topic=MATERIAL, trigger=Trigger.BLANK, check="floor_finishes", when=_no_finish,
        words="No finish is scheduled. Boots, soup, ash, wet wool: which floor forgives?",
        datum="finish schedule",
    ),
    Template(
        number=78, topic=MATERIAL, trigger=Trigger.ALWAYS, when=_sleeping,
        words="{name}: how is a mattress aired, and how is it swept under?",
        datum="bunk detail",
    ),
    Template(
        number=79, topic=MATERIAL, trigger=Trigger.ALWAYS, when=_any_piece,
        words="Frost or salt: which fixing goes first, and can one person replace it?",
        datum="detail; fixings",
    ),
    Template(
        number=80, topic=MATERIAL, trigger=Trigger.BLANK, check="flame_spread", when=_emissions,
        words="Nothing says what the linings give off. What here would you rather not breathe?",
        datum="finish schedule, emissions",
    ),
    Template(
        number=81, topic=PRECEDENT, trigger=Trigger.MISSED, check="precedents",
        datum="precedent schedule, outcome",
    ),
    Template(
        number=82, topic=PRECEDENT, trigger=Trigger.ALWAYS, check="precedents", when=_same,
        words="Others know {building} too. What did you see in it that they did not?",
        datum="precedent schedules of the cohort",
    ),
    Template(
        number=83, topic=PRECEDENT, trigger=Trigger.BLANK, check="precedents", when=_untraced,
        words="{marks}: no lesson, or no sheet. Which line of the plan comes from it?",
        datum="precedent schedule, lesson and sheet",
    ),
    Template(
        number=84, topic=PRECEDENT, trigger=Trigger.ALWAYS, check="precedents", when=_same,
        words="{building}: did it work for those who used it, or for the photographs?",
        datum="precedent schedule, outcome; sources",
    ),
    Template(
        number=85, topic=IDEA, trigger=Trigger.ALWAYS, when=_always,
        words="Say it in one sentence, without the word space.",
        datum="statement",
    ),
    Template(
        number=86, topic=IDEA, trigger=Trigger.ALWAYS, when=_always,
        words="What did you give up for this idea?",
        datum="rejected options",
    ),
    Template(
        number=87, topic=IDEA, trigger=Trigger.ALWAYS, when=_always,
        words="Without the picture, is the idea still there in plan and section?",
        datum="plan and section",
    ),
    Template(
        number=88, topic=IDEA, trigger=Trigger.ALWAYS, when=_short,
        words="{count} targets are short or over. Which of them did you choose to leave, and why?",
        datum="check sheet; answers to comments",
    ),
    Template(
        number=89, topic=DRAWING, trigger=Trigger.CLAIM,
        words="{about}: the sheet says {claim}, held as {held}; the schedules give {computed}. "
        "Which would the builder follow?",
        datum="claims on sheets; the schedule that each is about",
    ),
    Template(
        number=90, topic=DRAWING, trigger=Trigger.ALWAYS, when=_always,
        words="What scale is this, and where is north?",
        datum="title block of each sheet",
    ),
    Template(
        number=91, topic=DRAWING, trigger=Trigger.ALWAYS, when=_claims,
        words="Your sheets assert {count} numbers. How many will you say in the first minute?",
        datum="running time of the rehearsal",
    ),
    Template(
        number=92, topic=DRAWING, trigger=Trigger.ALWAYS, when=_always,
        words="Which one drawing should I have looked at first?",
        datum="sheet list",
    ),
)  # fmt: skip
