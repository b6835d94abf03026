"""`python -m criteria year`: each check with its figure or what it lacks, and what it stands on."""

import json

import pytest

from criteria.__main__ import main
from criteria.checks.catalogue import CATALOGUE, CHECKS
from criteria.errors import InputError
from criteria.hourly import command
from criteria.hourly.of_year import reckoned
from tests.criteria.hourly.epw_made import epw
from tests.criteria.hourly.year_hut import folder_of, year_hut

YEARLY = [check.slug for check in CATALOGUE if check.is_yearly]
TARGETS = "id,check,rule,value\nT1,coldest_night,at least,{}\nT2,damp_hours,at most,0 / 0\n"
DENVER_SITE = {"latitude": "39.8", "altitude_m": "1650"}


def told(folder, capsys, *options, code=0):
    assert main(["year", folder, "--json", *options]) == code
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def targets(tmp_path):
    def made(coldest):
        path = tmp_path / "asked.csv"
        path.write_text(TARGETS.format(coldest))
        return str(path)

    return made


def test_every_check_of_the_year_is_told_with_its_figure_or_what_it_lacks(tmp_path, capsys):
    found = told(folder_of(tmp_path), capsys)
    assert [each["check"] for each in found["findings"]] == YEARLY
    by_check = {each["check"]: each for each in found["findings"]}
    coldest = by_check["coldest_night"]
    assert coldest["unit"] == "°C"
    assert coldest["value"] == pytest.approx(found["worst_night"]["inside_mean_c"], rel=1e-9)
    assert by_check["hottest_hour"]["value"] is None
    assert by_check["hottest_hour"]["missing"] == [
        "Design summer outside (site sheet), or a weather file in the brief"
    ]
    year = reckoned(year_hut()).year
    drawn = found["runs_of_room"]["plant_as_drawn"]
    assert drawn["heating_mwh"] == pytest.approx(year.drawn.heat_w.sum() / 1e6, rel=1e-12)
    assert max(run["closure"] for run in found["runs_of_room"].values()) < 1e-9
    made = year.power.made_w.sum() / 1000
    assert found["electricity"]["made_kwh"] == pytest.approx(made, rel=1e-12)
    assert found["weather"]["from"] == "months"
    assert found["weather"]["without_spell"] == ["hot"]
    assert found["worst_night"]["is_settled"]
    lists = {(each["schedule"], *each["cells"]) for each in found["assumed"]}
    assert ("windows", "solar_factor") not in lists
    assert ("plant", "cooling_w") in lists


