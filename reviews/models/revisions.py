"""Issued revisions: a package as it was handed in, fixed for good."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

from django.db import models
from django.db.models import QuerySet
from django.db.models.functions import Cast

from criteria.check_sheet.record import read_record
from criteria.check_sheet.sheet import CheckSheet
from criteria.package import PackageReading
from criteria.schedules import LEADER_SCHEDULES, SITE
from criteria.units import DecimalSign, Notation
from reviews.models.briefs import Frozen
from reviews.models.crits import Crit
from reviews.models.people import Person
from reviews.models.pictures import Original, SheetFile, TitleBlockFields
from reviews.models.studios import Scheme
from reviews.models.weather import WEATHER, read_tables
from reviews.moments import span_words
from reviews.worked_out import MOST_PACKAGES, Tables, Told, fingerprint, kept


class Revision(models.Model):
    """A lettered issue of a package; it belongs to the crit that it was issued for, and no other.

    Revisions stand in the order in which they were issued, whatever a clock says.

    fingerprint   SHA-256 over the contents and every sheet's picture
    lacks         what the hand-in list asked for and the package did not hold
    students      whose work it is, whoever draws the scheme later
    behalf_words  why the leader handed it in for its students; blank where they did
    """

    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="revisions")
    letter = models.CharField(max_length=4)
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    crit = models.ForeignKey(
        Crit, null=True, blank=True, on_delete=models.SET_NULL, related_name="revisions"
    )
    minutes_late = models.PositiveIntegerField(default=0)
    fingerprint = models.CharField(max_length=64)
    lacks = models.JSONField(default=list)
    students = models.ManyToManyField(Person, related_name="issued", blank=True)
    behalf_words = models.CharField(max_length=240, blank=True, db_default="")

    class Meta:
        ordering = ["scheme", "pk"]
        constraints = [models.UniqueConstraint("scheme", "letter", name="one_revision_a_letter")]

    def __str__(self) -> str:
        return f"{self.scheme}, revision {self.letter}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and not self._state.adding:
            raise Frozen("An issued revision does not change.")
        super().save(*args, **kwargs)

    @property
    def by(self) -> str:
        """The names of those whose work it is, as on its title block."""
        return " and ".join(student.name for student in self.students.all())

    @property
    def late_words(self) -> str:
        """By how much it was issued after pens down; blank where it wasn't."""
        return span_words(self.minutes_late) if self.minutes_late else ""

    @cached_property
    def _held(self) -> Held:
        return _decoded(
            IssuedPackage.objects.filter(revision=self).values_list(*_CONTENTS).get()[0]
        )

    @property
    def contents(self) -> Mapping[str, Any]:
        """What it holds, as typed; fetched where it is first asked for, decoded once."""
        return self._held.contents

    @property
    def tables(self) -> Told[Tables]:
        """Its records beside the site sheet and climate it was issued under."""
        return self._held.tables

    @property
    def notation(self) -> Notation:
        """How its figures are kept."""
        return self._held.notation

    @property
    def reading(self) -> PackageReading:
        """The package in SI, read once."""
        return read_tables(self.tables, self.notation)

    @cached_property
    def library(self) -> str:
        """Version of the library that computed its check sheet."""
        return IssuedCheckSheet.objects.values_list("library", flat=True).get(revision=self)

    @cached_property
    def told(self) -> str:
        """What tells all that it holds apart, without reading it: it never changes."""
        return fingerprint("as issued", self.pk, self.fingerprint, self.issued_at)

    @cached_property
    def _record(self) -> Told[_Record]:
        return Told(self.told, _Record(self.pk))

    @property
    def issued_checks(self) -> Told[CheckSheet]:
        """The check sheet as it was issued, nothing set aside; it never changes."""
        return Told(self._record.fingerprint, _as_issued(self._record))


class IssuedPackage(models.Model):
    """What a revision holds, apart from it: most pages name a revision and don't read it.

    contents   statement, schedules, the brief's schedules, weather and targets as typed with their
               decimal sign, and the sheet list; what was issued before briefs had a climate, or
               states and people cases, or weather, has none
    """

    revision = models.OneToOneField(Revision, on_delete=models.CASCADE, related_name="package")
    contents: Any = models.JSONField()

    def __str__(self) -> str:
        return f"Package of {self.revision}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and not self._state.adding:
            raise Frozen("An issued package does not change.")
        super().save(*args, **kwargs)


