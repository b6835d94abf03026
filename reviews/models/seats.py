"""Who sits at a crit, in what order schemes are seen, and the interests that jurors declare."""

from __future__ import annotations

import secrets
from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

from django.db import models
from django.db.models import OuterRef, Q
from django.utils import timezone

from reviews.models.crits import Crit
from reviews.models.people import Person
from reviews.models.studios import Scheme

if TYPE_CHECKING:
    from reviews.models.crit_day import Crossing

CODE_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Letters and figures that can't be misread."""


def new_code() -> str:
    """Return a fresh secret for a personal link: 12 letters that can't be misread, 59 bits."""
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(12))


class SeatQuerySet(models.QuerySet["Seat"]):
    """Seats, in words."""

    def sat_by(self, person: Person) -> SeatQuerySet:
        """Those of somebody with an account, known by e-mail or name."""
        return self.filter(Q(email__iexact=person.email) | Q(name__iexact=person.name))

    def named(self) -> SeatQuerySet:
        """Those of jurors who aren't made anonymous."""
        return self.filter(erased_at=None)


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
    room_since = models.DateTimeField(
        "moved to this room",
        null=True,
        blank=True,
        help_text="What the room saw before is not missing from this juror.",
    )
    code = models.CharField(max_length=24, unique=True, default=new_code)
    opened_at = models.DateTimeField("personal link first opened", null=True, blank=True)
    erased_at = models.DateTimeField("made anonymous", null=True, blank=True)

    objects = SeatQuerySet.as_manager()

    class Meta:
        ordering = ["room", "name"]
        constraints = [models.UniqueConstraint("crit", "name", name="one_seat_a_name")]

    def __str__(self) -> str:
        return self.name

    def is_of(self, person: Person) -> bool:
        """Whether somebody with an account sits on it, known by e-mail or name."""
        same = (self.email, person.email), (self.name, person.name)
        return any(own.casefold() == theirs.casefold() for own, theirs in same)

    def interest_in(self, scheme_id: int) -> Interest | None:
        """The interest in a scheme that stands, read from the seat's interests at hand."""
        stand = (each for each in self.interests.all() if each.taken_back_at is None)
        return next((each for each in stand if each.scheme_id == scheme_id), None)

    def crossing_for(self, slot_id: int) -> Crossing | None:
        """The crossing that stands for a slot, read from the seat's crossings at hand."""
        stand = (each for each in self.crossings.all() if each.taken_back_at is None)
        return next((each for each in stand if each.slot_id == slot_id), None)

    @property
    def link_ends_at(self) -> datetime:
        """When the personal link stops: 48 hours after the day."""
        return timezone.make_aware(datetime.combine(self.crit.day, time.max)) + timedelta(hours=48)


class SlotQuerySet(models.QuerySet["Slot"]):
    """Slots, in words."""

    def seen_by(self, seat: Seat) -> SlotQuerySet:
        """Those that a juror sees: of the own room and of no room, and those of sheets begun.

        With those that they cross to another room for, less those that they cross away from; and
        less those for which the juror leaves the room.
        """
        crossings = seat.crossings.standing()
        here = ~Q(pk__in=crossings.away().values("slot"))
        if seat.room:
            here &= Q(room__in=("", seat.room))
        comes = Q(pk__in=crossings.coming().values("slot"))
        begun = Q(scheme__in=seat.sheets.values("scheme"))
        slots = self.filter(here | comes | begun, crit=seat.crit_id)
        return slots.exclude(scheme__in=seat.interests.standing().away().values("scheme"))


class Slot(models.Model):
    """A scheme's time in the running order."""

    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="slots")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="slots")
    position = models.PositiveSmallIntegerField()
    room = models.CharField(max_length=12, blank=True, help_text="Blank: seen by all jurors.")
    starts_at = models.TimeField(null=True, blank=True)
    state = models.CharField(max_length=40, blank=True)

    objects = SlotQuerySet.as_manager()

    class Meta:
        ordering = ["starts_at", "position", "pk"]
        constraints = [models.UniqueConstraint("crit", "scheme", name="one_slot_a_scheme")]

    def __str__(self) -> str:
        return f"{self.position}. {self.scheme}"

    def is_before(self, seat: Seat) -> bool:
        """Whether it is shown where a juror sits: in the same room, or to all, or they cross."""
        if crossing := seat.crossing_for(self.pk):
            return crossing.comes
        return not self.room or not seat.room or self.room == seat.room

    def is_asked_of(self, seat: Seat, *, begun: bool = False) -> bool:
        """Whether a juror's sheet is missing while it isn't locked.

        Of no scheme that is withdrawn, and where none is begun, of none that is shown in another
        room or was shown before the juror came there; of one that they cross for, always.
        """
        if self.scheme.withdrawn_at:
            return False
        if begun or not self.is_before(seat):
            return begun
        if not (self.room and seat.room_since and self.starts_at) or seat.crossing_for(self.pk):
            return True
        starts = timezone.make_aware(datetime.combine(self.crit.day, self.starts_at))
        return starts >= seat.room_since


class InterestQuerySet(models.QuerySet["Interest"]):
    """Declared interests, in words."""

    def standing(self) -> InterestQuerySet:
        """Those not taken back."""
        return self.filter(taken_back_at=None)

    def away(self) -> InterestQuerySet:
        """Those of jurors who leave the room."""
        return self.filter(may_comment=False)

    def beside_a_sheet(self) -> InterestQuerySet:
        """Those that stand of the juror and scheme of an outer jury sheet."""
        return self.standing().filter(seat=OuterRef("seat"), scheme=OuterRef("scheme"))


class Interest(models.Model):
    """A juror's declared interest in a scheme, kept for good; words only if they write some.

    may_comment     comments and sets no level; else steps aside and leaves the room
    taken_back_by   the leader who took it back; nobody where the juror did
    """

    seat = models.ForeignKey(Seat, on_delete=models.CASCADE, related_name="interests")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="interests")
    may_comment = models.BooleanField("comments, sets no level", default=False)
    words = models.CharField(max_length=240, blank=True)
    declared_at = models.DateTimeField(default=timezone.now)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = InterestQuerySet.as_manager()

    class Meta:
        ordering = ["declared_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["seat", "scheme"], condition=Q(taken_back_at=None), name="declared_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.seat}, {self.state} for {self.scheme}"

    @property
    def state(self) -> str:
        """Stepped aside, or comments and no level."""
        return "comments, no level" if self.may_comment else "stepped aside"
