"""Between what is shown and what is kept: one rule for every schedule, column and reader."""

from operator import itemgetter

import pytest

from criteria.schedules import CLIMATE, SCHEDULES, SITE
from criteria.schedules.site import MONTHS
from criteria.targets.reading import TARGETS
from criteria.typed.columns import Column, Kind
from criteria.typed.tables import parse_block, read_grid, write_csv
from criteria.units import DecimalSign, Notation, System
from reviews.deeds.record_typed import brought_back, kept_cells, shown_cells, taken_cells
from reviews.forms.briefs import ClimateForm, SiteForm, TargetForm
from reviews.models import Brief, Row
from tests import factories

NOTATIONS = [Notation(system, sign) for system in System for sign in DecimalSign]
EVERY = (*SCHEDULES, SITE, CLIMATE, TARGETS)


def texts_of(column: Column) -> list[str]:
    """Texts that a cell may hold: bare, with units, decimal commas, two lines, what none reads."""
    if column.is_number:
        unit = column.unit()
        return ["12", " 12", "1,200", "1.200", "22,4", "0,045", f"12 {unit}", "4'-6\"", "1 ½", "?"]
    words = column.choices or (("yes", "no") if column.kind is Kind.YES_NO else ())
    return [
        *words[:2],
        *(word.upper() for word in words[:1]),
        "R1",
        "Day room",
        "two\nlines",
        "no.",
    ]


def browser_sends(shown: str, *, is_long: bool = False) -> str:
    """What a browser sends of a field that nobody touched."""
    return shown.replace("\n", "\r\n") if is_long else shown.replace("\n", "")


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda n: f"{n.system}-{n.decimal}")
@pytest.mark.parametrize("schedule", EVERY, ids=lambda schedule: schedule.slug)
def test_a_cell_sent_back_as_it_was_shown_stays_as_it_is_kept(schedule, notation):
    for column in schedule.columns:
        for kept in texts_of(column):
            shown = shown_cells(schedule, {column.head: kept}, notation.system)
            for is_long in (False, True):
                sent = {column.head: browser_sends(shown[column.head], is_long=is_long)}
                again = kept_cells(schedule, sent, {column.head: kept}, notation.system)
                assert again == {column.head: kept}, column.head


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda n: f"{n.system}-{n.decimal}")
@pytest.mark.parametrize("schedule", EVERY, ids=lambda schedule: schedule.slug)
def test_what_is_shown_says_the_same_as_what_is_kept(schedule, notation):
    for column in schedule.columns:
        for kept in texts_of(column):
            shown = shown_cells(schedule, {column.head: kept}, notation.system)[column.head]
            read = []
            for text, by in ((kept, notation.kept), (shown, notation)):
                try:
                    read.append(column.read(text, by))
                except ValueError:
                    read.append("refused")
            assert read[0] == read[1], (column.head, kept, shown)


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda n: f"{n.system}-{n.decimal}")
@pytest.mark.parametrize("schedule", [*SCHEDULES, SITE, CLIMATE], ids=lambda each: each.slug)
def test_what_is_taken_out_comes_back_through_either_system_as_it_is_kept(schedule, notation):
    rows = [
        {c.head: texts_of(c)[n].strip() for c in schedule.columns if n < len(texts_of(c))}
        | {c.head: f"{c.head[0].upper()}{n}" for c in schedule.keys}
        for n in range(10 if schedule.keys else 1)
    ]
    taken = [taken_cells(schedule, row, notation) for row in rows]
    grid = parse_block(write_csv(schedule, taken, notation.system))
    name = itemgetter("month") if schedule is CLIMATE else None
    for system in System:
        reader = notation.read_in(system)
        came = read_grid(schedule, grid, reader).records
        again = brought_back(schedule, came, rows, reader, name)
        assert [{h: t for h, t in each.items() if t} for each in again] == rows


def form_saved(form, *args) -> dict[str, str]:
    """What a form of the brief keeps when it is sent back as it was shown."""
    shown = form(*args)
    sent = {name: browser_sends(str(shown[name].value() or "")) for name in shown.fields}
    saved = form(*args, sent)
    assert saved.is_valid(), saved.errors
    return saved.contents


