"""What the running demo's studio did between its crits: a pin-up, desks, questions, adjustments."""

from __future__ import annotations

from datetime import datetime
from uuid import NAMESPACE_URL, UUID, uuid5

from reviews.deeds.adjustment_setting import set_adjustment
from reviews.deeds.brief_asking import answer, ask
from reviews.deeds.desk_crit_keeping import STEPS, DeskSent, keep_desk_crit, tick_step
from reviews.demo.scenario import Calendar
from reviews.demo.studios import leader, person
from reviews.demo.tables import read_csv
from reviews.models import Adjustment, Crit, QuietNote, Scheme, Studio

PIN_UP, PENS_DOWN = (2026, 11, 12), (2026, 11, 12, "09:00")
BEGUN, CLOSED = (2026, 11, 12, "10:05"), (2026, 11, 12, "10:40")

PRESENTS = (
    ("H10", "Pim Draycourt", Adjustment.Effect.SEATED),
    ("H09", "Maya Thornbeck", Adjustment.Effect.WRITTEN),
    ("H07", "Noor Tavish", Adjustment.Effect.PAUSE),
)
"""Who presents how at the final crit; none of them has begun when the demo opens."""

SET = (2026, 11, 23, "09:20")


def tell(studio: Studio, calendar: Calendar) -> None:
    """Tell all of it, each thing on the scenario's day."""
    schemes = {scheme.number: scheme for scheme in studio.schemes.all()}
    _ask(studio, calendar)
    _sit_at_desks(schemes, calendar)
    for number, name, effect in PRESENTS:
        made = set_adjustment(schemes[number], person(name), effect, leader())
        Adjustment.objects.filter(pk=made.pk).update(set_at=calendar.at(*SET))
    _pin_up(studio, schemes, calendar)


def _ask(studio: Studio, calendar: Calendar) -> None:
    addenda = {str(each.number): each for each in studio.brief.addenda.all()}
    for n, row in enumerate(read_csv("brief_questions")):
        asked_at = _moment(calendar, row["asked"])
        asked = ask(studio.brief, _key("question", n), row["words"], person(row["by"]), at=asked_at)
        if row["answered"]:
            at = _moment(calendar, row["answered"])
            led_to = addenda.get(row["addendum"])
            answer(asked, row["answer"], asked.version, leader(), addendum=led_to, at=at)


def _sit_at_desks(schemes: dict[str, Scheme], calendar: Calendar) -> None:
    for n, row in enumerate(read_csv("desk_crits")):
        at = _moment(calendar, f"{row['day']} {row['time']}")
        steps = tuple(row[f"step_{step}"] for step in range(1, STEPS + 1))
        scheme = schemes[row["scheme"]]
        key = _key("desk", n)
        note = keep_desk_crit(scheme, key, DeskSent(row["words"], steps), 0, leader(), at=at)
        for step in note.steps.filter(carried_from=None, position__in=row["done"].split()):
            tick_step(step, scheme.members.all()[0], at=at)


def _pin_up(studio: Studio, schemes: dict[str, Scheme], calendar: Calendar) -> None:
    crit = Crit.objects.create(
        studio=studio,
        kind=Crit.Kind.PIN_UP,
        day=calendar.day(*PIN_UP),
        pens_down=calendar.at(*PENS_DOWN),
        quiet_closed_at=calendar.at(*CLOSED),
        quiet_closed_by=leader(),
    )
    QuietNote.objects.bulk_create(
        QuietNote(
            key=_key("quiet", n),
            crit=crit,
            scheme=schemes[row["scheme"]],
            by=person(row["by"]),
            kind=row["kind"],
            words=row["words"],
            kept_at=calendar.at(*BEGUN),
        )
        for n, row in enumerate(read_csv("quiet_notes"))
    )


def _moment(calendar: Calendar, told: str) -> datetime:
    day, _, hour = told.partition(" ")
    year, month, date = (int(part) for part in day.split("-"))
    return calendar.at(year, month, date, hour)


def _key(kind: str, number: int) -> UUID:
    """The same on every run."""
    return uuid5(NAMESPACE_URL, f"{kind}-{number}")
