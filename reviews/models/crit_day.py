"""The day of a crit as it went: the clock, who was there, who crossed, who kept time and notes."""

from __future__ import annotations

import uuid
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

from reviews.models.crits import Crit
from reviews.models.people import Person
from reviews.models.revisions import Revision
from reviews.models.seats import Seat, Slot, new_code


class ClockEntryQuerySet(models.QuerySet["ClockEntry"]):
    """Entries of the clock, in words."""

    def standing(self) -> ClockEntryQuerySet:
        """Those that weren't taken back."""
        return self.filter(taken_back_at=None)


class ClockEntry(models.Model):
    """What the timekeeper did, in the order in which it happened; nothing of it is overwritten.

    A slot's state, part and minutes follow from its entries: `reviews.reading.crit_clock`.

    key             made by the device, so that a resend is one entry
    at              when it happened, by the site's clock
    minutes         of extra time
    words           a reason, where one is asked; of the next part, which begins
    starts_at room  to when and where a slot is offered or moved
    was_at was_room from when and where it was moved
    """

    class Deed(models.TextChoices):
        CALLED = "called", "Called"
        STARTED = "started", "Started"
        NEXT_PART = "next part", "Next part"
        PAUSED = "paused", "Paused"
        WENT_ON = "went on", "Went on"
        EXTRA = "extra", "Extra minutes"
        ENDED = "ended", "Ended"
        STOOD_DOWN_AGREED = "agreed", "Stood down, agreed absence"
        STOOD_DOWN_SILENT = "silent", "Stood down, without word"
        OFFERED = "offered", "Offered another time"
        TAKEN = "taken", "Took the time offered"
        DECLINED = "declined", "Declined the time offered"
        MOVED = "moved", "Moved"

    key = models.UUIDField(unique=True, default=uuid.uuid4)
    slot = models.ForeignKey(Slot, on_delete=models.CASCADE, related_name="clock")
    deed = models.CharField(max_length=10, choices=Deed)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.CharField(max_length=240, blank=True)
    starts_at = models.TimeField(null=True, blank=True)
    room = models.CharField(max_length=12, blank=True)
    was_at = models.TimeField(null=True, blank=True)
    was_room = models.CharField(max_length=12, blank=True, db_default="")
    kept_at = models.DateTimeField(default=timezone.now)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = ClockEntryQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.slot.scheme}, {self.get_deed_display().lower()} {self.at:%H:%M:%S}"


class Attendance(models.Model):
    """Whether a juror is there, as the leader or timekeeper saw it; the last entry stands."""

    class State(models.TextChoices):
        HERE = "here", "Here"
        LATE = "late", "Late"
        ABSENT = "absent", "Absent"
        GONE = "gone", "Gone"

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="attendance")
    state = models.CharField(max_length=6, choices=State)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    words = models.CharField(max_length=240, blank=True)

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.seat}, {self.get_state_display().lower()}"


class CrossingQuerySet(models.QuerySet["Crossing"]):
    """Crossings, in words."""

    def standing(self) -> CrossingQuerySet:
        """Those that weren't taken back."""
        return self.filter(taken_back_at=None)

    def coming(self) -> CrossingQuerySet:
        """Those of jurors who join the slot's room."""
        return self.filter(comes=True)

    def away(self) -> CrossingQuerySet:
        """Those of jurors who are away from it."""
        return self.filter(comes=False)


class Crossing(models.Model):
    """A juror who for one slot sits in another room than their own, or leaves the own one.

    comes   joins the slot's room; else is away from it
    """

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="crossings")
    slot = models.ForeignKey(Slot, on_delete=models.CASCADE, related_name="crossings")
    comes = models.BooleanField()
    reason = models.CharField(max_length=240, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = CrossingQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["seat", "slot"], condition=Q(taken_back_at=None), name="crosses_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.seat} {'to' if self.comes else 'away from'} {self.slot}"


class Duty(models.Model):
    """Who keeps time in a room, or takes down what is said.

    slot   the one slot; None for the whole day
    room   the one room; blank for all
    """

    class Kind(models.TextChoices):
        SCRIBE = "scribe", "Scribe"
        TIMEKEEPER = "timekeeper", "Timekeeper"

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="duties")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="duties")
    kind = models.CharField(max_length=10, choices=Kind)
    slot = models.ForeignKey(
        Slot, null=True, blank=True, on_delete=models.CASCADE, related_name="duties"
    )
    room = models.CharField(max_length=12, blank=True)

    class Meta:
        ordering = ["kind", "room", "slot__starts_at", "pk"]
        verbose_name_plural = "duties"
        constraints = [
            models.UniqueConstraint("crit", "person", "kind", "slot", "room", name="one_duty_once"),
            models.UniqueConstraint(
                fields=["crit", "person", "kind", "room"],
                condition=Q(slot=None),
                name="one_duty_of_the_day_once",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person}, {self.get_kind_display().lower()}"


class RoomLink(models.Model):
    """The address under which a room's projector shows the clock: no account, names of schemes."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="room_links")
    room = models.CharField(max_length=12, blank=True)
    code = models.CharField(max_length=24, unique=True, default=new_code)

    class Meta:
        ordering = ["room"]
        constraints = [models.UniqueConstraint("crit", "room", name="one_link_a_room")]

    def __str__(self) -> str:
        return f"Room {self.room}" if self.room else "All jurors"


class OrderBreak(models.Model):
    """A break in the running order, or the minutes in which rooms change.

    room   the one that has it; blank for all
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="breaks")
    room = models.CharField(max_length=12, blank=True)
    starts_at = models.TimeField()
    minutes = models.PositiveSmallIntegerField()
    words = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["starts_at", "room"]

    def __str__(self) -> str:
        return f"{self.starts_at:%H:%M} {self.words or 'break'}, {self.minutes} min"


class KeptOrder(models.Model):
    """A running order as it was kept: what was told to people, and what calendars count by.

    lot     by which it was drawn, where it was
    plan    how it was laid out: minutes, rooms, breaks, by whom drawn
    lines   as `crit_running_order` compares them, breaks among them
    """

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="orders")
    kept_at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    lot = models.PositiveIntegerField(null=True, blank=True)
    plan: Any = models.JSONField(default=dict)
    lines: Any = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.crit}, {self.kept_at:%-d %b %H:%M}"


class CalendarLink(models.Model):
    """The secret address of somebody's own times, of one juror or one account; revocable."""

    code = models.CharField(max_length=24, unique=True, default=new_code)
    seat = models.OneToOneField(
        Seat, null=True, blank=True, on_delete=models.CASCADE, related_name="calendar"
    )
    person = models.OneToOneField(
        Person, null=True, blank=True, on_delete=models.CASCADE, related_name="calendar"
    )
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(seat=None) ^ Q(person=None), name="a_calendar_is_of_one"
            )
        ]

    def __str__(self) -> str:
        return f"Calendar of {self.seat or self.person}"


class JudgedChoice(models.Model):
    """Which of two revisions a panel judges where one was issued late; chosen once, before entries.

    seat   the juror who tapped for the panel
    """

    slot = models.OneToOneField(Slot, on_delete=models.CASCADE, related_name="judged_choice")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="+")
    seat = models.ForeignKey(
        Seat, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.slot.scheme}: revision {self.revision.letter}"


class PaperSheets(models.Model):
    """Jury sheets for paper, as they were made for a crit: ready before the power fails."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="paper")
    file = models.FileField(upload_to="paper")
    bytes = models.PositiveBigIntegerField()
    made_at = models.DateTimeField()
    by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"Paper sheets of {self.crit}"
