"""What jurors say aloud and a scribe takes down, and what a juror keeps to themselves."""

from __future__ import annotations

from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

from reviews.models.crits import Crit
from reviews.models.jury import Comment, JurySheet, LevelGiven
from reviews.models.people import Person
from reviews.models.revisions import IssuedSheet, Revision
from reviews.models.seats import Interest, Seat, Slot
from reviews.models.studios import Scheme
from reviews.places import Point
from reviews.strokes import Strokes


class SpokenNoteQuerySet(models.QuerySet["SpokenNote"]):
    """Spoken notes, in words."""

    def kept(self) -> SpokenNoteQuerySet:
        """Those that nobody took off."""
        return self.filter(removed_at=None)

    def unconfirmed(self) -> SpokenNoteQuerySet:
        """Those kept that their juror has neither made a comment of nor taken off."""
        return self.kept().filter(comment=None)

    def of(self, crit_id: int, scheme_id: int) -> SpokenNoteQuerySet:
        """Those of a crit on one scheme."""
        return self.filter(slot__crit_id=crit_id, slot__scheme_id=scheme_id)

    def for_juror(self, seat: Seat, scheme_id: int) -> SpokenNoteQuerySet:
        """Those on a scheme that a juror said or may have said: their own, and of nobody known."""
        said = Q(seat=seat) | Q(seat=None, is_gap=False, removed_at=None)
        return self.of(seat.crit_id, scheme_id).filter(said)

    def not_held(self) -> SpokenNoteQuerySet:
        """Those that no leader holds back."""
        return self.filter(held_at=None)

    def standing(self) -> SpokenNoteQuerySet:
        """Those that say something and are read as spoken: no comment that is read stands for them.

        What a juror confirmed on a sheet that was never locked is still read, as it was typed; a
        comment held, or left off, takes its note along. Of a juror who stepped aside, nothing is.
        Something missed is said to be.
        """
        unread = ~Q(comment__jury_sheet__in=JurySheet.objects.read())
        alone = Q(comment__removed_at=None, comment__held_at=None) & unread
        aside = Interest.objects.standing().away()
        aside = aside.filter(seat=OuterRef("seat"), scheme=OuterRef("slot__scheme"))
        said = self.kept().filter(Q(comment=None) | alone).filter(~Exists(aside))
        return said.exclude(kind="", words="", is_gap=False)

    def sent(self) -> SpokenNoteQuerySet:
        """Those that students were given in the evening, whatever became of them since."""
        return self.filter(sent_at__isnull=False)

    def with_places(self) -> SpokenNoteQuerySet:
        """The same, each with its sheet, its revision and who said it."""
        return self.select_related("issued_sheet", "revision", "seat")

    def open_of(self, crit: Crit, scheme: Scheme) -> SpokenNoteQuerySet:
        """Those on a scheme of which its students know: sent, or standing at the release.

        Of a crit that isn't released, to its leader: those that would go out now. What is held
        since is among them, as a trace.
        """
        notes = self.filter(slot__crit=crit, slot__scheme=scheme)
        not_held = Q(held_at=None)
        if crit.released_at:
            not_held |= Q(held_at__gte=crit.released_at)
        return notes.filter(Q(pk__in=self.standing()) & not_held | Q(sent_at__isnull=False))


class SpokenNote(models.Model):
    """A spoken remark as a scribe typed it.

    key        made by the device, so that a resend is one
    typed      the line as it was typed, for good
    seat       who said it; None where the scribe didn't know
    is_gap     the scribe missed something here
    comment    what its juror made of it; None: spoken, unconfirmed
    decided_at when the leader read a hazard and let it go out
    sent_at    when its students were given it, before the release; it changes no more
    """

    key = models.UUIDField(unique=True)
    slot = models.ForeignKey(Slot, on_delete=models.PROTECT, related_name="spoken")
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    typed = models.CharField(max_length=500)
    seat = models.ForeignKey(
        Seat, null=True, blank=True, on_delete=models.PROTECT, related_name="spoken"
    )
    kind = models.CharField(max_length=8, choices=Comment.Kind, blank=True)
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    issued_sheet = models.ForeignKey(
        IssuedSheet, null=True, blank=True, on_delete=models.PROTECT, related_name="spoken"
    )
    zone = models.CharField(max_length=2, blank=True)
    words = models.TextField(blank=True)
    is_gap = models.BooleanField(default=False)
    said_at = models.DateTimeField()
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)
    comment = models.OneToOneField(
        Comment, null=True, blank=True, on_delete=models.PROTECT, related_name="spoken"
    )
    removed_at = models.DateTimeField(null=True, blank=True)
    removed_by_seat = models.BooleanField("taken off by its juror", default=False)
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

    objects = SpokenNoteQuerySet.as_manager()

    class Meta:
        ordering = ["said_at", "pk"]

    def __str__(self) -> str:
        return f"{self.said_at:%H:%M} {self.typed}"

    @property
    def place(self) -> str:
        """Sheet and zone, as it is said: 02·C4."""
        number = self.issued_sheet.number if self.issued_sheet else ""
        return "·".join(part for part in (number, self.zone) if part)

    @property
    def point(self) -> Point | None:
        """None: what is spoken is of a square at most."""
        return None

    @property
    def drawn(self) -> Strokes:
        """None, for who speaks doesn't draw."""
        return ()

    @property
    def strokes(self) -> Strokes:
        """The same, as a comment has them."""
        return self.drawn


class PrivateNote(models.Model):
    """What a juror writes for themselves on one scheme: no one else ever reads it."""

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="private_notes")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="+")
    words = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [models.UniqueConstraint("seat", "scheme", name="one_private_note")]

    def __str__(self) -> str:
        return f"Private note of {self.seat} on {self.scheme}"


class Phrase(models.Model):
    """Words that a juror says often, kept to be put in by one tap."""

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="phrases")
    key = models.UUIDField(unique=True)
    words = models.CharField(max_length=240)
    kept_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.words


class ChangedLevel(models.Model):
    """A level changed once after the discussion, by its juror, with a reason; both are kept.

    was, now   1 to 5, or the words of not mine to judge
    """

    given = models.OneToOneField(LevelGiven, on_delete=models.PROTECT, related_name="changed")
    was = models.CharField(max_length=24)
    now = models.CharField(max_length=24)
    reason = models.TextField()
    revision = models.ForeignKey(
        Revision, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.given.criterion.code}: {self.was} → {self.now}"
