"""Buildings studied for a lesson, and what became of them."""

from criteria.typed.columns import mark, text
from criteria.typed.rows import Row, schedule

FAILURE_WORDS = ("failed", "failure", "collapsed", "closed", "abandoned")


@schedule(
    "precedents",
    "Precedent schedule",
    mark_prefix="P",
    purpose="Buildings studied for a lesson, at least one of which failed, each with the sheet "
    "where the lesson shows.",
)
class Precedent(Row):
    """A building and the lesson taken or refused from it."""

    mark: str = mark()
    building: str | None = text("building", required=True, eg="Two-storey club hut").says(
        "What and where."
    )
    outcome: str | None = text("outcome", eg="failed: porch drifted shut").says(
        "What became of it: in use, altered, removed, unbuilt, or failed and why."
    )
    lesson: str | None = text("lesson", eg="Winter door on the scoured side").says(
        "What is taken or refused."
    )
    sheet: str | None = text("sheet", longest=12, eg="03").says(
        "Number of the sheet where it shows."
    )

    @property
    def has_failed(self) -> bool:
        """Whether its outcome says that it failed."""
        words = (self.outcome or "").casefold()
        return words.startswith(FAILURE_WORDS)

    @property
    def is_traced(self) -> bool:
        """Whether the lesson is stated and can be found on a sheet."""
        return bool(self.lesson and self.sheet)
