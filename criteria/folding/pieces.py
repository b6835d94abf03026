"""Pieces of a building that folds: solid boxes, or shells of up to six plates.

Frame: x, y in plan, z up, metres. A piece that stands inside another rides along when that moves,
so that where all have moved doesn't depend on the order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from criteria.errors import InputError

Floats = NDArray[np.float64]
Place = tuple[float, float, float]

FACES = ("-x", "+x", "-y", "+y", "-z", "+z")


@dataclass(frozen=True)
class Piece:
    """One piece.

    corner      its lower corner as packed [m]
    size        outer length, width, height [m]
    wall_m      thickness of its plates; None where it is solid
    open_faces  faces without a plate
    move        by how much it moves when it is set up [m]; along two axes in either order
    inside      mark of the piece with which it rides
    """

    mark: str
    corner: Place
    size: Place
    wall_m: float | None = None
    open_faces: frozenset[str] = frozenset()
    move: Place = (0.0, 0.0, 0.0)
    inside: str | None = None

    @property
    def moves(self) -> bool:
        """Whether it moves at all."""
        return any(self.move)

    @cached_property
    def plates(self) -> Floats:
        """Its plates as packed, plates × 2 × 3: lower and upper corners [m]."""
        low = np.array(self.corner, dtype=float)
        high = low + np.array(self.size, dtype=float)
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

    Raises InputError for a mark twice, a piece inside one that isn't there, a size or wall of
    nothing, a face that is none, and pieces that stand inside each other in a circle.
    """

    def __init__(self, pieces: Sequence[Piece]) -> None:
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

    def plates(self, mark: str, moved: frozenset[str]) -> Floats:
        """A piece's plates once some have moved."""
        piece = self.pieces[mark]
        carried = [self.pieces[m].move for m in (mark, *self.holders[mark]) if m in moved]
        placed: Floats = piece.plates + np.array(carried).reshape(-1, 3).sum(axis=0)
        return placed


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
