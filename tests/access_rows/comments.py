"""Addresses of comments at moderation: pairs, groups, other words, and what a juror answers."""

from tests.access_rows.base import BOTH, JURY, POST, Row, a_crit, with_args
from tests.world import World

SEES = "student mate classmate scribe coordinator examiner"
"""Who may know of a crit and not lead it; before its release its table is nobody else's."""


def of(*names: str):
    return with_args(lambda world: {}, *names)


def chosen(world: World) -> dict[str, object]:
    return {**a_crit(world), "scheme_id": world.cast.scheme.pk}


WORDS = {"words": "The render is ahead of the plan."}

ROWS: dict[str, Row] = {
    "choose-comments": Row(chosen, ok="leader", **BOTH),
    "rule-pair": Row(of("pair_id"), ok="leader", data={"seen": 1, "ruling": "Argue it."}, **BOTH),
    "take-back-pair": Row(of("pair_id"), ok="leader", **POST),
    "take-back-group": Row(of("group_id"), ok="leader", **POST),
    "take-back-offer": Row(of("offer_id"), ok="leader", **POST),
    "reword-comment": Row(of("comment_id"), ok="leader", data=WORDS, **BOTH),
    "show-offered-words": Row(ok="juror other_juror", public=True),
    "answer-offered-words": Row(of("offer_id"), ok="juror", data={"reply": "taken"}, **JURY),
}
