"""Pictures that were sent and stand in line: read in turn, and what became of each is told."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

from reviews.models.packages import Package, Sheet
from reviews.models.people import Person

LET_GO_AFTER = timedelta(minutes=2)
"""After so long without an end, the machine that had begun with a picture is stopped (what stops
there beside it is known sooner); so also where it was begun so long after now, for then the clock
was set back."""

TOLD_FOR = timedelta(days=1)


class SentPictureQuerySet(models.QuerySet["SentPicture"]):
    """Sent pictures, in words."""

    def waiting(self) -> SentPictureQuerySet:
        """Those that are here whole and nothing has become of yet, first come first."""
        return self.filter(ended_at=None, received=None)

    def arriving(self) -> SentPictureQuerySet:
        """Those of which a part is still to come."""
        return self.exclude(received=None)

    def taking_room(self) -> SentPictureQuerySet:
        """Those whose bytes are kept, or shall be."""
        return self.filter(ended_at=None)

    def told(self) -> SentPictureQuerySet:
        """Those of which it is known what became."""
        return self.exclude(ended_at=None)

    def shown(self) -> SentPictureQuerySet:
        """Those that wait, and those of which it is known since a day at most."""
        return self.filter(Q(ended_at=None) | Q(ended_at__gt=timezone.now() - TOLD_FOR))

    def begin_next(self) -> SentPicture | None:
        """Take the next of the line; two who ask at once never take the same."""
        now = timezone.now()
        left = Q(begun_at__lt=now - LET_GO_AFTER) | Q(begun_at__gt=now + LET_GO_AFTER)
        free = self.waiting().filter(Q(begun_at=None) | left)
        while sent := free.select_related("package", "by", "sheet").first():
            sent.begun_at = now
            if free.filter(pk=sent.pk).update(begun_at=now):
                return sent
        return None


class SentPicture(models.Model):
    """A file as it was sent to be hung, and then what became of it.

    name       as the sender's device called it
    file       what was sent, until it is read; shown to nobody
    sheet      the sheet whose picture it shall be, then the one on which it hangs
    why        why it wasn't taken, in words
    key        made by the sending device, by which it goes on after the line was lost
    received   bytes of it that have arrived, while it arrives in pieces; None where it is whole
    begun_at   when its reading was begun, or when the last piece of it arrived
    report     of each page of a file of several: what the file calls it, then the number of its
               sheet or why it isn't taken
    """

    package = models.ForeignKey(Package, on_delete=models.CASCADE, related_name="sent_pictures")
    by = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    name = models.CharField(max_length=255)
    file = models.FileField(upload_to="sent", blank=True)
    bytes = models.PositiveBigIntegerField(default=0)
    drawn_by = models.CharField(max_length=120, blank=True)
    is_replacing = models.BooleanField(default=False)
    sheet = models.ForeignKey(
        Sheet, null=True, blank=True, on_delete=models.CASCADE, related_name="+"
    )
    begun_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    why = models.TextField(blank=True)
    key = models.UUIDField(null=True, blank=True, unique=True)
    received = models.PositiveBigIntegerField(null=True, blank=True)
    report: Any = models.JSONField(
        default=list, blank=True, db_default=models.Value([], models.JSONField())
    )

    objects = SentPictureQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["ended_at"])]

    def __str__(self) -> str:
        return self.name

    @property
    def is_waiting(self) -> bool:
        """Whether nothing has become of it yet, though it is here whole."""
        return self.ended_at is None and self.received is None

    @property
    def is_arriving(self) -> bool:
        """Whether a part of it is still to come."""
        return self.received is not None

    @property
    def stem(self) -> str:
        """What the names of its pieces begin with, before a hyphen and where each begins."""
        return f"sent/{self.key.hex}" if self.key else ""

    @property
    def is_kept(self) -> bool:
        """Whether it hangs, all of it or some of its pages."""
        return self.ended_at is not None and not self.why

    @property
    def is_kept_whole(self) -> bool:
        """Whether all of it hangs."""
        return self.is_kept and not self.refused_pages

    @property
    def refused_pages(self) -> list[tuple[int, str]]:
        """The pages that aren't taken, each with why."""
        return [(n, page["why"]) for n, page in enumerate(self.report, 1) if page.get("why")]

    @property
    def numbers(self) -> list[str]:
        """The numbers of its sheets."""
        if self.report:
            return [page["sheet"] for page in self.report if page.get("sheet")]
        return [self.sheet.number] if self.sheet else []

    @property
    def pages_read(self) -> int:
        """How many of its pages are read by now."""
        return sum("sheet" in page or "why" in page for page in self.report)

    @property
    def receipt(self) -> str:
        """The number of its receipt, once it hangs: the beginning of its fingerprint."""
        return str(self.sheet.original or "") if self.is_kept and self.sheet else ""

    @property
    def place(self) -> str:
        """Its place in line, in words."""
        before = type(self).objects.waiting().filter(pk__lt=self.pk).count()
        if not before:
            page = f", page {self.pages_read + 1} of {len(self.report)}" if self.report else ""
            return f"Being read now{page}" if self.begun_at else f"Next in line{page}"
        return f"In line, {before} before it"
