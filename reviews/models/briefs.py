"""The brief: text, site sheet, targets, hand-in list; frozen at issue, changed by addenda."""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from django.db import models
from django.db.models import F, Value
from django.utils import timezone

from criteria.units import DecimalSign, Notation
from reviews import clock
from reviews.models.people import Person
from reviews.models.pictures import DrawingKind
from reviews.models.studios import Studio

_NO_ROWS = Value([], models.JSONField())
_NO_TABLES = Value({}, models.JSONField())
DECIMAL_SIGNS = [(DecimalSign.POINT, "point, 22.4"), (DecimalSign.COMMA, "comma, 22,4")]

_ADDENDUM = "Addendum {}"


class Frozen(Exception):
    """Raised where something that is issued, filed or locked would change."""


class InForce(NamedTuple):
    """A target in force, as typed; `addendum` is the number of the one that asks it."""

    pk: int
    cells: dict[str, str]
    addendum: int | None

    @property
    def asked_by(self) -> str:
        """What asks it: the brief, Addendum 1."""
        return _ADDENDUM.format(self.addendum) if self.addendum else "the brief"


class Brief(models.Model):
    """What is asked of a studio.

    decimal   the decimal sign in which the studio writes figures
    site      the site sheet as typed, cell by head
    climate   the climate by month as typed, a record for each month that has a figure
    states    states of the building as typed, a record each
    cases     people cases as typed, a record each
    weather   the year of weather that is brought in: its digest and name, as one record; none
              where the year is made of the climate
    """

    studio = models.OneToOneField(Studio, on_delete=models.CASCADE, related_name="brief")
    text = models.TextField(blank=True)
    decimal = models.CharField(
        "decimal sign", max_length=5, default=DecimalSign.POINT, choices=DECIMAL_SIGNS
    )
    site = models.JSONField(default=dict, blank=True)
    climate: Any = models.JSONField(default=list, blank=True)
    states: Any = models.JSONField(default=list, blank=True, db_default=_NO_ROWS)
    cases: Any = models.JSONField(default=list, blank=True, db_default=_NO_ROWS)
    weather: Any = models.JSONField(default=list, blank=True, db_default=_NO_ROWS)
    statement_words = models.PositiveSmallIntegerField(
        "words of the statement, at most", default=60
    )
    issued_at = models.DateTimeField(null=True, blank=True)
    issued_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    def __str__(self) -> str:
        return f"Brief of {self.studio}"

    @property
    def notation(self) -> Notation:
        """How figures are kept in the studio."""
        return Notation(decimal=DecimalSign(self.decimal))

    @property
    def is_issued(self) -> bool:
        """Whether it is frozen."""
        return self.issued_at is not None

    def require_open(self) -> None:
        """Raise Frozen where the brief is issued."""
        if self.is_issued:
            raise Frozen("The brief is issued. Change it by an addendum.")

    def issue(self, by: Person) -> None:
        """Freeze it."""
        self.require_open()
        self.issued_at, self.issued_by = clock.now(), by
        self.save(update_fields=["issued_at", "issued_by"])

    def lines_in_force(self) -> list[InForce]:
        """The targets in force, in the brief's order: the latest addendum to change one holds."""
        lines = _lines().filter(brief=self)
        return list({line[1].get("id", ""): InForce(*line) for line in lines}.values())

    def target_records(self) -> list[dict[str, str]]:
        """The targets in force, as typed."""
        return [line.cells for line in self.lines_in_force()]

    def site_record(self) -> dict[str, str]:
        """The site sheet in force, as typed."""
        return self.leader_tables()["site"][0]

    def state_names(self) -> list[str]:
        """The states in force, as they are called."""
        return [name for row in self.leader_tables()["states"] if (name := row.get("state", ""))]

    def leader_tables(self) -> dict[str, list[dict[str, str]]]:
        """Site sheet, climate, states, people cases and weather in force, as typed.

        An addendum changes single cells of the site; it gives the others whole, and the latest
        that does holds.
        """
        site = dict(self.site)
        names = ("climate", "states", "cases", "weather")
        tables = {name: getattr(self, name) for name in names}
        for addendum in self.addenda.all():
            site |= addendum.site_changes
            tables |= addendum.use_changes
        return {"site": [site], **tables}


class Addendum(models.Model):
    """A numbered change to an issued brief.

    use_changes   climate, states, people cases and weather as they are from now on, each whole
                  where it changes
    """

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="addenda")
    number = models.PositiveSmallIntegerField()
    text = models.TextField()
    site_changes = models.JSONField(default=dict, blank=True)
    use_changes: Any = models.JSONField(default=dict, blank=True, db_default=_NO_TABLES)
    issued_at = models.DateTimeField(default=timezone.now)
    issued_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["number"]
        verbose_name_plural = "addenda"
        constraints = [models.UniqueConstraint("brief", "number", name="one_addendum_a_number")]

    def __str__(self) -> str:
        return _ADDENDUM.format(self.number)


@cache
def _lines() -> models.QuerySet[TargetLine, tuple[Any, ...]]:
    """Target lines of whatever brief; built once, and filtered by whoever asks."""
    return TargetLine.objects.values_list("pk", "cells", "addendum__number")


class TargetLine(models.Model):
    """One measurable line, as typed; those of an addendum follow the brief's own."""

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="target_lines")
    addendum = models.ForeignKey(
        Addendum, null=True, blank=True, on_delete=models.CASCADE, related_name="target_lines"
    )
    position = models.PositiveSmallIntegerField(default=0)
    cells: Any = models.JSONField(default=dict)

    class Meta:
        ordering = [F("addendum__number").asc(nulls_first=True), "position", "pk"]

    def __str__(self) -> str:
        return f"{self.cells.get('id', '')} {self.cells.get('what', '')}".strip()


class HandInItem(models.Model):
    """One thing that a package must hold.

    drawing, state   what a sheet must show, where the brief says so
    """

    class Kind(models.TextChoices):
        SHEET = "sheet", "Sheet"
        SCHEDULE = "schedule", "Schedule"
        STATEMENT = "statement", "Statement"

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="hand_in")
    kind = models.CharField(max_length=10, choices=Kind)
    code = models.CharField(
        max_length=20, help_text="Number of the sheet, or name of the schedule: 02, windows."
    )
    title = models.CharField(max_length=120, blank=True)
    drawing = models.CharField(max_length=12, choices=DrawingKind, blank=True, db_default="")
    state = models.CharField(max_length=40, blank=True, db_default="")

    class Meta:
        ordering = ["kind", "code"]
        constraints = [models.UniqueConstraint("brief", "kind", "code", name="asked_once")]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.code} {self.title}".strip()

    @property
    def shows(self) -> str:
        """What a sheet must show, in words: Plan, packed."""
        return ", ".join(part for part in (self.get_drawing_display(), self.state) if part)
