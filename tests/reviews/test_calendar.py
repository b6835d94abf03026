"""Calendars held to RFC 5545, and read again by a library that knows it."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from reviews.exchange.calendar import Entry, as_calendar

MADE_AT = datetime(2026, 12, 1, 9, tzinfo=UTC)
STARTS = datetime(2026, 12, 4, 9, 15, tzinfo=ZoneInfo("Europe/Zurich"))


def entry(**more) -> Entry:
    return Entry(**{"uid": "crit-1-day@example.org", "starts": STARTS, "what": "Final"} | more)


def events(entries):
    return Calendar.from_ical(as_calendar("Days", entries, MADE_AT)).walk("VEVENT")


def test_an_entry_is_read_again_as_it_was():
    """3.6.1: DTSTAMP and UID are required; 3.8.7.4 SEQUENCE, 3.8.1.11 STATUS."""
    ends = STARTS + timedelta(minutes=27)
    changed = MADE_AT - timedelta(days=1)
    [read] = events(
        [entry(ends=ends, where="Room A; B", words="a,b\\c", sequence=3, changed_at=changed)]
    )
    assert (read.decoded("dtstart"), read.decoded("dtend")) == (STARTS, ends)
    assert read.decoded("dtstart").utcoffset() == timedelta()
    assert (read["uid"], str(read["location"])) == ("crit-1-day@example.org", "Room A; B")
    assert (str(read["description"]), read["sequence"]) == ("a,b\\c", 3)
    assert (read["status"], read["transp"]) == ("CONFIRMED", "OPAQUE")
    assert (read.decoded("dtstamp"), read.decoded("last-modified")) == (MADE_AT, changed)


def test_a_moment_has_no_end_and_takes_no_time_and_a_whole_day_is_a_date():
    """3.6.1: without an end a moment ends as it starts; 3.8.2.7: it blocks nobody's hours."""
    moment, day = events([entry(), entry(starts=date(2026, 12, 4))])
    assert "dtend" not in moment
    assert moment["transp"] == "TRANSPARENT"
    assert day.decoded("dtstart") == date(2026, 12, 4)
    assert "last-modified" not in day


def test_what_is_cancelled_says_so():
    assert events([entry(is_cancelled=True)])[0]["status"] == "CANCELLED"


def test_the_whole_says_by_whom_and_in_which_version():
    """3.6: PRODID and VERSION must stand once."""
    read = Calendar.from_ical(as_calendar("Days", [], MADE_AT))
    assert (read["version"], read["method"]) == ("2.0", "PUBLISH")
    assert "Muntin" in read["prodid"]


WORDS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=200)


@given(WORDS, WORDS, st.integers(0, 10**6))
def test_whatever_is_written_is_folded_escaped_and_read_again(what, where, sequence):
    """3.1: lines of 75 octets at most, each ended by CRLF; 3.3.11: text escaped."""
    written = as_calendar("Days", [entry(what=what, where=where, sequence=sequence)], MADE_AT)
    assert max(len(line) for line in written.split(b"\r\n")) <= 75
    assert b"\n" not in written.replace(b"\r\n", b"")
    [read] = Calendar.from_ical(written).walk("VEVENT")
    assert (str(read["summary"]), str(read.get("location", ""))) == (what, where)


def test_a_day_of_28_slots_with_the_names_that_students_give_is_read_again_whole():
    """Names with a comma, a dash, a bracket, and 70 letters of two octets each."""
    names = ["Lee, or Shelf", "Sill – and roof", "A;B\\C [D]", "é" * 70]
    slots = [
        entry(uid=f"crit-4-scheme-{n}@example.org", what=f"H{n:02} {names[n % 4]}", sequence=n)
        for n in range(28)
    ]
    written = as_calendar("Days", slots, MADE_AT)
    assert max(map(len, written.split(b"\r\n"))) <= 75
    read = Calendar.from_ical(written).walk("VEVENT")
    told = [(event["uid"], str(event["summary"]), event["sequence"]) for event in read]
    assert told == [(slot.uid, slot.what, slot.sequence) for slot in slots]


def test_lines_in_words_stay_lines():
    written = as_calendar("Days", [entry(words="one\ntwo; three")], MADE_AT)
    assert b"DESCRIPTION:one\\ntwo\\; three\r\n" in written
