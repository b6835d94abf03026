"""What whoever runs the site looks at: how pages went, and when an archive was made. Of nobody."""

from __future__ import annotations

from django.db import models
from django.utils import timezone


class Tally(models.Model):
    """How often something was so of a view within an hour.

    what      a class of time that answers took (reviews.watch), or the class of what stopped them
    most_ms   the longest of them
    """

    hour = models.DateTimeField()
    view = models.CharField(max_length=60)
    what = models.CharField(max_length=60)
    times = models.PositiveIntegerField(default=0)
    most_ms = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "tallies"
        constraints = [models.UniqueConstraint("hour", "view", "what", name="one_tally")]

    def __str__(self) -> str:
        return f"{self.view}, {self.what}: {self.times}"


class Archived(models.Model):
    """That an archive of this site was written and read again whole."""

    at = models.DateTimeField(default=timezone.now)
    bytes = models.PositiveBigIntegerField()
    rows = models.PositiveBigIntegerField()
    files = models.PositiveIntegerField()
    missing = models.PositiveIntegerField("files that could not be read")

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}, {self.rows} rows"
