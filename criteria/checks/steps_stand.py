"""Whether a building stands after every step of setting up and packing, half built."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import about, gathered, measured
from criteria.checks.standing import (
    PERSON_KG,
    centre_of,
    corners_of,
    has_own_place,
    held_down,
    offset_of,
    piece_parts,
    place_of,
    tank_parts,
)
from criteria.errors import InputError
from criteria.findings import Amount, Measured, Step
from criteria.folding.of_package import Passage, passages
from criteria.folding.replay import Task, sets_done
from criteria.package import Package
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.standing import Leg
from criteria.schedules.states import PACKED_KINDS
from criteria.sources import PRACTICE
from criteria.standing.half_built import Body, HalfBuilt
from criteria.standing.tipping import Edge, Part, centre_of_mass, leaning
from criteria.typed.cells import is_supposed, require_some
from criteria.units import LENGTH, MASS, RATIO
from criteria.walking.bodies import Point, hull

MOST_RATIO = 100.0
"""A higher ratio is said as over this: next to nothing weighs beyond any edge [1]."""

_CAUTION = (
    "What is half built falls without warning: whoever is competent in lifting directs each step, "
    "and a licensed engineer decides what stands between two."
)


@dataclass(frozen=True)
class _Moment:
    """A building after a step: what had ended, and the edge over which it is nearest to tipping.

    idle         legs that are down and hold nothing yet
    is_in_step   whether what moves has moved, and stands on nothing that wasn't under it before
    """

    step: SetUpStep
    done: tuple[str, ...]
    parts: tuple[Part, ...]
    edge: Edge
    corner: Point
    idle: tuple[str, ...] = ()
    is_in_step: bool = False


def _steps_stand(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    ways = [(passage, _tasks(passage)) for passage in passages(package)]
    require_some(
        [t for _, tasks in ways for t in tasks], "a step that moves a piece or a leg (set-up steps)"
    )
    # a way that can't be told leaves the others their figures, and all together without one
    return [each for passage, tasks in ways for each in measured(partial(_along, passage, tasks))]


def _tasks(passage: Passage) -> list[Task]:
    return passage.tasks({step.mark: (*step.moved, *step.trodden) for step in passage.steps})


def _along(passage: Passage, tasks: list[Task]) -> list[Measured]:
    crowd = max(passage.before.people, passage.then.people)
    worst: dict[str, _Moment] = {}
    for moment in _moments(passage, tasks, crowd * PERSON_KG):
        mark = moment.step.mark
        held = worst.get(mark)
        if held is None or _rank(moment) < _rank(held):
            worst[mark] = moment
    _, is_whole = sets_done(tasks)
    notes = () if is_whole else (Step("held along one order of the steps alone"),)
    return [_measured(worst[task.mark], crowd, notes) for task in tasks if task.mark in worst]


def _rank(moment: _Moment) -> tuple[float, float]:
    return moment.edge.ratio, moment.edge.margin_m


def _moments(passage: Passage, tasks: list[Task], crowd_kg: float) -> Iterator[_Moment]:
    """Go through all moments after a step, in every order that the steps allow."""
    built = _half_built(passage, tasks)
    tanks = tank_parts(passage.before), tank_parts(passage.then)
    rows = {step.mark: step for step in passage.steps}
    is_packing = passage.end.kind in PACKED_KINDS
    if is_supposed():  # to learn what lacks, not how it stands
        return
    for ended in sets_done(tasks)[0][1:]:
        is_last = len(ended) == len(tasks)
        bodies = built.bodies(ended).values()
        parts = (*(body.part for body in bodies), *tanks[is_last])
        corners = hull([corner for body in bodies for corner in body.corners])
        there = [task for task in tasks if task.mark in ended]
        latest = [t for t in there if not any(t.mark in other.after for other in there)]
        moving = [task for task in latest if rows[task.mark].moved]
        stands = built.standing_on(ended, ended)
        asked = [(ended, latest, False)]
        asked += [(ended - {task.mark}, [task], True) for task in moving]
        for done, by, is_in_step in [] if is_last and is_packing else asked:
            feet = built.standing_on(done, ended)
            if is_in_step and (feet == stands or not built.down(done)):
                continue  # the same, or it hangs from a hook or lies on a lorry
            idle = tuple(mark for mark in built.down(done) if mark not in feet)
            ends = _weakest(parts, list(feet.values()), crowd_kg, corners, by[0].mark)
            for task in by:
                names = tuple(each.mark for each in there if each != task)
                yield _Moment(rows[task.mark], names, parts, *ends, idle, is_in_step)


def _weakest(
    parts: tuple[Part, ...], feet: list[Point], crowd_kg: float, corners: list[Point], mark: str
) -> tuple[Edge, Point]:
    if not crowd_kg:
        corners = [centre_of_mass(parts)]
    try:
        ways = leaning(parts, feet, crowd_kg, corners)
    except InputError as impossible:
        raise InputError(f"after {mark}: {impossible}") from None
    return min(ways, key=lambda way: (way[0].ratio, way[0].margin_m, way[1]))


def _half_built(passage: Passage, tasks: list[Task]) -> HalfBuilt:
    step_of: dict[str, str] = {}
    rows = {step.mark: step for step in passage.steps}
    sides = passage.before, passage.then
    known = {piece.mark for side in sides for piece in side.pieces}
    legs = [{leg.mark: leg for leg in side.rows_of(Leg)} for side in sides]
    for task in tasks:
        for mark in rows[task.mark].moved:
            if mark not in known:
                raise InputError(f"step {task.mark} moves {mark}, which is no piece")
        for mark in rows[task.mark].trodden:
            if mark not in legs[0] and mark not in legs[1]:
                raise InputError(f"step {task.mark} sets down {mark}, which is no leg")
        for mark in task.moves:
            if mark in step_of:
                raise InputError(f"{mark} moves in {step_of[mark]} and in {task.mark}")
            step_of[mark] = task.mark
    before, then = (_bodies(side) for side in sides)
    inside = {piece.mark: piece.packs_into for piece in passage.before.pieces}
    feet = [
        dict(gathered(side.values(), lambda leg: (leg.mark, (leg.at_x_m, leg.at_y_m))))
        for side in legs
    ]
    fixed = {
        leg.mark: (leg.under, offset_of(leg, passage.before))
        for leg in {**legs[0], **legs[1]}.values()
        if leg.under is not None
    }
    return HalfBuilt(before, then, inside, step_of, (feet[0], feet[1]), fixed)


def _bodies(package: Package) -> dict[str, Body]:
    parts = piece_parts(package)
    corners = gathered(
        package.pieces,
        lambda piece: tuple(corners_of(piece)) if has_own_place(piece, package) else (),
    )
    return {part.mark: Body(part, at) for part, at in zip(parts, corners, strict=True)}


def _measured(moment: _Moment, crowd: int, notes: tuple[Step, ...]) -> Measured:
    edge = moment.edge
    done = ", ".join(moment.done)
    steps = (
        Step("once {} had ended", (done,)) if done else Step("before any other step"),
        centre_of(moment.parts),
        Step(
            "with {} people, {}, at {} across, {} up",
            (crowd, Amount(crowd * PERSON_KG, MASS), *place_of(moment.corner)),
        ),
        Step(
            "{} inside the edge from {}, {} to {}, {}",
            (Amount(edge.margin_m, LENGTH), *place_of(edge.start), *place_of(edge.end)),
        ),
        held_down(edge),
    )
    said = []
    if moment.is_in_step:
        said.append(Step("while it is done: what moves has come, and stands on nothing new yet"))
    if moment.idle:
        said.append(Step("down, and under nothing yet: {}", (", ".join(moment.idle),)))
    is_over = edge.ratio > MOST_RATIO
    return Measured(
        **about(moment.step),
        values=(min(edge.ratio, MOST_RATIO),),
        steps=steps,
        notes=(*said, *notes),
        shown=f"over {MOST_RATIO:g}" if is_over else "",
    )


STEPS_STAND = Check(
    slug="steps_stand",
    title="Held down / tipping after every step",
    topic="Setting up",
    scales=(RATIO,),
    measure=_steps_stand,
    schedules=(
        "pieces",
        "pieces_by_state",
        "legs",
        "legs_by_state",
        "tanks",
        "steps",
        "states",
        "site",
    ),
    by_people=True,
    formula="r = Σ(m · e) inside ÷ Σ(m · e) outside, of the edge that is worst after each step, in "
    "every order that “after” allows",
    meaning="m mass of pieces, of water and of all people at the worst corner [kg]; e how far each "
    "is from an edge of the feet and wheels that are down then [m]; below 1 it tips",
    citations=(PRACTICE,),
    limits="A rigid body, level, without wind, push or furniture; what moves goes straight from "
    "one place to the other. A leg holds what stands over it, or goes along with what it is fixed "
    "to. Tanks are as full as in the state that is left, until the last step. "
    "1.5 is common practice. Packing passes the same moments backwards.",
    question="After {name} what holds it is {value} times what tips it, against {target}. Who "
    "leans on it then?",
    caution=_CAUTION,
)
