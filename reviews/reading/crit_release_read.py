"""Read all that a release would send, and what stands in its way, in a fixed number of queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from reviews.models import (
    AlikeGroup,
    ClockEntry,
    Closing,
    Comment,
    Crit,
    OpposedPair,
    OwnReleaseWords,
    ProofRead,
    Rewording,
    SpokenNote,
    Verdict,
)
from reviews.reading.crit_agreed import Agreed, agreed_of, verdicts_of
from reviews.reading.crit_clock import STOOD_DOWN
from reviews.reading.crit_day import Timed, timed
from reviews.reading.crit_evening import Remark, SchemeSaid, counted, evening_list
from reviews.reading.crit_moderation_table import SchemeRow, moderation_table
from reviews.reading.crit_release import SUGGESTED, Item, Release, SchemeOut, Standing
from reviews.reading.recrit_scope import decided_again
from reviews.worked_out import fingerprint


@dataclass(frozen=True)
class _Read:
    """What was read of a crit once for all its schemes, by the key of the scheme."""

    agreed: Mapping[int, Agreed]
    verdicts: Mapping[int, Verdict]
    own: Mapping[int, OwnReleaseWords]
    pairs: Mapping[int, list[OpposedPair]]
    groups: Mapping[int, list[AlikeGroup]]
    offers: Mapping[int, list[Rewording]]
    proofs: Mapping[int, ProofRead]
    stood_down: Mapping[int, Standing]
    again: Mapping[int, list[tuple[Comment, Closing | None]]]


def read_release(crit: Crit, *, closed: Collection[int] = ()) -> Release:
    """Read all that a release would send; the queries don't grow with schemes, jurors or words."""
    table = moderation_table(crit, closed=closed)
    said = {each.scheme.pk: each for each in evening_list(crit, closed=closed).schemes}
    read = _read(crit)
    around = (crit.names_jurors, table.criteria, crit.studio_id)
    schemes = []
    for row in table.rows:
        of = said.get(row.scheme.pk, SchemeSaid(row.scheme, ()))
        schemes.append(_scheme_out(crit, row, of, read, around))
    return Release(crit, tuple(schemes))


def _read(crit: Crit) -> _Read:
    pairs = OpposedPair.objects.standing().filter(crit=crit)
    pairs = pairs.select_related(
        "first__jury_sheet__seat",
        "first__issued_sheet",
        "second__jury_sheet__seat",
        "second__issued_sheet",
    )
    groups = AlikeGroup.objects.standing().filter(crit=crit).prefetch_related("comments")
    offers = Rewording.objects.holding().filter(comment__jury_sheet__seat__crit=crit)
    offers = offers.select_related("comment__jury_sheet__seat", "comment__issued_sheet")
    slots = list(crit.slots.all())
    again = decided_again(crit, [slot.scheme_id for slot in slots])
    down = {each.slot.scheme_id: _stood_down(each) for each in timed(crit, slots, timezone.now())}
    return _Read(
        agreed=agreed_of(crit),
        verdicts=verdicts_of(crit),
        own={each.scheme_id: each for each in crit.own_words.all()},
        pairs=_by_scheme(pairs, lambda each: each.scheme_id),
        groups=_by_scheme(groups, lambda each: each.scheme_id),
        offers=_by_scheme(offers, lambda each: each.comment.jury_sheet.scheme_id),
        proofs={each.scheme_id: each for each in crit.proofs.select_related("by")},
        stood_down=down,
        again=_by_scheme(again, lambda each: each[0].jury_sheet.scheme_id),
    )


def _stood_down(each: Timed) -> Standing:
    """Why a slot was stood down, whether or not another time was offered since."""
    why = {
        ClockEntry.Deed.STOOD_DOWN_AGREED: Standing.AGREED,
        ClockEntry.Deed.STOOD_DOWN_SILENT: Standing.SILENT,
    }
    if each.clock.state not in STOOD_DOWN:
        return Standing.USUAL
    said = [why[ClockEntry.Deed(row.deed)] for row in each.entries if row.deed in why]
    return said[-1] if said else Standing.AGREED


def _by_scheme(rows: Iterable[Any], scheme_of: Any) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for row in rows:
        found[scheme_of(row)].append(row)
    return found


def _scheme_out(
    crit: Crit, row: SchemeRow, said: SchemeSaid, read: _Read, around: tuple[Any, ...]
) -> SchemeOut:
    scheme = row.scheme
    own, verdict = read.own.get(scheme.pk), read.verdicts.get(scheme.pk)
    standing = _standing(row, verdict, read)
    words = own.words if own else SUGGESTED.get(standing)
    agreed = read.agreed.get(scheme.pk, {})
    ruled = [(each, each.pk) for each in read.pairs.get(scheme.pk, ())]
    alike = [(g.heading, [c.pk for c in g.comments.all()]) for g in read.groups.get(scheme.pk, ())]
    parts = (
        words,
        (verdict.kind, verdict.criteria, verdict.words) if verdict else None,
        sorted((pk, each.level) for pk, each in agreed.items()),
        [(cell.seat.pk, cell.digits) for cell in row.counted],
        [_told(each) for each in said.goes if not each.is_spoken],
        [_told(each) for each in said.goes if each.is_spoken],
        (
            [(p.first_id, p.second_id, p.ruling, p.argue_by) for p, _ in ruled],
            alike,
            [(o.comment_id, o.words, o.reply, o.own_words) for o in read.offers.get(scheme.pk, ())],
            [(c.pk, by and by.pk) for c, by in read.again.get(scheme.pk, ())],
        ),
        (scheme.number, scheme.name, scheme.withdrawn_at is None, around),
    )
    return SchemeOut(
        scheme=scheme,
        standing=standing,
        own=own,
        lines=tuple(_lines(row, agreed)),
        items=tuple(_items(row, said, read)),
        seen="".join(fingerprint(part)[:8] for part in parts),
        proof=read.proofs.get(scheme.pk),
        comments=len(said.goes),
        is_closed=row.is_closed,
    )


