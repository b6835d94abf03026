"""A scheme shown again, before and after side by side: comments, answers, what changed."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import cached_property

from criteria.units import System
from reviews.deeds.crit_sheet_in_hand import NOTHING_SHOWN
from reviews.models import Answer, Closing, Comment, Crit, Revision, Scheme, Seat, SecondLook
from reviews.models.briefs import Frozen
from reviews.pages.jury_lines import Trouble
from reviews.pages.revising import RevisionTable, revision_table
from reviews.pages.what_changed import sheet_changes
from reviews.reading.crit_sheets import judged_revisions
from reviews.reading.recrit_scope import Scope, followed_by, scope_of, shown_comments
from reviews.reading.sheet_changes import sheet_pairs
from reviews.versions import Newer


@dataclass(frozen=True)
class OpenComment:
    """One comment that was open, with its answer and what is said of it at the re-crit.

    looks      what each juror said, with the juror's name
    look       of one juror's own sheet, what they said
    decided    what its leader decided at the re-crit
    """

    comment: Comment
    looks: tuple[tuple[str, SecondLook], ...] = ()
    look: SecondLook | None = None
    decided: Closing | None = None
    of: int = NOTHING_SHOWN
    trouble: Trouble | None = None

    @property
    def id(self) -> str:
        """Of its line on the page."""
        return f"open-{self.comment.pk}"

    @property
    def answer(self) -> Answer | None:
        """The one answer, where there is one."""
        return getattr(self.comment, "answer", None)

    @property
    def version(self) -> int:
        """Of what the juror said."""
        return self.look.version if self.look else 0

    @property
    def said(self) -> str:
        """How jurors see it, in numbers."""
        closed = sum(look.is_closed for _, look in self.looks)
        if not self.looks:
            return "no juror has said anything of it"
        return f"{closed} of {len(self.looks)} say closed"

    @property
    def is_mostly_closed(self) -> bool:
        """Whether more say closed than don't."""
        return 2 * sum(look.is_closed for _, look in self.looks) > len(self.looks)


@dataclass(frozen=True)
class BeforeAfter:
    """One scheme at a re-crit.

    before   the revision that was judged then; None where nothing was
    after    the one that the re-crit shows; None where nothing is issued for it
    """

    crit: Crit
    scheme: Scheme
    scope: Scope
    before: Revision | None
    after: Revision | None
    comments: list[OpenComment]
    system: System

    @cached_property
    def table(self) -> RevisionTable | None:
        """What changed from one to the other: rows, sheets, checks."""
        if self.before is None or self.after is None or self.before == self.after:
            return None
        sheets = sheet_changes(sheet_pairs(self.before, self.after), self.after.letter)
        return revision_table(self.before, self.after, self.system, sheets)

    @property
    def hazards(self) -> int:
        """How many of the comments are hazards."""
        return sum(each.comment.kind == Comment.Kind.HAZARD for each in self.comments)

    @property
    def undecided(self) -> int:
        """How many comments its leader hasn't decided."""
        return sum(each.decided is None for each in self.comments)

    def with_line(self, line: OpenComment) -> BeforeAfter:
        """The same with one line as it was sent and not kept."""
        lines = [line if each.comment == line.comment else each for each in self.comments]
        return replace(self, comments=lines)


def before_after(
    crit: Crit,
    scheme: Scheme,
    system: System,
    after: Revision | None,
    *,
    by: Seat | None = None,
) -> BeforeAfter:
    """Read one scheme at a re-crit.

    after   what its page shows
    by      a juror: no other juror's words are read
    """
    comments = shown_comments(crit, scheme.pk)
    looks: dict[int, list[tuple[str, SecondLook]]] = defaultdict(list)
    rows = SecondLook.objects.filter(comment__in=comments, jury_sheet__seat__crit=crit.pk or 0)
    if by is not None:
        rows = rows.filter(jury_sheet__seat=by)
    for row in rows.select_related("jury_sheet__seat", "revision"):
        looks[row.comment_id].append((row.jury_sheet.seat.name, row))
    decided = {each.comment_id: each for each in Closing.objects.proposed(crit)}
    lines = [
        OpenComment(
            each,
            tuple(looks[each.pk]),
            decided=decided.get(each.pk),
            of=after.pk if after else NOTHING_SHOWN,
        )
        for each in comments
    ]
    return BeforeAfter(
        crit=crit,
        scheme=scheme,
        scope=scope_of(crit, scheme),
        before=judged_then(crit, scheme),
        after=after,
        comments=lines,
        system=system,
    )


def for_students(crit: Crit, scheme: Scheme, after: Revision | None, system: System) -> BeforeAfter:
    """The same as its students read it before the release: nothing that the re-crit said."""
    page = before_after(crit, scheme, system, after)
    lines = [replace(each, looks=(), decided=None) for each in page.comments]
    return replace(page, comments=lines)


def for_juror(seat: Seat, scheme: Scheme, after: Revision | None, system: System) -> BeforeAfter:
    """The same as one juror reads it: with what they said themselves, and nothing of others."""
    page = before_after(seat.crit, scheme, system, after, by=seat)
    lines = [
        replace(each, looks=(), decided=None, look=each.looks[0][1] if each.looks else None)
        for each in page.comments
    ]
    return replace(page, comments=lines)


def look_line(
    seat: Seat, scheme: Scheme, comment_id: int, of: int, trouble: Trouble | None
) -> OpenComment | None:
    """One line for a device that asked for it; None for what isn't open here."""
    comments = shown_comments(seat.crit, scheme.pk)
    comment = next((each for each in comments if each.pk == comment_id), None)
    if comment is None:
        return None
    looks = SecondLook.objects.filter(jury_sheet__seat=seat, comment=comment)
    look = looks.select_related("revision").first()
    return OpenComment(comment, look=look, of=of, trouble=trouble)


def look_trouble(refusal: Newer | Frozen, sent: str) -> Trouble:
    """Say why a juror's word on an open comment was refused, beside what stands."""
    if isinstance(refusal, Frozen):
        return Trouble(str(refusal), sent, is_closed=True)
    kept: SecondLook = refusal.kept
    why = "Kept from another device meanwhile. Nothing is changed."
    return Trouble(why, sent, look_words(kept.is_closed), kept.kept_at)


def look_words(is_closed: bool) -> str:
    """What a juror says of an open comment."""
    return "Closed" if is_closed else "One more answer needed"


def judged_then(crit: Crit, scheme: Scheme) -> Revision | None:
    """What the crit before was judged on; where it saw nothing, the one before that."""
    for earlier in followed_by(crit):
        if found := judged_revisions(earlier).filter(scheme=scheme).first():
            return found
    return None
