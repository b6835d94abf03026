"""A long schedule in pages: shown a hundred rows at a time, kept, pasted and exported whole."""

import pytest
from django.urls import reverse

from criteria.schedules import BY_SLUG
from reviews.deeds import package_keeping
from reviews.models import Change, Row
from reviews.pages.row_pages import FIRST, Place, shown_at
from tests import factories
from tests.reviews.schedule_steps import HTMX, at, page, saved

ROWS = 400


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


@pytest.fixture
def rows(cast, package):
    """Four hundred doors, of which the 312th can't be read."""
    return Row.objects.bulk_create(
        Row(
            package=package,
            schedule="doors",
            position=n,
            cells={"mark": f"D{n}", "clear_w": "wide" if n == 312 else "900"},
            changed_by=cast.student,
        )
        for n in range(1, ROWS + 1)
    )


def shown(text):
    """The marks of the rows on a page, less the one about to be added."""
    return [n for n in range(1, ROWS + 1) if f'value="D{n}" aria-label="D{n},' in text]


def test_a_page_has_a_hundred_rows_and_says_of_how_many(cast, client, rows):
    text = page(client, cast.scheme, "doors")
    assert shown(text) == [*range(1, 101)]
    assert "Rows 1–100 of 400" in text
    assert "1 cell can't be read" in text
    assert 'id="row-new"' not in text
    assert 'href="?page=4#row-new"' in text


def test_the_last_page_has_the_row_that_is_about_to_be_added(cast, client, rows):
    text = client.get(at("show-schedule", cast.scheme, slug="doors") + "?page=99").content.decode()
    assert shown(text) == [*range(301, 401)]
    assert 'id="row-new"' in text
    assert 'value="D401"' in text


@pytest.mark.parametrize("asked", ["", "0", "-3", "x", "9" * 40])
def test_an_odd_page_is_the_nearest(cast, client, rows, asked):
    answer = client.get(at("show-schedule", cast.scheme, slug="doors"), {"page": asked})
    assert shown(answer.content.decode()) in ([*range(1, 101)], [*range(301, 401)])


def test_a_short_schedule_has_no_pages(cast, client, rows):
    Row.objects.exclude(position__lte=100).delete()
    text = page(client, cast.scheme, "doors")
    assert "100 rows." in text
    assert "of 100" not in text
    assert 'id="row-new"' in text


def test_what_a_row_can_not_say_stands_in_that_row_on_its_page(cast, client, rows):
    address = at("show-schedule", cast.scheme, slug="doors") + "?mark=D312"
    text = client.get(address).content.decode()
    assert shown(text) == [*range(301, 401)]
    row = text.split(f'id="row-{rows[311].pk}"')[1].split("</tbody>")[0]
    assert "Read “wide”" in row
    assert 'id="here"' in row
    assert text.count('id="here"') == text.count("Read “wide”") == 1


def test_the_check_sheet_leads_to_the_row_that_it_asks_about(cast, client, rows):
    tank = {"mark": "D250", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}
    Row.objects.filter(pk=rows[249].pk).update(cells=tank)
    Row.objects.update(schedule="tanks")
    checks = client.get(reverse("show-checks", args=[cast.scheme.pk])).content.decode()
    address = at("show-schedule", cast.scheme, slug="tanks") + "?mark=D250"
    assert f'href="{address}#here"' in checks
    assert shown(client.get(address).content.decode()) == [*range(201, 301)]


def test_a_saved_row_is_answered_wherever_it_stands(cast, client, rows):
    url = at("save-row", cast.scheme, rows[250].pk, slug="doors")
    text = client.post(url, saved(rows[250], clear_w="870"), **HTMX).content.decode()
    assert 'value="870"' in text
    assert "<p>400 rows. " in text
    rows[250].refresh_from_db()
    answer = client.post(url, saved(rows[250], clear_w="880"))
    assert answer.url.endswith(f"?row={rows[250].pk}#row-{rows[250].pk}")
    assert shown(client.get(answer.url).content.decode()) == [*range(201, 301)]


def test_a_save_that_met_a_newer_version_is_shown_on_its_page(cast, client, rows):
    package_keeping.save_row(cast.scheme.package, rows[250].pk, {"clear_w": "700"}, 1, cast.mate)
    url = at("save-row", cast.scheme, rows[250].pk, slug="doors")
    answer = client.post(url, saved(rows[250], version=1, clear_w="870"))
    assert answer.status_code == 409
    assert shown(text := answer.content.decode()) == [*range(201, 301)]
    assert "Kept: 700" in text


def test_removing_a_row_and_undoing_that_stay_on_the_page(cast, client, rows):
    url = at("remove-row", cast.scheme, rows[150].pk, slug="doors") + "?page=2"
    assert f'formaction="{url}"' in page_2(cast, client)
    text = client.post(url, {"version": 1}, **HTMX).content.decode()
    assert shown(text) == [n for n in range(101, 202) if n != 151]
    undo = at("undo-change", cast.scheme, slug="doors") + "?page=2"
    answer = client.post(undo, {"change": Change.objects.first().pk})
    assert answer.url.endswith("?page=2")
    assert shown(client.get(answer.url).content.decode()) == [*range(101, 201)]


def page_2(cast, client):
    return client.get(at("show-schedule", cast.scheme, slug="doors") + "?page=2").content.decode()


def test_a_paste_of_four_hundred_rows_goes_in_as_one_and_comes_out_whole(cast, client):
    typed = "\n".join(["mark,clear_w", *(f"D{n},900" for n in range(1, ROWS + 1))])
    url = at("paste-rows", cast.scheme, slug="doors")
    page = client.post(url, {"text": typed}, follow=True).context["page"]
    take = reverse("take-file", args=[cast.scheme.pk, page.brought.pk])
    client.post(take, {"seen": page.seen, "read": page.read, "row": [*range(ROWS)]})
    assert Change.objects.filter(schedule="doors").count() == 1
    assert len(Change.objects.get(schedule="doors").after) == ROWS
    table = client.get(at("export-schedule", cast.scheme, slug="doors")).content.decode()
    assert table.count("\nD") == ROWS


def test_a_leader_reads_it_in_pages_too(cast, rows):
    text = page(cast.client(cast.leader), cast.scheme, "doors")
    assert "Rows 1–100 of 400" in text
    assert ">D100<" in text
    assert ">D101<" not in text
    assert "Add a row" not in text


def test_of_two_rows_of_a_mark_the_first_is_meant(cast, package):
    made = [
        factories.RowFactory(package=package, cells={"mark": "R1"}, changed_by=cast.student)
        for _ in range(2)
    ]
    schedule = BY_SLUG["rooms"]
    assert shown_at(Place(mark="R1"), made, schedule).at == made[0].pk
    assert shown_at(FIRST, made, schedule).at == 0
