"""Which columns a check reads, as it is asked."""

import pytest

from criteria.check_sheet.columns_read import columns_read
from criteria.checks.catalogue import CHECKS
from criteria.hourly import running
from criteria.schedules import BY_SLUG


def heads(check, slug):
    return {head for schedule, head in columns_read(check) if schedule == slug}


@pytest.mark.parametrize(
    ("check", "slug", "read"),
    [
        ("daylight_ratio", "windows", {"mark", "room", "n", "glass_w", "glass_h"}),
        ("water_days", "tanks", {"mark", "holds", "litres", "usable_share"}),
        ("setup_time", "steps", {"mark", "from", "to", "after", "people", "minutes"}),
        ("ramp_slope", "ramp", {"slope_drawn"}),
    ],
)
def test_what_a_check_asks_of_rows_is_known(check, slug, read):
    assert read <= heads(check, slug)
    assert not heads(check, slug) & {"note", "sill"}


def test_a_way_that_is_walked_reads_where_things_stand():
    read = columns_read("way_to_bed")
    plan = {"plan_x", "plan_y", "l", "w", "turn"}
    assert {("furniture", head) for head in plan} <= read
    assert {("doors", head) for head in ("faces", "left", "clear_w", "room")} <= read


@pytest.mark.parametrize("check", CHECKS)
def test_every_check_reads_something_that_there_is(check):
    read = columns_read(check)
    assert read
    assert all(head in BY_SLUG[slug].heads for slug, head in read)


def test_a_year_reads_what_the_whole_building_is_made_of_and_isn_t_run(monkeypatch):
    def run(*given):
        raise AssertionError("a year of made-up rows is run")

    monkeypatch.setattr(running.Ready, "run", run)
    columns_read.cache_clear()
    asked = {"envelope": "density", "loads": "when", "power": "pv_kwp", "occupants": "up_at"}
    assert set(asked.items()) <= columns_read("hours_not_held")
    assert {("windows", "solar_factor"), ("plant", "heater")} <= columns_read("hours_not_held")
    assert not any(slug == "power" for slug, _ in columns_read("cold_hours"))
