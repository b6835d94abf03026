"""What the jury's pages show: running order, lines of a sheet, facts, questions, what is owed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby
from typing import Any

from django.db.models import Count, Q
from django.urls import reverse

from criteria.check_sheet import CheckSheet
from criteria.findings import Finding
from criteria.scoring.levels import NOT_MINE, NotJudged
from criteria.units import System
from reviews import access
from reviews.checking import issued_sheet
from reviews.jury_keeping import (
    CommentSent,
    contents_of,
    is_open_to_words,
    level_of,
    not_yet_judged,
    revision_shown,
)
from reviews.models import (
    Comment,
    Crit,
    Criterion,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
    Slot,
)
from reviews.models.briefs import Frozen
from reviews.models.crits import LEVELS
from reviews.versions import Newer

MOST_QUESTIONS = 5
"""Most likely questions that a juror is shown."""

NOT_MINE_SENT = "not-mine"


@dataclass(frozen=True)
class OrderRow:
    """One scheme of the running order, as a juror sees it."""

    slot: Slot
    sheet: JurySheet | None
    levels: int
    criteria: int

    @property
    def state(self) -> str:
        """To come, in hand or locked."""
        if self.sheet is None:
            return "To come"
        return "Locked" if self.sheet.is_locked else "In hand"


@dataclass(frozen=True)
class Room:
    """A room's part of the running order; the room with no name is for all jurors."""

    name: str
    rows: list[OrderRow]


def running_order(seat: Seat) -> list[Room]:
    """The schemes that a juror sees, by room and in order."""
    given = Q(levels__level__isnull=False) | Q(levels__is_not_mine=True)
    sheets = {
        sheet.scheme_id: sheet
        for sheet in seat.sheets.annotate(given=Count("levels", filter=given))
    }
    criteria = seat.crit.criteria.count()
    slots = sorted(
        access.seen_slots(seat).select_related("scheme"), key=lambda slot: slot.room
    )  # a stable sort keeps the order of the day within a room
    rooms = []
    for name, of_room in groupby(slots, key=lambda slot: slot.room):
        rows = []
        for slot in of_room:
            sheet = sheets.get(slot.scheme_id)
            rows.append(OrderRow(slot, sheet, getattr(sheet, "given", 0), criteria))
        rooms.append(Room(name, rows))
    return rooms


def neighbours(seat: Seat, slot: Slot) -> tuple[Slot | None, Slot | None]:
    """The scheme before and the scheme after, in the order of the list."""
    slots = [row.slot for room in running_order(seat) for row in room.rows]
    place = next((n for n, other in enumerate(slots) if other.pk == slot.pk), None)
    if place is None:
        return None, None
    before = slots[place - 1] if place else None
    after = slots[place + 1] if place + 1 < len(slots) else None
    return before, after


@dataclass(frozen=True)
class Trouble:
    """A save that was refused: why, what stands, and what was sent."""

    why: str
    sent: str = ""
    kept: str = ""
    kept_at: datetime | None = None
    is_closed: bool = False


def trouble_of(refusal: Newer | Frozen, sent: str) -> Trouble:
    """Say why a save was refused, beside what stands and what was sent."""
    if isinstance(refusal, Frozen):
        return Trouble(str(refusal), sent, is_closed=True)
    kept = refusal.kept
    why = "Kept from another device meanwhile. Nothing is changed."
    if isinstance(kept, JurySheet):
        return Trouble(why, sent, say_level(kept.impression), kept.impression_kept_at)
    if isinstance(kept, LevelGiven):
        return Trouble(why, sent, say_level(level_of(kept)), kept.kept_at)
    return Trouble(why, sent, say_contents(contents_of(kept)), kept.kept_at)


@dataclass(frozen=True)
class Choice:
    """One level that can be tapped."""

    sent: str
    figure: int | None
    word: str
    descriptor: str
    is_set: bool


@dataclass(frozen=True)
class Line:
    """A criterion, or the overall impression, on a jury sheet.

    id       of its element on the page, and the address under which a device queues its saves
    given    1 to 5, not mine to judge, or None where nothing is set yet
    """

    id: str
    name: str
    action: str
    version: int
    given: int | NotJudged | None
    kept_at: datetime | None
    choices: list[Choice]
    criterion: Criterion | None = None
    trouble: Trouble | None = None

    @property
    def is_not_mine(self) -> bool:
        """Whether it was left to others."""
        return self.given is NOT_MINE

    @property
    def is_closed(self) -> bool:
        """Whether nothing may be set here any more."""
        return bool(self.trouble and self.trouble.is_closed)

    @property
    def level(self) -> int | None:
        """The level, where one was given."""
        return self.given if isinstance(self.given, int) else None


