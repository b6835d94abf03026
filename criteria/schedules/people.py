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
    """A group of people with like needs.

    n           people in the group [no.]
    step_free   how many of them need a way without steps [no.]
    """

    mark: str = mark()
    who: str | None = text("who", "Who", "The group.", required=True, example="Walkers")
    n: int = count("n", "No.", "People in the group.", most=500, example="9")
    sleeps_here: bool = yes_no("sleeps_here", "Sleeps here", example="yes")
    step_free: int = count(
        "step_free", "Step-free needed", "How many of them can't climb.", most=500, example="0"
    )
    note: str | None = text("note", "Note", "Where they sleep, how long they stay.")
