"""The desk crits of one scheme: what is open, and every meeting, the latest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from typing import NamedTuple

from django.db.models import QuerySet
from django.utils import timezone

from reviews import clock
from reviews.access import Viewer
from reviews.access_studio import can_change_desk_crit, can_note_desk_crit, can_tick_step
from reviews.models import DeskCrit, NextStep, Option, Scheme
from reviews.moments import day_words, moment_words
from reviews.reading.desk_crits import open_steps

MEETING = timedelta(minutes=30)
"""Within so long a note is still being typed."""


@dataclass(frozen=True)
class StepLine:
    """A step as a meeting left it.

    state   Done, Carried on or Open, and when and by whom where it is done
    since   the day of the meeting that first set it, where an earlier one did
    """

    words: str
    state: str
    since: str


@dataclass(frozen=True)
class Meeting:
    """One desk crit, as it is read."""

    note: DeskCrit
    steps: Sequence[StepLine]
    can_change: bool

    @property
    def kept(self) -> str:
        """When it was changed last, where that was long after the meeting."""
        is_later = self.note.kept_at - self.note.at > MEETING
        return moment_words(self.note.kept_at) if is_later else ""


@dataclass(frozen=True)
class OpenStep:
    """A step that waits to be done; since when, where an earlier meeting set it."""

    step: NextStep
    since: str


@dataclass(frozen=True)
class DeskPage:
    """All that the page of a scheme's desk crits shows.

    meetings   those noted, less the one whose note is in hand
    """

    scheme: Scheme
    has_met: bool
    meetings: Sequence[Meeting]
    open: Sequence[OpenStep]
    can_note: bool
    can_tick: bool


class Desk(NamedTuple):
    """What a package's page tells of its desk: open steps, the options, the one that is chosen."""

    steps: Sequence[NextStep]
    written: int
    chosen: Option | None


def desk_of(scheme: Scheme) -> Desk:
    """The same of a scheme."""
    options = list(_options().filter(scheme=scheme))
    chosen = next((option for option in options if option.chosen_at), None)
    return Desk(open_steps(scheme), len(options), chosen)


@cache
def _options() -> QuerySet[Option]:
    """Written options of whatever scheme; built once, and filtered by whoever asks."""
    told = "title", "position", "chosen_at"
    return Option.objects.written().order_by("position").only(*told)


def desk_page(viewer: Viewer, scheme: Scheme, in_hand: DeskCrit | None = None) -> DeskPage:
    """The page, as its reader may use it."""
    notes = scheme.desk_crits.select_related("by", "photo", "scheme").order_by("-at", "-pk")
    notes = notes.prefetch_related("steps__done_by", "steps__carried_to")
    meetings = [Meeting(n, _steps(n), can_change_desk_crit(viewer, n)) for n in notes]
    return DeskPage(
        scheme,
        bool(meetings),
        [meeting for meeting in meetings if meeting.note != in_hand],
        [OpenStep(step, _since(step)) for step in open_steps(scheme)],
        can_note_desk_crit(viewer, scheme),
        can_tick_step(viewer, scheme),
    )


def note_in_hand(viewer: Viewer, scheme: Scheme, asked: str) -> DeskCrit | None:
    """The note that a leader goes on with: the one asked for, or their own of today.

    None where a new one begins; asked is a note's number, "new", or nothing.
    """
    own = scheme.desk_crits.filter(by=viewer.person)
    if asked.isascii() and asked.isdigit() and len(asked) < 19:
        return own.filter(pk=int(asked)).first()
    last = own.last()
    is_todays = last is not None and timezone.localdate(last.at) == clock.today()
    return last if is_todays and asked != "new" else None


def _steps(note: DeskCrit) -> list[StepLine]:
    ordered = sorted(note.steps.all(), key=lambda s: (s.carried_from_id is None, s.position))
    return [StepLine(step.words, _state(step), _since(step)) for step in ordered]


def _state(step: NextStep) -> str:
    if step.done_at:
        return f"Done, {step.done_by}, {moment_words(step.done_at)}"
    return "Carried on" if step.carried_to.all() else "Open"


def _since(step: NextStep) -> str:
    """The day of the meeting that set a step first; blank where this one did."""
    first = step
    while first.carried_from:
        first = first.carried_from
    return "" if first == step else day_words(timezone.localdate(first.desk_crit.at))
