"""Heat to take out of a box by hand, then what shade, colour and place do to it."""

import pytest

from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.box import BOX, SITE

MEETS = State.MEETS


# By hand: wall 35 + 0.052 × 500 − 24 = 37 K, roof 35 + 46.8 − 3.9 − 24 = 53.9 K, rest 11 K:
# 21.76 × 37 + 4 × 53.9 + 12 × 11 = 1,152.7 W; glass 3.24 × 0.5 × 500 = 810; people 300;
# air 19.01 × 11 = 209; together 2,472 W.
HOT = {"summer_outside_c": "35", "summer_inside_c": "24", "sun_w_m2": "500", "latitude": "40"}
OUT = {"mark": "L1", "item": "Cooler", "n": "1", "w_each": "600", "h_day": "8",
       "stands_outside": "yes"}  # fmt: skip
HOT_BOX = BOX | {"site": SITE | HOT, "loads": OUT}


def cooled(package, hold, **tables):
    """Hold the hot box, with a table's cells changed, to a target."""
    layers = tables.pop("envelope", HOT_BOX["envelope"])
    changed = {slug: HOT_BOX.get(slug, {}) | cells for slug, cells in tables.items()}
    return hold(package(**(HOT_BOX | changed | {"envelope": layers})), "cooling_load", "3000")


def test_heat_to_take_out_of_a_box(package, hold):
    found = hold(package(**HOT_BOX), "cooling_load", "3000")
    assert (found.write_value(), found.state) == ("2\u202f472 W", MEETS)


def test_the_largest_term_shows_its_working(package, hold):
    found = hold(package(**HOT_BOX), "cooling_load", "3000")
    assert [step.write() for step in found.steps] == [
        "wall: 21.76 W/K × 37.0 K = 805 W",
        "roof: 4.00 W/K × 53.9 K = 216 W",
        "floor: 5.00 W/K × 11.0 K = 55 W",
        "W1: 4.00 W/K × 11.0 K = 44 W",
        "D1: 3.00 W/K × 11.0 K = 33 W",
        "surfaces 1\u202f153 W + sun through glass 810 W + people 300 W + equipment 0 W + "
        "air 209 W = 2\u202f472 W",
    ]


# By hand: pale takes up a third of what dark does: wall 26.0 → 8.67 K, roof 46.8 → 15.6 K;
# 21.76 × 17.33 + 4 × 31.2 = 502 W less.
@pytest.mark.parametrize("typed", ["pale", "0.3", "30 %"])
def test_a_pale_coating_has_its_true_merit(package, hold, typed):
    layers = [row | {"outside_absorptance": typed} for row in BOX["envelope"]]
    dark, pale = cooled(package, hold), cooled(package, hold, envelope=layers)
    assert dark.value - pale.value == pytest.approx(502.0, abs=0.5)
    assert dark.write_notes()[0] == "pale outside, it would be 502 W less"
    assert not any(note.startswith("pale") for note in pale.write_notes())


def test_the_outermost_layer_decides_what_the_sun_warms(package, hold):
    inner = BOX["envelope"][0] | {"layer": "Lining", "outside_absorptance": "pale"}
    plain = BOX["envelope"][0] | {"layer": "Lining"}
    with_inner = [BOX["envelope"][0], inner, *BOX["envelope"][1:]]
    with_plain = [BOX["envelope"][0], plain, *BOX["envelope"][1:]]
    one, other = (cooled(package, hold, envelope=rows) for rows in (with_inner, with_plain))
    assert one.value == other.value


# By hand: half of 810 W of sun through the glass; half of 26.0 K and 46.8 K on wall and roof is
# 21.76 × 13.0 + 4 × 23.4 = 376.5 W.
def test_shade_of_glass_and_of_walls_takes_its_part(package, hold):
    bare = cooled(package, hold)
    glass = cooled(package, hold, windows={"sun_share": "0.5"})
    assert bare.value - glass.value == pytest.approx(405)
    shaded = [row | {"sun_share": "50 %"} for row in BOX["envelope"]]
    assert bare.value - cooled(package, hold, envelope=shaded).value == pytest.approx(376.5, abs=1)


@pytest.mark.parametrize(
    ("latitude", "face", "sun"),
    [("40", "S", 810), ("40", "N", 0), ("-40", "N", 810), ("-40", "S", 0), ("-40", "E", 810)],
)
def test_sun_on_glass_turns_with_the_hemisphere(package, hold, latitude, face, sun):
    site = {"latitude": latitude}
    found = cooled(package, hold, windows={"faces": face}, site=site)
    assert found.value == pytest.approx(1662.5 + sun, abs=1)


