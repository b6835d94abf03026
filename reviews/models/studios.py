"""Studios, who belongs to them, and the schemes that they make."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from django.db import models
from django.db.models import Q

from reviews.models.people import Person


class StudioQuerySet(models.QuerySet["Studio"]):
    """Studios, in words."""

    def due(self, today: date) -> StudioQuerySet:
        """Those whose day of retention is over."""
        return self.filter(kept_until__lt=today)

    def of_people(self, people: Iterable[Person]) -> StudioQuerySet:
        """Those in which somebody has joined, draws a scheme or issued work."""
        people = list(people)
        joined = Membership.objects.joined().filter(person__in=people)
        has_work = Q(schemes__members__in=people) | Q(schemes__revisions__students__in=people)
        found = self.filter(Q(memberships__in=joined) | has_work)
        return self.filter(pk__in=found.values("pk"))


class Studio(models.Model):
    """A teaching group with one brief, for one cohort.

    kept_until    the last day on which its people are named; None is until somebody says
    follows       last year's, whose brief was carried over
    archive_key   what an archive of it is known by, here and where it is brought in
    brought_at    when it came in from another installation's archive, of which receipt
    """

    title = models.CharField(max_length=120, help_text="As it is called: Twelve Bunks.")
    cohort = models.CharField(max_length=60, help_text="Which students: cohort H, autumn 2026.")
    year_line = models.CharField(
        "year level",
        max_length=240,
        blank=True,
        help_text="One line for visiting jurors: third year, seven weeks.",
    )
    opened_at = models.DateTimeField(auto_now_add=True)
    opened_by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    is_wall_open = models.BooleanField(
        "classmates may see issued sheets",
        default=True,
        help_text="Schedules, checks and levels stay with the scheme's own students.",
    )
    kept_until = models.DateField(null=True, blank=True)
    follows = models.ForeignKey(
        "self", null=True, blank=True, on_delete=models.SET_NULL, related_name="followed_by"
    )
    archive_key = models.UUIDField(null=True, blank=True, unique=True)
    brought_at = models.DateTimeField(null=True, blank=True)
    brought_receipt = models.CharField(max_length=64, blank=True, db_default="")

    objects = StudioQuerySet.as_manager()

    class Meta:
        ordering = ["-opened_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.title}, {self.cohort}"


class MembershipQuerySet(models.QuerySet["Membership"]):
    """Places in studios, in words."""

    def joined(self) -> MembershipQuerySet:
        """Those that count: an invitation gives nobody a right before it is taken up."""
        return self.filter(is_invited=False)

    def invited(self) -> MembershipQuerySet:
        """Those that nobody has taken up yet."""
        return self.filter(is_invited=True)


class Membership(models.Model):
    """A person's place in a studio, or the place to which they are invited.

    called      of an invitation, the name that its leader typed: the account's own is not told
    scheme      of an invitation, the scheme to be drawn
    school_id   what the school's roster calls the person (sourcedId of OneRoster): of this studio,
                for two schools may name two people alike
    """

    class Role(models.TextChoices):
        LEADER = "leader", "Studio leader"
        STUDENT = "student", "Student"
        SCRIBE = "scribe", "Scribe"
        EXAMINER = "examiner", "External examiner"

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="memberships")
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=Role)
    is_invited = models.BooleanField(default=False)
    called = models.CharField(max_length=120, blank=True)
    scheme = models.ForeignKey(
        "Scheme", null=True, blank=True, on_delete=models.SET_NULL, related_name="invited"
    )
    school_id = models.CharField(max_length=255, blank=True, default="", db_default="")

    objects = MembershipQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint("studio", "person", "role", name="one_place_a_role"),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.get_role_display().lower()} of {self.studio}"

    @property
    def name(self) -> str:
        """What the studio calls the person."""
        return self.called if self.is_invited else str(self.person)


class SchemeQuerySet(models.QuerySet["Scheme"]):
    """Schemes, in words."""

    def standing(self) -> SchemeQuerySet:
        """Those that aren't withdrawn."""
        return self.filter(withdrawn_at=None)


class Scheme(models.Model):
    """One student's or team's proposal."""

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="schemes")
    number = models.CharField(max_length=12, help_text="H03")
    name = models.CharField(max_length=80, help_text="Public handle of the scheme: Lee Shelf.")
    members = models.ManyToManyField(Person, related_name="schemes", blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = SchemeQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint("studio", "number", name="one_scheme_a_number"),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.marked_name}"

    @property
    def marked_name(self) -> str:
        """Its name; of one that is withdrawn, with that said."""
        return f"{self.name}, withdrawn" if self.withdrawn_at else self.name

    @property
    def by(self) -> str:
        """The names of its students, as on a title block."""
        return " and ".join(member.name for member in self.members.all())
