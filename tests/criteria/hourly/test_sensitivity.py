"""What moves the worst night: each input by its own step, one at a time, most first."""

import pytest

from criteria.findings import Step
from criteria.hourly import sensitivity
from criteria.hourly.of_year import bare_year
from criteria.hourly.sensitivity import Input, Moved, Moves, coldest_night, inputs_of, moves_of
from criteria.hourly.worst import NIGHT_BEGINS, Span
from criteria.package import Package
from criteria.typed.cells import lacking
from tests.criteria.hourly.hut import HUT, hut
from tests.criteria.hourly.test_trial import year_hut


@pytest.fixture(scope="module")
def whole() -> Package:
    return year_hut()


def by_name(package: Package) -> dict[str, Input]:
    return {each.name: each for each in inputs_of(package)}


def one(package: Package, name: str, way: int) -> Package | None:
    return by_name(package)[name].changing(package, way)


def test_every_part_that_can_be_changed_is(whole):
    assert [*by_name(whole)] == [
        "Thickness of Wood fibre between studs, wall",
        "Sun taken up by the wall",
        "Thickness of Wood fibre, roof",
        "Sun taken up by the roof",
        "Thickness of Wood fibre, floor",
        "U of the windows",
        "Solar factor of the windows",
        "Width of the windows",
        "Night shutters",
        "U of the outside doors",
        "Air of the vents",
        "People, O1",
        "Power of the loads",
        "Leaks",
        "Heat recovery",
        "Timber and stone inside",
    ]


def test_what_is_not_scheduled_is_not_changed():
    none = {slug: [] for slug in ("windows", "doors", "vents", "occupants", "loads")}
    wall = [row for row in HUT["envelope"] if row["part"] == "wall"]
    assert [*by_name(hut(**none, envelope=wall))] == [
        "Thickness of Wood fibre between studs, wall",
        "Sun taken up by the wall",
        "Leaks",
        "Heat recovery",
        "Timber and stone inside",
    ]


def test_a_step_changes_its_own_cells_and_no_other(whole):
    more = one(whole, "Thickness of Wood fibre, roof", 1)
    assert [row.thickness_m for row in more.envelope] == pytest.approx(
        [0.16, 0.06, 0.24, 0.06, 0.2, 0.03]
    )
    less = one(whole, "U of the windows", -1)
    assert less.windows[0].u_w_m2k == pytest.approx(0.72)
    wide = one(whole, "Width of the windows", 1).windows[0]
    assert (wide.glass_w_m, wide.frame_w_m, wide.glass_h_m) == pytest.approx((1.2, 1.44, 0.8))
    assert one(whole, "People, O1", -1).occupants[0].n == 3
    outer, inner = one(whole, "U of the outside doors", 1).doors
    assert (outer.u_w_m2k, inner.typed("u_w_m2k")) == (pytest.approx(1.5), None)
    heavy = one(whole, "Timber and stone inside", 1).plant
    assert (heavy.timber_kg, heavy.stone_kg) == pytest.approx((360, 120))


def test_a_blank_that_means_something_is_changed_from_that(whole):
    assert one(whole, "Leaks", 1).plant.leaks_50_s == pytest.approx(7.2 / 3600)
    assert one(whole, "Sun taken up by the roof", -1).envelope[2].absorptance == pytest.approx(0.6)
    assert one(whole, "Heat recovery", 1).plant.recovery == pytest.approx(0.1)


def test_no_step_leads_past_what_a_column_takes(whole):
    assert one(whole, "Sun taken up by the wall", 1).envelope[0].absorptance == 1.0
    assert one(whole, "Night shutters", -1) is None
    assert one(whole, "Heat recovery", -1) is None
    assert one(hut(plant={"timber_kg": "0", "stone_kg": "0"}), "Timber and stone inside", 1) is None


def test_the_coldest_night_is_of_those_with_somebody_there(whole):
    bare = bare_year(whole)
    night = coldest_night(bare)
    assert night.first % 24 == NIGHT_BEGINS
    felt = bare.run.operative_k[night.at].mean()
    assert felt == min(bare.run.operative_k[Span(24 * day + 22, 9).at].mean() for day in range(365))


def test_the_night_answers_as_physics_has_it_and_the_most_stands_first(whole, monkeypatch):
    kept = ("People, O1", "U of the windows", "Night shutters", "Timber and stone inside")
    few = [each for each in inputs_of(whole) if each.name in kept]
    broken = Input("Broken", Step(""), lambda package, way: _without_rooms(package))
    monkeypatch.setattr(sensitivity, "inputs_of", lambda package: [*few, broken])
    found = moves_of(whole)
    assert found.is_settled
    assert found.night_k == pytest.approx(bare_year(whole).run.operative_k[found.night.at].mean())
    moved = {each.name: each for each in found.inputs}
    assert moved["People, O1"].less_k < -0.5 < 0.5 < moved["People, O1"].more_k
    assert moved["U of the windows"].less_k > 0 > moved["U of the windows"].more_k
    assert moved["Night shutters"].less_k is None
    assert moved["Night shutters"].more_k > 0
    assert found.inputs[0].name == "People, O1"
    assert found.inputs[-1] == Moved("Broken", Step(""), None, None)
    assert [each.most_k for each in found.inputs] == sorted(
        (each.most_k for each in found.inputs), reverse=True
    )


def _without_rooms(package: Package) -> Package:
    return package.but(rooms=())


def test_five_are_named_and_what_moves_nothing_is_not():
    moved = [Moved(str(n), Step(""), -float(n), None) for n in (9, 8, 7, 6, 5, 4)]
    still = Moved("still", Step(""), 0.001, None)

    def of(*inputs: Moved) -> list[str]:
        night = Span(0, 9)
        found = Moves(night=night, night_k=280.0, is_settled=True, inputs=inputs)
        return [each.name for each in found.most]

    assert of(*moved) == ["9", "8", "7", "6", "5"]
    assert of(moved[0], still) == ["9"]


def test_a_package_without_its_year_has_no_moves():
    with pytest.raises(type(lacking("x"))):
        moves_of(hut())
