"""An order laid out over a day: slots of fixed parts, rooms side by side, breaks between them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import time

from criteria.errors import InputError

DAY_MIN = 24 * 60

REST_MIN = 10
"""A change of rooms of so many minutes is a break to everybody in it. Our choice [min]."""

CHANGE_ROOMS, BREAK, JURORS_CHANGE = "change rooms", "break", "jurors change rooms"


def _require_minutes(name: str, value: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise InputError(f"{name} is {value}; expected a whole number of 0 or more")


@dataclass(frozen=True, kw_only=True)
class SlotParts:
    """Minutes of a slot's parts: presenting, talking, writing in silence, changing over."""

    present_min: int
    discuss_min: int
    writing_min: int
    change_min: int

    def __post_init__(self) -> None:
        for name in ("present_min", "discuss_min", "writing_min", "change_min"):
            _require_minutes(name, getattr(self, name))
        if not self.slot_min:
            raise InputError("a slot of 0 min; expected at least one part of 1 min or more")

    @property
    def slot_min(self) -> int:
        """The whole slot [min]."""
        return self.present_min + self.discuss_min + self.writing_min + self.change_min

    @property
    def busy_min(self) -> int:
        """The slot without its change over: how long a juror is held [min]."""
        return self.slot_min - self.change_min


USUAL: Mapping[str, SlotParts] = {
    "interim": SlotParts(present_min=6, discuss_min=12, writing_min=3, change_min=1),
    "final": SlotParts(present_min=8, discuss_min=14, writing_min=3, change_min=2),
    "re-crit": SlotParts(present_min=3, discuss_min=9, writing_min=2, change_min=1),
    "pin-up": SlotParts(present_min=2, discuss_min=4, writing_min=3, change_min=1),
}
"""Minutes of a slot by the kind of crit. Common practice."""


@dataclass(frozen=True)
class Turn:
    """A scheme's time in a room.

    room           "" where all jurors see it
    starts, ends   minutes from any one origin, the change over among them; None without an hour
    """

    number: str
    room: str
    starts: int | None
    ends: int | None

    @property
    def span(self) -> tuple[int, int] | None:
        """Start and end, where both are known."""
        return None if self.starts is None or self.ends is None else (self.starts, self.ends)

    def meets(self, other: Turn) -> bool:
        """Whether both are on at some moment; of one without an hour that isn't known: False."""
        if self.span is None or other.span is None:
            return False
        return self.span[0] < other.span[1] and other.span[0] < self.span[1]


@dataclass(frozen=True)
class Placed(Turn):
    """A turn that the timetable gave its hour."""

    starts: int
    ends: int


@dataclass(frozen=True)
class Break:
    """Minutes in which nothing is on; room "" is all rooms."""

    room: str
    starts: int
    minutes: int
    words: str


@dataclass(frozen=True, kw_only=True)
class Plan:
    """How an order is laid out.

    rooms            names of the rooms that run side by side; one or none: all see everything
    opening          how many schemes all jurors see together before rooms part
    first            the hour of the first slot
    break_every      a break after so many slots; 0 for none
    move_min         minutes to change rooms, after the opening and at half-time
    half_time_swap   one juror of each room changes rooms at the break nearest to half-time
    """

    rooms: tuple[str, ...]
    opening: int
    first: time
    parts: SlotParts
    break_every: int = 3
    break_min: int = 15
    move_min: int = 11
    half_time_swap: bool = False

    def __post_init__(self) -> None:
        for name in ("opening", "break_every", "break_min", "move_min"):
            _require_minutes(name, getattr(self, name))
        if len(set(self.rooms)) != len(self.rooms):
            raise InputError(f"rooms {', '.join(self.rooms)}; expected each once")
        if self.are_parallel and "" in self.rooms:
            raise InputError("a room without a name; expected one, for others run beside it")

    @property
    def are_parallel(self) -> bool:
        """Whether several rooms run side by side."""
        return len(self.rooms) > 1


