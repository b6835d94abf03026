"""Where schedules have rows but none of the kind that a check asks for, it says which."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import Rule, State

INSIDE = {"mark": "D1", "place": "Bath", "leaf_w": "800", "outside": "no"}
ROOM = {"mark": "R1", "room": "Day", "use": "day"}
SEAT = {"mark": "U1", "item": "Bench", "kind": "seat"}
JUNE = {"month": "Jun", "rain_mm": "80"}
WALL = {"mark": "L1", "part": "wall", "layer": "Panel", "mm": "60"}


@pytest.mark.parametrize(
    ("check", "tables", "lacks"),
    [
        ("door_swings", {"doors": INSIDE}, "an outside door (door schedule)"),
        (
            "essential_days",
            {"loads": {"mark": "L1", "item": "Lamp", "essential": "no"}},
            "a load that is essential (load schedule)",
        ),
        ("sit_up", {"furniture": SEAT}, "beds (furniture schedule)"),
        (
            "furniture_heights",
            {"furniture": SEAT | {"kind": "bed"}},
            "seats and tables (furniture schedule)",
        ),
        (
            "living_floor_per_person",
            {"rooms": ROOM | {"use": "store"}, "site": {"people": "4"}},
            "rooms of the uses that are counted (room schedule)",
        ),
        (
            "rain_catch",
            {"climate": JUNE | {"open": "no"}},
            "a month in which it is open (climate by month)",
        ),
        (
            "rain_catch",
            {"climate": JUNE | {"open": "yes"}, "envelope": WALL},
            "layers of the roof (envelope layers)",
        ),
        (
            "tank_frost",
            {"tanks": {"mark": "T1", "holds": "solids"}},
            "a tank that holds water (tank schedule)",
        ),
        (
            "carry_mass",
            {"tanks": {"mark": "T1", "holds": "grey"}},
            "a solids tank (tank schedule)",
        ),
        (
            "cleanable",
            {
                "rooms": [ROOM, ROOM | {"mark": "R2", "room": "Plant", "use": "plant"}],
                "finishes": {"mark": "N1", "room": "R2", "surface": "wall", "finish": "Ply"},
            },
            "finishes of shared rooms (finish schedule)",
        ),
        ("roof_u", {"envelope": WALL}, "layers of the roof (envelope layers)"),
        ("wall_u", {"envelope": WALL}, "layers of the wall with λ (envelope layers)"),
    ],
)
def test_rows_of_another_kind_only_leave_no_data_and_name_what_lacks(
    package, hold, check, tables, lacks
):
    found = hold(package(**tables), check, "yes" if CHECKS[check].rule is Rule.ALL else "1")
    assert found.state is State.NO_DATA
    assert lacks in found.missing


def test_past_forty_blank_cells_no_more_are_sought(package, hold):
    rooms = [ROOM | {"mark": f"R{n}", "room": f"Room {n}"} for n in range(1, 42)]
    found = hold(package(rooms=rooms), "floor_per_person", "1")
    assert len(found.missing) == 41
    assert all("Floor (room schedule)" in cell for cell in found.missing)
    few = hold(package(rooms=rooms[:1]), "floor_per_person", "1")
    assert any("Floor (room schedule)" not in cell for cell in few.missing)


GREY_TANK = {"mark": "T1", "holds": "grey", "litres": "100", "usable_share": "1"}
WC = {"mark": "F1", "use": "WC", "uses_a_day": "5", "l_each": "3", "goes_to": "black"}
BASIN = {"mark": "F2", "use": "Basin", "uses_a_day": "2", "l_each": "1.5", "goes_to": "grey"}
SITE = {"people": "4", "grey_l_pd": "5"}


def said_of(found):
    return [note.write() for note in found.notes]


def test_no_fixture_that_goes_to_a_tank_uses_nothing_of_it(package, hold):
    found = hold(package(fixtures=[WC]), "grey_made", "1")
    assert found.value == 0
    assert [step.write() for step in found.steps] == ["no fixture goes to grey"]


# By hand: 2 × 1.5 L = 3 L a day each of 4 people is 12 L a day, so that 100 L take 8.3 days.
def test_days_by_the_own_fixtures_stand_beside_the_briefs(package, hold):
    found = hold(package(fixtures=[WC, BASIN], tanks=GREY_TANK, site=SITE), "grey_days", "3")
    assert found.value == pytest.approx(5 * 86_400)
    assert said_of(found) == [
        "by the fixture schedule 3.00 L/day each, against the brief's 5.00 L/day: 8.3 days"
    ]


@pytest.mark.parametrize("fixtures", [[WC], [BASIN | {"uses_a_day": ""}]])
def test_fixtures_without_a_figure_are_said_and_change_no_verdict(package, hold, fixtures):
    found = hold(package(fixtures=fixtures, tanks=GREY_TANK, site=SITE), "grey_days", "3")
    assert found.state is State.MEETS
    assert "by the fixture schedule it can't be said: a cell of it has no figure" in said_of(found)


def test_a_seat_without_a_height_is_named(package, hold):
    seats = [SEAT | {"height_mm": "450"}, SEAT | {"mark": "U2"}]
    found = hold(package(furniture=seats), "furniture_heights", "yes")
    assert found.state is State.NO_DATA
    assert [cell[:2] for cell in found.missing] == ["U2"]


def test_stowage_without_anything_for_wet_gear_leaves_hooks_unknown(package, hold):
    stowage = {"mark": "S1", "what": "Locker", "for": "guest", "n": "4"}
    found = hold(package(stowage=stowage, site={"people": "4"}), "wet_hooks", "1")
    assert (found.state.word, found.value) == ("No data", None)
    assert found.missing == ("a row for wet gear (stowage schedule)",)
