"""What a crit's jury sheets are of, and the levels they hold."""

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.models import Crit, LevelGiven, Revision, Scheme


def revision_shown(crit: Crit, scheme: Scheme) -> Revision | None:
    """The revision that a crit's jurors are shown: the last issued for it, and no other."""
    return scheme.revisions.filter(crit=crit).last()


def credits_of(crit: Crit) -> dict[int, str]:
    """Whose work each scheme showed at a crit, as issued for it."""
    issued = crit.revisions.order_by("pk").prefetch_related("students")
    return {revision.scheme_id: revision.by for revision in issued}


def level_text(level: int | NotJudged | None) -> str:
    """A level as it is written in a record: 3, not mine to judge; blank where there is none."""
    if level is None:
        return ""
    return level.value if isinstance(level, NotJudged) else str(level)


def level_of(given: LevelGiven | None) -> int | NotJudged | None:
    """What was given, as the scoring takes it; None where there is nothing yet."""
    if given is None:
        return None
    return NOT_MINE if given.is_not_mine else given.level
