"""Pieces, roads, packing, ground, finishes, water supply and daylight: by hand and at the limit."""

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA
LIMITS = {"piece_l_m": "6.0", "piece_w_m": "2.3", "piece_h_m": "2.2"}
PIECES = [
    {"mark": "M1", "piece": "Core", "n": "1", "l_m": "1.6", "w_m": "1.2", "h_m": "2.4",
     "kg_each": "750", "order": "1"},
    {"mark": "M2", "piece": "Panel", "n": "4", "l_m": "5.8", "w_m": "2.2", "h_m": "0.3",
     "kg_each": "610", "order": "2"},
]  # fmt: skip


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("piece_envelope", "yes", "not: M1", OVER),
        ("piece_mass", "750", "750 kg", LINE),
        ("piece_mass", "740", "750 kg", OVER),
        ("lifts", "5", "5", MEETS),
        ("lifts", "4", "5", OVER),
        ("hand_carry", "30", "30", MEETS),
        ("road_width", "2.2", "2.20 m", LINE),
        ("road_height", "3.4", "3.40 m", LINE),
        ("payload", "1", "0.25", MEETS),
        ("container_fit", "yes", "not: M1", OVER),
        ("order_numbers", "yes", "all", MEETS),
    ],
)
def test_pieces_by_hand(package, hold, check, target, value, state):
    carrier = {"deck_m": "1.0", "payload_kg": "3000", "container": "20 ft"}
    pieces = [PIECES[0] | {"w_m": "2.35" if check == "container_fit" else "1.2"}, PIECES[1]]
    found = hold(package(pieces=pieces, transport=carrier, site=LIMITS), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_piece_just_within_and_just_over_its_envelope(package, hold):
    for height, state in (("2.2", MEETS), ("2.21", OVER)):
        pieces = [PIECES[0] | {"h_m": height}]
        assert hold(package(pieces=pieces, site=LIMITS), "piece_envelope", "yes").state is state


def test_a_piece_without_a_size_keeps_the_rest_from_being_all(package, hold):
    pieces = [PIECES[1], {"mark": "M3", "piece": "Crate", "n": "1"}]
    found = hold(package(pieces=pieces, site=LIMITS), "piece_envelope", "yes")
    assert (found.state, found.write_value()) == (NO_DATA, "all")
    assert found.missing[0] == "M3, Length (piece schedule)"


def test_no_limit_of_size_is_asked_for(package, hold):
    found = hold(package(pieces=PIECES), "piece_envelope", "yes")
    assert "Longest piece (site sheet)" in found.missing


@pytest.mark.parametrize(("orders", "value"), [(("1", "1"), "not: M1, M2"), (("1", ""), "not: M2")])
def test_order_numbers_are_complete_and_once_each(package, hold, orders, value):
    pieces = [piece | {"order": order} for piece, order in zip(PIECES, orders, strict=True)]
    assert hold(package(pieces=pieces), "order_numbers", "yes").write_value() == value


OUTER = {"mark": "M1", "piece": "Shell", "n": "1", "inside_l_m": "2.0", "inside_w_m": "1.0",
         "inside_h_m": "1.0"}  # fmt: skip


@pytest.mark.parametrize(
    ("sizes", "value", "state"),
    [
        (("1.9", "0.96", "0.98"), "10 mm", LINE),
        (("0.96", "0.98", "1.9"), "10 mm", LINE),
        (("1.9", "0.99", "0.9"), "5 mm", SHORT),
        (("2.1", "0.9", "0.9"), "-50 mm", SHORT),
    ],
)
def test_clearance_of_a_piece_in_another(package, hold, sizes, value, state):
    l, w, h = sizes
    inner = {"mark": "M2", "piece": "Drawer", "n": "1", "l_m": l, "w_m": w, "h_m": h,
             "packs_into": "M1"}  # fmt: skip
    found = hold(package(pieces=[OUTER, inner]), "nesting_clearance", "10")
    assert (found.write_value(), found.state) == (value, state)


def stowed(n: str, l: str, w: str, h: str) -> dict[str, str]:
    return {"mark": f"U{l}{n}", "item": "Box", "kind": "other", "n": n, "stowed_in": "M1",
            "stowed_l": l, "stowed_w": w, "stowed_h": h}  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "state", "says"),
    [
        ([stowed("4", "1000", "500", "500")], MEETS, "M1: fits"),
        ([stowed("2", "1100", "1100", "300")], OVER, "M1: does not fit"),
        ([stowed("1", "1000", "500", "")], NO_DATA, ""),
    ],
)
def test_furniture_in_a_closed_piece(package, hold, rows, state, says):
    found = hold(package(pieces=OUTER, furniture=rows), "furniture_packs", "yes")
    assert found.state is state
    assert "".join(step.write() for step in found.steps[:1]).startswith(says)


