import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures.light import clear_glass, daylight_ratio, openable_ratio, opening_area

SQUARE_FOOT = 0.3048**2


# IRC 2021 R303.1 asks glazing of 8 % and openings of 4 % of the floor. By hand for a room of
# 144 ft² (13.378 m²): 11.52 ft² (1.0702 m²) and 5.76 ft² (0.5351 m²).
def test_the_code_asks_8_and_4_per_cent_of_144_square_feet():
    floor = 144 * SQUARE_FOOT
    assert round(floor, 3) == 13.378
    assert daylight_ratio(11.52 * SQUARE_FOOT, floor) == pytest.approx(0.08, rel=1e-12)
    assert openable_ratio(5.76 * SQUARE_FOOT, floor) == pytest.approx(0.04, rel=1e-12)
    # printed to four places, so good to half of the last
    assert daylight_ratio(1.0702, 13.378) == pytest.approx(0.08, abs=5e-5 / 13.378)
    assert openable_ratio(0.5351, 13.378) == pytest.approx(0.04, abs=5e-5 / 13.378)


def test_the_ratio_is_the_glass_over_the_floor_at_the_limit_and_just_under():
    assert daylight_ratio(0.80, 10.00) == pytest.approx(0.08, rel=1e-12)
    assert daylight_ratio(0.79, 10.00) == pytest.approx(0.079, rel=1e-12)


def test_windows_alike_count_as_often_as_there_are():
    # two of 1.24 m × 1.04 m, by hand
    assert clear_glass(2, 1.24, 1.04) == pytest.approx(2.5792, rel=1e-12)


def test_a_window_opens_for_its_share_of_the_glass():
    assert opening_area(2.0, 0.9) == pytest.approx(1.8)
    assert opening_area(2.0, 0) == 0
    assert opening_area(2.0, 1) == 2.0


@given(st.floats(0.01, 100), st.floats(0.01, 100), st.floats(0.1, 10))
def test_a_ratio_has_no_unit(glass, floor, feet):
    assert daylight_ratio(glass * feet, floor * feet) == pytest.approx(daylight_ratio(glass, floor))


def test_no_glass_is_a_ratio_of_nothing():
    assert daylight_ratio(0, 10) == 0
    assert openable_ratio(0, 10) == 0


@pytest.mark.parametrize(
    ("measure", "said"),
    [
        (lambda: clear_glass(0, 1, 1), r"number of windows is 0 no\.; expected more than 0"),
        (lambda: clear_glass(1, 0, 1), r"glass width is 0 m; expected more than 0 m"),
        (lambda: clear_glass(1, 1, -1), r"glass height is -1 m; expected more than 0 m"),
        (lambda: opening_area(-1, 0.5), r"clear glass is -1 m²; expected 0 m² or more"),
        (lambda: opening_area(1, 1.01), r"open share is 1\.01; expected a fraction from 0 to 1"),
        (lambda: daylight_ratio(1, 0), r"floor is 0 m²; expected more than 0 m²"),
        (lambda: daylight_ratio(-1, 1), r"clear glass is -1 m²; expected 0 m² or more"),
        (lambda: daylight_ratio(1, float("nan")), r"floor is nan m²"),
        (lambda: openable_ratio(1, 0), r"floor is 0 m²; expected more than 0 m²"),
        (lambda: openable_ratio(-1, 1), r"clear opening is -1 m²; expected 0 m² or more"),
    ],
)
def test_what_no_window_can_be_is_refused(measure, said):
    with pytest.raises(InputError, match=said):
        measure()
