"""Crits: their day, and the criteria sheet that is judged by."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from django.db import models
from django.db.models import Q
from django.utils import timezone

from criteria.crit_day.timetable import USUAL, SlotParts
from reviews.models.people import Person
from reviews.models.studios import Studio

ARTICLES = ("the", "a", "an")
LEVELS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")
"""The five levels, 1 to 5: the words in which designers speak of the state of a drawing."""


SLOT_PARTS = ("present_min", "discuss_min", "writing_min", "change_min")
"""The parts of a slot, in their order."""

LISTED = (
    *("studio", "kind", "day", "pens_down", "names_jurors", "released_at", "issuing_closed_at"),
    *("comments_sent_at", "follows"),
)


class CritQuerySet(models.QuerySet["Crit"]):
    """Crits, in words."""

    def released(self) -> CritQuerySet:
        """Those whose students can read levels and comments."""
        return self.filter(released_at__isnull=False)

    def sent(self) -> CritQuerySet:
        """Those whose students can read comments, and no levels yet."""
        return self.filter(released_at=None, comments_sent_at__isnull=False)

    def to_come(self) -> CritQuerySet:
        """Those that aren't released."""
        return self.filter(released_at=None)

    def as_listed(self) -> CritQuerySet:
        """The same, read as far as it is told where a list of them leads: what else is asked of
        one is fetched then."""
        return self.only(*LISTED)

    def open_on(self, day: date) -> CritQuerySet:
        """Those to come, and those that were begun and not released."""
        begun = Q(seats__sheets__isnull=False)
        return self.to_come().filter(Q(day__gte=day) | begun).distinct()

    def hold(self, pk: int) -> Crit:
        """Return a crit, held until the transaction ends.

        Whatever keeps, locks, opens, corrects, releases or calls back holds its crit before any
        row of it, so that no two of them cross.
        """
        return self.select_for_update().get(pk=pk)


class Crit(models.Model):
    """A day on which schemes are presented.

    present_min …      minutes of a slot's parts; None: those of the kind
    follows            of a re-crit, the crit whose open comments and criteria it asks for
    level_cap          of a re-crit, the highest level that it may raise to; None: none is set
    release_due_at     when it is to be released by itself, as its leader had read it
    release_seen       fingerprint of what the leader had read then
    release_stopped    why it wasn't released by itself
    comments_sent_at   when students were given comments without levels, before the release
    quiet_closed_at    when a pin-up's quiet round was closed: its schemes read what was left
    """

    class Kind(models.TextChoices):
        INTERIM = "interim", "Interim crit"
        FINAL = "final", "Final crit"
        RECRIT = "re-crit", "Re-crit"
        PIN_UP = "pin-up", "Pin-up"

    class Talk(models.TextChoices):
        PRIVATE_FIRST = "private", "Private first: levels are locked before others' are seen"
        TALK_FIRST = "talk", "Talk first: comments alone, no levels are asked"
        QUIET_FIRST = "quiet", "Quiet first: ten silent minutes with the sheets before any speech"

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
    talk = models.CharField(
        "order of talk",
        max_length=8,
        choices=Talk,
        default=Talk.PRIVATE_FIRST,
        db_default="private",
    )
    present_min = models.PositiveSmallIntegerField(null=True, blank=True)
    discuss_min = models.PositiveSmallIntegerField(null=True, blank=True)
    writing_min = models.PositiveSmallIntegerField(null=True, blank=True)
    change_min = models.PositiveSmallIntegerField(null=True, blank=True)
    comments_sent_at = models.DateTimeField("comments sent in the evening", null=True, blank=True)
    comments_sent_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    called_back_at = models.DateTimeField(null=True, blank=True)
    called_back_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    follows = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.SET_NULL, related_name="followed_by"
    )
    level_cap = models.PositiveSmallIntegerField(null=True, blank=True)
    release_due_at = models.DateTimeField(null=True, blank=True)
    release_due_by = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    release_seen = models.CharField(max_length=64, blank=True, db_default="")
    release_stopped = models.CharField(max_length=300, blank=True, db_default="")
    quiet_closed_at = models.DateTimeField("quiet round closed", null=True, blank=True)
    quiet_closed_by = models.ForeignKey(
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

    def asks_for(self, scheme_id: int) -> bool:
        """Whether a scheme is shown at it: of one that follows another, what has a slot alone."""
        return self.follows_id is None or self.slots.filter(scheme=scheme_id).exists()

    @property
    def is_released(self) -> bool:
        """Whether students can read levels and comments."""
        return self.released_at is not None

    @property
    def is_sent(self) -> bool:
        """Whether students can read comments, and no levels yet."""
        return self.comments_sent_at is not None and not self.is_released

    @property
    def slot_parts(self) -> SlotParts:
        """Minutes of a slot's parts: as set, and where blank those usual of its kind."""
        asked = {name: getattr(self, name) for name in SLOT_PARTS}
        given = {name: minutes for name, minutes in asked.items() if minutes is not None}
        return replace(USUAL[self.kind], **given)

    @property
    def announces_severity(self) -> bool:
        """Whether it was chosen before the day that severity is taken out."""
        at = self.severity_chosen_at
        return self.takes_severity_out and at is not None and timezone.localdate(at) < self.day

    @property
    def asks_levels(self) -> bool:
        """Whether its jurors set levels: not where talk comes first."""
        return self.talk != self.Talk.TALK_FIRST

    @property
    def is_filed(self) -> bool:
        """Whether a juror has begun: the criteria sheet is then fixed."""
        return self.seats.filter(sheets__isnull=False).exists()


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
    def short_name(self) -> str:
        """Its first word that says something, where room is short."""
        words = [word.rstrip(",;:") for word in self.name.split()]
        said = next((word for word in words if word.lower() not in ARTICLES), "")
        return said[:1].upper() + said[1:]

    @property
    def descriptors(self) -> list[tuple[int, str, str]]:
        """Number, word and descriptor of each level."""
        return [(n, word, getattr(self, f"level_{n}")) for n, word in enumerate(LEVELS, start=1)]

    @property
    def evidence_refs(self) -> list[str]:
        """The references of the targets that inform it."""
        return self.evidence.replace(",", " ").split()