# De Bruijn's bricks: 27 of 1 × 2 × 4 have the volume of a cube of 6 and can't be laid in it.
def test_a_packing_that_is_not_answered_is_no_data(package, hold):
    cube = OUTER | {"inside_l_m": "0.6", "inside_w_m": "0.6", "inside_h_m": "0.6"}
    rows = [stowed("27", "400", "200", "100")]
    found = hold(package(pieces=cube, furniture=rows), "furniture_packs", "yes")
    assert found.state is NO_DATA
    assert "the search stops at 20,000 positions" in found.missing[0]


# 4,000 kg on 8 pads of 400 × 400 mm is 30.6 kPa; clay is presumed 71.8: 0.43 (by hand).
SUPPORTS = {
    "legs": "8", "pad_l": "400", "pad_w": "400", "empty_kg": "2500", "load_kg": "1500",
    "travel": "350", "building_l_m": "6.0", "building_w_m": "2.4", "building_h_m": "2.6",
    "clear_under_m": "0.4", "base_m": "2.2", "ground_friction": "0.3",
}  # fmt: skip
GROUND = {"soil": "clay or silt", "slope": "5 %", "gust_ms": "40", "exposure": "C"}


# 0.35 ÷ 0.323; ratio 1.10 as worked; 0.3 × 24.5 kN ÷ 14.4 kN (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("bearing_ratio", "1", "0.43", MEETS),
        ("leg_travel", "1", "1.08", MEETS),
        ("overturning", "1.5", "1.10", SHORT),
        ("sliding", "1", "0.51", SHORT),
    ],
)
def test_ground_by_hand(package, hold, check, target, value, state):
    found = hold(package(supports=SUPPORTS, site=GROUND), check, target)
    assert (found.write_value(), found.state) == (value, state)
    assert "licensed engineer decides" in found.caution


def test_peat_has_no_presumptive_bearing(package, hold):
    found = hold(package(supports=SUPPORTS, site=GROUND | {"soil": "peat or fill"}),
                 "bearing_ratio", "1")  # fmt: skip
    assert found.state is NO_DATA
    assert "ground report" in found.missing[0]


def test_wind_without_a_gust_is_no_data(package, hold):
    found = hold(package(supports=SUPPORTS, site={"exposure": "C"}), "sliding", "1")
    assert found.missing == ("Design gust (site sheet)",)


ROOMS = [
    {"mark": "R1", "room": "Day", "use": "day"},
    {"mark": "R2", "room": "Shower", "use": "wc"},
]


def finish(mark: str, room: str, surface: str = "floor", **cells: str) -> dict[str, str]:
    return {"mark": mark, "room": room, "surface": surface, "finish": "Lining", **cells}


def test_a_floor_finish_for_every_room(package, hold):
    found = hold(package(rooms=ROOMS, finishes=[finish("N1", "R1")]), "floor_finishes", "yes")
    assert found.write_value() == "not: Shower"
    assert hold(package(rooms=ROOMS), "floor_finishes", "yes").state is NO_DATA


