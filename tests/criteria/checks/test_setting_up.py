"""Setting up and packing: the hand workings of the sequence library, typed as a schedule."""

import random
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.package import read_package
from criteria.schedules import BY_SLUG
from criteria.schedules.setting_up import SetUpStep
from criteria.setting_up.network import MOST_STEPS
from criteria.targets.reading import read_targets
from criteria.targets.words import figures_in, meaning_of
from criteria.units import System
from tests.criteria.checks.steps import FOURTEEN, SEVEN, SIX, STATES, changed, typed


@pytest.fixture
def built(package):
    def made(steps, crew="", **more):
        site = {"crew": crew} if crew else {}
        return package(steps=steps, states=STATES, site=site, **more)

    return made


@pytest.mark.parametrize(
    ("steps", "crew", "value"),
    [
        (SIX, "3", "50 min"),
        (SIX, "4", "45 min"),
        (FOURTEEN, "4", "185 min"),
        (FOURTEEN, "5", "175 min"),
        (FOURTEEN, "6", "175 min"),
        (SEVEN, "2", "16 min"),
    ],
)
def test_time_by_hand_is_the_least_and_proved(built, hold, steps, crew, value):
    found = hold(built(steps, crew), "setup_time", "120")
    assert found.write_value() == value
    assert f"{crew} people: {value}, the least, proved" in found.write_notes()
    assert f"with the brief's crew of {crew}" in found.write_notes()


def test_a_time_that_is_not_proved_says_what_no_plan_beats(built, hold):
    rng, rows = random.Random(1), []
    for n in range(1, 31):
        after = sorted(rng.sample(range(1, n), min(n - 1, rng.randint(0, 2))))
        minutes, people = rng.randint(5, 30), rng.randint(1, 4)
        rows.append(" ".join(map(str, (f"Q{n}", minutes, people, *(f"Q{k}" for k in after)))))
    finding = hold(built(typed(", ".join(rows)), "5"), "setup_time", "600")
    said = next(step.write() for step in finding.steps if "no plan beats" in step.write())
    most, least = (int(word) for word in re.findall(r"(\d+) min", said))
    assert least < most == finding.value / 60


def test_working_names_each_step_and_the_longest_chain(built, hold):
    found = hold(built(FOURTEEN, "5"), "setup_time", "120")
    lines = [step.write() for step in found.steps]
    assert lines[0] == "a: from 0 min to 15 min, 2 people"
    assert "c: from 45 min to 65 min, 4 people" in lines
    (chain,) = (line for line in lines if line.startswith("longest chain"))
    assert chain.startswith("longest chain, a, b, c, d, e, f, g, k, n: 15 min + 30 min + ")
    assert chain.endswith(" = 175 min")


def test_without_a_crew_it_is_as_many_as_one_step_needs(built, hold):
    found = hold(built(FOURTEEN), "setup_time", "200")
    assert (found.write_value(), found.state) == ("185 min", State.MEETS)
    assert (
        "the brief names no crew: with 4, as many as one step needs at once" in found.write_notes()
    )


# 3 people can't do c, d and f; 185 min of four is what even a larger crew would miss.
@pytest.mark.parametrize(("target", "state"), [("200", State.NO_DATA), ("120", State.OVER)])
def test_a_crew_that_is_too_small_never_meets(built, hold, target, state):
    found = hold(built(FOURTEEN, "3"), "setup_time", target)
    assert found.state is state
    assert found.missing == ("a crew of 4: c takes 4 at once, and there are 3",)


def test_packing_without_times_of_its_own_takes_as_long(built, hold):
    for steps, crew in ((SIX, "3"), (FOURTEEN, "4"), (FOURTEEN, "5")):
        up = hold(built(steps, crew), "setup_time", "1")
        back = hold(built(steps, crew), "pack_time", "1")
        assert (back.value, back.write_notes()) == (up.value, up.write_notes())
    # what is done first is undone last
    assert "a: from 160 min to 175 min, 2 people" in [step.write() for step in back.steps]


def test_packing_takes_its_own_minutes(built, hold):
    # the path is b a with b 5 min back: 10 + 5, by hand
    steps = changed(typed("a 10 1, b 20 1 a"), "b", minutes_back="5")
    assert hold(built(steps), "setup_time", "1").write_value() == "30 min"
    found = hold(built(steps), "pack_time", "1")
    assert found.write_value() == "15 min"
    assert [step.write() for step in found.steps][:2] == [
        "b: from 0 min to 5 min, 1 person",
        "a: from 5 min to 15 min, 1 person",
    ]


def test_the_step_that_takes_most_hands_is_named(built, hold):
    found = hold(built(FOURTEEN), "least_crew", "3")
    assert (found.write_value(), found.subject, found.state) == ("4", "c", State.OVER)
    assert hold(built(FOURTEEN), "least_crew", "4").state is State.MEETS


def test_work_is_minutes_times_people(built, hold):
    # 620 person-minutes, by hand
    found = hold(built(FOURTEEN), "person_hours", "9")
    assert found.value == 620 * 60
    assert found.write_value() == "10.3 h"


