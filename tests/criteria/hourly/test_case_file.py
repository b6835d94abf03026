"""A case's file: every fault is named by file, key, what was read and what was expected."""

import copy
import json
from typing import Any

import numpy as np
import pytest

from criteria.hourly.building import ANY_PLANT, Outside
from criteria.hourly.case_file import LIMITS, case_of, read_case
from criteria.hourly.running import Ready
from criteria.typed.json_file import UnreadableFile
from tests.criteria.hourly.denver import denver, oracle

WALL, GLASS = "elements.0", "windows.0.glass"
LAYER = f"{WALL}.layers_outside_to_inside.0"


def spec(name: str = "610") -> dict[str, Any]:
    """Return a case as its file has it: 610 is light, with an overhang."""
    return copy.deepcopy(oracle("standard-140")["cases"][name]["case"])


def changed(path: str, value: Any, case: Any = None) -> Any:
    """Return a case with one value changed, `...` taking its key away."""
    case = spec() if case is None else case
    *way, last = (int(each) if each.isdigit() else each for each in path.split("."))
    at = case
    for each in way:
        at = at[each]
    if value is ...:
        del at[last]
    else:
        at[last] = value
    return case


def refusal(path: str, value: Any) -> UnreadableFile:
    with pytest.raises(UnreadableFile) as caught:
        case_of(changed(path, value), file="CASE.json")
    assert str(caught.value).startswith(f"CASE.json: {caught.value.key}: read ")
    return caught.value


