"""`python -m criteria.hourly CASE WEATHER`: figures by name and unit, hours on request."""

import json

import pytest

from criteria.hourly.__main__ import main
from criteria.hourly.figures import figures, load_kw
from criteria.hourly.weather import CELSIUS_K
from tests.criteria.hourly.denver import oracle, run_of
from tests.criteria.hourly.epw_made import csv

LOADS = ["heating_mwh", "cooling_mwh", "heating_peak_kw", "cooling_peak_kw"]
KEYS = [*LOADS, "highest_c", "lowest_c", "mean_c"]


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("case")
    case, weather = folder / "CASE.json", folder / "WEATHER.csv"
    case.write_text(json.dumps(oracle("standard-140")["cases"]["640"]["case"]))
    weather.write_bytes(csv())
    return str(case), str(weather)


def test_figures_as_json_are_those_of_the_run_not_rounded(files, capsys):
    assert main([*files, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["case", *KEYS, "closure"]
    assert told["case"] == "640"
    assert {key: told[key] for key in KEYS} == pytest.approx(figures(run_of("640")), rel=1e-12)
    assert told["closure"] < 1e-9


def test_hours_on_request_as_json(files, capsys):
    main([*files, "--json", "--hours"])
    told = json.loads(capsys.readouterr().out)
    run = run_of("640")
    assert told["air_c_by_hour"] == pytest.approx((run.air_k - CELSIUS_K).tolist(), rel=1e-12)
    assert told["load_kw_by_hour"] == pytest.approx(load_kw(run).tolist(), abs=1e-12)
    loads = told["load_kw_by_hour"]
    assert sum(loads[:744]) > 0 > sum(loads[24 * 181 : 24 * 212])  # heated in January


def test_the_same_in_words(files, capsys):
    assert main(list(files)) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 7
    found = figures(run_of("640"))
    assert lines[0].split() == ["heating", f"{found['heating_mwh']:.3f}", "MWh"]
    assert lines[2].split() == ["heating", "peak", f"{found['heating_peak_kw']:.3f}", "kW"]
    assert lines[5].split() == ["lowest", f"{found['lowest_c']:.3f}", "°C"]


def test_hours_in_words(files, capsys):
    main([*files, "--hours"])
    lines = capsys.readouterr().out.splitlines()[7:]
    assert len(lines) == 8760
    assert lines[0].split()[:2] == ["hour", "1"]
    assert lines[-1].split()[:2] == ["hour", "8760"]


def test_keys_that_mean_nothing_are_named_and_the_year_is_told(files, capsys, tmp_path):
    case = dict(oracle("standard-140")["cases"]["640"]["case"], colour="red")
    path = tmp_path / "CASE.json"
    path.write_text(json.dumps(case))
    assert main([str(path), files[1]]) == 0
    out, err = capsys.readouterr()
    assert err == f"{path}: colour: not read, nothing here is called that\n"
    assert out


def test_what_cannot_be_read_is_exit_2_with_what_was_read_and_expected(files, capsys, tmp_path):
    wrong = tmp_path / "WRONG.json"
    wrong.write_text("[]")
    rows = tmp_path / "ROWS.csv"
    rows.write_bytes(csv().replace(b"\n", b",1\n", 40))
    none = str(tmp_path / "none")
    for given, said in (
        ((str(wrong), files[1]), f"{wrong}: read []; expected an object"),
        ((files[0], str(rows)), "expected"),
        ((none, files[1]), f"{none}: read No such file or directory; expected a file of JSON"),
        ((files[0], none), f"{none}: read “No such file or directory”; expected a file"),
    ):
        assert main(given) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert said in err
        assert "Traceback" not in err
