"""Jury sheets: what each juror sets and says of one scheme."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from typing import Any

from django.db import models
from django.db.models import BooleanField, Exists, ExpressionWrapper, F, Q
from django.utils import timezone

from reviews.models.crits import Crit, Criterion
from reviews.models.people import Person
from reviews.models.revisions import IssuedSheet, Revision
from reviews.models.seats import Interest, Seat
from reviews.models.studios import Scheme
from reviews.places import Point
from reviews.strokes import Strokes, strokes_kept

_KEPT = Q(removed_at=None)
_SAYS_SOMETHING = ~Q(kind="", words="", strokes=[])
_SENT = Q(sent_at__isnull=False)

NEVER_LOCKED = Q(locked_at=None, formers=None)
"""Sheets that no more than their juror has ever read."""


class JurySheetQuerySet(models.QuerySet["JurySheet"]):
    """Jury sheets, in words: which are read, and which of these count."""

    def of(self, crit_id: int, scheme_id: int) -> JurySheetQuerySet:
        """Those of a crit on one scheme."""
        return self.filter(seat__crit_id=crit_id, scheme_id=scheme_id)

    def on(self, scheme_id: int) -> JurySheet | None:
        """Of one juror's, the one on a scheme, where it is begun."""
        return next(iter(self.filter(scheme=scheme_id).order_by()), None)

    def locked(self) -> JurySheetQuerySet:
        """Those that their juror has fixed."""
        return self.filter(locked_at__isnull=False)

    def read(self) -> JurySheetQuerySet:
        """Those whose comments are read: locked, and not of a juror who stepped aside."""
        return self.locked().filter(~Exists(Interest.objects.beside_a_sheet().away()))

    def open_to_jurors(self) -> JurySheetQuerySet:
        """Those begun and not locked, of jurors who haven't stepped aside."""
        return self.filter(~Exists(Interest.objects.beside_a_sheet().away()), locked_at=None)

    def counting(self) -> JurySheetQuerySet:
        """Those whose levels count: read, of a juror without an interest who saw the whole."""
        return self.read().filter(_whose_levels_count())

    def with_levels(self) -> JurySheetQuerySet:
        """The same, each with its levels, what of them changed, and on what they were set."""
        levels = LevelGiven.objects.select_related("revision", "changed")
        return self.prefetch_related(models.Prefetch("levels", levels))

    def telling_which_count(self) -> JurySheetQuerySet:
        """The same, each with whether its levels count once it is read."""
        counts = ExpressionWrapper(_whose_levels_count(), output_field=BooleanField())
        return self.annotate(counts=counts)


def _whose_levels_count() -> Q:
    return Q(saw_in_part_at=None) & ~Q(Exists(Interest.objects.beside_a_sheet()))


class JurySheet(models.Model):
    """One juror's page for one scheme.

    revision              what it is of: what was shown at its first entry, until the juror takes
                          up a newer one; None where nothing was issued
    impression_revision   what was shown when the impression was set
    impression_set_at     when the juror set it, where it had to wait on the device
    saw_in_part_at        the juror came late or left: comments count, levels don't
    typed_by              who typed it in from paper
    """

    seat = models.ForeignKey(Seat, on_delete=models.PROTECT, related_name="sheets")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="jury_sheets")
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="jury_sheets"
    )
    impression = models.PositiveSmallIntegerField(null=True, blank=True)
    impression_revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    impression_version = models.PositiveIntegerField(default=0)
    impression_kept_at = models.DateTimeField(null=True, blank=True)
    impression_set_at = models.DateTimeField(null=True, blank=True)
    locked_at = models.DateTimeField(null=True, blank=True)
    saw_in_part_at = models.DateTimeField(null=True, blank=True)
    typed_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = JurySheetQuerySet.as_manager()

    class Meta:
        ordering = ["scheme__number", "seat__name"]
        constraints = [
            models.UniqueConstraint("seat", "scheme", name="one_sheet_a_juror_and_scheme"),
            models.CheckConstraint(
                condition=Q(impression=None) | Q(impression__range=(1, 5)),
                name="impression_is_a_level",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.seat} on {self.scheme}"

    @property
    def is_locked(self) -> bool:
        """Whether the juror has fixed it."""
        return self.locked_at is not None

    @property
    def is_in_part(self) -> bool:
        """Whether its juror saw no more than a part: comments count, levels don't."""
        return self.saw_in_part_at is not None

    def given_for(self, criterion: Criterion) -> LevelGiven | None:
        """What it gives a criterion, where anything is set."""
        return next((each for each in self.levels.all() if each.criterion_id == criterion.pk), None)


class FormerSheet(models.Model):
    """A jury sheet as it was locked, kept when the leader opens it again."""

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="formers")
    contents = models.JSONField()
    locked_at = models.DateTimeField()
    reopened_at = models.DateTimeField(default=timezone.now)
    reopened_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    reason = models.TextField()

    class Meta:
        ordering = ["pk"]  # by the clock they would change places where it is set back

    def __str__(self) -> str:
        return f"{self.jury_sheet}, locked {self.locked_at:%H:%M}"