@pytest.mark.parametrize(("washed", "state"), [("yes", MEETS), ("no", OVER), ("", NO_DATA)])
def test_shared_rooms_can_be_washed(package, hold, washed, state):
    rows = [finish("N1", "R1", cleanable=washed)]
    assert hold(package(rooms=ROOMS, finishes=rows), "cleanable", "yes").state is state


# ANSI A326.3: 0.42 or more, wet.
@pytest.mark.parametrize(("value", "state"), [("0.41", SHORT), ("0.42", LINE), ("0.43", MEETS)])
def test_wet_friction(package, hold, value, state):
    rows = [finish("N1", "R2", wet="yes", friction=value)]
    assert hold(package(rooms=ROOMS, finishes=rows), "wet_friction", "0.42").state is state


@pytest.mark.parametrize(("spread", "state"), [("200", MEETS), ("201", OVER), ("", NO_DATA)])
def test_linings_have_a_flame_spread_class(package, hold, spread, state):
    rows = [finish("N1", "R1", "wall", flame_spread=spread, smoke="450")]
    assert hold(package(rooms=ROOMS, finishes=rows), "flame_spread", "yes").state is state


# ¼ in 12 is 1 in 48: over 900 mm it is 18.75 mm. 18.0 mm is the 2 per cent that the plumbing
# code writes: it counts, with a note; 17.9 mm is too flat and 18.8 mm too steep.
@pytest.mark.parametrize(
    ("rise", "run", "state", "noted"),
    [
        ("18.75", "900", MEETS, False),
        ("1/4 in", "12 in", MEETS, False),
        ("18.0", "900", MEETS, True),
        ("17.9", "900", OVER, False),
        ("18.8", "900", OVER, False),
    ],
)
def test_one_fall_both_drains_and_turns(package, hold, rise, run, state, noted):
    rows = [finish("N1", "R2", wet="yes", fall_rise=rise, fall_run=run)]
    found = hold(package(rooms=ROOMS, finishes=rows), "wet_room_fall", "yes")
    assert found.state is state
    assert bool(found.write_notes()) is noted


FIXTURES = [
    {"mark": "F1", "use": "Wash", "uses_a_day": "5", "flow": "5.7", "minutes": "0.5",
     "goes_to": "grey"},
    {"mark": "F2", "use": "Drink", "uses_a_day": "1", "l_each": "3", "goes_to": "nowhere"},
]  # fmt: skip


# 5 × 5.7 × 0.5 = 14.25 L and 3 L (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value"),
    [("fixture_use", "17.25", "17.25 L/day"), ("grey_made", "14", "14.25 L/day")],
)
def test_water_use_by_fixture(package, hold, check, target, value):
    assert hold(package(fixtures=FIXTURES), check, target).write_value() == value


def test_a_fixture_without_a_flow_is_no_data_with_its_name(package, hold):
    rows = [{"mark": "F1", "use": "Shower", "uses_a_day": "1", "minutes": "5"}]
    found = hold(package(fixtures=rows), "fixture_use", "40")
    assert found.missing == ("F1, Flow (water uses)",)


# 34 mm on 80 m² keeping 0.8 is 2,176 L; 13 × 12 × 30 = 4,680 L: 0.46 (by hand).
def test_rain_in_the_driest_open_month(package, hold):
    hut = package(
        envelope={"part": "roof", "layer": "Sheet", "gross_area_m2": "80"},
        site={"people": "13", "water_l_pd": "12"},
        climate=[
            {"month": "Oct", "rain_mm": "34", "open": "yes"},
            {"month": "Jul", "rain_mm": "139", "open": "yes"},
            {"month": "Jan", "rain_mm": "0", "open": "no"},
        ],
    )
    found = hold(hut, "rain_catch", "1")
    assert (found.write_value(), found.write_notes()) == ("0.46", ("driest open month: Oct",))


