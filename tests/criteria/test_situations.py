"""A package in its states, and for the people of each case."""

from dataclasses import replace

import pytest

from criteria.check_sheet.sheet import check_sheet
from criteria.checks.catalogue import CATALOGUE
from criteria.findings import State, nowhere
from criteria.package import read_package
from criteria.schedules import BY_SLUG, beside, marks_known
from criteria.schedules.by_state import STATE_ROWS, RoomState
from criteria.schedules.states import STATE_KINDS
from criteria.situations import Situation, situations, states_of
from criteria.targets.reading import read_targets
from tests.criteria.variants import PACKAGES, typed

NIGHT = {"state": "night", "kind": "night"}
PACKED = {"state": "packed", "kind": "road"}
EVERYDAY = {"case": "everyday", "people": "3", "days": "285"}
WEEKEND = {"case": "weekend", "people": "5", "days": "80"}
TANK = {"mark": "T1", "holds": "potable", "litres": "120 ft3", "usable_share": "0.9"}
SITE = {"water_l_pd": "5 gal/day", "people": "9"}


@pytest.fixture
def stored(package):
    """120 ft³ of water, nine tenths of it usable, for a brief of 5 US gallons each a day."""

    def made(*cases, **more):
        return package(tanks=TANK, site=SITE, cases=list(cases), **more)

    return made


# cases of people


# 120 ft³ = 3.398022 m³, 3.058219 usable; 5 gal = 18.92706 L. By hand.
@pytest.mark.parametrize(("case", "days"), [(EVERYDAY, 53.8597), (WEEKEND, 32.3158)])
def test_water_lasts_as_long_as_each_case_draws_it(stored, hold, case, days):
    finding = hold(stored(case), "water_days", "30")
    assert finding.value / 86400 == pytest.approx(days, abs=5e-5)
    assert (finding.in_case, finding.situation) == (case["case"], f"case {case['case']}")


def test_the_question_says_of_whom_it_is_asked(stored, hold):
    finding = hold(stored(EVERYDAY, WEEKEND), "water_days", "40")
    assert finding.question.startswith("Case weekend: 32.3 days of water, against 40.0 days.")
    assert hold(stored(), "water_days", "40").question.startswith("18.0 days of water")


def test_the_worst_case_decides_and_the_others_stand_below_it(stored, hold):
    finding = hold(stored(EVERYDAY, WEEKEND), "water_days", "40")
    assert (finding.state, finding.in_case) == (State.SHORT, "weekend")
    assert [m.in_case for m in finding.worst_first] == ["weekend", "everyday"]


def test_a_target_may_be_for_one_case(stored, hold):
    finding = hold(stored(EVERYDAY, WEEKEND), "water_days", "40", case="everyday")
    assert (finding.state, finding.in_case) == (State.MEETS, "everyday")


def test_a_case_that_no_brief_names_is_no_data(stored, hold):
    finding = hold(stored(EVERYDAY), "water_days", "40", case="summer")
    assert (finding.state, finding.missing) == (State.NO_DATA, ("a case “summer” (people cases)",))


def test_a_case_that_is_not_held_is_shown_and_decides_nothing(stored, hold):
    finding = hold(stored(EVERYDAY, WEEKEND | {"held": "no"}), "water_days", "40")
    assert (finding.state, finding.in_case) == (State.MEETS, "everyday")
    assert [m.in_case for m in finding.worst_first] == ["everyday", "weekend"]


def test_a_target_for_a_case_that_is_not_held_holds_it(stored, hold):
    shown = stored(EVERYDAY, WEEKEND | {"held": "no"})
    assert hold(shown, "water_days", "40", case="weekend").state is State.SHORT


def test_people_of_a_case_that_cannot_be_read_leave_no_verdict(hold):
    reading = read_package(
        {"tanks": [TANK], "site": [SITE], "cases": [EVERYDAY, {"case": "fair", "people": "many"}]}
    )
    finding = hold(reading.package, "water_days", "40")
    assert finding.state is State.NO_DATA
    assert "fair, People (people cases): read “many”" in finding.missing[0]


def test_whether_a_case_is_held_that_cannot_be_read_leaves_no_verdict(hold):
    fair = {"case": "fair", "people": "9", "held": "maybe"}
    reading = read_package({"tanks": [TANK], "site": [SITE], "cases": [EVERYDAY, fair]})
    finding = hold(reading.package, "water_days", "40")
    assert finding.state is State.NO_DATA
    assert finding.missing[0].startswith("fair, Held to the targets (people cases): read “maybe”")


