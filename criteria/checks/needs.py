"""What checks ask of the leader's schedules, before any student has filled in theirs."""

from criteria.package import Package
from criteria.schedules import SCHEDULES
from criteria.schedules.by_state import StateRow
from criteria.schedules.climate import Month
from criteria.schedules.site import Site
from criteria.schedules.states import PeopleCase
from criteria.typed.columns import Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import Record, read_records


def bare_package(
    site: Site, climate: tuple[Month, ...] = (), cases: tuple[PeopleCase, ...] = ()
) -> Package:
    """Return a package of rows that say no more than what they are, beside a site sheet.

    Whatever else a check asks of them is blank, so that it names what it needs of the site.
    """
    rows = {slug: read_records(schedule, _records(schedule)).read for slug, schedule in _OWN}
    return Package(site=site, climate=climate, cases=cases, **rows)  # type: ignore[arg-type]


_OWN = [
    (schedule.slug, schedule)
    for schedule in SCHEDULES
    if not schedule.is_single and not issubclass(schedule.row, StateRow)
]


def _records(schedule: Schedule) -> list[Record]:
    """One record for each word that its rows must have, else one."""
    must = [column for column in schedule.columns if column.required]
    word = next((column for column in must if column.kind is Kind.WORD), None)
    said = {column.head: column.example or "R1" for column in must}
    mark = schedule.mark_head
    return [
        said | {mark: f"{schedule.mark_prefix}{number}"} | ({word.head: choice} if word else {})
        for number, choice in enumerate(word.choices if word else ("",), start=1)
    ]
