"""What a leader decides of a crit: agreed levels, verdicts, rulings, and who read what goes out.

Agreed levels and verdicts are not rewritten: each decision is a row of its own, the last stands.
"""

from __future__ import annotations

from typing import Any

from django.db import models
from django.db.models import Exists, F, OuterRef, Q
from django.utils import timezone

from reviews.models.crits import Crit, Criterion
from reviews.models.jury import Comment
from reviews.models.people import Person
from reviews.models.studios import Scheme


class AgreedLevelQuerySet(models.QuerySet["AgreedLevel"]):
    """Agreed levels, in words."""

    def of(self, crit_id: int, scheme_id: int) -> AgreedLevelQuerySet:
        """Those of a crit for one scheme."""
        return self.filter(criterion__crit_id=crit_id, scheme_id=scheme_id)

    def standing(self) -> AgreedLevelQuerySet:
        """The last of each criterion and scheme, where it agrees on a level."""
        same = Q(criterion=OuterRef("criterion"), scheme=OuterRef("scheme"))
        later = AgreedLevel.objects.filter(same, pk__gt=OuterRef("pk"))
        return self.filter(~Exists(later), level__isnull=False)


class AgreedLevel(models.Model):
    """The level that is agreed for a scheme on one criterion, beside what the jurors gave.

    level      1 to 5; None: taken back, so that the jurors' mean stands
    mean       exact mean of the sheets that counted then, as a fraction: 10/3; blank: none
    stood_on   what each juror had given then, by the number of the seat
    reason     owed where the level isn't the mean to the nearest whole, half up
    appeal     of a level agreed after the release, the appeal that it answers
    """

    criterion = models.ForeignKey(Criterion, on_delete=models.PROTECT, related_name="agreed")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="agreed_levels")
    level = models.PositiveSmallIntegerField(null=True, blank=True)
    mean = models.CharField(max_length=24, blank=True)
    stood_on: Any = models.JSONField(default=dict)
    reason = models.TextField(blank=True)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    appeal = models.ForeignKey(
        "Appeal", null=True, blank=True, on_delete=models.PROTECT, related_name="agreed_levels"
    )

    objects = AgreedLevelQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(level=None) | Q(level__range=(1, 5)), name="agreed_is_a_level"
            )
        ]

    def __str__(self) -> str:
        return f"{self.criterion.code} {self.scheme.number}: {self.level or 'taken back'}"


class VerdictQuerySet(models.QuerySet["Verdict"]):
    """Verdicts, in words."""

    def standing(self) -> VerdictQuerySet:
        """The last of each crit and scheme."""
        same = Q(crit=OuterRef("crit"), scheme=OuterRef("scheme"))
        return self.filter(~Exists(Verdict.objects.filter(same, pk__gt=OuterRef("pk"))))


class Verdict(models.Model):
    """Whether a scheme goes on.

    criteria   of what is shown again, the codes that stay open: a re-crit asks for these alone
    """

    class Kind(models.TextChoices):
        GO_ON = "go-on", "Go on"
        CORRECTIONS = "corrections", "Go on, with corrections"
        AGAIN = "again", "Show again"

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="verdicts")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="verdicts")
    kind = models.CharField(max_length=12, choices=Kind)
    criteria: Any = models.JSONField(default=list, blank=True)
    words = models.TextField(blank=True)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    appeal = models.ForeignKey(
        "Appeal", null=True, blank=True, on_delete=models.PROTECT, related_name="verdicts"
    )

    objects = VerdictQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.scheme}: {self.get_kind_display()}"


class BesideComments(models.Model):
    """What a leader made of a scheme's comments, and who; taken back, it is as if it weren't."""

    version = models.PositiveIntegerField(default=1)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        abstract = True
        ordering = ["pk"]


class OpposedPairQuerySet(models.QuerySet["OpposedPair"]):
    """Opposed pairs, in words."""

    def standing(self) -> OpposedPairQuerySet:
        """Those that nobody took back."""
        return self.filter(taken_back_at=None)

    def unruled(self) -> OpposedPairQuerySet:
        """Those that stand, without a ruling or a day until which they are argued."""
        return self.filter(taken_back_at=None, ruling="", argue_by=None)


