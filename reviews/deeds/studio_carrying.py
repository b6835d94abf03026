"""Carry a studio over to the next year: brief and criteria sheets copied, days cleared.

People, schemes and what they issued are left behind. Nothing that is carried is a row of the old
studio: each is a copy, and the new one's brief is in preparation.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date, datetime
from typing import Any, NamedTuple

from django.db import transaction

from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.brief_weather import carried
from reviews.deeds.brief_writing import filled
from reviews.deeds.studio_opening import Leader, open_studio
from reviews.models import (
    Brief,
    Crit,
    Criterion,
    HandInItem,
    MappedStandard,
    Person,
    Studio,
    TargetLine,
)
from reviews.models.crits import SLOT_PARTS
from reviews.moments import day_words

_CRIT = ("kind", "names_jurors", "talk", *SLOT_PARTS)
"""What of a crit goes with it: no seat, no slot, no lot, and not whether severity is taken out."""
_CRITERION = ("position", "code", "name", "weight", *(f"level_{n}" for n in range(1, 6)))
_ITEM = ("kind", "code", "title", "drawing", "state")
_STANDARD = ("position", "body", "edition", "code", "title", "criteria", "note")


class NewCrit(NamedTuple):
    """The days of a crit whose criteria sheet is carried over."""

    day: date
    pens_down: datetime


def _text(old: Brief, new: Brief) -> None:
    new.text = text_carried(old)


def text_carried(old: Brief) -> str:
    """The text as it stood last: addenda follow it, each under its number, to be worked in."""
    parts = [old.text]
    parts += [f"From {str(each).lower()}:\n{each.text}" for each in old.addenda.all()]
    return "\n\n".join(part.strip() for part in parts if part.strip())


def _site(old: Brief, new: Brief) -> None:
    tables = old.leader_tables()
    new.site, new.climate = dict(tables["site"][0]), [dict(row) for row in tables["climate"]]
    new.weather = [carried(row, old.studio, new.studio) for row in tables["weather"]]


def _use(old: Brief, new: Brief) -> None:
    tables = old.leader_tables()
    new.states, new.cases = ([dict(row) for row in tables[name]] for name in ("states", "cases"))


def _targets(old: Brief, new: Brief) -> None:
    TargetLine.objects.bulk_create(
        TargetLine(brief=new, position=n, cells=filled(cells))
        for n, cells in enumerate(old.target_records())
    )


def _hand_in(old: Brief, new: Brief) -> None:
    new.statement_words = old.statement_words
    new.hand_in.all().delete()
    HandInItem.objects.bulk_create(
        HandInItem(brief=new, **_copied(item, _ITEM)) for item in old.hand_in.all()
    )


def _standards(old: Brief, new: Brief) -> None:
    MappedStandard.objects.bulk_create(
        MappedStandard(studio=new.studio, **_copied(line, _STANDARD))
        for line in old.studio.standards.all()
    )


def _copied(row: Any, names: Collection[str]) -> dict[str, Any]:
    return {name: getattr(row, name) for name in names}


PARTS: Mapping[str, Callable[[Brief, Brief], None]] = {
    "text": _text,
    "targets": _targets,
    "site": _site,
    "use": _use,
    "hand-in": _hand_in,
    "standards": _standards,
}
"""What can be carried, each alone; criteria sheets come with their crits."""


def criteria_sheets(studio: Studio) -> list[Crit]:
    """The crits of a studio whose criteria sheet can be carried, in the order of their days."""
    crits = studio.crits.exclude(kind=Crit.Kind.RECRIT).filter(criteria__isnull=False).distinct()
    return list(crits.prefetch_related("criteria"))


@transaction.atomic
def carry_over(
    old: Studio,
    by: Person,
    named: Mapping[str, Any],
    *,
    parts: Collection[str],
    crits: Mapping[int, NewCrit],
    leader: Leader | None = None,
) -> Studio:
    """Open next year's studio; asked twice with the same title and cohort, it is opened once.

    named    title, cohort and year line of the new one
    parts    keys of PARTS
    crits    by the old crit's key, the days of the new one, whose criteria sheet is carried
    leader   who leads it; None is whoever opens it
    """
    Studio.objects.select_for_update().get(pk=old.pk)
    same = {"title": named["title"], "cohort": named["cohort"]}
    if found := Studio.objects.filter(follows=old, **same).first():
        return found
    kept = {"is_wall_open": old.is_wall_open, "kept_until": None}
    new = open_studio(by, {**named, **kept}, leader, follows=old)
    brief = new.brief
    brief.decimal = old.brief.decimal
    for name, carry in PARTS.items():
        if name in parts:
            carry(old.brief, brief)
    brief.save()
    for crit in criteria_sheets(old):
        if days := crits.get(crit.pk):
            _carry_crit(crit, new, days)
    told = f"from {old}: {', '.join(name for name in PARTS if name in parts)}"
    record(Deed.CARRIED, new, by=by, about=told)
    return new


def _carry_crit(crit: Crit, new: Studio, days: NewCrit) -> None:
    fresh = Crit.objects.create(studio=new, **_copied(crit, _CRIT), **days._asdict())
    Criterion.objects.bulk_create(
        Criterion(crit=fresh, evidence=each.evidence, **_copied(each, _CRITERION))
        for each in crit.criteria.all()
    )


def crit_words(crit: Crit) -> str:
    """A crit with how many criteria its sheet has."""
    lines = crit.criteria.all()
    return f"{crit.get_kind_display()} of {day_words(crit.day)}, {len(lines)} criteria"
