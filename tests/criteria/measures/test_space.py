import pytest

from criteria.errors import InputError
from criteria.measures.space import air_volume_per_sleeper, floor_per_person, floor_per_sleeper


# Sphere Handbook 2018, shelter and settlement standard 3: 3.5 m² a person without cooking and
# washing, 4.5 to 5.5 m² in the cold with them. By hand:
@pytest.mark.parametrize(("floor", "people", "each"), [(18.0, 5, 3.6), (22.0, 4, 5.5)])
def test_floor_is_shared_by_everyone(floor, people, each):
    assert floor_per_person(floor, people) == pytest.approx(each, rel=1e-12)


# International Property Maintenance Code 404.4.1: 50 ft² for each of two or more occupants.
@pytest.mark.parametrize(
    ("square_feet", "sleepers", "is_met"),
    [(95, 2, False), (100, 2, True), (149.9, 3, False), (150, 3, True)],
)
def test_fifty_square_feet_each_is_the_least_for_two_or_more(square_feet, sleepers, is_met):
    foot = 0.3048**2
    each = floor_per_sleeper(square_feet * foot, 0, sleepers)
    assert (each >= 50 * foot * (1 - 1e-9)) is is_met


# Nationally described space standard 2015, 10(f): floor under 1.5 m isn't counted. By hand
# for a loft of 15.2 m², 3.1 m² of it low, and six sleepers: 12.1 / 6 = 2.0166…
def test_low_floor_is_not_counted():
    assert floor_per_sleeper(15.2, 3.1, 6) == pytest.approx(2.0166667, abs=5e-8)
    assert floor_per_sleeper(15.2, 0, 8) == pytest.approx(1.9, rel=1e-12)


def test_a_room_that_is_low_all_over_has_no_floor_to_share():
    assert floor_per_sleeper(4, 4, 2) == 0


# By hand: 16.0 m² × 2.6 m = 41.6 m³ for eight.
def test_air_is_shared_by_those_who_sleep_in_it():
    assert air_volume_per_sleeper(16.0, 2.6, 8) == pytest.approx(5.2, rel=1e-12)


@pytest.mark.parametrize(
    ("measure", "said"),
    [
        (lambda: floor_per_person(-1, 4), r"floor is -1 m²; expected 0 m² or more"),
        (lambda: floor_per_person(10, 0), r"people is 0 no\.; expected more than 0 no\."),
        (lambda: floor_per_sleeper(10, -1, 2), r"low floor is -1 m²; expected 0 m² or more"),
        (lambda: floor_per_sleeper(10, 10.1, 2), r"under 1\.5 m is 10\.1 m²; .* the floor, 10 m²"),
        (lambda: floor_per_sleeper(10, 1, 0), r"people is 0 no\.; expected more than 0"),
        (lambda: air_volume_per_sleeper(0, 2, 2), r"floor is 0 m²; expected more than 0 m²"),
        (lambda: air_volume_per_sleeper(9, 0, 2), r"clear height is 0 m; expected more than 0 m"),
        (lambda: air_volume_per_sleeper(9, 2, 0), r"sleepers is 0 no\.; expected more than 0"),
    ],
)
def test_what_no_room_can_be_is_refused(measure, said):
    with pytest.raises(InputError, match=said):
        measure()
