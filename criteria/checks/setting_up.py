"""Setting up and packing: how long, with how many, how heavy, and what stands open meanwhile."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.checks.setting_up_asks import in_the_dark, shared, unsaid, weather
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.package import Package
from criteria.schedules.by_state import says_something
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.states import PACKED_KINDS, ROAD, BuildingState, named_states
from criteria.setting_up import network
from criteria.setting_up.crew import CannotBeDone, SetUp, least_crew, set_up
from criteria.setting_up.network import Network
from criteria.sources import CRITICAL_PATH, HAND_LIFT, HAND_TEAM, PRACTICE
from criteria.typed.cells import lacking, require_some
from criteria.units import HOURS, LENGTH, MASS, WHOLE_MINUTES

_CAUTION = (
    "Setting up can crush, fall and catch the wind: whoever is competent in lifting directs it, "
    "and a licensed engineer decides what stands half built."
)
MINUTE_S = 60
HIGH_M, HEAVY_KG = 1.4, 10.0
"""Over this height, more than that mass each is asked about. Common practice."""


def set_up_steps(package: Package) -> tuple[list[SetUpStep], tuple[Step, ...]]:
    """Return the steps that lead from packed to set up, and a note of those that don't.

    Raises Lacking where there are none, or where a step's states can't be read.
    """
    states = {row.state: row for row in named_states(package.rows_of(BuildingState))}
    are_counted = gathered(package.steps, lambda row: _is_set_up(row, states))
    pairs = list(zip(package.steps, are_counted, strict=True))
    rows = [row for row, is_counted in pairs if is_counted]
    require_some(rows, "a step from packed to set up (set-up steps)")
    left = ", ".join(row.mark for row, is_counted in pairs if not is_counted)
    words = "not from packed to set up, so not counted: {}"
    return rows, (Step(words, (left,)),) if left else ()


def _is_set_up(row: SetUpStep, states: Mapping[str, BuildingState]) -> bool:
    start, end = row.from_state, row.to_state
    is_packed = start is None or states[start].kind in PACKED_KINDS
    return is_packed and (end is None or states[end].kind != ROAD)


@dataclass(frozen=True)
class Plan:
    """A sequence of steps by some people.

    missing   why the brief's crew can't do it: the sequence is then of the fewest who can
    """

    steps: Network
    found: SetUp
    crew: int
    missing: tuple[str, ...]
    notes: tuple[Step, ...]

    def end(self, mark: str) -> int:
        """The minute at which a step ends."""
        return self.found.starts[mark] + self.steps.steps[self.steps.index[mark]].minutes


@lru_cache(maxsize=64)
def _found(steps: tuple[network.Step, ...], crew: int) -> SetUp:
    found = set_up(Network(steps), crew)
    assert not isinstance(found, CannotBeDone)  # as many as any step needs are there
    return found


def plan_of(package: Package) -> Plan:
    """Return how a package is set up by the brief's crew, or by as many as its steps need.

    Raises Lacking where cells lack, InputError where the steps go in no order, said in full.
    """
    rows, notes = set_up_steps(package)
    made = gathered(rows, _step)
    _require_counted(rows, package.steps)
    steps, given = Network(made), package.site.crew
    need = least_crew(steps)
    missing: tuple[str, ...] = ()
    if given is None:
        crew, note = need, "the brief names no crew: with {}, as many as one step needs at once"
    elif given < need:
        crew, note = need, "as it would be with {}"
        at = next(step.mark for step in made if step.people == need)
        missing = (f"a crew of {need}: {at} takes {need} at once, and there are {given}",)
    else:
        crew, note = given, "with the brief's crew of {}"
    found = _found(steps.steps, crew)
    about = (Step(note, (crew,)), *shared(steps), *weather(package, rows), *notes)
    return Plan(steps, found, crew, missing, about)


def _step(row: SetUpStep) -> network.Step:
    return network.Step(row.mark, row.minutes, row.people, row.forerunners, row.tools)


def _require_counted(rows: Sequence[SetUpStep], every: Sequence[SetUpStep]) -> None:
    """Raise InputError where a step waits for one that isn't part of setting up."""
    left = {row.mark for row in every} - {row.mark for row in rows}
    for row in rows:
        if odd := next((mark for mark in row.forerunners if mark in left), None):
            raise InputError(f"step {row.mark} comes after {odd}, which is no part of setting up")


def packing_of(package: Package) -> Plan:
    """Return how it is packed: the steps in reverse, the same sequence where they take as long."""
    plan, (rows, _) = plan_of(package), set_up_steps(package)
    back = dict(gathered(rows, lambda row: (row.mark, row.minutes_back)))
    undone = plan.steps.reversed(back)
    if all(step.minutes == back[step.mark] for step in plan.steps.steps):
        starts = {mark: plan.found.minutes - plan.end(mark) for mark in back}
        return replace(plan, steps=undone, found=replace(plan.found, starts=starts))
    return replace(plan, steps=undone, found=_found(undone.steps, plan.crew))


def _people(count: int) -> Step:
    return Step("1 person") if count == 1 else Step("{} people", (count,))


