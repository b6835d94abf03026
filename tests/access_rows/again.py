"""Addresses of what is shown again: a re-crit's scope, its open comments, what comes of them."""

from tests.access_rows.base import JURY, Row, a_scheme, with_args
from tests.world import World

NOT_LEADING = "student mate classmate scribe coordinator examiner"


def a_recrit(world: World) -> dict[str, object]:
    return {"crit_id": world.ids["recrit"]}


ROWS: dict[str, Row] = {
    "lay-out-recrit": Row(a_recrit, ok="leader", refused=NOT_LEADING, wrong=""),
    "decide-again": Row(
        with_args(a_recrit, "scheme_id"), ok="leader", refused=NOT_LEADING, wrong=""
    ),
    "show-scope": Row(a_scheme, ok="student mate leader coordinator"),
    # a juror of a crit that isn't a re-crit has no open comment to say anything of
    "keep-second-look": Row(
        with_args(a_scheme, "comment_id"), data={"said": "closed", "seen": "0"}, **JURY
    ),
}
