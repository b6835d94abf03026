"""The jury's numbers on the moderation page: sentences and tables, each with its working."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.scoring.adjusting import Adjustment, presence
from criteria.scoring.analysis import Analysis, Standing
from criteria.scoring.bands import AGREEMENT, RELIANCE
from criteria.scoring.components import SeverityComponents
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.profiles import JurorProfile
from criteria.scoring.ranks import RankRange, critical
from criteria.scoring.severity import Severity
from reviews.models import Crit, Scheme
from reviews.moments import moment_words
from reviews.reading.crit_jury_numbers import jury_numbers
from reviews.reading.crit_moderation_table import Table

NONE = "–"


@dataclass(frozen=True)
class JurorLine:
    """One juror: lean and its interval [level], and how it was worked out."""

    juror: str
    sheets: int
    lean: str
    interval: str
    working: str
    talk: str


@dataclass(frozen=True)
class SchemeLine:
    """One scheme: level as given and with severity out [level], and the ranks that are open."""

    scheme: Scheme
    given: str
    adjusted: str
    error: str
    ranks: str


@dataclass(frozen=True)
class Group:
    """Schemes that can be compared with one another; a warning where others can't."""

    title: str
    warning: str
    lines: tuple[SchemeLine, ...]


@dataclass(frozen=True)
class AgreementLine:
    """One figure of agreement [1] with its interval and the words for it."""

    what: str
    value: str
    interval: str
    words: str


@dataclass(frozen=True)
class Numbers:
    """What the section shows; `why_none` where there is nothing to show."""

    chosen: str
    why_none: str = ""
    decision: str = ""
    reasons: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    presence: str = ""
    jurors: tuple[JurorLine, ...] = ()
    severity_working: tuple[str, ...] = ()
    agreement: tuple[AgreementLine, ...] = ()
    agreement_method: str = ""
    groups: tuple[Group, ...] = ()
    rank_working: str = ""
    left_out: tuple[str, ...] = ()


def numbers_page(table: Table) -> Numbers:
    """Make the jury's numbers of a crit ready to be read."""
    found, chosen = jury_numbers(table), chosen_words(table.crit)
    if isinstance(found, NotAvailable):
        return Numbers(chosen, why_none=found.reason)
    severity, adjustment = found.severity, found.adjustment
    if isinstance(severity, NotAvailable) or isinstance(adjustment, NotAvailable):
        return Numbers(chosen, why_none="no jury sheet is complete")
    return Numbers(
        chosen=chosen,
        decision=f"{adjustment.decision.value.capitalize()}.",
        reasons=tuple(reason.words for reason in adjustment.reasons),
        changes=_changes(adjustment),
        presence=presence(severity),
        jurors=tuple(_juror(profile) for profile in found.jurors),
        severity_working=_severity_working(severity),
        agreement=tuple(_agreement(found)),
        agreement_method=_method(found),
        groups=tuple(_groups(found, severity, table)),
        rank_working=_rank_working(severity),
        left_out=tuple(
            f"{scheme}, {juror}: {why}" for scheme, juror, why in found.panel.unfinished
        ),
    )


def chosen_words(crit: Crit) -> str:
    """What was chosen about severity, by whom and when."""
    what = "that severity is taken out where the rule allows"
    if not crit.takes_severity_out:
        what = "that levels stay as given"
    if crit.severity_chosen_at is None or crit.severity_chosen_by is None:
        return "Nobody chose before the day that severity is taken out, so levels stay as given."
    said = f"{crit.severity_chosen_by} chose on {moment_words(crit.severity_chosen_at)} {what}."
    if crit.takes_severity_out and not crit.announces_severity:
        said += " That was not before the day, so levels stay as given."
    return said


def _changes(adjustment: Adjustment) -> tuple[str, ...]:
    moved = [f"{change.scheme}: {change.words}" for change in adjustment.changes if change.moves]
    return (adjustment.effect, *moved)


def _juror(profile: JurorProfile) -> JurorLine:
    effect = profile.effect
    lean, talk = effect.effect, "; ".join(profile.flags)
    if isinstance(lean, NotAvailable):
        return JurorLine(profile.juror, profile.schemes, NONE, NONE, lean.reason, talk)
    plain, se = (
        NONE if isinstance(figure, NotAvailable) else shown(figure, 2)
        for figure in (effect.least_squares, effect.se)
    )
    working = (
        f"{plain} by least squares over {effect.shared} schemes seen with others, standard error "
        f"{se}; interval by {lean.method}; pulled towards 0: {_value(lean)}"
    )
    return JurorLine(profile.juror, profile.schemes, _value(lean), _ends(lean), working, talk)


