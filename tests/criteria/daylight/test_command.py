"""The daylight command: its JSON keys are an interface that people script against."""

import argparse
import copy
import json

import pytest

from criteria.daylight import daylight_field
from criteria.daylight.command import add_arguments, run
from tests.criteria.daylight.open_cases import BY_ID, CASES, room_of

KEYS = [
    "mean_df_pct", "median_df_pct", "min_df_pct", "uniformity", "share_ge_2pct",
    "average_daylight_factor_pct", "glazing_to_floor_pct", "no_sky_area_pct",
    "limiting_depth_ok", "grid",
]  # fmt: skip


def write(tmp_path, spec):
    path = tmp_path / "ROOM.json"
    path.write_text(json.dumps(spec), encoding="utf-8")
    return str(path)


def command(*arguments):
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return run(parser.parse_args(arguments))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_json_holds_the_cases_figures_under_the_agreed_keys(case, tmp_path, capsys):
    assert command(write(tmp_path, case["spec"]), "--json") == 0
    found = json.loads(capsys.readouterr().out)
    assert list(found) == KEYS
    traced = case["grids"][0]
    assert found["mean_df_pct"] == pytest.approx(traced["mean_df_pct"], rel=0.03)
    assert found["median_df_pct"] == pytest.approx(traced["median_df_pct"], rel=0.04)
    assert found["min_df_pct"] == pytest.approx(traced["min_df_pct"], rel=0.08)
    assert found["uniformity"] == pytest.approx(found["min_df_pct"] / found["mean_df_pct"])
    assert found["share_ge_2pct"] == pytest.approx(traced["share_ge_2pct"], abs=3)
    hand = case["hand"]
    assert found["average_daylight_factor_pct"] == pytest.approx(
        hand["average_daylight_factor_pct"], abs=6e-5
    )
    floor = case["spec"]["room"]["length_m"] * case["spec"]["room"]["width_m"]
    assert found["glazing_to_floor_pct"] == pytest.approx(100 * hand["glass_m2"] / floor)
    passes = [wall["passes"] for wall in case["depth_by_wall"].values()]
    assert found["limiting_depth_ok"] is (any(passes) if passes else None)
    assert len(found["grid"]["x"]) == traced["nx"]
    assert len(found["grid"]["y"]) == traced["ny"] == len(found["grid"]["df_pct"])


def test_inset_and_glass_are_taken(tmp_path, capsys):
    path = write(tmp_path, BY_ID["D01"]["spec"])
    assert command(path, "--json", "--glass", "angular", "--inset", "0.3") == 0
    found = json.loads(capsys.readouterr().out)
    ours = daylight_field(room_of(BY_ID["D01"]), glass="angular", inset_m=0.3)
    assert found["mean_df_pct"] == ours.mean_pct


def test_the_table_has_units_and_names_the_superseded_method(tmp_path, capsys):
    spec = copy.deepcopy(BY_ID["D05"]["spec"])
    spec["windows"][0]["mark"] = "W1"
    assert command(write(tmp_path, spec)) == 0
    out = capsys.readouterr().out
    assert "Mean daylight factor       1.45 %\n" in out
    assert "1.73 % (BS 8206-2:2008, superseded)" in out
    assert "Depth from west            8.00 m, over the limiting 5.05 m\n" in out
    assert "Brought by window W1       100.0 %\n" in out


def test_a_dark_room_is_said_to_be_dark(tmp_path, capsys):
    path = write(tmp_path, BY_ID["D01"]["spec"] | {"windows": []})
    assert command(path) == 0
    assert "Uniformity                 no light\n" in capsys.readouterr().out
    assert command(path, "--json") == 0
    assert json.loads(capsys.readouterr().out)["uniformity"] is None


def test_a_key_that_is_not_read_is_told_on_stderr(tmp_path, capsys):
    path = write(tmp_path, BY_ID["D01"]["spec"] | {"colour": "red"})
    assert command(path, "--json") == 0
    assert capsys.readouterr().err == f"{path}: colour: not read, nothing here is called that\n"


def test_what_cannot_be_read_exits_2_with_file_key_read_and_expected(tmp_path, capsys):
    spec = copy.deepcopy(BY_ID["D01"]["spec"])
    spec["windows"][0]["sill_m"] = "low"
    path = write(tmp_path, spec)
    assert command(path, "--json") == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == f'{path}: windows[0].sill_m: read "low"; expected a number\n'
    assert command(write(tmp_path, BY_ID["D01"]["spec"]), "--inset", "1.5") == 2
    assert "inset_m: read 1.5 m from each wall; expected less than 1.5 m" in capsys.readouterr().err
