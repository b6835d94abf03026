"""A trial of a package's year on the site: tried, refused in its fields, adopted, undone."""

import re
import uuid

import pytest
from django.urls import reverse

from criteria.findings import Step
from criteria.hourly.sensitivity import Moved, Moves
from criteria.hourly.worst import Span
from criteria.units import System
from reviews.deeds import package_keeping, year_trial_adopting
from reviews.models import Change, Row
from reviews.pages import year_trial_page
from tests.criteria.hourly.hut import HUT
from tests.criteria.hourly.test_site_weather import YEAR

OF_BRIEF = ("site", "climate")
WALL, GLASS, PANELS, PEOPLE = (
    "envelope-1-mm",
    "windows-1-u",
    "power-1-pv_kwp",
    "occupants-1-n",
)


@pytest.fixture
def package(cast):
    brief, package = cast.studio.brief, cast.scheme.package
    brief.site = {**HUT["site"][0], "summer_outside_c": "24", "summer_inside_c": "26"}
    brief.climate = [dict(row) for row in YEAR]
    brief.save()
    for slug, rows in HUT.items():
        if slug not in OF_BRIEF:
            package_keeping.bring_in(package, slug, rows, cast.student)
    return package


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


@pytest.fixture
def still(monkeypatch):
    """Hold no years side by side: what is asked here needs none."""
    monkeypatch.setattr(year_trial_page, "compared", lambda before, after: [])
    monkeypatch.setattr(year_trial_page, "_year", lambda package: (None, ()))


def url(name, package):
    return reverse(name, args=[package.scheme_id])


def sent_of(response):
    """What a browser would send of the trial's form as it stands."""
    form = response.context["form"]
    return {field.html_name: str(field.value() or "") for field in form}


@pytest.fixture
def sent(client, package, still):
    return sent_of(client.get(url("show-year-trial", package)))


def cells(package, slug):
    rows = Row.objects.filter(package=package, schedule=slug)
    return [row.cells for row in rows]


def test_both_years_stand_beside_each_other_with_the_week_in_one_drawing(client, package):
    shown = client.get(url("show-year-trial", package))
    html = shown.content.decode()
    assert "As kept" in html
    assert 'class="pen-before' not in html
    fields = {**sent_of(shown), WALL: "320"}
    html = client.post(url("try-year", package), fields).content.decode()
    assert re.search(r"Coldest night inside</th>.*?better", html)
    assert html.count('class="pen-before') >= 2
    assert "kept: 160" in html
    assert 'value="320"' in html
    assert not re.search(r"\sstyle=|<style", html)
    assert cells(package, "envelope")[0]["mm"] == "160"


def test_rows_that_give_no_year_say_what_lacks(client, cast):
    html = client.get(url("show-year-trial", cast.scheme.package)).content.decode()
    assert "still needs" in html
    assert "next-step" in html
    html = client.get(url("show-year-moves", cast.scheme.package)).content.decode()
    assert "still needs" in html


def test_what_is_tried_and_lacks_says_so_and_the_year_as_kept_stands(client, package):
    fields = {**sent_of(client.get(url("show-year-trial", package))), WALL: ""}
    html = client.post(url("try-year", package), fields).content.decode()
    assert "as tried still needs" in html
    assert "Thickness" in html
    assert re.search(r"Coldest night inside.*?No data", html, re.DOTALL)
    assert "kept: 160" in html


@pytest.mark.parametrize("name", ["try-year", "adopt-year-trial"])
def test_what_cannot_be_read_is_said_in_its_field_and_nothing_typed_is_lost(
    client, package, sent, name
):
    html = client.post(url(name, package), {**sent, GLASS: "warm", PEOPLE: "6"}).content.decode()
    assert "Read “warm”. Expected" in html
    assert 'value="warm"' in html
    assert 'value="6"' in html
    assert f'id="id_{GLASS}_error"' in html
    assert cells(package, "windows")[0]["u"] == "0.9"


def test_a_trial_is_adopted_as_one_change_a_schedule_and_undone_whole(client, package, sent):
    fields = {**sent, WALL: "240", PANELS: "2 kW"}
    response = client.post(url("adopt-year-trial", package), fields, follow=True)
    said = "Year trial adopted: row 1 Thickness 160 → 240; Panels 1 → 2 kW"
    assert f"Kept: {said}." in response.content.decode()
    assert response.context["adopted_words"] == said
    assert cells(package, "envelope")[0]["mm"] == "240"
    assert cells(package, "power")[0]["pv_kwp"] == "2 kW"
    assert cells(package, "windows") == HUT["windows"]
    adopted = response.context["adopted"]
    assert {change.schedule for change in adopted} == {"envelope", "power"}
    client.post(url("undo-year-trial", package), {"change": adopted[0].pk})
    assert cells(package, "envelope") == HUT["envelope"]
    assert cells(package, "power") == HUT["power"]
    assert not year_trial_adopting.last_adopted(package)


