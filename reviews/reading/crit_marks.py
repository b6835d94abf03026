"""A crit's marks for a register: what is agreed of each scheme, beside what its jurors gave."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import PanelLevel, WeightedLevel
from reviews.models import AgreedLevel, Verdict
from reviews.moments import moment_words
from reviews.reading.crit_agreed import agreed_of, decided_on, verdicts_of, weighted_agreed
from reviews.reading.crit_levels_csv import wide_lines
from reviews.reading.crit_moderation_table import Table
from reviews.reading.crit_sheets import credits_of

Line = list[str | int | float | None]


def mark_lines(table: Table) -> Iterator[Line]:
    """A line a scheme that is open to whoever reads: agreed levels, verdict, mean and spread.

    Levels are exact where a decimal can be, and rounded nowhere.
    """
    codes = [criterion.code for criterion in table.criteria]
    yield [
        "scheme", "name", "students", *codes, "weighted_agreed", "verdict", "stays_open",
        "verdict_words", "jurors", "mean", "spread",
    ]  # fmt: skip
    agreed, verdicts = agreed_of(table.crit), verdicts_of(table.crit)
    by = credits_of(table.crit)
    for row in table.rows:
        if row.is_closed:
            continue
        own, verdict = agreed[row.scheme.pk], verdicts.get(row.scheme.pk)
        panel = row.panel if isinstance(row.panel, PanelLevel) else None
        weighted = weighted_agreed(row.criteria, own)
        yield [
            row.scheme.number,
            row.scheme.name,
            by.get(row.scheme.pk, row.scheme.by),
            *(own[each.pk].level if each.pk in own else None for each in row.criteria),
            float(weighted.value) if isinstance(weighted, WeightedLevel) else None,
            verdict.get_kind_display() if verdict else "",
            " ".join(verdict.criteria) if verdict else "",
            verdict.words if verdict else "",
            len(row.counted),
            float(panel.value) if panel else None,
            _figure(panel.spread) if panel else None,
        ]


def _figure(value: Fraction | NotAvailable) -> float | None:
    return float(value) if isinstance(value, Fraction) else None


def decision_lines(table: Table) -> Iterator[Line]:
    """Every decision on a level or a verdict, the first one first, with who, when and why."""
    yield ["scheme", "of", "decided", "jurors_mean", "reason", "by", "at"]
    opened = {row.scheme.pk: row.scheme for row in table.rows if not row.is_closed}
    for each in decided_on(table.crit):
        if scheme := opened.get(each.scheme_id):
            yield [scheme.number, *_decided(each), str(each.by), moment_words(each.at)]


def _decided(decision: AgreedLevel | Verdict) -> tuple[str, str, str, str]:
    """Of what, what, on which mean, and why."""
    if isinstance(decision, Verdict):
        return "verdict", decision.get_kind_display(), "", decision.words
    level = str(decision.level or "taken back")
    return decision.criterion.code, level, decision.mean, decision.reason


def mark_sheets(table: Table) -> Iterator[tuple[str, list[Line]]]:
    """Marks, levels and decisions, each with its name; of a table in detail."""
    yield "Marks", [*mark_lines(table)]
    yield "Levels", [[_read(cell) for cell in line] for line in wide_lines(table)]
    yield "Decisions", [*decision_lines(table)]


def as_text(lines: Iterable[Line]) -> Iterator[list[str]]:
    """The same lines with every cell as text; blank where there is nothing."""
    return (["" if cell is None else str(cell) for cell in line] for line in lines)


def _read(cell: str) -> str | float:
    """A figure of the table of levels as a figure."""
    return float(cell) if cell.replace(".", "", 1).isdecimal() and cell.isascii() else cell
