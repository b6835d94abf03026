"""Who may do what on the day of a crit: keep time, take notes, show the clock of a room.

A projector comes by its room's link, without an account; whoever keeps time or notes has a duty;
leaders may do either.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q, QuerySet

from reviews import clock
from reviews.access import Role, Viewer, can_lead, is_or_was_own, studios
from reviews.models import (
    AlikeGroup,
    CalendarLink,
    Change,
    Comment,
    Crit,
    Crossing,
    Duty,
    OpposedPair,
    Person,
    Rewording,
    RoomLink,
    Scheme,
    Seat,
    Slot,
    SpokenNote,
)
from reviews.models.moderated import RewordingQuerySet
from reviews.models.spoken import SpokenNoteQuerySet


def room_behind(code: str) -> RoomLink | None:
    """The room of a projector's link."""
    links = RoomLink.objects.select_related("crit__studio")
    return links.filter(code=code.strip().lower()).first()


@dataclass(frozen=True)
class SeatTakenOut:
    """A juror's seat that isn't there any more, as far as its calendar says so."""

    crit: Crit
    room: str
    at: datetime


CALENDAR = "calendar__code"
"""Where a change of jurors keeps the address of a seat's calendar."""
CANCELLED_FOR = timedelta(days=7)
"""For how long a calendar says that what stood in it is cancelled."""


def calendar_behind(code: str) -> Person | Seat | SeatTakenOut | None:
    """Whose times stand under a secret address: of an account that stands, or a named juror.

    Of a juror whose seat was taken out, for a week, that it was.
    """
    sent = code.strip().lower()
    links = CalendarLink.objects.select_related("person", "seat__crit__studio")
    link = links.filter(code=sent).first()
    if link is None:
        return _taken_out(sent)
    if link.person:
        return link.person if link.person.is_active else None
    return link.seat if link.seat and link.seat.erased_at is None else None


def _taken_out(code: str) -> SeatTakenOut | None:
    """The seat of a calendar's address that a change took out, and nobody has put back."""
    since = clock.now() - CANCELLED_FOR
    late = Change.objects.filter(at__gte=since, undone_at=None, crit__day__gte=since.date())
    for change in late.filter(schedule="jurors").select_related("crit__studio"):
        stand = {line["pk"] for line in change.after}
        for line in change.before:
            if code and line.get(CALENDAR) == code and line["pk"] not in stand and change.crit:
                return SeatTakenOut(change.crit, line["room"], change.at)
    return None


def link_of_room(crit: Crit, room: str) -> RoomLink | None:
    """The link of a room's projector, where one was made."""
    return crit.room_links.filter(room=room).first()


def duties(viewer: Viewer, crit: Crit, kind: Duty.Kind) -> QuerySet[Duty]:
    """What a person does at a crit, of one kind."""
    return crit.duties.filter(person=viewer.person, kind=kind)


def day_crits(viewer: Viewer) -> QuerySet[Crit]:
    """Crits of the viewer's studios, and those at which they have a duty."""
    own = Duty.objects.filter(person=viewer.person).values("crit")
    return Crit.objects.filter(Q(studio__in=studios(viewer)) | Q(pk__in=own))


def can_see_day(viewer: Viewer, crit: Crit) -> bool:
    """Leaders, coordinators, and whoever has a duty at the crit: all rooms, states and clock."""
    if can_lead(viewer, crit.studio_id) or viewer.is_coordinator:
        return True
    return viewer.person is not None and crit.duties.filter(person=viewer.person).exists()


def can_see_panels(viewer: Viewer, crit: Crit) -> bool:
    """Leaders, who also change them, and coordinators: who sits where, and who is aside."""
    return can_lead(viewer, crit.studio_id) or viewer.is_coordinator


def led_crossings(viewer: Viewer) -> QuerySet[Crossing]:
    """Crossings at crits of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return Crossing.objects.filter(seat__crit__studio_id__in=led).select_related("seat")


def can_take_paper(viewer: Viewer, crit: Crit) -> bool:
    """Leaders and coordinators: names of jurors, schemes and hours, and no entry."""
    return can_lead(viewer, crit.studio_id) or viewer.is_coordinator


def can_keep_time(viewer: Viewer, slot: Slot) -> bool:
    """Leaders, and the timekeepers of the slot's room or of all; nobody once it is released."""
    if slot.crit.is_released:
        return False
    if can_lead(viewer, slot.crit.studio_id):
        return True
    kept = duties(viewer, slot.crit, Duty.Kind.TIMEKEEPER)
    here = Q() if not slot.room else Q(room="") | Q(room=slot.room)
    return kept.filter(here, Q(slot=None) | Q(slot=slot)).exists()


