"""What is sent by e-mail: one row a letter, written and sent in the background, never twice."""

from __future__ import annotations

from datetime import datetime

from django.db import models
from django.utils import timezone

from reviews.models.people import Person
from reviews.models.studios import Studio


class MailQuerySet(models.QuerySet["Mail"]):
    """Letters, in words."""

    def due(self, at: datetime) -> MailQuerySet:
        """Those that wait and whose time has come, the first due first."""
        return self.filter(state=Mail.State.QUEUED, due_at__lte=at).order_by("due_at", "pk")

    def in_trouble(self) -> MailQuerySet:
        """Those that didn't arrive, or may not have."""
        return self.filter(state__in=Mail.TROUBLED)

    def sent(self, pk: int) -> MailQuerySet:
        """One letter that may have gone out."""
        return self.filter(pk=pk, state__in=(Mail.State.SENT, Mail.State.UNKNOWN))

    def claim(self, pk: int, at: datetime) -> Mail | None:
        """Take one letter that waits to send it; None where another has taken it."""
        waits = self.filter(pk=pk, state=Mail.State.QUEUED)
        is_mine = waits.update(state=Mail.State.SENDING, begun_at=at)
        return self.select_related("person", "studio").get(pk=pk) if is_mine else None


class Mail(models.Model):
    """One letter to one address.

    key       names the event, so that it is told once, however often a job runs
    about     primary key of the place, seat, revision or crit that it tells of, or 0
    day       the day that a digest tells of
    named     what it tells of is called, where that may be gone by the time it is written
    said      what the mail server answered, where it refused or wasn't reached
    subject   as sent
    """

    class Kind(models.TextChoices):
        INVITATION = "invitation", "Invitation"
        LINK = "link", "Personal link"
        RECEIPT = "receipt", "Receipt of what you issue"
        COMMENTS = "comments", "Comments of the day, before the levels"
        STUBS = "stubs", "Comments of yours that have no words yet, once after a crit"
        RESULTS = "results", "Results are released"
        STOPPED = "stopped", "A release that was set and did not go out"
        ANSWERS = "answers", "Answers to your comments, once a day"
        REWORDING = "rewording", "Other words offered for a comment of yours that is held"
        LETTER = "letter", "What became of your remarks, once after a crit"
        APPEAL = "appeal", "Appeals made and decided"
        DAY = "day", "What your studios handed in and what waits, once a day"
        PASSKEY_ADDED = "key-added", "Passkey added"
        PASSKEY_REMOVED = "key-removed", "Passkey removed"
        TOKEN_MADE = "token-made", "Token for scripts made"
        READDRESSED = "readdressed", "Address of your account changed"

    class State(models.TextChoices):
        QUEUED = "queued", "waits to be sent"
        SENDING = "sending", "is being sent"
        SENT = "sent", "sent"
        FAILED = "failed", "could not be delivered"
        UNKNOWN = "unknown", "was cut off while it was sent: nobody knows whether it arrived"
        DROPPED = "dropped", "not sent: no longer so, or not wanted"

    TROUBLED = (State.FAILED, State.UNKNOWN)

    key = models.CharField(max_length=160, unique=True)
    kind = models.CharField(max_length=12, choices=Kind)
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.CASCADE, related_name="mails"
    )
    address = models.EmailField()
    studio = models.ForeignKey(
        Studio, null=True, blank=True, on_delete=models.CASCADE, related_name="mails"
    )
    about = models.BigIntegerField(default=0)
    day = models.DateField(null=True, blank=True)
    named = models.CharField(max_length=60, blank=True, default="", db_default="")
    subject = models.CharField(max_length=200, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.QUEUED)
    said = models.CharField(max_length=300, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    queued_at = models.DateTimeField(default=timezone.now)
    due_at = models.DateTimeField(default=timezone.now)
    begun_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)

    objects = MailQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        indexes = [
            models.Index(fields=["state", "due_at"]),
            models.Index(fields=["kind", "about"]),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} to {self.address}: {self.state_words}"

    @property
    def state_words(self) -> str:
        """What became of it, with the server's words where it has any."""
        state = self.get_state_display()
        return f"{state}: {self.said}" if self.said else state

    @property
    def is_in_trouble(self) -> bool:
        """Whether somebody should hear that it didn't arrive, or may not have."""
        return self.state in self.TROUBLED


WAYS_IN = (
    *(Mail.Kind.INVITATION, Mail.Kind.LINK),
    *(Mail.Kind.PASSKEY_ADDED, Mail.Kind.PASSKEY_REMOVED, Mail.Kind.TOKEN_MADE),
    Mail.Kind.READDRESSED,
)
SWITCHABLE = [(kind.value, kind.label) for kind in Mail.Kind if kind not in WAYS_IN]
"""Kinds that somebody can switch off: all but the ways in, and word of them."""


class UnwantedMail(models.Model):
    """A kind of letter that an address doesn't want: an account's, or a juror's who has none."""

    address = models.EmailField()
    kind = models.CharField(max_length=12, choices=SWITCHABLE)

    class Meta:
        constraints = [models.UniqueConstraint("address", "kind", name="unwanted_once")]

    def __str__(self) -> str:
        return f"{self.address} doesn't want: {self.get_kind_display()}"
