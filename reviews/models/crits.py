"""Crits: the criteria sheet, and the jury sheets with their comments."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Exists, F, Q
from django.utils import timezone

from reviews.models.people import Person
from reviews.models.revisions import IssuedSheet, Revision
from reviews.models.seats import Interest, Seat
from reviews.models.studios import Scheme, Studio

if TYPE_CHECKING:
    from reviews.models.jury import LevelGiven

LEVELS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")
"""The five levels, 1 to 5: the words in which designers speak of the state of a drawing."""


class CritQuerySet(models.QuerySet["Crit"]):
    """Crits, in words."""

    def released(self) -> CritQuerySet:
        """Those whose students can read levels and comments."""
        return self.filter(released_at__isnull=False)

    def to_come(self) -> CritQuerySet:
        """Those that aren't released."""
        return self.filter(released_at=None)

    def hold(self, pk: int) -> Crit:
        """Return a crit, held until the transaction ends.

        Whatever keeps, locks, opens, corrects, releases or calls back holds its crit before any
        row of it, so that no two of them cross.
        """
        return self.select_for_update().get(pk=pk)


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
    takes_severity_out = models.BooleanField(
        "severity is taken out of the levels", default=False, help_text="Where the rule allows."
    )
    severity_chosen_at = models.DateTimeField(null=True, blank=True)
    severity_chosen_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    drawn_seed = models.PositiveIntegerField(
        "lot by which the order was drawn",
        null=True,
        blank=True,
        help_text="The same lot and the same schemes give the same order again.",
    )
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
    called_back_at = models.DateTimeField(null=True, blank=True)
    called_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = CritQuerySet.as_manager()

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
    def announces_severity(self) -> bool:
        """Whether it was chosen before the day that severity is taken out."""
        at = self.severity_chosen_at
        return self.takes_severity_out and at is not None and timezone.localdate(at) < self.day

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


class JurySheetQuerySet(models.QuerySet["JurySheet"]):
    """Jury sheets, in words: which are read, and which of these count."""

    def of(self, crit_id: int, scheme_id: int) -> JurySheetQuerySet:
        """Those of a crit on one scheme."""
        return self.filter(seat__crit_id=crit_id, scheme_id=scheme_id)

    def locked(self) -> JurySheetQuerySet:
        """Those that their juror has fixed."""
        return self.filter(locked_at__isnull=False)

    def read(self) -> JurySheetQuerySet:
        """Those whose comments are read: locked, and not of a juror who stepped aside."""
        return self.locked().filter(~Exists(Interest.objects.beside_a_sheet().away()))

    def counting(self) -> JurySheetQuerySet:
        """Those whose levels count: read, and of a juror without a declared interest."""
        return self.read().filter(~Exists(Interest.objects.beside_a_sheet()))


class JurySheet(models.Model):
    """One juror's page for one scheme.

    revision              what it is of: what was shown at its first entry, until the juror takes
                          up a newer one; None where nothing was issued
    impression_revision   what was shown when the impression was set
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
    locked_at = models.DateTimeField(null=True, blank=True)

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

    def given_for(self, criterion: Criterion) -> LevelGiven | None:
        """What it gives a criterion, where anything is set."""
        return self.levels.filter(criterion=criterion).first()


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


class CommentQuerySet(models.QuerySet["Comment"]):
    """Comments, in words: which stand, and which of these students read."""

    def kept(self) -> CommentQuerySet:
        """Those that their juror hasn't left off."""
        return self.filter(removed_at=None)

    def standing(self) -> CommentQuerySet:
        """Those kept, with a kind or words, on a sheet that is read."""
        return (
            self.kept().filter(jury_sheet__in=JurySheet.objects.read()).exclude(kind="", words="")
        )

    def with_places(self) -> CommentQuerySet:
        """The same, each with the sheet and the revision that it was made on."""
        return self.select_related("issued_sheet", "revision")

    def not_held(self) -> CommentQuerySet:
        """Those that no leader holds back."""
        return self.filter(held_at=None)

    def released(self) -> CommentQuerySet:
        """Those that stand in a released crit and were not held when it was released."""
        crit = "jury_sheet__seat__crit__released_at"
        since = Q(held_at=None) | Q(held_at__gte=F(crit))
        return self.standing().filter(since, **{f"{crit}__isnull": False})


class Comment(models.Model):
    """A juror's remark: kind, place on a sheet, words.

    revision       what was shown when it was begun, or last given a place
    issued_sheet   the very sheet, of that revision, that it was made on
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
    def is_stub(self) -> bool:
        """Whether it is begun and not yet worded."""
        return not self.words.strip()