def _minutes(minutes: int) -> Amount:
    return Amount(minutes * MINUTE_S, WHOLE_MINUTES)


def _time(plan: Plan, package: Package, *asked: Step) -> list[Measured]:
    found, steps = plan.found, plan.steps
    in_order = sorted(steps.steps, key=lambda step: (found.starts[step.mark], step.mark))
    spans = [(step, found.starts[step.mark], plan.end(step.mark)) for step in in_order]
    words = "{}: from {} to {}, {}"
    each = [
        Step(words, (step.mark, _minutes(start), _minutes(end), _people(step.people)))
        for step, start, end in spans
    ]
    chain = steps.critical_path()
    lengths = [_minutes(steps.steps[steps.index[mark]].minutes) for mark in chain]
    figures = (", ".join(chain), listed(lengths, " + "), _minutes(steps.length))
    longest = Step("longest chain, {}: {} = {}", figures)
    by = (_people(plan.crew), _minutes(found.minutes))
    if found.is_proved:
        answer = Step("{}: {}, the least, proved", by)
    else:
        answer = Step("{}: at most {}, no plan beats {}", (*by, _minutes(found.at_least)))
    value = float(found.minutes * MINUTE_S)
    return [
        Measured(
            values=(value,),
            steps=(*each, longest, answer),
            missing=plan.missing,
            notes=(answer, *in_the_dark(package, value), *asked, *plan.notes),
        )
    ]


