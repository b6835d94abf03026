"""A studio's other days: desk crits, quiet rounds, options, questions on the brief, adjustments."""

from __future__ import annotations

from uuid import UUID

from django.db import models
from django.db.models import Q
from django.utils import timezone

from reviews.models.briefs import Addendum, Brief
from reviews.models.crits import Crit
from reviews.models.people import Person
from reviews.models.pictures import SheetFile
from reviews.models.studios import Scheme


class DeskCritQuerySet(models.QuerySet["DeskCrit"]):
    """Desk crits, in words."""

    def of_key(self, key: str, by: Person) -> DeskCrit | None:
        """Somebody's note of a device's key; None of a key that can't be read."""
        try:
            return self.filter(key=UUID(key), by=by).first()
        except ValueError:
            return None


class DeskCrit(models.Model):
    """A talk at a student's desk, noted in a minute and a half: words, overlay, next steps.

    key     made by the device, so that a resend is one
    photo   the overlay as it was drawn, stored plain like any sheet
    """

    key = models.UUIDField(unique=True)
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="desk_crits")
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    words = models.TextField(blank=True)
    photo = models.ForeignKey(
        SheetFile, null=True, blank=True, on_delete=models.PROTECT, related_name="desk_crits"
    )
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)

    objects = DeskCritQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"Desk crit on {self.scheme}, {self.at:%-d %b %Y}"


class NextStep(models.Model):
    """One of the steps agreed at a desk crit; an unfinished one is carried to the next.

    carried_from   the same step at the meeting before
    """

    desk_crit = models.ForeignKey(DeskCrit, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveSmallIntegerField()
    words = models.CharField(max_length=240)
    carried_from = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.SET_NULL, related_name="carried_to"
    )
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    class Meta:
        ordering = ["desk_crit", "position", "pk"]

    def __str__(self) -> str:
        return self.words


class QuietNoteQuerySet(models.QuerySet["QuietNote"]):
    """Quiet notes, in words."""

    def standing(self) -> QuietNoteQuerySet:
        """Those that nobody took off."""
        return self.filter(removed_at=None)


class QuietNote(models.Model):
    """What a classmate leaves at a pin-up, in the quiet round: one Keep or one Ask on a scheme."""

    class Kind(models.TextChoices):
        KEEP = "Keep", "Keep"
        ASK = "Ask", "Ask"

    key = models.UUIDField(unique=True)
    crit = models.ForeignKey(Crit, on_delete=models.CASCADE, related_name="quiet_notes")
    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="quiet_notes")
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=4, choices=Kind)
    words = models.TextField()
    version = models.PositiveIntegerField(default=1)
    kept_at = models.DateTimeField(default=timezone.now)
    removed_at = models.DateTimeField(null=True, blank=True)

    objects = QuietNoteQuerySet.as_manager()

    class Meta:
        ordering = ["kept_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["crit", "scheme", "by", "kind"],
                condition=Q(removed_at=None),
                name="one_quiet_note_a_kind",
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} on {self.scheme}"


class OptionQuerySet(models.QuerySet["Option"]):
    """Options, in words."""

    def written(self) -> OptionQuerySet:
        """Those that say anything."""
        return self.exclude(title="", words="", sheet="")


class Option(models.Model):
    """One of the ways a scheme might have gone: three are kept, one is chosen, with why."""

    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="options")
    position = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=80)
    words = models.TextField(blank=True)
    sheet = models.CharField("sheet that shows it", max_length=8, blank=True)
    chosen_at = models.DateTimeField(null=True, blank=True)
    why = models.TextField("why this one", blank=True)
    version = models.PositiveIntegerField(default=1)
    changed_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField(default=timezone.now)

    objects = OptionQuerySet.as_manager()

    class Meta:
        ordering = ["scheme", "position"]
        constraints = [models.UniqueConstraint("scheme", "position", name="one_option_a_place")]

    def __str__(self) -> str:
        return self.title


class BriefQuestion(models.Model):
    """A question on a brief and its answer: both are read by everybody in the studio.

    addendum   the one that the answer led to
    """

    brief = models.ForeignKey(Brief, on_delete=models.CASCADE, related_name="questions")
    key = models.UUIDField(unique=True)
    asked_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    words = models.TextField()
    asked_at = models.DateTimeField(default=timezone.now)
    answer = models.TextField(blank=True)
    answered_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    answered_at = models.DateTimeField(null=True, blank=True)
    addendum = models.ForeignKey(
        Addendum, null=True, blank=True, on_delete=models.SET_NULL, related_name="questions"
    )
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["asked_at", "pk"]

    def __str__(self) -> str:
        return self.words[:60]


class AddendumOpened(models.Model):
    """When somebody first opened an addendum."""

    addendum = models.ForeignKey(Addendum, on_delete=models.CASCADE, related_name="opened")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["at"]
        constraints = [
            models.UniqueConstraint("addendum", "person", name="addendum_opened_first_once")
        ]

    def __str__(self) -> str:
        return f"{self.person} opened {self.addendum}"


class AdjustmentQuerySet(models.QuerySet["Adjustment"]):
    """Adjustments, in words."""

    def standing(self) -> AdjustmentQuerySet:
        """Those that weren't ended."""
        return self.filter(ended_at=None)

    def of_members(self) -> AdjustmentQuerySet:
        """Those of people who still draw the scheme."""
        return self.filter(person__schemes=models.F("scheme"))


class Adjustment(models.Model):
    """How somebody presents: the jury is told the effect alone, never why.

    minutes   more time to present, where that is the effect
    words     for its student, the leader and the coordinator
    """

    class Effect(models.TextChoices):
        SEATED = "seated", "Presents seated"
        NOTES = "notes", "Presents from notes"
        RECORDED = "recorded", "Presents by a recording, answers live"
        WRITTEN = "written", "Questions in writing"
        SECOND_VOICE = "second voice", "A second voice beside them"
        MORE_TIME = "more time", "More time to present"
        PAUSE = "pause", "A pause of five minutes when they ask"

    scheme = models.ForeignKey(Scheme, on_delete=models.CASCADE, related_name="adjustments")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="adjustments")
    effect = models.CharField(max_length=12, choices=Effect)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.CharField(max_length=240, blank=True)
    set_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    set_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    objects = AdjustmentQuerySet.as_manager()

    class Meta:
        ordering = ["set_at", "pk"]

    def __str__(self) -> str:
        return self.get_effect_display()