@pytest.mark.parametrize(
    ("path", "value", "key", "read", "expected"),
    [
        ("site", ..., "site", "nothing", "this key"),
        ("site", [], "site", "[]", "an object {…}"),
        ("site.latitude_deg", ..., "site.latitude_deg", "nothing", "this key"),
        ("site.latitude_deg", 91, "site.latitude_deg", "91", "-90 to 90"),
        ("site.time_zone_h", "UTC", "site.time_zone_h", '"UTC"', "a number"),
        ("site.ground_reflectance", 1.2, "site.ground_reflectance", "1.2", "a share from 0 to 1"),
        ("site.ground_reflectance", -1, "site.ground_reflectance", "-1.0", "a share from 0 to 1"),
        ("floor_m2", float("nan"), "case.floor_m2", "NaN", "a number that has an end"),
        ("floor_m2", 10**400, "case.floor_m2", "1000", "a number that has an end"),
        ("volume_m3", 0, "case.volume_m3", "0", "0.01 to 1e+06"),
        ("gains_w", True, "case.gains_w", "true", "a number"),
        ("elements", [], "elements", "none", "at least one element"),
        ("elements", {}, "elements", "{}", "a list […]"),
        (WALL, 5, "elements[0]", "5", "an object {…}"),
        (f"{WALL}.area_m2", -21.6, "elements[0].area_m2", "-21.6", "0.0001 to 100000"),
        (f"{WALL}.tilt_deg", 270, "elements[0].tilt_deg", "270", "0 to 180"),
        (f"{WALL}.kind", "attic", "elements[0].kind", '"attic"', "wall or roof or floor"),
        (f"{WALL}.outside", ["air"], "elements[0].outside", '["air"]', "air or held"),
        (f"{WALL}.outside", "held", "elements[0].held_at_c", "nothing", "this key"),
        (f"{WALL}.emissivity_inside", 2, "elements[0].emissivity_inside", "2", "0 to 1"),
        (f"{WALL}.inner_film_w_m2k", 0, "elements[0].inner_film_w_m2k", "0", "0.01 to 1000"),
        (
            f"{WALL}.layers_outside_to_inside", [],
            "elements[0].layers_outside_to_inside", "none", "at least one layer",
        ),
        (
            f"{WALL}.layers_outside_to_inside", ...,
            "elements[0].layers_outside_to_inside", "nothing", "this key",
        ),
        (LAYER, "wood", "elements[0].layer", '"wood"', "an object {…}"),
        (f"{LAYER}.thickness_m", 0, "elements[0].layers[0].thickness_m", "0", "1e-05 to 10"),
        (f"{LAYER}.density_kg_m3", ..., "elements[0].layers[0].density_kg_m3", "nothing",
         "this key"),
        (f"{LAYER}.resistance_m2k_w", -1, "elements[0].layers[0].resistance_m2k_w", "-1",
         "0.0001 to 1000"),
        (GLASS, ..., "windows[0].glass", "nothing", "this key"),
        (f"{GLASS}.panes", 2.5, "windows[0].glass.panes", "2.5", "1, 2, 3 or 4 panes"),
        (f"{GLASS}.panes", 0, "windows[0].glass.panes", "0", "1, 2, 3 or 4 panes"),
        (f"{GLASS}.refractive_index", 0, "windows[0].glass.refractive_index", "0", "1.01 to 4"),
        (f"{GLASS}.pane_conductivity_w_mk", 0, "windows[0].glass.pane_conductivity_w_mk", "0",
         "0.001 to 100"),
        (f"{GLASS}.gap_conductance_w_m2k", ..., "windows[0].glass.gap_conductance_w_m2k",
         "nothing", "this key"),
        (f"{GLASS}.solar_factor_normal", 0, "windows[0].glass.solar_factor_normal", "0.0",
         "more than 0"),
        (f"{GLASS}.solar_factor_normal", 1.1, "windows[0].glass.solar_factor_normal", "1.1",
         "a share from 0 to 1"),
        ("windows.0.corner_m", [1, 2], "windows[0].corner_m", "[1, 2]",
         "three lengths: east, north, up"),
        ("windows.0.edge_m", [0, 0, 0], "windows[0].edge_m", "0.0", "more than 0"),
        ("windows.0.shades", None, "windows[0].shades", "null", "a list […]"),
        ("windows.0.shades.0", None, "windows[0].shades[0]", "null", "an object {…}"),
        ("outside_air_m3_h_by_hour", [1] * 23, "outside_air_m3_h_by_hour", "23 figures",
         "24, one an hour"),
        ("outside_air_m3_h_by_hour", [None] * 24, "outside_air_m3_h_by_hour", "null", "24 flows"),
        ("outside_air_m3_h_by_hour", [-1] * 24, "outside_air_m3_h_by_hour", "-1", "0 to 1e+06"),
        ("heat_below_c_by_hour", ["20"] * 24, "heat_below_c_by_hour", '"20"', "a number"),
        ("cool_above_c_by_hour", ..., "cool_above_c_by_hour", "nothing", "this key"),
        ("thermostat", "feel", "thermostat", '"feel"', "air or operative"),
        ("solar_share_inside", [], "solar_share_inside", "[]", "an object {…}"),
        ("solar_share_inside.floor", 2, "solar_share_inside.floor", "2.0", "a share from 0 to 1"),
        ("air_density_ratio_to_sea_level", 0, "air_density_ratio_to_sea_level", "0", "0.1 to 2"),
    ],
)  # fmt: skip
def test_every_fault_is_named(path, value, key, read, expected):
    found = refusal(path, value)
    assert found.key == key
    assert found.read.startswith(read)
    assert found.expected == expected


@pytest.mark.parametrize("top", [[], None, 5, "case", {}])
def test_what_is_no_case_at_all_is_refused(top):
    with pytest.raises(UnreadableFile):
        case_of(top)


def _figures(item: Any, path: str = "") -> list[str]:
    """Return the places of a case's figures, the first of each list."""
    if isinstance(item, dict):
        pairs = list(item.items())
    elif isinstance(item, list):
        pairs = [("0", item[0])] if item else []
    else:
        return [path] if isinstance(item, int | float) else []
    return [each for key, value in pairs for each in _figures(value, f"{path}.{key}".strip("."))]


