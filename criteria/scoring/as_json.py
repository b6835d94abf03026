"""An analysis as JSON: numbers not rounded, and a reason where there is none.

A number that isn't available is null, and its reason stands under
`not_available` by the path to it.
"""

from collections.abc import Sequence
from enum import Enum
from fractions import Fraction
from typing import Any

import numpy as np

from criteria.scoring.adjusting import Adjustment
from criteria.scoring.analysis import Alphas, Analysis, Standing
from criteria.scoring.behaviour import CriterionBehaviour
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.generalizability import Facets
from criteria.scoring.levels import WeightedLevel
from criteria.scoring.profiles import JurorProfile
from criteria.scoring.reading import RESERVED
from criteria.scoring.severity import Severity

Json = dict[str, Any]


def document(analyses: Sequence[Analysis]) -> Json:
    """One analysis as it is; several as a list under `crits`."""
    if len(analyses) == 1:
        return as_json(analyses[0])
    return {"crits": [as_json(analysis) for analysis in analyses]}


def as_json(analysis: Analysis) -> Json:
    """One crit's analysis.

    `severity` of a juror is in levels: above 0 generous, below 0 severe.
    """
    panel, found, severity = analysis.panel, analysis.intraclass, analysis.severity
    link = severity.link if isinstance(severity, Severity) else severity
    tree: Json = {
        "crit": panel.name,
        "unit": "level",
        "weights": {name: float(weight) for name, weight in panel.weights.items()},
        "icc": _each(found, "A1", "Ak", "C1", "Ck", "one_way_1", "one_way_k"),
        "icc_tests": _figures(found, schemes="schemes_test", jurors="jurors_test"),
        "jurors_per_scheme": found.k if found else found,
        "agreement_words": found.words if found else found,
        "alpha": {
            **{name: _alphas(alphas) for name, alphas in analysis.alpha.items()},
            RESERVED: _alphas(analysis.alpha_of_totals),
        },
        "agreed": {
            each.criterion: _figures(each.agreed, "exact", "within_one", "pairs")
            for each in analysis.criteria
        },
        "kendall_w": analysis.kendall.W if analysis.kendall else analysis.kendall,
        "kendall": _figures(
            analysis.kendall, "schemes", "jurors", "mean_spearman", "chi_square", f="f_test"
        ),
        "components": _each(analysis.components, "scheme", "juror", "residual"),
        "severity_model": _model(severity),
        "facets": _facets(analysis.facets),
        "jurors": {profile.juror: _juror(profile) for profile in analysis.jurors},
        "criteria": {each.criterion: _criterion(each) for each in analysis.criteria},
        "cronbach_alpha": analysis.together.alpha if analysis.together else analysis.together,
        "schemes": {
            **{standing.scheme: _scheme(standing) for standing in analysis.standings},
            **{scheme: NotAvailable(reason) for scheme, reason in analysis.alone},
        },
        "top": analysis.top,
        "alike": analysis.alike,
        "adjust": _adjust(analysis.adjustment),
        "connected": link if isinstance(link, NotAvailable) else link.connected,
        "groups": _groups(severity),
        "order": _figures(
            analysis.order,
            "same_order",
            "test",
            "carry_over",
            "caution",
            trend_over_10_places="trend",
        ),
        "sheets": [
            {"scheme": scheme, "juror": juror, **_sheet(sheet)}
            for (scheme, juror), sheet in sorted(panel.sheets.items())
        ],
    }
    reasons: dict[str, str] = {}
    return {**_plain(tree, "", reasons), "not_available": reasons}


def _each(thing: Any, *names: str, **renamed: str) -> Json:
    """Figures of a thing by name, or by another name; where there is none, its reason at each."""
    keys = dict(zip(names, names, strict=True)) | renamed
    is_there = not isinstance(thing, NotAvailable)
    return {key: getattr(thing, name) if is_there else thing for key, name in keys.items()}


def _figures(thing: Any, *names: str, **renamed: str) -> Any:
    """The same; where there is none, its reason alone."""
    return thing if isinstance(thing, NotAvailable) else _each(thing, *names, **renamed)


