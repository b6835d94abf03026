"""The audit list: who did what with levels and with people's data, line under line, for good."""

from __future__ import annotations

from typing import Any, NoReturn

from django.db import models
from django.utils import timezone

from reviews.models.briefs import Frozen
from reviews.models.people import Person
from reviews.models.seats import Seat
from reviews.models.studios import Studio


class AuditQuerySet(models.QuerySet["AuditLine"]):
    """Lines, in words; what is written is neither changed nor taken out."""

    def named(self) -> AuditQuerySet:
        """The same, each with the names that it shows."""
        return self.select_related("person", "seat", "of_person", "of_seat")

    def of_deed(self, deed: str) -> AuditQuerySet:
        """Those of one kind of deed; all of them where it names none."""
        return self.filter(deed=deed) if deed in AuditLine.Deed.values else self

    def update(self, **more: Any) -> NoReturn:
        raise Frozen("A line of the audit list does not change.")

    def bulk_update(self, *args: Any, **more: Any) -> NoReturn:
        self.update()

    def delete(self) -> NoReturn:
        raise Frozen("A line of the audit list stays.")


class AuditLine(models.Model):
    """That somebody did something at a moment: never a level, never a word of a comment.

    Names are keys, so that whoever is made anonymous is so here. A seat that was taken out leaves
    its lines.

    studio      None where it was of the whole site, or of somebody without a studio
    person      who did it; None was a juror without an account or, where there is no seat either,
                the site's administrator by a command
    seat        by whose personal link
    about       crit, scheme or table, in words
    of_person   whose data, and whose jury sheet
    """

    class Deed(models.TextChoices):
        READ = "read", "Levels read"
        CHANGED = "changed", "Level changed after lock"
        REOPENED = "reopened", "Jury sheet opened again"
        MODERATED = "moderated", "Moderated"
        AGREED = "agreed", "Level agreed"
        PROOFED = "proofed", "Read before release"
        SENT = "sent", "Comments sent, without levels"
        TYPED = "typed", "Jury sheet typed in from paper"
        HANDED_IN = "handed-in", "Handed in for students"
        RELEASED = "released", "Released"
        CALLED_BACK = "called-back", "Called back"
        APPEALED = "appealed", "Appeal made"
        DECIDED = "decided", "Appeal decided"
        LETTER = "letter", "Letter sent to a juror"
        EVIDENCE = "evidence", "Evidence book made"
        STUDIO_OUT = "studio-out", "Studio archived"
        STUDIO_IN = "studio-in", "Studio brought in"
        CARRIED = "carried", "Brief carried over"
        EXPORTED = "exported", "Table exported"
        ENTERED = "entered", "Entered by own link"
        ENTERED_AS = "entered-as", "Entered by another's link"
        DATA_EXPORTED = "data-exported", "Data of a person exported"
        READDRESSED = "readdressed", "Address of an account changed"
        ERASED = "erased", "Person made anonymous"
        DATED = "dated", "Retention date set"
        RETAINED = "retained", "Retention carried out"

    studio = models.ForeignKey(
        Studio, null=True, blank=True, on_delete=models.PROTECT, related_name="audit_lines"
    )
    at = models.DateTimeField(default=timezone.now)
    person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    seat = models.ForeignKey(
        Seat,
        null=True,
        blank=True,
        on_delete=models.DO_NOTHING,
        db_constraint=False,
        related_name="+",
    )
    deed = models.CharField(max_length=16, choices=Deed)
    about = models.CharField(max_length=200, blank=True)
    of_person = models.ForeignKey(
        Person, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    of_seat = models.ForeignKey(
        Seat,
        null=True,
        blank=True,
        on_delete=models.DO_NOTHING,
        db_constraint=False,
        related_name="+",
    )

    objects = AuditQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["studio", "deed", "at"])]

    def __str__(self) -> str:
        return f"{self.get_deed_display()}: {self.about}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and not self._state.adding:
            raise Frozen("A line of the audit list does not change.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise Frozen("A line of the audit list stays.")

    @property
    def who(self) -> str:
        """Who did it, in words."""
        if self.person:
            return str(self.person)
        if self.seat_id:
            return f"{self.seat or 'A juror whose seat was taken out'}, no account"
        return "The administrator, by a command"

    @property
    def by_link_of(self) -> str:
        """By whose personal link."""
        return str(self.seat or "a seat that was taken out") if self.seat_id else ""

    @property
    def of_whom(self) -> str:
        """Whose data, or whose jury sheet."""
        return str(self.of_person or self.of_seat or "")
