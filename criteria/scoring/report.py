"""An analysis as a page of text that a leader can read aloud."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import chain
from textwrap import wrap

from criteria.scoring.adjusting import Adjustment, Decision, presence
from criteria.scoring.analysis import Analysis, Standing
from criteria.scoring.bands import RELIANCE
from criteria.scoring.behaviour import CriterionBehaviour
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.generalizability import Facets
from criteria.scoring.icc import Intraclass
from criteria.scoring.levels import shown
from criteria.scoring.order import OrderOfTheDay
from criteria.scoring.profiles import JurorProfile
from criteria.scoring.ranks import RankRange
from criteria.scoring.severity import Severity

WIDTH = 96
MOST_RUNS = 12
MOST_NAMES = 24

NONE = "–"
"""Shown where there is no number; the reason stands below the table."""


def page(analysis: Analysis) -> str:
    """The whole page."""
    lines: list[str] = []
    for title, part in (
        (f"The jury's numbers: {analysis.panel.name}", _heading(analysis)),
        ("Agreement", _agreement(analysis)),
        ("Adjust or not", _adjusting(analysis)),
        ("Schemes", _schemes(analysis)),
        ("Jurors", _jurors(analysis)),
        ("Criteria", _criteria(analysis)),
        ("Order of the day", _order(analysis.order)),
        ("One more juror", _more(analysis)),
    ):
        if said := list(part):
            above, underline = ([""], "-") if lines else ([], "=")
            lines += [*above, title, underline * len(title), *said]
    return "\n".join(lines) + "\n"


def _heading(analysis: Analysis) -> Iterator[str]:
    panel = analysis.panel
    sheets = sum(1 for sheet in panel.sheets.values() if sheet.available)
    yield from _prose(
        f"{len(panel.schemes)} schemes, {len(panel.jurors)} jurors, {len(panel.criteria)} "
        f"criteria; {sheets} complete jury sheets of {len(panel.sheets)}. Levels are weighted "
        f"({', '.join(f'{name} {_number(weight)}' for name, weight in panel.weights.items())})."
    )
    whole = sum(panel.weights.values(), Fraction(0))
    if whole != 100 and len(set(panel.weights.values())) > 1:
        yield from _prose(
            f"The weights add to {_number(whole)}, not 100: each counts by its share."
        )
    for scheme, juror, reason in panel.unfinished:
        yield from _prose(f"{scheme}, {juror}: not counted, {reason}.")
    for scheme, juror, criteria in panel.left_to_others:
        yield from _prose(f"{scheme}, {juror}: not mine to judge, {', '.join(criteria)}.")
    for scheme, reason in analysis.alone:
        yield from _prose(f"{scheme} has no level: {reason}.")


def _agreement(analysis: Analysis) -> Iterator[str]:
    found = analysis.intraclass
    if isinstance(found, NotAvailable):
        yield from _prose(f"Agreement can't be estimated: {found.reason}.")
        return
    yield from _prose(found.words)
    if isinstance(found.A1, Estimate):
        yield from _intraclass(found)
    kendall = analysis.kendall
    if isinstance(kendall, NotAvailable):
        yield from _prose(f"Same order: not available, {kendall.reason}.")
    else:
        yield from _prose(
            f"Same order: Kendall's W {shown(kendall.W, 2)} over {kendall.schemes} schemes that "
            f"all {kendall.jurors} saw."
        )


def _intraclass(found: Intraclass) -> Iterator[str]:
    for name, said, value in (
        ("ICC(A,1)", "one juror, severity counting against agreement", found.A1),
        ("ICC(A,k)", "this panel's mean, the same", found.Ak),
        ("ICC(C,1)", "one juror, severity taken out", found.C1),
        ("ICC(C,k)", "this panel's mean, severity taken out", found.Ck),
    ):
        yield f"  {name}  {_estimate(value):<28}  {said}"


def _adjusting(analysis: Analysis) -> Iterator[str]:
    found = analysis.adjustment
    if not isinstance(found, Adjustment):
        yield from _prose(f"Do not adjust: {found.reason}.")
        return
    yield from _prose(f"{found.decision.value.capitalize()}.")
    for reason in found.reasons:
        yield from _prose(
            reason.words, "  because  " if reason is found.reasons[0] else "           "
        )
    yield from _prose(found.effect)
    for change in found.changes:
        if change.moves:
            yield from _prose(f"{change.scheme}: {change.words}", "  ")
    for caution in found.cautions:
        yield from _prose(caution)


def _schemes(analysis: Analysis) -> Iterator[str]:
    severity, adjustment = analysis.severity, analysis.adjustment
    if not isinstance(severity, Severity) or not isinstance(adjustment, Adjustment):
        return
    groups = severity.link.groups
    which = {Decision.RAW: "raw", Decision.ADJUST: "adjusted"}.get(
        adjustment.decision, "adjusted or raw, group by group"
    )
    yield from _prose(
        f"Level to publish: {which}. A rank is a range: where the levels can't tell, neither can "
        f"the table. Ranges hold for all schemes at once (95 %); the chance is of the first "
        f"{analysis.top}."
    )
    for number in range(1, len(groups) + 1):
        rows = [standing for standing in analysis.standings if standing.group == number]
        rows.sort(key=lambda standing: (-standing.published, standing.scheme))
        if len(groups) > 1:
            yield f"Group {number}: compare only within it."
        yield from _table(
            ("scheme", "raw", "adjusted", "± s.e.", "rank", "first few", "jurors"),
            (_standing(row) for row in rows),
        )
        yield from _reasons([row.ranks for row in rows] + [row.p_top for row in rows])
    alike = [run for run in analysis.alike if len(run) > 1]
    for run in alike[:MOST_RUNS]:
        yield from _prose(f"Can't be told apart: {_names(run)}.")
    if len(alike) > MOST_RUNS:
        yield f"And {len(alike) - MOST_RUNS} more such stretches down the table."


def _standing(row: Standing) -> tuple[str, ...]:
    ranks = row.ranks
    return (
        row.scheme,
        shown(row.raw, 2),
        _shown(row.adjusted),
        _shown(row.se),
        f"{ranks.table[0]}–{ranks.table[1]}" if isinstance(ranks, RankRange) else NONE,
        _chance(row.p_top),
        str(row.jurors),
    )


def _jurors(analysis: Analysis) -> Iterator[str]:
    severity = analysis.severity
    if isinstance(severity, NotAvailable):
        return
    yield from _prose(
        "Lean is how far a juror lies from the others on the same schemes: above 0 generous, below "
        "0 severe, with its 95 % interval. Severe is not wrong."
    )
    yield from _table(
        ("juror", "schemes", "mean", "lean", "95 %", "agrees r", "scatter", "flat", "drift"),
        (_juror(profile) for profile in analysis.jurors),
    )
    figures = ((p.effect.effect, p.agreement, p.flatness, p.drift) for p in analysis.jurors)
    yield from _reasons(chain.from_iterable(figures))
    flagged = [profile for profile in analysis.jurors if profile.flags]
    if flagged:
        yield "Worth a conversation (more than chance in 95 of 100 crits; no verdict):"
    for profile in flagged:
        yield from _prose(f"{profile.juror}: {'; '.join(profile.flags)}.", "  ")
    yield from _prose(presence(severity))


def _juror(profile: JurorProfile) -> tuple[str, ...]:
    lean = profile.effect.effect
    interval = NONE
    if isinstance(lean, Estimate) and lean.low is not None and lean.high is not None:
        interval = f"{shown(lean.low, 2, signed=True)} to {shown(lean.high, 2, signed=True)}"
    return (
        profile.juror,
        str(profile.schemes),
        shown(profile.mean, 2),
        shown(lean.value, 2, signed=True) if isinstance(lean, Estimate) else NONE,
        interval,
        _shown(profile.agreement),
        _shown(profile.scatter),
        _shown(profile.flatness),
        shown(profile.drift.value, 3, signed=True) if isinstance(profile.drift, Estimate) else NONE,
    )


def _criteria(analysis: Analysis) -> Iterator[str]:
    yield from _table(
        ("criterion", "mean", "exact", "within 1", "ordinal α", "spread", "severity out", "≥ 2"),
        (_criterion(found) for found in analysis.criteria),
    )
    yield from _reasons([found.alpha for found in analysis.criteria])
    yield from _prose(f"α: {RELIANCE.source}. It informs; it decides nothing.")
    out = [(c.severity_out, c.criterion) for c in analysis.criteria if c.severity_out]
    if len(out) > 1:
        widest, name = max(out, key=lambda each: (each[0].apart, each[0].mean))
        yield from _prose(
            f"Once severity is out, jurors lie furthest apart on {name}: two levels or more in "
            f"{widest.apart} of {widest.of} schemes."
        )
    for found in analysis.criteria:
        for flag in found.flags:
            yield from _prose(f"{found.criterion}: {flag}.", "  ")


def _criterion(found: CriterionBehaviour) -> tuple[str, ...]:
    agreed, raw, out = found.agreed, found.raw, found.severity_out
    return (
        found.criterion,
        shown(found.mean, 2),
        f"{shown(100 * agreed.exact, 0)} %" if agreed else NONE,
        f"{shown(100 * agreed.within_one, 0)} %" if agreed else NONE,
        _estimate(found.alpha),
        f"{shown(raw.mean, 2)}" if not isinstance(raw, NotAvailable) else NONE,
        f"{shown(out.mean, 2)}" if not isinstance(out, NotAvailable) else NONE,
        f"{out.apart} of {out.of}" if not isinstance(out, NotAvailable) else NONE,
    )


def _order(found: OrderOfTheDay | NotAvailable) -> Iterator[str]:
    if isinstance(found, NotAvailable):
        yield from _prose(f"Not tested: {found.reason}.")
        return
    if isinstance(found.trend, Estimate):
        holds = "the interval holds 0: no trend shown" if found.trend.holds(0) else "a trend"
        yield from _prose(
            f"Levels change by {shown(found.trend.value, 2, signed=True)} over 10 places "
            f"({_interval(found.trend)}): {holds}."
        )
    if isinstance(found.test, Tested):
        yield from _prose(f"{found.test.method}: {found.test.p_words}. {found.caution}")
    else:
        yield from _prose(f"Not tested: {found.test.reason}.")


def _more(analysis: Analysis) -> Iterator[str]:
    found = analysis.facets
    if not isinstance(found, Facets):
        yield from _prose(f"Can't be said: {found.reason}.")
        return
    more = found.one_more()
    if isinstance(more, NotAvailable):
        yield from _prose(f"Can't be said: {more.reason}.")
        return
    yield from _prose(
        f"The order of schemes is reliable to {shown(more[0], 2)} with "
        f"{shown(found.jurors, 1)} jurors, and would be to {shown(more[1], 2)} with one more "
        "(criteria fixed; estimates, without an interval)."
    )


def _table(header: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as they need: the first to the left, the others to the right."""
    body = [tuple(header), *rows]
    wide = [max(len(row[column]) for row in body) for column in range(len(header))]
    for row in body:
        cells = [row[0].ljust(wide[0])]
        cells += [cell.rjust(width) for cell, width in zip(row[1:], wide[1:], strict=True)]
        yield ("  " + "  ".join(cells)).rstrip()


