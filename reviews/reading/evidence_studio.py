"""What a book of evidence tells of the studio: brief, criteria, standards, figures, register."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from reviews.models import Crit, Revision, Studio
from reviews.models.crits import LEVELS
from reviews.moments import day_words, moment_words
from reviews.reading.crit_jury_numbers import jury_numbers
from reviews.reading.crit_moderation_table import Table, moderation_table
from reviews.reading.revision_register import HEADS, register_of
from reviews.reading.standards_map import standards_map

Told = dict[str, Any]
TARGET_HEADS = ("id", "what", "rule", "value", "unit")
LEVEL_PLACES = 2


def studio_told(studio: Studio, crits: list[Crit]) -> Told:
    """Everything but the schemes, as text; of crits, those that are released."""
    tables = [moderation_table(crit) for crit in crits]
    revisions = Revision.objects.filter(crit__in=crits)
    return {
        "title": studio.title,
        "cohort": studio.cohort,
        "year_line": studio.year_line,
        "brief": _brief(studio),
        "crits": [_crit(crit) for crit in crits],
        "standards": _standards(studio),
        "cohort_heads": ["crit", "criterion", "levels", "mean", *LEVELS],
        "cohort_figures": [line for table in tables for line in _cohort(table)],
        "juror_heads": ["crit", "juror", "complete sheets", "lean (level)", "interval (level)"],
        "jurors": [line for table in tables for line in _jurors(table)],
        "register_heads": list(HEADS),
        "register": [line.cells for line in register_of(studio, revisions)],
    }


def _brief(studio: Studio) -> Told:
    brief = studio.brief
    lines = brief.lines_in_force()
    return {
        "text": brief.text,
        "issued": moment_words(brief.issued_at) if brief.issued_at else "not issued",
        "target_heads": [*TARGET_HEADS, "asked by"],
        "targets": [
            [*(line.cells.get(head, "") for head in TARGET_HEADS), line.asked_by] for line in lines
        ],
        "addenda": [
            {"number": each.number, "text": each.text, "issued": moment_words(each.issued_at)}
            for each in brief.addenda.all()
        ],
    }


def _crit(crit: Crit) -> Told:
    return {
        "crit": str(crit),
        "day": day_words(crit.day),
        "released": moment_words(crit.released_at) if crit.released_at else "",
        "words": crit.release_words,
        "criteria": [
            {
                "code": each.code,
                "name": each.name,
                "weight": f"{each.weight.normalize():f}",
                "levels": [words for _, _, words in each.descriptors],
                "evidence": each.evidence,
            }
            for each in crit.criteria.all()
        ],
    }


def _standards(studio: Studio) -> Told:
    read = standards_map(studio)
    return {
        "heads": ["whose", "edition", "code", "title", "criteria", "note"],
        "lines": [
            [each.body, each.edition, each.code, each.title, each.criteria, each.note]
            for each in read.standards
        ],
        "met": [
            {"criterion": str(each.criterion), "standards": [str(s) for s in each.standards]}
            for each in read.met
        ],
        "idle": [str(each) for each in read.idle],
        "unmet": [str(each) for each in read.unmet],
    }


def _cohort(table: Table) -> list[list[str]]:
    """Of each criterion how many levels were given, their mean, and how many of each."""
    found = []
    for n, criterion in enumerate(table.criteria):
        given = [level for row in table.rows for level in row.levels[n] if isinstance(level, int)]
        counts = Counter(given)
        mean = shown(Fraction(sum(given), len(given)), LEVEL_PLACES) if given else "none"
        told = [str(table.crit), str(criterion), str(len(given)), mean]
        found.append([*told, *(str(counts[level]) for level in range(1, len(LEVELS) + 1))])
    return found


def _jurors(table: Table) -> list[list[str]]:
    """A summary: how many sheets, and which way a juror leans, with its interval."""
    numbers = jury_numbers(table)
    if isinstance(numbers, NotAvailable):
        return [[str(table.crit), numbers.reason, "", "", ""]]
    if isinstance(numbers.severity, NotAvailable):
        return [[str(table.crit), numbers.severity.reason, "", "", ""]]
    found = []
    for each in numbers.severity.jurors:
        lean, interval = _written(each.effect)
        found.append([str(table.crit), each.juror, str(each.schemes), lean, interval])
    return found


def _written(effect: Estimate | NotAvailable) -> tuple[str, str]:
    if isinstance(effect, NotAvailable):
        return "–", effect.reason
    lean = shown(effect.value, LEVEL_PLACES, signed=True)
    if isinstance(effect.interval, NotAvailable):
        return lean, effect.interval.reason
    low, high = (shown(end, LEVEL_PLACES, signed=True) for end in effect.interval)
    return lean, f"{low} to {high}"
