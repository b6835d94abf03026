"""The weather of a brief: brought in, taken out, changed by an addendum, kept as it was judged."""

from dataclasses import replace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Origin
from criteria.hourly.weather_file import read_weather_csv
from criteria.typed.cells import Lacking
from reviews import worked_out
from reviews.deeds import brief_weather, revision_issuing, studio_carrying
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.models import Addendum, Brief, Studio, WeatherFile
from reviews.models.briefs import Frozen
from reviews.reading.package_checking import draft, issued_package, tables_of
from tests.criteria.hourly.epw_made import DENVER, denver, epw, setting
from tests.criteria.hourly.test_site_weather import YEAR
from tests.factories import PENS_DOWN, prepare
from tests.reviews.page_steps import text_of

SITE = {"place": "Harl Saddle", "latitude": "39.7", "altitude_m": "1650"}


@pytest.fixture
def brief(cast) -> Brief:
    """In preparation, of a site near Denver."""
    Brief.objects.filter(studio=cast.studio).update(site=SITE, issued_at=None)
    return Brief.objects.get(studio=cast.studio)


@pytest.fixture
def issued(cast, brief) -> Brief:
    brief.issue(cast.leader)
    return brief


def url(cast, page="edit-weather") -> str:
    return reverse(page, args=[cast.studio.pk])


def sent(brief, data=None, seen=None, **more):
    file = SimpleUploadedFile("denver.epw", epw() if data is None else data)
    version = version_of(list(brief.weather)) if seen is None else seen
    return {"file": file, "seen": version, **more}


def named(brief) -> list[str]:
    brief.refresh_from_db()
    return [each["name"] for each in brief.leader_tables()["weather"]]


def read(revision):
    worked_out.forget()
    return weather_of(issued_package(revision))


# in preparation


def test_a_leader_brings_a_file_in_and_undoes_it(cast, brief):
    client = cast.client(cast.leader)
    text = text_of(client.get(url(cast)))
    assert "There is no year yet." in text
    assert "rows of the climate by month" in text
    answer = client.post(url(cast), sent(brief), follow=True)
    text = text_of(answer)
    for said in ("Read of the file of Denver Intl Ap, USA.", "39.83° N, 104.65° W", "UTC -7 h",
                 "It gives no rain.", "the twelve months → Denver Intl Ap, USA"):  # fmt: skip
        assert said in text
    assert named(brief) == ["Denver Intl Ap, USA"]
    change = last_change(brief, "weather")
    client.post(url(cast, "undo-weather"), {"change": change.pk})
    assert named(brief) == []


def test_the_same_file_twice_is_kept_once(cast, brief):
    client = cast.client(cast.leader)
    client.post(url(cast), sent(brief))
    brief.refresh_from_db()
    client.post(url(cast), sent(brief))
    assert WeatherFile.objects.count() == 1
    assert brief.changes.filter(schedule="weather").count() == 1


def test_it_is_taken_out_again(cast, brief):
    client = cast.client(cast.leader)
    client.post(url(cast), sent(brief))
    brief.refresh_from_db()
    both = text_of(client.post(url(cast), sent(brief, takes_out="on")))
    assert "Read “a file, and that it is taken out”. Expected one of the two." in both
    client.post(url(cast), {"takes_out": "on", "seen": version_of(brief.weather)})
    assert named(brief) == []


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "file: read “nothing”; expected plain text, a row an hour"),
        (b"no weather", "line 1: read “no weather”; expected LOCATION"),
        (b"x" * 9_000_000, "denver.epw, 9,000,000 bytes”. Expected at most 8 MB."),
        (epw(setting("dry_bulb", {5: "nan"})), "row 5 (1 Jan, hour 5), dry bulb: read “nan”"),
    ],
    ids=["empty", "words", "large", "nan"],
)
def test_what_cant_be_read_is_refused_beside_the_field(cast, brief, data, said):
    answer = cast.client(cast.leader).post(url(cast), sent(brief, data))
    assert answer.status_code == 200
    assert said in text_of(answer)
    assert named(brief) == []
    assert not WeatherFile.objects.exists()


def test_a_file_of_another_latitude_is_refused(cast, brief):
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"latitude": "46.7"})
    text = text_of(cast.client(cast.leader).post(url(cast), sent(brief)))
    assert "latitude 39.83°”. Expected within 0.5° of the site’s, 46.7°." in text


def test_a_site_that_moves_away_from_its_file_is_told(cast, brief):
    brief_weather.bring_in(brief, denver(), version_of([]), cast.leader)
    Brief.objects.filter(pk=brief.pk).update(site=SITE | {"latitude": "46.7"})
    text = text_of(cast.client(cast.leader).get(url(cast, "show-brief")))
    assert text.count("Denver can’t be used.") == 2  # in the section, and what is to mend
    assert "read “47”; expected a latitude near its weather file" in text


def test_a_save_over_a_newer_one_is_shown_beside_it(cast, brief):
    brief_weather.bring_in(brief, denver(), version_of([]), cast.leader)
    answer = cast.client(cast.leader).post(url(cast), sent(brief, seen=version_of([])))
    assert answer.status_code == 409
    assert "Somebody changed this since the page was opened" in text_of(answer)
    assert named(brief) == ["Denver"]


