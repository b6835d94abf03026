"""Stowage for each guest, and the change from day to night."""

import re

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.people import Occupant
from criteria.schedules.stowage import Move
from criteria.sources import HAND_LIFT, PRACTICE
from criteria.typed.cells import require_some
from criteria.units import LITRES, MASS, SECONDS

STAFF = re.compile(r"warden|staff|keeper|host", re.IGNORECASE)


def guests(package: Package) -> tuple[int, tuple[Step, ...]]:
    """Return how many guests need stowage, and a note where they were counted.

    The brief's number, or where it says none those who sleep here less wardens and staff.
    """
    given: int | None = package.site.unless_blank("guests")
    if given:
        return given, ()
    people = package.rows_of(Occupant)
    rows = [row for row in people if row.sleeps_here and not STAFF.search(row.who or "")]
    require_some(rows, "of whom guests (site sheet)")
    counted = sum(gathered(rows, lambda row: row.n))
    words = "{} guests counted in the occupant schedule, wardens and staff left out"
    return counted, (Step(words, (counted,)),)


def _per_guest(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.stowage if row.is_for_guests]
    litres = gathered(rows, lambda row: row.n * row.volume_m3)
    n, notes = guests(package)
    total = sum(litres)
    value = total / require_positive("guests", n, "no.")
    steps = [
        Step("{}: {} × {} = {}", (r.mark, r.n, Amount(r.volume_m3, LITRES), Amount(held, LITRES)))
        for r, held in zip(rows, litres, strict=True)
    ]
    figures = (Amount(total, LITRES), n, Amount(value, LITRES))
    steps.append(Step("{} ÷ {} guests = {}", figures))
    shared = [Step("{}", (row.also_used_as,)) for row in rows if row.also_used_as]
    return [Measured(values=(value,), steps=tuple(steps), notes=(*shared, *notes))]


def _change_time(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    seconds = gathered(package.moves, lambda move: move.time_s)
    amounts = tuple(Amount(x, SECONDS) for x in (*seconds, sum(seconds)))
    step = Step(" + ".join(["{}"] * len(seconds)) + " = {}", amounts)
    people = [move.if_given("people") for move in package.moves]
    masses = [move.if_given("mass_kg") for move in package.moves]
    if None in people or None in masses:
        return [Measured(values=(sum(seconds),), steps=(step,))]
    who = "1 person" if max(people) == 1 else f"{max(people)} people"
    notes = (Step("{}, heaviest {}", (who, Amount(max(masses), MASS))),)
    return [Measured(values=(sum(seconds),), steps=(step,), notes=notes)]


def _change_people(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(move: Move) -> Measured:
        step = Step("{}: {} people at once", (move.mark, move.people))
        return Measured(values=(move.people,), steps=(step,), notes=_over_heat(move))

    return of_each(package.moves, figure)


def _change_lift(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(move: Move) -> Measured:
        step = Step("{}: {} lifted", (move.mark, Amount(move.mass_kg, MASS)))
        return Measured(values=(move.mass_kg,), steps=(step,), notes=_over_heat(move))

    return of_each(package.moves, figure)


def _over_heat(move: Move) -> tuple[Step, ...]:
    where = move.if_given("over_heat")
    return (Step("lifted over {}", (where,)),) if where else ()


STOWAGE_CHECKS = (
    Check(
        slug="stowage_per_guest",
        title="Stowage per guest",
        topic="Furniture and change of use",
        scales=(LITRES,),
        measure=_per_guest,
        is_monotone=True,
        schedules=("stowage", "occupants", "site"),
        formula="v = Σ(n · V) ÷ n_g",
        meaning="n places alike; V what each holds [L], of rows for guests; n_g guests in the "
        "brief",
        citations=(PRACTICE,),
        limits="Litres alone: whether a rucksack goes in is a question of sizes. Volume that is "
        "also used as something else is counted and reported.",
        question="{value} each, against {target}. Put your own luggage in it.",
    ),
    Check(
        slug="change_of_use",
        title="Change of use, one person",
        topic="Furniture and change of use",
        scales=(SECONDS,),
        measure=_change_time,
        is_monotone=True,
        schedules=("moves",),
        rule=Rule.AT_MOST,
        formula="t = Σ s",
        meaning="s time of each move [s]",
        citations=(PRACTICE,),
        limits="Moves one after the other, as typed; a tired person takes longer.",
        question="Day to night takes {value}, against {target}. Every night, tired?",
    ),
    Check(
        slug="change_people",
        title="People needed at once for the change",
        topic="Furniture and change of use",
        measure=_change_people,
        is_monotone=True,
        schedules=("moves",),
        rule=Rule.AT_MOST,
        formula="n = max(n_move)",
        meaning="n_move people that a move needs at once",
        citations=(PRACTICE,),
        limits="As typed.",
        question="{name} takes {value} people, against {target}. Who wakes the second?",
    ),
    Check(
        slug="change_lift",
        title="Heaviest lift of the change",
        topic="Furniture and change of use",
        scales=(MASS,),
        measure=_change_lift,
        is_monotone=True,
        schedules=("moves",),
        rule=Rule.AT_MOST,
        formula="m = max(m_move)",
        meaning="m_move mass lifted in a move [kg]",
        citations=(HAND_LIFT,),
        limits="Lifted, not slid; a lift over a stove is a hazard at any mass.",
        question="{name} weighs {value}, against {target}. Who lets go?",
        caution="Never lift over a hot stove or a flame.",
    ),
)
