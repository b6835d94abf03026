"""A package in preparation: rows and sheets as their students leave them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import models
from django.utils import timezone

from criteria.units import Notation
from reviews.models.people import Person
from reviews.models.pictures import Original, SheetFile, TitleBlockFields
from reviews.models.studios import Scheme
from reviews.worked_out import Tables, Told

_NOTHING = models.Value({}, models.JSONField())
_NONE = models.Value([], models.JSONField())


class Package(models.Model):
    """Everything a scheme is about to hand in.

    not_marks   what was read on its sheets like a mark, and its students said is none
    """

    scheme = models.OneToOneField(Scheme, on_delete=models.CASCADE, related_name="package")
    statement = models.TextField(blank=True)
    statement_version = models.PositiveIntegerField(default=0)
    not_marks: Any = models.JSONField(default=list, blank=True, db_default=_NONE)

    def __str__(self) -> str:
        return f"Package of {self.scheme}"

    @property
    def notation(self) -> Notation:
        """How its figures are kept."""
        return self.scheme.studio.brief.notation

    @property
    def letter(self) -> str:
        """The revision that is in preparation."""
        return next_letter(self.scheme.revisions.count())

    def records(self) -> dict[str, list[dict[str, str]]]:
        """The typed records of every schedule."""
        tables: dict[str, list[dict[str, str]]] = {}
        for row in self.rows.all():
            tables.setdefault(row.schedule, []).append(row.cells)
        return tables

    def tables(self, of_brief: Mapping[str, Sequence[dict[str, str]]]) -> Told[Tables]:
        """Its records beside its brief's schedules."""
        return Told.of({**self.records(), **of_brief})


def next_letter(issued: int) -> str:
    """Return the letter after so many issued revisions: A, B … Z, AA, AB.

    >>> next_letter(0), next_letter(25), next_letter(26)
    ('A', 'Z', 'AA')
    """
    before, letter = divmod(issued, 26)
    return (next_letter(before - 1) if before else "") + chr(ord("A") + letter)


class Row(models.Model):
    """One line of a schedule, cells as typed."""

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="rows")
    schedule = models.CharField(max_length=24)
    position = models.PositiveIntegerField()
    cells: Any = models.JSONField(default=dict)
    version = models.PositiveIntegerField(default=1)
    changed_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["schedule", "position", "pk"]
        indexes = [models.Index(fields=["package", "schedule", "position"])]

    def __str__(self) -> str:
        return f"{self.schedule} {self.cells.get('mark', self.pk)}"


class Sheet(TitleBlockFields):
    """One drawing page of a package in preparation.

    proposed   which of its title block was read and not confirmed by a person, and from what
    """

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="sheets")
    file = models.ForeignKey(SheetFile, on_delete=models.PROTECT, related_name="sheets")
    original = models.ForeignKey(
        Original, null=True, blank=True, on_delete=models.PROTECT, related_name="sheets"
    )
    proposed: Any = models.JSONField(default=dict, blank=True, db_default=_NOTHING)
    version = models.PositiveIntegerField(default=1)
    changed_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint("package", "number", name="one_sheet_a_number")]
