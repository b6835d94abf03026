import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.targets.reading import read_targets
from criteria.targets.sets import IRC_2021, SETS, SPHERE_2018, targets_of, typed_targets
from criteria.units import Notation, System

FOOT = 0.3048


# International Residential Code 2021, as adopted law prints it: R303.1 8 % and 4 %; R304.1
# 70 square feet (6.5 m²); R305.1 7 feet (2134 mm). Each form is held as printed, not converted.
@pytest.mark.parametrize(
    ("key", "check", "metric", "us"),
    [
        ("IRC1", "daylight_ratio", 0.08, 0.08),
        ("IRC2", "openable_ratio", 0.04, 0.04),
        ("IRC3", "room_floor", 6.5, 70 * FOOT**2),
        ("IRC4", "clear_height", 2.134, 7 * FOOT),
    ],
)
def test_the_residential_code_is_held_as_printed_in_either_system(key, check, metric, us):
    for system, figure in ((System.METRIC, metric), (System.US, us)):
        (target,) = [t for t in targets_of(IRC_2021, system) if t.ref == key]
        assert target.check is CHECKS[check]
        assert target.values == (pytest.approx(figure, rel=1e-12),)
        assert target.rule == "at least"


# Sphere Handbook 2018: shelter standard 3 (3.5 m²; 4.5 m² with cooking and washing; 2.0 m),
# water supply standard 2.1 (15 litres).
@pytest.mark.parametrize(
    ("key", "check", "figure"),
    [
        ("SPH1", "living_floor_per_person", 3.5),
        ("SPH2", "floor_per_person", 4.5),
        ("SPH3", "clear_height", 2.0),
        ("SPH4", "water_per_person_day", 0.015),
    ],
)
def test_the_sphere_handbook_is_metric_in_either_system(key, check, figure):
    for system in System:
        (target,) = [t for t in targets_of(SPHERE_2018, system) if t.ref == key]
        assert target.check is CHECKS[check]
        assert target.values == (pytest.approx(figure, rel=1e-12),)


def test_a_room_of_six_and_a_half_square_metres_meets_the_printed_metres(package, hold, room):
    # 70 ft² is 6.503 m²: a room of 6.50 m² meets the clause's own 6.5 m², and is on its line
    hut = package(rooms=room(floor="6.5"))
    assert hold(hut, "room_floor", IRC_2021.targets[2].metric).state is State.ON_THE_LINE


def test_kitchens_are_excepted_from_the_least_room_and_not_from_light():
    light, _, floor, height = targets_of(IRC_2021)
    assert "kitchen" in light.uses
    assert "kitchen" in height.uses
    assert "kitchen" not in floor.uses


@pytest.mark.parametrize("chosen", SETS, ids=lambda s: s.slug)
@pytest.mark.parametrize("system", System)
def test_a_set_enters_a_brief_as_if_typed(chosen, system):
    reading = read_targets(typed_targets(chosen, system), Notation(system))
    assert reading.refused == ()
    assert [t.ref for t in reading.targets] == [item.key for item in chosen.targets]


@pytest.mark.parametrize("chosen", SETS, ids=lambda s: s.slug)
def test_each_target_of_a_set_names_its_clause(chosen):
    for target, item in zip(targets_of(chosen), chosen.targets, strict=True):
        assert item.citation.source is chosen.source
        assert target.asked_by == str(item.citation)
        assert item.citation.clause


@pytest.mark.parametrize("chosen", SETS, ids=lambda s: s.slug)
def test_a_set_says_whom_it_binds_and_that_it_is_no_approval(chosen):
    assert chosen.source.binds in chosen.caution
    assert chosen.caution.endswith("A teaching check, not a code approval.")
