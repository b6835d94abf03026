"""`python -m criteria panel LEVELS.csv`: the jury's numbers for anyone, without the site."""

import argparse
import json
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from criteria.scoring.analysis import DRAWS, TOP, analyse_panel
from criteria.scoring.as_json import document
from criteria.scoring.panel import Panel
from criteria.scoring.reading import NUMBER, FileRefused, read_levels, read_names, read_weights
from criteria.scoring.report import page

PRINTED, UNREADABLE = 0, 2

MOST, MOST_LEVELS = 9_999_999, 100
"""Largest count that is asked for, and the widest scale of levels. Each far beyond any use."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the arguments of `panel` to a parser."""
    parser.add_argument(
        "levels",
        type=Path,
        metavar="LEVELS.csv",
        help="columns scheme, juror, criterion, level; optional cohort, crit, position. "
        "Several crits are analysed each apart",
    )
    parser.add_argument("--weights", type=Path, metavar="FILE", help="columns criterion, weight")
    parser.add_argument("--scale", type=_scale, metavar="1-5", help="lowest and highest level")
    parser.add_argument("--schemes", type=Path, metavar="FILE", help="column scheme: those allowed")
    parser.add_argument("--crit", metavar="NAME", help="only this crit")
    parser.add_argument("--cohort", metavar="NAME", help="only this cohort")
    parser.add_argument(
        "--together",
        action="store_true",
        help="all chosen rows as one panel, such as two rooms with schemes in common",
    )
    announced = parser.add_mutually_exclusive_group()
    announced.add_argument(
        "--announced",
        dest="announced",
        action="store_true",
        default=None,
        help="the rule for adjusting was made known before scoring",
    )
    announced.add_argument(
        "--not-announced", dest="announced", action="store_false", default=None, help="it was not"
    )
    parser.add_argument(
        "--top", type=_at_least(1), default=TOP, metavar="K", help="places of P(top)"
    )
    parser.add_argument(
        "--draws", type=_at_least(1), default=DRAWS, metavar="N", help="behind P(top)"
    )
    parser.add_argument("--seed", type=_at_least(0), default=1, metavar="N", help="of every draw")
    parser.add_argument("--json", action="store_true", help="numbers not rounded")


def run(options: argparse.Namespace) -> int:
    """Print the analysis; 0 when printed, 2 when the input can't be read."""
    try:
        panels = _panels(options)
    except FileRefused as refusal:
        print(refusal, file=sys.stderr)
        return UNREADABLE
    analyses = [
        analyse_panel(
            panel,
            announced=options.announced,
            top=options.top,
            draws=options.draws,
            seed=options.seed,
        )
        for panel in panels
    ]
    if options.json:
        print(json.dumps(document(analyses), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        print("\n\n".join(page(analysis) for analysis in analyses), end="")
    return PRINTED


def _panels(options: argparse.Namespace) -> tuple[Panel, ...]:
    return read_levels(
        options.levels,
        weights=read_weights(options.weights) if options.weights else None,
        scale=options.scale,
        schemes=read_names(options.schemes) if options.schemes else None,
        only={
            column: name
            for column, name in (("cohort", options.cohort), ("crit", options.crit))
            if name is not None
        },
        together=options.together,
    )


def _scale(text: str) -> tuple[Fraction, Fraction]:
    low, dash, high = text.partition("-")
    if not dash or not NUMBER.fullmatch(low.strip()) or not NUMBER.fullmatch(high.strip()):
        raise argparse.ArgumentTypeError(f"read “{text}”; expected lowest-highest, such as 1-5")
    ends = Fraction(low.strip()), Fraction(high.strip())
    if not 0 < ends[1] - ends[0] <= MOST_LEVELS:
        expected = f"the lowest level first, and the highest at most {MOST_LEVELS} above it"
        raise argparse.ArgumentTypeError(f"read “{text}”; expected {expected}")
    return ends


def _at_least(least: int) -> Callable[[str], int]:
    def whole(text: str) -> int:
        is_whole = text.isascii() and text.isdigit() and len(text) <= len(str(MOST))
        if not is_whole or int(text) < least:
            expected = f"a whole number from {least} to {MOST:,}"
            raise argparse.ArgumentTypeError(f"read “{text}”; expected {expected}")
        return int(text)

    return whole
