"""A package in preparation: rows and sheets as their students leave them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from functools import cache, lru_cache
from typing import Any, NamedTuple

from django.db import models
from django.db.models.functions import Cast
from django.utils import timezone

from criteria.units import Notation
from reviews.models.people import Person
from reviews.models.pictures import Original, SheetFile, TitleBlockFields
from reviews.models.studios import Scheme
from reviews.worked_out import MOST_PACKAGES, Tables, Told, fingerprint

_NOTHING = models.Value({}, models.JSONField())
_NONE = models.Value([], models.JSONField())

_READ = ("pk", "schedule", Cast("cells", models.TextField()), "version", "changed_at", "changed_by")


class TypedRow(NamedTuple):
    """A row as it is read: all who read the same cells share them, so nobody changes them."""

    pk: int
    schedule: str
    cells: Mapping[str, str]
    version: int
    changed_at: datetime
    changed_by_id: int


Typed = Told[tuple[TypedRow, ...]]
"""The rows of a package in their order, told apart by what is typed in them."""


class Package(models.Model):
    """Everything a scheme is about to hand in.

    not_marks   what was read on its sheets like a mark, and its students said is none
    """

    scheme = models.OneToOneField(Scheme, on_delete=models.CASCADE, related_name="package")
    statement = models.TextField(blank=True)
    statement_version = models.PositiveIntegerField(default=0)
    not_marks: Any = models.JSONField(default=list, blank=True, db_default=_NONE)

    _typed: Typed | None = None

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

    def typed(self) -> Typed:
        """Its rows: as they stand now, or as they stood when they were held."""
        return self._typed or self._read()

    def hold_typed(self) -> None:
        """Read its rows once for all that a page asks of them."""
        self._typed = self.typed()

    def _read(self) -> Typed:
        rows = list(_rows().filter(package=self))
        told = fingerprint([row[1:3] for row in rows])
        return Told(told, tuple(TypedRow(pk, slug, _cells(t), *on) for pk, slug, t, *on in rows))

    def changed_by(self, row: TypedRow) -> Person | None:
        """Who changed a row of it last: mostly one of its students, who are at hand."""
        students = (each for each in self.scheme.members.all() if each.pk == row.changed_by_id)
        return next(students, None) or Person.objects.filter(pk=row.changed_by_id).first()

    def records(self) -> dict[str, list[Mapping[str, str]]]:
        """The typed records of every schedule."""
        return _records(self.typed())

    def tables(self, of_brief: Tables) -> Told[Tables]:
        """Its records beside its brief's schedules."""
        typed = self.typed()  # once: what it is known by and what it holds are of one moment
        return Told(fingerprint(typed, of_brief), {**_records(typed), **of_brief})


@cache
def _rows() -> models.QuerySet[Row, tuple[Any, ...]]:
    """Rows as they are read, of whatever package; built once, and filtered by whoever asks."""
    return Row.objects.values_list(*_READ)


def _records(typed: Typed) -> dict[str, list[Mapping[str, str]]]:
    tables: dict[str, list[Mapping[str, str]]] = {}
    for row in typed.holds:
        tables.setdefault(row.schedule, []).append(row.cells)
    return tables


@lru_cache(maxsize=128 * MOST_PACKAGES)
def _cells(text: str) -> Mapping[str, str]:
    """A row's cells, of their JSON as it is kept."""
    cells: Mapping[str, str] = json.loads(text)
    return cells


def next_letter(issued: int) -> str:
    """Return the letter after so many issued revisions: A, B … Z, AA, AB.

    >>> next_letter(0), next_letter(25), next_letter(26)
    ('A', 'Z', 'AA')
    """
    before, letter = divmod(issued, 26)
    return (next_letter(before - 1) if before else "") + chr(ord("A") + letter)


class Row(models.Model):
    """One line of a schedule, cells as typed.

    origin   what a file knows it by, what each kind of file last had of its cells, and where those
             that were taken over come from, as reviews.exchange.known_again has it; empty where it
             is typed alone
    """

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="rows")
    schedule = models.CharField(max_length=24)
    position = models.PositiveIntegerField()
    cells: Any = models.JSONField(default=dict)
    origin: Any = models.JSONField(default=dict, blank=True, db_default=_NOTHING)
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
