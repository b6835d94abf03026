"""Shown again, as its leader and its students read it: scope, panel, before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from criteria.scoring.recrit import rule_words
from criteria.units import System
from reviews import access
from reviews.access import Viewer
from reviews.deeds.recrit_scoping import seen_of
from reviews.models import Closing, Comment, Crit, Criterion, Revision, Scheme, Verdict
from reviews.pages.before_after import BeforeAfter, OpenComment, before_after, for_students
from reviews.reading.crit_panels import concerns
from reviews.reading.crit_sheets import issued_for, judged_revisions, revision_shown
from reviews.reading.recrit_levels import LevelsAgain, levels_again
from reviews.reading.recrit_panels import SmallPanel, small_panels
from reviews.reading.recrit_scope import Scope, open_codes, scopes_of, shown_comments


@dataclass(frozen=True)
class ScopePage:
    """The leader's page of a re-crit: who shows again, what, before whom.

    there   keys of the schemes that have a slot
    """

    crit: Crit
    scopes: list[Scope]
    there: set[int]
    panels: list[SmallPanel]
    concerns: list[str]
    seen: int

    @property
    def initial(self) -> dict[str, Any]:
        """What its form begins with: those in the order; where none is yet, those proposed."""
        proposed = {each.scheme.pk for each in self.scopes if each.is_proposed}
        chosen = self.there or proposed
        return {"schemes": [str(pk) for pk in chosen], "seen": self.seen}

    @property
    def left_out(self) -> list[Scope]:
        """Schemes that the earlier crit asks for, and that have no slot."""
        if not self.there:
            return []
        return [
            each for each in self.scopes if each.is_proposed and each.scheme.pk not in self.there
        ]


def scope_page(crit: Crit) -> ScopePage:
    """Read it."""
    there = set(crit.slots.values_list("scheme_id", flat=True))
    is_laid = bool(there and crit.follows)
    return ScopePage(
        crit=crit,
        scopes=scopes_of(crit),
        there=there,
        panels=small_panels(crit) if is_laid else [],
        concerns=concerns(crit) if is_laid else [],
        seen=seen_of(crit),
    )


@dataclass(frozen=True)
class AgainPage:
    """One scheme of a re-crit as its leader moderates it."""

    shown: BeforeAfter
    levels: LevelsAgain

    @property
    def to_decide(self) -> list[tuple[Comment, Closing | None, bool]]:
        """Each comment with what stands decided, and whether most jurors say closed."""
        return [(each.comment, each.decided, each.is_mostly_closed) for each in self.shown.comments]

    def lines(self, forms: Mapping[int, Any]) -> list[tuple[OpenComment, Any]]:
        """Each comment with its form."""
        return [(each, forms[each.comment.pk]) for each in self.shown.comments]


def again_page(crit: Crit, scheme: Scheme, system: System) -> AgainPage:
    """Read one scheme of a re-crit."""
    levels = levels_again(crit, scheme)
    assert levels is not None
    return AgainPage(before_after(crit, scheme, system, revision_shown(crit, scheme)), levels)


@dataclass(frozen=True)
class ResultAgain:
    """What a re-crit came to, as its students read it.

    decided   each comment that was open, with what was decided of it
    """

    levels: LevelsAgain
    decided: list[tuple[Comment, Closing]]

    @property
    def is_without_prejudice(self) -> bool:
        """Whether they were away from the crit before, by agreement."""
        return self.levels.scope.is_without_prejudice


def result_again(crit: Crit, scheme: Scheme, *, is_sent: bool = False) -> ResultAgain | None:
    """Read it; None of a crit that follows none, and while no level is released."""
    if crit.follows_id is None or is_sent:
        return None
    levels = levels_again(crit, scheme)
    assert levels is not None
    decided = {each.comment_id: each for each in Closing.objects.proposed(crit)}
    comments = [each for each in shown_comments(crit, scheme.pk) if each.pk in decided]
    return ResultAgain(levels, [(each, decided[each.pk]) for each in comments])


@dataclass(frozen=True)
class ToShowAgain:
    """What one scheme shows again, as its students read it: what is answered, changed, open.

    earlier    the released crit that asks for it
    recrit     the re-crit at which it is shown; None where none is set
    shown      comments, answers, and what changed up to the last revision
    """

    scheme: Scheme
    earlier: Crit | None = None
    verdict: Verdict | None = None
    criteria: tuple[Criterion, ...] = ()
    recrit: Crit | None = None
    shown: BeforeAfter | None = None
    revision: Revision | None = None

    @property
    def unanswered(self) -> int:
        """Comments that have no answer."""
        return sum(each.answer is None for each in self.shown.comments) if self.shown else 0

    @property
    def rule(self) -> str:
        """What may become of the levels; blank while no day is set, for the cap is its own."""
        if self.recrit is None or self.shown is None:
            return ""
        return rule_words(None if self.shown.scope.is_without_prejudice else self.recrit.level_cap)

    @property
    def is_issued(self) -> bool:
        """Whether a revision was issued since the one that was judged."""
        return bool(self.shown and self.shown.after and self.shown.after != self.shown.before)


def to_show_again(scheme: Scheme, viewer: Viewer, system: System) -> ToShowAgain:
    """Read what the last released crit leaves open for a scheme."""
    released = (
        Crit.objects.released().filter(studio=scheme.studio_id).exclude(kind=Crit.Kind.PIN_UP)
    )
    earlier = released.filter(slots__scheme=scheme).order_by("day", "pk").last()
    if earlier is None:
        return ToShowAgain(scheme)
    verdict = Verdict.objects.standing().filter(crit=earlier, scheme=scheme).first()
    recrit = Crit.objects.to_come().filter(follows=earlier, slots__scheme=scheme).first()
    is_again = bool(verdict and verdict.kind == Verdict.Kind.AGAIN) or recrit is not None
    if not is_again:
        return ToShowAgain(scheme, earlier, verdict)
    criteria = tuple(earlier.criteria.all())
    codes = open_codes(verdict, criteria)
    seen = access.revisions(viewer).filter(scheme=scheme)
    after = (issued_for(recrit, scheme).last() if recrit else None) or seen.order_by("pk").last()
    # of a re-crit that isn't opened yet, as it would be
    asked = recrit or Crit(studio_id=scheme.studio_id, kind=Crit.Kind.RECRIT, follows=earlier)
    return ToShowAgain(
        scheme,
        earlier,
        verdict,
        tuple(each for each in criteria if each.code in codes),
        recrit,
        for_students(asked, scheme, after, system),
        judged_revisions(earlier).filter(scheme=scheme).first(),
    )
