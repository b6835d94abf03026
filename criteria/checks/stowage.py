"""Stowage for each guest, and the change from day to night."""

import re
from collections.abc import Callable

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.people import Occupant
from criteria.schedules.stowage import Move, Stowage
from criteria.sources import HAND_LIFT, PRACTICE
from criteria.units import COUNT, LITRES, MASS, SECONDS, Scale

STAFF = re.compile(r"warden|staff|keeper|host", re.IGNORECASE)


def guests(package: Package) -> tuple[int, tuple[str, ...], tuple[Step, ...]]:
    """Return how many guests need stowage, what is blank, and a note where it was counted.

    The brief's number, or where it says none those who sleep here less wardens and staff.
    """
    if package.site.guests:
        return package.site.guests, (), ()
    sleeping = [row for row in package.occupants if row.sleeps_here]
    rows = [row for row in sleeping if not STAFF.search(row.who or "")]
    missing = tuple(cell for row in rows for cell in blank(Occupant.schedule, row, "n"))
    if not rows or missing:
        return 0, missing or ("of whom guests (site sheet)",), ()
    counted = sum(row.n or 0 for row in rows)
    words = "{} guests counted in the occupant schedule, wardens and staff left out"
    note = Step(words, (counted,))
    return counted, (), (note,)


def _per_guest(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not package.stowage:
        return [Measured(missing=("rows of the stowage schedule",))]
    n, missing, notes = guests(package)
    rows = [row for row in package.stowage if row.is_for_guests]
    blanks = tuple(cell for row in rows for cell in blank(Stowage.schedule, row, "n", "l_each"))
    known = [row for row in rows if row.n is not None and row.volume_m3 is not None]
    if missing or not n or (rows and not known):
        return [Measured(missing=(*missing, *blanks), notes=notes)]
    total = sum((row.n or 0) * (row.volume_m3 or 0) for row in known)
    steps = [
        Step(
            "{}: {} × {} = {}",
            (
                row.mark, row.n or 0, Amount(row.volume_m3 or 0, LITRES),
                Amount((row.n or 0) * (row.volume_m3 or 0), LITRES),
            ),
        )
        for row in known
    ]  # fmt: skip
    value = total / n
    figures = (Amount(total, LITRES), n, Amount(value, LITRES))
    steps.append(Step("{} ÷ {} guests = {}", figures))
    shared = [row.also_used_as for row in known if row.also_used_as]
    return [
        Measured(
            values=(value,), steps=tuple(steps), missing=blanks,
            notes=(*(Step("{}", (words,)) for words in shared), *notes),
        )
    ]  # fmt: skip


_NO_MOVES = ("rows of the change of use schedule",)


def _moves_known(package: Package, head: str) -> tuple[list[Move], tuple[str, ...]]:
    missing, known = [], []
    for move in package.moves:
        cells = blank(Move.schedule, move, head)
        missing += cells
        if not cells:
            known.append(move)
    return known, tuple(missing)


def _change_time(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    known, missing = _moves_known(package, "s")
    if not known:
        return [Measured(missing=missing or _NO_MOVES)]
    seconds = [move.time_s or 0 for move in known]
    value = sum(seconds)
    people = max((m.people for m in package.moves if m.people is not None), default=None)
    heaviest = max((m.mass_kg for m in package.moves if m.mass_kg is not None), default=None)
    notes = []
    if people is not None and heaviest is not None:
        who = "1 person" if people == 1 else f"{people} people"
        notes.append(Step("{}, heaviest {}", (who, Amount(heaviest, MASS))))
    words = " + ".join(["{}"] * len(seconds)) + " = {}"
    step = Step(words, tuple(Amount(x, SECONDS) for x in (*seconds, value)))
    return [Measured(values=(value,), steps=(step,), missing=missing, notes=tuple(notes))]


def _change_people(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _each_move(package, "people", lambda move: move.people, "{}: {} people at once", None)


def _change_lift(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _each_move(package, "kg", lambda move: move.mass_kg, "{}: {} lifted", MASS)


def _each_move(
    package: Package,
    head: str,
    figure: Callable[[Move], float | None],
    words: str,
    scale: Scale | None,
) -> list[Measured]:
    known, missing = _moves_known(package, head)
    if not known:
        return [Measured(missing=missing or _NO_MOVES)]
    found = []
    for move in known:
        value = figure(move) or 0
        written = Amount(value, scale) if scale else value
        heat = (Step("lifted over {}", (move.over_heat,)),) if move.over_heat else ()
        found.append(
            Measured(
                subject=move.mark, name=move.item or "", values=(value,),
                steps=(Step(words, (move.mark, written)),), notes=heat,
            )
        )  # fmt: skip
    return [*found, Measured(missing=missing)] if missing else found


STOWAGE_PER_GUEST = Check(
    slug="stowage_per_guest",
    title="Stowage per guest",
    topic="Furniture and change of use",
    scales=(LITRES,),
    measure=_per_guest,
    schedules=("stowage", "occupants", "site"),
    formula="v = Σ(n · V) ÷ n_g",
    meaning="n places alike; V what each holds [L], of rows for guests; n_g guests in the brief",
    citations=(PRACTICE,),
    limits="Litres alone: whether a rucksack goes in is a question of sizes. Volume that is also "
    "used as something else is counted and reported.",
    question="{value} each, against {target}. Put your own rucksack in it.",
)

CHANGE_TIME = Check(
    slug="change_of_use",
    title="Change of use, one person",
    topic="Furniture and change of use",
    scales=(SECONDS,),
    measure=_change_time,
    schedules=("moves",),
    rule=Rule.AT_MOST,
    formula="t = Σ s",
    meaning="s time of each move [s]",
    citations=(PRACTICE,),
    limits="Moves one after the other, as typed; a tired person takes longer.",
    question="Day to night takes {value}, against {target}. Every night, tired?",
)

CHANGE_PEOPLE = Check(
    slug="change_people",
    title="People needed at once for the change",
    topic="Furniture and change of use",
    scales=(COUNT,),
    measure=_change_people,
    schedules=("moves",),
    rule=Rule.AT_MOST,
    is_count=True,
    formula="n = max(n_move)",
    meaning="n_move people that a move needs at once",
    citations=(PRACTICE,),
    limits="As typed.",
    question="{name} takes {value} people, against {target}. Who wakes the second?",
)

CHANGE_LIFT = Check(
    slug="change_lift",
    title="Heaviest lift of the change",
    topic="Furniture and change of use",
    scales=(MASS,),
    measure=_change_lift,
    schedules=("moves",),
    rule=Rule.AT_MOST,
    formula="m = max(m_move)",
    meaning="m_move mass lifted in a move [kg]",
    citations=(HAND_LIFT,),
    limits="Lifted, not slid; a lift over a stove is a hazard at any mass.",
    question="{name} weighs {value}, against {target}. Who lets go?",
    caution="Never lift over a hot stove or a flame.",
)
