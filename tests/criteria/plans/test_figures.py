"""A room's figures: the library's where it computes them, by hand where a hand can."""

import pytest

from criteria.daylight import daylight_field, daylight_provision, room_average_daylight_factor_pct
from criteria.package import read_package
from criteria.plans.figures import room_light
from criteria.plans.of_package import room_plan
from criteria.units import System
from tests.criteria.plans.test_of_package import ROOM, WINDOW

SITE = {
    "latitude": "46.7",
    "least_sun": "10",
    "design_inside_c": "16",
    "design_outside_c": "-18",
    "sun_w_m2": "400",
    "median_diffuse_lx": "14100",
}


def light_of(*windows, site=SITE, room=ROOM, **tables):
    package = read_package(
        {"rooms": [room], "windows": list(windows), "site": [site], **tables}
    ).package
    return room_light(room_plan(package, "R1"), package.site)


def test_field_figures_are_the_librarys():
    light = light_of(WINDOW)
    field = daylight_field(light.plan.room)
    assert light.figure("mean").value == pytest.approx(field.mean_pct / 100)
    assert light.figure("median").value == pytest.approx(field.median_pct / 100)
    assert light.figure("minimum").value == pytest.approx(field.minimum_pct / 100)
    assert light.figure("bright").value == field.share_at_or_over(2)
    assert light.figure("average").value == pytest.approx(
        room_average_daylight_factor_pct(light.plan.room) / 100
    )


def test_the_field_that_is_drawn_goes_from_wall_to_wall():
    light = light_of(WINDOW)
    assert (light.field.inset_m, light.drawn.inset_m) == (0.5, 0)


# By hand: U 1.0 × 1.16 m × 1.16 m × (16 − −18) K = 45.8 W; 1 m² × 0.5 × 400 W/m² = 200 W.
def test_heat_and_sun_by_hand():
    light = light_of(WINDOW | {"solar_factor": "0.5"})
    assert light.figure("heat").value == pytest.approx(45.75, abs=0.01)
    assert light.figure("gain").value == pytest.approx(200)
    assert light.figure("gain").note == ""


# By hand: 1 ÷ (1 ÷ 1.0 + 0.25) = 0.8 W/m²K; 0.8 × 1.16² m² × 34 K = 36.6 W.
def test_a_closed_shutter_keeps_heat_in_by_hand():
    shut = light_of(WINDOW | {"shutter_r": "0.25"}).figure("shut")
    assert shut.value == pytest.approx(36.60, abs=0.01)
    assert shut.note == "shutters on W1"


# By hand: 45.75 W and 36.60 W.
def test_a_window_without_a_shutter_loses_by_night_what_it_loses_by_day():
    open_still = WINDOW | {"mark": "W2"}
    shut = light_of(WINDOW | {"shutter_r": "0.25"}, open_still).figure("shut")
    assert shut.value == pytest.approx(82.35, abs=0.01)
    assert shut.note == "shutters on W1"


def test_a_room_without_shutters_says_so():
    assert light_of(WINDOW).figure("shut").words == "no shutter"
    assert light_of(WINDOW | {"shutter_r": "0.2"}, site={}).figure("shut").missing


def test_a_window_to_the_north_lets_no_sun_in():
    assert light_of(WINDOW | {"faces": "N"}).figure("gain").value == 0


def test_the_daylight_ratio_is_glass_over_the_schedules_floor():
    assert light_of(WINDOW).figure("ratio").value == pytest.approx(1 / 12)


def test_what_is_taken_for_the_sun_is_said():
    gain = light_of(WINDOW, site={}).figure("gain")
    assert "sun 500 W/m² taken" in gain.note
    assert gain.value == pytest.approx(1 * 0.5 * 500)


def test_figures_without_their_cells_name_them():
    light = light_of(WINDOW | {"u": "", "frame_w": ""}, site={})
    assert light.figure("provision").missing == ("Median daylight outdoors (site sheet)",)
    assert light.figure("sun").missing == (
        "Latitude (site sheet)",
        "Least height of the sun (site sheet)",
    )
    assert light.figure("heat").missing == (
        "Design inside (site sheet)",
        "Design outside (site sheet)",
        "W1, Frame w (window schedule)",
        "W1, Frame h (window schedule)",
        "W1, U (window schedule)",
    )


