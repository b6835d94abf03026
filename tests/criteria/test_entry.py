"""However a package is entered, in whichever order and units, it is the same package."""

import random
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import CheckSheet, asked_sheet, check_sheet
from criteria.command.folder import read_folder
from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG
from criteria.units import COUNT, System

# whole sheets again and again, of lines that other tests count
pytestmark = pytest.mark.uncounted

DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"
KEYS = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
READINGS = {key: read_folder(DATA, scheme=key[0], rev=key[1]) for key in KEYS}


def rows_of(package: Package, slug: str) -> list[object]:
    schedule = BY_SLUG[slug]
    return [getattr(package, slug)] if schedule.is_single else list(package.rows_of(schedule.row))


def typed(package: Package, system: System) -> dict[str, list[dict[str, str]]]:
    """Write a package as typed records, each figure with the unit of a system."""
    tables = {}
    for slug, schedule in BY_SLUG.items():
        records = []
        for row in rows_of(package, slug):
            record = {}
            for column in schedule.columns:
                value = row.typed(column.attribute)
                if refusal := row.refused.get(column.attribute):
                    record[column.head] = refusal.read
                elif value is None:
                    record[column.head] = ""
                elif column.scale is None or column.scale is COUNT:
                    record[column.head] = column.show(value)
                else:
                    unit = column.scale.unit(system)
                    record[column.head] = f"{float(unit.from_si(value)):.13f} {unit.symbol}"
            records.append(record)
        tables[slug] = records
    return tables


@cache
def as_read(key: tuple[str, str]) -> CheckSheet:
    return check_sheet(READINGS[key].package, READINGS[key].targets)


def outcome(sheet: CheckSheet) -> list[tuple[object, ...]]:
    return [(f.ref, f.check, f.state, f.subject, sorted(f.missing)) for f in sheet.findings]


def values(sheet: CheckSheet) -> list[float]:
    # a ramp typed in inches is held to the inches that the standard prints, 0.02 % apart
    findings = [f for f in sheet.findings if f.check != "ramp_length"]
    return [part.value for f in findings for part in f.parts if part.value is not None]


@pytest.mark.parametrize("key", KEYS, ids="".join)
@pytest.mark.parametrize("system", System)
def test_entry_in_either_system_gives_the_same_check_sheet(key, system):
    reading = READINGS[key]
    again = read_package(typed(reading.package, system))
    assert set(again.refused) == {
        s for s in BY_SLUG if any(r.refused for r in rows_of(reading.package, s))
    }
    found = check_sheet(again.package, reading.targets)
    assert outcome(found) == outcome(as_read(key))
    assert values(found) == pytest.approx(values(as_read(key)))


@settings(max_examples=8)
@given(st.sampled_from(KEYS), st.integers(0, 10**6))
def test_the_order_of_rows_changes_nothing(key, seed):
    reading = READINGS[key]
    shuffler = random.Random(seed)
    tables = typed(reading.package, System.METRIC)
    for slug, records in tables.items():
        if slug != "envelope":  # layers lie in each other's order, from outside in
            shuffler.shuffle(records)
    found = check_sheet(read_package(tables).package, reading.targets)
    assert outcome(found) == outcome(as_read(key))
    assert values(found) == pytest.approx(values(as_read(key)))


@pytest.mark.parametrize("key", KEYS, ids="".join)
def test_questions_need_no_particular_order_of_rows(key):
    reading = READINGS[key]
    tables = typed(reading.package, System.METRIC)
    for records in tables.values():
        records.reverse()
    again = read_package(tables).package
    first, second = (
        {(q.template, q.ref, q.is_hazard) for q in likely_questions(sheet, package)}
        for sheet, package in (
            (as_read(key), reading.package),
            (check_sheet(again, reading.targets), again),
        )
    )
    assert first == second


@pytest.mark.parametrize("slug", [s for s, schedule in BY_SLUG.items() if not schedule.is_single])
def test_a_schedule_left_out_is_no_data_and_never_zero(slug):
    """What a check reads from a schedule that isn't there is asked for, or is a stated zero."""
    reading = READINGS[("H07", "B")]
    tables = typed(reading.package, System.METRIC)
    tables[slug] = []
    if slug == "rooms":  # what stands in rooms can't be read without them
        tables["windows"], tables["vents"] = [], []
    again = read_package(tables).package
    before = {f.ref: f for f in as_read(("H07", "B")).asked}
    for finding in asked_sheet(again, reading.targets).asked:
        if finding.value == before[finding.ref].value:
            continue
        assert finding.value is None, finding.check
        assert finding.missing or finding.state.value == "not_asked"


@settings(max_examples=10)
@given(st.floats(0.2, 5))
def test_twice_the_load_is_half_the_days(factor):
    reading = READINGS[("H03", "B")]
    tables = typed(reading.package, System.METRIC)
    for record in tables["loads"]:
        record["w_each"] = f"{float(record['w_each'].split()[0]) * factor:.10f}"
    before = {f.check: f.value for f in as_read(("H03", "B")).findings}
    after = {
        f.check: f.value
        for f in check_sheet(read_package(tables).package, reading.targets).findings
    }
    for check in ("battery_days", "power_ratio"):
        assert after[check] == pytest.approx(before[check] / factor, rel=1e-6)
    assert after["largest_load"] == pytest.approx(before["largest_load"], rel=1e-6)
