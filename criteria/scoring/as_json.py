"""An analysis as JSON: numbers not rounded, and a reason where there is none.

A number that isn't available is null, and its reason stands under
`not_available` by the path to it.
"""

from collections.abc import Sequence
from enum import Enum
from fractions import Fraction
from typing import Any

import numpy as np

from criteria.scoring.analysis import Alphas, Analysis, Standing
from criteria.scoring.behaviour import CriterionBehaviour
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
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
    panel, intraclass, severity = analysis.panel, analysis.intraclass, analysis.severity
    tree: Json = {
        "crit": panel.name,
        "unit": "level",
        "weights": {name: float(weight) for name, weight in panel.weights.items()},
        "icc": {
            name: getattr(intraclass, name) if intraclass else intraclass
            for name in ("A1", "Ak", "C1", "Ck", "one_way_1", "one_way_k")
        },
        "icc_tests": intraclass
        and {"schemes": intraclass.schemes_test, "jurors": intraclass.jurors_test},
        "jurors_per_scheme": intraclass.k if intraclass else intraclass,
        "agreement_words": intraclass.words if intraclass else intraclass,
        "alpha": {
            **{name: _alphas(alphas) for name, alphas in analysis.alpha.items()},
            RESERVED: _alphas(analysis.alpha_of_totals),
        },
        "agreed": {found.criterion: _agreed(found) for found in analysis.criteria},
        "kendall_w": analysis.kendall.W if analysis.kendall else analysis.kendall,
        "kendall": analysis.kendall
        and {
            "schemes": analysis.kendall.schemes,
            "jurors": analysis.kendall.jurors,
            "mean_spearman": analysis.kendall.mean_spearman,
            "chi_square": analysis.kendall.chi_square,
            "f": analysis.kendall.f_test,
        },
        "components": _components(analysis),
        "severity_model": _model(severity),
        "facets": _facets(analysis),
        "jurors": {profile.juror: _juror(profile) for profile in analysis.jurors},
        "criteria": {criterion.criterion: _criterion(criterion) for criterion in analysis.criteria},
        "cronbach_alpha": analysis.together.alpha if analysis.together else analysis.together,
        "schemes": {
            **{standing.scheme: _scheme(standing) for standing in analysis.standings},
            **{scheme: NotAvailable(reason) for scheme, reason in analysis.alone},
        },
        "top": analysis.top,
        "alike": analysis.alike,
        "adjust": _adjust(analysis),
        "connected": severity.link.connected if isinstance(severity, Severity) else severity,
        "groups": [
            [severity.cells.schemes[i] for i in group.schemes] for group in severity.link.groups
        ]
        if isinstance(severity, Severity)
        else severity,
        "order": _order(analysis),
        "sheets": [
            {"scheme": scheme, "juror": juror, **_sheet(sheet)}
            for (scheme, juror), sheet in sorted(panel.sheets.items())
        ],
    }
    reasons: dict[str, str] = {}
    return {**_plain(tree, "", reasons), "not_available": reasons}


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
            return _plain(
                {
                    "statistic": value.statistic,
                    "df": value.df,
                    "p": value.p,
                    "method": value.method,
                },
                path,
                reasons,
            )
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
    ordinal = alphas.ordinal
    result: Json = {
        "nominal": alphas.nominal,
        "ordinal": ordinal.value if isinstance(ordinal, Estimate) else ordinal,
        "interval": alphas.interval,
        "ratio": alphas.ratio,
    }
    if isinstance(ordinal, Estimate):
        result |= {"ordinal_low": ordinal.low, "ordinal_high": ordinal.high}
    return result


def _components(analysis: Analysis) -> Any:
    found = analysis.components
    if isinstance(found, NotAvailable):
        return dict.fromkeys(("scheme", "juror", "residual"), found)
    return {"scheme": found.scheme, "juror": found.juror, "residual": found.residual}


def _model(severity: Severity | NotAvailable) -> Any:
    if isinstance(severity, NotAvailable):
        return severity
    if isinstance(severity.components, NotAvailable):
        return severity.components
    found = severity.components
    return {
        "juror_variance": found.juror,
        "residual_variance": found.residual,
        "lambda": found.shrinkage,
        "juror_variance_by_squares": found.by_squares,
        "df": found.df,
        "juror_test": found.juror_test,
        "additivity": severity.additivity,
        "link_factor": severity.link.link_factor,
    }


