"""Pictures of sheets: stored plain, whole and once, whoever hangs them."""

from __future__ import annotations

import logging

from django.db import models
from django.utils import timezone

from reviews.models.studios import Studio

LOG = logging.getLogger(__name__)


class SheetFileQuerySet(models.QuerySet["SheetFile"]):
    """Stored pictures, in words."""

    def of(self, studio: Studio) -> SheetFileQuerySet:
        """Those that hang in a studio, in preparation or as issued, each once."""
        # each by a way of its own: both at once would join every sheet with every other of its file
        hung = self.filter(sheets__package__scheme__studio=studio).values("pk")
        issued = self.filter(issued__revision__scheme__studio=studio).values("pk")
        return self.filter(models.Q(pk__in=hung) | models.Q(pk__in=issued))

    def unused(self) -> SheetFileQuerySet:
        """Those that nothing refers to, of whatever kind it is."""
        names = [relation.name for relation in self.model._meta.related_objects]
        return self.filter(**dict.fromkeys(names))

    def names(self) -> set[str]:
        """The names of all their files."""
        rows = self.values_list("image", "preview", "small")
        return {name for row in rows for name in row if name}


class SheetFile(models.Model):
    """A sheet's picture as verified and stored afresh; never changed.

    small   for telephones; one of an earlier version has none until the background makes it
    bytes   of all its files together
    """

    sha256 = models.CharField(max_length=64, unique=True)
    image = models.FileField(upload_to="sheets")
    preview = models.FileField(upload_to="previews")
    small = models.FileField(upload_to="small", blank=True, default="", db_default="")
    bytes = models.PositiveBigIntegerField()
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    kept_at = models.DateTimeField(default=timezone.now)

    objects = SheetFileQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.sha256[:12]} ({self.width} × {self.height} px)"

    @property
    def is_missing(self) -> bool:
        """Whether a file that it names is gone, as after half a restore."""
        files = (self.image, self.preview, self.small)
        return not all(each.storage.exists(str(each)) for each in files if each)

    @property
    def lack(self) -> str:
        """What is wrong with its files, in words, as far as the store can tell."""
        try:
            return "The file is missing. Hang the same picture again." if self.is_missing else ""
        except OSError as error:
            LOG.error("Looking for a picture: %s", error)
            return "The store doesn’t answer: whether the file is there isn’t known."