def test_a_lift_is_shared_and_its_height_said(built, hold):
    # 160 kg ÷ 4 = 40 kg, by hand
    steps = [row | {"kg": "0"} for row in FOURTEEN]
    steps = changed(steps, "d", kg="160", lift_to="1900")
    found = hold(built(steps), "heaviest_set_up_lift", "25")
    assert (found.write_value(), found.name, found.state) == ("40 kg", "Do d", State.OVER)
    assert found.steps[0].write() == "160 kg ÷ 4 people = 40 kg"
    assert found.write_notes() == (
        "lifted to 1\u202f900 mm",
        "over 1\u202f400 mm with more than 10 kg each: from what do they stand?",
    )
    light = changed(steps, "d", kg="40")  # ten each: not more than ten
    assert hold(built(light), "heaviest_set_up_lift", "25").write_notes() == (
        "lifted to 1\u202f900 mm",
    )


def test_a_lift_of_no_known_mass_is_no_data(built, hold):
    steps = changed([row | {"kg": "0"} for row in SIX], "B", kg="")
    found = hold(built(steps), "heaviest_set_up_lift", "25")
    assert (found.state, found.missing) == (State.NO_DATA, ("B, Weight (set-up steps)",))


# which steps count


def test_the_change_from_day_to_night_is_no_setting_up(built, hold):
    night = {
        "mark": "N",
        "step": "Make beds",
        "from": "day",
        "to": "night",
        "minutes": "60",
        "people": "9",
        "after": "F",
    }
    away = night | {"mark": "P", "from": "night", "to": "packed", "after": ""}
    found = hold(built([*SIX, night, away], "4"), "setup_time", "45")
    assert found.write_value() == "45 min"
    assert "not from packed to set up, so not counted: N, P" in found.write_notes()
    assert hold(built([*SIX, night, away]), "least_crew", "3").state is State.MEETS


def test_a_step_that_waits_for_one_that_does_not_count_is_said(built, hold):
    steps = changed(changed(SIX, "B", **{"from": "day", "to": "night"}), "D", after="B")
    found = hold(built(steps, "4"), "setup_time", "600")
    said = "a figure that can be: step D comes after B, which is no part of setting up"
    assert (found.state, found.missing) == (State.NO_DATA, (said,))


def test_blank_states_are_from_packed_to_set_up_in_a_brief_that_names_none(package, hold):
    steps = [row | {"from": "", "to": ""} for row in SIX]
    assert hold(package(steps=steps), "setup_time", "60").write_value() == "50 min"


def test_what_is_lifted_off_the_road_counts_and_what_is_set_on_it_does_not(package, hold):
    states = [*STATES, {"state": "hook", "kind": "lift"}]
    off, down, back = typed("H 30 2, J 20 2 H, K 90 2 J")
    off |= {"to": "hook"}
    down |= {"from": "hook"}
    back |= {"from": "hook", "to": "packed"}
    found = hold(package(states=states, steps=[off, down, back]), "setup_time", "60")
    assert found.write_value() == "50 min"
    assert "not from packed to set up, so not counted: K" in found.write_notes()


@pytest.mark.parametrize(("height", "is_asked"), [("1400", False), ("1401", True)])
def test_a_lift_over_shoulder_height_is_asked_about(built, hold, height, is_asked):
    steps = [row | {"kg": "60", "lift_to": height} for row in typed("A 5 2")]
    notes = hold(built(steps), "heaviest_set_up_lift", "40").write_notes()
    assert any("from what do they stand" in note for note in notes) is is_asked


def test_no_step_of_setting_up_is_no_data(built, hold):
    steps = [row | {"from": "day", "to": "night"} for row in SIX]
    for check in ("setup_time", "pack_time", "least_crew", "person_hours", "open_to_rain"):
        found = hold(built(steps), check, "60")
        assert found.state is State.NO_DATA
        assert found.missing == ("a step from packed to set up (set-up steps)",)


# what can't be read


@pytest.mark.parametrize(
    ("mark", "after", "said"),
    [
        ("A", "Z", "step A comes after Z, which is no step"),
        ("A", "A", "steps go round in a circle: A after A"),
        ("A", "F", "steps go round in a circle: A after F after D after C after A"),
        ("C", "A, B", "step C comes after A,, which is no step"),
    ],
)
def test_an_order_that_cannot_be_is_said_in_full(built, hold, mark, after, said):
    there = built(changed(SIX, mark, after=after))
    for check in ("setup_time", "pack_time"):
        found = hold(there, check, "60")
        assert (found.state, found.missing) == (State.NO_DATA, (f"a figure that can be: {said}",))