def _severity_working(severity: Severity) -> tuple[str, ...]:
    found = severity.components
    if not isinstance(found, SeverityComponents):
        return (found.reason,)
    return (
        "s = mean over its jurors of (y − b); b = Σ (y − s) ÷ (n + λ). y weighted level, s level "
        "of a scheme, b lean of a juror over n schemes [level]; λ = σ²e ÷ σ²b [1].",
        f"σ²b = {shown(found.juror, 3)} level², σ²e = {shown(found.residual, 3)} level², "
        f"λ = {shown(found.shrinkage, 2) if found.juror else 'without limit'}.",
        "Henderson 1975, Biometrics 31:423; variances by restricted maximum likelihood, Patterson "
        "and Thompson 1971, Biometrika 58:545.",
    )


def _agreement(found: Analysis) -> list[AgreementLine]:
    lines = []
    if not isinstance(found.intraclass, NotAvailable):
        lines = [
            AgreementLine(
                what,
                _value(value, signed=False),
                _ends(value, signed=False),
                AGREEMENT.span(value) if isinstance(value, Estimate) else value.reason,
            )
            for what, value in (
                ("ICC(A,1): one juror, severity counting against", found.intraclass.A1),
                ("ICC(A,k): this panel's mean, the same", found.intraclass.Ak),
                ("ICC(C,1): one juror, severity out", found.intraclass.C1),
                ("ICC(C,k): this panel's mean, severity out", found.intraclass.Ck),
            )
        ]
    for criterion in found.criteria:
        alpha = criterion.alpha
        words = RELIANCE.span(alpha) if isinstance(alpha, Estimate) else alpha.reason
        what = f"Ordinal α of {criterion.criterion}"
        if not isinstance(criterion.agreed, NotAvailable):
            exact, near = criterion.agreed.exact, criterion.agreed.within_one
            words += (
                f"; {shown(100 * exact, 0)} % of pairs alike, {shown(100 * near, 0)} % within 1"
            )
        lines.append(
            AgreementLine(what, _value(alpha, signed=False), _ends(alpha, signed=False), words)
        )
    return lines


def _method(found: Analysis) -> str:
    first = found.intraclass if isinstance(found.intraclass, NotAvailable) else found.intraclass.A1
    how = first.method if isinstance(first, Estimate) else first.reason
    return (
        f"ICC: {how}; Shrout and Fleiss 1979, McGraw and Wong 1996; words by {AGREEMENT.source}. "
        f"α: Krippendorff 2018, schemes drawn again; words by {RELIANCE.source}."
    )


def _groups(found: Analysis, severity: Severity, table: Table) -> list[Group]:
    count = len(severity.link.groups)
    standings = {standing.scheme: standing for standing in found.standings}
    rows = [(row.scheme, standings.get(row.scheme.number)) for row in table.rows]
    groups = []
    for number in range(1, count + 1):
        lines = tuple(_scheme(s, at) for s, at in rows if at is not None and at.group == number)
        apart = (
            "No juror of this panel sat on another: nothing tells a kinder panel from stronger "
            "work, so these ranks are among these schemes only."
        )
        title = f"Panel {number} of {count}" if count > 1 else "All schemes"
        groups.append(Group(title, apart if count > 1 else "", lines))
    return groups


def _scheme(scheme: Scheme, standing: Standing) -> SchemeLine:
    ranks = standing.ranks
    said = ranks.reason if isinstance(ranks, NotAvailable) else _range(ranks)
    return SchemeLine(
        scheme, shown(standing.raw, 2), _level(standing.adjusted), _level(standing.se), said
    )


def _range(ranks: RankRange) -> str:
    low, high = ranks.table
    return f"{low}" if low == high else f"{low} to {high}"


def _rank_working(severity: Severity) -> str:
    if severity.df < 1:
        return "Too few levels for ranks: no degree of freedom is left over."
    sizes = [len(group.schemes) for group in severity.link.groups]
    factors = ", ".join(shown(critical(n, severity.df, table=True), 2) for n in sizes if n > 1)
    return (
        "A rank is open where the difference of two levels is less than c standard errors of that "
        f"difference; c = {factors or NONE}, t at 1 − 0.05 ÷ (n (n − 1)) on {severity.df} degrees "
        "of freedom, so that all ranges of a table hold at once in 95 of 100. Mogstad, Romano, "
        "Shaikh and Wilhelm 2024, Rev. Econ. Stud."
    )


def _level(figure: float | NotAvailable) -> str:
    return NONE if isinstance(figure, NotAvailable) else shown(figure, 2)


def _value(estimate: Estimate | NotAvailable, *, signed: bool = True) -> str:
    return NONE if isinstance(estimate, NotAvailable) else shown(estimate.value, 2, signed=signed)


def _ends(estimate: Estimate | NotAvailable, *, signed: bool = True) -> str:
    if isinstance(estimate, NotAvailable):
        return NONE
    if isinstance(estimate.interval, NotAvailable):
        return estimate.interval.reason
    low, high = (shown(end, 2, signed=signed) for end in estimate.interval)
    return f"{low} to {high}"
