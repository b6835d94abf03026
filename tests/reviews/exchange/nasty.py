"""Texts that must come back from every table exactly as they were typed."""

import json
from pathlib import Path

from criteria.schedules import BY_SLUG

_TOLD = json.loads(Path(__file__).with_name("data").joinpath("cells.json").read_text("utf-8"))

NOT_KEPT = tuple(_TOLD["not_kept"])
NASTY = tuple("a" * 32_767 if text == "long" else text for text in _TOLD["cells"])
IN_WORKBOOKS = tuple(text for text in NASTY if text not in NOT_KEPT)


def tables_of(texts, rows=3):
    """Rows of every schedule, leader's and students', with one of these texts in each cell."""
    return {
        schedule.slug: [
            {c.head: texts[(7 * row + n) % len(texts)] for n, c in enumerate(schedule.columns)}
            for row in range(rows)
        ]
        for schedule in BY_SLUG.values()
    }


def told_by(proposal):
    """The texts that a proposal holds, as records by schedule."""
    told = {}
    for row in proposal.rows:
        cells = {head: cell.text for head, cell in row.cells.items()}
        told.setdefault(row.schedule, []).append(cells)
    return told
