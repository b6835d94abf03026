"""What a juror's device holds of a crit day: every page and drawing, in order of need."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any

from django.db.models import Prefetch
from django.urls import reverse

from criteria.units import System
from reviews import clock
from reviews.models import Comment, IssuedSheet, JurySheet, Revision, Seat, Slot
from reviews.pages import jury_order
from reviews.reading.crit_sheets import all_issued, hung_of
from reviews.reading.sheet_pictures import PREVIEW, SMALL
from reviews.worked_out import fingerprint


class Kind(StrEnum):
    """What is held, in words that a device says where it has no room for them."""

    PAGE = "jury pages"
    SMALL = "small drawings"
    MIDDLE = "middle drawings"
    CLOSE = "close views"
    CHECKS = "pages of checks and schedules"


IN_ORDER = {kind: rank for rank, kind in enumerate(Kind)}
"""What is needed most comes first, and is left out last."""


@dataclass(frozen=True)
class Held:
    """One address that a device holds.

    tag   of all that its answer shows; another, and it is fetched again
    """

    url: str
    kind: str
    tag: str


@dataclass(frozen=True)
class _Shown:
    """A scheme of a juror's order, and what its pages are of; `latest`: what was issued last."""

    slot: Slot
    sheet: JurySheet | None
    latest: Revision | None
    revision: Revision | None
    pictured: list[IssuedSheet]


def day_list(seat: Seat, holder: str, system: System, lamp: str) -> dict[str, Any]:
    """The list, as JSON holds it; `validator` tells it from any other, whenever it was asked."""
    order = jury_order.in_order(seat)
    crit_tag = fingerprint(
        (seat, seat.crit, seat.crit.studio, str(system), lamp),
        list(seat.crit.criteria.all()),
        list(seat.interests.all()),
        [(slot, slot.scheme) for slot in order],
    )
    shown = _shown(seat, order)
    held = sorted(_held(shown, crit_tag), key=lambda each: IN_ORDER[Kind[each.kind]])
    told = {
        "holder": holder,
        "link": hashlib.sha256(seat.code.encode()).hexdigest(),
        "ends_at": int(seat.link_ends_at.timestamp() * 1000),
        "kinds": {kind.name: kind.value for kind in Kind},
        "held": [asdict(each) for each in held],
    }
    now = int(clock.now().timestamp() * 1000)
    return {**told, "validator": fingerprint(told), "now": now}


def _shown(seat: Seat, order: list[Slot]) -> list[_Shown]:
    comments = Prefetch("comments", Comment.objects.with_places())
    begun = seat.sheets.select_related("revision").with_levels().prefetch_related(comments)
    sheets = {sheet.scheme_id: sheet for sheet in begun}
    issued = all_issued(seat.crit, [slot.scheme for slot in order])
    shown = []
    for slot in order:
        sheet, latest = sheets.get(slot.scheme_id), issued[slot.scheme_id].shown
        shown.append((slot, sheet, latest, sheet.revision if sheet else latest))
    hung = hung_of(revision for *_, revision in shown)
    return [_Shown(*each, hung[each[3].pk] if each[3] else []) for each in shown]


def _held(shown: list[_Shown], crit_tag: str) -> Iterator[Held]:
    sheets = [(each, _tag(each, crit_tag)) for each in shown]
    whole = fingerprint(crit_tag, [tag for _, tag in sheets])
    for name in ("show-jury", "show-jury-brief"):
        yield Held(reverse(name), Kind.PAGE.name, whole)
    for each, tag in sheets:
        yield Held(reverse("show-jury-sheet", args=[each.slot.scheme_id]), Kind.PAGE.name, tag)
        if each.revision:
            yield from _drawn(each, each.revision, tag)


def _drawn(each: _Shown, revision: Revision, tag: str) -> Iterator[Held]:
    for sheet in each.pictured:
        keys = [revision.pk, sheet.number]
        sizes = {PREVIEW: Kind.MIDDLE} | ({SMALL: Kind.SMALL} if sheet.file.small else {})
        for size, kind in sizes.items():
            url = reverse("issued-sheet-image", args=[*keys, size])
            yield Held(url, kind.name, fingerprint(sheet.file))
        yield Held(reverse("show-issued-sheet", args=keys), Kind.CLOSE.name, tag)
    for name in ("show-issued-checks", "show-revision"):
        yield Held(reverse(name, args=[revision.pk]), Kind.CHECKS.name, revision.fingerprint)


def _tag(each: _Shown, crit_tag: str) -> str:
    """Of what a juror's page of one scheme shows."""
    sheet = each.sheet
    said = list(sheet.comments.all()) if sheet else []
    levels = list(sheet.levels.all()) if sheet else []
    return fingerprint(crit_tag, sheet, said, levels, each.revision, each.latest)