def test_sleepers_of_a_case_are_its_people_where_it_says_no_more(package, hold, room):
    rooms = [room(use="sleep", sleepers="4")]
    cases = [EVERYDAY, WEEKEND | {"sleepers": "4"}, WEEKEND | {"case": "fair"}]
    finding = hold(package(rooms=rooms, cases=cases), "sleeping_places", "0")
    assert [(m.in_case, m.values[0]) for m in finding.worst_first] == [
        ("fair", -1), ("weekend", 0), ("everyday", 1),
    ]  # fmt: skip


def test_people_of_other_cases_are_not_counted_by_day(package, hold, room):
    walkers = {"mark": "O1", "who": "Walkers", "n": "3"}
    choir = {"mark": "O2", "who": "Choir", "n": "12", "cases": "weekend fair"}
    there = package(rooms=[room(floor="30")], occupants=[walkers, choir], cases=[EVERYDAY, WEEKEND])
    finding = hold(there, "floor_by_day", "2")
    assert [(m.in_case, m.values[0]) for m in finding.worst_first] == [
        ("weekend", 2), ("everyday", 10),
    ]  # fmt: skip


def test_what_each_person_has_is_counted_by_the_case(package, hold):
    lamps = {
        "mark": "L1",
        "item": "Lamp",
        "n": "1",
        "w_each": "10",
        "h_day": "10",
        "for_each": "yes",
    }
    fridge = {"mark": "L2", "item": "Fridge", "n": "1", "w_each": "50", "h_day": "10"}
    there = package(
        loads=[lamps, fridge],
        power={"battery_kwh": "2", "usable_share": "0.8"},
        cases=[EVERYDAY, WEEKEND],
    )
    finding = hold(there, "battery_days", "1")
    # 2,000 Wh × 0.8 ÷ (50 + 10 × people) Wh/h ÷ 10 h, by hand
    assert [m.values[0] / 86400 for m in finding.worst_first] == pytest.approx([1.6, 2.0])


# states


def test_without_states_there_is_one_situation_and_it_has_no_name(package, hold, room):
    there = package(rooms=[room(use="sleep", sleepers="2")], site={"people": "2"})
    assert situations(there, ("night",), by_people=True) == (Situation(),)
    assert hold(there, "floor_per_sleeper", "4").situation == ""


def test_who_sleeps_where_follows_the_state(package, hold, room):
    rooms = [room(), room("R2", floor="8", use="sleep", sleepers="2")]
    night = {"room": "R1", "state": "night", "use": "sleep", "sleepers": "4"}
    finding = hold(package(rooms=rooms, rooms_by_state=night), "floor_per_sleeper", "3")
    assert (finding.subject, finding.value, finding.situation) == ("R1", 2.5, "state night")


def test_a_blank_cell_of_a_state_is_as_in_the_base_row_and_nought_is_nought(package, room):
    rooms = [room("R1", use="sleep", sleepers="2")]
    rows = [{"room": "R1", "state": "night"}, {"room": "R1", "state": "day", "sleepers": "0"}]
    there = package(rooms=rooms, rooms_by_state=rows)
    by_name = {state.state: Situation(state).of(there) for state in states_of(there)}
    assert {name: there.rooms[0].sleepers for name, there in by_name.items()} == {
        "day": 0,
        "night": 2,
    }


def test_a_night_of_two_states_is_decided_by_the_worse(package, hold, room):
    states = [NIGHT, {"state": "storm", "kind": "night"}, PACKED]
    storm = {"room": "R1", "state": "storm", "sleepers": "5"}
    there = package(states=states, rooms=room(use="sleep", sleepers="2"), rooms_by_state=storm)
    finding = hold(there, "floor_per_sleeper", "4")
    assert [(m.in_state, m.values[0]) for m in finding.worst_first] == [("storm", 2), ("night", 5)]


def test_states_that_do_not_differ_stand_together(package, hold, room):
    states = [NIGHT, {"state": "storm", "kind": "night"}]
    there = package(states=states, rooms=room(use="sleep", sleepers="2"))
    finding = hold(there, "floor_per_sleeper", "4")
    assert [m.in_state for m in finding.worst_first] == ["night, storm"]


def test_seats_follow_the_state(package, hold):
    bench = {
        "mark": "U1",
        "item": "Bench",
        "kind": "seat",
        "n": "2",
        "day": "3",
        "seats_at_night": "1",
    }
    night = {"mark": "U1", "state": "night", "seats": "0"}
    evening = {"mark": "U1", "state": "evening", "seats": "2"}
    there = package(
        states=[{"state": "evening", "kind": "other"}, NIGHT],
        furniture=bench, furniture_by_state=[night, evening], site={"people": "6"},
    )  # fmt: skip
    assert hold(there, "night_seats", "0").value == 0
    finding = hold(there, "day_seats", "0")
    assert [(m.in_state, m.values[0]) for m in finding.worst_first] == [("evening", -2), ("day", 0)]


