"""Marks on sheets: what each drawing names, to be held against the schedules."""

from criteria.typed.columns import text, word
from criteria.typed.rows import Row, schedule

TYPED, READ = "typed", "read"
"""How the marks of a sheet are known: as people list them, or by its letters."""


@schedule(
    "plan_marks",
    "Marks on sheets",
    purpose="The marks that each drawing shows. Compared with rooms, windows, doors and tanks.",
)
class PlanMarks(Row):
    """The marks of one sheet."""

    sheet: str | None = text("sheet", required=True, longest=12, eg="02").says(
        "Number of the sheet."
    )
    marks: str | None = text("marks", required=True, longest=2000, eg="R1 R2 W1 W2 D1").says(
        "Every mark on it, parted by spaces or commas."
    )
    how: str = word("how", (TYPED, READ), "Known as", eg=TYPED).says(
        "Typed from the drawing, or read from its letters by this program.", blank=TYPED
    )

    @property
    def listed(self) -> tuple[str, ...]:
        """The marks one by one."""
        return tuple((self.marks or "").replace(",", " ").replace(";", " ").split())