# By hand: a level roof has 1.8 times the sun of a wall: 810 × 1.8.
def test_a_roof_light_has_the_sun_of_the_roof(package, hold):
    wall = cooled(package, hold)
    for cells in ({"faces": "up"}, {"opens": "roof light", "faces": "N"}):
        light = cooled(package, hold, windows=cells)
        assert light.value - wall.value == pytest.approx(810 * 0.8)


def test_what_stands_outside_or_never_runs_warms_nothing(package, hold):
    inside = cooled(package, hold, loads={"stands_outside": "no"})
    unsaid = cooled(package, hold, loads={"stands_outside": ""})
    idle = cooled(package, hold, loads={"stands_outside": "no", "h_day": "0"})
    assert inside.value == unsaid.value == pytest.approx(cooled(package, hold).value + 600)
    assert idle.value == cooled(package, hold).value
    assert cooled(package, hold, loads={"h_day": ""}).missing == ("L1, h a day (load schedule)",)


# By hand: 57.6 m³/h for people against 50 × 0.5 = 25: all air passes the recovery. With a fifth
# of it 11.52 m³/h for people, 13.48 come in by cracks: (13.48 + 11.52 × 0.25) × 0.33 × 11 K.
def test_summer_air_is_recovered_but_for_what_comes_in_by_cracks(package, hold):
    plant = {"hrv_as_typed": "0.75"}
    bare, kept = cooled(package, hold), cooled(package, hold, plant=plant)
    assert bare.value - kept.value == pytest.approx(0.75 * 57.6 * 0.33 * 11, abs=0.01)
    site = {"fresh_air_l_s": "0.8"}
    some = cooled(package, hold, plant=plant, site=site)
    none = cooled(package, hold, site=site)
    assert none.value - some.value == pytest.approx(0.75 * 11.52 * 0.33 * 11, abs=0.01)


# By hand: between 24 and 35 °C at sea level air holds 0.33 × 293.15 ÷ 302.65 = 0.320 Wh/m³K.
def test_summer_air_is_as_thin_as_summer_makes_it(package, hold):
    found = cooled(package, hold, site={"air_wh_m3k": ""})
    assert found.value - cooled(package, hold).value == pytest.approx(
        57.6 * 11 * 0.33 * (293.15 / 302.65 - 1), abs=0.01
    )


@pytest.mark.parametrize("cell", ["design_outside_c", "design_inside_c"])
def test_a_hot_brief_needs_no_winter(package, hold, cell):
    assert cooled(package, hold, site={cell: ""}).write_value() == "2\u202f472 W"


def test_a_hot_brief_without_air_or_altitude_names_what_it_lacks(package, hold):
    found = cooled(package, hold, site={"air_wh_m3k": "", "altitude_m": ""})
    assert (found.state, found.missing) == (State.NO_DATA, ("Altitude (site sheet)",))


def test_damp_is_said_not_to_be_counted(package, hold):
    found = cooled(package, hold)
    # 4 people at 55 W
    assert "damp isn't counted: people add 220 W of it, humid air more" in found.write_notes()
    assert "Dry heat alone" in found.limits


@pytest.mark.parametrize(
    ("check", "value"),
    [("cooling_plant", "0.81"), ("panels_for_cooling", "1.70"), ("heat_plant", "1.10")],
)
def test_plant_against_what_it_must_do(package, hold, check, value):
    # 2,000 ÷ 2,472; 2,000 × 0.7 ÷ (2,472 ÷ 3); 2,000 ÷ 1,816 (by hand)
    tables = HOT_BOX | {
        "site": SITE | HOT | {"system_factor": "0.7"},
        "plant": {"heat_w": "2000", "cooling_w": "2000", "cooling_cop": "3"},
        "power": {"pv_kwp": "2"},
    }
    assert hold(package(**tables), check, "1").write_value() == value


def test_what_no_colour_is_is_refused_with_what_is_taken(hold):
    rows = [row | {"outside_absorptance": "dusty"} for row in BOX["envelope"]]
    tables = {slug: t if isinstance(t, list) else [t] for slug, t in HOT_BOX.items()}
    found = hold(read_package(tables | {"envelope": rows}).package, "cooling_load", "3000")
    assert found.state is State.NO_DATA
    assert "Sun taken up (envelope layers): read “dusty”" in found.missing[0]
    assert found.missing[0].endswith("or pale, or middle, or dark, from 0 to 1")
