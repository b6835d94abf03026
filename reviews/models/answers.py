"""What follows a release: who opened the results, and what students answer to the comments."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from reviews.models.crits import Crit
from reviews.models.jury import Comment
from reviews.models.people import Person


class Answer(models.Model):
    """The one answer to a released comment."""

    class Kind(models.TextChoices):
        TAKEN_UP = "Taken up", "Taken up"
        PART = "Part taken up", "Part taken up"
        NOT_TAKEN = "Not taken, with reason", "Not taken, with reason"
        CARRIED = "Carried forward", "Carried forward"
        TALK = "Talk first", "Talk first"

    comment = models.OneToOneField(Comment, on_delete=models.PROTECT, related_name="answer")
    kind = models.CharField(max_length=24, choices=Kind)
    words = models.TextField(blank=True)
    place_now = models.CharField(
        max_length=12, blank=True, help_text="Sheet and zone where the change shows: 02 B4."
    )
    version = models.PositiveIntegerField(default=1)
    answered_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    answered_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"{self.kind}: {self.comment}"


class Opening(models.Model):
    """That somebody first opened what a crit released."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="openings")
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="openings")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [models.UniqueConstraint("crit", "person", name="opened_first_once")]

    def __str__(self) -> str:
        return f"{self.person} opened {self.crit}"
