"""A package's year on the site: shown, taken out, printed, and what it assumed written down."""

import csv
import io
import re
from dataclasses import replace
from html import unescape
from types import SimpleNamespace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from criteria.checks.catalogue import CATALOGUE
from criteria.findings import Step
from criteria.hourly.assumed import Assumed, Blank
from criteria.hourly.weather import Origin, Spell
from reviews.deeds import assumed_writing, package_keeping
from reviews.models import Row
from reviews.pages import year_page
from reviews.versions import Newer
from tests.criteria.drawing.year_made import a_weather, a_year
from tests.factories import RevisionFactory, TargetLineFactory
from tests.prints import sheets_of

ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "12", "use": "day"}
HEIGHT = Assumed(
    schedule="rooms",
    mark="R1",
    row=0,
    cells=(Blank("clear_height_m", "Clear height", "2.4 m"),),
    said=Step("{} is taken to be 2.4 m high", ("R1",)),
    source="common practice",
)
HEATER = Assumed(
    schedule="plant",
    mark="",
    row=0,
    cells=(Blank("heat_w", "Heat output", "2000 W"), Blank("heater", "Heated by", "wood stove")),
    said=Step("the stove is taken to give 2,000 W"),
    source="ours",
)
CLIMATE = replace(HEIGHT, schedule="climate", mark="Jan", cells=(Blank("wind", "Wind", "3 m/s"),))


@pytest.fixture
def made(monkeypatch):
    """Let every package have the year made by hand; returns what may be set of it."""
    found = SimpleNamespace(year=a_year(), assumed=(HEIGHT, HEATER, CLIMATE), said=())
    monkeypatch.setattr(year_page, "reckoned", lambda package: found)
    return found


@pytest.fixture
def package(cast):
    package_keeping.bring_in(cast.scheme.package, "rooms", [ROOM], cast.student)
    return cast.scheme.package


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


def page(client, package, name="show-year"):
    response = client.get(reverse(name, args=[package.scheme_id]))
    assert response.status_code == 200
    return response.content.decode()


def test_rows_that_give_no_year_say_what_lacks_and_nothing_is_judged(client, package):
    html = page(client, package)
    assert "No data" in html
    assert "still needs" in html
    assert "next-step" in html
    assert '<svg class="drawn"' not in html
    response = client.get(reverse("export-year", args=[package.scheme_id]))
    assert response.url == reverse("show-year", args=[package.scheme_id])


def test_checks_that_run_a_year_stand_here_each_with_what_it_lacks(cast, client, package):
    line = {"id": "T77", "check": "coldest_night", "rule": "at least", "value": "16"}
    line["what"] = "Coldest night inside"
    TargetLineFactory(brief=cast.studio.brief, cells=line)
    html = page(client, package)
    checks = unescape(html[html.index('id="checks-title"') :])
    named = [check.title for check in CATALOGUE if check.is_yearly]
    assert len(named) >= 10
    assert all(checks.count(f"<summary><span>{title}") == 1 for title in named)
    night = re.search(r"<summary><span>Coldest night inside(.*?)</details>", checks, re.DOTALL)[1]
    assert "T77" in night
    assert "No data" in night
    assert "Still needs" in night


@pytest.mark.usefixtures("made")
def test_the_answers_stand_before_the_drawings_each_with_working_and_source(client, package):
    html = page(client, package)
    order = ["Coldest night", "Worst week", "Hours that plant", "Dark hours", "Rain water"]
    places = [html.index(f"<h3>{name}") for name in order]
    assert places == sorted(places)
    assert places[-1] < html.index('<svg class="drawn"')
    assert html.count("<summary>Working and source") == 6
    assert "7 h" in html
    assert "12 days short" in html
    assert "Made Pass" in html


