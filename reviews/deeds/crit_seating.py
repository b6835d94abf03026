"""Seat jurors at a crit, in rooms, each with a personal link and no account."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.db.models import F

from criteria.typed.columns import text, word
from criteria.typed.rows import Row, Schedule, schedule
from criteria.typed.tables import RefusedCell
from reviews import clock
from reviews.access_day import CALENDAR
from reviews.deeds import audit_keeping
from reviews.deeds.record_changes import Part, cell_words, has_entries, last_seen, logged
from reviews.deeds.record_versions import is_change
from reviews.deeds.table_bringing import (
    THE_SAME,
    Preview,
    Record,
    clean,
    line_by_line,
    read_table,
    synonyms,
)
from reviews.models import CalendarLink, Crit, Person, Seat
from reviews.models.briefs import Frozen
from reviews.models.seats import new_code

PARTS = ("name", "kind", "room", "email")
Line = dict[str, Any]


@schedule("jurors", "Jurors", purpose="Who sits at a crit, and in which room.")
class JurorRow(Row):
    """One juror."""

    name: str | None = text("name", required=True, longest=120, eg="Hesper Quill")
    kind: str | None = word("kind", Seat.Kind.values, eg="visiting").says(
        "Blank is visiting.", blank=None
    )
    room: str | None = text("room", longest=12, eg="A").says("Blank sees every scheme.")
    email: str | None = text("email", "E-mail", longest=254, eg="hesper@example.org")


JURORS: Schedule = JurorRow.schedule

_HEADS = synonyms({"name": "juror fullname", "email": "mail emailaddress"})
_WORDS = synonyms(
    {"visiting": "visitingjuror", "in-house": "inhousejuror inhouse", "industry": "industryjuror"}
)


def _kept(record: Record) -> Line:
    return {
        "name": record["name"].strip(),
        "kind": record["kind"].strip().lower() or Seat.Kind.VISITING,
        "room": record["room"].strip(),
        "email": record["email"].strip().lower(),
    }


def read_jurors(crit: Crit, typed: str) -> Preview:
    """Read a table of jurors and say what each line would do. Nothing is kept."""
    above: set[str] = set()

    def check(number: int, record: Record) -> list[RefusedCell]:
        line, refused = _kept(record), []
        if line["name"].casefold() in above:
            expected = "a name that no line above has"
            refused.append(RefusedCell(number, "", "Name", line["name"], expected))
        above.add(line["name"].casefold())
        try:
            validate_email(line["email"] or "none@example.org")
        except ValidationError:
            expected = "an e-mail address, or a blank"
            refused.append(RefusedCell(number, "", "E-mail", line["email"], expected))
        return refused

    preview = read_table(JURORS, typed, heads=_HEADS, words=_WORDS, check=line_by_line(check))
    seats = {seat.name.casefold(): seat for seat in crit.seats.all()}
    news = tuple(_news(record, seats) for record in preview.records)
    return replace(preview, news=news, seen=last_seen(crit, SEATS.slug))


def _news(record: Record, seats: dict[str, Seat]) -> str:
    line = _kept(record)
    seat = seats.get(line["name"].casefold())
    if seat is None:
        return "new seat"
    changed = [name for name in PARTS if getattr(seat, name) != line[name] and name != "name"]
    return f"changes {' and '.join(changed)}" if changed else THE_SAME


@transaction.atomic
def bring_in_jurors(crit: Crit, typed: str, by: Person, *, seen: int | None = None) -> Preview:
    """Keep a table of jurors: new seats are added, known names changed; the same twice is once.

    Raises NotClean where a cell is refused, Newer where seats were changed since the last change
    that was seen.
    """
    held = SEATS.hold(crit)
    preview = clean(read_jurors(held, typed))
    seats = {seat.name.casefold(): seat for seat in held.seats.all()}
    with logged(held, SEATS, by, preview.change, seen=seen):
        for record in preview.records:
            line = _kept(record)
            seat = seats.get(line["name"].casefold()) or Seat(crit=held, name=line["name"])
            _seat(seat, line | {"name": seat.name})
    return preview


@transaction.atomic
def keep_seats(crit: Crit, lines: list[Line], seen: int, by: Person) -> None:
    """Keep all seats of a crit; a line without a pk is a new seat, a seat without a line goes.

    Raises Newer where the seats aren't as they were seen, Frozen where a juror who goes has begun.
    """
    held = SEATS.hold(crit)
    now = lines_of(held)
    if not _is_resent(now, lines) and is_change(now, lines, seen):
        with logged(held, SEATS, by):
            _write(held, lines)


def _write(held: Crit, lines: list[Line]) -> None:
    seats = {seat.pk: seat for seat in held.seats.all()}
    for pk in set(seats) - {line["pk"] for line in lines}:
        if has_entries(seats[pk], besides=(CalendarLink,)):
            raise Frozen(
                f"{seats[pk]} has begun a jury sheet, declared an interest or crosses rooms. "
                "The seat stays."
            )
        seats[pk].delete()
    # names are unique in a crit: those that change step aside first, so that two can be exchanged
    names = {line["pk"]: line["name"] for line in lines}
    renamed = [pk for pk, seat in seats.items() if names.get(pk, seat.name) != seat.name]
    held.seats.filter(pk__in=renamed).update(name=F("code"))
    for line in lines:
        _seat(seats.get(line["pk"]) or Seat(crit=held), line)


def _seat(seat: Seat, line: Line) -> None:
    """Keep what a line says of a seat; the moment of a move to another room is kept with it."""
    if seat.pk and seat.room != line["room"]:
        seat.room_since = clock.now()
    for name in PARTS:
        setattr(seat, name, line[name])
    seat.save()


def keep_rooms(held: Crit, rooms: Mapping[str, str], by: Person) -> None:
    """Put jurors, by name, into rooms; one change of the table. The crit is held."""
    with logged(held, SEATS, by):
        for seat in held.seats.filter(name__in=rooms):
            line = {name: getattr(seat, name) for name in PARTS}
            _seat(seat, line | {"room": rooms[seat.name]})


_WITH_A_SEAT = ("code", "opened_at", "room_since")
"""What a seat has besides, that comes back with it; as its calendar does."""


def _seats_of(crit: Crit) -> list[Line]:
    lines = crit.seats.order_by("pk").values("pk", *PARTS, *_WITH_A_SEAT, CALENDAR)
    return [
        line | {name: line[name] and str(line[name]) for name in _WITH_A_SEAT} for line in lines
    ]


def _put_back(held: Crit, lines: list[Line]) -> None:
    """Put seats back; one that was taken out comes with its link, one that stands keeps its own."""
    opened = held.seats.exclude(pk__in=[line["pk"] for line in lines]).exclude(opened_at=None)
    if seat := opened.first():
        raise Frozen(
            f"{seat} has opened the personal link: nothing was undone. "
            "Leave the seat out in the table if it should go."
        )
    standing = set(held.seats.values_list("pk", flat=True))
    for line in lines:
        if line["pk"] not in standing:
            # under its link until all names are free
            own = {name: line[name] for name in ("pk", *PARTS, *_WITH_A_SEAT)}
            seat = Seat.objects.create(**own | {"crit": held, "name": line["code"]})
            if code := line.get(CALENDAR):
                CalendarLink.objects.create(seat=seat, code=code)
    _write(held, lines)
    for line in lines:
        held.seats.filter(pk=line["pk"]).update(room_since=line["room_since"])


_LABELS = {name: JURORS.column(name).label for name in PARTS}


def _words(before: list[Line], after: list[Line]) -> str:
    was, now = ({line["pk"]: line for line in lines} for lines in (before, after))
    said = [f"{line['name']} added" for pk, line in now.items() if pk not in was]
    said += [f"{line['name']} left out" for pk, line in was.items() if pk not in now]
    said += [
        f"{was[pk]['name']}: {cell_words(_LABELS, was[pk], line)}"
        for pk, line in now.items()
        if pk in was and was[pk] != line
    ]
    return ", ".join(said)


SEATS = Part(
    "jurors", "table of jurors", lambda c: Crit.objects.hold(c.pk), _seats_of, _put_back, _words
)


def _is_resent(now: list[Line], lines: list[Line]) -> bool:
    """Whether lines stand already; a new seat sent twice has its pk by the second time."""
    stands = {line["name"]: line for line in now}
    return len(now) == len(lines) and all(
        line | {"pk": line["pk"] or stands.get(line["name"], line)["pk"]} in now for line in lines
    )


def lines_of(crit: Crit) -> list[Line]:
    """The seats of a crit as they are compared and kept."""
    return list(crit.seats.values("pk", *PARTS))


@transaction.atomic
def open_link(seat: Seat, by: Person | None = None) -> None:
    """Remember when a personal link was first opened, and who enters by it."""
    audit_keeping.enter(seat, by)
    Crit.objects.hold(seat.crit_id)
    Seat.objects.filter(pk=seat.pk, opened_at=None).update(opened_at=clock.now())


@transaction.atomic
def renew_code(seat: Seat) -> Seat:
    """Give a seat a new personal link; the one before and the calendar end at once."""
    Crit.objects.hold(seat.crit_id)
    seat.code = new_code()
    seat.save(update_fields=["code"])
    CalendarLink.objects.filter(seat=seat).delete()
    return seat
