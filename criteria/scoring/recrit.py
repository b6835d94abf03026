"""What a re-crit makes of a level: it may rise, as far as the school allows, and never falls.

>>> again = shown_again(2, 4, cap=3)
>>> again.level, again.outcome
(Fraction(3, 1), <Outcome.CAPPED: 'capped'>)
>>> again.words
'judged 4 again; capped at 3 as the school sets'
>>> shown_again(3, 2, cap=3).words
'judged 2 again; a re-crit lets no level fall'
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from criteria.errors import InputError
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import Exact, NotJudged, WeightedLevel, exact, shown, weighted_level

LEAST, MOST = 1, 5

Level = Exact | NotJudged | None
"""A level; not mine to judge; or None where there is none."""


class Outcome(Enum):
    """What became of a criterion at a re-crit."""

    NOT_ASKED = "not asked"
    NOT_JUDGED = "not judged"
    FIRST = "first"
    ROSE = "rose"
    CAPPED = "capped"
    SAME = "same"
    KEPT = "kept"


@dataclass(frozen=True, slots=True)
class ShownAgain:
    """One criterion before and after a re-crit, exact.

    before   level of the earlier crit; None where it gave none        [level]
    again    level that the re-crit's jurors gave; None where none     [level]
    level    what stands afterwards; None where neither gave one       [level]
    cap      the highest level a re-crit may raise to; None: no cap    [level]
    """

    before: Fraction | None
    again: Fraction | None
    level: Fraction | None
    outcome: Outcome
    cap: int | None = None

    @property
    def words(self) -> str:
        """Why the level stands as it does, in words."""
        again = "" if self.again is None else _said(self.again)
        return {
            Outcome.NOT_ASKED: "not shown again; stands as it was",
            Outcome.NOT_JUDGED: "no level at the re-crit; stands as it was",
            Outcome.FIRST: f"no level before; judged {again} at the re-crit",
            Outcome.ROSE: f"judged {again} again",
            Outcome.CAPPED: f"judged {again} again; capped at {self.cap} as the school sets",
            Outcome.SAME: f"judged {again} again",
            Outcome.KEPT: f"judged {again} again; a re-crit lets no level fall",
        }[self.outcome]


def shown_again(
    before: Level, again: Level, *, cap: int | None = None, asked: bool = True
) -> ShownAgain:
    """The level of one criterion after a re-crit.

        l = max(b, min(a, c))

    l   level that stands afterwards                        [level]
    b   before: level of the earlier crit                   [level]
    a   again: level that the re-crit's jurors gave         [level]
    c   cap: highest level that a re-crit may raise to      [level]

    asked   whether the criterion was open at the re-crit; one that wasn't keeps its level

    Without b it is min(a, c); without a it is b. A level above the cap before stays there: the
    cap bounds what rises. Not mine to judge is no level.

    Errors: InputError for a level or cap outside 1 to 5; TypeError for a float.

    Source: that a re-crit raises to a ceiling set by the school and never lowers is common
        practice.
    """
    was, now = _checked(before, "level before"), _checked(again, "level again")
    _checked(cap, "cap")
    if not asked:
        return ShownAgain(was, None, was, Outcome.NOT_ASKED, cap)
    if now is None:
        return ShownAgain(was, None, was, Outcome.NOT_JUDGED, cap)
    bounded = now if cap is None else min(now, Fraction(cap))
    level = bounded if was is None else max(was, bounded)
    return ShownAgain(was, now, level, _outcome(was, now, bounded), cap)


def _outcome(was: Fraction | None, now: Fraction, bounded: Fraction) -> Outcome:
    if was is not None and now < was:
        return Outcome.KEPT
    if bounded < now:
        return Outcome.CAPPED
    if was is None:
        return Outcome.FIRST
    return Outcome.SAME if now == was else Outcome.ROSE


@dataclass(frozen=True, slots=True)
class SheetAgain:
    """A whole criteria sheet before and after a re-crit, in its order.

    before, after   weighted levels, exact, or why there is none      [level]
    """

    criteria: Mapping[str, ShownAgain]
    before: WeightedLevel | NotAvailable
    after: WeightedLevel | NotAvailable


def sheet_again(
    before: Mapping[str, Level],
    again: Mapping[str, Level],
    weights: Mapping[str, Exact],
    *,
    cap: int | None = None,
) -> SheetAgain:
    """Each criterion of the earlier sheet after a re-crit, and its weighted level.

    before    levels of the earlier crit by criterion
    again     levels of the re-crit, of the criteria that it asked for; no others are judged
    weights   of the earlier sheet, in its order

    Errors: InputError for a criterion asked again that the earlier sheet hasn't.
    """
    if strange := [name for name in again if name not in weights]:
        raise InputError(f"{', '.join(strange)} asked again and not on the earlier sheet")
    criteria = {
        name: shown_again(before.get(name), again.get(name), cap=cap, asked=name in again)
        for name in weights
    }
    return SheetAgain(
        criteria,
        weighted_level({name: each.before for name, each in criteria.items()}, weights),
        weighted_level({name: each.level for name, each in criteria.items()}, weights),
    )


def rule_words(cap: int | None) -> str:
    """The rule as students read it before and after a re-crit."""
    rises = f"may rise, to {cap} at most as the school sets," if cap else "may rise"
    return (
        f"A level {rises} and never falls. What isn't judged again keeps its level. "
        "The record of the earlier crit stays as it was."
    )


def _checked(level: Level, what: str) -> Fraction | None:
    if level is None or isinstance(level, NotJudged):
        return None
    figure = exact(level, what)
    if not LEAST <= figure <= MOST:
        raise InputError(f"{what} must be {LEAST} to {MOST}, not {_said(figure)}")
    return figure


def _said(level: Fraction) -> str:
    return str(level) if level.denominator == 1 else shown(level, 2)
