"""Warming up: one case by hand, then what stays cold, what is blank, and what a sheet claims."""

import pytest

from criteria.check_sheet.claims import ClaimResult, hold_claims
from criteria.errors import InputError
from criteria.findings import State
from criteria.measures.heat import warm_up
from criteria.units import System

# By hand: H = 1.1 × (94 ÷ 4.32 + 20 ÷ 5 + 20 ÷ 4 + 4 × 1.0 + 2 × 1.5) + 57.6 m³/h × 0.33
#            = 60.54 W/K, and 1,816 W at 30 K
#          C = 50 m³ × 0.33 + (900 kg × 1.6 + 360 kg × 1.0) ÷ 3.6 = 516.5 Wh/K
#          t = 516.5 ÷ 60.54 × ln(3000 ÷ (3000 − 1816.3)) = 8.531 × 0.9300 = 7.93 h
BOX = {
    "rooms": {"mark": "R1", "room": "Bunks", "use": "sleep", "floor_m2": "20",
              "clear_height_m": "2.5", "sleepers": "4"},
    "windows": {"mark": "W1", "room": "R1", "n": "2", "frame_w": "1000", "frame_h": "2000",
                "u": "1.0"},
    "doors": {"mark": "D1", "place": "Porch", "leaf_w": "1000", "height": "2000", "u": "1.5",
              "outside": "yes"},
    "envelope": [
        {"part": "wall", "layer": "Batt", "mm": "166", "lambda": "0.04", "gross_area_m2": "100"},
        {"part": "roof", "layer": "Batt", "mm": "194.4", "lambda": "0.04", "gross_area_m2": "20"},
        {"part": "floor", "layer": "Batt", "mm": "151.6", "lambda": "0.04", "gross_area_m2": "20"},
    ],
    "site": {"people": "4", "fresh_air_l_s": "4", "design_outside_c": "-10",
             "design_inside_c": "20", "altitude_m": "0", "air_wh_m3k": "0.33"},
    "plant": {"heat_w": "3000", "timber_kg": "900", "stone_kg": "360"},
}  # fmt: skip


def _with_plant(**cells):
    return BOX | {"plant": BOX["plant"] | cells}


@pytest.mark.parametrize(
    ("target", "state"), [("8.1", State.MEETS), ("7.93", State.ON_THE_LINE), ("7.8", State.OVER)]
)
def test_warming_up_by_hand(package, hold, target, state):
    found = hold(package(**BOX), "warm_up", target)
    assert found.state is state
    assert found.value == pytest.approx(7.934 * 3600, rel=1e-4)
    assert [step.write() for step in found.steps] == [
        "air 17 Wh/K + 900 kg × 0.44 Wh/kgK + 360 kg × 0.28 Wh/kgK = 517 Wh/K",
        "(517 Wh/K ÷ 60.54 W/K) × ln(3\u202f000 W ÷ (3\u202f000 W − 60.54 W/K × 30.0 K)) = 7.9 h",
    ]
    assert found.caution


def test_the_working_is_in_the_readers_units(package, hold):
    steps = [s.write(System.US) for s in hold(package(**BOX), "warm_up", "8").steps]
    # 900 kg is 1,984 lb, 1.6 kJ/kgK is 0.38 Btu/lb·°F, 516.5 Wh/K is 979 Btu/°F, 30 K 54 °F
    assert steps[0].startswith("air 31 Btu/°F + 1,984 lb × 0.38 Btu/lb·°F + 794 lb × 0.24")
    assert steps[0].endswith("= 979 Btu/°F")
    assert "× 54.0 °F)) = 7.9 h" in steps[1]


@pytest.mark.parametrize("heat", ["1800", "0"])
def test_a_stove_below_the_loss_never_warms_it(package, hold, heat):
    found = hold(package(**_with_plant(heat_w=heat)), "warm_up", "8")
    assert found.state is State.NO_DATA
    assert found.missing == ("a heat output above the heat loss (heat and air plant)",)


@pytest.mark.parametrize("head", ["timber_kg", "stone_kg", "heat_w"])
def test_a_blank_is_named_and_never_nothing(package, hold, head):
    found = hold(package(**_with_plant(**{head: ""})), "warm_up", "8")
    assert found.state is State.NO_DATA
    assert len(found.missing) == 1
    assert found.missing[0].endswith("(heat and air plant)")


def test_without_anything_heavy_the_air_is_warmed_alone(package, hold):
    light = hold(package(**_with_plant(timber_kg="0", stone_kg="0")), "warm_up", "8")
    # 16.5 ÷ 516.5 of the case above
    assert light.value == pytest.approx(7.934 * 3600 * 16.5 / 516.5, rel=1e-3)


@pytest.mark.parametrize(("said", "differs"), [("30 minutes", True), ("9 hours", False)])
def test_a_claim_about_warming_up_is_held_to_it(package, said, differs):
    claims = [{"about": "Warm-up", "text": said, "sheet": "04"}]
    (claim,) = hold_claims(package(**BOX, claims=claims))
    assert claim.write_computed() == "7.9 h"
    assert claim.differs is differs


def test_a_claim_without_the_masses_says_what_is_missing(package):
    claims = [{"about": "Warm-up", "text": "30 minutes", "sheet": "04"}]
    (claim,) = hold_claims(package(**_with_plant(timber_kg=""), claims=claims))
    assert claim.result is ClaimResult.NOT_COMPARED
    assert claim.write_why() == ("still needs Timber warmed (heat and air plant)",)


def test_the_measure_scales_with_what_is_held():
    once = warm_up(1e6, 50, 4000, 20)
    assert warm_up(2e6, 50, 4000, 20) == pytest.approx(2 * once)
    assert warm_up(1e6, 100, 8000, 20) == pytest.approx(once / 2)


def test_without_a_loss_the_heat_held_alone_takes_time():
    assert warm_up(1e6, 0, 4000, 20) == 1e6 * 20 / 4000


@pytest.mark.parametrize(
    ("figures", "says"),
    [
        ((0, 50, 4000, 20), "heat held"),
        ((1e6, -1, 4000, 20), "loss rate"),
        ((1e6, 50, 4000, 0), "rise"),
        ((1e6, 50, 1000, 20), "heat is 1000 W; expected more than the loss, 1000 W"),
    ],
)
def test_what_no_building_is_is_refused(figures, says):
    with pytest.raises(InputError, match=says):
        warm_up(*figures)
