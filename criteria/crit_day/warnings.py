"""What of a day asks too much of somebody. Warnings: nothing is locked by them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.crit_day.crossing import MOST_SCHEMES
from criteria.crit_day.panels import LEAST_PANEL, Juror, Sees, names_of
from criteria.crit_day.timetable import REST_MIN, Turn

MOST_MINUTES = 4 * 60
"""Minutes that one juror sits before schemes in a day. Common practice [min]."""

MOST_IN_A_ROW = 3
"""Slots without a break. Common practice [no.]."""

WALK_MIN = 2
"""Minutes in which one person gets from one room to the next. Our choice [min]."""

MOST_DUTIES = 3
"""Slots in which one student keeps notes or time in a day. Our choice [no.]."""

KINDS = ("in-house", "visiting", "industry")
"""Who sits together in a room: they mark differently. Common practice."""


@dataclass(frozen=True)
class Warned:
    """One thing that asks too much.

    about          load, hours, breaks, panel, mixed, change over, clash, duty or unknown
    whom           the juror, scheme, room or student
    number limit   what there is and what is usual, both in `unit`
    source         where the limit comes from
    """

    about: str
    whom: str
    number: int
    limit: int
    unit: str
    words: str
    source: str = "common practice"


@dataclass(frozen=True)
class Duty:
    """Somebody who keeps notes or time at a scheme; `presents` is their own, or ""."""

    name: str
    number: str
    presents: str = ""


def warnings_of(
    sees: Sees, *, change_min: int, walk_min: int = WALK_MIN, duties: Sequence[Duty] = ()
) -> tuple[Warned, ...]:
    """Everything of a day that asks too much of somebody.

    change_min    minutes at a slot's end in which nobody is judged
    walk_min      minutes from one room to another
    """
    found = [*_without_hour(sees.turns), *_clashes(sees.turns)]
    for juror in sees.jurors:
        turns = _in_time(sees.turns_of(juror))
        found += _load(juror, sees.turns_of(juror))
        found += _minutes(juror, turns, change_min)
        found += _in_a_row(juror, turns)
        found += _at_once(juror, turns)
        found += _on_the_way(juror, turns, change_min, walk_min)
    return (*found, *_panels(sees), *_unmixed(sees), *_duties(duties, sees))


def _in_time(turns: Iterable[Turn]) -> list[tuple[int, int, Turn]]:
    """Start, end and turn of those that have an hour, the earliest first."""
    timed = [(*turn.span, turn) for turn in turns if turn.span]
    return sorted(timed, key=lambda each: each[:2])


def _without_hour(turns: Sequence[Turn]) -> Iterator[Warned]:
    lost = [turn.number for turn in turns if turn.span is None]
    if lost:
        words = f"{names_of(lost)} {_have(lost)} no hour: clashes and breaks there aren’t known."
        yield Warned("unknown", lost[0], len(lost), 0, "schemes", words, "")


def _clashes(turns: Sequence[Turn]) -> Iterator[Warned]:
    """Schemes that are on in one room at once; those of no room are on in all."""
    told = set()
    for room in sorted({turn.room for turn in turns}):
        here = _in_time(turn for turn in turns if turn.room in ("", room))
        for numbers in _clusters(here):
            if numbers not in told:
                told.add(numbers)
                where = f"in room {room}" if room else "for all jurors"
                words = f"{names_of(numbers)} are on at once {where}."
                yield Warned("clash", numbers[0], len(numbers), 1, "schemes", words, "")


def _clusters(timed: Sequence[tuple[int, int, Turn]]) -> Iterator[tuple[str, ...]]:
    """Turns that run into each other, two or more together."""
    now: list[str] = []
    latest = 0
    for start, end, turn in timed:
        if now and start < latest:
            latest = max(latest, end)
        else:
            if len(now) > 1:
                yield tuple(now)
            now, latest = [], end
        now.append(turn.number)
    if len(now) > 1:
        yield tuple(now)


def _load(juror: Juror, turns: Sequence[Turn]) -> Iterator[Warned]:
    if len(turns) > MOST_SCHEMES:
        words = (
            f"{juror.name} sees {len(turns)} schemes; "
            f"more than {MOST_SCHEMES} in a day tire a juror."
        )
        yield Warned("load", juror.name, len(turns), MOST_SCHEMES, "schemes", words)


def _minutes(
    juror: Juror, timed: Sequence[tuple[int, int, Turn]], change_min: int
) -> Iterator[Warned]:
    minutes = sum(end - start - change_min for start, end, _ in timed)
    if minutes > MOST_MINUTES:
        words = (
            f"{juror.name} sits before schemes for {minutes // 60} h {minutes % 60:02d} min; "
            f"more than {MOST_MINUTES // 60} h in a day tire a juror."
        )
        yield Warned("hours", juror.name, minutes, MOST_MINUTES, "min", words)


def _in_a_row(juror: Juror, timed: Sequence[tuple[int, int, Turn]]) -> Iterator[Warned]:
    run, longest = 1, 1
    for (_, end, _), (start, _, _) in pairwise(timed):
        run = run + 1 if start - end < REST_MIN else 1
        longest = max(longest, run)
    if longest > MOST_IN_A_ROW:
        words = (
            f"{juror.name} sees {longest} schemes without a break of {REST_MIN} min; "
            f"one after every {MOST_IN_A_ROW} is usual."
        )
        yield Warned("breaks", juror.name, longest, MOST_IN_A_ROW, "schemes", words)


def _at_once(juror: Juror, timed: Sequence[tuple[int, int, Turn]]) -> Iterator[Warned]:
    """A juror who is to be in two rooms."""
    apart = [
        (one.number, other.number)
        for (_, end, one), (start, _, other) in pairwise(timed)
        if start < end and one.room != other.room
    ]
    if apart:
        more = f", and so {len(apart) - 1} times more" if len(apart) > 1 else ""
        words = f"{juror.name} is to see {names_of(apart[0])} at once in two rooms{more}."
        yield Warned("clash", juror.name, 2, 1, "rooms", words, "")


def _on_the_way(
    juror: Juror, timed: Sequence[tuple[int, int, Turn]], change_min: int, walk_min: int
) -> Iterator[Warned]:
    """A juror whose next scheme in another room starts before they can be there."""
    for (_, end, one), (start, _, other) in pairwise(timed):
        left = start - (end - change_min)
        if one.room != other.room and start >= end and left < walk_min:
            words = (
                f"{juror.name} has {left} min from {one.number} to {other.number} in another "
                f"room; {walk_min} min are wanted."
            )
            yield Warned("change over", juror.name, left, walk_min, "min", words, "our choice")


def _panels(sees: Sees) -> Iterator[Warned]:
    for panel in sees.panels() if sees.jurors else ():
        jurors = f"{panel.size} juror{'' if panel.size == 1 else 's'}"
        if panel.size < LEAST_PANEL:
            words = f"{panel.number} is seen by {jurors}; {LEAST_PANEL} or more are usual."
            yield Warned("panel", panel.number, panel.size, LEAST_PANEL, "jurors", words)
        elif panel.is_short:
            levels = len(panel.levels)
            words = (
                f"{panel.number} is seen by {jurors}, of whom {levels} set"
                f"{'s' if levels == 1 else ''} levels; {LEAST_PANEL} or more are usual."
            )
            yield Warned("panel", panel.number, levels, LEAST_PANEL, "jurors", words)


def _unmixed(sees: Sees) -> Iterator[Warned]:
    rooms = sorted({juror.room for juror in sees.jurors} - {""}) or [""] * bool(sees.jurors)
    for room in rooms:
        kinds = {juror.kind for juror in sees.jurors if juror.room in ("", room)}
        lacking = [kind for kind in KINDS if kind not in kinds]
        if lacking:
            words = (
                f"{f'Room {room}' if room else 'The jury'} has no {names_of(lacking, 'or')} juror; "
                "one in-house, one visiting and one from industry are usual."
            )
            there = len(KINDS) - len(lacking)
            yield Warned("mixed", room, there, len(KINDS), "kinds of juror", words)


def _duties(duties: Sequence[Duty], sees: Sees) -> Iterator[Warned]:
    there = set(sees.numbers)
    for duty in duties:
        if duty.presents in there and duty.number in there and _is_beside(duty, sees):
            words = (
                f"{duty.name} presents {duty.presents} and has a duty at {duty.number}, "
                "in or beside the own slot."
            )
            yield Warned("duty", duty.name, 0, 1, "slots between", words)
    for name, count in Counter(duty.name for duty in duties).items():
        if count > MOST_DUTIES:
            words = f"{name} has a duty in {count} slots; {MOST_DUTIES} in a day are enough."
            yield Warned("duty", name, count, MOST_DUTIES, "slots", words, "our choice")


def _is_beside(duty: Duty, sees: Sees) -> bool:
    """Whether a duty is in the own slot, or is the next to it in time where it is.

    A break between doesn't part them; a slot between, or the time of one, does.
    """
    kept, own = sees.turn(duty.number), sees.turn(duty.presents)
    if kept == own or kept.meets(own):
        return True
    if kept.span is None or own.span is None:
        return False
    first, second = sorted((kept.span, own.span))
    gap = first[1], second[0]
    between = (
        turn.span
        for turn in sees.turns
        if turn.span and kept.room in ("", turn.room) and turn not in (kept, own)
    )
    length = kept.span[1] - kept.span[0]
    return gap[1] - gap[0] < length and not any(
        gap[0] <= start and end <= gap[1] for start, end in between
    )


def _have(names: Sequence[str]) -> str:
    return "has" if len(names) == 1 else "have"