def level_id(criterion: Criterion) -> str:
    """The id of a criterion's line on the page."""
    return f"level-{criterion.pk}"


IMPRESSION_ID = "impression"


def impression_line(
    scheme_id: int, sheet: JurySheet | None, trouble: Trouble | None = None
) -> Line:
    """The line of the overall impression."""
    given = sheet.impression if sheet else None
    return Line(
        id=IMPRESSION_ID,
        name="Overall impression",
        action=reverse("keep-impression", args=[scheme_id]),
        version=sheet.impression_version if sheet else 0,
        given=given,
        kept_at=sheet.impression_kept_at if sheet else None,
        choices=[Choice(str(n), n, w, "", given == n) for n, w in enumerate(LEVELS, start=1)],
        trouble=trouble,
    )


def level_line(
    scheme_id: int, criterion: Criterion, held: LevelGiven | None, trouble: Trouble | None = None
) -> Line:
    """The line of a criterion."""
    given = level_of(held)
    choices = [
        Choice(str(n), n, word, descriptor, given == n)
        for n, word, descriptor in criterion.descriptors
    ]
    choices.append(Choice(NOT_MINE_SENT, None, "Not mine to judge", "", given is NOT_MINE))
    return Line(
        id=level_id(criterion),
        name=str(criterion),
        action=reverse("keep-level", args=[scheme_id, criterion.pk]),
        version=held.version if held else 0,
        given=given,
        kept_at=held.kept_at if held else None,
        choices=choices,
        criterion=criterion,
        trouble=trouble,
    )


def say_level(given: int | NotJudged | None) -> str:
    """A level in words: 3 Worked through."""
    if given is None:
        return "nothing"
    return "Not mine to judge" if isinstance(given, NotJudged) else f"{given} {LEVELS[given - 1]}"


def say_contents(contents: CommentSent | str) -> str:
    """A comment in words: Prove, 02·C4: Show the number."""
    if isinstance(contents, str):
        return contents
    where = ", ".join(part for part in (contents.kind, str(contents.place)) if part)
    return f"{where or 'No kind, no place'}: {contents.words or 'no words'}"


@dataclass(frozen=True)
class Fact:
    """A check's figure beside a criterion that names it as evidence. It suggests no level."""

    ref: str
    title: str
    subject: str
    state: str
    value: str
    target: str
    margin: str


@dataclass(frozen=True)
class Judged:
    """A criterion's line with the facts folded under it."""

    line: Line
    facts: list[Fact]


def facts_for(criterion: Criterion, sheet: CheckSheet | None, system: System) -> list[Fact]:
    """The facts that a criterion names as its evidence, in the order in which it names them."""
    found = {finding.ref: finding for finding in sheet.asked} if sheet else {}
    return [_fact(found[ref], system) for ref in criterion.evidence_refs if ref in found]


def _fact(finding: Finding, system: System) -> Fact:
    return Fact(
        ref=finding.ref,
        title=finding.title,
        subject=finding.name,
        state=finding.state,
        value=finding.write_value(system) or "–",
        target=f"{finding.rule} {finding.write_target(system)}".strip(),
        margin=finding.write_margin(system),
    )


def likely_questions(sheet: CheckSheet | None) -> list[Finding]:
    """At most five findings that invite a question, those furthest from their target first."""
    asking = [finding for finding in sheet.asked if finding.question] if sheet else []

    def distance(finding: Finding) -> float:
        return 0.0 if finding.relative_margin is None else finding.relative_margin

    return sorted(asking, key=distance)[:MOST_QUESTIONS]


@dataclass(frozen=True)
class SheetView:
    """An issued sheet as it is pictured beside the levels, with flags on what was said of it."""

    number: str
    title: str
    caption: str
    src: str
    alt: str
    width: int
    height: int
    comments: list[dict[str, Any]] = field(default_factory=list)


def sheet_views(revision: Revision | None) -> list[SheetView]:
    """The sheets of a revision, as small pictures."""
    if revision is None:
        return []
    return [
        SheetView(
            number=sheet.number,
            title=sheet.title,
            caption=" ".join(part for part in (sheet.number, sheet.title, sheet.scale) if part),
            src=reverse("issued-sheet-image", args=[revision.pk, sheet.number, "preview"]),
            alt=f"Sheet {sheet.number}, {sheet.title}",
            width=sheet.file.width,
            height=sheet.file.height,
        )
        for sheet in revision.sheets.select_related("file")
    ]