def _least_crew(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows, notes = set_up_steps(package)
    alone = [row for row in rows if row.if_given("is_adult")]
    least, marks = max((row.people for row in alone), default=0), ", ".join(r.mark for r in alone)
    adults = (Step("{} of them adults: children keep away from {}", (least, marks)),) * bool(alone)

    def figure(row: SetUpStep) -> Measured:
        step = Step("{}: {} at once", (row.mark, _people(row.people)))
        return Measured(values=(row.people,), steps=(step,), notes=(*adults, *notes))

    return of_each(rows, figure)


def _person_hours(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows, notes = set_up_steps(package)
    figures = gathered(rows, lambda row: (row.mark, row.people, row.minutes))
    each = [people * minutes * MINUTE_S for _, people, minutes in figures]
    steps = [
        Step("{}: {} × {} = {}", (mark, people, _minutes(minutes), Amount(work, HOURS)))
        for (mark, people, minutes), work in zip(figures, each, strict=True)
    ]
    parts = listed([Amount(work, HOURS) for work in each], " + ")
    steps.append(Step("{} = {}", (parts, Amount(sum(each), HOURS))))
    return [Measured(values=(float(sum(each)),), steps=tuple(steps), notes=notes)]


def _lift(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows, notes = set_up_steps(package)

    def figure(row: SetUpStep) -> Measured:
        each = row.mass_kg / row.people
        amounts = (Amount(row.mass_kg, MASS), _people(row.people), Amount(each, MASS))
        step = Step("{} ÷ {} = {}", amounts)
        return Measured(values=(each,), steps=(step,), notes=(*_height(row, each), *notes))

    return of_each(rows, figure)


def _height(row: SetUpStep, each_kg: float) -> tuple[Step, ...]:
    height = row.if_given("lift_to_m")
    if height is None:
        return ()
    to = Step("lifted to {}", (Amount(height, LENGTH),))
    if height <= HIGH_M or each_kg <= HEAVY_KG:
        return (to,)
    limits = (Amount(HIGH_M, LENGTH), Amount(HEAVY_KG, MASS))
    return (to, Step("over {} with more than {} each: from what do they stand?", limits))


def _open(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows, _ = set_up_steps(package)
    if all(row.opens is None for row in rows):
        raise lacking("what a step opens to rain, or “none” (set-up steps)")
    named = [name for row in rows for name in (*row.opened, *row.closed) if says_something(name)]
    plan = plan_of(package)
    steps, notes, spans = [], [], []
    for name in dict.fromkeys(named):
        openers = [row.mark for row in rows if name in row.opened]
        closers = [row.mark for row in rows if name in row.closed]
        require_some(openers, f"a step that opens “{name}” (set-up steps)")
        require_some(closers, f"a step that closes “{name}” (set-up steps)")
        first = min(openers, key=lambda mark: (plan.found.starts[mark], mark))
        last = max(closers, key=lambda mark: (plan.end(mark), mark))
        start, end = plan.found.starts[first], plan.end(last)
        if end <= start:
            raise InputError(f"“{name}” is closed by {last} before {first} opens it")
        spans.append((start, end))
        words = "{}: from {}, at the start of {}, to {}, at the end of {}"
        steps.append(Step(words, (name, _minutes(start), first, _minutes(end), last)))
        chains = [plan.steps.longest_between(a, b) for a in openers for b in closers]
        if least := max((chain for chain in chains if chain is not None), default=None):
            notes.append(Step("{}: never less than {}, by any crew", (name, _minutes(least))))
    merged = _merged(spans)
    total = sum(end - start for start, end in merged)
    parts = [Step("({} − {})", (_minutes(end), _minutes(start))) for start, end in merged]
    last_step = Step("{} = {}", (listed(parts, " + "), _minutes(total)))
    wet = [
        row.mark for row in rows if row.if_given("is_dry") and _is_within(row.mark, plan, merged)
    ]
    if wet:
        words = "in dry weather alone, and done while it stands open: {}"
        notes.append(Step(words, (", ".join(wet),)))
    steps.append(last_step if merged else Step("nothing is ever open"))
    return [
        Measured(
            values=(float(total * MINUTE_S),),
            steps=tuple(steps),
            missing=plan.missing,
            notes=(*notes, *plan.notes),
        )
    ]


def _is_within(mark: str, plan: Plan, spans: Sequence[tuple[int, int]]) -> bool:
    start, end = plan.found.starts[mark], plan.end(mark)
    return any(first < end and start < last for first, last in spans)


def _merged(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans of time in order, those that overlap as one."""
    merged: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return merged


_SCHEDULES = ("steps", "states", "site")
_IN_SEQUENCE = (
    "Steps as typed, without rests, weather, slips or a second try; of each tool there is one, or "
    "as many as one step takes. Where the least isn't proved the figure is of the best sequence "
    "found, and what no sequence beats stands beside it."
)

SETTING_UP_CHECKS = (
    Check(
        slug="setup_time",
        title="Time to set up",
        topic="Setting up",
        scales=(WHOLE_MINUTES,),
        measure=lambda package, _: _time(plan_of(package), package),
        schedules=_SCHEDULES,
        rule=Rule.AT_MOST,
        formula="t = least end of all steps, each after those it names, with at most n people at "
        "once",
        meaning="t from the first step to the end of the last [min]; n the brief's crew, or as "
        "many as one step needs",
        citations=(CRITICAL_PATH, PRACTICE),
        limits=_IN_SEQUENCE,
        question="{value} to set up, against {target}. And in rain, at dusk, with one of them "
        "hurt?",
        caution=_CAUTION,
    ),
    Check(
        slug="pack_time",
        title="Time to pack",
        topic="Setting up",
        scales=(WHOLE_MINUTES,),
        measure=lambda package, _: _time(packing_of(package), package, *unsaid(package)),
        schedules=_SCHEDULES,
        rule=Rule.AT_MOST,
        formula="t = least end of all steps in reverse, with at most n people at once",
        meaning="t from the first step to the end of the last, each in its minutes to undo [min]; "
        "n as for setting up",
        citations=(CRITICAL_PATH, PRACTICE),
        limits="As for setting up, backwards; that tanks are drained, the stove cold and the "
        "bedding dry is asked where no step says so.",
        question="{value} to pack, against {target}. Wet, in the wind that makes you leave?",
        caution=_CAUTION,
    ),
    Check(
        slug="least_crew",
        title="People needed at once to set up",
        topic="Setting up",
        measure=_least_crew,
        is_monotone=True,
        schedules=("steps", "states"),
        rule=Rule.AT_MOST,
        formula="n = max(n_step)",
        meaning="n_step people that a step needs at once",
        citations=(PRACTICE,),
        limits="As typed.",
        question="{name} takes {value} at once, against {target}. Where are they at two in the "
        "morning?",
        caution=_CAUTION,
    ),
    Check(
        slug="person_hours",
        title="Person-hours to set up",
        topic="Setting up",
        scales=(HOURS,),
        measure=_person_hours,
        is_monotone=True,
        schedules=("steps", "states"),
        rule=Rule.AT_MOST,
        formula="w = Σ(n · t)",
        meaning="n people at a step; t its time [h]",
        citations=(PRACTICE,),
        limits="Work alone: whoever waits isn't counted.",
        question="{value} of work before anyone sits down, against {target}. Who does it, after "
        "the drive?",
    ),
    Check(
        slug="heaviest_set_up_lift",
        title="Heaviest lift of setting up, each person",
        topic="Setting up",
        scales=(MASS,),
        measure=_lift,
        is_monotone=True,
        schedules=("steps", "states"),
        rule=Rule.AT_MOST,
        formula="m = max(m_step ÷ n)",
        meaning="m_step lifted by hand in a step [kg]; n people at it",
        citations=(HAND_LIFT, HAND_TEAM, PRACTICE),
        limits="Shared evenly, which it never is; a team lifts less each than one alone. Reach, "
        "grip, height and how often aren't in it.",
        question="{name}: {value} each, against {target}. To what height, and who lets go?",
        caution=_CAUTION,
    ),
    Check(
        slug="open_to_rain",
        title="Time open to rain while setting up",
        topic="Setting up",
        scales=(WHOLE_MINUTES,),
        measure=_open,
        schedules=_SCHEDULES,
        rule=Rule.AT_MOST,
        formula="t = time in which an opening is open: from the start of the step that opens it to "
        "the end of the one that closes it",
        meaning="t in the sequence of the time to set up [min]",
        citations=(CRITICAL_PATH, PRACTICE),
        limits="What steps say that they open and close; a seam that nobody names lets in as much.",
        question="{value} open to the sky, against {target}. What is over it meanwhile?",
    ),
)