class LevelGiven(models.Model):
    """One criterion's level by one juror, or that it isn't theirs to judge.

    revision   what was shown when it was set; None where nothing was issued
    set_at     when the juror set it, where it had to wait on the device
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
    set_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["criterion__position"]
        constraints = [
            models.UniqueConstraint("jury_sheet", "criterion", name="one_level_a_criterion"),
            models.CheckConstraint(
                condition=Q(level=None) | Q(level__range=(1, 5), is_not_mine=False),
                name="level_is_1_to_5_or_not_mine",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.criterion.code} {'not mine' if self.is_not_mine else self.level}"


class Correction(models.Model):
    """A level put right after release: dated, with its reason; the former level stays here.

    was, now   1 to 5, the words of not mine to judge, or blank for none
    appeal     the appeal that it answers, where there was one
    """

    given = models.ForeignKey(LevelGiven, on_delete=models.PROTECT, related_name="corrections")
    was = models.CharField(max_length=24, blank=True)
    now = models.CharField(max_length=24)
    reason = models.TextField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    appeal = models.ForeignKey(
        "Appeal", null=True, blank=True, on_delete=models.PROTECT, related_name="corrections"
    )

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.given.criterion.code}: {self.was or 'no level'} → {self.now}"


class CommentQuerySet(models.QuerySet["Comment"]):
    """Comments, in words: which stand, and which of these students read."""

    def kept(self) -> CommentQuerySet:
        """Those that their juror hasn't left off."""
        return self.filter(_KEPT)

    def standing(self) -> CommentQuerySet:
        """Those that say something, on a sheet that is read."""
        return self.said_on(JurySheet.objects.read())

    def said_on(self, sheets: Collection[JurySheet]) -> CommentQuerySet:
        """Those kept, with a kind, words or strokes, on some sheets."""
        return self.filter(_KEPT & _SAYS_SOMETHING, jury_sheet__in=sheets)

    def without_those_aside(self) -> CommentQuerySet:
        """Those on sheets of jurors who haven't stepped aside, locked or not."""
        sheets = JurySheet.objects.all()
        return self.filter(jury_sheet__in=sheets.read() | sheets.open_to_jurors())

    def with_places(self) -> CommentQuerySet:
        """The same, each with the sheet and the revision that it was made on."""
        return self.select_related("issued_sheet", "revision")

    def not_held(self) -> CommentQuerySet:
        """Those that no leader holds back."""
        return self.filter(held_at=None)

    def of(self, crit: Crit, scheme: Scheme) -> CommentQuerySet:
        """Those of a crit on one scheme."""
        return self.filter(jury_sheet__seat__crit=crit, jury_sheet__scheme=scheme)

    def sent(self) -> CommentQuerySet:
        """Those that students were given in the evening, whatever became of their sheet since."""
        return self.filter(_SENT)

    def open_of(self, crit: Crit, scheme: Scheme, sheets: Collection[JurySheet]) -> CommentQuerySet:
        """Those on a scheme of which its students know: sent, or standing at the release.

        What is held since is among them, as a trace.

        sheets   the scheme's own at the crit that are read
        """
        stood = _KEPT & _SAYS_SOMETHING & Q(jury_sheet__in=sheets) & _not_held_at(crit.released_at)
        return self.of(crit, scheme).filter(stood | _SENT)

    def released(self) -> CommentQuerySet:
        """Of released crits, those sent before, and those that stood and were not held then."""
        crit = "jury_sheet__seat__crit__released_at"
        stood = self.standing().not_held_at(F(crit))
        return (stood | self.sent()).filter(**{f"{crit}__isnull": False})

    def not_held_at(self, moment: datetime | F | None) -> CommentQuerySet:
        """Those that nobody held back before a moment; None for those that nobody does."""
        return self.filter(_not_held_at(moment))


