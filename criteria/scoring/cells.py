"""The table everything starts from: schemes by jurors, some cells empty."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from criteria.errors import InputError

Matrix = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Cells:
    """One number for each scheme and juror, where the juror gave one.

    schemes   n names, rows
    jurors    m names, columns
    values    n × m [unit of the numbers]; 0 where nothing is seen
    seen      n × m, True where there is a number

    A scheme that no juror rated, or a juror who rated none, is refused: say so
    where the rows come from. `counts` and `sums` are what the equations take.
    """

    schemes: tuple[str, ...]
    jurors: tuple[str, ...]
    values: Matrix
    seen: NDArray[np.bool_]

    def __post_init__(self) -> None:
        shape = (len(self.schemes), len(self.jurors))
        if self.values.shape != shape or self.seen.shape != shape:
            raise InputError(f"expected {shape[0]} schemes × {shape[1]} jurors")
        if not np.isfinite(self.values).all():
            raise InputError("every number must be finite; an empty cell is False in `seen`")
        if not self.seen.any(axis=1).all() or not self.seen.any(axis=0).all():
            raise InputError("every scheme needs a juror's number and every juror a scheme")

    @classmethod
    def of(cls, numbers: Mapping[tuple[str, str], float]) -> "Cells":
        """From a number for each (scheme, juror), in the order in which they first come."""
        schemes = tuple(dict.fromkeys(scheme for scheme, _ in numbers))
        jurors = tuple(dict.fromkeys(juror for _, juror in numbers))
        values = np.zeros((len(schemes), len(jurors)))
        seen = np.zeros(values.shape, dtype=bool)
        row, column = _places(schemes), _places(jurors)
        for (scheme, juror), number in numbers.items():
            values[row[scheme], column[juror]] = float(number)
            seen[row[scheme], column[juror]] = True
        return cls(schemes, jurors, values, seen)

    @cached_property
    def counts(self) -> Matrix:
        """N, n × m: 1 where there is a number, else 0."""
        return self.seen.astype(float)

    @cached_property
    def jurors_per_scheme(self) -> Matrix:
        """r, how many jurors each scheme has."""
        return np.asarray(self.counts.sum(axis=1))

    @cached_property
    def schemes_per_juror(self) -> Matrix:
        """c, how many schemes each juror has."""
        return np.asarray(self.counts.sum(axis=0))

    @cached_property
    def raw(self) -> Matrix:
        """Plain mean of each scheme's numbers."""
        return np.asarray(self.values.sum(axis=1) / self.jurors_per_scheme)

    @property
    def size(self) -> int:
        """How many numbers there are."""
        return int(self.seen.sum())

    @property
    def complete(self) -> bool:
        """Whether every juror gave every scheme a number."""
        return bool(self.seen.all())

    @property
    def scale(self) -> float:
        """Greatest size of a number, for tolerances."""
        return float(np.abs(self.values).max())

    @property
    def constant(self) -> bool:
        """Whether every number is the same."""
        given = self.values[self.seen]
        return bool(np.all(given == given[0]))

    def part(self, rows: Sequence[int], columns: Sequence[int]) -> "Cells":
        """Some schemes and some jurors of it."""
        cut = np.ix_(rows, columns)
        return Cells(
            tuple(self.schemes[i] for i in rows),
            tuple(self.jurors[j] for j in columns),
            self.values[cut],
            self.seen[cut],
        )

    def others(self, juror: int) -> tuple[Matrix, Matrix, NDArray[np.intp]]:
        """A juror's numbers, the mean of the other jurors on the same schemes, and which schemes.

        Schemes that no other juror saw are left out.
        """
        rest = self.jurors_per_scheme - self.counts[:, juror]
        rows = np.flatnonzero(self.seen[:, juror] & (rest > 0))
        own = self.values[rows, juror]
        return own, (self.values[rows].sum(axis=1) - own) / rest[rows], rows


def _places(names: Sequence[Hashable]) -> dict[Hashable, int]:
    return {name: place for place, name in enumerate(names)}
