"""Daylight by the closed formulas, possible sun and lamps: by hand, then what is blank."""

import pytest

from criteria.findings import State
from criteria.plans.figures import room_light
from criteria.plans.of_package import room_plan

MEETS, LINE, SHORT = State.MEETS, State.ON_THE_LINE, State.SHORT
DAY = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "12", "depth_m": "4.0",
       "width_m": "3.0", "clear_height_m": "2.4", "wall_mm": "1"}  # fmt: skip
GLASS = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1200",
         "sill": "900", "transmittance": "0.70", "sky_angle": "65", "faces": "S"}  # fmt: skip
SITE = {"latitude": "46.7", "least_sun": "0"}


# 4.0 × 3.0 × 2.4 m, 1.44 m² of glass, 0.70, 65°, dirt 0.9. Surfaces by hand: floor 12 m² at 0.2,
# ceiling 12 at 0.7, walls 32.16 at 0.5, glass 1.44 at 0.1: 0.469; 58.97 ÷ 44.92 = 1.313 %.
# Depth by hand: rear half (6 × 0.2 + 6 × 0.7 + 16.8 × 0.5) ÷ 28.8 = 0.479; 2 ÷ 0.521 ÷
# (1 ÷ 3.0 + 1 ÷ 2.1) = 4.744 m; 4.0 ÷ 4.744 = 0.84.
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("average_daylight_factor", "1 %", "1.3 %", MEETS),
        ("average_daylight_factor", "1.5 %", "1.3 %", SHORT),
        ("limiting_depth", "1", "0.84", MEETS),
        ("lowest_sill", "900", "900 mm", LINE),
    ],
)
def test_daylight_by_the_closed_formulas(package, hold, check, target, value, state):
    found = hold(package(rooms=DAY, windows=GLASS, site=SITE), check, target)
    assert (found.write_value(), found.state) == (value, state)


@pytest.mark.parametrize(
    ("check", "figure"),
    [
        ("average_daylight_factor", "average"),
        ("limiting_depth", "depth"),
        ("possible_sun", "sun"),
        ("daylight_ratio", "ratio"),
    ],
)
def test_check_and_daylight_page_give_one_figure(package, hold, check, figure):
    light = {"mark": "W2", "opens": "roof light", "faces": "up", "sky_angle": "", "sill": ""}
    room = DAY | {"floor_light": "0.35", "wall_light": "0.7", "wall_mm": "300"}
    hut = package(rooms=room, windows=[GLASS, GLASS | light], site=SITE | {"least_sun": "10"})
    page = room_light(room_plan(hut, "R1"), hut.site)
    assert hold(hut, check, "1").value == pytest.approx(page.figure(figure).value, rel=1e-12)


# By hand: 0.7 × 1.44 × 180° × 0.9 twice the share of the same glass that sees 90°.
def test_a_roof_light_sees_all_of_the_sky(package, hold):
    wall = GLASS | {"sky_angle": ""}
    up = hold(package(rooms=DAY, windows=wall | {"faces": "up"}), "average_daylight_factor", "1")
    said = package(rooms=DAY, windows=wall | {"opens": "roof light"})
    assert up.steps[1].write() == "W1: 0.7 × 1.44 m² × 180° × 0.9"
    assert hold(said, "average_daylight_factor", "1").value == pytest.approx(up.value)


@pytest.mark.parametrize("check", ["limiting_depth", "lowest_sill"])
def test_a_roof_light_is_no_window_to_sit_at(package, hold, check):
    light = GLASS | {"mark": "W2", "opens": "roof light", "sill": "100", "glass_h": "2200"}
    alone = hold(package(rooms=DAY, windows=GLASS), check, "1")
    assert hold(package(rooms=DAY, windows=[GLASS, light]), check, "1").value == alone.value
    assert hold(package(rooms=DAY, windows=light), check, "1").state is State.NOT_ASKED


