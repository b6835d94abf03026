"""The jury's numbers on the moderation page: sentences and tables, each with its working."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString

from criteria.scoring.adjusting import Adjustment, presence
from criteria.scoring.analysis import Analysis
from criteria.scoring.bands import AGREEMENT, RELIANCE
from criteria.scoring.components import SeverityComponents
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.ranks import critical
from criteria.scoring.severity import Severity
from reviews.models import Crit
from reviews.moments import moment_words
from reviews.pages.day_positions import Positions, positions_of
from reviews.pages.jury_tables import (
    JUROR_HEADS,
    NONE,
    Group,
    JurorLine,
    ends,
    figure,
    groups_of,
    juror_lines,
    juror_scale,
)
from reviews.reading.crit_jury_numbers import jury_numbers
from reviews.reading.crit_moderation_table import Table


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
    scale: SafeString | None = None
    severity_working: tuple[str, ...] = ()
    agreement: tuple[AgreementLine, ...] = ()
    agreement_method: str = ""
    groups: tuple[Group, ...] = ()
    rank_working: str = ""
    alike: tuple[str, ...] = ()
    positions: Positions | None = None
    heads: tuple[tuple[str, str], ...] = JUROR_HEADS
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
        jurors=juror_lines(found.jurors),
        scale=juror_scale(found.jurors),
        severity_working=_severity_working(severity),
        agreement=tuple(_agreement(found)),
        agreement_method=_method(found),
        groups=tuple(groups_of(found, severity, table)),
        rank_working=_rank_working(severity),
        alike=tuple(", ".join(run) for run in found.alike if len(run) > 1),
        positions=positions_of(found, severity, table),
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
                figure(value),
                ends(value, signed=False),
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
        lines.append(AgreementLine(what, figure(alpha), ends(alpha, signed=False), words))
    return lines


def _method(found: Analysis) -> str:
    first = found.intraclass if isinstance(found.intraclass, NotAvailable) else found.intraclass.A1
    how = first.method if isinstance(first, Estimate) else first.reason
    return (
        f"ICC: {how}; Shrout and Fleiss 1979, McGraw and Wong 1996; words by {AGREEMENT.source}. "
        f"α: Krippendorff 2018, schemes drawn again; words by {RELIANCE.source}."
    )


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
