"""A brief and its people to take away, each as one workbook."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.schedules import LEADER_SCHEDULES
from criteria.targets.reading import TARGETS
from criteria.units import Notation, System
from reviews.deeds.brief_writing import full_cells, with_own_unit
from reviews.deeds.crit_criteria_keeping import lines_of
from reviews.deeds.record_typed import Cells, example_text, taken_cells
from reviews.deeds.studio_roster import ROSTER
from reviews.exchange.criteria_table import CRITERIA
from reviews.exchange.workbook_schedules import Told, schedules_workbook
from reviews.models import Brief, Membership, Studio
from reviews.pages.schedules_taken import HOW_TO_USE

PERSON_LINES = (
    ("Personal data", "Names and addresses: keep this file no longer than it is needed."),
    ("In again", "Paste the sheet on the page that brings people in: what differs is shown first."),
)


def brief_workbook(studio: Studio, system: System) -> bytes:
    """What a brief has in force: site, climate, states, people cases, targets, criteria sheets."""
    brief = studio.brief
    notation = brief.notation.read_in(system)
    held = brief.leader_tables()
    tables = [
        (schedule, [taken_cells(schedule, row, notation) for row in held[schedule.slug]])
        for schedule in LEADER_SCHEDULES
    ]
    tables += [(TARGETS, list(_targets(brief))), (CRITERIA, list(_criteria(studio)))]
    said = "issued" if brief.is_issued else "in preparation"
    return schedules_workbook(tables, _told(f"{brief}, {said}", notation))


def _told(title: str, notation: Notation) -> Told:
    units = "US units" if notation.system is System.US else "metric"
    return Told(
        title=title,
        lines=(("Units", units), ("Decimal sign", notation.decimal.value), *HOW_TO_USE),
        system=notation.system,
        example=partial(example_text, notation=notation),
    )


def _targets(brief: Brief) -> Iterator[Cells]:
    """The targets in force; a bare value has its unit beside it, for the head names none."""
    for cells in brief.target_records():
        yield with_own_unit(full_cells(cells), System.METRIC)


def _criteria(studio: Studio) -> Iterator[Cells]:
    for crit in studio.crits.prefetch_related("criteria"):
        for line in lines_of(crit):
            yield {"crit": str(crit), **{name: str(value) for name, value in line.items()}}


def people_workbook(studio: Studio) -> bytes:
    """Who belongs to a studio, under the heads by which people are brought in."""
    told = Told(title=f"People of {studio}", lines=PERSON_LINES)
    return schedules_workbook([(ROSTER, list(_people(studio)))], told)


def _people(studio: Studio) -> Iterator[Cells]:
    places = studio.memberships.select_related("person", "scheme")
    drawn = {
        person.pk: scheme
        for scheme in studio.schemes.prefetch_related("members")
        for person in scheme.members.all()
    }
    order = list(Membership.Role.values)
    for place in sorted(places, key=lambda each: (order.index(each.role), each.name)):
        if place.person.erased_at:
            continue
        is_student = place.role == Membership.Role.STUDENT
        scheme = place.scheme or drawn.get(place.person_id) if is_student else None
        yield {
            "name": place.name,
            "email": place.person.email,
            "number": scheme.number if scheme else "",
            "scheme": scheme.name if scheme else "",
            "role": place.role,
            "school_id": place.school_id,
        }
