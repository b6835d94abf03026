"""What follows a release: closed comments, conversations, appeals, consent, letters to jurors."""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from reviews.models.answers import Answer
from reviews.models.crits import Crit
from reviews.models.jury import Comment, JurySheet
from reviews.models.people import Person
from reviews.models.revisions import Revision
from reviews.models.seats import Seat
from reviews.models.studios import Scheme


class FormerAnswer(models.Model):
    """An answer as it stood before it was changed."""

    answer = models.ForeignKey(Answer, on_delete=models.PROTECT, related_name="formers")
    kind = models.CharField(max_length=24, choices=Answer.Kind)
    words = models.TextField(blank=True)
    place_now = models.CharField(max_length=12, blank=True)
    version = models.PositiveIntegerField()
    answered_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    answered_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.kind}, until changed"


class ClosingQuerySet(models.QuerySet["Closing"]):
    """Closings, in words."""

    def told(self) -> ClosingQuerySet:
        """Those that students may know: not of a re-crit that isn't released."""
        return self.filter(Q(crit=None) | Q(crit__released_at__isnull=False))

    def standing(self) -> ClosingQuerySet:
        """The last of each comment, of those that students may know."""
        told = Closing.objects.told()
        later = told.filter(comment=OuterRef("comment"), pk__gt=OuterRef("pk"))
        return self.told().filter(~Exists(later))

    def proposed(self, crit: Crit) -> ClosingQuerySet:
        """The last of each comment at one re-crit, released or not."""
        of_crit = Closing.objects.filter(crit=crit.pk or 0)  # one that isn't opened has none
        later = of_crit.filter(comment=OuterRef("comment"), pk__gt=OuterRef("pk"))
        return self.filter(~Exists(later), crit=crit.pk or 0)


class Closing(models.Model):
    """That a leader, or a re-crit, closed a comment, or opened it again; the last stands.

    crit   the re-crit in which it was closed, where it was
    """

    comment = models.ForeignKey(Comment, on_delete=models.PROTECT, related_name="closings")
    is_closed = models.BooleanField()
    words = models.TextField(blank=True)
    crit = models.ForeignKey(
        Crit, null=True, blank=True, on_delete=models.PROTECT, related_name="closings"
    )
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    objects = ClosingQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.comment}: {'closed' if self.is_closed else 'open again'}"


class SecondLook(models.Model):
    """What a juror of a re-crit says of a comment still open: closed, or one more answer needed.

    revision   what was shown when it was said; None where nothing was issued
    """

    jury_sheet = models.ForeignKey(JurySheet, on_delete=models.PROTECT, related_name="second_looks")
    comment = models.ForeignKey(Comment, on_delete=models.PROTECT, related_name="second_looks")
    is_closed = models.BooleanField()
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)
    set_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint("jury_sheet", "comment", name="one_second_look_a_comment")
        ]

    def __str__(self) -> str:
        return f"{self.comment}: {'closed' if self.is_closed else 'one more answer needed'}"


class Conversation(models.Model):
    """The record of a talk about results, by one of those who held it; it is not rewritten.

    held_on   the day of it; None: asked for, and what is to be talked about
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="conversations")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="conversations")
    key = models.UUIDField(unique=True)
    held_on = models.DateField(null=True, blank=True)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.TextField()
    agreed = models.TextField(blank=True)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.scheme}, {f'{self.held_on:%-d %b %Y}' if self.held_on else 'asked for'}"


class AppealQuerySet(models.QuerySet["Appeal"]):
    """Appeals, in words."""

    def open(self) -> AppealQuerySet:
        """Those neither decided nor withdrawn."""
        return self.filter(decided_at=None, withdrawn_at=None)

    def standing(self) -> AppealQuerySet:
        """Those that whoever made them didn't take back."""
        return self.filter(withdrawn_at=None)

    def of(self, crit: Crit, scheme: Scheme) -> AppealQuerySet:
        """Those against the results of one scheme."""
        return self.filter(crit=crit, scheme=scheme)


