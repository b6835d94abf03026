"""Times as a calendar that other programs read: iCalendar, RFC 5545.

Every moment is written in UTC (3.3.5, form 2), so that no time zone has to be described and no
reader's own rules of summer time count. Lines are folded at 75 octets and text is escaped by the
library (3.1, 3.3.11).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar, Event

MADE_BY = "-//Muntin//Crit days//EN"

ASKED_EVERY = timedelta(minutes=15)
"""How often a program that follows the calendar is asked to look again (RFC 7986, 5.7)."""


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry: of a moment, from one to another, or of a whole day.

    uid            the same for the same thing for ever, whatever becomes of it
    starts, ends   with their time zone; ends is None of a moment, and of a whole day that `starts`
                   names as a date
    sequence       counts what was changed of it; a reader takes the higher
    is_cancelled   it was there and is not any more
    changed_at     when it was last changed, where that is known
    """

    uid: str
    starts: datetime | date
    ends: datetime | None = None
    what: str
    where: str = ""
    words: str = ""
    sequence: int = 0
    is_cancelled: bool = False
    changed_at: datetime | None = None


def as_calendar(name: str, entries: Iterable[Entry], made_at: datetime) -> bytes:
    """Write entries as one calendar, in their order."""
    calendar = Calendar()
    calendar.add("prodid", MADE_BY)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)
    calendar.add("refresh-interval", ASKED_EVERY, parameters={"VALUE": "DURATION"})
    for entry in entries:
        calendar.add_component(_event(entry, made_at))
    return bytes(calendar.to_ical())


def _event(entry: Entry, made_at: datetime) -> Event:
    event = Event()
    event.add("uid", entry.uid)
    event.add("dtstamp", made_at.astimezone(UTC))
    if entry.changed_at:
        event.add("last-modified", entry.changed_at.astimezone(UTC))
    event.add("sequence", entry.sequence)
    event.add("dtstart", _moment(entry.starts))
    if entry.ends is not None:
        event.add("dtend", _moment(entry.ends))
    event.add("summary", entry.what)
    if entry.where:
        event.add("location", entry.where)
    if entry.words:
        event.add("description", entry.words)
    event.add("status", "CANCELLED" if entry.is_cancelled else "CONFIRMED")
    event.add("transp", "TRANSPARENT" if entry.ends is None else "OPAQUE")
    return event


def _moment(at: datetime | date) -> datetime | date:
    return at.astimezone(UTC) if isinstance(at, datetime) else at
