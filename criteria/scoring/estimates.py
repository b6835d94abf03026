"""What every part of the scoring answers with: a number with its interval, or why there is none."""

import math
from dataclasses import dataclass
from typing import ClassVar, Literal

from criteria.errors import InputError


@dataclass(frozen=True, slots=True)
class NotAvailable:
    """A number that can't be given, and the reason in words.

    It is false in a test of truth, so that a page may write
    `{% if level %}`; a number answers `available` with True.

    >>> bool(NotAvailable("one juror only"))
    False
    """

    reason: str
    available: ClassVar[bool] = False

    def __bool__(self) -> Literal[False]:
        return False

    def __str__(self) -> str:
        return f"not available: {self.reason}"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A number with its interval, or with the reason why it has none.

    value       the estimate, in the unit of what is estimated
    interval    lower and upper end, or NotAvailable
    confidence  share of such intervals that hold the true value   [1]
    method      how the interval was made, in words
    """

    value: float
    interval: "tuple[float, float] | NotAvailable"
    method: str
    confidence: float = 0.95
    available: ClassVar[bool] = True

    def __post_init__(self) -> None:
        ends = self.interval if isinstance(self.interval, tuple) else ()
        if any(math.isnan(number) for number in (self.value, *ends)):
            raise InputError(f"an estimate is a number, not {self.value} in {self.interval}")

    @property
    def low(self) -> float | None:
        """Lower end of the interval, or None where there is no interval."""
        return self.interval[0] if isinstance(self.interval, tuple) else None

    @property
    def high(self) -> float | None:
        """Upper end of the interval, or None where there is no interval."""
        return self.interval[1] if isinstance(self.interval, tuple) else None

    def holds(self, value: float) -> bool:
        """Whether the interval holds a value; its ends count. No interval holds everything."""
        if not isinstance(self.interval, tuple):
            return True
        return self.interval[0] <= value <= self.interval[1]
