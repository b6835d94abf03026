"""What a crit's jury sheets are of, and the levels they hold."""

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.models import Crit, LevelGiven, Revision, Scheme


def revision_shown(crit: Crit, scheme: Scheme) -> Revision | None:
    """The revision that a crit's jurors are shown: the last issued for it, and no other."""
    return scheme.revisions.filter(crit=crit).last()


def level_of(given: LevelGiven | None) -> int | NotJudged | None:
    """What was given, as the scoring takes it; None where there is nothing yet."""
    if given is None:
        return None
    return NOT_MINE if given.is_not_mine else given.level
