"""What steps of setting up need beside hands: tools, weather, adults."""

import pytest

from criteria.package import read_package
from tests.criteria.checks.steps import FOURTEEN, SIX, STATES, changed, typed


@pytest.fixture
def built(package):
    def made(steps, crew=""):
        return package(steps=steps, states=STATES, site={"crew": crew} if crew else {})

    return made


def test_two_steps_with_one_tool_are_never_done_at_once(built, hold):
    # by hand: 10 and 20 min beside each other are 20, one after another 30
    steps = typed("a 10 1, b 20 1, c 5 1")
    assert hold(built(steps, "2"), "setup_time", "60").write_value() == "20 min"
    shared = [
        row | {"tool": tool}
        for row, tool in zip(steps, ("Winch", "winch, jack", "jack"), strict=True)
    ]
    found = hold(built(shared, "2"), "setup_time", "60")
    assert found.write_value() == "30 min"
    assert {"winch: 1 for a, b", "jack: 1 for b, c"} <= set(found.write_notes())
    back = hold(built(shared, "2"), "pack_time", "60")
    assert back.write_value() == "30 min"


def test_there_are_as_many_of_a_tool_as_one_step_takes(built, hold):
    steps = changed(changed(typed("a 10 1, b 20 1, c 5 1"), "a", tool="jack"), "b", tool="jack")
    assert hold(built(steps, "3"), "setup_time", "60").write_value() == "30 min"
    more = changed(steps, "c", tool="jack × 2")  # then a and b go together, c before or after
    found = hold(built(more, "3"), "setup_time", "60")
    assert (found.write_value(), "jack: 2 for a, b, c" in found.write_notes()) == ("25 min", True)


def test_a_tool_that_cannot_be_read_is_named(hold):
    tables = {"steps": changed(SIX, "B", tool="w" * 999), "states": STATES}
    found = hold(read_package(tables).package, "setup_time", "600")
    assert found.missing[0].startswith("B, Tool (set-up steps): read “www")


@pytest.mark.parametrize(
    ("gust", "said"),
    [
        ("32", ", where the design gust is 32.0 m/s"),
        ("", ""),
        ("8", None),
    ],
)
def test_a_step_that_bears_less_wind_than_the_site_has_is_asked_about(package, hold, gust, said):
    steps = changed(changed(SIX, "B", gust_most="8"), "D", gust_most="8")
    steps = changed(steps, "F", gust_most="12")
    site = {"gust_ms": gust} if gust else {}
    notes = hold(package(steps=steps, states=STATES, site=site), "setup_time", "60").write_notes()
    assert [note for note in notes if "gust" in note] == (
        [] if said is None else [f"in gusts up to 8.0 m/s alone: B, D{said}. On how many days?"]
    )


def test_a_dry_step_done_while_it_stands_open_is_said(built, hold):
    # by hand, 4 people: A and B from 0 to 10, C from 10 to 30, D from 30 to 40, F from 40 to 45
    open_ = changed(changed(SIX, "A", opens="gap"), "C", closes="gap")
    during = hold(built(changed(open_, "C", dry="yes"), "4"), "open_to_rain", "60")
    said = "in dry weather alone, and done while it stands open: C"
    assert said in during.write_notes()
    after = hold(built(changed(open_, "D", dry="yes"), "4"), "open_to_rain", "60")
    assert not any("dry" in note for note in after.write_notes())


def test_how_many_must_be_adults_is_said(built, hold):
    steps = changed(changed(FOURTEEN, "a", adult="yes"), "c", adult="yes")
    notes = hold(built(changed(steps, "d", adult="no")), "least_crew", "4").write_notes()
    assert notes == ("4 of them adults: children keep away from a, c",)
    assert not hold(built(FOURTEEN), "least_crew", "4").write_notes()


def test_a_panel_held_by_hand_says_in_what_gust(package, hold):
    # states-steps' oracle: four people, 15.6 m²: √(4 · 250 ÷ (0.613 · 1.2 · 15.6)) = 9.335 m/s
    pieces = [{"mark": "M4", "piece": "Wall", "l_m": "6", "w_m": "2.6", "h_m": "0.1"}]
    lifted = {"people": "4", "kg": "80", "pieces": "M4"}

    def notes(gust="20", **cells):
        steps = changed(SIX, "B", **lifted | cells)
        made = package(steps=steps, states=STATES, pieces=pieces, site={"gust_ms": gust})
        said = hold(made, "setup_time", "60").write_notes()
        return [note for note in said if "by hand" in note]

    words = "B: 4 can hold 15.60 m² by hand in gusts up to 9.3 m/s. And in a stronger one?"
    assert notes() == [words]
    assert notes(gust_most="9") == []  # it is done in less wind than they hold
    assert notes(gust_most="10") == [words]
    assert notes(gust="9.3") == notes(kg="0") == notes(pieces="") == []


SUN = {"latitude": "51.5"}


def long(minutes):
    return changed(typed("a 10 1"), "a", minutes=str(minutes))


@pytest.mark.parametrize(
    ("tables", "minutes", "said"),
    [
        # London, winter solstice: 7 h 50 by almanacs
        ({}, 465, None),
        ({}, 475, "longer than the shortest day in Dec, 7.8 h of sun"),
        # from June to August the last of August is the shortest, 13 h 33
        ({"cases": [{"case": "a", "people": "1", "from": "Jun", "to": "Aug"}]}, 475, None),
        ({"cases": [{"case": "a", "people": "1", "from": "Jun", "to": "Aug"}]}, 830, "in Aug, 13."),
        ({"climate": [{"month": "Jan", "open": "no"}, {"month": "Jun"}]}, 830, None),
        ({"site": {"latitude": "-51.5"}}, 475, "in Jun, 7.8 h"),
        ({"site": {"latitude": "75"}}, 10, "in Dec, 0.0 h"),
        ({"site": {}}, 9000, None),
    ],
)
def test_what_takes_longer_than_the_shortest_day_is_asked_about(
    package, hold, tables, minutes, said
):
    made = package(steps=long(minutes), states=STATES, **{"site": SUN} | tables)
    for check in ("setup_time", "pack_time"):
        notes = [n for n in hold(made, check, "9999").write_notes() if "dark" in n]
        assert len(notes) == bool(said)
        assert not said or said in notes[0]


BED = {"mark": "U1", "item": "Bunk", "kind": "bed"}
TANK = {"mark": "T1", "holds": "grey"}


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        ([], "that tanks are drained, that the stove is cold, that bedding is dry"),
        (["Drain both tanks", "Carry the ash out"], "that bedding is dry"),
        (["Pump out, air the mattresses, let the stove cool"], ""),
    ],
)
def test_packing_asks_for_what_no_step_sees_to(package, hold, steps, said):
    extra = [
        typed(f"p{n} 5 1")[0] | {"step": words, "from": "day", "to": "packed"}
        for n, words in enumerate(steps)
    ]
    tables = {"steps": [*SIX, *extra], "states": STATES}
    lived = package(**tables, furniture=[BED], tanks=[TANK], plant={"heater": "wood stove"})
    notes = [n for n in hold(lived, "pack_time", "60").write_notes() if "no step says" in n]
    assert notes == ([f"no step says {said}: who sees to it?"] if said else [])
    assert not any("no step says" in n for n in hold(lived, "setup_time", "60").write_notes())
    bare = package(**tables, tanks=[{"mark": "T1", "holds": "solids"}])
    assert not any("no step says" in n for n in hold(bare, "pack_time", "60").write_notes())