def readable(column: Column, notation: Notation) -> list[str]:
    """Texts of a column that it reads."""
    texts = [*texts_of(column), *([column.example] if column.example else [])]
    if column.kind in (Kind.MARK, Kind.REFERENCE):
        texts = ["R1"]
    found = []
    for text in texts:
        try:
            column.read(text, notation.kept)
        except ValueError:
            continue
        found.append(text)
    return found or [""]


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda n: f"{n.system}-{n.decimal}")
def test_a_form_of_the_brief_saved_unchanged_changes_nothing(notation):
    for n in range(12):
        site = {
            c.head: each[n % len(each)] for c in SITE.columns if (each := readable(c, notation))
        }
        assert form_saved(SiteForm, notation, site) == site
        climate = {
            f"{month}-{c.head}": (each := readable(c, notation))[n % len(each)]
            for month in MONTHS
            for c in CLIMATE.columns[1:]
        }
        assert form_saved(ClimateForm, notation, climate) == climate


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda n: f"{n.system}-{n.decimal}")
@pytest.mark.parametrize(
    "cells",
    [
        {"check": "floor_area", "rule": "at most", "value": "75"},
        {"check": "floor_area", "rule": "at most", "value": "75,5", "not_over": ""},
        {"check": "floor_area", "rule": "at least", "value": "75", "not_over": "80"},
        {"check": "piece_mass", "rule": "at most", "value": "750", "unit": "kg"},
        {"what": "Floor area indoors", "rule": "at most", "value": "75 m²"},
        {"check": "precedents", "rule": "at least", "value": "4 / 1"},
    ],
)
def test_a_target_saved_unchanged_changes_nothing(cells, notation):
    kept = dict.fromkeys(TARGETS.heads, "") | {"id": "T1"} | cells
    assert form_saved(TargetForm, notation, kept) == kept


def test_a_target_of_bare_metric_keeps_its_meaning_for_a_reader_of_us_units():
    us = Notation(System.US)
    kept = dict.fromkeys(TARGETS.heads, "") | {
        "id": "T1",
        "check": "floor_area",
        "rule": "at most",
        "value": "75",
    }
    form = TargetForm(us, kept)
    assert form["unit"].value() == "m²"
    sent = {name: str(form[name].value() or "") for name in form.fields}
    noted = TargetForm(us, kept, sent | {"note": "By hand."})
    assert noted.is_valid()
    assert (noted.contents["value"], noted.contents["unit"]) == ("75", "m²")
    bare = TargetForm(us, {}, sent | {"unit": "", "value": "800"})
    assert bare.is_valid()
    assert (bare.contents["value"], bare.contents["unit"]) == ("800", "ft²")


@pytest.mark.parametrize("sign", DecimalSign)
def test_a_us_reader_saving_the_site_sheet_unchanged_changes_no_byte(cast, sign):
    kept = {"latitude": "46.7", "people": "13", "drift_m": "2,2", "water_l_pd": "12"}
    Brief.objects.update(issued_at=None, site=kept, decimal=sign)
    cast.leader.units = "us"
    cast.leader.save()
    client, url = cast.client(cast.leader), f"/studios/{cast.studio.pk}/brief/site/"
    form = client.get(url).context["form"]
    assert form["latitude"].value() == "46.7"
    assert form["drift_m"].value() == "2,2 m"
    assert client.post(url, {f.html_name: f.value() or "" for f in form}).status_code == 302
    assert Brief.objects.get(studio=cast.studio).site == kept


@pytest.mark.parametrize("units", System)
def test_a_row_saved_unchanged_is_not_changed_at_all(cast, units):
    kept = {"mark": "W1", "room": "R1", "glass_w": "1 200", "glass_h": "0,9 m", "sill": "900",
            "n": "1"}  # fmt: skip
    row = factories.RowFactory(
        package=cast.scheme.package, schedule="windows", cells=kept, changed_by=cast.mate
    )
    cast.student.units = units
    cast.student.save()
    client, url = cast.client(cast.student), f"/schemes/{cast.scheme.pk}/schedules/windows/"
    line = next(line for line in client.get(url).context["page"].lines if line.pk == row.pk)
    sent = {cell.name: cell.text for cell in line.cells} | {"version": row.version}
    client.post(f"{url}rows/{row.pk}/", sent)
    now = Row.objects.get(pk=row.pk)
    assert (now.cells, now.version) == (kept, row.version)
