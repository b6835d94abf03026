"""Pieces of a package on their way from one state to another, as its steps lead.

What moves by how much follows from where a piece stands in the two states; what rides in another
moves by what is left of that. A piece without a size or a place, and one that holds others and has
no wall, stops the reckoning: what stands there isn't known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from criteria.checks.reading import gathered
from criteria.errors import InputError
from criteria.folding.pieces import FACES, Floats, Fold, Nest, Piece, Place
from criteria.folding.replay import Task
from criteria.package import Package
from criteria.schedules import moving
from criteria.schedules.moving import CARRIED, SIDES
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.states import DAY, PACKED_KINDS, BuildingState, named_states
from criteria.setting_up import network
from criteria.setting_up.network import Network
from criteria.situations import Situation
from criteria.typed.cells import Lacking, lacking, require_some

ROUNDING_M = 5e-4
"""Places that differ by less are one place: they are typed to a millimetre [m]."""
SIDE_OF = {face: side for side, face in SIDES.items()}


@dataclass(frozen=True)
class Passage:
    """The steps that lead from one state to another, and the package in both.

    steps   in an order in which they may be done
    after   for each step all that must have ended, whatever state they lead to
    """

    start: BuildingState
    end: BuildingState
    before: Package
    then: Package
    steps: tuple[SetUpStep, ...]
    after: Mapping[str, frozenset[str]]

    @cached_property
    def nest(self) -> Nest:
        """The pieces with their moves. Raises Lacking for what isn't given."""
        return _nest(self)

    def tasks(self, marks_of: Mapping[str, Sequence[str]]) -> list[Task]:
        """Return those steps that do something, by what they move, in order."""
        doing = {step.mark for step in self.steps if marks_of[step.mark]}
        return [
            Task(step.mark, tuple(marks_of[step.mark]), self.after[step.mark] & doing)
            for step in self.steps
            if step.mark in doing
        ]


def passages(package: Package) -> list[Passage]:
    """Return the ways between states that steps lead, in the order of the steps.

    Raises Lacking where a step's states can't be read, InputError where steps go in no order.
    """
    base = package.as_built or package
    states = {state.state: state for state in named_states(base.rows_of(BuildingState))}
    ends = gathered(base.steps, lambda step: _ends(step, states))
    order, after = _sequence(base.steps)
    led: dict[tuple[str, str], list[SetUpStep]] = {}
    for step, pair in zip(base.steps, ends, strict=True):
        led.setdefault(pair, []).append(step)
    return [
        Passage(
            states[start],
            states[end],
            Situation(states[start], package.case).of(base),
            Situation(states[end], package.case).of(base),
            tuple(sorted(steps, key=lambda step: order.index(step.mark))),
            after,
        )
        for (start, end), steps in led.items()
        if start != end
    ]


def set_up_state(package: Package) -> BuildingState:
    """Return the first state by day: what is meant by set up."""
    named = named_states((package.as_built or package).rows_of(BuildingState))
    return next(state for state in named if state.kind == DAY)


def _ends(step: SetUpStep, states: Mapping[str, BuildingState]) -> tuple[str, str]:
    packed = [state.state for state in states.values() if state.kind in PACKED_KINDS]
    set_up = [state.state for state in states.values() if state.kind == DAY]
    start, end = step.from_state, step.to_state
    require_some(packed if start is None else [start], "a state of kind road or lift (states)")
    return start or packed[0], end or set_up[0]


def _sequence(rows: Sequence[SetUpStep]) -> tuple[list[str], dict[str, frozenset[str]]]:
    """An order in which the steps may be done, and for each all that must have ended."""
    steps = Network([network.Step(row.mark, 1, 1, row.forerunners) for row in rows])
    after: dict[str, frozenset[str]] = {}
    for n in steps.order:
        near = steps.steps[n].after
        after[steps.steps[n].mark] = frozenset(near).union(*(after[mark] for mark in near))
    return [steps.steps[n].mark for n in steps.order], after


def _nest(passage: Passage) -> Nest:
    before, then = ({p.mark: p for p in side.pieces} for side in (passage.before, passage.then))
    _require_walls([*before.values(), *then.values()])
    rows = {**then, **before}
    starts, ends = (
        dict(gathered(side.values(), lambda piece: (piece.mark, _box(piece))))
        for side in (before, then)
    )
    still = [
        Piece(
            mark,
            *_place_and_size({**ends, **starts}[mark]),
            row.wall_m,
            row.open_faces,
            inside=row.packs_into if mark in before else None,
            is_carried=mark not in before or mark not in then,
            is_there=mark in before,
        )
        for mark, row in rows.items()
    ]
    nest = Nest(still)
    moved = dict(nest.pieces)
    for mark in sorted(moved, key=lambda mark: len(nest.holders[mark])):
        if (at := ends.get(mark)) is not None:
            for holder in reversed(nest.holders[mark]):
                at = moved[holder].moved(at, back=True)
            moved[mark] = _moved(moved[mark], at, rows[mark], passage)
    return Nest(list(moved.values()))


