"""What checks ask of the leader before any student has filled in a schedule."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.checks.needs import bare_package
from criteria.schedules import SCHEDULES
from criteria.schedules.by_state import StateRow
from criteria.schedules.climate import Month
from criteria.schedules.site import Site


def missed(check, site):
    (measured,) = CHECKS[check].of(bare_package(site), ())
    return measured.missing


def test_every_schedule_of_rows_has_a_row_that_says_what_it_must_and_no_more():
    package = bare_package(Site())
    for schedule in SCHEDULES:
        if schedule.is_single or issubclass(schedule.row, Month | StateRow):
            continue
        rows = package.rows_of(schedule.row)
        assert rows
        for column in schedule.columns:
            if not column.required:
                assert all(row.typed(column.attribute) is None for row in rows)


# The check divides what tanks hold by people and the brief's rate.
@pytest.mark.parametrize(
    ("site", "needed"),
    [
        (Site(), {"People in the brief (site sheet)", "Water per person-day (site sheet)"}),
        (Site(people=4), {"Water per person-day (site sheet)"}),
    ],
)
def test_a_check_names_what_it_needs_of_the_site_beside_bare_rows(site, needed):
    assert {cell for cell in missed("water_days", site) if "(site" in cell} == needed