def test_the_level_is_that_of_the_standard():
    light = light_of(WINDOW | {"glass_w": "3600", "frame_w": "3700", "glass_h": "1600"})
    found = daylight_provision(light.field, median_diffuse_lx=14_100)
    assert light.figure("provision").words == str(found.level)
    assert light.figure("provision").words != "none"
    assert light_of(WINDOW | {"glass_w": "300"}).figure("provision").words == "below minimum"


def test_shares_of_the_light_add_up():
    light = light_of(WINDOW, WINDOW | {"mark": "W2", "faces": "E"})
    assert sum(light.shares) == pytest.approx(1.0)


def test_a_room_without_a_window_has_no_light_and_says_so():
    light = light_of()
    assert light.figure("median").value == 0
    assert light.figure("uniformity").words == "no light"
    assert light.figure("sun").words == "no window"
    assert light.figure("heat").value == 0


def test_a_seat_with_a_place_has_its_view():
    seat = {"mark": "U1", "item": "Bench", "kind": "seat", "room": "R1", "plan_x": "2000",
            "plan_y": "2000"}  # fmt: skip
    light = light_of(WINDOW, furniture=[seat])
    # 1 m of glass seen from 2 m through a 0.25 m wall: narrower than 2 atan(0.5 ÷ 2) = 28.1°
    assert 20 < light.views[0].sight_angle_deg < 28.1
    assert light.figure("view-U1").working.endswith("eye at 1.20 m")
    assert light.figure("view-U1").write_working(System.US).endswith("eye at 3'-11 1/4\"")


def test_what_windows_lose_is_worked_out_in_the_readers_units():
    site = {"design_inside_c": "16", "design_outside_c": "-18"}
    window = WINDOW | {"u": "1.0", "frame_w": "1000", "frame_h": "1000"}
    lost = light_of(window, site=site).figure("heat")
    assert lost.write_working().startswith("U · A · 34 K: ")
    assert lost.write_working().endswith(" = 34 W")
    # 34 W are 116 Btu/h
    assert lost.write_working(System.US) == "U · A · 61 °F: 116 Btu/h = 116 Btu/h"


def test_every_figure_has_its_source_and_its_limits():
    for figure in light_of(WINDOW).figures:
        assert figure.source, figure.key
        assert figure.limits, figure.key
        assert figure.working or figure.missing or figure.words, figure.key


# By hand: from the long wall 2.4 m ÷ (L_max of 5 m by 1.8 m) against 5 m ÷ (of 2.4 m by 1.8 m).
def test_of_two_window_walls_the_one_that_reaches_deepest_is_shown():
    room = ROOM | {"width_m": "5", "depth_m": "2.4"}
    long, short = WINDOW | {"glass_w": "1500"}, WINDOW | {"mark": "W2", "faces": "E"}
    depth = light_of(long, short, room=room).figure("depth")
    assert depth.working.startswith("2.40 m behind the S wall")
    assert depth.value == pytest.approx(light_of(long, room=room).figure("depth").value)


def test_a_shutter_on_a_window_without_u_leaves_it_unknown():
    shut = light_of(WINDOW | {"u": "", "shutter_r": "0.25"})
    assert shut.figure("shut").missing == ("W1, U (window schedule)",)
    assert shut.heat_w == (None,)


@pytest.mark.parametrize(
    ("cells", "latitude", "sun"),
    [
        ({"faces": "N"}, "-40", 200),
        ({"faces": "S"}, "-40", 0),
        ({"faces": "N"}, "", 200),
        ({"faces": "up"}, "46.7", 360),
        ({"sun_share": "0.5"}, "46.7", 100),
    ],
)
def test_sun_let_in_is_what_the_cooling_load_counts(cells, latitude, sun):
    site = SITE | {"latitude": latitude}
    light = light_of(WINDOW | {"solar_factor": "0.5"} | cells, site=site)
    assert light.figure("gain").value == pytest.approx(sun)
    assert ("sun is counted on every face" in light.figure("gain").note) is (not latitude)


def test_a_refused_sun_is_no_figure():
    light = light_of(WINDOW, site=SITE | {"sun_w_m2": "plenty", "least_sun": "low"})
    gain, sun = light.figure("gain"), light.figure("sun")
    assert (gain.value, light.sun_w) == (None, (None,))
    assert gain.missing[0].startswith("Design sun on walls and glass (site sheet): read “plenty”")
    assert sun.missing[0].startswith("Least height of the sun (site sheet): read “low”")