def test_the_same_adoption_sent_twice_is_once(client, package, sent):
    fields = {**sent, WALL: "240", "key": str(uuid.uuid4())}
    for _ in range(2):
        assert client.post(url("adopt-year-trial", package), fields).status_code == 302
    adopted = Change.objects.filter(what__startswith=year_trial_adopting.ADOPTED)
    assert adopted.count() == 1


def test_nothing_changed_keeps_nothing(client, package, sent):
    response = client.post(url("adopt-year-trial", package), sent, follow=True)
    assert "Kept: nothing new" in response.content.decode()
    assert not year_trial_adopting.last_adopted(package)


def test_rows_changed_meanwhile_are_shown_beside_what_is_typed(cast, client, package, sent):
    row = Row.objects.get(package=package, schedule="windows")
    package_keeping.save_row(package, row.pk, {"u": "1.1"}, row.version, cast.mate)
    response = client.post(url("adopt-year-trial", package), {**sent, WALL: "240"})
    html = response.content.decode()
    assert response.status_code == 409
    assert "Somebody changed this" in html
    assert "1.1" in html
    assert 'value="240"' in html
    assert cells(package, "envelope")[0]["mm"] == "160"
    knowing = {**sent_of(response), GLASS: "1.1"}
    assert client.post(url("adopt-year-trial", package), knowing).status_code == 302
    assert cells(package, "envelope")[0]["mm"] == "240"
    assert cells(package, "windows")[0]["u"] == "1.1"


def test_an_adoption_that_was_built_on_is_not_offered_nor_taken_back(cast, client, package, sent):
    client.post(url("adopt-year-trial", package), {**sent, WALL: "240", PANELS: "2"})
    change, *_ = year_trial_adopting.last_adopted(package)
    row = Row.objects.get(package=package, schedule="power")
    package_keeping.save_row(package, row.pk, {"tilt": "70"}, row.version, cast.mate)
    assert not year_trial_adopting.last_adopted(package)
    response = client.post(url("undo-year-trial", package), {"change": change.pk}, follow=True)
    assert "Nothing was undone" in response.content.decode()
    assert cells(package, "envelope")[0]["mm"] == "240"


def test_undo_takes_nothing_but_a_trial_back(client, package, still):
    other = Change.objects.filter(package=package, schedule="windows").first()
    client.post(url("undo-year-trial", package), {"change": other.pk})
    assert cells(package, "windows") == HUT["windows"]


def test_panels_are_adopted_where_there_was_no_row(cast, client, package, still):
    Row.objects.filter(package=package, schedule="power").delete()
    fields = {**sent_of(client.get(url("show-year-trial", package))), PANELS: "2"}
    client.post(url("adopt-year-trial", package), fields)
    assert cells(package, "power") == [{"pv_kwp": "2"}]


def test_rows_that_a_page_cannot_send_are_named_and_stay(cast, client, package, still):
    many = [{**HUT["windows"][0], "mark": f"W{n}"} for n in range(1, 63)]
    package_keeping.bring_in(package, "windows", many, cast.student, is_replacing=True)
    response = client.get(url("show-year-trial", package))
    assert "2 more rows stand behind these" in response.content.decode()
    client.post(url("adopt-year-trial", package), {**sent_of(response), GLASS: "0.8"})
    assert [row["u"] for row in cells(package, "windows")] == ["0.8", *["0.9"] * 61]


def test_leaders_try_and_are_offered_no_adopting(cast, package, still):
    html = cast.client(cast.leader).get(url("show-year-trial", package)).content.decode()
    assert "Try</button>" in html
    assert url("adopt-year-trial", package) not in html


def test_readers_of_other_units_are_shown_units_and_change_nothing_by_that(cast, client, package):
    cast.student.units = System.US
    cast.student.save()
    response = client.get(url("show-year-trial", package))
    fields = sent_of(response)
    assert fields[WALL] == "160 mm"
    response = client.post(url("adopt-year-trial", package), fields, follow=True)
    assert "Kept: nothing new" in response.content.decode()


def test_what_moves_the_night_is_ranked_with_its_table(client, package, monkeypatch):
    inputs = (Moved("Leaks", Step("± 20 %"), 0.3, -0.3),)
    made = Moves(night=Span(22, 9), night_k=270.0, is_settled=False, inputs=inputs)
    monkeypatch.setattr(year_trial_page, "moves_of", lambda package: made)
    html = client.get(url("show-year-moves", package)).content.decode()
    assert "Leaks, ± 20 %, a step less" in html
    assert "one at a time" in html
    assert "isn't settled" in html
