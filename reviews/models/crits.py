"""Crits: the criteria sheet, who sits, in what order schemes are seen, and the jury sheets."""

from __future__ import annotations

import secrets
from datetime import date, datetime, time, timedelta

from django.db import models
from django.utils import timezone

from reviews.models.people import Person
from reviews.models.revisions import Revision
from reviews.models.studios import Scheme, Studio

LEVELS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")
"""The five levels, 1 to 5: the words in which designers speak of the state of a drawing."""

_CODE_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


def new_code() -> str:
    """Return a fresh secret for a personal link: 12 letters that can't be misread, 59 bits."""
    return "".join(secrets.choice(_CODE_LETTERS) for _ in range(12))


class Crit(models.Model):
    """A day on which schemes are presented."""

    class Kind(models.TextChoices):
        INTERIM = "interim", "Interim crit"
        FINAL = "final", "Final crit"
        RECRIT = "re-crit", "Re-crit"

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="crits")
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.FINAL)
    day = models.DateField()
    pens_down = models.DateTimeField(
        help_text="The hour after which nothing more is drawn; a later issue is marked late."
    )
    names_jurors = models.BooleanField(
        "students see who wrote a comment", default=True, help_text="Announce it beforehand."
    )
    drawn_seed = models.PositiveIntegerField(
        "lot by which the order was drawn", null=True, blank=True,
        help_text="The same lot and the same schemes give the same order again.",
    )  # fmt: skip
    released_at = models.DateTimeField(null=True, blank=True)
    released_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    issuing_closed_at = models.DateTimeField(null=True, blank=True)
    issuing_closed_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    release_words = models.TextField(
        "the leader's words", blank=True, help_text="Students read these first."
    )

    class Meta:
        ordering = ["day", "pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.day:%-d %b %Y}"

    def takes_issues(self, day: date) -> bool:
        """Whether what is issued on a day is for it: not over, released or closed to issues."""
        return self.day >= day and not (self.is_released or self.issuing_closed_at)

    @property
    def is_released(self) -> bool:
        """Whether students can read levels and comments."""
        return self.released_at is not None

    @property
    def is_filed(self) -> bool:
        """Whether a juror has begun: the criteria sheet is then fixed."""
        return JurySheet.objects.filter(seat__crit=self).exists()


class Criterion(models.Model):
    """One line of a criteria sheet: what is judged, how much it counts, what a level looks like."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="criteria")
    position = models.PositiveSmallIntegerField(default=0)
    code = models.CharField(max_length=6, help_text="F1")
    name = models.CharField(max_length=80)
    weight = models.DecimalField(max_digits=5, decimal_places=2)
    level_1 = models.TextField("not shown", blank=True)
    level_2 = models.TextField("roughed out", blank=True)
    level_3 = models.TextField("worked through", blank=True)
    level_4 = models.TextField("resolved", blank=True)
    level_5 = models.TextField("carried to the detail", blank=True)
    evidence = models.CharField(
        max_length=240, blank=True, help_text="References of the targets that inform it: T01 T03."
    )

    class Meta:
        ordering = ["position", "pk"]
        verbose_name_plural = "criteria"
        constraints = [models.UniqueConstraint("crit", "code", name="one_criterion_a_code")]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    @property
    def descriptors(self) -> list[tuple[int, str, str]]:
        """Number, word and descriptor of each level."""
        return [(n, word, getattr(self, f"level_{n}")) for n, word in enumerate(LEVELS, start=1)]

    @property
    def evidence_refs(self) -> list[str]:
        """The references of the targets that inform it."""
        return self.evidence.replace(",", " ").split()


class Seat(models.Model):
    """A juror's place at one crit, entered by a personal link and no account."""

    class Kind(models.TextChoices):
        VISITING = "visiting", "Visiting juror"
        IN_HOUSE = "in-house", "In-house juror"
        INDUSTRY = "industry", "Industry juror"

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="seats")
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.VISITING)
    email = models.EmailField(blank=True)
    room = models.CharField(
        max_length=12, blank=True, help_text="Sees this room's schemes and those of no room."
    )
    code = models.CharField(max_length=24, unique=True, default=new_code)

    class Meta:
        ordering = ["room", "name"]
        constraints = [models.UniqueConstraint("crit", "name", name="one_seat_a_name")]

    def __str__(self) -> str:
        return self.name

    @property
    def link_ends_at(self) -> datetime:
        """When the personal link stops: 48 hours after the day."""
        return timezone.make_aware(datetime.combine(self.crit.day, time.max)) + timedelta(hours=48)


class Slot(models.Model):
    """A scheme's time in the running order."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="slots")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="slots")
    position = models.PositiveSmallIntegerField()
    room = models.CharField(max_length=12, blank=True, help_text="Blank: seen by all jurors.")
    starts_at = models.TimeField(null=True, blank=True)
    state = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering = ["starts_at", "position", "pk"]
        constraints = [models.UniqueConstraint("crit", "scheme", name="one_slot_a_scheme")]

    def __str__(self) -> str:
        return f"{self.position}. {self.scheme}"


class JurySheet(models.Model):
    """One juror's page for one scheme."""

    seat = models.ForeignKey(Seat, on_delete=models.PROTECT, related_name="sheets")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="jury_sheets")
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="jury_sheets"
    )
    impression = models.PositiveSmallIntegerField(null=True, blank=True)
    impression_version = models.PositiveIntegerField(default=0)
    impression_kept_at = models.DateTimeField(null=True, blank=True)
    locked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["scheme__number", "seat__name"]
        constraints = [
            models.UniqueConstraint("seat", "scheme", name="one_sheet_a_juror_and_scheme"),
            models.CheckConstraint(
                condition=models.Q(impression=None) | models.Q(impression__range=(1, 5)),
                name="impression_is_a_level",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.seat} on {self.scheme}"

    @property
    def is_locked(self) -> bool:
        """Whether the juror has fixed it."""
        return self.locked_at is not None


class FormerSheet(models.Model):
    """A jury sheet as it was locked, kept when the leader opens it again."""

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="formers")
    contents = models.JSONField()
    locked_at = models.DateTimeField()
    reopened_at = models.DateTimeField(default=timezone.now)
    reopened_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    reason = models.TextField()

    class Meta:
        ordering = ["reopened_at"]

    def __str__(self) -> str:
        return f"{self.jury_sheet}, locked {self.locked_at:%H:%M}"


class Comment(models.Model):
    """A juror's remark: kind, place on a sheet, words."""

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
    sheet_number = models.CharField(max_length=8, blank=True)
    zone = models.CharField(max_length=2, blank=True)
    criterion = models.ForeignKey(
        Criterion, null=True, blank=True, on_delete=models.SET_NULL, related_name="comments"
    )
    words = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    begun_at = models.DateTimeField(default=timezone.now)
    kept_at = models.DateTimeField(default=timezone.now)
    removed_at = models.DateTimeField(null=True, blank=True)
    held_at = models.DateTimeField(null=True, blank=True)
    held_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    held_reason = models.TextField(blank=True)

    class Meta:
        ordering = ["begun_at", "pk"]

    def __str__(self) -> str:
        return f"{self.kind or 'Stub'} {self.place}".strip()

    @property
    def place(self) -> str:
        """Sheet and zone, as it is said: 02·C4."""
        return "·".join(part for part in (self.sheet_number, self.zone) if part)

    @property
    def is_stub(self) -> bool:
        """Whether it is begun and not yet worded."""
        return not self.words.strip()
