"""A trial changes the cells it names and no other, and holds both years side by side."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.errors import Refused
from criteria.findings import Rule
from criteria.hourly.of_year import reckoned
from criteria.hourly.trial import HELD, Beside, Tryable, changed, compared, tryable
from criteria.hourly.worst import worst_night
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import TEMPERATURE, System
from tests.criteria.hourly.hut import HUT, Rows, hut
from tests.criteria.hourly.test_site_weather import YEAR

CLIMATE: Rows = [dict(row) for row in YEAR]
WALL, PANELS, PEOPLE = (
    Tryable("envelope", 1, "mm"),
    Tryable("power", 1, "pv_kwp"),
    Tryable("occupants", 1, "n"),
)


def year_hut(**changes: dict[str, str] | Rows) -> Package:
    site = {"summer_outside_c": "24", "summer_inside_c": "26", **changes.pop("site", {})}  # type: ignore[dict-item]
    return hut(climate=CLIMATE, site=site, **changes)


@pytest.fixture(scope="module")
def whole() -> Package:
    return year_hut()


def named(package: Package) -> dict[Tryable, str]:
    return dict(tryable(package))


def test_what_counts_can_be_tried_and_only_outermost_faces_have_a_colour(whole):
    found = named(whole)
    assert found[WALL] == "wall, Wood fibre between studs"
    assert found[Tryable("windows", 1, "shutter_r")] == "W1"
    assert found[PANELS] == "Power plant"
    assert found[PEOPLE] == "O1, Walkers"
    assert [each.row for each in found if each.head == "outside_absorptance"] == [1, 3]


def test_a_layer_outside_a_vented_cavity_has_its_colour_alone():
    layers = [{"part": "wall", "layer": "Boards", "mm": "24", "gross_area_m2": "50"}]
    found = named(hut(envelope=layers + HUT["envelope"]))
    assert [each.head for each in found if each.schedule == "envelope" and each.row == 1] == [
        "outside_absorptance"
    ]
    assert Tryable("envelope", 2, "outside_absorptance") not in found


def test_a_group_without_its_words_is_called_by_its_mark():
    assert named(hut(occupants=[{"mark": "O1", "n": "4"}]))[PEOPLE] == "O1"


def test_rows_that_cannot_be_told_from_others_are_not_tried():
    twice = [*HUT["windows"], *HUT["windows"]]
    assert not [each for each in named(hut(windows=twice)) if each.schedule == "windows"]


def test_a_trial_changes_the_cells_it_names_and_no_other(whole):
    tried = changed(whole, {WALL: "240", PANELS: "4", PEOPLE: "6"})
    assert [row.thickness_m for row in tried.envelope[:2]] == [0.24, 0.06]
    assert (tried.power.panels_w, tried.power.tilt_deg) == (4000.0, 60.0)
    assert tried.occupants[0].n == 6
    assert whole.envelope[0].thickness_m == 0.16


def test_a_blank_is_a_gap_and_what_cannot_be_read_is_refused(whole):
    with pytest.raises(Lacking, match="Thickness"):
        reckoned(changed(whole, {WALL: ""}))
    with pytest.raises(Refused, match="thick"):
        changed(whole, {WALL: "thick"})


def test_a_row_that_is_gone_changes_nothing(whole):
    assert changed(whole, {Tryable("envelope", 99, "mm"): "10"}) == whole


def test_panels_can_be_tried_where_none_are_scheduled():
    tried = changed(hut(power=[]), {PANELS: "2"})
    assert tried.power.panels_w == 2000.0


def test_both_years_stand_side_by_side_and_the_same_text_is_as_before(whole):
    found = {each.name: each for each in compared(whole, changed(whole, {WALL: "320"}))}
    night = found["Coldest night inside"]
    assert night.before is not None
    assert night.after is not None
    year = reckoned(whole).year
    assert night.before == year.drawn.operative_k[worst_night(year).at].mean()
    assert night.after > night.before + 0.5
    assert night.turn() == "better"
    fuel = found["Fuel of the year"]
    assert fuel.before is not None
    assert fuel.after is not None
    assert fuel.after < fuel.before
    assert {"Hours that plant can't hold warm", "Hours without essential power"} <= {*found}
    assert {each.turn() for each in compared(whole, whole)} <= {"as before", ""}


def test_figures_side_by_side_are_of_one_part():
    assert all(len(CHECKS[slug].scales) == 1 for slug in HELD)


def test_what_lacks_says_what_and_has_no_turn(whole):
    found = compared(whole, changed(whole, {WALL: ""}))
    night = found[0]
    assert night.before is not None
    assert night.after is None
    assert night.turn() == ""
    assert any("Thickness" in words for words in night.lacks)


def test_what_neither_is_asked_for_has_no_line():
    heater = {"heater": "electric heater", "heat_w": "1000"}
    electric = year_hut(plant=HUT["plant"][0] | heater)
    assert "fuel_year" not in {each.check for each in compared(electric, electric)}


@pytest.mark.parametrize(
    ("before", "after", "rule", "turn"),
    [
        (280.0, 281.0, Rule.AT_LEAST, "better"),
        (281.0, 280.0, Rule.AT_LEAST, "worse"),
        (280.0, 281.0, Rule.AT_MOST, "worse"),
        (281.0, 280.0, Rule.AT_MOST, "better"),
        (280.0, 280.01, Rule.AT_LEAST, "as before"),
        (None, 280.0, Rule.AT_LEAST, ""),
    ],
)
def test_better_is_by_the_rule_and_as_it_is_written(before, after, rule, turn):
    each = Beside(check="", name="", scale=TEMPERATURE, rule=rule, before=before, after=after)
    assert each.turn() == each.turn(System.US) == turn
