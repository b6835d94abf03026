"""What students keep of a scheme to show elsewhere: sheets chosen, captions, credits."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

from reviews.models.jury import Comment
from reviews.models.people import Person
from reviews.models.revisions import IssuedSheet, Revision
from reviews.models.studios import Scheme


class Portfolio(models.Model):
    """One scheme's portfolio, made by its students.

    revision   whose schedules fill the project data; None: the last issued
    credits    who did what, a line each, as its students word it
    unnamed    students of the scheme who ask not to be named
    """

    scheme = models.OneToOneField(Scheme, on_delete=models.CASCADE, related_name="portfolio")
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    title = models.CharField(max_length=120, blank=True)
    words = models.TextField(blank=True)
    credits = models.TextField(blank=True)
    unnamed = models.ManyToManyField(Person, related_name="+", blank=True)
    version = models.PositiveIntegerField(default=1)
    changed_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"Portfolio of {self.scheme}"


class PortfolioItem(models.Model):
    """One page of a portfolio.

    SHEET     an issued sheet with a caption
    CHANGED   what changed because of the crit: a sheet before, the sheet after, and the remark
    """

    class Kind(models.TextChoices):
        SHEET = "sheet", "A sheet"
        CHANGED = "changed", "What changed because of the crit"

    portfolio = models.ForeignKey(Portfolio, on_delete=models.CASCADE, related_name="items")
    position = models.PositiveSmallIntegerField(default=0)
    kind = models.CharField(max_length=8, choices=Kind)
    issued_sheet = models.ForeignKey(IssuedSheet, on_delete=models.PROTECT, related_name="+")
    before = models.ForeignKey(
        IssuedSheet, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    comment = models.ForeignKey(
        Comment, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    caption = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.issued_sheet}"
