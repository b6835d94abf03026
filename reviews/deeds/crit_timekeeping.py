"""Keep the time of a crit: each press once, at the moment at which it was made.

Several may keep time at once, and a device may have been without network: the entries of a slot are
read in the order of their moments, and a press that doesn't fit what stands is refused in words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, time, timedelta
from uuid import UUID, uuid4, uuid5

from django.db import transaction
from django.utils import timezone

from reviews import clock
from reviews.deeds.crit_running_order import remember
from reviews.models import ClockEntry, Crit, Person, RoomLink, Slot
from reviews.models.briefs import Frozen
from reviews.reading.crit_clock import STOOD_DOWN, Entry, is_same_press, read
from reviews.reading.crit_day import (
    Timed,
    called,
    entry_of,
    first_free,
    places_up,
    timed,
)

Deed = ClockEntry.Deed

AHEAD = timedelta(seconds=2)
"""How far a device's moment may lie ahead of the site's."""


@dataclass(frozen=True)
class Press:
    """What was pressed.

    key         made by the device: the same press sent twice is one
    at          when, by the site's clock as the device knows it; None where it doesn't
    seen        key of the slot's last entry that the page showed; None where it showed none
    moves_up    of a slot that stood down: those after it move up into its time
    """

    deed: Deed
    key: UUID = field(default_factory=uuid4)
    at: datetime | None = None
    seen: UUID | None = None
    minutes: int | None = None
    words: str = ""
    starts_at: time | None = None
    room: str = ""
    moves_up: bool = False


def do(slot: Slot, sent: Press, by: Person) -> None:
    """Do what a button asks: a press, an offer of the first free time, or a room that moves up.

    Raises Frozen, in words, where it doesn't fit what stands.
    """
    if sent.moves_up:
        move_up(slot, sent, by)
    elif sent.deed == Deed.OFFERED and not sent.starts_at:
        offer_free(slot, sent, by)
    else:
        press(slot, sent, by)


@transaction.atomic
def press(slot: Slot, sent: Press, by: Person) -> ClockEntry:
    """Keep one press; the same sent twice, or made by two at once, is one.

    Raises Frozen, in words, where it doesn't fit what stands.
    """
    return _press(Crit.objects.hold(slot.crit_id), slot.pk, sent, by)


def _press(crit: Crit, slot_id: int, sent: Press, by: Person) -> ClockEntry:
    if same := ClockEntry.objects.filter(key=sent.key).first():
        return same
    if crit.is_released:
        raise Frozen("The crit is released. Its clock stands as it was kept.")
    now = clock.now()
    slots = list(crit.slots.select_related("scheme"))
    day = timed(crit, slots, now)
    own = next((each for each in day if each.slot.pk == slot_id), None)
    if own is None:
        raise Frozen("This scheme is no longer in the running order.")
    at = _bounded(sent, own.entries, now)
    entry = Entry(sent.deed, at, sent.minutes, sent.words, sent.starts_at, sent.room)
    if same := _pressed_at_once(own.entries, entry):
        return same
    if sent.deed == Deed.STARTED:
        _require_room(own, day)
    if sent.deed == Deed.TAKEN and (offer := own.clock.offer):
        sent = replace(sent, starts_at=offer.starts_at, room=offer.room)
    if sent.deed in (Deed.MOVED, Deed.TAKEN):
        _require_hour(own, day, sent)
    after = read([*map(entry_of, own.entries), entry], own.minutes, now)
    if any(each is entry for each in after.passed_over):
        raise Frozen(_not_now(own, sent))
    row = ClockEntry(
        key=sent.key,
        slot=own.slot,
        deed=sent.deed,
        at=at,
        by=by,
        minutes=sent.minutes,
        words=sent.words,
        starts_at=sent.starts_at,
        room=sent.room,
    )
    if sent.deed in (Deed.MOVED, Deed.TAKEN):
        row.was_at, row.was_room = own.slot.starts_at, own.slot.room
        _place(own.slot, row.starts_at, row.room, by)
    row.save()
    return row


def _bounded(sent: Press, rows: Sequence[ClockEntry], now: datetime) -> datetime:
    """The moment that is kept: never ahead of now, nor before what the page showed.

    What comes late, from a device that was without network, keeps its moment.
    """
    at = min(sent.at or now, now + AHEAD)
    seen = next((row.at for row in rows if row.key == sent.seen), None)
    return max(at, seen) if seen else at


def _pressed_at_once(rows: Iterable[ClockEntry], entry: Entry) -> ClockEntry | None:
    for row in rows:
        kept = entry_of(row)
        first, second = sorted((kept, entry), key=lambda each: each.at)
        if is_same_press(first, second):
            return row
    return None


def _require_room(own: Timed, day: Iterable[Timed]) -> None:
    """Raise Frozen where something else is on before the same people."""
    for each in day:
        shared = not each.slot.room or not own.slot.room or each.slot.room == own.slot.room
        if each.slot != own.slot and each.clock.runs and shared:
            where = called(each.slot.room)
            raise Frozen(f"{each.slot.scheme} is still on ({where}). End it before another starts.")


def _require_hour(own: Timed, day: Iterable[Timed], sent: Press) -> None:
    if sent.starts_at is None:
        raise Frozen("Read no hour. Expected the one to which the scheme is moved, such as 11:14.")
    for each in day:
        here = (each.slot.starts_at, each.slot.room) == (sent.starts_at, sent.room)
        if here and each.slot != own.slot and each.clock.state not in STOOD_DOWN:
            raise Frozen(
                f"{each.slot.scheme} is at {sent.starts_at:%H:%M} ({called(sent.room)}) already."
            )


def _place(slot: Slot, starts_at: time | None, room: str, by: Person) -> None:
    slot.starts_at, slot.room = starts_at, room
    slot.save(update_fields=["starts_at", "room"])
    remember(slot.crit, by, lot=slot.crit.drawn_seed)


def _not_now(own: Timed, sent: Press) -> str:
    """Say why a press changes nothing: what stands, since when, by whom."""
    stands = str(own.clock.state)
    if last := own.last:
        stands += f", since {_hour(last.at)} by {last.by}"
    return f"“{sent.deed.label}” doesn't fit {own.slot.scheme}: {stands}. Nothing is changed."


def _hour(at: datetime) -> str:
    return f"{timezone.localtime(at):%H:%M:%S}"


@transaction.atomic
def take_back(crit: Crit, key: UUID, by: Person) -> list[ClockEntry]:
    """Take back an entry, and those that were moved with it; what is taken back stays so.

    Raises Frozen where something was done to the slot since.
    """
    held = Crit.objects.hold(crit.pk)
    if held.is_released:
        raise Frozen("The crit is released. Its clock stands as it was kept.")
    entry = ClockEntry.objects.filter(slot__crit=held, key=key).select_related("slot").first()
    if entry is None:
        raise Frozen("This press is not known here. Nothing is taken back.")
    if entry.taken_back_at:
        return []
    undone = [entry]
    if entry.deed == Deed.MOVED:
        rows = ClockEntry.objects.standing().filter(slot__crit=held, deed=Deed.MOVED, at=entry.at)
        undone = list(rows.filter(by=entry.by).select_related("slot"))
    for each in undone:
        _take_back(each, by)
    return undone


def _take_back(entry: ClockEntry, by: Person) -> None:
    last = ClockEntry.objects.standing().filter(slot=entry.slot).last()
    if last is not None and last.pk != entry.pk:
        raise Frozen(
            f"{entry.slot.scheme}: {last.get_deed_display().lower()} at {_hour(last.at)} came "
            "after it. Take that back first."
        )
    if entry.deed in (Deed.MOVED, Deed.TAKEN):
        _place(entry.slot, entry.was_at, entry.was_room, by)
    entry.taken_back_at, entry.taken_back_by = clock.now(), by
    entry.save(update_fields=["taken_back_at", "taken_back_by"])


@transaction.atomic
def offer_free(slot: Slot, sent: Press, by: Person) -> ClockEntry:
    """Offer the first free time of the slot's room, once. Raises Frozen where there is none."""
    crit = Crit.objects.hold(slot.crit_id)
    now = clock.here()
    day = timed(crit, crit.slots.select_related("scheme"), now)
    keeps = [
        each.slot
        for each in day
        if each.slot.room in ("", slot.room) and each.clock.state not in STOOD_DOWN
    ]
    offered = [each.clock.offer for each in day if each.clock.offer and each.slot.pk != slot.pk]
    held = {offer.starts_at for offer in offered if offer.is_taken is None}
    after = now.time() if crit.day == now.date() else time()
    free = first_free(crit, keeps, slot.room, after, held)
    if free is None:
        raise Frozen(f"{called(slot.room)} has no whole slot free any more today.")
    return _press(crit, slot.pk, replace(sent, starts_at=free, room=slot.room), by)


