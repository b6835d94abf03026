"""The clock of the demo's running crit: who was on when, as its timekeepers pressed it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, time, timedelta
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5

from reviews.deeds.crit_running_order import remember
from reviews.deeds.crit_spoken import hold_note, keep_line
from reviews.deeds.crit_timekeeping import link_room
from reviews.demo.scenario import Calendar, StudioStory
from reviews.demo.studios import leader, person
from reviews.demo.tables import read_csv
from reviews.models import (
    Attendance,
    ClockEntry,
    Comment,
    Crit,
    Duty,
    OrderBreak,
    Person,
    SpokenNote,
)
from reviews.reading.crit_clock import Part

Deed = ClockEntry.Deed
Pressed = tuple[Deed, datetime, dict[str, object]]

TIMEKEEPERS = {"A": "Pim Draycourt", "B": "Jun Halvane"}
"""Who keeps time where; neither in a slot beside the own."""

SCRIBES = {
    "H14": "Ada Merrowby",
    "H11": "Rue Castellow",
    "H03": "Rue Castellow",
    "H13": "Dae Winterfold",
    "H02": "Fen Adeyott",
}
"""Who takes notes in which slot; nobody in or beside the own."""

BREAKS = (("10:09", 11, "change rooms"), ("11:41", 15, "break"))

GIVEN = {"H12": (8.2, 14.6, 3.0), "H06": (8.0, 15.1, 3.0), "H14": (8.4, 14.2, 3.1)}
"""Minutes of the parts that were given, where they differ from the plan."""

PRESENT_MIN, PLANNED = 8.0, (8.0, 14.0, 3.0)


def comment_key(number: str) -> UUID:
    """Return the key of a comment of the story, the same on every run."""
    return uuid5(NAMESPACE_URL, f"comment-{number}")


def keep_time(crit: Crit, story: StudioStory, calendar: Calendar) -> None:
    """Press what was pressed until five past eleven, and note who came."""
    slots = {slot.scheme.number: slot for slot in crit.slots.select_related("scheme")}
    keepers = {room: person(name) for room, name in TIMEKEEPERS.items()}
    for room, keeper in keepers.items():
        Duty.objects.get_or_create(
            crit=crit, person=keeper, kind=Duty.Kind.TIMEKEEPER, slot=None, room=room
        )
    for number, name in SCRIBES.items():
        Duty.objects.get_or_create(
            crit=crit, person=person(name), kind=Duty.Kind.SCRIBE, slot=slots[number], room=""
        )
    for hour, minutes, words in BREAKS:
        starts_at = time.fromisoformat(hour)
        OrderBreak.objects.create(crit=crit, starts_at=starts_at, minutes=minutes, words=words)
    remember(crit, leader())
    for row in read_csv("running_order"):
        if slot := slots.get(row["scheme"]):
            by = keepers.get(row["room"], leader())
            began = calendar.at(*story.final, row["time"])
            for n, (deed, at, more) in enumerate(_pressed(row, began)):
                key = uuid5(NAMESPACE_URL, f"clock-{row['scheme']}-{n}")
                ClockEntry.objects.create(key=key, slot=slot, deed=deed, at=at, by=by, **more)
    for room in keepers:
        link_room(crit, room)
    _note_who_came(crit, calendar.at(*story.final, "09:05"), leader())


def take_down(crit: Crit, story: StudioStory, calendar: Calendar) -> None:
    """Let the scribe have typed what was said by five past eleven."""
    slots = {slot.scheme.number: slot for slot in crit.slots.select_related("scheme")}
    for row in read_csv("spoken"):
        key = uuid5(NAMESPACE_URL, f"spoken-{row['scheme']}-{row['time']}")
        note = keep_line(slots[row["scheme"]], person(row["scribe"]), key, row["line"])
        if row["held"]:
            hold_note(note, leader(), row["held"])
        at = calendar.at(*story.final, row["time"])
        told: dict[str, Any] = {"said_at": at, "kept_at": at}
        if row["comment"]:
            told["comment"] = Comment.objects.get(key=comment_key(row["comment"]))
        SpokenNote.objects.filter(pk=note.pk).update(**told)


def _pressed(row: dict[str, str], began: datetime) -> Iterator[Pressed]:
    state, number = row["state"], row["scheme"]
    if up := re.search(r"moved up from (\d\d):(\d\d)", row["notes"]):
        was = time(int(up[1]), int(up[2]))
        to = {"starts_at": began.time(), "room": row["room"], "was_at": was}
        yield Deed.MOVED, began - timedelta(minutes=2), to | {"was_room": row["room"]}
    if state.startswith("stood down"):
        at = began - timedelta(minutes=12)
        yield Deed.STOOD_DOWN_AGREED, at, {}
        if offered := re.search(r"offered (\d\d):(\d\d)", row["notes"]):
            hour = time(int(offered[1]), int(offered[2]))
            yield Deed.OFFERED, at + timedelta(minutes=1), {"starts_at": hour, "room": row["room"]}
    elif state.startswith("done"):
        present, discuss, writing = GIVEN.get(number, PLANNED)
        yield Deed.STARTED, began, {}
        yield Deed.NEXT_PART, began + timedelta(minutes=present), {"words": Part.DISCUSS}
        written = began + timedelta(minutes=present + discuss)
        yield Deed.NEXT_PART, written, {"words": Part.WRITING}
        yield Deed.ENDED, written + timedelta(minutes=writing), {}
    elif state.startswith("on"):
        yield Deed.STARTED, began, {}
        yield Deed.NEXT_PART, began + timedelta(minutes=PRESENT_MIN), {"words": Part.DISCUSS}


def _note_who_came(crit: Crit, at: datetime, by: Person) -> None:
    Attendance.objects.bulk_create(
        Attendance(seat=seat, state=Attendance.State.HERE, at=at, by=by)
        for seat in crit.seats.all()
    )
