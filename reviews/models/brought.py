"""Files that were brought into a package: what each proposes, and what became of it."""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import Any

from django.db import models
from django.utils import timezone

from reviews.exchange.proposed import Proposal
from reviews.models.packages import Package
from reviews.models.people import Person

OPEN_FOR = timedelta(days=7)
"""So long a proposal waits for somebody to say what is taken over; then its file is cleared."""

_NOTHING = models.Value({}, models.JSONField())
_NONE = models.Value([], models.JSONField())


class BroughtFileQuerySet(models.QuerySet["BroughtFile"]):
    """Files brought in, in words."""

    def open(self) -> BroughtFileQuerySet:
        """Those that nobody has said anything of yet."""
        return self.filter(ended_at=None)


class BroughtFile(models.Model):
    """A file that was read for a package, or an earlier revision that rows are taken from.

    key       by which the origin of rows names it, here and nowhere else
    name      as the sender's device called it
    kind      as reviews.exchange.kinds names it; “revision” of an earlier revision
    file      what was sent, while its questions may be answered otherwise; shown to nobody
    digest    SHA-256 of what was sent; blank where nothing was
    answers   to the reader's questions, by name
    told      what it proposes
    ended_at  when it was taken over or set aside
    changes   keys of the changes that taking it over made; none where it was set aside
    """

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="brought_files")
    by = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    key = models.UUIDField(default=uuid.uuid4, unique=True)
    name = models.CharField(max_length=255)
    kind = models.CharField(max_length=20)
    file = models.FileField(upload_to="files-in", blank=True)
    digest = models.CharField(max_length=64, blank=True)
    answers: Any = models.JSONField(default=dict, blank=True, db_default=_NOTHING)
    told: Any = models.JSONField()
    at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)
    changes: Any = models.JSONField(default=list, blank=True, db_default=_NONE)

    objects = BroughtFileQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["package", "ended_at"])]

    def __str__(self) -> str:
        return self.name

    @property
    def proposal(self) -> Proposal:
        """What it proposes."""
        return Proposal.of_json(self.told)
