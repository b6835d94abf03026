"""The leader's side of a day: each room, who sits there, who hasn't locked, what was given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.safestring import SafeString

from criteria.crit_day.crossing import who_could_cross
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.minutes_given import Given as Bar
from criteria.drawing.minutes_given import draw_minutes
from criteria.drawing.running_order import Turn
from reviews.drawn.svg import as_svg
from reviews.models import Attendance, Crit, Duty, JurySheet, Seat, Slot
from reviews.pages.room_now import (
    RoomNow,
    given_words,
    planned_words,
    room_now,
    state_words,
)
from reviews.reading.crit_clock import OVER_S, STOOD_DOWN, Part
from reviews.reading.crit_day import Timed, minutes_of, slot_min, timed, turn_of
from reviews.reading.crit_live import Live
from reviews.reading.crit_panels import CritPanels
from reviews.reading.crit_panels_now import AWAY, last_seen, sees_of, short_of

State = Attendance.State


@dataclass(frozen=True)
class Sitting:
    """A juror in a room: how they were last seen there, and whether they lock what is on."""

    seat: Seat
    state: str
    words: str
    is_there: bool
    sheet: str
    states: list[tuple[str, str, bool]]


@dataclass(frozen=True)
class RoomSide:
    """A room at the side."""

    now: RoomNow
    jurors: list[Sitting]
    scribes: list[str]
    timekeepers: list[str]


@dataclass(frozen=True)
class Unlocked:
    """A scheme that was shown, or is, and whose sheets aren't all locked."""

    slot: Slot
    is_on: bool
    names: list[str]


@dataclass(frozen=True)
class Small:
    """A panel that would be too small, and who could cross."""

    slot: Slot
    hour: str
    count: int
    proposal: str


@dataclass(frozen=True)
class Given:
    """What a scheme was given, by part [min:s]; the plan beside it."""

    slot: Slot
    state: str
    parts: list[str]
    whole: str
    over: str
    extra: int


@dataclass(frozen=True)
class SidePage:
    """A crit's day at the side."""

    rooms: list[RoomSide]
    unlocked: list[Unlocked]
    small: list[Small]
    given: list[Given]
    down: list[tuple[Slot, str]]
    planned: str
    strip: Strip | None


@dataclass(frozen=True)
class Strip:
    """Minutes given, drawn as a sheet and a telephone have it."""

    wide: SafeString
    narrow: SafeString


def strip_of(crit: Crit, slots: Sequence[Timed]) -> Strip | None:
    """Draw what schemes were given; None where no clock was kept."""
    given = [
        Bar(
            number=each.slot.scheme.number,
            name=each.slot.scheme.marked_name,
            minutes=minutes_given(each),
            allowed=sum(each.minutes.values()) + each.clock.extra_min,
            is_on=each.clock.runs,
        )
        for each in slots
        if each.clock.given_in_all_s
    ]
    if not given:
        return None
    planned = sum(minutes_of(crit).values())
    wide, narrow = (
        as_svg(draw_minutes(given, planned, OVER_S / 60, Field(width_mm=width)), f"given-{n}")
        for n, width in enumerate((MIDDLE_MM, NARROW_MM))
    )
    return Strip(wide, narrow)


def minutes_given(each: Timed) -> tuple[float, float, float]:
    """Minutes of presenting, discussion and silent writing."""
    present, discuss, writing = (each.clock.given_s.get(part, 0.0) / 60 for part in Part)
    return present, discuss, writing


def given_to(crit: Crit, slot: Slot | None, now: datetime) -> Given | None:
    """What a slot was given; None where no clock was kept of it."""
    each = next(iter(timed(crit, [slot], now)), None) if slot else None
    return given_of(each) if each and each.clock.given_in_all_s else None


def side_page(crit: Crit, live: Live, now: datetime) -> SidePage:
    """Make ready a crit's day for whoever leads it."""
    seats = list(crit.seats.prefetch_related("interests", "crossings", "attendance"))
    locks = _locks(crit)
    duties = list(crit.duties.select_related("person"))
    slots = live.slots
    return SidePage(
        rooms=[
            RoomSide(
                now=room_now(room),
                jurors=_sitting(seats, room.name, room.on, locks),
                scribes=_on_duty(duties, Duty.Kind.SCRIBE, room.name, room.on),
                timekeepers=_on_duty(duties, Duty.Kind.TIMEKEEPER, room.name, room.on),
            )
            for room in live.rooms
        ],
        unlocked=_unlocked(seats, slots, locks),
        small=_small(crit, seats, slots, now),
        given=[given_of(each) for each in slots if each.clock.given_in_all_s],
        down=[
            (each.slot, state_words(each.clock)) for each in slots if each.clock.state in STOOD_DOWN
        ],
        planned=f"{slot_min(crit)}",
        strip=strip_of(crit, slots),
    )