def test_a_brief_that_is_issued_meanwhile_is_frozen(cast, brief, monkeypatch):
    def frozen(*_):
        raise Frozen("The brief is issued.")

    monkeypatch.setattr(brief_weather, "bring_in", frozen)
    text = text_of(cast.client(cast.leader).post(url(cast), sent(brief)))
    assert "The brief is issued." in text


# made of the months


def test_the_page_never_calls_a_night_settled_that_isnt_in_it(cast, brief):
    Brief.objects.filter(pk=brief.pk).update(climate=list(YEAR))
    client = cast.client(cast.leader)
    text = text_of(client.get(url(cast)))
    assert "without the coldest night to design for, without the hottest afternoon" in text
    assert "no claim about the worst night is settled by it" in text
    assert "no claim about the worst heat is settled by it" in text
    site = SITE | {"design_outside_c": "-18", "summer_outside_c": "30"}
    Brief.objects.filter(pk=brief.pk).update(site=site)
    text = text_of(client.get(url(cast)))
    assert "is settled by it" not in text
    assert "Made of the twelve months, with the coldest night to design for, with the" in text
    assert "Three days with nights of -18.0 °C are laid into Jan." in text
    cast.leader.units = "us"
    cast.leader.save()
    assert "Three days with nights of -0.4 °F are laid into Jan." in text_of(client.get(url(cast)))


def test_the_year_goes_out_as_columns_that_are_read_again(cast, issued):
    client = cast.client(cast.student)
    assert (
        "It lacks: rows of the climate" in client.get(url(cast, "export-weather")).content.decode()
    )
    brief_weather.change_by_addendum(issued, denver(), cast.leader, "Denver's", 1)
    table = client.get(url(cast, "export-weather")).content.decode().removeprefix("\ufeff")
    again = read_weather_csv(table.encode(), DENVER)
    assert again.air_k == pytest.approx(denver().air_k, abs=0.006)
    assert again.beam_w_m2 == pytest.approx(denver().beam_w_m2)


# after the issue


def test_an_addendum_brings_a_file_and_what_was_issued_keeps_its_own(cast, issued):
    Brief.objects.filter(pk=issued.pk).update(climate=list(YEAR))
    package = prepare(cast)
    first = revision_issuing.issue(package, cast.student, PENS_DOWN)
    before = tables_of(package).fingerprint
    client = cast.client(cast.leader)
    words = {"text": "The year of Denver.", "number": "1"}
    nothing = text_of(client.post(url(cast), sent(issued)))
    assert "Read nothing. Expected words of at most 20,000 characters." in nothing
    answer = client.post(url(cast), sent(issued, **words), follow=True)
    assert "Addendum 1 is issued." in text_of(answer)
    assert "Read of the file of Denver Intl Ap, USA." in text_of(answer)
    package.refresh_from_db()
    cast.scheme.studio.brief.refresh_from_db()
    assert tables_of(package).fingerprint != before  # so that no check sheet is taken for this one
    second = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert read(first).origin is Origin.MONTHS
    shown = reverse("show-revision", args=[second.pk])
    assert "Denver Intl Ap, USA" in text_of(cast.client(cast.student).get(shown))
    shown = reverse("show-revision", args=[first.pk])
    assert "made of the climate" in text_of(cast.client(cast.student).get(shown))
    assert read(second).origin is Origin.FILE
    other = replace(denver(), name="elsewhere")
    brief_weather.change_by_addendum(issued, other, cast.leader, "Another.", 2)
    assert read(second).name == "Denver Intl Ap, USA"
    brief_weather.change_by_addendum(issued, None, cast.leader, "None.", 3)
    assert named(issued) == []
    assert read(second).name == "Denver Intl Ap, USA"


def test_an_addendum_of_others_words_is_shown_beside_it(cast, issued):
    Addendum.objects.create(brief=issued, number=1, text="Sooner.", issued_by=cast.leader)
    words = {"text": "The year of Denver.", "number": "1"}
    answer = cast.client(cast.leader).post(url(cast), sent(issued, **words))
    assert answer.status_code == 409
    assert "Sooner." in text_of(answer)
    assert named(issued) == []


def test_a_year_that_isnt_as_it_was_kept_leaves_no_data(cast, issued):
    brief_weather.change_by_addendum(issued, denver(), cast.leader, "Denver's", 1)
    package = prepare(cast)
    cast.scheme.studio.brief.refresh_from_db()
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert weather_of(draft(package).package).name == "Denver"
    # what a studio that was brought in calls the same doesn't stand in its way
    forged = Studio.objects.exclude(pk=cast.studio.pk).first()
    kept = WeatherFile.objects.get()
    WeatherFile.objects.all().delete()
    WeatherFile.objects.create(studio=forged, digest=kept.digest, held="forged")
    with pytest.raises(Lacking, match="what isn't as it was kept"):
        read(revision)
    WeatherFile.objects.create(studio=cast.studio, digest=kept.digest, held=kept.held)
    assert read(revision).name == "Denver"
    with pytest.raises(Frozen):
        WeatherFile.objects.latest("pk").save()


def test_next_year_has_the_year_with_its_own_studio(cast, issued):
    brief_weather.change_by_addendum(issued, denver(), cast.leader, "Denver's", 1)
    told = {"title": "Next", "cohort": "2027", "year_line": ""}
    new = studio_carrying.carry_over(cast.studio, cast.leader, told, parts=["site"], crits={})
    assert named(new.brief) == ["Denver"]
    assert str(new.weather_files.get()).startswith("Weather ")
