"""Whether to take severity out of the levels, decided by rule and said with reasons.

The rule is fixed before the day and looks at who saw what and at how jurors
behaved, never at whom it would favour. Raw levels are always kept beside.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from criteria.scoring.cells import Matrix
from criteria.scoring.connections import WEAKEST_LINK
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.ranks import PairVariances, told_apart
from criteria.scoring.severity import Severity, Solution, analyse
from criteria.scoring.slopes import slopes

FEWEST_JURORS = 3
FEWEST_DF = 5
FEWEST_SHARED = 3
"""A juror with fewer schemes in common with others is a weak link. Common practice."""
NON_ADDITIVE_P = 0.01
CLEAR_P = 0.05
"""Above it severity is not clearly present, whatever is made of it."""
SAME = 1e-9
"""Levels closer than this are tied."""


class Decision(Enum):
    """What to publish."""

    ADJUST = "adjust"
    RAW = "do not adjust"
    WITHIN_GROUPS = "adjust inside each group only"


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, by the name of its rule and in words."""

    rule: str
    words: str


@dataclass(frozen=True, slots=True)
class Change:
    """What adjusting does to one scheme's level and place.

    not_told_apart   schemes that it passes, or that pass it, though the adjusted
                     levels can't tell the two apart
    """

    scheme: str
    raw: float
    adjusted: float
    rank_raw: int
    rank_adjusted: int
    not_told_apart: tuple[str, ...]

    @property
    def moves(self) -> bool:
        """Whether its place changes, and not only its level."""
        return self.rank_raw != self.rank_adjusted

    @property
    def words(self) -> str:
        """The change of level and place; a place won over a scheme not told apart is marked so."""
        said = f"{shown(self.raw, 2)} → {shown(self.adjusted, 2)}"
        said += f", place {self.rank_raw} → {self.rank_adjusted}"
        if self.not_told_apart:
            said += f" (not told apart from {', '.join(self.not_told_apart)})"
        return said


@dataclass(frozen=True, slots=True)
class Adjustment:
    """Whether to adjust, why, and what it would change.

    reasons   what decided, in words
    cautions  what the figures can't know
    changes   each scheme whose level adjusting would move, greatest first
    groups    which groups of schemes to adjust, counted from 1 as in the link
    """

    decision: Decision
    reasons: tuple[Reason, ...]
    cautions: tuple[str, ...]
    changes: tuple[Change, ...]
    groups: frozenset[int]

    @property
    def effect(self) -> str:
        """What adjusting would do, in one sentence."""
        if not self.changes:
            return "Adjusting would change no level."
        most = max(abs(change.adjusted - change.raw) for change in self.changes)
        moved = [change.scheme for change in self.changes if change.moves]
        count = len(self.changes)
        places = f"change the place of {', '.join(moved)}" if moved else "change no place"
        schemes = "1 scheme" if count == 1 else f"{count} schemes"
        return f"Adjusting would move {schemes} by at most {shown(most, 2)} and {places}."


def decide(severity: Severity, *, announced: bool | None = None) -> Adjustment:
    """Decide whether adjusted levels may be published.

    announced   whether the rule was made known before anyone scored; None where
                that isn't known, which is said as a caution

    Not where: groups have no juror in common (inside each group at most); every
    juror saw every scheme (it changes nothing); jurors don't differ; fewer than
    3 jurors or 5 degrees of freedom; the links are weak (a difference between
    two schemes 1.5 times as uncertain as with one panel or more, a juror with
    fewer than 3 schemes in common, one scheme or juror holding it together); a
    juror is named for stretching the scale or running against the others, or Tukey's
    test has p below 0.01 (`slopes`); the rule was not announced.
    """
    reasons = list(_reasons(severity))
    if announced is False:
        reasons.append(Reason("not announced", "The rule was not announced before scoring began."))
    cautions = []
    if announced is None:
        cautions.append(
            "Whether the rule was announced before scoring is not in the file. "
            "If it was not, do not adjust."
        )
    chosen: frozenset[int] = frozenset()
    if not severity.link.connected:
        inside, said = _inside_groups(severity)
        reasons += said
        chosen = inside if announced is not False else chosen
    elif not reasons:
        chosen = frozenset({1})
        reasons.append(
            Reason(
                "worth it",
                f"Panels differ from scheme to scheme. {presence(severity)} The links between the "
                "panels are firm.",
            )
        )
    decision = Decision.RAW
    if chosen:
        decision = Decision.ADJUST if severity.link.connected else Decision.WITHIN_GROUPS
    return Adjustment(decision, tuple(reasons), tuple(cautions), changes(severity), chosen)