def _not_held_at(moment: datetime | F | None) -> Q:
    not_held = Q(held_at=None)
    return not_held if moment is None else not_held | Q(held_at__gte=moment)


class Comment(models.Model):
    """A juror's remark: kind, place on a sheet, words.

    revision       what was shown when it was begun, or last given a place
    issued_sheet   the very sheet, of that revision, that it was made on
    x, y           the point on it, as parts of its width and height from the upper left; or none
    strokes        what the juror drew over it, as `reviews.strokes` reads it
    set_at         when the juror last changed it, where it had to wait on the device
    decided_at     when the leader read a hazard and let it go out
    sent_at        when its students were given it, before the release; it changes no more
    """

    class Kind(models.TextChoices):
        KEEP = "Keep", "Keep"
        REWORK = "Rework", "Rework"
        PROVE = "Prove", "Prove"
        DRAW = "Draw", "Draw"
        REFER = "Refer", "Refer"
        ASK = "Ask", "Ask"
        HAZARD = "Hazard", "Hazard"

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="comments")
    key = models.UUIDField(unique=True, help_text="Made by the device, so that a resend is one.")
    kind = models.CharField(max_length=8, choices=Kind, blank=True)
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="comments"
    )
    issued_sheet = models.ForeignKey(
        IssuedSheet, null=True, blank=True, on_delete=models.PROTECT, related_name="comments"
    )
    zone = models.CharField(max_length=2, blank=True)
    x = models.FloatField(null=True, blank=True)
    y = models.FloatField(null=True, blank=True)
    strokes: Any = models.JSONField(
        default=list, blank=True, db_default=models.Value([], models.JSONField())
    )
    criterion = models.ForeignKey(
        Criterion, null=True, blank=True, on_delete=models.SET_NULL, related_name="comments"
    )
    words = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    begun_at = models.DateTimeField(default=timezone.now)
    kept_at = models.DateTimeField(default=timezone.now)
    set_at = models.DateTimeField(null=True, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    sent_at = models.DateTimeField(null=True, blank=True)
    held_at = models.DateTimeField(null=True, blank=True)
    held_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    held_reason = models.TextField(blank=True)

    objects = CommentQuerySet.as_manager()

    class Meta:
        ordering = ["begun_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(zone="") | Q(issued_sheet__isnull=False), name="a_zone_is_of_a_sheet"
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind or 'Stub'} {self.place}".strip()

    @property
    def place(self) -> str:
        """Sheet and zone, as it is said: 02·C4."""
        number = self.issued_sheet.number if self.issued_sheet else ""
        return "·".join(part for part in (number, self.zone) if part)

    @property
    def point(self) -> Point | None:
        """The point on its sheet, where one was tapped."""
        return None if self.x is None or self.y is None else Point(self.x, self.y)

    @property
    def drawn(self) -> Strokes:
        """What its juror drew over the sheet."""
        return strokes_kept(self.strokes)

    @property
    def is_stub(self) -> bool:
        """Whether it is begun and not yet worded."""
        return not self.words.strip()
