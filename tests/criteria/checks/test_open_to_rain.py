"""What stands open to rain while a building is set up, by hand."""

import pytest

from criteria.findings import State
from tests.criteria.checks.steps import FOURTEEN, SIX, STATES, changed, typed


@pytest.fixture
def built(package):
    def made(steps, crew="", **more):
        site = {"crew": crew} if crew else {}
        return package(steps=steps, states=STATES, site=site, **more)

    return made


def test_open_from_the_start_of_what_opens_to_the_end_of_what_closes(built, hold):
    # c starts at 45 and k ends at 155 by the longest chain: 110, and no crew makes it less
    steps = changed(changed(FOURTEEN, "c", opens="Roof gap"), "k", closes="roof gap")
    for crew in ("5", "6"):
        found = hold(built(steps, crew), "open_to_rain", "60")
        assert (found.write_value(), found.state) == ("110 min", State.OVER)
        lines = [step.write() for step in found.steps]
        assert lines == [
            "roof gap: from 45 min, at the start of c, to 155 min, at the end of k",
            "(155 min − 45 min) = 110 min",
        ]
        assert found.write_notes()[0] == "roof gap: never less than 110 min, by any crew"


def test_what_is_open_at_one_time_is_counted_once_and_gaps_apart_are_added(built, hold):
    # a 0–10 opens and closes x; b 10–30 opens y, c 30–35 closes y, d 35–40: z open in d; by hand
    steps = typed("a 10 1, b 20 1 a, c 5 1 b, d 5 1 c, e 7 1 d")
    for mark, cells in (
        ("a", {"opens": "x", "closes": "x"}),
        ("c", {"opens": "y, z"}),
        ("d", {"closes": "y"}),
        ("e", {"closes": "z"}),
    ):
        steps = changed(steps, mark, **cells)
    found = hold(built(steps), "open_to_rain", "1")
    assert found.steps[-1].write() == "(10 min − 0 min) + (47 min − 30 min) = 27 min"


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({}, "what a step opens to rain, or “none” (set-up steps)"),
        ({"A": {"opens": "gap"}}, "a step that closes “gap” (set-up steps)"),
        ({"A": {"opens": "none", "closes": "gap"}}, "a step that opens “gap” (set-up steps)"),
        (
            {"A": {"closes": "gap"}, "F": {"opens": "gap"}},
            "a figure that can be: “gap” is closed by A before F opens it",
        ),
    ],
)
def test_what_opens_and_never_closes_is_no_data(built, hold, cells, said):
    steps = SIX
    for mark, more in cells.items():
        steps = changed(steps, mark, **more)
    found = hold(built(steps), "open_to_rain", "60")
    assert (found.state, found.missing) == (State.NO_DATA, (said,))


def test_a_building_said_never_to_stand_open_is_never_open(built, hold):
    found = hold(built(changed(SIX, "A", opens="None")), "open_to_rain", "60")
    assert (found.value, found.state) == (0, State.MEETS)


# a 0–10, b 10–30, c 30–35, d 35–40, one after the other
CHAIN = typed("a 10 1, b 20 1 a, c 5 1 b, d 5 1 c")


@pytest.mark.parametrize(
    ("cells", "sums"),
    [
        # one within another, one after another at once, and the last of two that close
        (
            {"a": {"opens": "x"}, "b": {"opens": "y", "closes": "y"}, "d": {"closes": "x"}},
            "(40 min − 0 min) = 40 min",
        ),
        (
            {"a": {"opens": "x", "closes": "x"}, "b": {"opens": "y", "closes": "y"}},
            "(30 min − 0 min) = 30 min",
        ),
        (
            {"b": {"opens": "x", "closes": "x"}, "d": {"closes": "x"}},
            "(40 min − 10 min) = 30 min",
        ),
    ],
)
def test_spans_that_meet_are_one(built, hold, cells, sums):
    steps = CHAIN
    for mark, more in cells.items():
        steps = changed(steps, mark, **more)
    assert hold(built(steps), "open_to_rain", "1").steps[-1].write() == sums


def test_what_is_closed_as_it_is_opened_was_closed_too_early(built, hold):
    steps = changed(changed(CHAIN, "a", closes="x"), "b", opens="x")
    found = hold(built(steps), "open_to_rain", "1")
    assert found.missing == ("a figure that can be: “x” is closed by a before b opens it",)