@pytest.mark.parametrize(("inside", "seats"), [("M3", 0), ("none", 3), ("", 3)])
def test_what_is_put_away_seats_nobody(package, inside, seats):
    bench = {"mark": "U1", "item": "Bench", "kind": "seat", "day": "3"}
    away = {"mark": "U1", "state": "day", "inside": inside}
    there = package(furniture=bench, furniture_by_state=away)
    day = next(state for state in states_of(there) if state.state == "day")
    assert (
        sum(row.day for row in Situation(day).of(there).rows_of(type(there.furniture[0]))) == seats
    )


def test_a_room_that_is_folded_in_takes_what_is_in_it_along(package, room, window):
    there = package(
        states=PACKED,
        rooms=[room("R1"), room("R2")], windows=[window("W1", "R1"), window("W2", "R2")],
        furniture={"mark": "U1", "item": "Bed", "kind": "bed", "room": "R2"},
        doors={"mark": "D1", "place": "Hatch", "room": "R2"},
        rooms_by_state={"room": "R2", "state": "packed", "absent": "yes"},
    )  # fmt: skip
    packed = Situation(there.states[0]).of(there)
    assert [row.mark for row in packed.rooms] == ["R1"]
    assert [row.mark for row in packed.windows] == ["W1"]
    assert packed.rows_of(type(there.furniture[0])) == ()
    assert packed.rows_of(type(there.doors[0])) == ()


def test_a_door_of_a_room_that_is_folded_in_stops_no_check(package, hold, room):
    door = {"mark": "D1", "place": "Hatch", "room": "R2", "faces": "S", "left": "500",
            "leaf_w": "800", "clear_w": "750", "swing": "in", "hinge": "left"}  # fmt: skip
    there = package(
        rooms=[room("R1"), room("R2")],
        doors=door,
        rooms_by_state={"room": "R2", "state": "day", "absent": "yes"},
    )
    finding = hold(there, "doors_open_fully", "yes")
    assert finding.missing  # of the night's plan, and never an error


ESCAPE = {"opens": "side-hung", "escape_w": "600", "escape_h": "1000", "sill": "900"}


@pytest.mark.parametrize("differs", [{"covered_by": "U3"}, {"locked": "yes"}])
def test_a_window_that_is_covered_or_locked_at_night_is_no_way_out(
    package, hold, room, window, differs
):
    rooms = room(use="sleep", sleepers="2")
    cells = {"rooms": rooms, "windows": window(**ESCAPE)}
    assert hold(package(**cells), "escape_window", "yes").state.is_met
    shut = package(**cells, openings_by_state={"mark": "W1", "state": "night", **differs})
    finding = hold(shut, "escape_window", "yes")
    assert (finding.state, finding.situation) == (State.SHORT, "state night")


def test_a_locked_door_is_no_way_out_though_it_is_one_by_day(package, hold, room):
    door = {
        "mark": "D1",
        "place": "Porch",
        "outside": "yes",
        "clear_w": "900",
        "height": "2000",
        "room": "R1",
    }
    there = package(
        rooms=room(use="sleep", sleepers="2"), doors=door, windows=[],
        openings_by_state={"mark": "D1", "state": "night", "locked": "yes"},
    )  # fmt: skip
    assert hold(there, "escape_window", "yes").state is State.SHORT


def test_a_state_may_say_how_many_are_in_it(package, hold, room):
    states = [{"state": "supper", "kind": "other", "people": "10"}]
    there = package(rooms=room(floor="20"), states=states, site={"people": "4"})
    finding = hold(there, "floor_per_person", "3")
    assert [(m.situation, m.values[0]) for m in finding.worst_first] == [
        ("state supper", 2), ("states day, night", 5),
    ]  # fmt: skip


def test_the_package_as_it_stands_is_its_own_only_situation(package):
    there = package(site={"people": "4"})
    assert Situation().of(there) is there


def test_a_length_typed_in_inches_for_a_state_is_in_inches_there(package):
    bed = {"mark": "U1", "item": "Bed", "kind": "bed", "height_mm": "450"}
    night = {"mark": "U1", "state": "night", "h": "17 in"}
    there = package(furniture=bed, furniture_by_state=night)
    by_state = {state.state: Situation(state).of(there).furniture[0] for state in states_of(there)}
    inches = {state: row.is_in_inches("height_m") for state, row in by_state.items()}
    assert inches == {"day": False, "night": True}


