"""Set a crit: its kind, its day, the hour of pens down, and whether work is still issued."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

from django.db import transaction

from reviews import clock
from reviews.deeds.crit_running_order import remember
from reviews.deeds.record_versions import is_change
from reviews.models import Crit, Person, Studio
from reviews.models.briefs import Frozen
from reviews.models.crits import SLOT_PARTS

PARTS = (
    *("kind", "day", "pens_down", "names_jurors", "takes_severity_out", "talk"),
    *SLOT_PARTS,
    *("follows_id", "level_cap"),
)
TOLD = ("kind", "day", "pens_down", *SLOT_PARTS)
"""What stands in calendars."""


@transaction.atomic
def open_crit(studio: Studio, parts: dict[str, Any], by: Person) -> Crit:
    """Set a crit; setting the same kind on the same day twice sets one."""
    Studio.objects.select_for_update().get(pk=studio.pk)
    same = Crit.objects.filter(studio=studio, kind=parts["kind"], day=parts["day"]).first()
    chosen = {"severity_chosen_at": clock.now(), "severity_chosen_by": by}
    return same or Crit.objects.create(studio=studio, **parts, **chosen)


@transaction.atomic
def change_crit(crit: Crit, parts: dict[str, Any], seen: int, by: Person) -> Crit:
    """Change a crit; raises Newer, and Frozen where it is released or a promise would break."""
    held = Crit.objects.hold(crit.pk)
    if not is_change(parts_of(held), parts, seen):
        return held
    if held.is_released:
        raise Frozen("The crit is released. Nothing of it changes.")
    if held.names_jurors != parts["names_jurors"] and held.is_filed:
        raise Frozen("A juror has begun, told whether names are shown. That stays as announced.")
    if held.talk != parts["talk"] and held.is_filed:
        raise Frozen("A juror has begun in this order of talk. It stays for this crit.")
    if held.takes_severity_out != parts["takes_severity_out"]:
        if held.is_filed or clock.today() >= held.day:
            raise Frozen(
                "Whether severity is taken out is fixed: a juror has begun, or the day has come."
            )
        held.severity_chosen_at, held.severity_chosen_by = clock.now(), by
    again = parts["follows_id"], parts["level_cap"]
    if (held.follows_id, held.level_cap) != again and held.is_filed:
        raise Frozen("A juror has begun. What it follows and how far levels rise stay so.")
    is_told_anew = any(getattr(held, name) != parts[name] for name in TOLD)
    for name, value in parts.items():
        setattr(held, name, value)
    held.save(update_fields=[*parts, "severity_chosen_at", "severity_chosen_by"])
    if is_told_anew:
        remember(held, by, lot=held.drawn_seed)
    return held


@transaction.atomic
def close_issuing(crit: Crit, by: Person, *, at: datetime | None = None) -> Crit:
    """Let nothing more be issued for a crit; closing what is closed changes nothing."""
    held = _unreleased(crit)
    if held.issuing_closed_at is None:
        held.issuing_closed_at, held.issuing_closed_by = at or clock.now(), by
        held.save(update_fields=["issuing_closed_at", "issuing_closed_by"])
    return held


@transaction.atomic
def open_issuing(crit: Crit) -> Crit:
    """Let work be issued for a crit again; what was issued meanwhile stays outside it."""
    held = _unreleased(crit)
    held.issuing_closed_at = held.issuing_closed_by = None
    held.save(update_fields=["issuing_closed_at", "issuing_closed_by"])
    return held


def _unreleased(crit: Crit) -> Crit:
    held = Crit.objects.hold(crit.pk)
    if held.is_released:
        raise Frozen("The crit is released. Nothing more is issued for it.")
    return held


def followed(studio: Studio, crit: Crit | None) -> list[Crit]:
    """The crits that a re-crit may follow: released ones of the studio, opened before it."""
    crits = Crit.objects.released().filter(studio=studio).exclude(kind=Crit.Kind.PIN_UP)
    found = list(crits.filter(pk__lt=crit.pk) if crit else crits)
    kept = crit.follows if crit else None
    return found if kept is None or kept in found else [*found, kept]


def parts_of(crit: Crit) -> dict[str, Any]:
    """What of a crit its leader sets."""
    return {name: getattr(crit, name) for name in PARTS}


def parts_after(earlier: Iterable[Crit], key: int) -> dict[str, Any]:
    """What is known of a re-crit before it is opened: which crit it follows, if it may."""
    follows = [crit for crit in earlier if crit.pk == key]
    return {"kind": Crit.Kind.RECRIT, "follows_id": key} if follows else {}


def is_before_its_end(day: date, pens_down: datetime) -> bool:
    """Whether pens go down before the day of the crit is over."""
    return pens_down.date() <= day
