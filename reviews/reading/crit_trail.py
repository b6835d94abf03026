"""How a scheme's results came about: facts in the order of time, each a plain record.

A trail is kept with an appeal as it stood, so it names people by their keys alone: whoever is made
anonymous is so in it. It holds what its scheme's students may read, and beside it, marked
`office`, what leaders and coordinators alone do: held comments, declared interests and sheets that
don't count. Nothing of another scheme is in it, and no figure worked out of levels.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import Any

from reviews import clock
from reviews.models import (
    AgreedLevel,
    ClockEntry,
    Comment,
    Crit,
    FormerSheet,
    Interest,
    JudgedChoice,
    JurySheet,
    LevelGiven,
    Scheme,
    SpokenNote,
    Verdict,
)
from reviews.reading.crit_clock import Part
from reviews.reading.crit_day import timed
from reviews.reading.crit_sheets import level_of, level_text
from reviews.worked_out import fingerprint

Fact = dict[str, Any]
"""What happened: `what`, `at` (ISO 8601, or blank), and what else its kind says."""

WAITED = timedelta(minutes=1)
"""From when on an entry is said to have waited on a device before it was kept."""


def trail_of(crit: Crit, scheme: Scheme) -> list[Fact]:
    """Everything that the results of a scheme rest on, in the order of time."""
    facts = [
        *_issued(crit, scheme),
        *_slot(crit, scheme),
        *_sheets(crit, scheme),
        *_comments(crit, scheme),
        *_spoken(crit, scheme),
        *_decided(crit, scheme),
    ]
    return sorted(facts, key=lambda fact: (fact["at"], fact["what"], str(fact)))


def trail_seen(facts: Iterable[Fact]) -> str:
    """A short fingerprint of a trail, for whoever decides over it."""
    return fingerprint(list(facts))[:16]


def open_to(facts: Iterable[Fact], *, has_office: bool) -> list[Fact]:
    """The facts that somebody may read."""
    return [fact for fact in facts if has_office or not fact.get("office")]


def _fact(what: str, at: datetime | None, **more: Any) -> Fact:
    told = {name: value for name, value in more.items() if value not in (None, "", False)}
    return {"what": what, "at": at.isoformat(timespec="seconds") if at else "", **told}


def _letter(row: Any) -> str:
    return row.revision.letter if row.revision else ""


def _issued(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    for revision in scheme.revisions.filter(crit=crit).order_by("pk"):
        yield _fact(
            "issued",
            revision.issued_at,
            letter=revision.letter,
            minutes=revision.minutes_late,
            person=revision.issued_by_id,
            words=revision.behalf_words,
        )
    chosen = JudgedChoice.objects.filter(slot__crit=crit, slot__scheme=scheme)
    for choice in chosen.select_related("revision"):
        yield _fact("chosen", choice.at, letter=choice.revision.letter)


def _slot(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    """The place in the day, and the minutes that its clock gave."""
    slots = list(crit.slots.filter(scheme=scheme).select_related("scheme", "crit"))
    for each in timed(crit, slots, clock.now()):
        slot = each.slot
        hour = f"{slot.starts_at:%H:%M}" if slot.starts_at else ""
        yield _fact("placed", None, position=slot.position, hour=hour, room=slot.room)
        if each.clock.given_in_all_s:
            given = [round(each.clock.given_s.get(part, 0.0)) for part in Part]
            planned = [round(60 * each.minutes.get(part, 0)) for part in Part]
            began = each.clock.began_at
            yield _fact("given", began, given_s=given, planned_s=planned)
        for entry in each.entries:
            if entry.deed in (ClockEntry.Deed.STOOD_DOWN_AGREED, ClockEntry.Deed.STOOD_DOWN_SILENT):
                yield _fact("stood-down", entry.at, person=entry.by_id, deed=entry.deed)


def _sheets(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    sheets = JurySheet.objects.of(crit.pk, scheme.pk).telling_which_count().with_levels()
    sheets = sheets.prefetch_related("levels__corrections", "levels__criterion", "formers")
    for sheet in sheets:
        is_office = not sheet.counts  # type: ignore[attr-defined]
        seat = sheet.seat_id
        if sheet.saw_in_part_at:
            yield _fact("in-part", sheet.saw_in_part_at, seat=seat, office=True)
        if sheet.locked_at is None:
            is_office = True
        for given in sheet.levels.all():
            yield from _level(given, seat, is_office)
        for former in sheet.formers.all():
            yield from _former(former, seat, is_office)
        if sheet.locked_at:
            typed = sheet.typed_by_id
            yield _fact("locked", sheet.locked_at, seat=seat, person=typed, office=is_office)
    declared = Interest.objects.filter(seat__crit=crit, scheme=scheme)
    for interest in declared:
        yield _fact(
            "interest",
            interest.declared_at,
            seat=interest.seat_id,
            comments=interest.may_comment,
            taken_back=interest.taken_back_at is not None,
            office=True,
        )


def _level(given: LevelGiven, seat: int, is_office: bool) -> Iterator[Fact]:
    """A level as it was first set, then as its juror changed it, then as it was corrected."""
    corrections, changed = list(given.corrections.all()), getattr(given, "changed", None)
    first = corrections[0].was if corrections else level_text(level_of(given))
    first = changed.was if changed else first
    of: dict[str, Any] = {"seat": seat, "criterion": given.criterion.code, "office": is_office}
    set_at = given.set_at or given.kept_at
    waited = given.kept_at - set_at >= WAITED
    arrived = given.kept_at.isoformat(timespec="seconds") if waited else ""
    yield _fact("level", set_at, now=first, letter=_letter(given), arrived=arrived, **of)
    if changed:
        told = {"was": changed.was, "now": changed.now, "words": changed.reason}
        yield _fact("changed", changed.at, letter=_letter(changed), **told, **of)
    for each in corrections:
        told = {"was": each.was, "now": each.now, "words": each.reason}
        yield _fact("corrected", each.at, person=each.by_id, appeal=each.appeal_id, **told, **of)


def _former(former: FormerSheet, seat: int, is_office: bool) -> Iterator[Fact]:
    levels = former.contents.get("levels", {})
    stood = ", ".join(f"{code} {level}" for code, level in levels.items() if level)
    yield _fact("locked", former.locked_at, seat=seat, levels=stood, office=is_office)
    yield _fact(
        "reopened",
        former.reopened_at,
        seat=seat,
        person=former.reopened_by_id,
        words=former.reason,
        office=is_office,
    )


def _comments(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    """Comments that waited on a device, and those held: their words are their leader's to read."""
    kept = Comment.objects.kept().of(crit, scheme).select_related("issued_sheet", "jury_sheet")
    for comment in kept.filter(jury_sheet__in=JurySheet.objects.read()):
        seat, of = comment.jury_sheet.seat_id, str(comment)
        is_held = comment.held_at is not None
        set_at = comment.set_at or comment.kept_at
        if comment.kept_at - set_at >= WAITED:
            arrived = comment.kept_at.isoformat(timespec="seconds")
            more: Fact = {"of": of, "arrived": arrived, "office": is_held}
            yield _fact("comment", set_at, seat=seat, **more)
        if is_held:
            yield _fact(
                "held",
                comment.held_at,
                seat=seat,
                of=of,
                said=comment.words,
                person=comment.held_by_id,
                words=comment.held_reason,
                office=True,
            )


