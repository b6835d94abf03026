import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.findings import Amount, Finding, Part, Rule, State, Step, compare
from criteria.units import COUNT, DAYS, FLOOR, LENGTH, RATIO, SHARE_PERCENT, TEMPERATURE, System

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER


# 2010 ADA Standards 405.2: a ramp runs no steeper than 1:12. In binary 0.76 / 9.12 is just more.
def test_one_in_twelve_meets_one_in_twelve():
    assert 0.76 / 9.12 > 1 / 12
    assert compare(0.76 / 9.12, 1 / 12, Rule.AT_MOST, is_count=True) is MEETS


# IRC 2021 R303.1, by hand: 0.80 m² of glass to 10.00 m² is 8 %.
def test_a_figure_on_its_target_is_on_the_line_and_counts_as_met():
    assert compare(0.80 / 10.00, 0.08, Rule.AT_LEAST) is LINE
    assert LINE.is_met


@pytest.mark.parametrize(
    ("value", "rule", "state"),
    [
        (100.51, Rule.AT_LEAST, MEETS),
        (100.5, Rule.AT_LEAST, LINE),
        (100.0, Rule.AT_LEAST, LINE),
        (99.5, Rule.AT_LEAST, LINE),
        (99.49, Rule.AT_LEAST, SHORT),
        (99.49, Rule.AT_MOST, MEETS),
        (99.5, Rule.AT_MOST, LINE),
        (100.5, Rule.AT_MOST, LINE),
        (100.51, Rule.AT_MOST, OVER),
        (0.0, Rule.AT_LEAST, SHORT),
    ],
)
def test_half_a_per_cent_on_either_side_is_on_the_line(value, rule, state):
    assert compare(value, 100.0, rule) is state


@pytest.mark.parametrize(
    ("value", "rule", "state"),
    [
        (4, Rule.AT_LEAST, MEETS),
        (3, Rule.AT_LEAST, SHORT),
        (5, Rule.AT_LEAST, MEETS),
        (4, Rule.AT_MOST, MEETS),
        (5, Rule.AT_MOST, OVER),
        (3, Rule.AT_MOST, MEETS),
        (1000 - 1, Rule.AT_LEAST, MEETS),
    ],
)
def test_a_count_has_no_line_to_be_on(value, rule, state):
    assert compare(value, 4, rule, is_count=True) is state


def test_one_of_a_thousand_short_is_short():
    assert compare(999, 1000, Rule.AT_LEAST, is_count=True) is SHORT


@pytest.mark.parametrize(("value", "state"), [(0, MEETS), (1, SHORT)])
def test_a_target_of_all_allows_none_outside(value, state):
    assert compare(value, 0, Rule.ALL, is_count=True) is state


def test_a_target_of_zero_is_met_by_zero():
    assert compare(0.0, 0.0, Rule.AT_LEAST) is LINE
    assert compare(0.0, 0.0, Rule.AT_MOST) is LINE
    assert compare(1e-9, 0.0, Rule.AT_MOST) is OVER


def test_what_is_no_number_never_meets():
    nan = float("nan")
    assert compare(nan, 1, Rule.AT_LEAST) is SHORT
    assert compare(nan, 1, Rule.AT_MOST) is OVER
    assert compare(nan, 1, Rule.AT_LEAST, is_count=True) is SHORT


@given(st.floats(1e-6, 1e6), st.floats(1e-6, 1e6), st.floats(1e-3, 1e3))
def test_the_state_does_not_hang_on_the_unit(value, target, factor):
    if abs(abs(value / target - 1) - 0.005) > 1e-8:
        state = compare(value, target, Rule.AT_LEAST)
        assert compare(value * factor, target * factor, Rule.AT_LEAST) is state


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6), st.booleans())
def test_at_least_and_at_most_miss_together_never(value, target, is_count):
    low = compare(value, target, Rule.AT_LEAST, is_count=is_count)
    high = compare(value, target, Rule.AT_MOST, is_count=is_count)
    assert not (low.is_missed and high.is_missed)


@pytest.mark.parametrize(("state", "word", "is_met", "is_missed"), [
    (State.MEETS, "Meets", True, False), (State.ON_THE_LINE, "On the line", True, False),
    (State.SHORT, "Short", False, True), (State.OVER, "Over", False, True),
    (State.NO_DATA, "No data", False, False), (State.NOT_ASKED, "Not asked", False, False),
    (State.CLAIM_DIFFERS, "Claim differs", False, False),
    (State.ODD_VALUE, "Odd value", False, False),
])  # fmt: skip
def test_each_state_has_its_word(state, word, is_met, is_missed):
    assert (state.word, state.is_met, state.is_missed) == (word, is_met, is_missed)


def test_a_step_shows_its_figures_in_either_system():
    step = Step("{}: {} × {} = {}", ("W1", 2, Amount(1.2192, LENGTH), Amount(9.290304, FLOOR)))
    assert step.write() == "W1: 2 × 1\u202f219 mm = 9.3 m²"
    assert step.write(System.US) == "W1: 2 × 4'-0\" = 100.0 ft²"


def finding(
    value, target, state, *, scale=FLOOR, rule=Rule.AT_LEAST, not_over=None, **more
) -> Finding:
    part = Part(
        name="", scale=scale, value=value, target=target, state=state, rule=rule, not_over=not_over
    )
    return Finding(ref="T01", check="x", title="X", rule=rule, state=state, parts=(part,),
                   formula="x", not_over=not_over, **more)  # fmt: skip


