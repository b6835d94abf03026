"""What a crit's jury sheets are of, and the levels they hold."""

from collections.abc import Iterable

from django.db.models import Exists, OuterRef, QuerySet
from django.db.models.functions import Coalesce

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.models import Crit, JudgedChoice, JurySheet, LevelGiven, Revision, Scheme


def issued_for(crit: Crit, scheme: Scheme) -> QuerySet[Revision]:
    """A scheme's revisions for a crit, as they were issued."""
    return scheme.revisions.filter(crit=crit).order_by("pk")


def revision_shown(crit: Crit, scheme: Scheme) -> Revision | None:
    """The revision that a crit's jurors are shown, and no other.

    The one that the panel chose where one was issued late, else the last issued for the crit.
    """
    chosen = JudgedChoice.objects.filter(slot__crit=crit, revision=OuterRef("pk"))
    issued = issued_for(crit, scheme).annotate(is_chosen=Exists(chosen))
    return issued.order_by("-is_chosen", "-pk").first()


def judged_revisions(crit: Crit) -> QuerySet[Revision]:
    """Of each scheme that isn't withdrawn, the revision that its levels were set on.

    The latest, where jurors saw several; where no level counts, the one that the panel chose, or
    the last issued for the crit.
    """
    counting = JurySheet.objects.counting().filter(seat__crit=crit)
    seen = LevelGiven.objects.filter(jury_sheet__in=counting, jury_sheet__scheme=OuterRef("scheme"))
    chosen = JudgedChoice.objects.filter(slot__crit=crit, slot__scheme=OuterRef("scheme"))
    issued = Revision.objects.filter(crit=crit, scheme=OuterRef("scheme")).order_by("-pk")
    return Revision.objects.filter(
        scheme__in=crit.studio.schemes.standing(),
        pk=Coalesce(
            seen.exclude(revision=None).order_by("-revision").values("revision")[:1],
            chosen.values("revision")[:1],
            issued.values("pk")[:1],
        ),
    )


def in_order(revisions: Iterable[Revision | None]) -> list[Revision]:
    """Each revision once, as they were issued."""
    return sorted({each for each in revisions if each}, key=lambda revision: revision.pk)


def letters_of(revisions: Iterable[Revision | None]) -> str:
    """Say which revisions: revision B; revisions A and B; nothing where there is none."""
    letters = [revision.letter for revision in in_order(revisions)]
    return f"revision{'s' * (len(letters) > 1)} {' and '.join(letters)}" if letters else ""


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
