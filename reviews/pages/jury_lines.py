"""One line of a jury sheet: its levels to tap, what is set, and why a save was refused."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.urls import reverse
from django.utils.html import escape

from criteria.scoring.levels import NOT_MINE, NotJudged
from criteria.tone import PATTERNS, Found, tone_of
from reviews.deeds.crit_jury_keeping import CommentSent, contents_of
from reviews.models import (
    ChangedLevel,
    Comment,
    Criterion,
    JurySheet,
    LevelGiven,
    PrivateNote,
    Revision,
)
from reviews.models.briefs import Frozen
from reviews.models.crits import LEVELS
from reviews.pages.traced_sheets import flag_id
from reviews.reading.crit_results import foot_of
from reviews.reading.crit_sheets import level_of
from reviews.versions import Newer

NOT_MINE_SENT = "not-mine"
"""What a device sends for a criterion that isn't its juror's to judge."""


@dataclass(frozen=True)
class Trouble:
    """A save that was refused: why, what stands, what was sent, and words to type on from."""

    why: str
    sent: str = ""
    kept: str = ""
    kept_at: datetime | None = None
    is_closed: bool = False
    words: str = ""


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
    if isinstance(kept, PrivateNote):
        return Trouble(why, sent, kept.words or "nothing", kept.kept_at)
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
    of       key of the revision that the page shows
    set_on   the revision that it was set on; None where nothing is set, or nothing was issued
    set_at   when it was set, where it waited on the device
    changed  what its juror changed after the discussion
    """

    id: str
    name: str
    action: str
    version: int
    given: int | NotJudged | None
    kept_at: datetime | None
    choices: list[Choice]
    of: int
    set_on: Revision | None = None
    criterion: Criterion | None = None
    trouble: Trouble | None = None
    set_at: datetime | None = None
    changed: ChangedLevel | None = None

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
    scheme_id: int, sheet: JurySheet | None, of: int, trouble: Trouble | None = None
) -> Line:
    """The line of the overall impression, on a page that shows a revision."""
    given = sheet.impression if sheet else None
    return Line(
        id=IMPRESSION_ID,
        name="Overall impression",
        action=reverse("keep-impression", args=[scheme_id]),
        version=sheet.impression_version if sheet else 0,
        given=given,
        kept_at=sheet.impression_kept_at if sheet else None,
        choices=[Choice(str(n), n, w, "", given == n) for n, w in enumerate(LEVELS, start=1)],
        of=of,
        set_on=sheet.impression_revision if sheet else None,
        set_at=sheet.impression_set_at if sheet else None,
        trouble=trouble,
    )


def level_line(
    scheme_id: int,
    criterion: Criterion,
    held: LevelGiven | None,
    of: int,
    trouble: Trouble | None = None,
) -> Line:
    """The line of a criterion, on a page that shows a revision."""
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
        of=of,
        set_on=held.revision if held else None,
        set_at=held.set_at if held else None,
        changed=getattr(held, "changed", None),
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
    strokes = len(contents.strokes)
    drawn = f", {strokes} stroke{'s' * (strokes != 1)}" if strokes else ""
    return f"{where or 'No kind, no place'}{drawn}: {contents.words or 'no words'}"


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

    @property
    def flag(self) -> str:
        """Where its flag stands on the drawing; blank where it has none."""
        return f"#{flag_id(self.id)}" if foot_of(self.comment) else ""

    @property
    def tone(self) -> tuple[Found, ...]:
        """What of its words is about the person, to its juror alone and while it may change."""
        return tone_of(self.comment.words) if self.is_open else ()


TONE_RULES = escape(json.dumps(PATTERNS, ensure_ascii=False))
"""The same rules for the page, which names such words while they are typed, without a network."""