class OpposedPair(BesideComments):
    """Two comments that oppose each other, and the leader's ruling.

    argue_by   the day until which the students argue it, where it is theirs to decide
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="opposed_pairs")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="opposed_pairs")
    first = models.ForeignKey(Comment, on_delete=models.PROTECT, related_name="+")
    second = models.ForeignKey(Comment, on_delete=models.PROTECT, related_name="+")
    ruling = models.TextField(blank=True)
    argue_by = models.DateField(null=True, blank=True)

    objects = OpposedPairQuerySet.as_manager()

    class Meta(BesideComments.Meta):
        abstract = False
        constraints = [
            models.CheckConstraint(
                condition=~Q(first=F("second")), name="a_comment_opposes_another"
            )
        ]

    def __str__(self) -> str:
        return f"{self.scheme}: {self.first} against {self.second}"

    @property
    def is_ruled(self) -> bool:
        """Whether its leader wrote a ruling, or a day until which the students argue it."""
        return bool(self.ruling.strip() or self.argue_by)

    def other(self, comment_id: int) -> int:
        """The key of the comment that one of the two opposes."""
        return self.second_id if self.first_id == comment_id else self.first_id


class AlikeGroupQuerySet(models.QuerySet["AlikeGroup"]):
    """Groups of alike comments, in words."""

    def standing(self) -> AlikeGroupQuerySet:
        """Those that nobody took apart."""
        return self.filter(taken_back_at=None)


class AlikeGroup(BesideComments):
    """Comments of several jurors that say the same: read together, each in its own wording."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="alike_groups")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="alike_groups")
    comments = models.ManyToManyField(Comment, related_name="alike_groups")
    heading = models.CharField(max_length=120, blank=True)

    objects = AlikeGroupQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.scheme}: {self.heading or 'said alike'}"


class RewordingQuerySet(models.QuerySet["Rewording"]):
    """Other words offered, in words."""

    def not_taken_back(self) -> RewordingQuerySet:
        """Those that their leader still offers, or offered until they were answered."""
        return self.filter(taken_back_at=None)

    def holding(self) -> RewordingQuerySet:
        """Those of these whose comment stands as it stood when they were offered."""
        return self.not_taken_back().filter(was=F("comment__words"))

    def open(self) -> RewordingQuerySet:
        """Those of these that wait for their juror."""
        return self.holding().filter(reply="")

    def answered(self) -> RewordingQuerySet:
        """Those of these that their juror answered."""
        return self.holding().exclude(reply="")


class Rewording(models.Model):
    """Other words that a leader offers for a comment that is held; its juror alone decides.

    The comment keeps its words. Where its juror takes the offer, or writes others, students read
    those, marked as such.

    was         the comment's words when it was offered; worded anew since, the offer holds no more
    own_words   what the juror wrote in place of the offer
    """

    class Reply(models.TextChoices):
        TAKEN = "taken", "Taken"
        OWN = "own", "In other words"
        REFUSED = "refused", "Not taken"

    comment = models.ForeignKey(Comment, on_delete=models.PROTECT, related_name="rewordings")
    was = models.TextField()
    words = models.TextField()
    offered_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    offered_at = models.DateTimeField(default=timezone.now)
    reply = models.CharField(max_length=8, choices=Reply, blank=True)
    own_words = models.TextField(blank=True)
    replied_at = models.DateTimeField(null=True, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)

    objects = RewordingQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"Other words for {self.comment}"


class ProofRead(models.Model):
    """That a leader read what one scheme's students will be given.

    seen   fingerprint of it: what changes afterwards is to be read again
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="proofs")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="proofs")
    seen = models.CharField(max_length=64)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.scheme}, read by {self.by}"


class OwnReleaseWords(models.Model):
    """The leader's first words to one scheme's students in place of those to the whole class."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="own_words")
    scheme = models.ForeignKey(Scheme, on_delete=models.PROTECT, related_name="release_words")
    words = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [
            models.UniqueConstraint("crit", "scheme", name="one_own_words_a_crit_and_scheme")
        ]

    def __str__(self) -> str:
        return f"Words to {self.scheme}"


class ResultPapers(models.Model):
    """All students' results of a released crit as PDFs in one file, made as one job.

    done, total   schemes drawn, and to draw
    failed        why it stopped, where it did
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="result_papers")
    asked_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    file = models.FileField(upload_to="results", blank=True)
    bytes = models.PositiveBigIntegerField(default=0)
    made_at = models.DateTimeField(null=True, blank=True)
    failed = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-asked_at", "-pk"]

    def __str__(self) -> str:
        return f"Results of {self.crit} on paper"