class Appeal(models.Model):
    """A student's request that a released result be looked at again, with its grounds.

    trail   what the appeal is held against, as it stood when it was made; never changed
    """

    class Ground(models.TextChoices):
        PROCEDURE = "procedure", "The crit was not held as announced"
        NOT_SEEN = "not-seen", "Something handed in was not seen"
        RECKONED = "reckoned", "A level or a figure was reckoned wrongly"
        INTEREST = "interest", "A juror had an interest that was not declared"
        OTHER = "other", "Something else"

    class Outcome(models.TextChoices):
        UPHELD = "upheld", "Upheld"
        PART = "part", "Upheld in part"
        NOT_UPHELD = "not-upheld", "Not upheld"

    crit = models.ForeignKey(Crit, on_delete=models.PROTECT, related_name="appeals")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="appeals")
    key = models.UUIDField(unique=True)
    ground = models.CharField(max_length=12, choices=Ground)
    words = models.TextField()
    trail: Any = models.JSONField(default=dict)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="appeals")
    at = models.DateTimeField(default=timezone.now)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    outcome = models.CharField(max_length=12, choices=Outcome, blank=True)
    decision = models.TextField(blank=True)
    decided_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    decided_at = models.DateTimeField(null=True, blank=True)

    objects = AppealQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["crit", "scheme", "by"],
                condition=Q(withdrawn_at=None, decided_at=None),
                name="one_open_appeal_each",
            )
        ]

    def __str__(self) -> str:
        return f"Appeal of {self.by}, {self.scheme}"

    @property
    def is_open(self) -> bool:
        """Whether it is neither decided nor withdrawn."""
        return self.decided_at is None and self.withdrawn_at is None

    @property
    def state_words(self) -> str:
        """How it stands: open, withdrawn, or what was decided."""
        if self.withdrawn_at:
            return "withdrawn"
        return self.get_outcome_display().lower() if self.decided_at else "open"


class AppealWords(models.Model):
    """What somebody of an appeal adds to it before it is decided; dated, not rewritten."""

    appeal = models.ForeignKey(Appeal, on_delete=models.PROTECT, related_name="added")
    words = models.TextField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.by}, {self.at:%-d %b %Y}"


class ConsentQuerySet(models.QuerySet["Consent"]):
    """Consents, in words."""

    def to_examples(self) -> ConsentQuerySet:
        """Students' that stand: their package may be shown to later years."""
        return self.filter(kind=Consent.Kind.EXAMPLE, ended_at=None)


class Consent(models.Model):
    """That somebody allows something of theirs to be shown; ended, it allows nothing more.

    LETTER    a student: that jurors of a crit read what became of their remarks
    NAME      a juror: that their name stands in a scheme's portfolio
    EXAMPLE   a student: that the package is shown to later years as an example, without a name
    """

    class Kind(models.TextChoices):
        LETTER = "letter", "Jurors may read what became of their remarks"
        NAME = "name", "A juror's name may stand in a portfolio"
        EXAMPLE = "example", "The package may be shown to later years"

    kind = models.CharField(max_length=8, choices=Kind)
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="consents")
    crit = models.ForeignKey(
        Crit, null=True, blank=True, on_delete=models.CASCADE, related_name="consents"
    )
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="consents"
    )
    seat = models.ForeignKey(
        Seat, null=True, blank=True, on_delete=models.PROTECT, related_name="consents"
    )
    given_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = ConsentQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(person=None) ^ Q(seat=None), name="a_consent_is_of_one"
            )
        ]

    def __str__(self) -> str:
        return f"{self.person or self.seat}: {self.get_kind_display()}"


class JurorLetter(models.Model):
    """The one letter that tells a juror what became of their remarks, as it went out."""

    seat = models.OneToOneField(Seat, on_delete=models.PROTECT, related_name="letter")
    contents: Any = models.JSONField(default=list)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"Letter to {self.seat}"