@transaction.atomic
def move_up(slot: Slot, sent: Press, by: Person) -> list[ClockEntry]:
    """Let the room move up into the time of a slot that stood down, as one press.

    Raises Frozen where nobody can.
    """
    crit = Crit.objects.hold(slot.crit_id)
    if kept := list(ClockEntry.objects.filter(slot__crit=crit, key=sent.key)):
        return kept
    now = clock.now()
    day = timed(crit, crit.slots.select_related("scheme", "crit").order_by("starts_at"), now)
    of_room = [each for each in day if each.slot.room == slot.room]
    freed = next((each for each in of_room if each.slot.pk == slot.pk), None)
    if freed is None or freed.clock.state not in STOOD_DOWN:
        raise Frozen(f"{slot.scheme} did not stand down: its time is its own.")
    moves = places_up(of_room, freed, now)
    if not moves:
        raise Frozen("Nobody comes after it before the next break: nobody moves up.")
    rows = []
    for n, (moved, hour) in enumerate(moves):
        key = sent.key if n == 0 else uuid5(sent.key, str(moved.pk))
        sending = Press(Deed.MOVED, key, now, starts_at=hour, room=moved.room)
        rows.append(_press(crit, moved.pk, sending, by))
    return rows


@transaction.atomic
def link_room(crit: Crit, room: str) -> RoomLink:
    """The projector's link of a room, made where there is none."""
    Crit.objects.hold(crit.pk)
    link, _ = RoomLink.objects.get_or_create(crit=crit, room=room)
    return link
