"""What a crit's jury sheets are of, and the levels they hold."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from django.db.models import Exists, Model, OuterRef, QuerySet
from django.db.models.functions import Coalesce

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.models import (
    Crit,
    IssuedSheet,
    JudgedChoice,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
)


def issued_for(crit: Crit, scheme: Scheme) -> QuerySet[Revision]:
    """A scheme's revisions for a crit, as they were issued."""
    return scheme.revisions.filter(crit=crit).order_by("pk")


@dataclass(frozen=True)
class Issued:
    """A scheme's revisions for a crit, as they were issued.

    chosen   the key of the one that the panel chose where one was issued late; None: it didn't
    """

    revisions: Sequence[Revision] = ()
    chosen: int | None = None

    @property
    def shown(self) -> Revision | None:
        """The revision that the crit's jurors are shown, and no other: the chosen, else the last.

        >>> first, last = Revision(pk=1, letter="A"), Revision(pk=2, letter="B")
        >>> Issued([first, last]).shown is last, Issued([first, last], 1).shown is first
        (True, True)
        """
        last = self.revisions[-1] if self.revisions else None
        return next((each for each in self.revisions if each.pk == self.chosen), last)


def all_issued(crit: Crit, schemes: Iterable[Scheme]) -> dict[int, Issued]:
    """Of each of some schemes, what it issued for a crit, by its key; in one query."""
    of = {scheme.pk: scheme for scheme in schemes}
    found: dict[int, list[Revision]] = {pk: [] for pk in of}
    judged: dict[int, int] = {}
    for revision in _telling_which_are_chosen().filter(crit=crit, scheme__in=of):
        revision.crit, revision.scheme = crit, of[revision.scheme_id]
        found[revision.scheme_id].append(revision)
        if revision.__dict__["is_chosen"]:
            judged[revision.scheme_id] = revision.pk
    return {pk: Issued(revisions, judged.get(pk)) for pk, revisions in found.items()}


@cache
def _telling_which_are_chosen() -> QuerySet[Revision]:
    """Revisions, each with whether its crit's panel chose it; built once, to be filtered."""
    chosen = JudgedChoice.objects.filter(revision=OuterRef("pk"), slot__crit=OuterRef("crit"))
    return Revision.objects.annotate(is_chosen=Exists(chosen)).order_by("pk")


def revision_shown(crit: Crit, scheme: Scheme) -> Revision | None:
    """The revision that a crit's jurors are shown of a scheme."""
    return all_issued(crit, [scheme])[scheme.pk].shown


def hung_of(revisions: Iterable[Revision | None]) -> dict[int, list[IssuedSheet]]:
    """The sheets of some revisions with their pictures, by the key of each; in one query."""
    found: dict[int, list[IssuedSheet]] = {each.pk: [] for each in revisions if each}
    for sheet in hung_sheets().filter(revision__in=found):
        found[sheet.revision_id].append(sheet)
    return found


@cache
def hung_sheets() -> QuerySet[IssuedSheet]:
    """Issued sheets with their pictures, in the order of their numbers; built once likewise."""
    return IssuedSheet.objects.select_related("file").defer("lettering").order_by("number", "pk")


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


def put_at_hand(name: str, rows: Iterable[Model], held: Iterable[Model]) -> None:
    """Let rows lead by one of their keys to what is held already, where that holds it."""
    by_key = {each.pk: each for each in held}
    for row in rows:
        if (there := by_key.get(getattr(row, f"{name}_id"))) is not None:
            setattr(row, name, there)


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