def _reasons(values: Iterable[object]) -> Iterator[str]:
    """Why there are dashes above, each reason once."""
    found = []
    for value in values:
        if isinstance(value, Estimate) and isinstance(value.interval, NotAvailable):
            found.append(value.interval.reason)
        if isinstance(value, NotAvailable):
            found.append(value.reason)
    for reason in dict.fromkeys(found):
        yield from _prose(f"{NONE}: {reason}.", "  ")


def _prose(text: str, indent: str = "") -> Iterator[str]:
    yield from wrap(text, WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent))


def _shown(value: float | NotAvailable) -> str:
    return NONE if isinstance(value, NotAvailable) else shown(value, 2)


def _chance(value: float | NotAvailable) -> str:
    """A chance in whole per cent; what is drawn is never quite sure."""
    if isinstance(value, NotAvailable):
        return NONE
    if value < 0.005:
        return "< 1 %"
    return "> 99 %" if value >= 0.995 else f"{shown(100 * value, 0)} %"


def _names(names: Sequence[str]) -> str:
    if len(names) <= MOST_NAMES:
        return ", ".join(names)
    return f"{', '.join(names[:MOST_NAMES])} and {len(names) - MOST_NAMES} more"


def _number(value: Fraction) -> str:
    return f"{float(value):g}"


def _estimate(value: Estimate | NotAvailable) -> str:
    if isinstance(value, NotAvailable):
        return NONE
    point = "≤ 0" if value.value <= 0 else shown(value.value, 2)
    return f"{point} ({_interval(value)})"


def _interval(value: Estimate) -> str:
    if value.low is None or value.high is None:
        return "no interval"
    return f"{shown(value.low, 2)} to {shown(value.high, 2)}"