def test_schedules_of_states_stand_beside_their_base_and_know_its_marks(room):
    assert [each.slug for each in beside(RoomState.schedule)] == ["rooms"]
    assert beside(BY_SLUG["rooms"]) == (RoomState.schedule,)
    assert beside(BY_SLUG["loads"]) == ()
    marks = marks_known(RoomState.schedule, {"rooms": [room()], "states": [PACKED]})
    assert marks == {"rooms": ["R1"], "states": ["packed", "day", "night"]}


# what can't be read


def test_a_cell_of_a_state_that_cannot_be_read_is_named_by_its_own_row(hold, room):
    reading = read_package({
        "rooms": [room(use="sleep", sleepers="2")],
        "rooms_by_state": [{"room": "R1", "state": "night", "sleepers": "few"}],
    })  # fmt: skip
    finding = hold(reading.package, "floor_per_sleeper", "4")
    assert finding.state is State.NO_DATA
    assert finding.missing[0].startswith("R1 night, Sleepers (rooms by state): read “few”")


def test_whether_a_room_is_there_cannot_be_guessed(hold, room):
    reading = read_package({
        "rooms": [room(use="sleep", sleepers="2")],
        "rooms_by_state": [{"room": "R1", "state": "night", "absent": "maybe"}],
    })  # fmt: skip
    finding = hold(reading.package, "floor_per_sleeper", "4")
    assert finding.state is State.NO_DATA
    assert finding.missing[0].startswith("R1 night, Not there (rooms by state): read “maybe”")


@pytest.mark.parametrize(
    ("row", "label"),
    [
        ({"room": "R9", "state": "night"}, "Room"),
        ({"room": "R1", "state": "dusk"}, "State"),
        ({"room": "R1", "state": ""}, "State"),
    ],
)
def test_a_row_that_changes_nothing_known_closes_its_schedule(hold, room, row, label):
    reading = read_package({"rooms": [room(use="sleep", sleepers="2")], "rooms_by_state": [row]})
    assert [cell.column for cell in reading.refused["rooms_by_state"]] == [label]
    assert hold(reading.package, "floor_per_sleeper", "4").state is State.NO_DATA


def test_a_state_said_twice_of_one_room_is_refused(room):
    twice = [{"room": "R1", "state": "night", "sleepers": n} for n in "24"]
    reading = read_package({"rooms": [room()], "rooms_by_state": twice})
    assert [(c.row, c.read) for c in reading.refused["rooms_by_state"]] == [(2, "R1 night")]


def test_rows_of_one_room_in_two_states_are_told_apart(room):
    rows = [{"room": "R1", "state": state} for state in ("day", "night")]
    reading = read_package({"rooms": [room()], "rooms_by_state": rows})
    assert not reading.refused
    assert [row.key for row in reading.package.rooms_by_state] == ["R1 day", "R1 night"]


def test_a_target_for_a_case_of_what_is_for_all_is_refused():
    row = {
        "id": "T01",
        "check": "ramp_slope",
        "rule": "at most",
        "value": "1",
        "case": "weekend",
    }
    (cell,) = read_targets([row]).refused
    assert (cell.column, cell.read) == ("In case", "weekend")


# the catalogue


@pytest.mark.parametrize("key", PACKAGES, ids="".join)
def test_every_figure_that_changes_with_the_people_is_asked_for_each_case(key):
    tables, _ = typed(key)
    package = read_package(tables).package
    more = package.but(site=package.site.but(people=package.site.people + 5))
    for check in CATALOGUE:
        changes = [m.values for m in check.of(package)] != [m.values for m in check.of(more)]
        knows = check.by_people or "cases" in check.schedules
        assert knows or not changes, check.slug


@pytest.mark.parametrize("key", PACKAGES, ids="".join)
def test_states_and_a_case_that_say_nothing_new_leave_every_finding_as_it_was(key):
    tables, targets = typed(key)
    changing = {"states", "cases", "steps", *(row.schedule.slug for row in STATE_ROWS)}
    tables = {slug: rows for slug, rows in tables.items() if slug not in changing}
    people = tables["site"][0]["people"]
    named = {
        "states": [NIGHT, PACKED, {"state": "day", "kind": "day"}],
        "cases": [{"case": "all", "people": people}],
    }
    was = check_sheet(read_package(tables).package, targets)
    now = check_sheet(read_package(tables | named).package, targets)
    for before, after in zip(was.findings, now.findings, strict=True):
        plain = [replace(m, in_state="", in_case="", reach=nowhere) for m in after.worst_first]
        assert plain == [replace(m, reach=nowhere) for m in before.worst_first]
        assert replace(after, in_state="", in_case="", worst_first=()) == replace(
            before, worst_first=()
        )
    assert any(finding.situation for finding in now.asked)


def test_a_check_is_asked_in_kinds_of_state_that_there_are():
    assert {kind for check in CATALOGUE for kind in check.kinds} <= set(STATE_KINDS)