@dataclass(frozen=True)
class Timetable:
    """A day laid out, in minutes after its first slot starts.

    half_time   when jurors change rooms; None where nobody does
    """

    first: time
    placed: tuple[Placed, ...]
    breaks: tuple[Break, ...]
    half_time: int | None = None

    @property
    def minutes(self) -> int:
        """From the first start to the last end."""
        return max((each.ends for each in self.placed), default=0)

    @property
    def is_past_midnight(self) -> bool:
        """Whether it doesn't end on the day on which it starts."""
        return self.first.hour * 60 + self.first.minute + self.minutes >= DAY_MIN

    def hour(self, minutes: int) -> time:
        """The hour so many minutes after the first start. Raises InputError past midnight."""
        at = self.first.hour * 60 + self.first.minute + minutes
        if not 0 <= at < DAY_MIN:
            raise InputError(f"{minutes} min after {self.first:%H:%M} is another day")
        return time(at // 60, at % 60)


def lay_out(order: Sequence[str], plan: Plan) -> Timetable:
    """Give each scheme of an order its room and minutes.

    The opening is seen by all; then rooms take the schemes side by side, in the order drawn. A
    break comes after every `break_every` slots and none at the end. Changing rooms takes
    `move_min`, and counts as a break where it is `REST_MIN` or more; where both fall together
    there is one interval, the longer.

    >>> finals = Plan(rooms=("A", "B"), opening=2, first=time(9, 15), parts=USUAL["final"])
    >>> day = lay_out([f"H{n:02d}" for n in range(1, 15)], finals)
    >>> day.minutes, str(day.hour(day.minutes))
    (242, '13:17:00')
    """
    if len(set(order)) != len(order):
        raise InputError("a scheme stands twice in the order; expected each once")
    groups = _groups(order, plan)
    parted = _parted_at(groups, plan)
    pauses = _pauses(len(groups), parted, None, plan)
    half = _half_time(groups, parted, pauses, plan)
    if half is not None:
        pauses = _pauses(len(groups), parted, half, plan)
    return _timed(groups, pauses, half, plan)


@dataclass(frozen=True)
class Hours:
    """How long a day takes with so many rooms.

    slots_min    slots alone, one after the other in a room
    pauses_min   breaks and changes of rooms
    a_juror      most schemes that one juror sees
    """

    rooms: int
    slots_min: int
    pauses_min: int
    a_juror: int

    @property
    def minutes(self) -> int:
        """From the first start to the last end."""
        return self.slots_min + self.pauses_min


def hours(schemes: int, plan: Plan, most_rooms: int = 3) -> tuple[Hours, ...]:
    """What a day takes in one room, in two, in three, before anybody is invited.

    Fourteen finals: one room is 14 × 27 = 378 min before breaks, two with an opening pair 242 min.

    >>> finals = Plan(rooms=(), opening=2, first=time(9, 15), parts=USUAL["final"])
    >>> [(each.rooms, each.slots_min, each.minutes, each.a_juror) for each in hours(14, finals)]
    [(1, 378, 438, 14), (2, 216, 242, 8), (3, 162, 188, 6)]
    """
    _require_minutes("schemes", schemes)
    return tuple(_hours(schemes, replace(plan, rooms=_names(n))) for n in range(1, most_rooms + 1))


def _hours(schemes: int, plan: Plan) -> Hours:
    day = lay_out([str(n) for n in range(schemes)], plan)
    groups = len({each.starts for each in day.placed})
    slots = groups * plan.parts.slot_min
    return Hours(len(plan.rooms), slots, day.minutes - slots, groups)


def _names(rooms: int) -> tuple[str, ...]:
    return tuple(str(n) for n in range(1, rooms + 1))


def _groups(order: Sequence[str], plan: Plan) -> list[tuple[tuple[str, str], ...]]:
    """Schemes that are on at once, each with its room."""
    if not plan.are_parallel:
        return [((number, plan.rooms[0] if plan.rooms else ""),) for number in order]
    opening = [((number, ""),) for number in order[: plan.opening]]
    rest, width = order[plan.opening :], len(plan.rooms)
    beside = [
        tuple(zip(rest[n : n + width], plan.rooms, strict=False))
        for n in range(0, len(rest), width)
    ]
    return opening + beside


def _parted_at(groups: Sequence[object], plan: Plan) -> int | None:
    """The group before which rooms part, where they do after an opening."""
    parts = plan.are_parallel and 0 < plan.opening < len(groups)
    return plan.opening if parts else None


def _pauses(
    count: int, parted: int | None, half: int | None, plan: Plan
) -> dict[int, tuple[int, str]]:
    """Minutes and words of what comes before a group, by its place."""
    pauses, run = {}, 0
    for place in range(count):
        due = 0 < plan.break_every <= run
        moves = plan.move_min if place in (parted, half) else 0
        minutes = max(plan.break_min if due else 0, moves)
        if minutes:
            words = CHANGE_ROOMS if place == parted else JURORS_CHANGE if moves else BREAK
            pauses[place] = minutes, words
        if due or minutes >= REST_MIN:
            run = 0
        run += 1
    return pauses


def _half_time(
    groups: Sequence[Sequence[object]],
    parted: int | None,
    pauses: Mapping[int, tuple[int, str]],
    plan: Plan,
) -> int | None:
    """The group before which jurors change rooms: at the break nearest to the middle.

    At least once after it every room has a scheme, or the change would join none to some.
    """
    begin, count = parted or 0, len(groups)
    if not (plan.half_time_swap and plan.are_parallel and count - begin > 1):
        return None
    last_full = max(place for place in range(count) if len(groups[place]) >= len(groups[begin]))
    latest = max(begin + 1, last_full)
    middle = min((begin + count + 1) // 2, latest)
    breaks = [place for place in pauses if begin < place <= latest]
    return min(breaks, key=lambda place: abs(place - middle), default=middle)


def _timed(
    groups: Sequence[Sequence[tuple[str, str]]],
    pauses: Mapping[int, tuple[int, str]],
    half: int | None,
    plan: Plan,
) -> Timetable:
    now, placed, breaks, half_time = 0, [], [], None
    for place, group in enumerate(groups):
        if place in pauses:
            minutes, words = pauses[place]
            breaks.append(Break("", now, minutes, words))
            now += minutes
        if place == half:
            half_time = now
        ends = now + plan.parts.slot_min
        placed += [Placed(number, room, now, ends) for number, room in group]
        now = ends
    return Timetable(plan.first, tuple(placed), tuple(breaks), half_time)
