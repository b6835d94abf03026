"""The states of a building and the people it is used by, as its brief names them."""

from __future__ import annotations

from collections.abc import Iterable

from criteria.schedules.site import MONTHS
from criteria.typed.columns import count, mark, text, word, yes_no
from criteria.typed.rows import Row, schedule

STATE_KINDS = ("road", "lift", "day", "night", "other")
"""What a state is: on the road, under a hook, lived in by day or night, or otherwise."""

ROAD, LIFT, DAY, NIGHT = "road", "lift", "day", "night"
PACKED_KINDS = (ROAD, LIFT)
"""Kinds of state in which the building is packed."""
LIVED_KINDS = (DAY, NIGHT, "other")
"""Kinds of state in which people are in the building."""
AWAKE_KINDS = (DAY, "other")
"""Kinds of state in which people are in and up."""

DAYS_A_YEAR = 365
MONTH_DAYS = dict(zip(MONTHS, (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), strict=True))


@schedule(
    "states",
    "States",
    purpose="Each state that the brief asks to be drawn and held: packed, set up, day, night. "
    "Without rows there are day and night.",
)
class BuildingState(Row):
    """A state in which a building stands."""

    state: str = mark("state", "State").says("One word: packed, night, sauna.")
    kind: str = word("kind", STATE_KINDS, required=True, eg="night").says(
        "Whether it is on the road, under a hook, lived in by day or by night, or otherwise."
    )
    people: int | None = count("people", within=(0, 500)).says(
        "In it at once; blank is as many as the people case says.", blank=None
    )
    note: str | None = text("note").says("What is meant by it.")


def _as_many_sleep(row: PeopleCase) -> int:
    """Where nothing is said, everybody of a case sleeps here."""
    people: int = row.people
    return people


@schedule(
    "cases",
    "People cases",
    purpose="How many people use the building, on how many days of a year: three all year, five "
    "at weekends. Without rows there is full house, the people of the site sheet.",
)
class PeopleCase(Row):
    """A number of people, for some days of a year."""

    case: str = mark("case", "Case").says("One word: everyday, weekend.")
    people: int = count("people", within=(1, 500), required=True, eg="5").says(
        "In the building by day."
    )
    sleepers: int = count("sleepers", within=(0, 500)).says(
        "Of them by night; blank is all of them.", blank=_as_many_sleep
    )
    days: int = count("days", "Days a year", within=(1, DAYS_A_YEAR), eg="80").says(
        "On how many days of a year they are so many."
    )
    first_month: str = word("from", MONTHS, "From").says(
        "First month in which they are; blank is any. Their days, the design month and months in "
        "which it is closed are held to it.",
        blank="Jan",
    )
    last_month: str = word("to", MONTHS, "To").says("Last month; blank is any.", blank="Dec")
    stay: int | None = count("stay", "Days at once", within=(1, DAYS_A_YEAR), eg="2").says(
        "Days of one stay: 2 of a weekend; blank is all of its days on end.", blank=None
    )
    is_held: bool = yes_no("held", "Held to the targets").says(
        "Whether targets must hold for so many; blank is yes.", blank=True
    )

    @property
    def months(self) -> tuple[str, ...]:
        """Months in which they are, from the first to the last, over the new year if need be."""
        first, last = MONTHS.index(self.first_month), MONTHS.index(self.last_month)
        return tuple(MONTHS[n % 12] for n in range(first, last + 1 + 12 * (last < first)))


def named_states(rows: Iterable[BuildingState]) -> tuple[BuildingState, ...]:
    """Return the states of a brief: what it names, and day and night where it names none such."""
    named = tuple(rows)
    kinds = {row.typed("kind") for row in named}
    missing = (kind for kind in (DAY, NIGHT) if kind not in kinds)
    return named + tuple(BuildingState(state=kind, kind=kind) for kind in missing)
