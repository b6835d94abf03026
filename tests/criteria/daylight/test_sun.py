"""Possible sun: positions against the almanac's round figures, hours against the sphere."""

import math
from datetime import date

import numpy as np
import pytest

from criteria.daylight import (
    ImpossibleInput,
    Obstruction,
    Room,
    Window,
    window_sunlight,
)
from criteria.daylight.sun import (
    day_length_h,
    declination_deg,
    reference_height_m,
    sun_position_deg,
)

EQUINOX, MIDWINTER, MIDSUMMER = date(2025, 3, 21), date(2025, 12, 21), date(2025, 6, 21)


@pytest.mark.parametrize(
    ("on", "almanac_deg"), [(MIDSUMMER, 23.44), (MIDWINTER, -23.44), (EQUINOX, 0.2)]
)
def test_declination_at_the_turns_of_the_year(on, almanac_deg):
    # obliquity of the ecliptic 23.44°; equinox 2025 on 20 March, 09:01 UT: +0.2° a good half
    # day later (almanac, from memory); the series is good to 0.3° over the leap-year cycle
    assert declination_deg(on) == pytest.approx(almanac_deg, abs=0.3)


def test_noon_altitude_is_what_latitude_and_declination_leave():
    for latitude in (-34.0, 0.0, 51.5, 64.1):
        altitude, bearing = sun_position_deg(
            latitude_deg=latitude, declination=-10.0, solar_hour=12.0
        )
        assert altitude == pytest.approx(90 - abs(latitude + 10))
        assert bearing == pytest.approx(180.0 if latitude > -10 else 0.0, abs=1e-6)


def test_the_sun_rises_east_and_sets_west_at_the_equinox():
    altitude, bearing = sun_position_deg(
        latitude_deg=51.5, declination=0.0, solar_hour=np.array([6.0, 18.0])
    )
    assert np.allclose(altitude, 0.0, atol=1e-9)
    assert np.allclose(bearing, [90.0, 270.0])


def test_positions_agree_with_a_reference_library():
    solarposition = pytest.importorskip("pvlib.solarposition", reason="a second opinion only")
    for on in (EQUINOX, MIDSUMMER, date(2025, 2, 10)):
        day = on.timetuple().tm_yday
        theirs = float(np.degrees(solarposition.declination_spencer71(day)))
        assert declination_deg(on) == pytest.approx(theirs, abs=1e-9)
        for hour in (8.0, 12.0, 15.5):
            zenith = solarposition.solar_zenith_analytical(
                math.radians(51.5), math.radians(15 * (hour - 12)), math.radians(theirs)
            )
            altitude, _ = sun_position_deg(latitude_deg=51.5, declination=theirs, solar_hour=hour)
            assert altitude == pytest.approx(90 - math.degrees(zenith), abs=1e-6)


def room(wall="south", **changes):
    window = Window(wall=wall, offset_m=0.5, sill_m=0.8, width_m=2.0, height_m=1.4)
    return Room(**({"length_m": 4, "width_m": 3, "height_m": 2.5, "windows": [window]} | changes))


def hours(built, on, latitude_deg=51.5, **given):
    return window_sunlight(built, built.windows[0], latitude_deg=latitude_deg, on=on, **given).hours


def test_a_south_window_has_the_whole_day_at_the_equinox_and_a_north_one_none():
    # declination of the series on that day is 0.1° off: some minutes of east and west
    assert hours(room("south"), EQUINOX) == pytest.approx(12.0, abs=0.1)
    assert hours(room("north"), EQUINOX) == pytest.approx(0.0, abs=0.1)
    assert hours(room("east"), EQUINOX) == pytest.approx(6.0, abs=0.1)
    assert hours(room("west"), EQUINOX) == pytest.approx(6.0, abs=0.1)


def test_a_winter_day_is_as_long_as_the_sunset_equation_says():
    # cos ω = −tan φ tan δ, day = 2ω/15
    delta = math.radians(declination_deg(MIDWINTER))
    day = 2 * math.degrees(math.acos(-math.tan(math.radians(51.5)) * math.tan(delta))) / 15
    assert hours(room("south"), MIDWINTER) == pytest.approx(day, abs=2 / 60)


def test_no_sun_in_the_polar_night_and_all_round_in_the_polar_day():
    assert hours(room("south"), MIDWINTER, latitude_deg=70) == 0
    every_way = sum(hours(room(wall), MIDSUMMER, latitude_deg=70) for wall in ("south", "north"))
    assert every_way == pytest.approx(24.0, abs=0.1)


