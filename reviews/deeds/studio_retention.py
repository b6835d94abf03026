"""Carry out a studio's day of retention: its people lose their names, the record stays.

Made anonymous are all who have a place, a scheme, issued work or a juror's seat in the studio, but
for those of another studio whose day isn't over and for those who open studios or coordinate: their
accounts belong to the programme. Drafts that nobody named draws go with them, then every picture
that was never issued, and the changes of roster and jurors, which repeat names. Revisions, jury
sheets and answers stay. A studio with a crit begun or to come waits, and says so each time.

Done twice, it changes nothing the second time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.person_erasing import Somebody, counted, make_anonymous
from reviews.deeds.sheet_clearing import clear_those
from reviews.models import Change, Crit, Person, Seat, Sheet, Studio


@dataclass(frozen=True)
class Due:
    """What the day of retention of one studio comes to.

    held_back   crits for which it waits
    """

    studio: Studio
    people: list[Person]
    seats: list[Seat]
    sheets: list[Sheet]
    held_back: list[Crit]

    @property
    def is_done(self) -> bool:
        """Whether nothing is left to do."""
        return not (self.people or self.seats or self.sheets)

    @property
    def words(self) -> str:
        """What goes, counted, without a name."""
        return (
            f"{counted(len(self.people), 'account')} and {counted(len(self.seats), 'juror')} "
            f"made anonymous, {counted(len(self.sheets), 'sheet')} never issued taken down"
        )


def due() -> list[Due]:
    """The studios whose day is over and where something is left to do."""
    found = [due_of(studio) for studio in Studio.objects.due(timezone.localdate())]
    return [each for each in found if not each.is_done]


def due_of(studio: Studio) -> Due:
    """What is left to do in a studio."""
    today = timezone.localdate()
    standing = Studio.objects.exclude(pk__in=Studio.objects.due(today).values("pk"))
    return Due(
        studio,
        list(Person.objects.of_studio(studio).without_a_place_in(standing).order_by("pk")),
        list(Seat.objects.named().filter(crit__studio=studio).order_by("pk")),
        list(Sheet.objects.filter(package__scheme__studio=studio, file__issued=None)),
        list(studio.crits.open_on(today)),
    )


@transaction.atomic
def carry_out(studio: Studio) -> Due:
    """Do it, if it is due and no crit holds it back; say what was done."""
    held = Studio.objects.select_for_update().get(pk=studio.pk)
    for crit in held.crits.order_by("pk"):
        Crit.objects.hold(crit.pk)
    told = due_of(held)
    is_over = Studio.objects.due(timezone.localdate()).filter(pk=held.pk).exists()
    if told.is_done or told.held_back or not is_over:
        return told
    for person in told.people:
        make_anonymous(Somebody(person))
    for seat in told.seats:
        make_anonymous(Somebody(None, (seat,)))
    left = Sheet.objects.filter(pk__in=[sheet.pk for sheet in told.sheets])
    files = list(left.values_list("file", "original"))
    left.delete()
    transaction.on_commit(partial(clear_those, files))
    Change.objects.filter(Q(studio=held) | Q(crit__studio=held)).delete()
    record(Deed.RETAINED, held, about=told.words)
    return told
