"""A schedule is parsed once a save and once a page, whoever looks at it."""

from collections import Counter

import pytest
from django.urls import reverse

from criteria.typed.rows import Schedule
from reviews.models import Brief
from tests.factories import RevisionFactory, RowFactory

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def parsed(monkeypatch):
    """How often each row was parsed, by schedule and what was typed."""
    counted, parse = Counter(), Schedule.parse

    def counting(self, record, *args, **more):
        counted[self.slug, tuple(sorted((k, v) for k, v in record.items() if v))] += 1
        return parse(self, record, *args, **more)

    monkeypatch.setattr(Schedule, "parse", counting)
    return counted


@pytest.fixture
def rows(cast):
    """A room, two windows of which one can't be read, and a claim."""
    package = cast.scheme.package
    package.rows.all().delete()
    made = {}
    for schedule, cells in (
        ("rooms", {"mark": "R1", "use": "day", "floor_m2": "12"}),
        ("windows", {"mark": "W1", "room": "R1", "glass_w": "1200", "glass_h": "900"}),
        ("windows", {"mark": "W2", "room": "R7", "glass_w": "wide", "glass_h": "900"}),
        ("claims", {"about": "Day room light", "text": "12 %", "sheet": "02"}),
    ):
        row = RowFactory(package=package, schedule=schedule, cells=cells, changed_by=cast.student)
        made[cells.get("mark", schedule)] = row
    return made


def address(cast, name, *args):
    return reverse(name, args=[cast.scheme.pk, *args])


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize(
    ("name", "args"),
    [
        ("show-schedule", ["windows"]),
        ("show-schedule", ["rooms"]),
        ("show-package", []),
        ("show-checks", []),
        ("show-questions", []),
        ("issue-package", []),
        ("list-daylight", []),
    ],
)
def test_a_page_parses_each_row_once(cast, rows, parsed, units, name, args):
    cast.student.units = units
    cast.student.save()
    assert cast.client(cast.student).get(address(cast, name, *args)).status_code == 200
    assert {slug for slug, _ in parsed} >= {"rooms", "windows", "claims"}
    assert set(parsed.values()) == {1}


def test_a_jury_sheet_parses_what_was_issued_once_however_many_plans_it_shows(cast, rows, parsed):
    room = {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "12"}
    room |= {"clear_height_m": "2.5"}
    window = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1000", "glass_h": "1000"}
    window |= {"frame_w": "1160", "frame_h": "1160", "sill": "800", "faces": "S", "u": "1.0"}
    schedules = {"rooms": [room], "windows": [window]}
    targets = cast.studio.brief.target_records()
    cast.crit.criteria.update(evidence="T01")
    parsed.clear()
    RevisionFactory(
        scheme=cast.scheme,
        issued_by=cast.student,
        crit=cast.crit,
        contents={"statement": "", "sheets": [], "site": {}, "schedules": schedules}
        | {"targets": targets},
    )
    shown = cast.client(cast.seat).get(reverse("show-jury-sheet", args=[cast.scheme.pk]))
    assert shown.content.decode().count("Daylight plan of R1 Day room</title>") > 1
    assert {slug for slug, _ in parsed} >= {"rooms", "windows"}
    assert set(parsed.values()) == {1}


@pytest.mark.parametrize("cell", [{"cell-glass_w": "1400"}, {"cell-glass_w": "broad"}])
def test_a_save_parses_each_row_once(cast, rows, parsed, cell):
    url = address(cast, "save-row", "windows", rows["W1"].pk)
    sent = {"version": rows["W1"].version, **cell}
    assert cast.client(cast.student).post(url, sent, **HTMX).status_code == 200
    assert set(parsed.values()) == {1}


def test_a_row_added_or_removed_parses_each_row_once_and_put_back_none(cast, rows, parsed):
    client = cast.client(cast.student)
    steps = [
        (address(cast, "add-row", "windows"), {"cell-mark": "W3", "cell-room": "R1"}),
        (address(cast, "remove-row", "windows", rows["W2"].pk), {"version": 1}),
        (address(cast, "undo-change", "windows"), {}),
    ]
    for url, sent in steps:
        parsed.clear()
        if not sent:
            sent = {"change": cast.scheme.package.changes.first().pk}
        assert client.post(url, sent, **HTMX).status_code == 200
        assert set(parsed.values()) == ({1} if "undo" not in url else set())


def test_a_save_that_goes_on_to_a_page_leaves_the_reading_to_the_page(cast, rows, parsed):
    url = address(cast, "save-row", "windows", rows["W1"].pk)
    sent = {"version": rows["W1"].version, "cell-glass_w": "1400"}
    assert cast.client(cast.student).post(url, sent).status_code == 302
    assert not parsed


@pytest.mark.parametrize("page", ["", "site/", "climate/", "targets/", "hand-in/", "issue/"])
def test_a_page_of_the_brief_parses_each_row_once(cast, parsed, page):
    months = [{"month": "Jan", "rain_mm": "9"}, {"month": "Feb", "rain_mm": "wet"}]
    Brief.objects.update(issued_at=None, climate=months)
    assert (
        cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/brief/{page}").status_code == 200
    )
    typed = dict.fromkeys(("targets", "site", "climate"), 0)
    for (slug, cells), count in parsed.items():
        if slug in typed and cells:
            typed[slug] = max(typed[slug], count)
    assert set(typed.values()) == {1}


@pytest.mark.parametrize(
    ("part", "text"),
    [
        ("climate", "month,rain_mm\nJan,9"),
        ("targets", "id,what,rule,value\nT9,Water days,at most,2"),
    ],
)
@pytest.mark.parametrize("how", [{}, {"keep": "yes"}])
def test_a_table_is_parsed_once_whether_it_is_looked_at_or_kept(cast, parsed, part, text, how):
    Brief.objects.update(issued_at=None)
    url = f"/studios/{cast.studio.pk}/brief/{part}/paste/"
    answer = cast.client(cast.leader).post(url, {"text": text, **how})
    assert answer.status_code == (302 if how else 200)
    assert [count for (slug, _), count in parsed.items() if slug == part] == [1]


def test_a_block_of_rows_is_parsed_once(cast, rows, parsed):
    url, block = address(cast, "paste-rows", "rooms"), "mark,use\nR8,day\nR9,slep"
    assert cast.client(cast.student).post(url, {"text": block}).status_code == 302
    assert set(parsed.values()) == {1}
    assert len(parsed) == 2
