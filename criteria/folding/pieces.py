"""Pieces of a building that folds: solid boxes, or shells of up to six plates.

Frame: x, y in plan, z up, metres. A piece that stands inside another rides along when that moves,
so that where all have moved doesn't depend on the order. A piece moves along axes, or turns about
an edge by right angles, so that it stays a box along axes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from criteria.errors import InputError

Floats = NDArray[np.float64]
Place = tuple[float, float, float]

MOST_PIECES = 60
"""Each is held against each, in every place that the others may have: more would hold a page."""

NO_PLATES: Floats = np.zeros((0, 2, 3))

FACES = ("-x", "+x", "-y", "+y", "-z", "+z")


@dataclass(frozen=True)
class Fold:
    """A turn about a line along an axis.

    axis   0, 1 or 2: along x, y or z
    at     where the line crosses the plane square to it, along the next two axes in turn [m]
    turns  right angles, anticlockwise as seen from the axis' far end; below 0 clockwise
    """

    axis: int
    at: tuple[float, float]
    turns: int

    @property
    def plane(self) -> tuple[int, int]:
        """The two axes square to it, in the order in which a turn is anticlockwise."""
        return (self.axis + 1) % 3, (self.axis + 2) % 3

    def turned(self, plates: Floats, turns: int) -> Floats:
        """Return plates turned by so many right angles."""
        one, other = self.plane
        placed = plates.copy()
        for _ in range(turns % 4):
            low, high = placed.min(axis=1), placed.max(axis=1)
            placed[:, 0, one] = self.at[0] + self.at[1] - high[:, other]
            placed[:, 1, one] = self.at[0] + self.at[1] - low[:, other]
            placed[:, 0, other] = self.at[1] - self.at[0] + low[:, one]
            placed[:, 1, other] = self.at[1] - self.at[0] + high[:, one]
        return placed


@dataclass(frozen=True)
class Piece:
    """One piece.

    corner      its lower corner as packed [m]
    size        outer length, width, height [m]
    wall_m      thickness of its plates; None where it is solid
    open_faces  faces without a plate
    move        by how much it moves when it is set up [m]; along two axes in either order
    inside      mark of the piece with which it rides
    folds       the turn instead, or two that end alike, of which the freer counts
    is_carried  whether it is carried instead, whichever way: its place in the end alone is held
    is_there    whether it is there before it is carried
    to          corner and size in the end of what is carried; None where it is carried away
    """

    mark: str
    corner: Place
    size: Place
    wall_m: float | None = None
    open_faces: frozenset[str] = frozenset()
    move: Place = (0.0, 0.0, 0.0)
    inside: str | None = None
    folds: tuple[Fold, ...] = ()
    is_carried: bool = False
    is_there: bool = True
    to: tuple[Place, Place] | None = None

    @property
    def moves(self) -> bool:
        """Whether it moves at all."""
        return self.is_carried or bool(self.folds) or any(self.move)

    def moved(self, plates: Floats, *, back: bool = False) -> Floats:
        """Return plates that go along with it, or that its own move would bring where they are."""
        sign = -1 if back else 1
        if self.folds:
            return self.folds[0].turned(plates, sign * self.folds[0].turns)
        placed: Floats = plates + sign * self._by
        return placed

    @cached_property
    def _by(self) -> Floats:
        carried = np.subtract(self.to[0], self.corner) if self.to else np.zeros(3)
        return carried if self.is_carried else np.array(self.move, dtype=float)

    @cached_property
    def plates(self) -> Floats:
        """Its plates as packed, plates × 2 × 3: lower and upper corners [m]."""
        return self._plates(self.corner, self.size) if self.is_there else NO_PLATES

    @cached_property
    def carried_plates(self) -> Floats:
        """Its plates where it is carried to."""
        return self._plates(*self.to) if self.to else NO_PLATES

    def _plates(self, corner: Place, size: Place) -> Floats:
        low = np.array(corner, dtype=float)
        high = low + np.array(size, dtype=float)
        if self.wall_m is None:
            return np.array([[low, high]])
        plates = []
        for axis in range(3):
            for side, face in enumerate(FACES[2 * axis : 2 * axis + 2]):
                if face not in self.open_faces:
                    plate = np.array([low, high])
                    plate[1 - side, axis] = plate[side, axis] + (1 - 2 * side) * self.wall_m
                    plates.append(plate)
        return np.array(plates).reshape(-1, 2, 3)


class Nest:
    """Pieces with what rides in what.

    Raises InputError for more than MOST_PIECES, a mark twice, a piece inside one that isn't there,
    a size or wall of nothing, a face that is none, and pieces that stand inside each other in a
    circle.
    """

    def __init__(self, pieces: Sequence[Piece]) -> None:
        if len(pieces) > MOST_PIECES:
            raise InputError(f"{len(pieces)} pieces; expected at most {MOST_PIECES} with places")
        self.pieces: Mapping[str, Piece] = {piece.mark: piece for piece in pieces}
        if len(self.pieces) < len(pieces):
            raise InputError("a piece stands twice; expected a mark of its own for each")
        for piece in pieces:
            _require_possible(piece)
            if piece.inside is not None and piece.inside not in self.pieces:
                raise InputError(f"piece {piece.mark} is inside {piece.inside}, which is no piece")
        self.holders = {mark: tuple(self._holders(mark)) for mark in self.pieces}
        self.riders = {
            mark: frozenset(each for each, held in self.holders.items() if mark in held)
            for mark in self.pieces
        }
        self._placed: dict[tuple[str, str | None, frozenset[str]], Floats] = {}
        self.met: dict[Any, Any] = {}  # by `criteria.folding.order`: what was asked of two pieces

    @property
    def movers(self) -> list[str]:
        """The marks of the pieces that move."""
        return [mark for mark, piece in self.pieces.items() if piece.moves]

    def _holders(self, mark: str) -> Iterator[str]:
        """What a piece rides in, from the nearest out."""
        passed = [mark]
        while (holder := self.pieces[passed[-1]].inside) is not None:
            if holder in passed:
                circle = " inside ".join([*passed[passed.index(holder) :], holder])
                raise InputError(f"pieces stand inside each other in a circle: {circle}")
            passed.append(holder)
            yield holder

    def plates(self, mark: str, moved: frozenset[str], frame: str | None = None) -> Floats:
        """A piece's plates once some have moved, as seen from what a piece rides in.

        frame   the piece whose holders' moves are undone, so that its own is as it was typed
        """
        on = mark, *self.holders[mark]
        under = self.holders[frame] if frame else ()
        key = mark, frame, moved & {*on}.symmetric_difference(under)  # what carries both cancels
        if key not in self._placed:
            placed = self.pieces[mark].plates
            for each in on:
                piece = self.pieces[each]
                if each in moved:
                    is_own = each == mark and piece.is_carried
                    placed = piece.carried_plates if is_own else piece.moved(placed)
            for each in reversed(under):
                if each in moved:
                    placed = self.pieces[each].moved(placed, back=True)
            self._placed[key] = placed
        return self._placed[key]


def _require_possible(piece: Piece) -> None:
    if not min(piece.size) > 0:
        raise InputError(f"piece {piece.mark} has a side of {min(piece.size):g} m; expected over 0")
    if odd := piece.open_faces.difference(FACES):
        raise InputError(f"piece {piece.mark} is open at {min(odd)}; expected {', '.join(FACES)}")
    most = min(piece.size) / 2
    if piece.wall_m is not None and not 0 < piece.wall_m <= most:
        raise InputError(
            f"piece {piece.mark} has walls of {piece.wall_m:g} m; expected over 0, at most {most:g}"
        )
