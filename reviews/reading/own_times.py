"""Somebody's own times as calendar entries: slots, crits, pens down and duties. No level, no word.

What was told and isn't so any more stays for a week as cancelled, so that a calendar that follows
takes it out; whoever left a studio, or whose seat was taken out, hears of nothing later than that.
What counts changes is kept: orders (`KeptOrder`), crossings, interests, seats, people.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.db.models import Count
from django.utils import timezone

from reviews import clock
from reviews.access_day import CANCELLED_FOR, SeatTakenOut
from reviews.exchange.calendar import Entry
from reviews.models import Crit, Duty, KeptOrder, Membership, Person, Scheme, Seat, Slot
from reviews.reading.left_places import changes_of_people, had_since

LOOKS_BACK = timedelta(days=60)
"""For how long after its day a crit stands in calendars."""

Line = dict[str, Any]


@dataclass(frozen=True)
class _Day:
    """A crit with its order as it stands, and what of it was told within the last week.

    told      what earlier orders said that were in force within that week, the last first
    is_over   whether nothing of it stands any more, for whoever left
    """

    crit: Crit
    slots: tuple[Slot, ...]
    told: tuple[KeptOrder, ...]
    count: int
    changed_at: datetime | None
    is_over: bool = False

    @property
    def placed(self) -> set[int]:
        """The schemes whose slot has an hour."""
        return {slot.scheme_id for slot in self.slots if slot.starts_at}

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """From the first slot to the end of the last; None where no hour is set."""
        hours = [slot.starts_at for slot in self.slots if slot.starts_at]
        if not hours:
            return None
        return _at(self.crit.day, min(hours)), self.ends(self.crit.day, max(hours))

    def ends(self, day: date, starts: time) -> datetime:
        """When a slot is over."""
        return _at(day, starts) + timedelta(minutes=self.crit.slot_parts.slot_min)

    def later(self, changes: int, at: datetime | None) -> _Day:
        """The same with more changes counted, the last of them at some moment."""
        latest = max(filter(None, (self.changed_at, at)), default=None)
        return replace(self, count=self.count + changes, changed_at=latest)

    def entry(self, what: str, of: str, starts: datetime | date, **more: Any) -> Entry:
        """An entry of this crit, known by `of`."""
        return Entry(
            uid=f"crit-{self.crit.pk}-{of}@{urlsplit(settings.SITE_ADDRESS).hostname}",
            starts=starts,
            what=what,
            words=f"{self.crit.studio}. {self.crit}.",
            **{"sequence": self.count, "changed_at": self.changed_at} | more,
        )


def times_of_person(person: Person) -> list[Entry]:
    """The crits of somebody's studios with pens down, their own slots, their duties."""
    joined = Membership.objects.joined().filter(person=person)
    places = {*joined.values_list("studio", flat=True)}
    had = had_since(person, clock.now() - CANCELLED_FOR)
    changes = changes_of_people(places | had.keys())
    own = {*person.schemes.values_list("pk", flat=True)}
    crits = Crit.objects.filter(studio__in=places | had.keys())
    found: list[Entry] = []
    for crit in crits.filter(day__gte=clock.today() - LOOKS_BACK).select_related("studio"):
        before, count = had.get(crit.studio_id), changes.get(crit.studio_id, 0)
        if before and crit.day < timezone.localdate(before.until):
            before = None  # whatever it was of the day, it was
        if crit.studio_id in places:
            day = _day(crit).later(count, before.until if before else None)
            found += _of_person(day, person, own, before.schemes - own if before else ())
        elif before:
            day = _day(crit, before.until).later(count, before.until)
            found += _as_cancelled(_of_person(day, person, (), before.schemes))
    return found


def _of_person(
    day: _Day, person: Person, own: Collection[int], before: Collection[int]
) -> Iterator[Entry]:
    """What somebody has of a crit who draws some schemes, and drew others before."""
    yield from _of_crit(day)
    yield _pens_down(day)
    yield from _slots(day, [slot for slot in day.slots if slot.scheme_id in own])
    yield from _as_cancelled(_slots(day, [s for s in day.slots if s.scheme_id in before]))
    yield from _gone(day, {*own, *before} - day.placed)
    yield from _duties(day, person)


def _as_cancelled(entries: Iterable[Entry]) -> Iterator[Entry]:
    return (replace(entry, is_cancelled=True) for entry in entries)


def times_of_seat(seat: Seat) -> list[Entry]:
    """A juror's crit, and what they see of it."""
    day = _day(seat.crit)
    seen = {*Slot.objects.seen_by(seat).values_list("pk", flat=True)}
    changes, changed_at = _changes_of(seat)
    day = day.later(changes, changed_at)
    found = [*_of_crit(day), *_slots(day, [slot for slot in day.slots if slot.pk in seen])]
    unseen = [slot for slot in day.slots if slot.pk not in seen]
    if changed_at and changed_at >= clock.now() - CANCELLED_FOR:
        found += _as_cancelled(_slots(day, unseen))
    return found + _gone(day, {line["scheme"] for line in _lines(day.told)} - day.placed)


def times_of_seat_taken_out(seat: SeatTakenOut) -> list[Entry]:
    """A juror's crit and slots as they were told until the seat was taken out, all cancelled."""
    if seat.crit.day < timezone.localdate(seat.at):
        return []
    day = _day(seat.crit, seat.at).later(_changes_of_jurors(seat.crit), seat.at)
    rooms = {"", seat.room}
    seen = {line["scheme"] for line in _lines(day.told) if not seat.room or line["room"] in rooms}
    return [*_as_cancelled(_of_crit(day)), *_gone(day, seen)]


