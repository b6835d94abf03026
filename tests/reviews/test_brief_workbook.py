"""A brief's tables out of one workbook: what would change is shown first, and kept part by part."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from criteria.schedules import CLIMATE, SITE
from criteria.targets.reading import TARGETS
from criteria.units import System
from reviews.deeds import brief_workbook
from reviews.exchange import workbook_in
from reviews.exchange.criteria_table import CRITERIA
from reviews.exchange.proposed import Proposal, ProposedCell, ProposedRow
from reviews.exchange.workbook_schedules import Told, schedules_workbook
from reviews.models import Brief
from reviews.models.briefs import Frozen
from reviews.pages.brief_taken import brief_workbook as taken
from reviews.versions import Newer
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def brief(cast):
    """A brief in preparation with a table of each kind."""
    brief = cast.studio.brief
    brief.target_lines.all().delete()
    cells = {"id": "T1", "check": "floor_area", "rule": "at most", "value": "75"}
    factories.TargetLineFactory(brief=brief, cells=cells)
    Brief.objects.filter(pk=brief.pk).update(
        issued_at=None,
        issued_by=None,
        site={"latitude": "50.8", "altitude_m": "1240"},
        climate=[{"month": "Jan", "rain_mm": "60"}],
        states=[{"state": "parked", "kind": "day"}],
        cases=[{"case": "weekend", "people": "2", "days": "80"}],
    )
    return Brief.objects.get(pk=brief.pk)


def told(**tables):
    """A proposal of rows by schedule."""
    rows = [
        ProposedRow(schedule=slug, cells={h: ProposedCell(text=t) for h, t in record.items()})
        for slug, records in tables.items()
        for record in records
    ]
    return Proposal(kind="workbook", rows=tuple(rows))


def changed(brief, proposal):
    """What would change, by part: row, head, text here and in the file."""
    return {
        read.part.slug: [(c.row, c.column.head, c.before, c.after) for c in read.changed]
        for read in brief_workbook.read_brief(brief, proposal).parts
    }


@pytest.mark.parametrize("system", System)
def test_what_goes_out_comes_in_as_nothing_new(brief, tmp_path, system):
    path = tmp_path / "sent"
    path.write_bytes(taken(brief.studio, system))
    read = brief_workbook.read_brief(brief, workbook_in.read(str(path), {}))
    assert [(part.part.slug, part.changed, part.refused) for part in read.parts] == []
    assert len([*read.said]) == 1
    assert "Criteria sheets are left out" in read.said[0]


def test_each_part_changes_cell_by_cell_and_a_blank_takes_nothing_away(cast, brief):
    proposal = told(
        site=[{"altitude_m": "1300"}],
        climate=[{"month": "january", "rain_mm": "72"}, {"month": "Feb", "rain_mm": "50"}],
        states=[{"state": "packed", "kind": "road"}],
        cases=[{"case": "weekend", "people": "4"}],
        targets=[
            {"id": "T1", "value": "80"},
            {"id": "T2", "check": "floor_area", "rule": "at least", "value": "9"},
        ],
    )
    news = changed(brief, proposal)
    assert news["site"] == [("", "altitude_m", "1240", "1300")]
    assert news["climate"] == [("Jan", "rain_mm", "60", "72"), ("Feb", "rain_mm", "", "50")]
    assert ("weekend", "people", "2", "4") in news["states"]
    assert ("T1", "value", "75", "80") in news["targets"]
    seen = brief_workbook.read_brief(brief, proposal).seen
    brief_workbook.bring_in(brief, proposal, cast.leader, seen)
    brief.refresh_from_db()
    assert brief.site == {"latitude": "50.8", "altitude_m": "1300"}
    assert brief.climate[0]["rain_mm"] == "72"
    assert [state["state"] for state in brief.states] == ["parked", "packed"]
    assert brief.cases == [{"case": "weekend", "people": "4", "days": "80"}]
    assert {t["id"]: t["value"] for t in brief.target_records()} == {"T1": "80", "T2": "9"}
    assert brief.changes.count() == 4
    assert changed(brief, proposal) == {}
    assert brief_workbook.bring_in(brief, proposal, cast.leader, seen) == ()


@pytest.mark.parametrize(
    ("proposal", "expected"),
    [
        (told(site=[{"latitude": "far north"}]), "latitude"),
        (told(climate=[{"month": "Smarch", "rain_mm": "1"}]), "Month"),
        (told(climate=[{"month": "Jan"}, {"month": "Jan", "rain_mm": "9"}]), "Month"),
        (told(states=[{"kind": "day"}]), "State"),
        (told(cases=[{"case": f"c{n}", "people": "2"} for n in range(9)]), "Case"),
        (told(cases=[{"case": "all", "people": "2", "days": "360"}]), "Days a year"),
        (told(targets=[{"id": "T9", "check": "no_such_check"}]), "check"),
        (told(targets=[{"id": "T1", "value": "many"}]), "Value"),
    ],
)
def test_what_cannot_be_read_keeps_all_of_it_out_and_is_named(cast, brief, proposal, expected):
    read = brief_workbook.read_brief(brief, proposal)
    amiss = [c.column.head for p in read.parts for c in p.changed if c.expected]
    amiss += [cell.column for part in read.parts for cell in part.refused]
    assert expected in amiss
    assert not read.is_clean
    with pytest.raises(brief_workbook.NotClean):
        brief_workbook.bring_in(brief, proposal, cast.leader, read.seen)
    assert not brief.changes.exists()


def test_a_brief_that_was_changed_or_issued_meanwhile_keeps_what_it_has(cast, brief):
    proposal = told(site=[{"altitude_m": "1300"}])
    seen = brief_workbook.read_brief(brief, proposal).seen
    brief_workbook.bring_in(brief, told(site=[{"latitude": "47"}]), cast.leader, {})
    with pytest.raises(Newer):
        brief_workbook.bring_in(brief, proposal, cast.leader, seen)
    brief.refresh_from_db()
    assert brief.site["altitude_m"] == "1240"
    brief.issue(cast.leader)
    with pytest.raises(Frozen):
        brief_workbook.bring_in(brief, proposal, cast.leader, {})


def test_rows_of_a_package_are_named_and_left_out(brief):
    read = brief_workbook.read_brief(brief, told(rooms=[{"mark": "R1"}]))
    assert read.said == ("Left out, for these are a package’s: rooms.",)
    assert not read.is_clean


def test_a_workbook_is_sent_once_looked_at_and_kept(cast, brief):
    client, here = cast.client(cast.leader), reverse("bring-brief-in", args=[cast.studio.pk])
    tables = [
        (SITE, [{"altitude_m": "1,3 km"}]),
        (CLIMATE, []),
        (TARGETS, []),
        (CRITERIA, [{"crit": "Final", "code": "F1"}]),
    ]
    content = schedules_workbook(tables, Told(title="Brief"))
    sent = SimpleUploadedFile("brief.xlsx", content)
    page = client.post(here, {"file": sent, "bare_in": "metric"})
    shown = page.content.decode()
    assert page.status_code == 200
    assert "1,3 km" in shown
    assert "1240 m" in shown
    assert "Criteria sheets are left out" in shown
    assert not brief.changes.exists()
    kept = {"bare_in": "metric", "keep": "yes"}
    kept |= {name: getattr(page.context["changes"], name) for name in ("told", "seen")}
    answer = client.post(here, kept)
    assert answer.status_code == 302
    brief.refresh_from_db()
    assert brief.site["altitude_m"] == "1,3 km"
    odd = client.post(here, kept | {"told": '{"kind": 3}'})
    assert "Expected the file once more." in odd.content.decode()
    nothing = client.post(here, {"bare_in": "metric"})
    assert "Expected a workbook." in nothing.content.decode()
    other = client.post(here, {"file": io.BytesIO(b"mark,room\n"), "bare_in": "metric"})
    assert "Expected a workbook (XLSX)" in other.content.decode()
