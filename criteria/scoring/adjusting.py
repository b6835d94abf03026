"""Whether to take severity out of the levels, decided by rule and said with reasons.

The rule is fixed before the day and looks at who saw what and at how jurors
behaved, never at whom it would favour. Raw levels are always kept beside.
"""

from dataclasses import dataclass
from enum import Enum

import numpy as np

from criteria.scoring.cells import Cells, Matrix
from criteria.scoring.connections import WEAKEST_LINK
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.severity import Severity, Solution, analyse

FEWEST_JURORS = 3
FEWEST_DF = 5
FEWEST_SHARED = 3
"""A juror with fewer schemes in common with others is a weak link. Common practice."""
LEAST_SLOPE, GREATEST_SLOPE = 0.5, 2.0
NON_ADDITIVE_P = 0.01
FEWEST_FOR_SLOPE = 5
"""Fewer schemes than this show no slope."""
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
    """What adjusting does to one scheme's level and place."""

    scheme: str
    raw: float
    adjusted: float
    rank_raw: int
    rank_adjusted: int

    @property
    def moves(self) -> bool:
        """Whether its place changes, and not only its level."""
        return self.rank_raw != self.rank_adjusted


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
    def joint_ranking(self) -> bool:
        """Whether all schemes may be ranked together."""
        return all(reason.rule != "disconnected" for reason in self.reasons)

    @property
    def effect(self) -> str:
        """What adjusting would do, in one sentence."""
        if not self.changes:
            return "Adjusting would change no level."
        most = max(abs(change.adjusted - change.raw) for change in self.changes)
        moved = [
            change.scheme for change in self.changes if change.rank_raw != change.rank_adjusted
        ]
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
    juror stretches the scale or runs against the others; the rule was not announced.
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
                "Panels differ from scheme to scheme, jurors differ in severity, and the links "
                "between them are firm.",
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


def changes(severity: Severity) -> tuple[Change, ...]:
    """What adjusting would do to each scheme that it would move, greatest first."""
    raw, adjusted = severity.raw.schemes, severity.adjusted.schemes
    result = []
    for group in severity.link.groups:
        rows = np.array(group.schemes)
        before, after = places(raw[rows]), places(adjusted[rows])
        for i, old, new in zip(rows, before, after, strict=True):
            if abs(adjusted[i] - raw[i]) > SAME * max(1.0, abs(raw[i])):
                name = severity.cells.schemes[i]
                result.append(Change(name, float(raw[i]), float(adjusted[i]), int(old), int(new)))
    return tuple(sorted(result, key=lambda change: -abs(change.adjusted - change.raw)))


def places(levels: Matrix) -> Matrix:
    """Rank of each level, 1 the highest; ties share the best place."""
    ordered = np.sort(levels)
    above = levels.size - np.searchsorted(
        ordered, levels + SAME * np.maximum(1.0, np.abs(levels)), "right"
    )
    return above + 1


def slopes(cells: Cells) -> dict[str, tuple[float, float] | NotAvailable]:
    """Each juror's slope on, and correlation with, the mean of the others."""
    result: dict[str, tuple[float, float] | NotAvailable] = {}
    for j, juror in enumerate(cells.jurors):
        own, rest, _ = cells.others(j)
        if own.size < FEWEST_FOR_SLOPE:
            result[juror] = NotAvailable(f"fewer than {FEWEST_FOR_SLOPE} schemes with others")
            continue
        x, y = rest - rest.mean(), own - own.mean()
        tiny = 1e-12 * max(1.0, cells.scale) ** 2
        if x @ x < tiny or y @ y < tiny:
            result[juror] = NotAvailable("the levels don't vary")
            continue
        result[juror] = float(x @ y / (x @ x)), float(x @ y / np.sqrt((x @ x) * (y @ y)))
    return result


