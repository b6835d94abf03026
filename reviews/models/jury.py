"""What a juror sets on a jury sheet besides comments."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from reviews.models.crits import Criterion, JurySheet
from reviews.models.people import Person
from reviews.models.revisions import Revision


class LevelGiven(models.Model):
    """One criterion's level by one juror, or that it isn't theirs to judge.

    revision   what was shown when it was set; None where nothing was issued
    """

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="levels")
    criterion = models.ForeignKey(Criterion, on_delete=models.PROTECT, related_name="levels")
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    is_not_mine = models.BooleanField("not mine to judge", default=False)
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="levels"
    )
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["criterion__position"]
        constraints = [
            models.UniqueConstraint("jury_sheet", "criterion", name="one_level_a_criterion"),
            models.CheckConstraint(
                condition=models.Q(level=None) | models.Q(level__range=(1, 5), is_not_mine=False),
                name="level_is_1_to_5_or_not_mine",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.criterion.code} {'not mine' if self.is_not_mine else self.level}"


class Correction(models.Model):
    """A level put right after release: dated, with its reason; the former level stays here.

    was, now   1 to 5, the words of not mine to judge, or blank for none
    """

    given = models.ForeignKey(LevelGiven, on_delete=models.PROTECT, related_name="corrections")
    was = models.CharField(max_length=24, blank=True)
    now = models.CharField(max_length=24)
    reason = models.TextField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.given.criterion.code}: {self.was or 'no level'} → {self.now}"