def _facets(analysis: Analysis) -> Any:
    found = analysis.facets
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
    lean = effect.effect
    return {
        "severity": lean.value if isinstance(lean, Estimate) else lean,
        "severity_low": lean.low if isinstance(lean, Estimate) else lean,
        "severity_high": lean.high if isinstance(lean, Estimate) else lean,
        "se": effect.se,
        "severity_least_squares": effect.least_squares,
        "agreement": profile.agreement,
        "slope": profile.stretch.slope,
        "scatter": profile.scatter,
        "scatter_test": profile.more_scatter,
        "flatness": profile.flatness,
        "drift": profile.drift.value if isinstance(profile.drift, Estimate) else profile.drift,
        "drift_low": profile.drift.low if isinstance(profile.drift, Estimate) else profile.drift,
        "drift_high": profile.drift.high if isinstance(profile.drift, Estimate) else profile.drift,
        "halo": profile.halo,
        "schemes": profile.schemes,
        "mean": profile.mean,
        "sd": profile.sd,
        "gap": profile.gap,
        "flags": profile.flags,
    }


def _agreed(found: CriterionBehaviour) -> Any:
    agreed = found.agreed
    if isinstance(agreed, NotAvailable):
        return agreed
    return {"exact": agreed.exact, "within_one": agreed.within_one, "pairs": agreed.pairs}


def _criterion(found: CriterionBehaviour) -> Json:
    def spread(value: Any) -> Any:
        return value and {"mean": value.mean, "apart": value.apart, "of": value.of}

    return {
        "weight": found.weight,
        "mean": found.mean,
        "sd": found.sd,
        "uses": {f"{level:g}": count for level, count in found.uses.items()},
        "spread": spread(found.raw),
        "spread_severity_out": spread(found.severity_out),
        "rest": found.rest,
        "alpha_if_dropped": found.alpha_if_dropped,
        "leanings": {
            juror: {"value": value, "se": error} for juror, (value, error) in found.leanings.items()
        },
        "flags": found.flags,
    }


def _scheme(standing: Standing) -> Json:
    ranks = standing.ranks
    table = (ranks, ranks) if isinstance(ranks, NotAvailable) else ranks.table
    own = (ranks, ranks) if isinstance(ranks, NotAvailable) else ranks.own
    return {
        "raw": standing.raw,
        "raw_exact": str(standing.raw),
        "adjusted": standing.adjusted,
        "adjusted_least_squares": standing.least_squares,
        "published": standing.published,
        "se": standing.se,
        "rank_low": table[0],
        "rank_high": table[1],
        "rank_low_own": own[0],
        "rank_high_own": own[1],
        "rank_expected": ranks if isinstance(ranks, NotAvailable) else ranks.expected,
        "p_top": standing.p_top,
        "jurors": standing.jurors,
        "group": standing.group,
    }


def _adjust(analysis: Analysis) -> Any:
    found = analysis.adjustment
    if isinstance(found, NotAvailable):
        return {"decision": "do not adjust", "reasons": [found.reason], "rules": []}
    return {
        "decision": found.decision,
        "reasons": [reason.words for reason in found.reasons],
        "rules": [reason.rule for reason in found.reasons],
        "cautions": found.cautions,
        "effect": found.effect,
        "changes": [
            {
                "scheme": change.scheme,
                "raw": change.raw,
                "adjusted": change.adjusted,
                "rank_raw": change.rank_raw,
                "rank_adjusted": change.rank_adjusted,
                "passes_not_told_apart": change.not_told_apart,
            }
            for change in found.changes
        ],
    }


def _order(analysis: Analysis) -> Any:
    found = analysis.order
    if isinstance(found, NotAvailable):
        return found
    return {
        "same_order": found.same_order,
        "trend_over_10_places": found.trend,
        "test": found.test,
        "carry_over": found.carry_over,
        "caution": found.caution,
    }


def _sheet(sheet: WeightedLevel | NotAvailable) -> Json:
    if isinstance(sheet, NotAvailable):
        return {"level": sheet}
    return {
        "level": sheet.value,
        "exact": str(sheet.value),
        "working": sheet.working,
        "left_out": sheet.left_out,
    }
