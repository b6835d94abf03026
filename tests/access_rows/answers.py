"""Addresses of answers, conversations and appeals; the crit of the walk isn't released."""

from uuid import UUID

from reviews.models import Appeal
from tests.access_rows.base import BOTH, POST, Row, a_crit, a_studio, with_args
from tests.world import World

SEES = "student mate classmate scribe coordinator examiner"
"""Who may know of a crit and not lead it."""
MEMBERS = "student mate classmate scribe examiner"
A_SCHEME = with_args(a_crit, "scheme_id")
A_COMMENT = with_args(lambda world: {}, "comment_id")
READ = "student leader coordinator"


def an_appeal(world: World) -> dict[str, object]:
    cast = world.cast
    made = {"crit": cast.crit, "scheme": cast.scheme, "by": cast.student, "ground": "other"}
    appeal, _ = Appeal.objects.get_or_create(key=UUID(int=14), defaults={**made, "words": "See."})
    return {"appeal_id": appeal.pk}


ROWS: dict[str, Row] = {
    "show-answers": Row(a_crit, ok="leader", refused=SEES),
    "export-answers": Row(a_crit, ok="leader", refused=SEES),
    "close-many": Row(a_crit, ok="leader", refused=SEES, **BOTH),
    "show-scheme-answers": Row(A_SCHEME),
    "show-conversation": Row(A_SCHEME, **BOTH),
    "make-appeal": Row(A_SCHEME, **BOTH),
    "close-comment": Row(A_COMMENT, **BOTH),
    "open-comment-again": Row(A_COMMENT, **BOTH),
    "show-appeal": Row(an_appeal, ok=READ),
    "add-appeal-words": Row(an_appeal, ok=READ, data={"words": "More."}, **POST),
    "decide-appeal": Row(an_appeal, ok="coordinator", refused="student leader", **POST),
    "withdraw-appeal": Row(an_appeal, ok="student", refused="leader coordinator", **POST),
    "show-studio-answers": Row(a_studio, ok="leader coordinator", refused=MEMBERS),
    "show-appeals": Row(a_studio, ok="leader coordinator", refused=MEMBERS),
}
