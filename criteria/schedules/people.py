"""Who is in the building, by day and by night."""

from criteria.typed.columns import count, mark, quantity, text, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import HOURS

DAY_S = (0, 24 * 3600)
"""Between which an hour of the day lies [s]."""


@schedule(
    "occupants",
    "Occupant schedule",
    mark_prefix="O",
    purpose="Everyone the building serves, by day and by night. Compared with the brief.",
)
class Occupant(Row):
    """A group of people with like needs."""

    mark: str = mark()
    who: str | None = text("who", required=True, eg="Walkers").says("The group.")
    n: int = count("n", "No.", within=(0, 500), eg="9").says("People in the group.")
    sleeps_here: bool = yes_no("sleeps_here", eg="yes")
    step_free: int = count("step_free", "Step-free needed", within=(0, 500), eg="0").says(
        "How many of them can't climb."
    )
    cases: str | None = text("cases", eg="weekend", longest=80).says(
        "People cases of the brief in which they are here, parted by spaces; blank is all."
    )
    note: str | None = text("note").says("Where they sleep, how long they stay.")
    up_s: float | None = quantity("up_at", HOURS, "Up at", within=DAY_S, eg="7").says(
        "Hour of the day at which those who sleep here get up, 6.5 for half past six; blank is 7. "
        "They sleep the eight hours before.",
        blank=None,
    )
    here_from_s: float | None = quantity("here_from", HOURS, "Here from", within=DAY_S).says(
        "Hour of the day from which they are in the building; blank is all day for those who "
        "sleep here, 9 for others.",
        blank=None,
    )
    here_to_s: float | None = quantity("here_to", HOURS, "Here until", within=DAY_S).says(
        "Hour at which they go out, of the next day if it is the smaller; blank is all day, or 17.",
        blank=None,
    )


def is_there(row: Occupant, case: str) -> bool:
    """Tell whether a group is there in a people case; one that names none is there in all."""
    return not row.cases or not case or case in row.cases.split()