@pytest.mark.parametrize(
    ("head", "text", "said"),
    [
        ("minutes", "", "C, Minutes (set-up steps)"),
        ("people", "", "C, People (set-up steps)"),
        ("minutes", "1.5", "C, Minutes (set-up steps): read “1.5”"),
        ("minutes", "0", "C, Minutes (set-up steps): read “0”"),
        ("people", "1e9", "C, People (set-up steps): read “1e9”"),
        ("from", "roadside", "C, From (set-up steps): read “roadside”"),
        ("after", "A " * 300, "C, After (set-up steps): read “A A A"),
    ],
)
def test_a_cell_that_cannot_be_read_is_named(hold, head, text, said):
    steps = changed(SIX, "C", **{head: text})
    found = hold(read_package({"steps": steps, "states": STATES}).package, "setup_time", "600")
    assert found.state is State.NO_DATA
    assert found.missing[0].startswith(said)


def test_a_crew_that_cannot_be_read_leaves_no_time(hold):
    tables = {"steps": SIX, "states": STATES, "site": [{"crew": "a few"}]}
    found = hold(read_package(tables).package, "setup_time", "600")
    assert found.state is State.NO_DATA
    assert found.missing[0].startswith("People who set up (site sheet): read “a few”")


def test_a_mark_twice_closes_the_schedule(hold):
    tables = {"steps": [*SIX, SIX[0]], "states": STATES}
    found = hold(read_package(tables).package, "setup_time", "600")
    assert found.state is State.NO_DATA
    assert "row 7, Mark (set-up steps): read “A”" in found.missing[0]


def test_a_state_whose_kind_cannot_be_read_leaves_nothing_counted(hold):
    tables = {"steps": SIX, "states": [{"state": "packed", "kind": "wheels"}]}
    found = hold(read_package(tables).package, "setup_time", "600")
    assert found.state is State.NO_DATA
    assert "packed, Kind (states): read “wheels”" in found.missing[0]


def test_more_steps_than_are_searched_are_refused(hold):
    steps = typed(",".join(f"s{n} 1 1" for n in range(MOST_STEPS + 1)))
    tables = {"steps": steps, "states": STATES}
    found = hold(read_package(tables).package, "setup_time", "600")
    assert found.missing == ("a figure that can be: 201 steps; expected at most 200",)


# properties


@st.composite
def sequences(draw):
    rows = []
    for n in range(draw(st.integers(1, 9))):
        before = draw(st.sets(st.integers(0, n - 1), max_size=2)) if n else set()
        time, people = draw(st.integers(1, 20)), draw(st.integers(1, 4))
        rows.append(f"s{n} {time} {people} " + " ".join(f"s{k}" for k in sorted(before)))
    return typed(",".join(rows))


def minutes(check, steps, crew):
    tables = {"steps": steps, "states": STATES, "site": [{"crew": str(crew)}]}
    (found,) = CHECKS[check].of(read_package(tables).package)
    assert not found.missing
    return found.values[0] / 60


@settings(max_examples=25)
@given(sequences())
def test_time_never_grows_with_people_and_packing_takes_the_same(steps):
    found = [minutes("setup_time", steps, crew) for crew in (4, 5, 7)]
    assert found == sorted(found, reverse=True)
    assert found == [minutes("pack_time", steps, crew) for crew in (4, 5, 7)]


@settings(max_examples=15)
@given(sequences(), st.data())
def test_packing_with_other_minutes_is_setting_up_backwards(steps, data):
    back = [data.draw(st.integers(1, 20)) for _ in steps]
    after = {row["mark"]: row["after"].split() for row in steps}
    turned = [
        row | {"minutes": str(b), "after": " ".join(m for m in after if row["mark"] in after[m])}
        for row, b in zip(steps, back, strict=True)
    ]
    undone = [row | {"minutes_back": str(b)} for row, b in zip(steps, back, strict=True)]
    assert minutes("pack_time", undone, 4) == minutes("setup_time", turned, 4)


# words of briefs, one definition


@pytest.mark.parametrize(
    ("words", "check"),
    [
        ("Set-up time by a crew of 4", "setup_time"),
        ("Time to pack", "pack_time"),
        ("Heaviest set-up lift", "heaviest_set_up_lift"),
        ("Person-hours to set up", "person_hours"),
        ("Minutes open to rain", "open_to_rain"),
        ("Least crew", "least_crew"),
    ],
)
def test_a_brief_that_names_a_check_in_words(words, check):
    assert meaning_of(words).check == check


def test_a_brief_gives_its_crew_in_words():
    assert figures_in("Set-up time by a crew of 4") == {"crew": "4"}


def test_a_target_in_hours_is_read(built, hold):
    assert read_targets([{"id": "T1", "check": "setup_time", "value": "2 h"}]).targets
    assert hold(built(SIX), "setup_time", "1 h").state is State.MEETS


def test_the_schedule_is_typed_shown_and_written_in_both_units():
    schedule = BY_SLUG["steps"]
    assert schedule.row is SetUpStep
    column = schedule.column("lift_to")
    assert (column.unit(System.METRIC), column.unit(System.US)) == ("mm", "in")
    row = schedule.parse({"mark": "Q1", "step": "Lift", "lift_to": "3'", "kg": "22 lb"})
    assert (row.lift_to_m, round(row.mass_kg, 3)) == (0.9144, 9.979)
    assert schedule.parse(schedule.record(row)).lift_to_m == pytest.approx(0.9144)
