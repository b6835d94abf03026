"""A pin-up's quiet round as its reader has it: what to write, what was left, who has fewest."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from django.urls import reverse

from reviews.access import Viewer
from reviews.access_studio import (
    can_close_round,
    can_leave_notes,
    can_read_notes,
    can_see_round,
    quiet_rounds,
)
from reviews.models import Crit, Membership, Person, QuietNote, Scheme, Studio
from reviews.moments import day_words, moment_words
from reviews.reading.pin_up import pin_up
from reviews.reading.quiet_round import counted, is_open, offered, ring_of, taking_part

MakeForm = Callable[[Scheme, str, QuietNote | None], Any]
"""Makes the form of a note on a scheme, of a kind, as it stands."""


class Offer(NamedTuple):
    """A scheme that whoever looks may write on.

    sheets   where its sheets are seen; blank where the reader sees none
    """

    scheme: Scheme
    sheets: str
    forms: list[Any]


class Left(NamedTuple):
    """A scheme with what was left on it."""

    scheme: Scheme
    notes: list[QuietNote]

    @property
    def keeps(self) -> int:
        """How many Keeps."""
        return sum(note.kind == QuietNote.Kind.KEEP for note in self.notes)

    @property
    def asks(self) -> int:
        """How many Asks."""
        return len(self.notes) - self.keeps


@dataclass(frozen=True)
class QuietPage:
    """What the page of a quiet round shows.

    state     that it is open, when it opens, or when and by whom it was closed
    offers    schemes to write on; none of whoever writes nothing
    own       the reader's own schemes with what was left, once the round is closed
    counts    every scheme with what was left, those with fewest first; for leaders, and for
              coordinators once it is closed
    silent    students who have left nothing yet
    """

    crit: Crit
    state: str
    is_open: bool
    is_closed: bool
    takes_part: bool
    offers: Sequence[Offer]
    own: Sequence[Left]
    counts: Sequence[Left]
    silent: Sequence[Person]
    can_close: bool

    @property
    def fewest(self) -> Sequence[Left]:
        """The schemes with fewest notes."""
        least = len(self.counts[0].notes) if self.counts else 0
        return [left for left in self.counts if len(left.notes) == least]


def rounds_of(viewer: Viewer, studio: Studio) -> list[Crit]:
    """The pin-ups of a studio whose round the viewer may see."""
    rounds = quiet_rounds(viewer).filter(studio=studio)
    return [crit for crit in rounds if can_see_round(viewer, crit)]


def quiet_round_page(viewer: Viewer, crit: Crit, make: MakeForm) -> QuietPage:
    """The page, as its reader may use it; a form that was sent is made as it was sent."""
    schemes = taking_part(crit)
    notes = list(crit.quiet_notes.standing().select_related("by"))
    left = {scheme.pk: Left(scheme, []) for scheme in schemes}
    for note in notes:
        if note.scheme_id in left:
            left[note.scheme_id].notes.append(note)
    takes_part, is_closed = can_leave_notes(viewer, crit), crit.quiet_closed_at is not None
    reads = can_read_notes(viewer, crit)
    own = [left[pk] for pk in left if pk in viewer.own_scheme_ids]
    return QuietPage(
        crit,
        _state(crit),
        is_open(crit),
        is_closed,
        takes_part,
        _offers(viewer, crit, schemes, notes, make) if takes_part and is_open(crit) else [],
        own if is_closed else [],
        sorted(left.values(), key=lambda each: len(each.notes)) if reads else [],
        _silent(crit, notes) if reads else [],
        can_close_round(viewer, crit),
    )


def _state(crit: Crit) -> str:
    if crit.quiet_closed_at:
        return f"Closed by {crit.quiet_closed_by}, {moment_words(crit.quiet_closed_at)}"
    return "Open" if is_open(crit) else f"Opens on {day_words(crit.day)}"


def _offers(
    viewer: Viewer, crit: Crit, schemes: list[Scheme], notes: list[QuietNote], make: MakeForm
) -> list[Offer]:
    me = viewer.person.pk if viewer.person else 0
    mine = {(note.scheme_id, note.kind): note for note in notes if note.by_id == me}
    begun = counted(mine.values())
    ring = ring_of((scheme.pk for scheme in schemes), crit.pk)
    by_pk = {scheme.pk: scheme for scheme in schemes}
    hung = {each.revision.scheme_id: each.revision.pk for each in pin_up(viewer, crit.studio)}
    wanted = offered(ring, counted(notes), viewer.own_scheme_ids, begun, behind=me)
    return [
        Offer(
            by_pk[pk],
            reverse("show-revision", args=[hung[pk]]) if pk in hung else "",
            [make(by_pk[pk], kind, mine.get((pk, kind))) for kind in QuietNote.Kind.values],
        )
        for pk in wanted
    ]


def _silent(crit: Crit, notes: list[QuietNote]) -> list[Person]:
    """Students who have left nothing yet, by name."""
    have = {note.by_id for note in notes}
    held = crit.studio.memberships.joined().filter(role=Membership.Role.STUDENT)
    people = [place.person for place in held.select_related("person").exclude(person__in=have)]
    return sorted(people, key=str)