def in_time(crit: Crit, revision: Revision | None) -> Revision | None:
    """The last revision issued before pens down, where the one shown is late."""
    if revision is None or not revision.minutes_late:
        return None
    before = revision.scheme.revisions.filter(issued_at__lte=crit.pens_down)
    return before.order_by("-issued_at").first()


@dataclass(frozen=True)
class CommentLine:
    """A juror's own comment, with its form while it may change."""

    comment: Comment
    is_open: bool
    form: Any = None
    trouble: Trouble | None = None

    @property
    def id(self) -> str:
        """The id of its element on the page."""
        return f"comment-{self.comment.key}"


@dataclass(frozen=True)
class Page:
    """A jury sheet, whole."""

    slot: Slot
    sheet: JurySheet | None
    is_open: bool
    revision: Revision | None
    earlier: Revision | None
    sheets: list[SheetView]
    impression: Line
    criteria: list[Judged]
    comments: list[CommentLine]
    questions: list[Finding]
    missing: list[Criterion]
    owed: list[str]
    others: list[JurySheet] = field(default_factory=list)
    before: Slot | None = None
    after: Slot | None = None

    @property
    def is_locked(self) -> bool:
        """Whether the juror has fixed it."""
        return bool(self.sheet and self.sheet.is_locked)


def owed_words(comments: Iterable[Comment], impression: int | None) -> list[str]:
    """What a juror may still want to do before locking; none of it is compulsory."""
    kept = list(comments)
    said = []
    if impression is None:
        said.append("No overall impression")
    if not any(comment.kind == Comment.Kind.KEEP for comment in kept):
        said.append("Keep 0")
    stubs = sum(comment.is_stub for comment in kept)
    if stubs:
        said.append(f"{stubs} comment{'s' * (stubs != 1)} without words")
    return said


@dataclass(frozen=True)
class Owed:
    """What stands between a sheet and its lock, and what may still be wanted."""

    missing: list[Criterion]
    owed: list[str]


def still_owed(seat: Seat, scheme: Scheme) -> Owed:
    """What a juror's sheet for a scheme still lacks."""
    sheet = seat.sheets.filter(scheme=scheme).first()
    impression = sheet.impression if sheet else None
    missing = not_yet_judged(sheet, list(seat.crit.criteria.all()))
    return Owed(missing, owed_words(own_comments(sheet), impression))


def own_comments(sheet: JurySheet | None) -> list[Comment]:
    """A juror's own comments on a sheet, in the order in which they were begun."""
    if sheet is None:
        return []
    return list(sheet.comments.filter(removed_at=None).select_related("criterion"))


def jury_page(
    seat: Seat, slot: Slot, system: System, *, is_open: bool, troubles: dict[str, Trouble]
) -> Page:
    """Everything of one jury sheet; comment forms are the view's to add."""
    scheme = slot.scheme
    sheet = seat.sheets.select_related("revision").filter(scheme=scheme).first()
    if sheet:
        sheet.seat = seat
    locked = bool(sheet and sheet.is_locked)
    revision = sheet.revision if locked else revision_shown(seat.crit, scheme)
    held = {given.criterion_id: given for given in sheet.levels.all()} if sheet else {}
    criteria = list(seat.crit.criteria.all())
    checks = issued_sheet(revision) if revision else None
    comments = own_comments(sheet)
    before, after = neighbours(seat, slot)
    return Page(
        slot=slot,
        sheet=sheet,
        is_open=is_open and not locked,
        revision=revision,
        earlier=in_time(seat.crit, revision),
        sheets=sheet_views(revision),
        impression=impression_line(scheme.pk, sheet, troubles.get(IMPRESSION_ID)),
        criteria=[
            Judged(
                level_line(scheme.pk, c, held.get(c.pk), troubles.get(level_id(c))),
                facts_for(c, checks, system),
            )
            for c in criteria
        ],
        comments=[
            CommentLine(comment, is_open and is_open_to_words(sheet, comment))
            for comment in comments
        ],
        questions=likely_questions(checks),
        missing=not_yet_judged(sheet, criteria),
        owed=owed_words(comments, sheet.impression if sheet else None),
        others=others_of(sheet),
        before=before,
        after=after,
    )


def others_of(own: JurySheet | None) -> list[JurySheet]:
    """Other jurors' sheets that a juror may read beside a locked own one."""
    if own is None:
        return []
    opened = access.opened_sheets(own).select_related("seat")
    return list(opened.prefetch_related("levels__criterion"))