class IssuedSheet(TitleBlockFields):
    """A sheet as issued."""

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="sheets")
    file = models.ForeignKey(SheetFile, on_delete=models.PROTECT, related_name="issued")
    original = models.ForeignKey(
        Original, null=True, blank=True, on_delete=models.PROTECT, related_name="issued"
    )

    class Meta:
        ordering = ["number"]

    def is_called(self, number: str) -> bool:
        """Whether it is what people mean by a number: 2 is 02."""
        return bool(number) and plain_number(self.number) == plain_number(number)


class IssuedCheckSheet(models.Model):
    """The check sheet of a revision as issued, whole: figures, working, sources, questions, claims.

    library   version of the library that computed it
    record    what `criteria.check_sheet.record` writes and reads
    """

    revision = models.OneToOneField(Revision, on_delete=models.CASCADE, related_name="check_sheet")
    library = models.CharField(max_length=40)
    record: Any = models.JSONField()

    def __str__(self) -> str:
        return f"Check sheet of {self.revision}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and not self._state.adding:
            raise Frozen("An issued check sheet does not change.")
        super().save(*args, **kwargs)


# as the text that is kept, to be decoded where that is new to the process
_CONTENTS = (Cast("contents", models.TextField()),)
_RECORD = Cast("record", models.TextField())


@dataclass
class _Record:
    """The text of a check sheet as issued: half a megabyte, fetched where nothing is kept of it."""

    revision_id: int
    fetched: str | None = None

    def text(self) -> str:
        """The text, which it holds no longer."""
        text, self.fetched = self.fetched, None
        if text is not None:
            return text
        records = IssuedCheckSheet.objects.filter(revision=self.revision_id)
        return str(records.values_list(_RECORD, flat=True).get())


class Held(NamedTuple):
    """What a revision holds, decoded; nobody changes it, for the next page reads the same."""

    contents: Mapping[str, Any]
    tables: Told[Tables]
    notation: Notation


@kept(MOST_PACKAGES)
def _decoded(text: str) -> Held:
    held = json.loads(text)
    decimal = DecimalSign(held.get("decimal", DecimalSign.POINT))
    tables: Told[Tables] = Told.of({**held["schedules"], **of_brief(held)})
    return Held(held, tables, Notation(decimal=decimal))


def of_brief(contents: Mapping[str, Any]) -> dict[str, Sequence[dict[str, str]]]:
    """The brief's schedules that a revision was issued under."""
    slugs = (schedule.slug for schedule in LEADER_SCHEDULES if schedule is not SITE)
    return {
        SITE.slug: [contents["site"]],
        **{slug: contents.get(slug, []) for slug in slugs},
        WEATHER: contents.get(WEATHER, []),
    }


@kept(MOST_PACKAGES)
def _as_issued(record: Told[_Record]) -> CheckSheet:
    return read_record(json.loads(record.holds.text()))


def with_issued_checks(revisions: QuerySet[Revision]) -> list[Revision]:
    """Fetch revisions and their check sheets as issued, in two queries; those that have one."""
    records = IssuedCheckSheet.objects.filter(revision__in=revisions)
    held = {pk: more for pk, *more in records.values_list("revision_id", "library", _RECORD)}
    found = [revision for revision in revisions if revision.pk in held]
    for revision in found:
        library, revision._record.holds.fetched = held[revision.pk]
        revision.__dict__["library"] = library
    return found


def plain_number(number: str) -> str:
    """A sheet's number as it is compared.

    >>> plain_number(" 02A"), plain_number("2a"), plain_number("00")
    ('2a', '2a', '0')
    """
    return number.strip().casefold().lstrip("0") or "0"


class StoredFinding(models.Model):
    """A finding as it was at issue, so that cohorts can be compared by query.

    uses are those of the rooms that it is asked of, in order of their names; value and target are
    SI; ratio is value over target for at least, target over value for at most
    """

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="findings")
    ref = models.CharField(max_length=12)
    check_slug = models.CharField(max_length=40)
    uses = models.CharField(max_length=200, blank=True)
    rule = models.CharField(max_length=10)
    title = models.CharField(max_length=200)
    state = models.CharField(max_length=16)
    value = models.FloatField(null=True)
    target = models.FloatField(null=True)
    ratio = models.FloatField(null=True)

    class Meta:
        ordering = ["revision", "ref"]
        indexes = [models.Index(fields=["check_slug", "state"])]

    def __str__(self) -> str:
        return f"{self.ref} {self.title}: {self.state}"
