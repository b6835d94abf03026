"""Claims: what a sheet says, to be held against what the schedules give."""

from criteria.typed.columns import text
from criteria.typed.rows import Row, schedule


@schedule(
    "claims",
    "Claims on sheets",
    purpose="Every number that a drawing asserts, word for word. Each is held against what the "
    "schedules give.",
)
class Claim(Row):
    """One claim."""

    about: str | None = text(
        "about", "About", "What it is about: Water, Wall, Battery, Kitchen glass.", required=True,
        longest=80, example="Water",
    )  # fmt: skip
    wording: str | None = text("text", "Claim", "As it stands on the sheet.", required=True,
                            example="10 days")  # fmt: skip
    sheet: str | None = text("sheet", "Sheet", "Number of the sheet that says it.", longest=12,
                             example="00")  # fmt: skip
