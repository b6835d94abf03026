"""Levels before a re-crit and after it: what was agreed or given, and what may rise."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction

from criteria.scoring.levels import NOT_MINE, Exact, NotJudged, WeightedLevel, shown
from criteria.scoring.recrit import Outcome, SheetAgain, ShownAgain, rule_words, sheet_again
from reviews.models import AgreedLevel, Crit, Criterion, JurySheet, LevelGiven, Scheme
from reviews.models.crits import LEVELS
from reviews.reading.recrit_scope import Scope, asked_of, scope_of, sheet_of

Judged = dict[str, Exact | NotJudged | None]
"""Levels by the code of the criterion."""


@dataclass(frozen=True)
class LevelAgain:
    """One criterion before and after."""

    criterion: Criterion
    shown: ShownAgain

    @property
    def is_asked(self) -> bool:
        """Whether it was shown again."""
        return self.shown.outcome is not Outcome.NOT_ASKED

    @property
    def before(self) -> str:
        """As students read it: the word; between two levels, both."""
        return _word(self.shown.before)

    @property
    def after(self) -> str:
        """The same afterwards."""
        return _word(self.shown.level)

    @property
    def why(self) -> str:
        """Why it stands so, in words for its students: no decimal."""
        again = _word(self.shown.again)
        if self.shown.outcome is Outcome.CAPPED:
            return (
                f"Judged {again}; capped at {LEVELS[(self.shown.cap or 1) - 1]} as the school sets"
            )
        if self.shown.again is not None:
            kept = "; a re-crit lets no level fall" if self.shown.outcome is Outcome.KEPT else ""
            return f"Judged {again}{kept}"
        return self.shown.words.capitalize()

    @property
    def is_changed(self) -> bool:
        return self.shown.level != self.shown.before

    @property
    def before_figure(self) -> str:
        return _figure(self.shown.before)

    @property
    def after_figure(self) -> str:
        return _figure(self.shown.level)


@dataclass(frozen=True)
class LevelsAgain:
    """A scheme's levels before and after a re-crit, on the whole earlier sheet.

    cap   that which holds for it: none for those who were away by agreement
    """

    crit: Crit
    scope: Scope
    sheet: SheetAgain
    lines: tuple[LevelAgain, ...]
    cap: int | None

    @property
    def rule(self) -> str:
        """The rule in words."""
        return rule_words(self.cap)

    @property
    def before(self) -> str:
        """The weighted level before, to one decimal; or why there is none."""
        before = self.sheet.before
        return shown(before.value) if isinstance(before, WeightedLevel) else ""

    @property
    def after(self) -> str:
        """The same afterwards."""
        after = self.sheet.after
        return shown(after.value) if isinstance(after, WeightedLevel) else ""

    @property
    def working(self) -> str:
        """How the weighted level afterwards is made up, or why there is none."""
        after = self.sheet.after
        return (
            after.working if isinstance(after, WeightedLevel) else f"Not available: {after.reason}"
        )


def levels_again(crit: Crit, scheme: Scheme) -> LevelsAgain | None:
    """A scheme's levels before and after a re-crit; None where it follows no crit."""
    if crit.follows is None:
        return None
    scope, criteria = scope_of(crit, scheme), sheet_of(crit)
    cap = None if scope.is_without_prejudice else crit.level_cap
    asked = {each.code for each in asked_of(crit, scheme.pk)} & {each.code for each in criteria}
    given = _given(crit, [scheme.pk])[scheme.pk]
    again = {code: given.get(code) for code in asked}
    sheet = sheet_again(
        levels_before(crit, scheme),
        again,
        {each.code: each.weight for each in criteria},
        cap=cap,
    )
    lines = tuple(LevelAgain(each, sheet.criteria[each.code]) for each in criteria)
    return LevelsAgain(crit, scope, sheet, lines, cap)


def levels_before(crit: Crit, scheme: Scheme) -> Judged:
    """What stood before a re-crit: of the crit that it follows, itself a re-crit or not."""
    assert crit.follows is not None
    earlier = levels_again(crit.follows, scheme)
    if earlier is None:
        return _given(crit.follows, [scheme.pk])[scheme.pk]
    return {line.criterion.code: line.shown.level for line in earlier.lines}


def _given(crit: Crit, schemes: Collection[int]) -> dict[int, Judged]:
    """By scheme, each criterion's agreed level, else the mean of the levels that count."""
    found: dict[int, Judged] = {pk: {} for pk in schemes}
    by_code: dict[tuple[int, str], list[int | NotJudged]] = defaultdict(list)
    counting = JurySheet.objects.counting().filter(seat__crit=crit, scheme__in=schemes)
    given = LevelGiven.objects.filter(jury_sheet__in=counting).order_by("criterion__position")
    for scheme, code, level, is_not_mine in given.values_list(
        "jury_sheet__scheme", "criterion__code", "level", "is_not_mine"
    ):
        if is_not_mine:
            by_code[scheme, code].append(NOT_MINE)
        elif level is not None:
            by_code[scheme, code].append(level)
    for (scheme, code), levels in by_code.items():
        figures = [level for level in levels if isinstance(level, int)]
        found[scheme][code] = Fraction(sum(figures), len(figures)) if figures else NOT_MINE
    agreed = AgreedLevel.objects.standing().filter(criterion__crit=crit, scheme__in=schemes)
    for scheme, code, level in agreed.values_list("scheme", "criterion__code", "level"):
        found[scheme][code] = level
    return found


def _word(level: Fraction | None) -> str:
    if level is None:
        return "No level"
    low = LEVELS[int(level) - 1]
    return low if level.denominator == 1 else f"between {low} and {LEVELS[int(level)]}"


def _figure(level: Fraction | None) -> str:
    if level is None:
        return "–"
    return str(level) if level.denominator == 1 else shown(level, 2)