@pytest.mark.usefixtures("made")
def test_each_drawing_is_laid_out_for_two_widths_with_a_table_and_ids_of_its_own(client, package):
    html = page(client, package)
    assert html.count('<svg class="drawn"') == 2 * 7
    assert html.count("The same figures") == 7
    ids = re.findall(r'\sid="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    assert {"warmth", "charge", "week", "balance", "tanks", "months", "bare"} <= set(ids)
    assert not re.search(r"\sstyle=|<style|<script>", html)


def test_of_months_without_the_cold_spell_the_night_is_not_settled(client, package, made):
    weather = a_weather(origin=Origin.MONTHS, has_spells=False, without=(Spell.COLD,))
    made.year = a_year(weather=weather)
    html = page(client, package)
    assert "Coldest night, not settled" in html
    assert "The coldest night isn't settled." in html
    night = re.search(r"<h3>Coldest night, not settled</h3>(.*?)</article>", html, re.DOTALL)[1]
    assert "missed" not in night
    assert "with the hot spell that the site sheet designs for, without a cold one" in html
    bare = a_weather(origin=Origin.MONTHS, has_spells=False, without=tuple(Spell))
    assert "without the cold and the hot spell" in year_page.weather_words(bare)


def test_a_file_settles_it(client, package, made):
    html = page(client, package)
    assert "the brief's weather file, Made Pass" in html.replace("&#x27;", "'")
    assert "not settled" not in html
    made.year = a_year(weather=a_weather(origin=Origin.MONTHS))
    assert year_page.weather_words(made.year.weather).endswith(
        "with the cold and the hot spell that the site sheet designs for."
    )


def test_what_isnt_scheduled_is_no_data_and_has_no_drawing(client, package, made):
    made.year = a_year(power=False, tanks=False)
    html = page(client, package)
    assert html.count('<strong class="figure">No data</strong>') == 2
    assert "neither panels nor a battery are scheduled" in html.lower()
    assert 'id="charge"' not in html
    assert 'id="tanks"' not in html


@pytest.mark.usefixtures("made")
def test_us_readers_read_it_in_their_units(cast, client, package):
    cast.student.units = "us"
    cast.student.save()
    html = page(client, package)
    assert "Btu/h" in html
    assert "°F" in html


# What was assumed


def write(client, package, assumed):
    key = year_page.assumed_key(assumed)
    address = reverse("write-assumed", args=[package.scheme_id])
    return client.post(address, {"assumed": key}, follow=True)


@pytest.mark.usefixtures("made")
def test_an_assumption_is_written_into_its_cells_in_one_action(client, package):
    html = page(client, package)
    assert "Write Clear height 2.4 m" in html
    answer = write(client, package, HEIGHT).content.decode()
    assert "Written: R1 is taken to be 2.4 m high." in answer
    cells = Row.objects.get(package=package, schedule="rooms").cells
    assert cells == {**ROOM, "clear_height_m": "2.4 m"}


@pytest.mark.usefixtures("made")
def test_a_sheet_of_one_row_gets_its_row(client, package):
    write(client, package, HEATER)
    cells = Row.objects.get(package=package, schedule="plant").cells
    assert cells == {"heat_w": "2000 W", "heater": "wood stove"}
    write(client, package, replace(HEATER, cells=HEATER.cells[:1]))
    assert Row.objects.filter(package=package, schedule="plant").count() == 1


def test_what_is_typed_by_now_is_never_written_over(client, package, made):
    made.assumed = ()
    answer = write(client, package, HEIGHT).content.decode()
    assert "no longer assumed" in answer
    assert "clear_height_m" not in Row.objects.get(package=package, schedule="rooms").cells


@pytest.mark.usefixtures("made")
def test_what_is_the_briefs_is_its_leaders_to_write(client, package):
    html = page(client, package)
    assert "Write Wind" not in html
    write(client, package, CLIMATE)
    assert not Row.objects.filter(package=package, schedule="climate").exists()


@pytest.mark.usefixtures("made")
def test_a_row_that_changed_meanwhile_stays_and_says_who_changed_it(monkeypatch, cast, package):
    row = Row.objects.get(package=package, schedule="rooms")
    for kept, who in ((row, str(row.changed_by)), (None, "Somebody")):

        def meets_newer(*_, kept=kept):
            raise Newer(kept, {})

        monkeypatch.setattr(assumed_writing, "save_row", meets_newer)
        answer = write(cast.client(cast.student), package, HEIGHT).content.decode()
        assert f"{who} changed the row meanwhile. Nothing was written." in answer


@pytest.mark.usefixtures("made")
def test_whoever_only_reads_is_offered_nothing_to_write(cast, package):
    html = page(cast.client(cast.leader), package)
    assert "is taken to be 2.4 m high" in html
    assert "write-assumed" not in html
    assert "Write Clear height" not in html


def test_rows_without_marks_are_found_by_their_place(cast, package, made):
    layers = [{"part": "wall", "layer": "Wool"}, {"part": "wall", "layer": "Board"}]
    package_keeping.bring_in(package, "envelope", layers, cast.student)
    second = replace(HEIGHT, schedule="envelope", mark="", row=2)
    second = replace(second, cells=(Blank("density", "Density", "160 kg/m³"),))
    made.assumed = (second, replace(second, row=3))
    write(cast.client(cast.student), package, second)
    rows = Row.objects.filter(package=package, schedule="envelope").order_by("position")
    assert [row.cells.get("density") for row in rows] == [None, "160 kg/m³"]
    write(cast.client(cast.student), package, replace(second, row=3))
    assert Row.objects.filter(package=package, schedule="envelope").count() == 2


# Taken out


def test_hours_are_a_row_each_and_what_isnt_wanted_is_blank(client, package, made):
    response = client.get(reverse("export-year", args=[package.scheme_id]))
    assert "hours.csv" in response["Content-Disposition"]
    table = list(csv.DictReader(io.StringIO(response.content.decode("utf-8-sig"))))
    assert len(table) == 8760
    first, summer, last = table[0], table[24 * 200], table[-1]
    assert (first["month"], first["day"], first["hour_ending"]) == ("1", "1", "1")
    assert (last["month"], last["day"], last["hour_ending"]) == ("12", "31", "24")
    assert (first["wanted_least_c"], summer["wanted_least_c"]) == ("20.00", "")
    assert first["inside_c"] == f"{made.year.drawn.operative_k[0] - 273.15:.2f}"
    assert first["stored_wh"] == f"{made.year.power.stored_j[0] / 3600:.0f}"
    made.year = a_year(power=False)
    response = client.get(reverse("export-year", args=[package.scheme_id]))
    assert "stored_wh" not in response.content.decode()


@pytest.mark.usefixtures("made")
def test_the_sheets_are_a_page_a_drawing(client, package, tmp_path):
    response = client.get(reverse("print-year", args=[package.scheme_id]))
    (tmp_path / "year.pdf").write_bytes(response.content)
    assert len(sheets_of(tmp_path / "year.pdf")) == 7


# As issued


@pytest.mark.usefixtures("made")
def test_a_juror_reads_the_year_of_what_was_issued(cast, package):
    revision = RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    client = cast.client(cast.seat)
    html = client.get(reverse("show-issued-year", args=[revision.pk])).content.decode()
    assert "Of the rows as issued, reckoned by today" in html
    assert "is taken to be 2.4 m high" in html
    assert '<form method="post" action="/schemes' not in html
    hours = client.get(reverse("export-issued-year", args=[revision.pk]))
    assert hours.content.decode().count("\n") == 8761


@pytest.mark.usefixtures("made")
def test_it_asks_the_database_no_more_than_the_check_sheet(client, package):
    counts = []
    for name in ("show-checks", "show-year"):
        address = reverse(name, args=[package.scheme_id])
        client.get(address)
        with CaptureQueriesContext(
            connection,
        ) as found:
            client.get(address)
        counts.append(len(found))
    assert counts[1] <= counts[0]
