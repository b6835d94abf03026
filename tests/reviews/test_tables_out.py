"""Every file that is taken out: no cell runs in a spreadsheet, and each comes back unchanged."""

import csv
import io

import pytest
from django.urls import get_resolver, reverse
from django.utils import timezone

from criteria.schedules import CLIMATE, SCHEDULES
from criteria.scoring.reading import read_levels
from criteria.targets.reading import TARGETS
from criteria.typed.columns import Kind
from criteria.typed.csv_cells import as_typed
from criteria.typed.tables import parse_block, read_grid
from criteria.units import System
from reviews.deeds.brief_tables import read_targets_table
from reviews.deeds.table_bringing import THE_SAME
from reviews.models import Brief, Person, Scheme, Seat
from tests import factories
from tests.criteria.typed.test_csv_cells import runs

HOSTILE = ("=1+1", "+1+1", "-1-1", "@A1", "-5 °C", "'=1", "-5", "−5", "-", "＝1+1")


def cells_of(schedule, nth: int, longest: int = 40) -> dict[str, str]:
    """A row with something hostile in each cell, figures and all."""
    typed = {c.head: HOSTILE[(nth + n) % len(HOSTILE)] for n, c in enumerate(schedule.columns)}
    return typed | {c.head: f"M{nth}" for c in schedule.columns if c.kind is Kind.MARK}


@pytest.fixture
def out(cast):
    """Take a file out by its address's name."""

    def taken(name, args, query=""):
        answer = cast.client(cast.leader).get(reverse(name, args=args) + query)
        assert answer.headers["Content-Type"] == "text/csv; charset=utf-8"
        text = answer.content.decode("utf-8-sig")
        lines = list(csv.reader(io.StringIO(text, newline="")))
        assert len(lines) > 1
        assert not [cell for line in lines for cell in line if runs(cell)]
        return text

    return taken


def test_every_address_that_sends_a_file_is_tried_here():
    names = {p.name for p in get_resolver("reviews.urls").url_patterns if "csv" in str(p.pattern)}
    here = {"export-schedule", "export-climate", "export-targets", "export-table"}
    beside = {"export-audit", "export-answers", "export-cohorts", "export-marks", "export-register"}
    beside |= {"export-standards", "export-year", "export-issued-year", "export-weather"}
    assert names == here | beside  # tests of their own take these out


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.slug)
def test_a_schedule_comes_back_unchanged(cast, out, schedule):
    kept = [cells_of(schedule, n) for n in range(1 if schedule.is_single else len(HOSTILE))]
    for cells in kept:
        factories.RowFactory(package=cast.scheme.package, schedule=schedule.slug, cells=cells)
    text = out("export-schedule", [cast.scheme.pk, schedule.slug])
    assert list(read_grid(schedule, parse_block(text)).records) == kept


@pytest.mark.parametrize("schedule", [CLIMATE, TARGETS], ids=["climate", "targets"])
def test_a_table_of_the_brief_comes_back_unchanged(cast, out, schedule):
    kept = [cells_of(schedule, n) for n in range(3)]
    brief = cast.studio.brief
    brief.target_lines.all().delete()
    for cells in kept:
        factories.TargetLineFactory(brief=brief, cells=cells)
    Brief.objects.filter(pk=brief.pk).update(climate=kept)
    text = out(f"export-{schedule.slug}", [cast.studio.pk])
    assert list(read_grid(schedule, parse_block(text)).records) == kept


@pytest.mark.parametrize("rows", ["", "?rows=levels"])
def test_names_of_the_jury_s_table_come_back_unchanged(cast, out, rows, tmp_path):
    Seat.objects.filter(pk=cast.seat.pk).update(name="=CMD()", room="-1+1")
    Scheme.objects.filter(pk=cast.scheme.pk).update(number="@R01", name="+Lee")
    cast.crit.criteria.filter(pk=cast.criterion.pk).update(code="=F1")
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    for criterion in (cast.criterion, cast.other_criterion):
        factories.LevelGivenFactory(jury_sheet=sheet, criterion=criterion)
    text = out("export-table", [cast.crit.pk], rows)
    named = [as_typed(cell) for line in csv.reader(io.StringIO(text)) for cell in line]
    assert {"=CMD()", "@R01", "=F1"} <= {*named}
    if rows:
        path = tmp_path / "levels.csv"
        path.write_text(text, encoding="utf-8")
        (panel,) = read_levels(path)
        assert panel.levels["@R01", "=CMD()", "=F1"] == 3


def test_a_file_is_named_whatever_the_scheme_is_called(cast, out):
    Scheme.objects.filter(pk=cast.scheme.pk).update(number='R"\n1')
    factories.RowFactory(package=cast.scheme.package)
    out("export-schedule", [cast.scheme.pk, "rooms"])


def test_targets_taken_out_in_feet_come_back_in_either_system_as_they_are_kept(cast):
    cells = {"id": "T9", "check": "floor_area", "rule": "at most", "value": "75"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=cells)
    client, here = cast.client(cast.leader), [cast.studio.pk]
    Person.objects.update(units="us")
    text = client.get(reverse("export-targets", args=here)).content.decode("utf-8-sig")
    assert ",at most,75,m²," in text
    for system in System:
        preview = read_targets_table(cast.studio.brief, text, system)
        assert set(preview.news) == {THE_SAME}
