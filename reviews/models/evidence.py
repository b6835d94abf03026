"""Evidence for visitors: standards that criteria meet, and books frozen as they are made."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.utils import timezone

from reviews.models.people import Person
from reviews.models.studios import Scheme, Studio


class MappedStandard(models.Model):
    """A line of a published standard, and which criteria of a studio's crits meet it.

    body, edition   whose it is, and which edition was read: NAAB, 2020
    criteria        codes, with a space between: F4 K1
    """

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="standards")
    position = models.PositiveSmallIntegerField(default=0)
    body = models.CharField(max_length=60)
    edition = models.CharField(max_length=40)
    code = models.CharField(max_length=24, blank=True)
    title = models.CharField(max_length=160)
    criteria = models.CharField(max_length=120, blank=True)
    note = models.CharField(max_length=240, blank=True)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return f"{self.body} {self.edition}, {self.code or self.title}"


class EvidenceBook(models.Model):
    """A book of evidence on some schemes of a studio, frozen as it was made.

    choice        how its schemes were chosen
    lot           seed of a random draw: the same seed and list give the same schemes
    asked         how many were asked for; with bands, of each
    drawn_from    what was drawn from, and by which figures, as it stood then
    contents      all that its pages show, as it stood then
    receipt       SHA-256 of contents.json in the file, which names every other with its own
    done, total   schemes written, and to write; failed says why it stopped, where it did
    """

    class Choice(models.TextChoices):
        ALL = "all", "Every scheme"
        BANDS = "bands", "Low, middle and high"
        DRAW = "draw", "Drawn by lot from those that passed"
        NAMED = "named", "As named by the visitor"

    studio = models.ForeignKey(Studio, on_delete=models.PROTECT, related_name="evidence_books")
    title = models.CharField(max_length=120)
    is_anonymous = models.BooleanField(default=False)
    choice = models.CharField(max_length=8, choices=Choice)
    lot = models.PositiveIntegerField(null=True, blank=True)
    asked = models.PositiveSmallIntegerField(null=True, blank=True)
    drawn_from: Any = models.JSONField(default=dict)
    schemes = models.ManyToManyField(Scheme, related_name="evidence_books")
    contents: Any = models.JSONField(default=dict)
    file = models.FileField(upload_to="evidence", blank=True)
    pdf = models.FileField(upload_to="evidence", blank=True)
    bytes = models.PositiveBigIntegerField(default=0)
    receipt = models.CharField(max_length=64, blank=True)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    failed = models.CharField(max_length=300, blank=True)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    frozen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-asked_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.title}, {self.studio}"