def solution_of(severity: Severity, adjustment: Adjustment, group: int) -> Solution:
    """The levels to publish for one group, counted from 1, with their variances."""
    chosen = severity.adjusted if group in adjustment.groups else severity.raw
    return chosen.part(np.array(severity.link.groups[group - 1].schemes))


def published(severity: Severity, adjustment: Adjustment) -> Matrix:
    """The levels to publish: adjusted or raw as decided, group by group [unit]."""
    levels = severity.raw.schemes.copy()
    for number, group in enumerate(severity.link.groups, 1):
        levels[list(group.schemes)] = solution_of(severity, adjustment, number).schemes
    return levels


def presence(severity: Severity) -> str:
    """Whether jurors differ in severity, in words that follow the test and never the estimate."""
    components = severity.components
    if isinstance(components, NotAvailable):
        return f"Severity can't be estimated: {components.reason}."
    test, shrinkage = components.juror_test, components.shrinkage
    if isinstance(test, NotAvailable) or np.isinf(shrinkage):
        return "Severity is not present: the jurors don't differ beyond chance."
    if not components.residual:
        return "No residual variation: jurors differ by a constant and by nothing else."
    figures = f"F {shown(test.statistic, 1)} on {test.df:.0f} and {components.df}, {test.p_words}"
    if test.p <= CLEAR_P:
        return f"Jurors differ in severity ({figures})."
    schemes = float(np.median([juror.schemes for juror in severity.jurors]))
    kept = 100 * schemes / (schemes + shrinkage)
    return (
        f"Severity is not clearly present ({figures}); the correction is partial: with λ "
        f"{shown(shrinkage, 1)}, of a lean seen over {schemes:g} schemes {shown(kept, 0)} % is "
        "taken out."
    )


def changes(severity: Severity) -> tuple[Change, ...]:
    """What adjusting would do to each scheme that it would move, greatest first."""
    cells, raw, adjusted = severity.cells, severity.raw.schemes, severity.adjusted.schemes
    pairs, df = pair_variances_of(severity, severity.adjusted), severity.df
    result = []
    for group in severity.link.groups:
        rows = np.array(group.schemes)
        before, after = places(raw[rows]), places(adjusted[rows])
        for place, i in enumerate(rows):
            if abs(adjusted[i] - raw[i]) <= SAME * max(1.0, abs(raw[i])):
                continue
            passed = rows[np.sign(before - before[place]) != np.sign(after - after[place])]
            apart = told_apart(adjusted, pairs, df, int(i)) if passed.size else passed
            result.append(
                Change(
                    scheme=cells.schemes[i],
                    raw=float(raw[i]),
                    adjusted=float(adjusted[i]),
                    rank_raw=int(before[place]),
                    rank_adjusted=int(after[place]),
                    not_told_apart=tuple(cells.schemes[k] for k in passed if not apart[k]),
                )
            )
    return tuple(sorted(result, key=lambda change: -abs(change.adjusted - change.raw)))


def pair_variances_of(severity: Severity, solution: Solution) -> PairVariances:
    """SED² of a solution's levels [unit²]."""
    residual = severity.components.residual if severity.components else 0.0
    return lambda rows: residual * solution.pair_variances(rows)