def can_keep_room(viewer: Viewer, crit: Crit, room: str) -> bool:
    """Leaders, and whoever keeps time in the room, of all or of one slot of it; to the release."""
    if crit.is_released:
        return False
    if can_lead(viewer, crit.studio_id):
        return True
    kept = duties(viewer, crit, Duty.Kind.TIMEKEEPER)
    return kept.filter(Q(slot=None, room__in=("", room)) | Q(slot__room__in=("", room))).exists()


def can_note_who_is_there(viewer: Viewer, crit: Crit) -> bool:
    """Leaders, and whoever keeps time at the crit; to the release."""
    if crit.is_released:
        return False
    if can_lead(viewer, crit.studio_id):
        return True
    return duties(viewer, crit, Duty.Kind.TIMEKEEPER).exists()


def can_take_notes(viewer: Viewer, slot: Slot) -> bool:
    """Leaders, the studio's scribes, and whoever has the duty for the slot; until the release.

    Nobody for the own scheme: whoever presents doesn't write.
    """
    if slot.crit.is_released or slot.scheme_id in viewer.own_scheme_ids:
        return False
    studio_id = slot.crit.studio_id
    if can_lead(viewer, studio_id) or viewer.is_(Role.SCRIBE, studio_id):
        return True
    kept = duties(viewer, slot.crit, Duty.Kind.SCRIBE)
    return kept.filter(Q(slot=slot) | Q(slot=None, room__in=("", slot.room))).exists()


def can_read_comments(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's own students, once comments are sent and until the release: no level."""
    is_theirs = scheme.studio_id == crit.studio_id and is_or_was_own(viewer, crit, scheme)
    return crit.is_sent and is_theirs


def can_read_spoken(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """Of whoever reads a scheme's results: all but coordinators with no place in the studio."""
    if not viewer.is_coordinator or can_lead(viewer, crit.studio_id):
        return True
    return viewer.is_(Role.EXAMINER, crit.studio_id) or is_or_was_own(viewer, crit, scheme)


def can_scribe(viewer: Viewer, crit: Crit) -> bool:
    """Whoever may take notes of any slot of a crit, until the release."""
    if crit.is_released:
        return False
    if can_lead(viewer, crit.studio_id) or viewer.is_(Role.SCRIBE, crit.studio_id):
        return True
    return duties(viewer, crit, Duty.Kind.SCRIBE).exists()


def lines_of(viewer: Viewer, slot: Slot) -> SpokenNoteQuerySet:
    """Lines of a slot that whoever takes notes may read: leaders all, and those on duty; else own.

    What other scribes typed is theirs: classmates don't read what was said of a scheme.
    """
    lines = SpokenNote.objects.filter(slot=slot)
    on_duty = duties(viewer, slot.crit, Duty.Kind.SCRIBE).filter(slot=slot).exists()
    if on_duty or can_lead(viewer, slot.crit.studio_id):
        return lines
    return lines.filter(by=viewer.person)


def noted_slots(viewer: Viewer, crit: Crit) -> list[Slot]:
    """The slots of a crit of which somebody may take notes, in the order of the day."""
    slots = crit.slots.select_related("scheme", "crit__studio")
    return [slot for slot in slots if can_take_notes(viewer, slot)]


def led_spoken(viewer: Viewer) -> SpokenNoteQuerySet:
    """What was said aloud at the crits of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return SpokenNote.objects.filter(slot__crit__studio_id__in=led)


def led_pairs(viewer: Viewer) -> QuerySet[OpposedPair]:
    """Opposed comments, paired, of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return OpposedPair.objects.filter(crit__studio_id__in=led)


def led_groups(viewer: Viewer) -> QuerySet[AlikeGroup]:
    """Groups of alike comments of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return AlikeGroup.objects.filter(crit__studio_id__in=led)


def led_offers(viewer: Viewer) -> QuerySet[Rewording]:
    """Other words offered for comments of the studios that the viewer leads."""
    led = viewer.studios_as(Role.LEADER)
    return Rewording.objects.filter(comment__jury_sheet__seat__crit__studio_id__in=led)


def offers_to(seat: Seat) -> RewordingQuerySet:
    """Other words offered to a juror and not taken back, until their link ends."""
    offers = Rewording.objects.not_taken_back().filter(comment__jury_sheet__seat=seat)
    return offers.select_related(
        "comment__jury_sheet__scheme", "comment__issued_sheet", "comment__revision", "offered_by"
    )


def paired_comments(pair: OpposedPair) -> QuerySet[Comment]:
    """Both comments of a pair."""
    both = Comment.objects.filter(pk__in=(pair.first_id, pair.second_id))
    return both.select_related("jury_sheet__seat", "issued_sheet")


def chosen_comments(crit: Crit, scheme: Scheme) -> QuerySet[Comment]:
    """The comments of a scheme that a leader may pair or group: those that are read."""
    return (
        Comment.objects.standing()
        .of(crit, scheme)
        .select_related("jury_sheet__seat", "issued_sheet")
    )
