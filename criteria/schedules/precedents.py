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
    building: str | None = text("building", "Building", "What and where.", required=True,
                                example="Two-storey club hut")  # fmt: skip
    outcome: str | None = text(
        "outcome", "Outcome",
        "What became of it: in use, altered, removed, unbuilt, or failed and why.",
        example="failed: porch drifted shut",
    )  # fmt: skip
    lesson: str | None = text("lesson", "Lesson", "What is taken or refused.",
                              example="Winter door on the scoured side")  # fmt: skip
    sheet: str | None = text("sheet", "Sheet", "Number of the sheet where it shows.",
                             longest=12, example="03")  # fmt: skip

    @property
    def has_failed(self) -> bool:
        """Whether its outcome says that it failed."""
        words = (self.outcome or "").casefold()
        return words.startswith(FAILURE_WORDS)

    @property
    def is_traced(self) -> bool:
        """Whether the lesson is stated and can be found on a sheet."""
        return bool(self.lesson and self.sheet)