def _place_and_size(box: Floats) -> tuple[Place, Place]:
    return _place(box[0, 0]), _place(box[0, 1] - box[0, 0])


def _place(at: Floats) -> Place:
    x, y, z = map(float, at)
    return x, y, z


def _require_walls(pieces: Sequence[moving.Piece]) -> None:
    holders = {piece.packs_into for piece in pieces}
    solid = {p.mark: p for p in pieces if p.mark in holders and p.wall_m is None}
    if solid:
        raise Lacking(*(piece.cell("wall_m") for piece in solid.values()))


def _box(piece: moving.Piece) -> Floats:
    """The outer box of a piece, 1 × 2 × 3: lower and upper corner [m]."""
    if piece.n > 1:
        raise lacking(f"a row and a place of its own for each of the {piece.n} of {piece.mark}")
    low = np.array([piece.at_x_m, piece.at_y_m, piece.at_z_m])
    return np.array([[low, low + np.array(piece.sizes_m)]])


def _moved(still: Piece, at: Floats, row: moving.Piece, passage: Passage) -> Piece:
    """The piece with the move that brings it where it stands in the end."""
    if still.is_carried:
        return replace(still, to=_place_and_size(at))
    start = np.array([[still.corner, np.add(still.corner, still.size)]])
    by = at - start
    grows = np.abs(by[0, 1] - by[0, 0]).max() > ROUNDING_M
    if np.abs(by).max() <= ROUNDING_M:
        return still
    if row.opens_by == CARRIED:
        return replace(still, is_carried=True, to=_place_and_size(at))
    if grows and row.opens_by is None:
        raise Lacking(row.cell("opens_by"))
    if row.opens_by == "folds":
        return replace(still, folds=_folds(start, at, row, passage))
    if grows:
        raise InputError(
            f"{still.mark} {row.opens_by}, yet has other sides in {passage.end.state} than in "
            f"{passage.start.state}"
        )
    move = _place(np.where(np.abs(by[0, 0]) > ROUNDING_M, by[0, 0], 0.0))
    _require_way(still.mark, row.opens_by, move[2], passage)
    return replace(still, move=move)


def _require_way(mark: str, opens_by: str | None, up_m: float, passage: Passage) -> None:
    """Raise InputError where a piece goes up or down otherwise than its row says."""
    way = {"drops": -1, "lifts": 1}.get(opens_by or "", 0)
    is_back = passage.start.kind not in PACKED_KINDS
    if opens_by and (bool(way) != bool(up_m) or (way * up_m < 0 and not is_back)):
        raise InputError(
            f"{mark} {opens_by}, yet goes up by {up_m:g} m from {passage.start.state} to "
            f"{passage.end.state}"
        )


def _folds(start: Floats, end: Floats, row: moving.Piece, passage: Passage) -> tuple[Fold, ...]:
    """The turns about a piece's hinge that bring it where it stands in the end."""
    turns = round(row.hinge_deg / 90)
    if abs(row.hinge_deg - 90 * turns) > 1e-6:
        raise InputError(f"{row.mark} folds by {row.hinge_deg:g}°; expected 90, 180 or 270°")
    found = tuple(
        dict.fromkeys(
            fold
            for fold in _turns(row.hinge, (start, end), turns)
            if np.abs(fold.turned(start, fold.turns) - end).max() <= ROUNDING_M
        )
    )
    if not found:
        raise InputError(
            f"{row.mark} folded by {row.hinge_deg:g}° about its {row.hinge} edge doesn't come to "
            f"its place in {passage.end.state}"
        )
    return found


def _turns(hinge: str, boxes: Sequence[Floats], turns: int) -> Iterator[Fold]:
    """Turns about an edge as it is named before, or once folded, either way round."""
    sides = {FACES.index(SIDES[side]) // 2: SIDES[side] for side in hinge.split()}
    axis = next(axis for axis in range(3) if axis not in sides)
    for box in boxes:
        one, other = (
            round(float(box[0, int(sides[k % 3][0] == "+"), k % 3]), 9)
            for k in (axis + 1, axis + 2)
        )
        for way in (turns, -turns):
            yield Fold(axis, (one, other), way)


def clearances_m(nest: Nest, mark: str) -> dict[str, float]:
    """Return how far a piece is from each wall of what it stands in, by side [m]."""
    piece = nest.pieces[mark]
    outer = nest.pieces[piece.inside or ""]
    gaps = {}
    for n, face in enumerate(FACES):
        axis, is_high = divmod(n, 2)
        if face in outer.open_faces:
            continue
        near = piece.corner[axis] - outer.corner[axis]
        far = outer.size[axis] - piece.size[axis] - near
        gaps[SIDE_OF[face]] = (far if is_high else near) - (outer.wall_m or 0.0)
    return gaps