TANKS = [
    {"mark": "T1", "holds": "potable", "litres": "600", "usable_share": "0.9",
     "place": "under deck"},
    {"mark": "T2", "holds": "solids", "litres": "30", "usable_share": "0.9", "place": "toilet"},
]  # fmt: skip


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("tank_mass", "500", "600 kg", OVER),
        ("tank_frost", "yes", "not: T1", OVER),
        ("carry_mass", "25", "27 kg", OVER),
        ("water_turnover", "5", "9.0 days", OVER),
    ],
)
def test_tanks_by_hand(package, hold, check, target, value, state):
    found = hold(package(tanks=TANKS, site={"people": "4", "water_l_pd": "15"}), check, target)
    assert (found.write_value(), found.state) == (value, state)


DAY = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "12", "depth_m": "4.0",
       "width_m": "3.0", "clear_height_m": "2.4"}  # fmt: skip
GLASS = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1200",
         "sill": "900", "transmittance": "0.70", "sky_angle": "65", "faces": "S"}  # fmt: skip


# 4.0 × 3.0 × 2.4 m, 1.44 m² of glass, 0.70, 65°, dirt 0.9, reflectance 0.5: 1.365 % (by hand).
# Depth: 2 ÷ 0.5 ÷ (1/3.0 + 1/2.1) = 4.941 m; 4.0 ÷ 4.941 = 0.81 (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("average_daylight_factor", "1 %", "1.4 %", MEETS),
        ("average_daylight_factor", "1.5 %", "1.4 %", SHORT),
        ("limiting_depth", "1", "0.81", MEETS),
        ("lowest_sill", "900", "900 mm", LINE),
        ("possible_sun", "1.5", "12.0 h", MEETS),
    ],
)
def test_daylight_by_the_closed_formulas(package, hold, check, target, value, state):
    found = hold(package(rooms=DAY, windows=GLASS, site={"latitude": "46.7"}), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_window_without_transmittance_takes_clear_double_glass_and_says_so(package, hold):
    plain = {k: v for k, v in GLASS.items() if k not in ("transmittance", "sky_angle")}
    found = hold(package(rooms=DAY, windows=plain), "average_daylight_factor", "1")
    assert found.write_notes() == (
        "clear double glass and open sky taken where a window says none",
    )


# 8 lamps of 800 lm, 0.5 and 0.8, on 12 m²: 213 lx of 200 (published lumen-method form).
def test_lamps_against_the_level_wanted(package, hold):
    lamp = {"mark": "E1", "room": "R1", "n": "8", "lumens": "800", "used_share": "0.5",
            "kept_share": "0.8", "wanted_lx": "200"}  # fmt: skip
    found = hold(package(rooms=DAY, lights=lamp), "lamp_light", "1")
    assert (found.write_value(), found.state) == ("1.07", MEETS)
    bare = hold(package(rooms=DAY, lights=lamp | {"lumens": ""}), "lamp_light", "1")
    assert bare.missing == ("E1, Light each (lighting schedule)",)


# By hand: 1,000 kg at 2.0 m and 3,000 kg at 4.0 m stand at 3.5 m; axle at 4.0 m: 12.5 % forward.
@pytest.mark.parametrize(("axle", "value", "state"), [("4.0", "12.5 %", MEETS),
                                                      ("3.6", "2.8 %", SHORT)])  # fmt: skip
def test_how_much_of_the_load_is_on_the_hitch(package, hold, axle, value, state):
    pieces = [
        {"mark": "M1", "piece": "Core", "n": "1", "kg_each": "1000", "at_m": "2.0"},
        {"mark": "M2", "piece": "Panel", "n": "3", "kg_each": "1000", "at_m": "4.0"},
    ]
    found = hold(package(pieces=pieces, transport={"axle_m": axle}), "hitch_share", "10 %")
    assert (found.write_value(), found.state) == (value, state)


def test_slugs_and_titles_are_used_once():
    for texts in ([c.slug for c in CATALOGUE], [c.title for c in CATALOGUE]):
        assert len(set(texts)) == len(texts)