def _changes_of(seat: Seat) -> tuple[int, datetime | None]:
    """How often it was changed which slots a juror sees, and when last."""
    when: list[datetime] = []
    for crossing in seat.crossings.all():
        when += filter(None, (crossing.at, crossing.taken_back_at))
    for interest in seat.interests.all():
        when += filter(None, (interest.declared_at, interest.taken_back_at))
    count = len(when) + _changes_of_jurors(seat.crit)
    return count, max([*when, *filter(None, [seat.room_since])], default=None)


def _changes_of_jurors(crit: Crit) -> int:
    """How often a crit's jurors were changed, and put back."""
    counted: dict[str, int] = crit.changes.aggregate(done=Count("pk"), undone=Count("undone_at"))
    return counted["done"] + counted["undone"]


def _day(crit: Crit, left_at: datetime | None = None) -> _Day:
    """A crit's day; for whoever left at a moment what was told until then, and nothing stands."""
    slots = () if left_at else tuple(crit.slots.select_related("scheme"))
    orders = [each for each in crit.orders.all() if not left_at or each.kept_at <= left_at]
    now = clock.now()
    told = [order for order, after in pairwise(orders) if after.kept_at >= now - CANCELLED_FOR]
    told += orders[-1:] if left_at else []
    last = orders[-1].kept_at if orders else None
    is_over = left_at is not None
    return _Day(crit, slots, tuple(reversed(told)), len(orders), last, is_over)


def _of_crit(day: _Day) -> Iterator[Entry]:
    starts, ends = day.span or (day.crit.day, None)
    yield day.entry(
        f"{day.crit.get_kind_display()}, {day.crit.studio.title}", "day", starts, ends=ends
    )


def _pens_down(day: _Day) -> Entry:
    return day.entry(f"Pens down, {day.crit.studio.title}", "pens-down", day.crit.pens_down)


def _slots(day: _Day, slots: Iterable[Slot]) -> list[Entry]:
    return [
        _slot(day, slot.scheme, day.crit.day, slot.starts_at, slot.room)
        for slot in slots
        if slot.starts_at
    ]


def _slot(day: _Day, scheme: Scheme, on: date, starts: time, room: str, **more: Any) -> Entry:
    return day.entry(
        str(scheme),
        f"scheme-{scheme.pk}",
        _at(on, starts),
        ends=day.ends(on, starts),
        where=f"Room {room}" if room else "",
        **more,
    )


def _gone(day: _Day, schemes: set[int]) -> list[Entry]:
    """Slots that an order told of within the week, and that left it or have no hour any more."""
    last: dict[int, Line] = {}
    for line in _lines(day.told):
        if line["scheme"] in schemes and line["starts_at"]:
            last.setdefault(line["scheme"], line)
    found = Scheme.objects.in_bulk(list(last))
    return [
        _slot(
            day,
            found[pk],
            day.crit.day,
            time.fromisoformat(line["starts_at"]),
            line["room"],
            is_cancelled=True,
        )
        for pk, line in last.items()
        if pk in found
    ]


def _lines(told: Iterable[KeptOrder]) -> list[Line]:
    return [line for order in told for line in order.lines if "scheme" in line]


def _duties(day: _Day, person: Person) -> Iterator[Entry]:
    """Duties that stand, and those that an order told of within the week."""
    stand = () if day.is_over else day.crit.duties.filter(person=person)
    now = {_key(duty): duty for duty in stand}
    told: dict[str, Line] = {}
    for order in day.told:
        for line in order.plan.get("duties", ()):
            if line["person"] == person.pk:
                told.setdefault(line["key"], line)
    for key, duty in now.items():
        yield from _duty(day, key, duty.get_kind_display(), duty.slot_id, duty.room)
    for key, line in told.items():
        if key not in now:
            kind = Duty.Kind(line["kind"]).label
            gone = _duty(day, key, kind, line["slot"], line["room"])
            yield from (replace(entry, is_cancelled=True) for entry in gone)


def duty_lines(crit: Crit) -> list[Line]:
    """Duties as a kept order remembers them, without a name."""
    return [
        {
            "key": _key(duty),
            "person": duty.person_id,
            "kind": str(duty.kind),
            "slot": duty.slot_id,
            "room": duty.room,
        }
        for duty in crit.duties.all()
    ]


def _key(duty: Duty) -> str:
    return f"{duty.kind}-{duty.person_id}-{duty.slot_id or 'day'}-{duty.room or 'all'}"


def _duty(day: _Day, key: str, kind: str, slot_id: int | None, room: str) -> Iterator[Entry]:
    """A duty of one slot in its time, one of the day from the first slot to the last."""
    slot = next((slot for slot in day.slots if slot.pk == slot_id), None)
    where = (slot.room if slot else room) or ""
    span = day.span
    if slot and slot.starts_at:
        starts = _at(day.crit.day, slot.starts_at)
        span = starts, day.ends(day.crit.day, slot.starts_at)
    what = f"{kind}: {slot.scheme}" if slot else f"{kind}, {day.crit.get_kind_display()}"
    begins, ends = span or (day.crit.day, None)
    where = f"Room {where}" if where else ""
    yield day.entry(what, f"duty-{key}", begins, ends=ends, where=where)


def _at(day: date, hour: time) -> datetime:
    return timezone.make_aware(datetime.combine(day, hour))