def _spoken(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    for note in SpokenNote.objects.open_of(crit, scheme):
        said = note.words or note.typed
        is_held = note.held_at is not None
        yield _fact("spoken", note.said_at, seat=note.seat_id, said=said, office=is_held)


def _decided(crit: Crit, scheme: Scheme) -> Iterator[Fact]:
    """What was agreed, the verdicts, and when comments and results went out."""
    for agreed in AgreedLevel.objects.of(crit.pk, scheme.pk).select_related("criterion"):
        yield _fact(
            "agreed",
            agreed.at,
            criterion=agreed.criterion.code,
            now=str(agreed.level or ""),
            words=agreed.reason,
            person=agreed.by_id,
            appeal=agreed.appeal_id,
        )
    for verdict in Verdict.objects.filter(crit=crit, scheme=scheme):
        yield _fact(
            "verdict",
            verdict.at,
            now=verdict.get_kind_display(),
            codes=" ".join(verdict.criteria),
            words=verdict.words,
            person=verdict.by_id,
            appeal=verdict.appeal_id,
        )
    if crit.comments_sent_at:
        yield _fact("sent", crit.comments_sent_at, person=crit.comments_sent_by_id)
    if crit.released_at:
        yield _fact("released", crit.released_at, person=crit.released_by_id)
    for talk in crit.conversations.filter(scheme=scheme, held_on__isnull=False):
        yield _fact("talked", talk.at, person=talk.by_id, day=f"{talk.held_on:%Y-%m-%d}")