def test_a_plan_turned_on_the_compass_turns_its_windows():
    assert hours(room("north", north_bearing_deg=180), MIDWINTER) == hours(room("south"), MIDWINTER)


def test_an_even_skyline_hides_the_sun_below_its_profile_angle():
    # at noon the profile angle is the altitude: 38.5° + δ at the equinox
    noon = 38.5 + declination_deg(EQUINOX)
    for angle, shines in ((noon - 1, True), (noon + 1, False)):
        built = room(obstructions=[Obstruction(wall="south", angle_deg=angle)])
        assert (hours(built, EQUINOX) > 0) is shines
    # at the equinox the profile angle to the south stays the same all day: all or nothing
    assert hours(room(obstructions=[Obstruction(wall="south", angle_deg=20)]), EQUINOX) > 11.5


def test_a_skyline_beside_takes_the_evening():
    beside = room(obstructions=[Obstruction(wall="west", angle_deg=30)])
    found = window_sunlight(beside, beside.windows[0], latitude_deg=51.5, on=EQUINOX)
    assert found.hours < hours(room(), EQUINOX) - 1
    # until noon nothing changes
    assert found.spells[0][0] == pytest.approx(6.0, abs=0.1)
    assert 12 < found.spells[0][1] < 17


def test_a_deep_reveal_takes_morning_evening_and_the_high_sun():
    thick = room(wall_thickness_m=0.5)
    # 0.5 tan β < 1.0 m: within 63.4° of south; 0.5 tan(profile) < 2.2 − 1.2 m: below 63.4°
    found = window_sunlight(thick, thick.windows[0], latitude_deg=51.5, on=EQUINOX)
    _, bearing = sun_position_deg(
        latitude_deg=51.5,
        declination=declination_deg(EQUINOX),
        solar_hour=np.array(found.spells[0]),
    )
    assert np.allclose(np.abs(bearing - 180), math.degrees(math.atan(2.0)), atol=0.5)
    deeper = room(wall_thickness_m=1.5)
    assert hours(deeper, MIDSUMMER) == 0


def test_a_low_sun_may_be_left_out():
    assert hours(room(), EQUINOX, lowest_sun_deg=10) < hours(room(), EQUINOX) - 1.5


def test_hours_are_the_sum_of_the_spells():
    built = room("north")
    found = window_sunlight(built, built.windows[0], latitude_deg=51.5, on=MIDSUMMER)
    assert len(found.spells) == 2  # before and after the sun goes round by the south
    assert found.hours == pytest.approx(sum(end - start for start, end in found.spells))


@pytest.mark.parametrize(
    ("sill_m", "height_m", "by_hand_m"),
    [(0.8, 1.4, 1.2), (0.0, 2.1, 1.2), (1.2, 0.9, 1.5), (1.9, 0.3, 2.05), (0.2, 0.8, 0.6)],
)
def test_the_point_of_reference(sill_m, height_m, by_hand_m):
    window = Window(wall="south", offset_m=0, sill_m=sill_m, width_m=1, height_m=height_m)
    assert reference_height_m(window) == pytest.approx(by_hand_m)


def test_what_the_sun_refuses():
    built = room()
    window = built.windows[0]
    with pytest.raises(ImpossibleInput, match="latitude_deg: read 91°; expected at least -90°"):
        window_sunlight(built, window, latitude_deg=91, on=EQUINOX)
    with pytest.raises(ImpossibleInput, match=r"window: .*; expected a window of this room"):
        window_sunlight(room("east"), window, latitude_deg=50, on=EQUINOX)
    with pytest.raises(ImpossibleInput, match="lowest_sun_deg: read 90°; expected"):
        window_sunlight(built, window, latitude_deg=50, on=EQUINOX, lowest_sun_deg=90)


@pytest.mark.parametrize(
    ("latitude", "on", "hours"),
    [
        # almanacs, from memory: London's solstices 7 h 50 and 16 h 38; at the equator 12 h 7
        (51.5, date(2001, 12, 21), 7.83),
        (51.5, date(2001, 6, 21), 16.64),
        (-51.5, date(2001, 6, 21), 7.83),
        (0.0, date(2001, 3, 20), 12.11),
        (80.0, date(2001, 12, 21), 0.0),
        (80.0, date(2001, 6, 21), 24.0),
        (90.0, date(2001, 6, 21), 24.0),
    ],
)
def test_the_sun_is_up_as_long_as_almanacs_say(latitude, on, hours):
    assert day_length_h(latitude, on) == pytest.approx(hours, abs=0.02)
