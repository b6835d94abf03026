"""Hand methods. No published numeric example of the average daylight factor was found: the
figures here are worked by hand from the cited formula, or from the open cases' own arithmetic."""

import pytest

from criteria.daylight import (
    ImpossibleInput,
    Obstruction,
    Pane,
    Room,
    Window,
    average_daylight_factor_pct,
    mean_reflectance,
    pane_of,
    room_average_daylight_factor_pct,
    room_reflectance,
    split_flux_pct,
)
from tests.criteria.daylight.open_cases import BY_ID, CASES, room_of


def pane(glass_m2, sky_angle, transmittance=0.70, maintenance=0.9):
    return Pane(
        glass_m2=glass_m2,
        transmittance=transmittance,
        sky_angle_deg=sky_angle,
        maintenance=maintenance,
    )


# by hand from BS 8206-2's formula; printed to three decimals


@pytest.mark.parametrize(
    ("panes", "surface_m2", "reflectance", "by_hand_pct"),
    [
        ([pane(1.44, 65)], 57.6, 0.5, 1.365),
        ([pane(1.44, 65), pane(0.60, 80)], 57.6, 0.5, 2.065),
        ([pane(3.24, 90, transmittance=0.68)], 95.04, 0.5, 2.504),
        ([pane(1.44, 65)], 57.6, 0.5427, 1.451),
    ],
)
def test_average_daylight_factor_by_hand(panes, surface_m2, reflectance, by_hand_pct):
    found = average_daylight_factor_pct(panes, surface_m2=surface_m2, reflectance=reflectance)
    assert found == pytest.approx(by_hand_pct, abs=6e-4)


def test_it_is_not_the_mean_over_all_surfaces():
    # Lynes's form over 2A(1 − R) gives 1.024 % here: 2/(1 + R) times less
    found = average_daylight_factor_pct([pane(1.44, 65)], surface_m2=57.6, reflectance=0.5)
    assert found == pytest.approx(1.024 * 2 / 1.5, abs=1e-3)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_rooms_have_the_open_cases_hand_figures(case):
    # printed to five figures
    room, hand = room_of(case), case["hand"]
    assert room.surface_m2 == pytest.approx(hand["surface_m2"])
    assert room.glass_m2 == pytest.approx(hand["glass_m2"])
    assert room_reflectance(room) == pytest.approx(hand["reflectance"], abs=6e-6)
    assert room_average_daylight_factor_pct(room) == pytest.approx(
        hand["average_daylight_factor_pct"], abs=6e-5
    )
    assert split_flux_pct(room) == pytest.approx(hand["split_flux_pct"], abs=6e-5)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_split_flux_is_within_a_fifth_of_the_ray_traced_mean(case):
    # 20 % on the mean daylight factor is what the hand method is asked
    grid = case["grids"][0]
    by_hand = grid["direct_mean_df_pct"] + split_flux_pct(room_of(case))
    assert by_hand == pytest.approx(grid["mean_df_pct"], rel=0.20)


def test_split_flux_goes_between_the_steps_of_its_table_in_proportion():
    def irc(angle):
        return split_flux_pct(
            Room(
                length_m=4,
                width_m=3,
                height_m=2.5,
                obstructions=[Obstruction(wall="south", angle_deg=angle)],
                windows=[Window(wall="south", offset_m=1, sill_m=1, width_m=1, height_m=1)],
            )
        )

    assert irc(25) == pytest.approx((irc(20) + irc(30)) / 2)
    assert irc(80) < irc(79)
    with pytest.raises(ImpossibleInput, match=r"a skyline of 81°; expected at most 80°"):
        irc(81)


def test_the_angle_of_a_near_obstruction_is_taken_from_the_inner_face():
    room = Room(
        length_m=4,
        width_m=3,
        height_m=2.5,
        wall_thickness_m=0.5,
        obstructions=[Obstruction(wall="south", top_m=6.0, distance_m=9.5)],
        windows=[Window(wall="south", offset_m=1, sill_m=1, width_m=1, height_m=1)],
    )
    assert pane_of(room, room.windows[0]).sky_angle_deg == pytest.approx(65.77, abs=6e-3)


def test_a_rooflight_sees_180_degrees():
    room = room_of(BY_ID["D03"])
    assert pane_of(room, room.rooflights[0]).sky_angle_deg == 180


@pytest.mark.parametrize(
    ("build", "message"),
    [
        (
            lambda: pane(1.0, 181),
            r"sky_angle_deg: read 181°; expected at least 0° and at most 180°",
        ),
        (lambda: pane(-1.0, 90), r"glass_m2: read -1 m²; expected at least 0 m²"),
        (lambda: pane(1.0, 90, transmittance=0), r"transmittance: read 0; expected more than 0"),
        (lambda: pane(1.0, 90, maintenance=2), r"maintenance: read 2; expected more than 0"),
        (lambda: mean_reflectance([]), r"area: read 0 m² in all; expected more than 0 m²"),
        (
            lambda: average_daylight_factor_pct([], surface_m2=0, reflectance=0.5),
            r"surface_m2: read 0 m²; expected more than 0 m²",
        ),
        (
            lambda: average_daylight_factor_pct([], surface_m2=50, reflectance=1),
            r"reflectance: read 1; expected at least 0 and less than 1",
        ),
    ],
)
def test_what_the_formulae_refuse(build, message):
    with pytest.raises(ImpossibleInput, match=message):
        build()
