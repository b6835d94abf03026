"""A scheme's comments as its students answer them: open ones first, and what became of each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from criteria.findings import Finding
from criteria.units import System
from reviews import access_answers
from reviews.access import Viewer
from reviews.models import (
    Answer,
    Appeal,
    Closing,
    Comment,
    Crit,
    FormerAnswer,
    Revision,
    Scheme,
)
from reviews.models.revisions import with_issued_checks
from reviews.pages.check_page import check_line
from reviews.pages.results_page import CommentRead, Results
from reviews.reading.crit_answers import Stage, former_answers, stage_of
from reviews.reading.named_checks import CheckMove, named_checks
from reviews.reading.sheets_of_scheme import newest_revision

FEW = 3
"""Comments without an answer up to which each form stands open."""
ORDER = (Stage.NONE, Stage.OPEN, Stage.WAITS, Stage.CLOSED)
HEADS = {
    Stage.NONE: "To answer",
    Stage.OPEN: "Answered and open",
    Stage.WAITS: "Answered, for the studio leader to close",
    Stage.CLOSED: "Closed",
}


@dataclass(frozen=True)
class MoveRead:
    """A check before and now, as its reader reads figures."""

    move: CheckMove
    title: str
    before: str
    now: str
    state: str

    @property
    def is_same(self) -> bool:
        return not self.move.has_moved


@dataclass(frozen=True)
class Line:
    """A comment with its answer, what it said before, its closings, and the checks it names.

    since   the letters of the revisions between which the checks are read
    """

    read: CommentRead
    stage: Stage
    formers: list[FormerAnswer]
    closings: list[Closing]
    moves: list[MoveRead]
    since: tuple[str, str]

    @property
    def names_checks(self) -> bool:
        """Whether its juror typed which; else they are those that its criterion rests on."""
        return any(each.move.is_typed for each in self.moves)

    @property
    def moved(self) -> int:
        """How many checks moved."""
        return sum(not each.is_same for each in self.moves)

    @property
    def anchor(self) -> str:
        """Of its words on the page of results."""
        return str(self.read.number)

    @property
    def is_talk(self) -> bool:
        """Whether its answer asks to talk first."""
        answer = self.read.answer
        return answer is not None and answer.kind == Answer.Kind.TALK


@dataclass(frozen=True)
class Part:
    """Comments that stand alike."""

    head: str
    stage: Stage
    lines: list[Line]


@dataclass(frozen=True)
class SchemeAnswers:
    """The page of one crit and scheme.

    appeals   those that whoever reads knows of, each with whether they may open it
    """

    results: Results
    parts: list[Part]
    held: list[CommentRead]
    appeals: list[tuple[Appeal, bool]]
    can_answer: bool
    can_talk: bool
    can_appeal: bool

    @property
    def left(self) -> int:
        """How many comments have no answer yet."""
        return sum(len(part.lines) for part in self.parts if part.stage is Stage.NONE)

    @property
    def is_short(self) -> bool:
        """Whether so few are left that their forms stand open."""
        return self.left <= FEW


def scheme_answers(viewer: Viewer, results: Results, system: System) -> SchemeAnswers:
    """What was said of a scheme, by how it stands; in a number of queries that doesn't grow."""
    crit, scheme = results.crit, results.scheme
    read = [each for each in results.comments if not each.held_at]
    comments = [each.comment for each in read]
    formers = former_answers(comments)
    closings: dict[int, list[Closing]] = {}
    rows = Closing.objects.told().filter(comment__in=comments).select_related("by", "crit")
    for row in rows:
        closings.setdefault(row.comment_id, []).append(row)
    checks = _Checks(scheme, results.revisions, comments, system)
    lines = [
        Line(
            each,
            stage_of(each.answer, is_closed=_is_closed(closings.get(each.comment.pk, []))),
            formers.get(each.comment.pk, []),
            closings.get(each.comment.pk, []),
            checks.of(each.comment),
            checks.since(each.comment),
        )
        for each in read
    ]
    return SchemeAnswers(
        results=results,
        parts=list(_parts(lines)),
        held=[each for each in results.comments if each.held_at],
        appeals=appeals_known(viewer, crit, scheme),
        can_answer=results.form_of is not None,
        can_talk=access_answers.can_talk(viewer, crit, scheme),
        can_appeal=access_answers.can_appeal(viewer, crit, scheme),
    )


def _is_closed(closings: list[Closing]) -> bool:
    return bool(closings) and closings[-1].is_closed


def _parts(lines: Iterable[Line]) -> Iterable[Part]:
    hazards_first = sorted(lines, key=lambda line: line.read.comment.kind != Comment.Kind.HAZARD)
    for stage in ORDER:
        if stood := [line for line in hazards_first if line.stage is stage]:
            yield Part(HEADS[stage], stage, stood)


def appeals_known(viewer: Viewer, crit: Crit, scheme: Scheme) -> list[tuple[Appeal, bool]]:
    """Appeals of a scheme, each with whether it may be opened: mates know that there is one."""
    opened = set(access_answers.appeals(viewer).filter(crit=crit).values_list("pk", flat=True))
    found = Appeal.objects.filter(crit=crit, scheme=scheme).select_related("by")
    return [(appeal, appeal.pk in opened) for appeal in found]


class _Checks:
    """The check sheets that a scheme's comments are read against, fetched once."""

    def __init__(
        self, scheme: Scheme, seen: list[Revision], comments: list[Comment], system: System
    ) -> None:
        self.system = system
        self.newest = newest_revision(scheme)
        self.seen = seen[-1] if seen else None
        asked = {c.revision_id for c in comments if c.revision_id}
        asked |= {each.pk for each in (self.newest, self.seen) if each}
        fetched = with_issued_checks(Revision.objects.filter(pk__in=asked))
        self.sheets = {revision.pk: revision.issued_checks.holds for revision in fetched}
        self.letters = {revision.pk: revision.letter for revision in fetched}

    def _said_of(self, comment: Comment) -> int | None:
        return comment.revision_id or (self.seen.pk if self.seen else None)

    def since(self, comment: Comment) -> tuple[str, str]:
        newest = self.newest.letter if self.newest else ""
        return self.letters.get(self._said_of(comment) or 0, ""), newest

    def of(self, comment: Comment) -> list[MoveRead]:
        before, now = self._said_of(comment), self.newest
        sheets = self.sheets.get(before or 0), self.sheets.get(now.pk if now else 0)
        return [self._read(move) for move in named_checks(comment, *sheets)]

    def _read(self, move: CheckMove) -> MoveRead:
        stands = move.now or move.before
        return MoveRead(
            move,
            title=stands.title if stands else "",
            before=self._words(move.before),
            now=self._words(move.now),
            state=move.now.state.word if move.now else "not asked",
        )

    def _words(self, finding: Finding | None) -> str:
        return check_line(finding, self.system).value_text if finding else "not asked"
