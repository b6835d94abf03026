"""Who is in the building, by day and by night."""

from criteria.typed.columns import count, mark, text, yes_no
from criteria.typed.rows import Row, schedule


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


def is_there(row: Occupant, case: str) -> bool:
    """Tell whether a group is there in a people case; one that names none is there in all."""
    return not row.cases or not case or case in row.cases.split()
