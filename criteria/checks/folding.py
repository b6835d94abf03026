"""Whether pieces can move in the order in which the steps of setting up move them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from criteria.checks.check import Check
from criteria.checks.reading import all_but, gathered
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Rule, Step, listed
from criteria.folding.of_package import Passage, clearances_m, passages, set_up_state
from criteria.folding.order import MEETS_M, MOST_MOVERS, Order, Stop, order_of
from criteria.folding.replay import Clash, Task, clashes
from criteria.package import Package
from criteria.schedules.by_state import PieceState
from criteria.schedules.moving import SIDES
from criteria.schedules.states import LIVED_KINDS, BuildingState, named_states
from criteria.situations import Situation
from criteria.sources import PRACTICE
from criteria.typed.cells import Cell, Lacking, is_supposed, require_some
from criteria.units import ANGLE, LENGTH

RUNNING_M = 0.003
"""What slides past a wall keeps so much from it, besides what both are made out of true [m].
Common practice; the side on which it runs keeps none."""

_CAUTION = (
    "What moves can crush, and what is half out can fall: whoever is competent in lifting directs "
    "it, and a licensed engineer decides what stands between two steps."
)


@dataclass
class _Answer:
    """What became of all ways between states: faults by whom they name, and the working."""

    faults: dict[str, list[Step]] = field(default_factory=lambda: defaultdict(list))
    steps: list[Step] = field(default_factory=list)
    notes: list[Step] = field(default_factory=list)
    cells: list[Cell] = field(default_factory=list)
    moves: bool = False


def _order(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    answer, ways = _Answer(), passages(package)
    ways += _unled(package, ways)
    if is_supposed():  # to learn what lacks, not in which order anything goes
        return gathered(ways, lambda passage: Measured(subject=str(passage.nest.movers)))
    for passage in ways:
        try:
            _hold(passage, answer)
        except Lacking as lacks:
            answer.cells += lacks.cells
    if answer.cells and not (answer.faults or answer.moves):
        raise Lacking(*answer.cells)
    require_some([1] * answer.moves, "a piece that stands elsewhere when packed (pieces by state)")
    said = [step for steps in answer.faults.values() for step in steps]
    held = all_but(list(answer.faults), (*said, *answer.steps), answer.notes)
    cells = tuple(dict.fromkeys(map(str, answer.cells)))
    # a way that can't be told leaves the others their answer, and all together without one
    return [held, Measured(missing=cells)] if cells else [held]


def _unled(package: Package, ways: list[Passage]) -> list[Passage]:
    """Ways from set up to lived-in states of which no step says how pieces come there."""
    led = {state.state for way in ways for state in (way.start, way.end)}
    placed = {row.state for row in package.rows_of(PieceState)}
    start = set_up_state(package)
    return [
        Passage(start, state, _in(package, start), _in(package, state), (), {})
        for state in named_states(package.rows_of(BuildingState))
        if state.kind in LIVED_KINDS and state.state in placed - led and state != start
    ]


def _in(package: Package, state: BuildingState) -> Package:
    return Situation(state).of(package)


def _hold(passage: Passage, answer: _Answer) -> None:
    nest, by_step = passage.nest, {step.mark: step.moved for step in passage.steps}
    for mark, moved in by_step.items():
        if odd := next((each for each in moved if each not in nest.pieces), None):
            raise InputError(f"step {mark} moves {odd}, which is no piece")
    answer.moves = answer.moves or bool(nest.movers)
    _hold_clearances(passage, answer)
    is_led = True
    for mover in nest.movers:
        steps = [mark for mark, moved in by_step.items() if mover in moved]
        if len(steps) != 1:
            is_led = False
            words = "{} moves from {} to {} in {}: expected one step"
            by = ", ".join(steps) or "no step"
            states = passage.start.state, passage.end.state
            answer.faults[mover].append(Step(words, (mover, *states, by)))
    if carried := ", ".join(mark for mark, piece in nest.pieces.items() if piece.is_carried):
        words = "carried, so that where they stand in the end alone is held: {}"
        answer.notes.append(Step(words, (carried,)))
    if len(nest.movers) <= MOST_MOVERS:
        order = order_of(nest)
        for mark, stops in order.stopped.items():
            answer.faults[mark].append(Step("{} can never move: {}", (mark, _stopped(stops))))
        answer.steps += _forced(order)
        is_led = is_led and order.is_possible
    if is_led:
        moves = {mark: [m for m in moved if m in nest.movers] for mark, moved in by_step.items()}
        tasks = passage.tasks(moves)
        answer.steps += _moves(passage, tasks)
        found, is_whole = clashes(nest, tasks)
        for clash in found:
            answer.faults[clash.task.mark].append(_clash(clash, tasks))
        if not is_whole:
            answer.notes.append(
                Step("{} pieces move: held along one order of the steps alone", (len(nest.movers),))
            )


def _hold_clearances(passage: Passage, answer: _Answer) -> None:
    """Name what stands in another and has no room at a side."""
    nest = passage.nest
    for mark, piece in nest.pieces.items():
        gaps = clearances_m(nest, mark) if piece.inside else {}
        runs = any(piece.move)
        for side, gap in gaps.items():
            beside = runs and side != "bottom" and not piece.move[list(SIDES).index(side) // 2]
            if gap < -MEETS_M or (beside and gap < RUNNING_M):
                words = "{} has {} to {} at its {}, packed in it"
                fault = Step(words, (mark, Amount(gap, LENGTH), piece.inside or "", side))
                answer.faults[mark].append(fault)
        if gaps:
            side, gap = min(gaps.items(), key=lambda each: each[1])
            words = "{} in {}: least {}, at its {}"
            note = Step(words, (mark, piece.inside or "", Amount(gap, LENGTH), side))
            answer.notes.append(note)


def _stopped(stops: list[Stop] | tuple[Stop, ...]) -> Step:
    return listed([_stop(stop) for stop in stops], ", ")


def _stop(stop: Stop) -> Step:
    if stop.at_deg is None:
        return Step("{} stands in its way by {}", (stop.mark, Amount(stop.by_m, LENGTH)))
    return Step("it meets {} at {}", (stop.mark, Amount(stop.at_deg, ANGLE)))


def _forced(order: Order) -> list[Step]:
    """What geometry says of the order, in words."""
    after = [
        Step("{} only once {} moved", (mark, f"{', '.join(sorted(before))} has"))
        for mark, before in order.after.items()
        if before
    ]
    either = [
        Step("{} only once {}", (mark, " or ".join(" and ".join(sorted(s)) for s in sets)))
        for mark, sets in order.either.items()
    ]
    return after + either


def _moves(passage: Passage, tasks: list[Task]) -> list[Step]:
    """How each piece moves, in the order of the steps."""
    return [
        Step("{} moves {}: {}", (task.mark, mark, _way(passage, mark)))
        for task in tasks
        for mark in task.moves
    ]


def _way(passage: Passage, mark: str) -> Step:
    piece = passage.nest.pieces[mark]
    if piece.is_carried:
        return Step("carried")
    if piece.folds:
        return Step("folds by {}", (Amount(90.0 * abs(piece.folds[0].turns), ANGLE),))
    heads = zip(("across", "up", "in height"), piece.move, strict=True)
    return listed([Step("{} " + head, (Amount(by, LENGTH),)) for head, by in heads if by])


def _clash(clash: Clash, tasks: list[Task]) -> Step:
    """Say which step moves what too early, too late or into what."""
    stop = clash.stops[0]
    mover = next((task for task in tasks if stop.mark in task.moves), None)
    if stop.at_deg is None:
        by = Step("they lie {} in each other", (Amount(stop.by_m, LENGTH),))
    else:
        by = Step("they meet at {}", (Amount(stop.at_deg, ANGLE),))
    words = "{} moves {} against {}: {}"
    if mover and mover.mark != clash.task.mark:
        is_past = mover.mark in clash.done
        words = f"{{}} moves {{}} {'once' if is_past else 'before'} {{}} has moved: {{}}"
    return Step(words, (clash.task.mark, clash.piece, stop.mark, by))


ORDER_POSSIBLE = Check(
    slug="order_possible",
    title="Pieces can move in the order of the steps",
    topic="Setting up",
    measure=_order,
    schedules=("pieces", "pieces_by_state", "steps", "states"),
    rule=Rule.ALL,
    formula="what a piece sweeps on its way, with all that stands in it, meets nothing that stays; "
    "in every order that “after” allows",
    meaning="pieces as boxes, those that hold others as shells of plates; each goes straight along "
    "axes or turns about its hinge, from where it stands in one state to where in the next",
    citations=(PRACTICE,),
    limits="Boxes along axes, turned by right angles; of what is carried, or comes by itself, its "
    "place in the end alone. Frames, seals, legs, handles and what bends "
    "aren't in it, nor is what stands loose inside. Of more than ten pieces that move, or many "
    "steps that name nothing before them, one order alone is held.",
    question="{value}: they can't move as the steps say. Draw it half out: what stands in its way?",
    caution=_CAUTION,
)