def _standing(row: SchemeRow, verdict: Verdict | None, read: _Read) -> Standing:
    if row.scheme.withdrawn_at:
        return Standing.WITHDRAWN
    if down := read.stood_down.get(row.scheme.pk, Standing.USUAL):
        return down
    is_again = verdict is not None and verdict.kind == Verdict.Kind.AGAIN
    return Standing.AGAIN if is_again else Standing.USUAL


def _told(remark: Remark) -> tuple[Any, ...]:
    said: Comment | SpokenNote = remark.said
    on = (said.issued_sheet_id, said.zone, said.revision_id)
    drawn = (said.x, said.y, said.strokes, said.criterion_id) if isinstance(said, Comment) else ()
    return (said.pk, said.kind, said.words, on, drawn, remark.seat.pk if remark.seat else 0)


def _lines(row: SchemeRow, agreed: Agreed) -> Iterator[str]:
    """What the students of a scheme would not read, or read otherwise than the rest."""
    if row.is_closed:
        return
    begun = [cell.seat.name for cell in row.cells if cell.is_owed and cell.sheet]
    absent = [cell.seat.name for cell in row.cells if cell.is_owed and not cell.sheet]
    held = sum(comment.held_at is not None for comment in row.comments)
    bare = sum(not comment.words and not comment.kind for comment in row.comments)
    stubs = sum(not comment.words for comment in row.comments) - bare
    if not row.counted and not row.scheme.withdrawn_at:
        yield "no locked sheet, so its students read no level"
    if begun:
        yield f"begun and not locked, so left out: {', '.join(begun)}"
    if absent:
        yield f"no sheet from: {', '.join(absent)}"
    if held:
        yield f"{counted(held, 'comment')} held, not released"
    if bare:
        yield f"{counted(bare, 'stub')} without kind or words, left out"
    if stubs:
        yield f"{counted(stubs, 'comment')} released without words"
    if not agreed and row.wide:
        yield f"jurors two levels or more apart, each level is read: {', '.join(row.wide)}"
    left = [each.code for each in row.criteria if each.pk not in agreed and each.weight]
    if agreed and left:
        yield f"no level agreed, so jurors' own are read: {', '.join(left)}"


def _items(row: SchemeRow, said: SchemeSaid, read: _Read) -> Iterator[Item]:
    """What must be decided of a scheme: it goes out only so, or over a reason."""
    scheme = row.scheme
    if row.is_closed:
        told = "lock your own sheet first, or let another leader release"
        yield Item(f"closed-{scheme.pk}", told, scheme, can_stay=False)
        return
    for each in said.asks:
        told = f"hazard not decided: {_place(each.said)}, {each.by}"
        yield Item(f"hazard-{each.id}", told, scheme, "evening", each.id, can_stay=False)
    for each in said.held:
        if each.said.held_by_id is None:
            told = f"held by itself, nobody decided: {_place(each.said)}, {each.by}"
            yield Item(f"held-{each.id}", told, scheme, "scheme", each.id)
    for pair in read.pairs.get(scheme.pk, ()):
        if not pair.is_ruled:
            told = f"no ruling: {_place(pair.first)} against {_place(pair.second)}"
            yield Item(f"pair-{pair.pk}", told, scheme, "scheme", f"pair-{pair.pk}")
    for offer in read.offers.get(scheme.pk, ()):
        if not offer.reply:
            by = offer.comment.jury_sheet.seat.name
            told = f"other words offered and not answered: {_place(offer.comment)}, {by}"
            yield Item(
                f"rewording-{offer.pk}", told, scheme, "scheme", f"comment-{offer.comment_id}"
            )
    for comment, decided in read.again.get(scheme.pk, ()):
        if decided is None:
            told = f"open before, neither closed nor asked for once more: {_place(comment)}"
            yield Item(f"again-{comment.pk}", told, scheme, "again", f"open-{comment.pk}")
    for cell in row.cells:
        if cell.is_owed and cell.sheet:
            told = f"begun and not locked: {cell.seat.name}"
            yield Item(f"sheet-{cell.sheet.pk}", told, scheme, "scheme")
    yield from _undecided(row, read)


def _undecided(row: SchemeRow, read: _Read) -> Iterator[Item]:
    """Levels and verdict, where this crit agrees and gives them at all."""
    scheme, agreed = row.scheme, read.agreed.get(row.scheme.pk, {})
    open_codes = {each.code for each in row.criteria if each.pk not in agreed}
    wide = [code for code in row.wide if code in open_codes]
    if wide and any(read.agreed.values()):
        told = f"jurors two levels or more apart, no level agreed: {', '.join(wide)}"
        yield Item(f"levels-{scheme.pk}", told, scheme, "scheme")
    if read.verdicts and scheme.pk not in read.verdicts and row.counted:
        told = "no verdict, while other schemes have one"
        yield Item(f"verdict-{scheme.pk}", told, scheme, "scheme")


def _place(said: Comment | SpokenNote) -> str:
    return f"{said.kind or 'remark'} {said.place}".strip()