def _locks(crit: Crit) -> dict[tuple[int, int], bool]:
    """Whether each sheet is locked, by seat and scheme."""
    sheets = JurySheet.objects.filter(seat__crit=crit)
    rows = sheets.values_list("seat", "scheme", "locked_at")
    return {(seat, scheme): locked_at is not None for seat, scheme, locked_at in rows}


def _sitting(
    seats: Sequence[Seat], room: str, on: Timed | None, locks: dict[tuple[int, int], bool]
) -> list[Sitting]:
    """The jurors of a room: those of the slot that is on, else those whose room it is."""
    found = []
    for seat in seats:
        here = on.slot.is_before(seat) if on else seat.room in ("", room)
        interest = seat.interest_in(on.slot.scheme_id) if on else None
        if not here:
            continue
        last = last_seen(seat)
        words = "" if on is None else _sheet_words(locks.get((seat.pk, on.slot.scheme_id)))
        found.append(
            Sitting(
                seat=seat,
                state=State(last.state).label if last else "Not seen yet",
                words=last.words if last else "",
                is_there=not (last and last.state in AWAY),
                sheet=interest.state if interest else words,
                states=[
                    (each.value, each.label, bool(last and last.state == each)) for each in State
                ],
            )
        )
    return found


def _sheet_words(locked: bool | None) -> str:
    return {None: "no sheet begun", True: "locked", False: "in hand"}[locked]


def _on_duty(duties: Sequence[Duty], kind: str, room: str, on: Timed | None) -> list[str]:
    """Who does a duty for the slot that is on: those named for it, else those of the room."""
    of_kind = [each for each in duties if each.kind == kind]
    of_slot = [each for each in of_kind if on and each.slot_id == on.slot.pk]
    of_room = [each for each in of_kind if each.slot_id is None and each.room in ("", room)]
    return [str(each.person) for each in of_slot or of_room]


def _unlocked(
    seats: Sequence[Seat], slots: Sequence[Timed], locks: dict[tuple[int, int], bool]
) -> list[Unlocked]:
    found = []
    for each in slots:
        turn, scheme = turn_of(each.clock), each.slot.scheme_id
        if turn not in (Turn.ON, Turn.DONE):
            continue
        names = [
            seat.name
            for seat in seats
            if each.slot.is_asked_of(seat, begun=(seat.pk, scheme) in locks)
            and not locks.get((seat.pk, scheme))
            and seat.interest_in(scheme) is None
        ]
        if names:
            found.append(Unlocked(each.slot, turn is Turn.ON, names))
    return found


def _small(crit: Crit, seats: Sequence[Seat], slots: Sequence[Timed], now: datetime) -> list[Small]:
    """Panels to come, or on, of fewer than three who set levels, with what could be done."""
    left = [each for each in slots if turn_of(each.clock) in (Turn.ON, Turn.WAITING)]
    sees = sees_of(crit, seats, slots, now)
    opening = CritPanels(crit, tuple(seats), tuple(each.slot for each in slots), ()).opening
    found = []
    for each, panel in short_of(sees, left):
        ways = who_could_cross(each.slot.scheme.number, sees, opening=opening)
        found.append(
            Small(
                slot=each.slot,
                hour=planned_words(each.slot.starts_at),
                count=len(panel.levels),
                proposal=ways[0].words if ways else "",
            )
        )
    return found


def given_of(each: Timed) -> Given:
    """Say what a scheme was given."""
    clock = each.clock
    return Given(
        slot=each.slot,
        state=state_words(clock),
        parts=[given_words(clock.given_s.get(part, 0.0)) for part in Part],
        whole=given_words(clock.given_in_all_s),
        over=given_words(clock.over_s) if clock.is_long_over else "",
        extra=clock.extra_min,
    )
