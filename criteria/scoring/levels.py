"""Weighted levels in exact arithmetic, rounded once, at display.

A jury sheet holds a level for each criterion. Its weighted level is exact
(`Fraction`) until `shown` turns it into text, so that 3.25 is never 3.2 on one
page and 3.3 on the next, and a tie is a tie.

>>> sheet = weighted_level({"F1": 3, "F2": 4, "F3": NOT_MINE}, {"F1": 15, "F2": 10, "F3": 15})
>>> shown(sheet.value, 2), sheet.left_out
('3.40', ('F3',))
>>> sheet.working
'(15 × 3 + 10 × 4) ÷ 25 = 3.40'
>>> print(weighted_level({"F1": 3}, {"F1": 15, "F2": 10}))
not available: no level yet for F2
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from operator import mul
from typing import ClassVar

from criteria.errors import InputError
from criteria.scoring.estimates import NotAvailable

Exact = int | Fraction | Decimal


class NotJudged(Enum):
    """Why a criterion was left by a juror who has otherwise filled the sheet."""

    NOT_MINE = "not mine to judge"


NOT_MINE = NotJudged.NOT_MINE
"""The juror leaves this criterion to others: it is left out of the sum, not zeroed."""


@dataclass(frozen=True, slots=True)
class Term:
    """One criterion's part in a weighted level."""

    criterion: str
    level: Fraction
    weight: Fraction


@dataclass(frozen=True, slots=True)
class WeightedLevel:
    """The weighted level of one jury sheet.

    value      weighted level, exact                                 [level]
    terms      what was summed, in the order of the criteria sheet
    left_out   criteria with a weight that the juror left as not mine to judge
    """

    value: Fraction
    terms: tuple[Term, ...]
    left_out: tuple[str, ...] = ()
    available: ClassVar[bool] = True

    @property
    def weight_counted(self) -> Fraction:
        """Sum of the weights that the value rests on [the unit of the weights]."""
        return sum((term.weight for term in self.terms), Fraction(0))

    @property
    def working(self) -> str:
        """The sum as a student can check it, ending in the value to two places."""
        products = " + ".join(
            f"{_plain(term.weight)} × {_plain(term.level)}" for term in self.terms
        )
        return f"({products}) ÷ {_plain(self.weight_counted)} = {shown(self.value, 2)}"

    @property
    def note(self) -> str:
        """What was left out, in words; empty when nothing was."""
        if not self.left_out:
            return ""
        return f"{NOT_MINE.value}, left out of the sum: {', '.join(self.left_out)}"


@dataclass(frozen=True, slots=True)
class PanelLevel:
    """What a panel gave one scheme: the plain mean of its jurors' weighted levels.

    value    mean, exact                                             [level]
    spread   greatest less least weighted level, or why there is none [level]
    jurors   who is in the mean
    without  who is not, each with the reason
    """

    value: Fraction
    spread: "Fraction | NotAvailable"
    jurors: tuple[str, ...]
    without: tuple[tuple[str, str], ...] = ()
    available: ClassVar[bool] = True


def exact(number: Exact, what: str = "a number") -> Fraction:
    """Turn an int, Fraction or Decimal into a Fraction; anything else is refused.

    Errors: TypeError for a float, whose binary digits are not what was typed,
        and for a truth value; InputError for a Decimal that is not finite.
    """
    if isinstance(number, Fraction):
        return number
    if isinstance(number, bool) or not isinstance(number, int | Decimal):
        raise TypeError(f"{what} must be int, Fraction or Decimal to stay exact, not {number!r}")
    if isinstance(number, Decimal) and not number.is_finite():
        raise InputError(f"{what} must be finite, not {number}")
    return Fraction(number)


def exact_weights(weights: Mapping[str, Exact]) -> dict[str, Fraction]:
    """Check the weights of a criteria sheet and make them exact.

    Weights need not add to 100: they count by their share of the sum. 0 is
    allowed (such a criterion is kept for reading and left out of the sum).

    Errors: InputError for a negative weight, no criterion, or a sum of 0.
    """
    result = {name: exact(weight, f"weight of {name}") for name, weight in weights.items()}
    for name, weight in result.items():
        if weight < 0:
            raise InputError(f"weight of {name} must be 0 or more, not {_plain(weight)}")
    if not any(result.values()):
        raise InputError("the weights must add to more than 0, and there must be a criterion")
    return result


