"""What a juror sets on a jury sheet besides comments."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from reviews.models.crits import Criterion, JurySheet, Seat
from reviews.models.studios import Scheme


class LevelGiven(models.Model):
    """One criterion's level by one juror, or that it isn't theirs to judge."""

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="levels")
    criterion = models.ForeignKey(Criterion, on_delete=models.PROTECT, related_name="levels")
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    is_not_mine = models.BooleanField("not mine to judge", default=False)
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


class StepAside(models.Model):
    """A juror who leaves the room for a scheme. The fact is kept; words only if they write some."""

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="steps_aside")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="steps_aside")
    words = models.CharField(max_length=240, blank=True)
    declared_at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [models.UniqueConstraint("seat", "scheme", name="steps_aside_once")]

    def __str__(self) -> str:
        return f"{self.seat} steps aside for {self.scheme}"
