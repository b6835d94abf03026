"""The audit list of a studio as its leaders read it: newest first, in pages, by deed."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.paginator import Page, Paginator

from criteria.typed.csv_cells import csv_of
from reviews.models import AuditLine, Studio
from reviews.models.audit import AuditQuerySet
from reviews.moments import moment_words

LINES_A_PAGE = 100
HEADS = ["when", "who", "by the link of", "deed", "about", "of whom"]


@dataclass(frozen=True)
class AuditPage:
    """One page of the lines of a studio, or of one deed."""

    lines: Page[AuditLine]
    deed: str

    @property
    def deeds(self) -> list[tuple[str, str, bool]]:
        """What the list can be narrowed to: value, words, whether it is now."""
        choices = [("", "Every deed"), *AuditLine.Deed.choices]
        return [(value, str(words), value == self.deed) for value, words in choices]


def audit_page(studio: Studio, deed: str, number: str) -> AuditPage:
    """A page of the list; the nearest where there is none of that number."""
    lines = Paginator(_lines(studio, deed), LINES_A_PAGE).get_page(number)
    return AuditPage(lines, deed if deed in AuditLine.Deed.values else "")


def audit_csv(studio: Studio, deed: str) -> str:
    """The whole list as CSV."""
    return csv_of([HEADS, *(_cells(line) for line in _lines(studio, deed))])


def _lines(studio: Studio, deed: str) -> AuditQuerySet:
    return AuditLine.objects.filter(studio=studio).named().of_deed(deed)


def _cells(line: AuditLine) -> list[str]:
    told = [line.who, line.by_link_of, line.get_deed_display(), line.about, line.of_whom]
    return [moment_words(line.at), *told]