def test_the_same_in_words(tmp_path, capsys):
    assert main(["year", folder_of(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"The year by the hour: {tmp_path.name}\n")
    assert "Weather: made of the twelve months of the site" in out
    for slug in YEARLY:
        assert f"{CHECKS[slug].title}  " in out
    assert "Assumed, as the cells are blank:" in out
    assert "A typical year holds no record cold." in out
    assert "°F" not in out


def test_in_us_units(tmp_path, capsys):
    main(["year", folder_of(tmp_path), "--units", "us"])
    out = capsys.readouterr().out
    assert "air " in out
    assert "°F" in out
    assert "°C" not in out
    assert "kg/m³" not in out


@pytest.mark.parametrize(("coldest", "code", "state"), [("-30", 0, "meets"), ("19", 1, "short")])
def test_targets_that_ask_for_a_year_decide_the_exit_code(
    tmp_path, capsys, targets, coldest, code, state
):
    folder = folder_of(tmp_path)
    asked = ("--targets", targets(coldest))
    first, second, *rest = told(folder, capsys, *asked, code=code)["findings"]
    assert (first["target"], first["check"], first["state"]) == ("T1", "coldest_night", state)
    assert (second["target"], second["state"]) == ("T2", "not_asked")  # untried: judges nothing
    assert [each["check"] for each in rest] == [
        slug for slug in YEARLY if slug not in ("coldest_night", "damp_hours")
    ]


def test_a_weather_file_stands_in_place_of_the_months(tmp_path, capsys):
    file = tmp_path / "denver.epw"
    file.write_bytes(epw())
    folder = folder_of(tmp_path, site=DENVER_SITE)
    found = told(folder, capsys, "--weather", str(file))
    assert (found["weather"]["from"], found["weather"]["time_zone_h"]) == ("file", -7.0)
    assert "Denver" in found["weather"]["name"]
    assert found["worst_night"]["is_settled"]
    main(["year", folder, "--weather", str(file)])
    assert "Weather: the file of Denver" in capsys.readouterr().out


def test_a_weather_file_that_cannot_be_used_is_exit_2_with_row_field_read_and_expected(
    tmp_path, capsys
):
    def spoil(rows):
        rows[99][6] = "NaN"

    file = tmp_path / "wrong.epw"
    file.write_bytes(epw(spoil))
    assert main(["year", folder_of(tmp_path), "--weather", str(file)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"{file}, row 100")
    assert "read “NaN”; expected" in err
    assert main(["year", str(tmp_path), "--weather", str(tmp_path / "none.epw")]) == 2
    assert "none.epw: read “No such file or directory”" in capsys.readouterr().err


def test_a_weather_file_of_elsewhere_gives_no_year_and_says_why(tmp_path, capsys):
    file = tmp_path / "denver.epw"
    file.write_bytes(epw())
    found = told(folder_of(tmp_path), capsys, "--weather", str(file), code=1)
    assert found["runs_of_room"] is None
    assert "expected a latitude near its weather file's, 39.83°" in found["missing"][0]


def test_without_what_a_year_needs_there_is_none_and_exit_1(tmp_path, capsys):
    folder = folder_of(tmp_path, site={"altitude_m": ""})
    found = told(folder, capsys, code=1)
    assert found["missing"] == ["Altitude (site sheet)"]
    assert (found["weather"], found["worst_night"], found["assumed"]) == (None, None, None)
    assert all(each["value"] in (None, [None, None]) for each in found["findings"])
    assert main(["year", folder]) == 1
    assert "No data, still needs Altitude (site sheet)" in capsys.readouterr().out


def test_months_without_a_cold_spell_never_settle_the_worst_night(tmp_path, capsys):
    folder = folder_of(tmp_path, site={"design_outside_c": ""})
    found = told(folder, capsys)
    assert not found["worst_night"]["is_settled"]
    by_check = {each["check"]: each for each in found["findings"]}
    assert by_check["coldest_night"]["value"] is None
    main(["year", folder])
    assert "the coldest night isn't settled" in capsys.readouterr().out


def test_a_package_without_power_tells_no_electricity_and_no_figure_of_it(tmp_path, capsys):
    folder = folder_of(tmp_path, power=[])
    found = told(folder, capsys)
    assert found["electricity"] is None
    by_check = {each["check"]: each for each in found["findings"]}
    assert by_check["dark_hours"]["missing"] == ["panels or a battery (power plant)"]


def test_a_folder_that_cannot_be_read_is_exit_2_and_a_cell_that_cannot_exit_1(tmp_path, capsys):
    assert main(["year", str(tmp_path / "none")]) == 2
    assert "expected a folder of schedule CSVs" in capsys.readouterr().err
    assert main(["year", folder_of(tmp_path, plant={"night_c": "warm"})]) == 1
    out, err = capsys.readouterr()
    assert "read “warm”; expected" in err
    assert "No data" in out


def test_what_else_is_to_be_known_stands_beside(tmp_path, capsys):
    shaded = {"overhang": "500", "sun_share": "0.8"}
    folder = folder_of(tmp_path, windows=shaded)
    main(["year", folder])
    said = "W1: eaves, fins and reveals are followed as drawn, in place of the share let past"
    assert said in capsys.readouterr().out
    assert said in told(folder, capsys)["said"]


def test_figures_that_no_year_can_have_are_told_and_exit_1(tmp_path, capsys, monkeypatch):
    def impossible(package):
        raise InputError("a flow below 0")

    monkeypatch.setattr(command, "reckoned", impossible)
    found = told(folder_of(tmp_path), capsys, code=1)
    assert found["missing"] == ["a figure that can be: a flow below 0"]
    assert found["weather"]["name"] == "the site"
