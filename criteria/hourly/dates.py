"""Months of a year without its 29 February, by day and by hour."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from criteria.errors import InputError
from criteria.hourly.weather import Flags

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_OF_DAY: NDArray[np.int64] = np.repeat(np.arange(12, dtype=np.int64), MONTH_DAYS)
"""Which month a day is of, from 0: shape (365,)."""
MONTH_OF_HOUR: NDArray[np.int64] = np.repeat(MONTH_OF_DAY, 24)
"""The same of each hour: shape (8760,)."""
DAY_OF_MONTH: NDArray[np.int64] = np.concatenate([np.arange(days) for days in MONTH_DAYS])
"""Which day of its month a day is, from 0: shape (365,)."""


def open_days(is_open: Sequence[bool]) -> Flags:
    """Tell which days are of months that are open, of twelve answers: shape (365,).

    Raises InputError where they aren't twelve.
    """
    if len(is_open) != 12:
        raise InputError(f"{len(is_open)} months; expected 12")
    return np.asarray(is_open, dtype=np.bool_)[MONTH_OF_DAY]
