"""A weather file's figures beside those of a brief, taken over where they are ticked."""

from html import unescape

import pytest
from django.urls import reverse

from criteria.hourly.climate_figures import climate_figures
from criteria.hourly.weather_file import read_epw
from reviews.deeds import brief_weather, brief_writing
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.models import Addendum, Brief, Change
from reviews.models.briefs import Frozen
from reviews.reading.brief_figures import BLANK, DIFFERS, SAME, figures_offered
from reviews.versions import Newer
from tests.criteria.hourly.epw_made import denver, epw
from tests.reviews.page_steps import text_of

SITE = {"place": "Harl Saddle", "altitude_m": "1650", "design_outside_c": "0 °F"}
CLIMATE = [{"month": "Jan", "mean_c": "4", "rain_mm": "55"}]


@pytest.fixture
def brief(cast) -> Brief:
    """In preparation, near Denver, with Denver's file."""
    Brief.objects.filter(studio=cast.studio).update(site=SITE, climate=CLIMATE, issued_at=None)
    brief = Brief.objects.get(studio=cast.studio)
    brief_weather.bring_in(brief, read_epw(epw()), version_of([]), cast.leader)
    return Brief.objects.get(pk=brief.pk)


@pytest.fixture
def ask(cast):
    client = cast.client(cast.leader)
    where = reverse("take-weather-figures", args=[cast.studio.pk])

    def asked(data=None, who=client):
        answer = who.get(where, follow=True) if data is None else who.post(where, data, follow=True)
        return unescape(text_of(answer))

    return asked


def seen(brief):
    return version_of(figures_offered(brief).as_seen)


def told(brief):
    offered = figures_offered(brief)
    return {f.name: (f.text, f.beside) for f in (*offered.site, *offered.climate)}


def test_each_figure_stands_beside_what_the_brief_has(brief):
    figures = told(brief)
    assert figures["latitude"] == ("39.83", BLANK)
    assert figures["longitude"] == ("-104.65", BLANK)
    assert figures["time_zone_h"] == ("-7", BLANK)
    assert figures["altitude_m"] == ("1650", SAME)
    assert figures["design_outside_c"][1] == DIFFERS
    assert figures["Jan-mean_c"][1] == DIFFERS
    assert figures["Feb-mean_c"][1] == BLANK
    assert len([name for name in figures if "-" in name]) == 48
    year = climate_figures(denver())
    assert float(figures["design_outside_c"][0]) == pytest.approx(year.heating_k - 273.15, abs=0.06)
    assert float(figures["Jul-sun_hours_60s"][0]) == pytest.approx(
        year.months[6].sun_s / 3600, abs=0.06
    )


def test_rain_snow_and_what_no_file_knows_are_never_offered(brief):
    heads = {name.rpartition("-")[2] for name in told(brief)}
    assert not heads & {"rain_mm", "snow_cm", "open", "ground_snow", "gust_ms"}


def test_what_stands_the_same_in_other_units_is_the_same(brief):
    cold = told(brief)["design_outside_c"][0]
    fahrenheit = f"{float(cold) * 1.8 + 32:.2f} °F"
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"design_outside_c": fahrenheit})
    assert told(Brief.objects.get(pk=brief.pk))["design_outside_c"] == (cold, SAME)


def test_sun_hours_of_the_site_sheet_are_its_design_month_s(brief):
    assert "sun_hours" not in told(brief)
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"design_month": "Oct"})
    figures = told(Brief.objects.get(pk=brief.pk))
    assert figures["sun_hours"][0] == figures["Oct-sun_hours_60s"][0]


def test_a_site_higher_than_the_station_is_colder_and_keeps_its_altitude(brief):
    before = float(told(brief)["Jan-mean_c"][0])
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"altitude_m": "2650"})
    brief = Brief.objects.get(pk=brief.pk)
    figures = told(brief)
    assert "altitude_m" not in figures
    assert float(figures["Jan-mean_c"][0]) == pytest.approx(before - 6.5, abs=0.11)
    (said,) = figures_offered(brief).said
    assert said.endswith("higher than the file's station: its air is taken 6.5 °C colder.")


def test_ticked_figures_are_written_with_their_source_and_nothing_else(cast, brief, ask):
    text = ask()
    for said in (
        "The file begins: LOCATION, Denver Intl Ap, CO, USA, TMY3, 725650, 39.83",
        "Rain and snow lying are asked, never taken",
        "99.6 % of its hours are warmer",
    ):
        assert said in text
    assert 'value="latitude" checked' in text
    assert 'value="design_outside_c">' in text  # differs: ticked by nobody but a person
    done = ask({"take": ["latitude", "Feb-mean_c"], "seen": seen(brief)})
    assert "2 figures of the file are written." in done
    brief.refresh_from_db()
    assert brief.site == SITE | {
        "latitude": "39.83",
        "note": "Figures of the weather file LOCATION,Denver Intl Ap,CO,USA,TMY3,725650,39.83,"
        "-104.65,-7.0,1650.0",
    }
    assert brief.climate[0] == CLIMATE[0]
    assert set(brief.climate[1]) == {"month", "mean_c"}
    assert len(brief.climate) == 2


