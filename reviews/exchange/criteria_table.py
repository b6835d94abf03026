"""Criteria sheets as a table: a line a criterion, of every crit that has one."""

from __future__ import annotations

from criteria.typed.columns import mark, text
from criteria.typed.rows import Row, Schedule, schedule

_WORDS = 2000


@schedule(
    "criteria",
    "Criteria sheets",
    purpose="What juries judge by, crit by crit: weights, and what each level looks like.",
)
class CriterionRow(Row):
    """One line of a criteria sheet."""

    crit: str | None = text("crit", required=True).says("The crit whose sheet it is, by its name.")
    code: str = mark("code", "Code")
    name: str | None = text("name", required=True, longest=80, eg="Light")
    weight: str | None = text("weight", required=True, longest=10, eg="20").says(
        "How much it counts; weights of a sheet are held to their sum."
    )
    level_1: str | None = text("level_1", "1, not shown", longest=_WORDS)
    level_2: str | None = text("level_2", "2, roughed out", longest=_WORDS)
    level_3: str | None = text("level_3", "3, worked through", longest=_WORDS)
    level_4: str | None = text("level_4", "4, resolved", longest=_WORDS)
    level_5: str | None = text("level_5", "5, carried to the detail", longest=_WORDS)
    evidence: str | None = text("evidence", longest=240, eg="T01 T03").says(
        "References of the targets that inform it, parted by spaces."
    )


CRITERIA: Schedule = CriterionRow.schedule