def places(levels: Matrix) -> NDArray[np.int64]:
    """Rank of each level, 1 the highest; ties share the best place."""
    ordered = np.sort(levels)
    above = levels.size - np.searchsorted(
        ordered, levels + SAME * np.maximum(1.0, np.abs(levels)), "right"
    )
    return np.asarray(above + 1, dtype=np.int64)


def _reasons(severity: Severity) -> Iterator[Reason]:
    cells, components, link = severity.cells, severity.components, severity.link
    if not link.connected:
        yield Reason(
            "disconnected",
            f"The schemes fall into {len(link.groups)} groups with no juror in common: nothing "
            "tells a kinder panel from stronger work, so there is no joint ranking.",
        )
        return
    if isinstance(components, NotAvailable):
        yield Reason("not estimable", f"Severity can't be estimated: {components.reason}.")
        return
    if cells.complete:
        yield Reason(
            "everyone saw everything",
            "Every juror saw every scheme: severity is the same for all and cancels, so "
            "adjusting would change nothing.",
        )
    if np.isinf(components.shrinkage):
        yield Reason("no severity", "The jurors don't differ beyond chance.")
    if len(cells.jurors) < FEWEST_JURORS:
        yield Reason("too few", f"Fewer than {FEWEST_JURORS} jurors.")
    if components.df < FEWEST_DF:
        yield Reason("too few", f"Fewer than {FEWEST_DF} degrees of freedom ({components.df}).")
    if not cells.complete:
        yield from _weak_links(severity)
    yield from not_additive(severity)


def _weak_links(severity: Severity) -> Iterator[Reason]:
    link = severity.link
    if link.link_factor >= WEAKEST_LINK * (1 - SAME):
        yield Reason(
            "weak link",
            "Some schemes hang together so loosely that their difference is "
            f"{shown(link.link_factor, 1)} times as uncertain (variance) as with one panel; "
            f"less than {WEAKEST_LINK} is asked for. It is a hint, not a correction.",
        )
    for juror in severity.jurors:
        if juror.shared < FEWEST_SHARED:
            yield Reason(
                "weak link",
                f"{juror.juror} shares {juror.shared} of {juror.schemes} schemes with others; "
                f"{FEWEST_SHARED} is the least.",
            )
    for kind, names in (("scheme", link.cut_schemes), ("juror", link.cut_jurors)):
        if names:
            yield Reason(
                "weak link", f"Without one {kind} it would fall apart: {', '.join(names)}."
            )


def not_additive(severity: Severity) -> Iterator[Reason]:
    """Why taking a constant out of each juror's levels is the wrong repair; nothing where it isn't.

    Tukey's test over all, and every juror who is named by `slopes`.
    """
    repair = "taking out a constant is the wrong repair; talk instead."
    test = severity.additivity
    if not isinstance(test, NotAvailable) and test.p < NON_ADDITIVE_P:
        yield Reason(
            "not additive",
            "Jurors stretch or squeeze the scale rather than shift it (Tukey's test, "
            f"p {shown(test.p, 4)}): {repair}",
        )
    for juror, stretch in slopes(severity.cells).items():
        if stretch.words:
            yield Reason("not additive", f"{juror} {stretch.words}: {repair}")


def _inside_groups(severity: Severity) -> tuple[frozenset[int], list[Reason]]:
    adjusted, said = set(), []
    for number, group in enumerate(severity.link.groups, 1):
        reasons = list(_reasons(analyse(severity.cells.part(group.schemes, group.jurors))))
        if not reasons:
            adjusted.add(number)
        names = [severity.cells.schemes[i] for i in group.schemes]
        where = f"Group {number} ({', '.join(names[:3])}{', …' if len(names) > 3 else ''})"
        words = [reason.words for reason in reasons] or ["Adjusting is worth it here."]
        said += [Reason("inside a group", f"{where}: {text}") for text in words]
    return frozenset(adjusted), said
