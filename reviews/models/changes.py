"""Every change of what is typed, kept so that the last can be named and undone."""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

from reviews.models.briefs import Brief
from reviews.models.crits import Crit
from reviews.models.packages import Package
from reviews.models.people import Person
from reviews.models.studios import Studio

HOLDERS = ("package", "brief", "studio", "crit")


def _changed(holder: Any) -> Any:
    return models.ForeignKey(
        holder, null=True, blank=True, on_delete=models.CASCADE, related_name="changes"
    )


class Change(models.Model):
    """One change of a schedule, a part of a brief, a studio's people or a crit's jurors."""

    package = _changed(Package)
    brief = _changed(Brief)
    studio = _changed(Studio)
    crit = _changed(Crit)
    schedule = models.CharField(max_length=24)
    what = models.CharField(max_length=120)
    before = models.JSONField()
    after = models.JSONField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    undone_at = models.DateTimeField(null=True, blank=True)
    key = models.UUIDField(
        null=True, blank=True, help_text="Made by the device, so that a resend changes nothing."
    )

    class Meta:
        ordering = ["-pk"]
        indexes = [
            models.Index(fields=["package", "schedule"]),
            models.Index(fields=["brief", "schedule"]),
        ]
        constraints = [
            models.UniqueConstraint("package", "key", name="one_change_a_key"),
            models.CheckConstraint(
                condition=reduce(
                    or_, (Q(**{f"{n}__isnull": n != of for n in HOLDERS}) for of in HOLDERS)
                ),
                name="change_of_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.schedule}: {self.what}"
