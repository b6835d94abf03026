"""Addresses of the evening list and of paper sheets."""

from tests.access_rows.base import POST, Row, a_crit, with_args
from tests.world import World

SEES = "student mate classmate scribe coordinator examiner"
"""Who may know of a crit and not lead it."""


def a_note(world: World) -> dict[str, object]:
    return {"note_id": world.ids["note_id"]}


ROWS: dict[str, Row] = {
    "show-evening": Row(a_crit, ok="leader", refused=SEES, wrong=""),
    "ask-jurors": Row(a_crit, ok="leader", refused=SEES, **POST),
    "show-paper": Row(
        a_crit,
        ok="leader coordinator",
        refused="student mate classmate scribe examiner",
        wrong="",
    ),
    "download-paper": Row(
        a_crit, ok="leader coordinator", refused="student mate classmate scribe examiner"
    ),
    "type-sheet": Row(
        with_args(a_crit, "seat_id", "scheme_id"), ok="leader", refused=SEES, wrong=""
    ),
    "bring-levels-in": Row(a_crit, ok="leader", refused=SEES, wrong=""),
    "decide-comment": Row(
        with_args(lambda world: {}, "comment_id"), ok="leader", data={"seen": "1"}, **POST
    ),
    "decide-spoken": Row(a_note, ok="leader", data={"seen": "1"}, **POST),
}