def weighted_level(
    levels: Mapping[str, Exact | NotJudged | None], weights: Mapping[str, Exact]
) -> WeightedLevel | NotAvailable:
    """The weighted level of one jury sheet, exact.

        L = Σ(w l) / Σ(w)      over the criteria judged

        L   weighted level                     [level]
        l   level of a criterion               [level]
        w   weight of the criterion            [any unit, the same for all]

    levels    by criterion; None, or no key, means that no level is given yet
    weights   by criterion, in the order of the criteria sheet

    A criterion that is not mine to judge is left out of both sums and named in
    `left_out`. A criterion with a weight and no level yet makes the result
    not available: a sheet in hand has no weighted level. Weight 0 leaves a
    criterion out without a word.

    Errors: InputError for a level of a criterion that has no weight (not even
        0), or bad weights; TypeError for a float.

    Source: weighted arithmetic mean; that a criterion left to others is not
        zeroed is common practice.
    """
    weights = exact_weights(weights)
    for name in levels:
        if name not in weights:
            raise InputError(f"no weight for criterion {name}; expected {', '.join(weights)}")
    counted = {name: weight for name, weight in weights.items() if weight}
    missing = [name for name in counted if levels.get(name) is None]
    if missing:
        return NotAvailable(f"no level yet for {', '.join(missing)}")
    given = {name: level for name in counted if (level := levels[name]) is not None}
    left_out = tuple(name for name, level in given.items() if isinstance(level, NotJudged))
    terms = tuple(
        Term(name, exact(level, f"level of {name}"), counted[name])
        for name, level in given.items()
        if not isinstance(level, NotJudged)
    )
    if not terms:
        return NotAvailable(f"every weighted criterion is {NOT_MINE.value}")
    return WeightedLevel(_mean(terms), terms, left_out)


def _mean(terms: Sequence[Term]) -> Fraction:
    """Σ(w l) / Σ(w), summed in whole numbers: sums of fractions take five times as long."""
    weights, _ = _whole([term.weight for term in terms])
    levels, parts = _whole([term.level for term in terms])
    return Fraction(sum(map(mul, weights, levels)), parts * sum(weights))


def _whole(numbers: Sequence[Fraction]) -> tuple[list[int], int]:
    """The numbers by their common denominator: how many of its parts each is, and the parts."""
    parts = math.lcm(*(number.denominator for number in numbers))
    return [number.numerator * (parts // number.denominator) for number in numbers], parts


def panel_level(
    sheets: Mapping[str, WeightedLevel | NotAvailable],
) -> PanelLevel | NotAvailable:
    """Plain mean of the weighted levels that a scheme's jurors gave, and their spread.

    sheets   each juror's weighted level, or why there is none

    No juror counts more than another, and nobody's level is shrunk or dropped.
    """
    given = {
        juror: sheet.value for juror, sheet in sheets.items() if isinstance(sheet, WeightedLevel)
    }
    without = tuple(
        (juror, sheet.reason) for juror, sheet in sheets.items() if isinstance(sheet, NotAvailable)
    )
    if not given:
        said = "; ".join(f"{juror}: {reason}" for juror, reason in without)
        return NotAvailable(f"no juror's levels are complete ({said})" if said else "no juror yet")
    mean = sum(given.values(), Fraction(0)) / len(given)
    return PanelLevel(mean, spread(given.values()), tuple(given), without)


def spread(levels: Iterable[Exact | NotJudged | None]) -> Fraction | NotAvailable:
    """Greatest less least of what the jurors gave [level]; gaps are passed over.

    Of two jurors or more; one juror has no spread, and 0 would look like agreement.
    """
    given = [
        exact(level, "a level")
        for level in levels
        if level is not None and not isinstance(level, NotJudged)
    ]
    if len(given) < 2:
        return NotAvailable("fewer than two jurors gave a level")
    return max(given) - min(given)


def shown(value: Exact | float, places: int = 1, *, signed: bool = False) -> str:
    """Round a number once, half away from zero, and write it.

    value    exact; or a float, whose binary noise, nine places below those
             shown, is dropped first (3.9749999999999996 is shown as 3.98)
    places   decimals, 0 or more
    signed   write + before what is above zero

    Nothing that rounds to zero carries a sign.

    Errors: InputError for a float that is not finite.

    Source: ISO 80000-1:2009, Annex B, rule B, from memory. Python's own
        `round` takes halves to the even neighbour (its rule A).

    >>> shown(Fraction("72.25")), shown(2.675, 2), shown(Fraction(-1, 40)), shown(-0.25)
    ('72.3', '2.68', '0.0', '−0.3')
    """
    if isinstance(value, float):
        if not math.isfinite(value):
            raise InputError(f"only a finite number can be shown, not {value}")
        finer = 10 ** (places + 9)
        value = Fraction(round(Fraction(float(value)) * finer), finer)
    number = exact(value)
    units = int(abs(number) * 10**places + Fraction(1, 2))
    whole, rest = divmod(units, 10**places)
    text = f"{whole}.{rest:0{places}d}" if places else str(whole)
    if not units:
        return text
    if number < 0:
        return f"−{text}"
    return f"+{text}" if signed else text


def _plain(number: Fraction) -> str:
    """A fraction as people type it: 3, 2.5, or 10/3 where no decimal is exact."""
    if number.denominator == 1:
        return str(number.numerator)
    power = number.denominator
    for prime in (2, 5):
        while power % prime == 0:
            power //= prime
    if power != 1:
        return str(number)
    return format((Decimal(number.numerator) / Decimal(number.denominator)).normalize(), "f")