def _plain(value: Any, path: str, reasons: dict[str, str]) -> Any:
    """Numbers, text, lists and dicts only; reasons are gathered by path."""
    match value:
        case NotAvailable(reason=reason):
            reasons[path] = reason
            return None
        case Estimate():
            low, high = value.low, value.high
            if isinstance(value.interval, NotAvailable):
                reasons[f"{path}.low"] = reasons[f"{path}.high"] = value.interval.reason
            return {
                "value": float(value.value),
                "low": None if low is None else float(low),
                "high": None if high is None else float(high),
                "method": value.method,
            }
        case Tested():
            return _plain(_each(value, "statistic", "df", "p", "method"), path, reasons)
        case dict():
            return {
                str(key): _plain(item, f"{path}.{key}".lstrip("."), reasons)
                for key, item in value.items()
            }
        case list() | tuple():
            return [_plain(item, f"{path}.{place}", reasons) for place, item in enumerate(value)]
        case Enum():
            return value.value
        case bool():
            return value
        case int() | np.integer():
            return int(value)
        case float() | Fraction() | np.floating():
            number = float(value)
            if not np.isfinite(number):
                reasons[path] = "without limit" if number == number else "not a number"
                return None
            return number
    return value


def _alphas(alphas: Alphas | NotAvailable) -> Any:
    if isinstance(alphas, NotAvailable):
        return alphas
    result = _each(alphas, "nominal", "interval", "ratio")
    if isinstance(alphas.ordinal, NotAvailable):
        return result | {"ordinal": alphas.ordinal}
    return result | _each(alphas.ordinal, ordinal="value", ordinal_low="low", ordinal_high="high")


def _model(severity: Severity | NotAvailable) -> Any:
    if isinstance(severity, NotAvailable) or isinstance(severity.components, NotAvailable):
        return severity and severity.components
    found = _each(
        severity.components,
        "df",
        "juror_test",
        juror_variance="juror",
        residual_variance="residual",
        juror_variance_by_squares="by_squares",
    )
    return found | {
        "lambda": severity.components.shrinkage,
        "additivity": severity.additivity,
        "link_factor": severity.link.link_factor,
    }


def _groups(severity: Severity | NotAvailable) -> Any:
    if isinstance(severity, NotAvailable):
        return severity
    names = severity.cells.schemes
    return [[names[i] for i in group.schemes] for group in severity.link.groups]


def _facets(found: Facets | NotAvailable) -> Any:
    if isinstance(found, NotAvailable):
        return found
    more = found.one_more()
    return {
        "components": found.components,
        "relative": found.relative(),
        "dependability": found.dependability(),
        "relative_with_one_more_juror": more[1] if isinstance(more, tuple) else more,
    }


def _juror(profile: JurorProfile) -> Json:
    effect = profile.effect
    return {
        **_each(effect.effect, severity="value", severity_low="low", severity_high="high"),
        **_each(effect, "se", severity_least_squares="least_squares"),
        **_each(profile, "agreement", "scatter", "flatness", scatter_test="more_scatter"),
        "slope": profile.stretch.slope,
        **_each(profile.drift, drift="value", drift_low="low", drift_high="high"),
        **_each(profile, "halo", "schemes", "mean", "sd", "gap", "flags"),
    }


def _criterion(found: CriterionBehaviour) -> Json:
    spread = ("mean", "apart", "of")
    return {
        **_each(found, "weight", "mean", "sd", "rest", "alpha_if_dropped", "flags"),
        "uses": {f"{level:g}": count for level, count in found.uses.items()},
        "spread": _figures(found.raw, *spread),
        "spread_severity_out": _figures(found.severity_out, *spread),
        "leanings": {
            juror: {"value": value, "se": error} for juror, (value, error) in found.leanings.items()
        },
    }


def _scheme(standing: Standing) -> Json:
    ranks = standing.ranks
    table = (ranks, ranks) if isinstance(ranks, NotAvailable) else ranks.table
    own = (ranks, ranks) if isinstance(ranks, NotAvailable) else ranks.own
    return {
        **_each(standing, "raw", "adjusted", "published", "se", "p_top", "jurors", "group"),
        "raw_exact": str(standing.raw),
        "adjusted_least_squares": standing.least_squares,
        "rank_low": table[0],
        "rank_high": table[1],
        "rank_low_own": own[0],
        "rank_high_own": own[1],
        **_each(ranks, rank_expected="expected"),
    }


def _adjust(found: Adjustment | NotAvailable) -> Any:
    if isinstance(found, NotAvailable):
        return {"decision": "do not adjust", "reasons": [found.reason], "rules": []}
    moved = ("scheme", "raw", "adjusted", "rank_raw", "rank_adjusted")
    return {
        **_each(found, "decision", "cautions", "effect"),
        "reasons": [reason.words for reason in found.reasons],
        "rules": [reason.rule for reason in found.reasons],
        "changes": [
            _each(change, *moved, passes_not_told_apart="not_told_apart")
            for change in found.changes
        ],
    }


def _sheet(sheet: WeightedLevel | NotAvailable) -> Json:
    if isinstance(sheet, NotAvailable):
        return {"level": sheet}
    return {"exact": str(sheet.value), **_each(sheet, "working", "left_out", level="value")}