def test_all_that_is_new_or_differs_is_written_at_once_and_then_nothing_is_new(brief, ask):
    ask({"every": "on", "seen": seen(brief)})
    brief.refresh_from_db()
    assert {beside for _, beside in told(brief).values()} == {SAME}
    assert brief.climate[0]["rain_mm"] == "55"
    assert "Nothing new." in ask()
    count = Change.objects.count()
    assert "0 figures of the file" in ask({"every": "on", "take": [], "seen": 1})
    assert Change.objects.count() == count


def test_each_part_is_taken_back_as_one(cast, brief):
    names = set(figures_offered(brief).by_name)
    brief_weather.take_figures(brief, names, seen(brief), cast.leader)
    for part, before in ((brief_writing.MONTHLY, CLIMATE), (brief_writing.SITE_SHEET, SITE)):
        change = last_change(brief, part.slug)
        assert "figures taken from LOCATION,Denver" in change.what
        undo_part(brief, part, change.pk)
        brief.refresh_from_db()
        assert (brief.climate if part.slug == "climate" else brief.site) == before


def test_nothing_is_written_over_what_was_not_seen(brief, ask):
    old = seen(brief)
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"latitude": "39.9"})
    text = ask({"take": ["latitude", "longitude"], "seen": old})
    assert "The brief was changed meanwhile, and nothing was written." in text
    assert "differs" in text
    assert 'value="longitude" checked' in text
    assert Brief.objects.get(pk=brief.pk).site["latitude"] == "39.9"
    now = seen(Brief.objects.get(pk=brief.pk))
    ask({"take": ["latitude"], "seen": now})
    assert Brief.objects.get(pk=brief.pk).site["latitude"] == "39.83"


@pytest.mark.parametrize(
    ("sent", "said"),
    [({}, "Read nothing. Expected at least one figure ticked."),
     ({"take": ["Jan-rain_mm"]}, "Read “Jan-rain_mm”. Expected a figure of the file.")],
)  # fmt: skip
def test_ticks_that_name_nothing_are_refused(brief, ask, sent, said):
    assert said in ask(sent | {"seen": seen(brief)})
    assert not Change.objects.exclude(schedule="weather").exists()


def test_an_issued_brief_takes_them_by_an_addendum(cast, brief, ask):
    brief.issue(cast.leader)
    with pytest.raises(Frozen):
        brief_weather.take_figures(brief, {"latitude"}, seen(brief), cast.leader)
    assert "Issue the addendum with what is ticked" in ask()
    sent = {
        "take": ["latitude", "Jan-mean_c"],
        "seen": seen(brief),
        "number": 1,
        "text": "The station’s.",
    }
    assert "Read nothing. Expected words of at most" in ask(sent | {"text": ""})
    ask(sent)
    ask(sent)
    addendum = Addendum.objects.get()
    assert set(addendum.site_changes) == {"latitude", "note"}
    brief.refresh_from_db()
    tables = brief.leader_tables()
    assert tables["site"][0]["latitude"] == "39.83"
    (january,) = tables["climate"]
    assert january["rain_mm"] == "55"
    assert january["mean_c"] != "4"
    assert (brief.site, brief.climate) == (SITE, CLIMATE)
    other = ask(sent | {"text": "Other words.", "take": ["longitude"]})
    assert "changed meanwhile" in other
    assert "Other words." in other
    assert Addendum.objects.count() == 1
    table = cast.client(cast.leader).get(reverse("export-climate", args=[cast.studio.pk]))
    assert january["mean_c"] in table.content.decode()


def test_a_note_that_is_full_isn_t_cut(cast, brief):
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"note": "n" * 1990})
    brief = Brief.objects.get(pk=brief.pk)
    brief_weather.take_figures(brief, {"latitude"}, seen(brief), cast.leader)
    brief.refresh_from_db()
    assert brief.site["note"] == "n" * 1990


def test_a_brief_without_a_file_offers_none(cast, brief, ask):
    brief_weather.take_out(brief, version_of(brief.weather), cast.leader)
    brief.refresh_from_db()
    assert "No weather file is named by the brief" in ask()
    with pytest.raises(Newer):
        brief_weather.take_figures(brief, {"latitude"}, 0, cast.leader)


def test_a_reader_of_us_units_reads_theirs(cast, brief, ask):
    cast.leader.units = "us"
    cast.leader.save()
    assert "5,413 ft" in ask()