def test_a_window_without_transmittance_takes_clear_double_glass_and_says_so(package, hold):
    plain = {k: v for k, v in GLASS.items() if k not in ("transmittance", "sky_angle")}
    surfaces = {f"{x}_light": "0.5" for x in ("floor", "wall", "ceiling")}
    found = hold(package(rooms=DAY | surfaces, windows=plain), "average_daylight_factor", "1")
    assert found.write_notes() == (
        "clear double glass and open sky taken where a window says none",
    )


@pytest.mark.parametrize(
    ("check", "room", "window", "cell"),
    [
        ("average_daylight_factor", {"depth_m": ""}, {}, "R1, Depth (room schedule)"),
        ("average_daylight_factor", {}, {"transmittance": "7"}, "W1, Light transmittance"),
        ("limiting_depth", {"width_m": ""}, {}, "R1, Width (room schedule)"),
        ("limiting_depth", {}, {"sill": ""}, "W1, Sill (window schedule)"),
        ("possible_sun", {"wall_mm": ""}, {}, "R1, Wall thickness (room schedule)"),
        ("possible_sun", {}, {"faces": ""}, "W1, Faces (window schedule)"),
        ("possible_sun", {}, {"sky_angle": "65 %"}, "W1, Sky angle (window schedule)"),
    ],
)
def test_what_a_plan_would_propose_is_no_figure_to_judge(hold, check, room, window, cell):
    from criteria.package import read_package

    tables = {"rooms": [DAY | room], "windows": [GLASS | window], "site": [SITE]}
    found = hold(read_package(tables).package, check, "1")
    assert found.state is State.NO_DATA
    assert any(missing.startswith(cell) for missing in found.missing)


# At the equinox a free south face has sun from 6 to 18 h. By hand at 46.7°: the sun stands over
# a skyline of 25° before a south face while cot 46.7° ≥ tan 25°, all the day; in a wall of a
# metre, glass 1.2 m wide lets it in while tan of the angle aside is under 0.6.
@pytest.mark.parametrize(
    ("room", "window", "least"),
    [
        ({}, {"sky_angle": "40"}, "0"),
        ({"wall_mm": "400"}, {}, "0"),
        ({}, {}, "13"),
        ({}, {"faces": "E"}, "0"),
    ],
)
def test_reveal_skyline_and_least_height_take_sun_away(package, hold, room, window, least):
    free = hold(package(rooms=DAY, windows=GLASS, site=SITE), "possible_sun", "1.5")
    site = SITE | {"least_sun": least}
    found = hold(package(rooms=DAY | room, windows=GLASS | window, site=site), "possible_sun", "1")
    assert free.value == pytest.approx(12 * 3600, abs=600)
    assert found.value < free.value - 1800


# By hand: sin h = cos 46.7° × cos ω at the equinox; over 13° while cos ω > 0.328: 9.42 h.
def test_the_least_height_of_the_standard_by_hand(package, hold):
    hut = package(rooms=DAY, windows=GLASS, site=SITE | {"least_sun": "13"})
    assert hold(hut, "possible_sun", "1").value / 3600 == pytest.approx(9.42, abs=0.05)


def test_without_a_least_height_the_sun_is_no_data(package, hold):
    hut = package(rooms=DAY, windows=GLASS, site={"latitude": "46.7"})
    assert hold(hut, "possible_sun", "1").missing == ("Least height of the sun (site sheet)",)


@pytest.mark.parametrize(("latitude", "sunny", "shaded"), [("46.7", "S", "N"), ("-46.7", "N", "S")])
def test_the_sunny_side_turns_with_the_hemisphere(package, hold, latitude, sunny, shaded):
    def sun(face):
        site = SITE | {"latitude": latitude}
        hut = package(rooms=DAY, windows=GLASS | {"faces": face}, site=site)
        return hold(hut, "possible_sun", "1").value / 3600

    assert sun(sunny) == pytest.approx(12, abs=0.5)
    assert sun(shaded) < 0.4


