"""Views by height of the eye, and floor for everyone who is in by day."""

import pytest

from criteria.findings import State

DAY = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "24"}
BUNKS = {"mark": "R2", "room": "Bunks", "use": "sleep", "floor_m2": "16", "sleepers": "4"}


def glass(room: str, sill: str, height: str, **cells: str) -> dict[str, str]:
    return {"mark": "W1", "room": room, "sill": sill, "glass_h": height, **cells}


@pytest.mark.parametrize(
    ("sill", "height", "value"),
    [
        ("1200", "600", "all"),
        ("1201", "600", "not: R1 (Day)"),
        ("600", "600", "all"),
        ("600", "599", "not: R1 (Day)"),
    ],
)
def test_a_seated_eye_at_twelve_hundred(package, hold, sill, height, value):
    hut = package(rooms=DAY, windows=glass("R1", sill, height))
    assert hold(hut, "seated_view", "yes").write_value() == value


def test_a_lying_eye_stands_over_its_mattress(package, hold):
    tables = {"rooms": BUNKS, "windows": glass("R2", "900", "600")}
    assert hold(package(**tables), "lying_view", "yes").write_value() == "not: R2 (Bunks)"
    bed = {"mark": "U1", "item": "Bunk", "room": "R2", "kind": "bed", "height_mm": "800"}
    assert hold(package(**tables, furniture=bed), "lying_view", "yes").write_value() == "all"


def test_a_roof_light_is_no_view_and_no_windows_no_data(package, hold):
    hut = package(rooms=DAY, windows=glass("R1", "900", "900", faces="up"))
    assert hold(hut, "seated_view", "yes").write_value() == "not: R1 (Day)"
    bare = hold(package(rooms=DAY), "seated_view", "yes")
    assert bare.missing == ("rows of the window schedule",)


# 40 m² for four residents and four visitors: 5.00 m² each by day (by hand).
def test_visitors_take_floor_by_day(package, hold):
    people = [
        {"mark": "O1", "who": "Residents", "n": "4", "sleeps_here": "yes"},
        {"mark": "O2", "who": "Visitors", "n": "4", "sleeps_here": "no"},
    ]
    hut = package(rooms=[DAY, BUNKS], occupants=people, site={"people": "4"})
    assert hold(hut, "floor_by_day", "5").write_value() == "5.00 m²"


def test_every_room_that_is_slept_in_wants_a_view_from_its_bed(package, hold):
    attic = {"mark": "R3", "room": "Hearth room", "use": "day", "floor_m2": "20", "sleepers": "2"}
    windows = [glass("R2", "500", "600"), glass("R3", "900", "600") | {"mark": "W2"}]
    found = hold(package(rooms=[DAY, BUNKS, attic], windows=windows), "lying_view", "yes")
    assert found.write_value() == "not: R3 (Hearth room)"
    named = hold(
        package(rooms=[DAY, BUNKS, attic], windows=windows), "lying_view", "yes", rooms="sleep"
    )
    assert named.write_value() == "not: R3 (Hearth room)"


def test_the_lowest_bed_of_a_room_looks_out(package, hold):
    beds = [
        {"mark": f"U{n}", "item": "Bunk", "room": "R2", "kind": "bed", "height_mm": height}
        for n, height in enumerate(("1500", "400", "1600"))
    ]
    tables = {"rooms": BUNKS, "furniture": beds}
    for sill, value in (("540", "all"), ("560", "not: R2 (Bunks)")):
        hut = package(**tables, windows=glass("R2", sill, "600"))
        assert hold(hut, "lying_view", "yes").write_value() == value


def test_a_refused_sill_is_no_view_and_no_lack_of_one(hold):
    from criteria.package import read_package

    hut = read_package({"rooms": [DAY], "windows": [glass("R1", "9 kg", "900")]}).package
    found = hold(hut, "seated_view", "yes")
    assert (found.write_value(), found.missing[0][:8]) == ("", "W1, Sill")


# The usual 450 mm would see over a sill of 500; the upper bunk whose height is blank may not.
def test_a_bed_of_no_height_is_no_usual_bed(package, hold):
    bed = {"mark": "U1", "item": "Bunk", "room": "R2", "kind": "bed"}
    tables = {"rooms": BUNKS, "windows": glass("R2", "500", "400")}
    assert hold(package(**tables), "lying_view", "yes").write_value() == "all"
    high = hold(package(**tables, furniture=bed | {"height_mm": "1500"}), "lying_view", "yes")
    assert high.write_value() == "not: R2 (Bunks)"
    blank = hold(package(**tables, furniture=bed), "lying_view", "yes")
    assert (blank.state, blank.missing) == (State.NO_DATA, ("U1, Height (furniture schedule)",))


# Two live in the brief's house; how many the brief asks for isn't said, and may be more.
def test_people_of_the_schedule_are_no_brief(package, hold):
    two = {"mark": "O1", "who": "Keepers", "n": "2", "sleeps_here": "yes"}
    found = hold(package(rooms=DAY, occupants=two), "floor_by_day", "5")
    assert (found.state, found.missing) == (State.NO_DATA, ("People in the brief (site sheet)",))
