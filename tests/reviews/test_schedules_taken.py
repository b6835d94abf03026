"""All tables of a package, a brief and a studio at once: what goes out comes in as it is kept."""

import io
import zipfile

import pytest
from django.urls import reverse

from criteria.schedules import BY_SLUG, SCHEDULES
from reviews.deeds.record_typed import brought_back
from reviews.exchange import data_package_in, workbook_in
from reviews.exchange.read import read
from reviews.models import Brief, Person
from tests import factories
from tests.reviews.exchange.nasty import told_by

pytestmark = pytest.mark.django_db

ROWS = {
    "rooms": [{"mark": "R1", "room": "=1+1", "floor_m2": "12.5", "clear_height_m": "2,4 m"}],
    "windows": [
        {"mark": "W1", "room": "R1", "sill": "700", "glass_w": "4'-6\""},
        {"mark": "W2", "room": "R9", "sill": "wide", "glass_w": "1.234"},
    ],
}


@pytest.fixture
def typed(cast):
    """The package of the scheme with rows."""
    for slug, records in ROWS.items():
        for cells in records:
            factories.RowFactory(package=cast.scheme.package, schedule=slug, cells=cells)
    return cast


@pytest.fixture
def taken(tmp_path):
    """Take an address as somebody; return what is proposed of the file."""

    def take(client, name, *args):
        answer = client.get(reverse(name, args=args))
        assert answer.status_code == 200
        path = tmp_path / "sent"
        path.write_bytes(answer.content)
        is_zip = answer["Content-Type"] == "application/zip"
        reader = data_package_in if is_zip else workbook_in
        return reader.read(str(path), {})

    return take


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_package_s_workbook_comes_back_as_it_is_kept_for_either_reader(typed, taken, units):
    Person.objects.update(units=units)
    client = typed.client(typed.student)
    answer = client.get(reverse("take-workbook", args=[typed.scheme.pk]))
    assert answer["Content-Disposition"].endswith('-schedules.xlsx"')
    told = told_by(taken(client, "take-workbook", typed.scheme.pk))
    assert (told["windows"][0]["sill"] == "700") is (units == "metric")
    notation = typed.scheme.package.notation
    back = {
        slug: [
            {head: text for head, text in record.items() if text}
            for record in brought_back(BY_SLUG[slug], records, ROWS[slug], notation)
        ]
        for slug, records in told.items()
    }
    assert back == ROWS


def test_a_workbook_has_every_schedule_and_says_which_marks_its_lists_offer(typed):
    client = typed.client(typed.student)
    content = client.get(reverse("take-workbook", args=[typed.scheme.pk])).content
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        book = parts.read("xl/workbook.xml").decode()
        number = [s.slug for s in SCHEDULES].index("windows") + 2
        windows = parts.read(f"xl/worksheets/sheet{number}.xml").decode()
        notes = parts.read(f"xl/comments{number - 1}.xml").decode()
    assert [s.slug for s in SCHEDULES if f'name="{s.slug}"' not in book] == []
    assert "<formula1>rooms!$A$4:$A$1003</formula1>" in windows
    assert 'errorStyle="warning"' in windows
    assert "Finished floor to the underside of the glass." in notes
    assert windows.count("<row ") == 3 + len(ROWS["windows"])


def test_tables_for_programs_come_back_as_they_are_kept_whoever_reads(typed, taken):
    Person.objects.update(units="us")
    proposal = taken(typed.client(typed.student), "take-tables", typed.scheme.pk)
    assert told_by(proposal) == ROWS


def test_what_was_issued_is_taken_as_it_was_issued(typed, taken):
    contents = {"schedules": ROWS, "site": {}, "targets": [], "sheets": [], "statement": ""}
    revision = factories.RevisionFactory(scheme=typed.scheme, crit=typed.crit, contents=contents)
    typed.scheme.package.rows.all().delete()
    client = typed.client(typed.leader)
    for name in ("take-issued-workbook", "take-issued-tables"):
        assert told_by(taken(client, name, revision.pk)) == ROWS
    page = client.get(reverse("show-revision", args=[revision.pk])).content.decode()
    assert reverse("take-issued-workbook", args=[revision.pk]) in page
    whole = client.get(reverse("download-revision", args=[revision.pk]))
    with zipfile.ZipFile(io.BytesIO(b"".join(whole.streaming_content))) as parts:
        assert "datapackage.json" in parts.namelist()
    same = [client.get(reverse("take-issued-workbook", args=[revision.pk])) for _ in range(2)]
    assert same[0].content == same[1].content


def test_everything_of_a_revision_comes_in_elsewhere(typed, tmp_path):
    """The ZIP of all that was issued is a data package, pictures and all."""
    contents = {"schedules": ROWS, "site": {}, "targets": [], "sheets": [], "statement": "Two."}
    revision = factories.RevisionFactory(scheme=typed.scheme, crit=typed.crit, contents=contents)
    answer = typed.client(typed.leader).get(reverse("download-revision", args=[revision.pk]))
    path = tmp_path / "sent"
    path.write_bytes(b"".join(answer.streaming_content))
    told = read("data-package", str(path), {})
    assert len(told["rows"]) == 3
    assert told["said"] == ()


def test_a_brief_s_tables_are_taken_with_its_criteria(cast, taken):
    brief = cast.studio.brief
    brief.target_lines.all().delete()
    cells = {"id": "T9", "check": "floor_area", "rule": "at most", "value": "75"}
    factories.TargetLineFactory(brief=brief, cells=cells)
    climate, states = [{"month": "Jan", "rain_mm": "60"}], [{"state": "parked", "kind": "day"}]
    site = {"latitude": "50.8"}
    Brief.objects.filter(pk=brief.pk).update(climate=climate, states=states, site=site)
    told = told_by(taken(cast.client(cast.leader), "take-brief", cast.studio.pk))
    assert (told["climate"], told["states"], told["site"]) == (climate, states, [site])
    assert told["targets"] == [cells | {"unit": "m²"}]
    assert {line["code"] for line in told["criteria"]} == {"F1", "F2"}
    assert told["criteria"][0]["crit"] == str(cast.crit)


def test_people_are_taken_under_the_heads_by_which_they_come_in(cast):
    answer = cast.client(cast.leader).get(reverse("take-people", args=[cast.studio.pk]))
    book = zipfile.ZipFile(io.BytesIO(answer.content))
    assert b'name="people"' in book.read("xl/workbook.xml")
    words = book.read("xl/sharedStrings.xml").decode()
    for text in ("E-mail", cast.student.email, cast.scheme.number, "leader"):
        assert text in words