def test_sun_comes_by_a_roof_light(package, hold):
    light = GLASS | {"opens": "roof light", "faces": "up", "sky_angle": ""}
    found = hold(package(rooms=DAY, windows=light, site=SITE), "possible_sun", "1.5")
    # 1,200 mm of glass over a shaft of 300 mm: at noon 0.3 × tan 46.7° = 0.32 m aside
    assert 3 < found.value / 3600 < 12


def test_the_sunniest_room_is_the_one_that_the_standard_asks(package, hold):
    dark = DAY | {"mark": "R2", "room": "Bunks", "use": "sleep"}
    windows = [GLASS, GLASS | {"mark": "W2", "room": "R2", "faces": "N"}]
    found = hold(package(rooms=[dark, DAY], windows=windows, site=SITE), "possible_sun", "1.5")
    assert (found.subject, found.state) == ("R1", MEETS)
    named = hold(
        package(rooms=[dark, DAY], windows=windows, site=SITE), "possible_sun", "1.5", rooms="sleep"
    )
    assert (named.subject, named.state) == ("R2", SHORT)


LAMP = {"mark": "E1", "room": "R1", "n": "4", "lumens": "800", "used_share": "0.5",
        "kept_share": "0.8", "wanted_lx": "200"}  # fmt: skip


# 8 lamps of 800 lm, 0.5 and 0.8, on 12 m²: 213 lx of 200 (published lumen-method form).
def test_lamps_of_a_room_are_summed(package, hold):
    more = LAMP | {"mark": "E2", "wanted_lx": "100"}
    found = hold(package(rooms=DAY, lights=[LAMP, more]), "lamp_light", "1")
    assert (found.subject, found.write_value(), found.state) == ("R1", "1.07", MEETS)
    assert [step.write() for step in found.steps] == [
        "E1: 4 × 800 lm × 0.5 × 0.8 ÷ 12.0 m² = 107 lx",
        "E2: 4 × 800 lm × 0.5 × 0.8 ÷ 12.0 m² = 107 lx",
        "213 lx ÷ 200 lx = 1.07",
    ]
    bare = hold(package(rooms=DAY, lights=[LAMP | {"lumens": ""}, more]), "lamp_light", "1")
    assert bare.missing == ("E1, Light each (lighting schedule)",)


# By hand: 300 lm × 0.6 × 0.8 on 0.4 m² is 360 lx; spread over 12 m² it would be 12 lx.
def test_a_reading_lamp_is_judged_where_it_is_read_by(package, hold):
    reading = LAMP | {"mark": "E3", "task": "reading", "n": "4", "lumens": "300",
                      "used_share": "0.6", "lit_m2": "0.4", "wanted_lx": "300"}  # fmt: skip
    found = hold(package(rooms=DAY, lights=reading), "lamp_light", "1")
    assert (found.subject, found.write_value(), found.state) == ("E3", "1.20", MEETS)
    bare = hold(package(rooms=DAY, lights=reading | {"lit_m2": ""}), "lamp_light", "1")
    assert bare.missing == ("E3, Lights (lighting schedule)",)


def test_a_dark_room_is_told_how_many_lamps_it_lacks(package, hold):
    # 107 lx of 200: 93 lx on 12 m² are 1,120 lm, of 320 lm that arrive of each: 3.5 lamps
    found = hold(package(rooms=DAY, lights=LAMP), "lamp_light", "1")
    assert (found.write_value(), found.write_notes()) == ("0.53", ("4 more like E1 would give it",))


# Common practice and BRE's practice, quoted: what is taken where a row says nothing.
def test_what_is_taken_of_glass_that_says_nothing():
    from criteria.schedules.envelope import DARK, SUN_TAKEN_UP
    from criteria.schedules.openings import CLEAR_DOUBLE, KEPT

    assert (CLEAR_DOUBLE, KEPT, DARK) == (0.7, 0.9, 0.9)
    assert dict(SUN_TAKEN_UP) == {"pale": 0.3, "middle": 0.6, "dark": 0.9}
