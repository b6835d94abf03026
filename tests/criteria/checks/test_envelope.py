"""U-values by hand, at the target, with framing, and what is blank or refused."""

import pytest

from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.box import BOX

MEETS, OVER = State.MEETS, State.OVER


# 166 mm at 0.04 is 4.15, with 0.17 of surfaces 4.32; 1 ÷ 4.32 = 0.2315 by hand.
def test_a_u_value_of_one_layer(package, hold):
    found = hold(package(**BOX), "wall_u", "0.25")
    assert (found.write_value(), found.state) == ("0.231 W/m²K", MEETS)
    assert found.steps[0].write() == "Batt: 166 mm ÷ 0.040 W/mK = 4.150 m²K/W"
    assert found.write_notes() == ("no framing is said: studs and joists would make it worse",)


def test_framing_makes_it_worse_and_is_said(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "0.13", "bridge_share": "15 %"}
    bare = hold(package(**BOX), "wall_u", "0.25")
    framed = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    # by hand: paths 4.32 and 1.447: 0.85/4.32 + 0.15/1.447 → 3.328; planes 0.17 + 1/(0.2048 +
    # 0.1175) → 3.273; mean 3.300; U 0.303
    assert (framed.write_value(), framed.state) == ("0.303 W/m²K", OVER)
    assert framed.value > bare.value
    assert "framing 0.15 of it" in framed.steps[0].write()


def test_steel_through_insulation_takes_the_lower_limit_and_says_so(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "50", "bridge_share": "0.01"}
    found = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    assert found.state is OVER
    assert "numerical method" in found.write_notes()[0]


def test_a_framing_share_left_out_is_no_data_with_its_name(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "0.13"}
    found = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    assert found.missing == ("wall, Batt, Framing share (envelope layers)",)


def test_only_layers_without_conductivity_are_no_data(package, hold):
    wall = {"part": "wall", "layer": "Boards", "mm": "24", "gross_area_m2": "100"}
    found = hold(package(envelope=wall), "wall_u", "0.25")
    assert (found.state, found.value) == (State.NO_DATA, None)


@pytest.mark.parametrize(
    ("layer", "says"),
    [
        ({"mm": "100", "claimed_r": "2.642"}, "within the range of ordinary insulation"),
        ({"mm": "10", "claimed_r": "0.7"}, "only aerogel, phenolic or gas-filled foam"),
        ({"mm": "10", "claimed_r": "2.0"}, "only an evacuated panel"),
        ({"mm": "0.25", "claimed_r": "5.283"}, "no layer conducts so little"),
        (
            {"mm": "0.6", "claimed_r": "0.11", "claim_covers": "air space included"},
            "an air space is counted in",
        ),
        (
            {"mm": "0.2", "claimed_r": "2", "claim_covers": "evacuated glazing"},
            "bound by radiation",
        ),
        ({"mm": "0.2", "claimed_r": "2", "claim_covers": "reflectance as R"}, "isn't resistance"),
    ],
)
def test_what_a_claimed_resistance_would_have_to_be(package, hold, layer, says):
    row = {"part": "wall", "layer": "Layer"} | layer
    found = hold(package(envelope=row), "apparent_conductivity", "0.02 W/mK")
    assert says in found.write_notes()[0]


def _walls(*layers):
    return {"envelope": [{"part": "wall", "gross_area_m2": "100"} | row for row in layers]}


BATT = {"layer": "Batt", "mm": "166", "lambda": "0.04"}
BOARDS = {"layer": "Boards", "mm": "24"}


# A layer dropped for its λ once made U 6.67 of 0.23.
@pytest.mark.parametrize("typed", ["0,0,4", "0.04 W", "very low"])
def test_a_refused_conductivity_makes_the_part_no_data(hold, typed):
    hut = read_package(_walls(BOARDS | {"lambda": typed}, BATT)).package
    found = hold(hut, "wall_u", "0.25")
    assert (found.state, found.value) == (State.NO_DATA, None)
    assert found.missing[0].startswith(f"wall, Boards, λ (envelope layers): read “{typed}”")


def test_a_blank_conductivity_is_not_counted(package, hold):
    both = hold(package(**_walls(BOARDS, BATT)), "wall_u", "0.25")
    assert both.value == hold(package(**_walls(BATT)), "wall_u", "0.25").value


def test_a_share_of_framing_without_its_conductivity_is_no_data(package, hold):
    found = hold(package(**_walls(BATT | {"bridge_share": "0.15"})), "wall_u", "0.25")
    assert found.missing == ("wall, Batt, λ of framing (envelope layers)",)
    none = hold(package(**_walls(BATT | {"bridge_share": "0"})), "wall_u", "0.25")
    assert none.value == hold(package(**_walls(BATT)), "wall_u", "0.25").value


def test_every_cell_that_a_part_lacks_is_named(package, hold):
    found = hold(package(**_walls(BATT | {"mm": ""}, BATT | {"bridge_lambda": "1"})), "wall_u", "1")
    assert found.missing == (
        "wall, Batt, Thickness (envelope layers)",
        "wall, Batt, Framing share (envelope layers)",
    )


# The bounds themselves: 10 mm at R 0.5 is 0.020 W/mK, at 0.8333 is 0.012, at 2.857 is 0.0035.
@pytest.mark.parametrize(
    ("claimed", "says"),
    [
        ("0.5", "ordinary"),
        ("0.501", "only aerogel"),
        ("0.8333", "only aerogel"),
        ("0.834", "only an evacuated"),
        ("2.857", "only an evacuated"),
        ("2.858", "no layer"),
    ],
)
def test_the_bounds_of_a_claim(package, hold, claimed, says):
    row = {"part": "wall", "layer": "Layer", "mm": "10", "claimed_r": claimed}
    assert says in hold(package(envelope=row), "apparent_conductivity", "0.02").write_notes()[0]


def test_a_refused_claim_leaves_the_other_layers_their_figures(hold):
    rows = [BATT | {"claimed_r": "3"}, BATT | {"claimed_r": "lots"}, BATT]
    found = hold(read_package(_walls(*rows)).package, "apparent_conductivity", "0.01")
    assert [one.subject for one in found.worst_first if one.values] == ["wall 1"]
    assert found.missing[0].startswith("wall, Batt, Claimed R (envelope layers): read “lots”")