@pytest.mark.parametrize("path", _figures(spec()))
def test_no_figure_may_be_what_no_building_has(path):
    for value in (1e308, -1e308, float("inf"), "x", {}):
        refusal(path, value)


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize(
    "path", [f"{LAYER}.thickness_m", f"{WALL}.area_m2", f"{GLASS}.pane_thickness_m", "gains_w"]
)
def test_a_year_of_what_may_just_be_runs_and_closes(path, end):
    value = LIMITS[path.rpartition(".")[2]][end]
    run = Ready(case_of(changed(path, value)).building, denver()).run(ANY_PLANT)[0]
    assert np.isfinite(run.air_k).all()
    assert run.closure < 1e-6


def test_a_case_is_read_whole_and_keys_that_mean_nothing_are_named():
    case = spec()
    case["colour"] = "red"
    changed(f"{WALL}.name_of", "x", case)
    changed(f"{LAYER}.maker", "x", case)
    changed("windows.0.film", "x", case)
    changed(f"{GLASS}.coating", "x", case)
    found = case_of(case)
    assert found.name == "610"
    assert set(found.unread) == {
        "colour",
        "elements[0].name_of",
        "elements[0].layers[0].maker",
        "windows[0].film",
        "windows[0].glass.coating",
    }
    assert (found.place.latitude_deg, found.place.zone_h) == (39.83, -7)
    wall = found.building.elements[0]
    assert (wall.name, wall.area_m2, wall.outside) == ("N", 21.6, Outside.AIR)
    assert found.building.windows[0].shades
    assert found.building.density_ratio == 0.828
    assert found.building.use.warm_k[0] == pytest.approx(293.15)


def test_what_may_be_left_out_is_left_to_the_engine():
    case = spec()
    for key in ("solar_share_inside", "air_density_ratio_to_sea_level", "name"):
        del case[key]
    del case["windows"][0]["shades"]
    case["thermostat"] = "operative"
    case["elements"][0]["layers_outside_to_inside"].append({"resistance_m2k_w": 0.18})
    case["elements"][0]["outer_film_w_m2k"] = 25.0
    found = case_of(case)
    assert (found.name, found.building.sun_inside, found.building.density_ratio) == ("", None, None)
    assert found.building.windows[0].shades == ()
    assert found.building.use.is_operative
    assert found.building.elements[0].layers[-1].without_mass_m2k_w == 0.18
    assert found.building.elements[0].outer_w_m2k == 25.0


def test_glass_of_one_pane_has_no_gap_and_a_factor_of_its_own_only_where_it_is_coated():
    case = changed(f"{GLASS}.panes", 1)
    del case["windows"][0]["glass"]["gap_conductance_w_m2k"]
    del case["windows"][0]["glass"]["solar_factor_normal"]
    glass = case_of(case).building.windows[0].glass
    assert (glass.panes, glass.solar_factor) == (1, None)
    assert glass.between_m2k_w == pytest.approx(0.003048)
    plain = case_of(spec()).building.windows[0].glass
    assert plain.solar_factor is None  # 0.769 is what its panes come to
    coated = case_of(changed(f"{GLASS}.solar_factor_normal", 0.4)).building.windows[0].glass
    assert coated.solar_factor == 0.4


def test_a_file_is_named_with_its_line(tmp_path):
    path = tmp_path / "CASE.json"
    for text, said in (
        ("", "line 1"),
        ('{"a": 1,\n "a": 2}', "a: read the key twice"),
        ("[" * 100_000, "deep nesting"),
        ('{"floor_m2": ' + "9" * 5000 + "}", "site: read nothing"),
    ):
        path.write_text(text)
        with pytest.raises(UnreadableFile) as caught:
            read_case(path)
        assert str(path) in str(caught.value)
        assert said in str(caught.value) or "endless digits" in str(caught.value)
    path.write_text(json.dumps(spec()))
    assert read_case(path).name == "610"
