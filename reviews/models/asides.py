"""Checks that a leader set aside: who, when and why, and who took them back."""

from __future__ import annotations

from datetime import datetime

from django.db import models
from django.db.models import Q
from django.utils import timezone

from reviews.models.people import Person
from reviews.models.studios import Scheme, Studio
from reviews.moments import day_words


class SetAsideQuerySet(models.QuerySet["SetAside"]):
    """What is set aside, in words."""

    def standing(self) -> SetAsideQuerySet:
        """What isn't taken back."""
        return self.filter(taken_back_at=None)


class SetAside(models.Model):
    """One target or check that counts for nothing while it is set aside; never deleted.

    key      the target's reference, T01, or the check's slug for every target that it answers
    scheme   the one scheme it is set aside for; None is the whole studio
    """

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="set_asides")
    scheme = models.ForeignKey(
        Scheme, null=True, blank=True, on_delete=models.CASCADE, related_name="set_asides"
    )
    key = models.CharField(max_length=40)
    reason = models.TextField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    taken_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    taken_back_at = models.DateTimeField(null=True, blank=True)

    objects = SetAsideQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["studio", "key"],
                condition=Q(scheme=None, taken_back_at=None),
                name="set_aside_once_a_studio",
            ),
            models.UniqueConstraint(
                fields=["scheme", "key"],
                condition=Q(taken_back_at=None),
                name="set_aside_once_a_scheme",
            ),
        ]

    def __str__(self) -> str:
        return aside_words(str(self.by), self.at, self.reason)


def aside_words(by: str, at: datetime, reason: str) -> str:
    """Say by whom and when something was set aside, and why."""
    return f"set aside by {by}, {day_words(timezone.localtime(at))}: {reason}"