def _reasons(severity: Severity) -> list[Reason]:
    cells, components, link = severity.cells, severity.components, severity.link
    if not link.connected:
        count = len(link.groups)
        return [
            Reason(
                "disconnected",
                f"The schemes fall into {count} groups with no juror in common: nothing tells a "
                "kinder panel from stronger work, so there is no joint ranking.",
            )
        ]
    if isinstance(components, NotAvailable):
        return [Reason("not estimable", f"Severity can't be estimated: {components.reason}.")]
    result = []
    if cells.complete:
        result.append(
            Reason(
                "everyone saw everything",
                "Every juror saw every scheme: severity is the same for all and cancels, so "
                "adjusting would change nothing.",
            )
        )
    if np.isinf(components.shrinkage):
        result.append(Reason("no severity", "The jurors don't differ beyond chance."))
    if len(cells.jurors) < FEWEST_JURORS:
        result.append(Reason("too few", f"Fewer than {FEWEST_JURORS} jurors."))
    if components.df < FEWEST_DF:
        result.append(
            Reason("too few", f"Fewer than {FEWEST_DF} degrees of freedom ({components.df}).")
        )
    if not cells.complete:
        result += _weak_links(severity)
    return result + _not_additive(severity)


def _weak_links(severity: Severity) -> list[Reason]:
    link = severity.link
    result = []
    if link.link_factor >= WEAKEST_LINK * (1 - SAME):
        result.append(
            Reason(
                "weak link",
                "Some schemes hang together so loosely that their difference is "
                f"{shown(link.link_factor, 1)} times as uncertain (variance) as with one panel; "
                f"less than {WEAKEST_LINK} is asked for. It is a hint, not a correction.",
            )
        )
    for juror in severity.jurors:
        if juror.shared < FEWEST_SHARED:
            result.append(
                Reason(
                    "weak link",
                    f"{juror.juror} shares {juror.shared} of {juror.schemes} schemes with others; "
                    f"{FEWEST_SHARED} is the least.",
                )
            )
    for kind, names in (("scheme", link.cut_schemes), ("juror", link.cut_jurors)):
        if names:
            result.append(
                Reason("weak link", f"Without one {kind} it would fall apart: {', '.join(names)}.")
            )
    return result


def _not_additive(severity: Severity) -> list[Reason]:
    result = []
    test = severity.additivity
    if not isinstance(test, NotAvailable) and test.p < NON_ADDITIVE_P:
        result.append(
            Reason(
                "not additive",
                "Jurors stretch or squeeze the scale rather than shift it (Tukey's test, "
                f"p {shown(test.p, 4)}): taking out a constant is the wrong repair; talk instead.",
            )
        )
    for juror, found in slopes(severity.cells).items():
        if isinstance(found, NotAvailable):
            continue
        slope, r = found
        if r < 0:
            result.append(
                Reason(
                    "not additive",
                    f"{juror} runs against the others (r {shown(r, 2)}): taking out a constant is "
                    "the wrong repair; talk instead.",
                )
            )
        elif not LEAST_SLOPE <= slope <= GREATEST_SLOPE:
            result.append(
                Reason(
                    "not additive",
                    f"{juror} moves {shown(slope, 2)} level for each level of the others "
                    f"({LEAST_SLOPE} to {GREATEST_SLOPE:g} is usual): taking out a constant is the "
                    "wrong repair; talk instead.",
                )
            )
    return result


def _inside_groups(severity: Severity) -> tuple[frozenset[int], list[Reason]]:
    adjusted, said = set(), []
    for number, group in enumerate(severity.link.groups, 1):
        reasons = _reasons(analyse(severity.cells.part(group.schemes, group.jurors)))
        if not reasons:
            adjusted.add(number)
        names = [severity.cells.schemes[i] for i in group.schemes]
        where = f"Group {number} ({', '.join(names[:3])}{', …' if len(names) > 3 else ''})"
        words = [reason.words for reason in reasons] or ["Adjusting is worth it here."]
        said += [Reason("inside a group", f"{where}: {text}") for text in words]
    return frozenset(adjusted), said
