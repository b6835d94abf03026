"""A package made into a building, and run."""

import numpy as np
import pytest

from criteria.hourly.building import ANY_PLANT
from criteria.hourly.of_package import building
from criteria.hourly.people_hours import Spread
from criteria.hourly.running import Ready
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import HUT, hut
from tests.criteria.hourly.weather_still import still


def test_a_whole_package():
    made = building(hut(), still())
    whole = made.building
    assert (whole.floor_m2, whole.volume_m3, whole.contents_j_k) == (24, 60, 0)
    assert {each.name for each in whole.elements} == {
        *("wall N", "wall E", "wall S", "wall W", "roof", "floor", "door D1"),
        "things inside",
    }
    assert [each.name for each in whole.windows] == ["window W1"]
    assert whole.density_ratio is None
    walls = sum(each.area_m2 for each in whole.elements if each.name.startswith("wall"))
    assert walls == pytest.approx(50 - 2.4 - 2.0)
    assert made.unsaid == ()
    assert made.said == ()


def test_the_year_of_a_package_closes_and_is_held():
    made = building(hut(), still(air_k=268.15))
    run, _ = Ready(made.building, made.building and still(air_k=268.15)).run(ANY_PLANT)
    assert run.closure < 1e-9
    assert run.operative_k.min() == pytest.approx(289.15)
    assert run.heat_w.max() > 0


def test_what_was_taken_written_into_its_cells_changes_nothing():
    bare = hut(
        windows={"solar_factor": "", "sill": ""},
        doors={"faces": ""},
        plant={"timber_kg": "", "stone_kg": ""},
        supports={"roof_slope": "", "roof_faces": "", "clear_under_m": ""},
        occupants={"up_at": ""},
    )
    first = building(bare, still())
    rows = {slug: [dict(row) for row in given] for slug, given in HUT.items()}
    rows["supports"], rows["doors"][0]["faces"] = [{}], ""
    rows["windows"][0] |= {"solar_factor": "", "sill": ""}
    left_out = ("timber_kg", "stone_kg")
    rows["plant"][0] |= dict.fromkeys(left_out, "")
    for one in first.assumed:
        heads = [row.get("mark") for row in rows[one.schedule]]
        row = rows[one.schedule][heads.index(one.mark) if one.mark else max(one.row - 1, 0)]
        row |= {cell.head: cell.value for cell in one.cells if cell.head not in left_out}
    again = building(hut(**rows), still())
    assert [a.cells for a in again.assumed] == [
        a.cells for a in first.assumed if a.cells[0].head == "timber_kg"
    ]
    for one, other in zip(first.building.elements, again.building.elements, strict=True):
        assert (one.name, one.layers, one.tilt_deg, one.bearing_deg, one.outside) == (
            *(other.name, other.layers, other.tilt_deg, other.bearing_deg, other.outside),
        )
        assert other.area_m2 == pytest.approx(one.area_m2, rel=1e-3)
    assert again.building.windows == first.building.windows or [
        vars(w) for w in again.building.windows
    ] == [vars(w) for w in first.building.windows]
    for name in ("fixed_m3_s", "may_open"):
        assert np.allclose(getattr(again.building.air, name), getattr(first.building.air, name))


def test_roof_lights_come_out_of_the_roof():
    light = {**HUT["windows"][0], "mark": "W2", "n": "1", "opens": "roof light"}
    made = building(hut(windows=[HUT["windows"][0], light]), still()).building
    roof = sum(each.area_m2 for each in made.elements if each.name == "roof")
    assert roof == pytest.approx(30 - 1.2)
    assert made.windows[1].tilt_deg == 30


@pytest.mark.parametrize(("latitude", "faces"), [("46", "N"), ("-46", "S"), ("", "N")])
def test_a_door_that_looks_nowhere_is_taken_away_from_the_sun(latitude, faces):
    made = building(hut(doors={"faces": ""}, site={"latitude": latitude}), still())
    taken = next(a for a in made.assumed if a.schedule == "doors")
    assert taken.cells[0].value == faces


def test_the_briefs_air_wins():
    made = building(hut(site={"air_wh_m3k": "0.25"}), still()).building
    assert made.density_ratio == pytest.approx(0.25 * 3600 / 1206)


def test_hills_stand_by_their_bearing_and_level_ground_where_none_is_said():
    assert building(hut(), still()).building.skyline_deg == (0,) * 8
    hills = hut(site={"skyline_e": "20", "skyline_nw": "5"})
    assert building(hills, still()).building.skyline_deg == (0, 0, 20, 0, 0, 0, 0, 5)


def test_drawn_shade_stands_for_a_share_of_sun_and_says_so():
    package = hut(windows={"overhang": "500", "sun_share": "0.5"})
    (said,) = building(package, still()).said
    assert said.write().startswith("W1: eaves, fins and reveals")
    assert building(hut(windows={"overhang": "500"}), still()).said == ()


def test_loads_that_dont_say_when_are_named_and_can_be_spread():
    package = hut(loads={"when": ""})
    assert building(package, still()).unsaid == ("L1",)
    by_day, by_night = (
        building(package, still(), spread).building.use.loads_w
        for spread in (Spread.BY_DAY, Spread.BY_NIGHT)
    )
    assert (by_day[2], by_night[12]) == (0, 0)


def test_what_it_cant_do_without_is_named_whole():
    with pytest.raises(Lacking) as lacks:
        building(hut(rooms={"floor_m2": ""}), still())
    assert "Floor" in str(lacks.value)
    with pytest.raises(Lacking, match="U"):
        building(hut(windows={"u": ""}), still())
