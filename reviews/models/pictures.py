"""Pictures of sheets: stored plain, whole and once, whoever hangs them."""

from __future__ import annotations

import logging
from typing import Any

from django.db import models
from django.utils import timezone

from reviews.models.studios import Studio
from reviews.tiles import WORTH_PX

_NOTHING = models.Value({}, models.JSONField())

LOG = logging.getLogger(__name__)


class SheetFileQuerySet(models.QuerySet["SheetFile"]):
    """Stored pictures, in words."""

    def of(self, studio: Studio) -> SheetFileQuerySet:
        """Those hung in a studio, in preparation or as issued, or of its desk crits; each once."""
        # each by a way of its own: at once they would join every sheet with every other of its file
        hung = self.filter(sheets__package__scheme__studio=studio).values("pk")
        issued = self.filter(issued__revision__scheme__studio=studio).values("pk")
        overlays = self.filter(desk_crits__scheme__studio=studio).values("pk")
        ways = models.Q(pk__in=hung) | models.Q(pk__in=issued) | models.Q(pk__in=overlays)
        return self.filter(ways)

    def unused(self) -> SheetFileQuerySet:
        """Those that nothing refers to, of whatever kind it is."""
        names = [relation.name for relation in self.model._meta.related_objects]
        return self.filter(**dict.fromkeys(names))

    def lacking(self) -> SheetFileQuerySet:
        """Those of which something that pages show isn't made yet."""
        is_large = models.Q(width__gt=WORTH_PX) | models.Q(height__gt=WORTH_PX)
        return self.filter(models.Q(small="") | models.Q(is_large, tiles=""))

    def names(self) -> set[str]:
        """The names of all their files."""
        rows = self.values_list("image", "preview", "small", "tiles")
        return {name for row in rows for name in row if name}


class SheetFile(models.Model):
    """A sheet's picture as verified and stored afresh; never changed.

    small   for telephones; one of an earlier version has none until the background makes it
    tiles   all its tiles in one file; none until the background makes them, or where it is small
    bytes   of all its files together
    """

    sha256 = models.CharField(max_length=64, unique=True)
    image = models.FileField(upload_to="sheets")
    preview = models.FileField(upload_to="previews")
    small = models.FileField(upload_to="small", blank=True, default="", db_default="")
    tiles = models.FileField(upload_to="tiles", blank=True, default="", db_default="")
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
        files = (self.image, self.preview, self.small, self.tiles)
        return not all(each.storage.exists(str(each)) for each in files if each)

    @property
    def lack(self) -> str:
        """What is wrong with its files, in words, as far as the store can tell."""
        try:
            return "The file is missing. Hang the same picture again." if self.is_missing else ""
        except OSError as error:
            LOG.error("Looking for a picture: %s", error)
            return "The store doesn’t answer: whether the file is there isn’t known."


class OriginalQuerySet(models.QuerySet["Original"]):
    """Originals, in words."""

    def of(self, studio: Studio) -> OriginalQuerySet:
        """Those whose drawings hang in a studio, in preparation or as issued, each once."""
        hung = self.filter(sheets__package__scheme__studio=studio).values("pk")
        issued = self.filter(issued__revision__scheme__studio=studio).values("pk")
        return self.filter(models.Q(pk__in=hung) | models.Q(pk__in=issued))

    def unused(self) -> OriginalQuerySet:
        """Those that no sheet was made from."""
        return self.filter(sheets=None, issued=None)

    def names(self) -> set[str]:
        """The names of their files."""
        return set(self.values_list("file", flat=True))


class Original(models.Model):
    """A file as it was sent, byte by byte: given back to its scheme's own people, never shown.

    sha256   of its bytes: the receipt number of what was sent
    """

    sha256 = models.CharField(max_length=64, unique=True)
    file = models.FileField(upload_to="originals")
    bytes = models.PositiveBigIntegerField()
    kept_at = models.DateTimeField(default=timezone.now)

    objects = OriginalQuerySet.as_manager()

    def __str__(self) -> str:
        return self.sha256[:12]


class DrawingKind(models.TextChoices):
    """What a sheet shows, as the trade calls it."""

    TITLE = "title", "Title and statement"
    SITE = "site", "Site"
    PLAN = "plan", "Plan"
    SECTION = "section", "Section"
    ELEVATION = "elevation", "Elevation"
    DETAIL = "detail", "Detail"
    VIEW = "view", "View"
    FURNITURE = "furniture", "Furniture and stowage"
    SEQUENCE = "sequence", "Pieces and their order"
    SCHEDULE = "schedule", "Schedules"
    DIAGRAM = "diagram", "Diagram"
    MODEL = "model", "Model"


class TitleBlockFields(models.Model):
    """What is said of a sheet, in preparation and as issued alike.

    state          mark of the brief's state that it shows; blank where it shows none alone
    width_mm       width of the paper that the picture is of; None where nobody said
    original       what was sent; one hung by an earlier version has none
    original_name  as the sender's device called it
    page           its page there, from 1, where there are several
    lettering      what was read from its letters: `reviews.reading.sheet_lettering`
    """

    number = models.CharField(max_length=8, help_text="02")
    title = models.CharField(max_length=120, help_text="Plan")
    scale = models.CharField(max_length=24, blank=True, help_text="1:50")
    drawn_by = models.CharField(max_length=120, blank=True)
    checked_by = models.CharField(max_length=120, blank=True)
    kind = models.CharField(max_length=12, choices=DrawingKind, blank=True, db_default="")
    state = models.CharField(max_length=40, blank=True, db_default="")
    width_mm = models.FloatField(null=True, blank=True)
    original_name = models.CharField(max_length=255, blank=True, db_default="")
    page = models.PositiveIntegerField(null=True, blank=True)
    lettering: Any = models.JSONField(default=dict, blank=True, db_default=_NOTHING)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class PictureChange(models.Model):
    """Where one picture differs from another, found once and kept.

    found   what `reviews.picture_changes` says of the two; none while it isn't looked for yet
    """

    former = models.ForeignKey(SheetFile, on_delete=models.CASCADE, related_name="+")
    present = models.ForeignKey(SheetFile, on_delete=models.CASCADE, related_name="+")
    found: Any = models.JSONField(default=dict)
    found_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint("former", "present", name="two_pictures_once")]

    def __str__(self) -> str:
        return f"{self.former} → {self.present}"
