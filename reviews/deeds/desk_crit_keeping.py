"""Keep what is agreed at a student's desk: words, three next steps, and those left from before.

Every deed holds the scheme until it is done: a meeting that begins and a step that is ticked take
turns. A key made by the device marks a note: sent again, it is the same note.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple
from uuid import UUID

from django.db import transaction

from reviews import clock
from reviews.models import DeskCrit, NextStep, Person, Scheme, SheetFile
from reviews.models.briefs import Frozen
from reviews.versions import is_new

STEPS = 3
"""Steps that a meeting may set, beside those carried to it."""


class DeskSent(NamedTuple):
    """What a note says, as typed; a blank step is none."""

    words: str = ""
    steps: tuple[str, ...] = ("",) * STEPS

    @property
    def is_blank(self) -> bool:
        """Whether it says nothing."""
        return not any(text.strip() for text in (self.words, *self.steps))


def hold(scheme: Scheme) -> Scheme:
    """Return the scheme, held until the transaction ends."""
    return Scheme.objects.select_for_update().get(pk=scheme.pk)


def says(note: DeskCrit) -> DeskSent:
    """What a note says now."""
    own = dict(note.steps.filter(carried_from=None).values_list("position", "words"))
    return DeskSent(note.words, tuple(own.get(n, "") for n in range(1, STEPS + 1)))


@transaction.atomic
def keep_desk_crit(
    scheme: Scheme, key: UUID, sent: DeskSent, seen: int, by: Person, *, at: datetime | None = None
) -> DeskCrit:
    """Keep a note; a new one takes over the steps that the meeting before left open.

    Raises Newer where it was changed since it was seen, Frozen where its steps would change and a
    later meeting has taken them over, DeskCrit.DoesNotExist where the key is another scheme's or
    another leader's.
    """
    held = hold(scheme)
    note = _noted(held, key, by) or _begin(held, key, by, at)
    stands = says(note)
    if is_new(note, stands, sent, stands_at=note.version, seen=seen):
        _keep_steps(note, stands, sent)
        note.words = sent.words
        _next_version(note, at)
    return note


def _noted(scheme: Scheme, key: UUID, by: Person) -> DeskCrit | None:
    note = DeskCrit.objects.filter(key=key).select_related("photo").first()
    if note and (note.scheme_id != scheme.pk or note.by_id != by.pk):
        raise DeskCrit.DoesNotExist(key)
    return note


def _begin(scheme: Scheme, key: UUID, by: Person, at: datetime | None) -> DeskCrit:
    before = scheme.desk_crits.last()
    moment = at or clock.now()
    note = DeskCrit.objects.create(
        key=key, scheme=scheme, by=by, at=moment, kept_at=moment, version=0
    )
    left = list(before.steps.filter(done_at=None)) if before else []
    left.sort(key=lambda step: (step.carried_from_id is None, step.position))
    NextStep.objects.bulk_create(
        NextStep(desk_crit=note, position=place, words=step.words, carried_from=step)
        for place, step in enumerate(left, start=STEPS + 1)
    )
    return note


def _keep_steps(note: DeskCrit, stands: DeskSent, sent: DeskSent) -> None:
    if stands.steps == sent.steps:
        return
    if note.scheme.desk_crits.last() != note:
        raise Frozen("A later meeting has taken the steps over: they are changed there.")
    own = note.steps.filter(carried_from=None)
    for place, words in enumerate(sent.steps, start=1):
        if words.strip():
            own.update_or_create(
                position=place, defaults={"words": words}, create_defaults=_made(note, place, words)
            )
        else:
            own.filter(position=place).delete()


def _made(note: DeskCrit, place: int, words: str) -> dict[str, object]:
    return {"desk_crit": note, "position": place, "words": words}


def _next_version(note: DeskCrit, at: datetime | None) -> None:
    note.version += 1
    note.kept_at = at or clock.now()
    note.save()


@transaction.atomic
def hang_photo(
    scheme: Scheme, key: UUID, photo: SheetFile, by: Person, *, at: datetime | None = None
) -> int | None:
    """Put a stored picture to a note, begun where there is none; return the one it had before.

    Raises DeskCrit.DoesNotExist as `keep_desk_crit` does.
    """
    held = hold(scheme)
    note = _noted(held, key, by) or _begin(held, key, by, at)
    before = note.photo_id
    if before != photo.pk:
        note.photo = photo
        _next_version(note, at)
    return before


@transaction.atomic
def tick_step(
    step: NextStep, by: Person, *, is_done: bool = True, at: datetime | None = None
) -> NextStep:
    """Say of a step that it is done, or isn't after all; ticked twice, the first stands.

    A step that a later meeting took over meanwhile is ticked there.
    """
    hold(step.desk_crit.scheme)
    last = NextStep.objects.get(pk=step.pk)
    while carried := last.carried_to.first():
        last = carried
    if is_done and last.done_at is None:
        last.done_at, last.done_by = at or clock.now(), by
    elif not is_done:
        last.done_at = last.done_by = None
    last.save()
    return last