@pytest.mark.parametrize(
    ("value", "target", "state", "rule", "written", "relative"),
    [
        (9.0, 10.0, SHORT, Rule.AT_LEAST, "short by 1.0 m²", -0.1),
        (11.0, 10.0, OVER, Rule.AT_MOST, "over by 1.0 m²", -0.1),
        (12.0, 10.0, MEETS, Rule.AT_LEAST, "2.0 m² in hand", 0.2),
        (8.0, 10.0, MEETS, Rule.AT_MOST, "2.0 m² in hand", 0.2),
        (99.6, 100.0, LINE, Rule.AT_LEAST, "0.4 m² past it", -0.004),
        (10.0, 10.0, LINE, Rule.AT_LEAST, "", 0.0),
        (10.0 + 1e-12, 10.0, LINE, Rule.AT_LEAST, "", 0.0),
    ],
)
def test_the_margin_is_said_on_the_wanted_side(value, target, state, rule, written, relative):
    found = finding(value, target, state, rule=rule)
    assert found.write_margin() == written
    assert found.relative_margin == pytest.approx(relative, abs=1e-9)


def test_a_margin_is_a_difference_and_has_no_zero_of_its_own():
    colder = finding(253.15, 255.15, SHORT, scale=TEMPERATURE)
    assert colder.write_margin() == "short by 2.0 °C"
    assert colder.write_margin(System.US) == "short by 3.6 °F"


def test_over_its_upper_bound_the_margin_is_the_bounds():
    bright = finding(0.25, 0.12, OVER, scale=SHARE_PERCENT, not_over=0.22)
    assert bright.is_beyond
    assert bright.write_margin() == "over by 3.0 points"
    assert bright.parts[0].margin == pytest.approx(-0.03)
    assert bright.relative_margin == pytest.approx(-0.03 / 0.22)
    assert (bright.write_target(), bright.write_not_over()) == ("12.0 %", "22.0 %")


def test_short_of_its_target_the_margin_is_the_targets():
    dark = finding(0.10, 0.12, SHORT, scale=SHARE_PERCENT, not_over=0.22)
    assert not dark.is_beyond
    assert dark.write_margin() == "short by 2.0 points"


def test_a_missed_figure_never_reads_like_its_target():
    found = finding(3.96 * 86_400, 4.0 * 86_400, SHORT, scale=DAYS)
    assert (found.write_value(), found.write_target()) == ("3.96 days", "4.00 days")
    assert found.write_margin() == "short by 0.04 days"
    # 4.93 and 4.96 read apart, but what lies between them would read as nothing
    near = finding(4.93 * 86_400, 4.96 * 86_400, SHORT, scale=DAYS)
    assert near.write_margin() == "short by 0.03 days"


@given(st.floats(0.1, 1e4), st.floats(0.5, 0.99))
def test_a_shortfall_is_never_written_as_nothing(target, share):
    found = finding(target * share, target, SHORT)
    assert found.write_value() != found.write_target()
    assert found.write_margin().strip("shortby m²0.") != ""


def test_without_value_or_target_nothing_is_written():
    blank = finding(None, 10.0, State.NO_DATA)
    assert (blank.write_value(), blank.write_margin(), blank.relative_margin) == ("", "", None)
    unasked = finding(10.0, None, State.NOT_ASKED)
    assert (unasked.write_target(), unasked.write_margin(), unasked.relative_margin) == (
        "",
        "",
        None,
    )
    assert unasked.write_not_over() == ""


def test_a_target_of_zero_has_no_relative_margin():
    assert finding(1.0, 0.0, MEETS).relative_margin is None


def test_words_stand_for_a_figure_that_says_less():
    found = finding(2, 0.0, OVER, scale=COUNT, rule=Rule.ALL, shown="not: M1, M2")
    assert (found.write_value(), found.write_target()) == ("not: M1, M2", "all")
    assert found.write_margin() == ""


def test_two_parts_stand_side_by_side():
    parts = tuple(
        Part(name=name, scale=COUNT, value=value, target=target, state=SHORT)
        for name, value, target in (("rows", 4, 4), ("failed", 0, 1))
    )
    found = Finding(
        ref="T30", check="x", title="X", rule=Rule.AT_LEAST, state=SHORT, parts=parts, formula="n"
    )
    assert (found.write_value(), found.write_target()) == ("4 / 0", "4 / 1")
    assert found.write_margin() == ""
    assert found.relative_margin == -1
    assert (found.value, found.target, found.scale) == (4, 4, COUNT)


@pytest.mark.parametrize(
    ("value", "state", "written", "limit"),
    [
        (0.184, MEETS, "3.6 points in hand", 0.22),
        (0.14, MEETS, "2.0 points in hand", 0.12),
        (0.168, MEETS, "4.8 points in hand", 0.12),
        (0.10, SHORT, "short by 2.0 points", 0.12),
        (0.25, OVER, "over by 3.0 points", 0.22),
    ],
)
def test_between_two_limits_the_margin_is_to_the_nearer(value, state, written, limit):
    found = finding(value, 0.12, state, scale=SHARE_PERCENT, not_over=0.22)
    assert found.write_margin() == written
    assert found.parts[0].limit == limit


def test_what_is_reached_at_best_says_so():
    found = finding(1.06, 1.15, SHORT, scale=RATIO, at_best=True)
    assert found.write_value() == "at best 1.06"
    assert finding(None, 1.15, State.NO_DATA, scale=RATIO).write_value() == ""
