import pytest

from criteria.findings import State
from criteria.units import System


# IRC 2021 R303.1: 8 % of the floor in glass, 4 % to open. By hand: 10.00 m² ask 0.80 m² and
# 0.40 m²; equal is enough, 0.79 m² isn't.
@pytest.mark.parametrize(
    ("w", "state"), [("1000", State.ON_THE_LINE), ("987.5", State.SHORT), ("1006", State.MEETS)]
)
def test_eight_per_cent_of_the_floor_in_glass_is_enough(package, hold, room, window, w, state):
    hut = package(rooms=room(), windows=window(w=w))
    finding = hold(hut, "daylight_ratio", "8")
    assert finding.state is state
    assert finding.value == pytest.approx(float(w) / 1000 * 0.8 / 10)


@pytest.mark.parametrize(
    ("share", "state"), [("0.5", State.ON_THE_LINE), ("0.49", State.SHORT), ("0.51", State.MEETS)]
)
def test_four_per_cent_of_the_floor_open_is_enough(package, hold, room, window, share, state):
    hut = package(rooms=room(), windows=window(open_share=share))
    finding = hold(hut, "openable_ratio", "4")
    assert finding.state is state
    assert finding.value == pytest.approx(0.08 * float(share))


def test_a_room_typed_in_feet_is_held_as_the_code_prints_it(package, hold, room, window):
    # 144 ft² ask 11.52 ft² of glass: 4'-0" × 2'-10 9/16" is 11.52 ft² and a hair
    hut = package(rooms=room(floor="144 sq ft"), windows=window(w="4'-0\"", h="2'-10 9/16\""))
    assert hold(hut, "daylight_ratio", "8").state is State.ON_THE_LINE
    assert hold(hut, "daylight_ratio", "8.05").state.is_met is False


def test_the_working_has_this_packages_numbers(package, hold, room, window):
    hut = package(
        rooms=room("R2", "22.4"),
        windows=[
            window("W1", "R2", "1240", "1040", n="2", open_share="0.9"),
            window("W2", "R2", "740", "1040", open_share="0"),
        ],
    )
    daylight, opening = hold(hut, "daylight_ratio", "12"), hold(hut, "openable_ratio", "4")
    assert [step.write() for step in daylight.steps] == [
        "W1: 2 × 1\u202f240 mm × 1\u202f040 mm = 2.58 m²",
        "W2: 1 × 740 mm × 1\u202f040 mm = 0.77 m²",
        "3.35 m² ÷ 22.4 m² = 15.0 %",  # 3.3488 / 22.4 is 14.95 %, half up
    ]
    assert [step.write() for step in opening.steps] == [
        "W1: 2.58 m² × 0.90 open = 2.32 m²",
        "W2: 0.77 m² × 0.00 open = 0.00 m²",
        "2.32 m² ÷ 22.4 m² = 10.4 %",
    ]
    assert daylight.steps[1].write(System.US) == "W2: 1 × 2'-5 1/8\" × 3'-4 15/16\" = 8.3 ft²"


@pytest.mark.parametrize("check", ["daylight_ratio", "openable_ratio"])
def test_the_darkest_room_decides(package, hold, room, window, check):
    hut = package(
        rooms=[room("R1"), room("R2", "20"), room("R3", use="wc")],
        windows=[window("W1", "R1"), window("W2", "R2")],
    )
    finding = hold(hut, check, "1")
    assert (finding.subject, finding.name) == ("R2", "Day room")
    assert [m.subject for m in finding.worst_first] == ["R2", "R1"]


@pytest.mark.parametrize("check", ["daylight_ratio", "openable_ratio"])
def test_a_room_without_a_window_row_counts_as_none_and_says_so(package, hold, room, window, check):
    hut = package(rooms=[room("R1"), room("R2", use="sleep")], windows=window())
    finding = hold(hut, check, "1", rooms="sleep")
    assert (finding.state, finding.value, finding.subject) == (State.SHORT, 0.0, "R2")
    assert finding.write_notes() == ("no row for R2 in the window schedule",)


@pytest.mark.parametrize("check", ["daylight_ratio", "openable_ratio"])
def test_without_any_window_row_there_are_no_data(package, hold, room, check):
    finding = hold(package(rooms=room()), check, "8")
    assert finding.state is State.NO_DATA
    assert finding.value is None
    assert finding.missing == ("rows of the window schedule",)


@pytest.mark.parametrize(
    ("check", "head", "cell"),
    [
        ("daylight_ratio", "glass_w", "W1, Glass w (window schedule)"),
        ("daylight_ratio", "glass_h", "W1, Glass h (window schedule)"),
        ("daylight_ratio", "n", "W1, No. (window schedule)"),
        ("openable_ratio", "open_share", "W1, Open share (window schedule)"),
    ],
)
def test_a_blank_cell_is_named_and_never_counted_as_zero(
    package, hold, room, window, check, head, cell
):
    finding = hold(package(rooms=room(), windows=window(**{head: ""})), check, "8")
    assert (finding.state, finding.value, finding.missing) == (State.NO_DATA, None, (cell,))
    assert finding.question.endswith(f"can't be computed without {cell}. What will stand there?")


def test_a_blank_floor_is_named(package, hold, room, window):
    finding = hold(package(rooms=room(floor=""), windows=window()), "daylight_ratio", "8")
    assert finding.missing == ("R1, Floor (room schedule)",)


def test_a_blank_in_one_room_hides_no_shortfall_of_another(package, hold, room, window):
    hut = package(rooms=[room("R1"), room("R2", floor="")], windows=[window(), window("W2", "R2")])
    assert hold(hut, "daylight_ratio", "20").state is State.SHORT
    assert hold(hut, "daylight_ratio", "5").state is State.NO_DATA


def test_rooms_of_a_use_that_nobody_has_are_not_asked_of(package, hold, room, window):
    finding = hold(package(rooms=room(), windows=window()), "daylight_ratio", "8", rooms="kitchen")
    assert finding.state is State.NOT_ASKED
    assert finding.write_notes() == (
        "no room of use kitchen; open plan is counted with the room it opens to",
    )
    assert finding.question == ""


def test_light_asks_nothing_of_rooms_that_nobody_lives_in(package, hold, room, window):
    hut = package(rooms=[room("R1", use="wc"), room("R2")], windows=window("W1", "R2"))
    assert [m.subject for m in hold(hut, "daylight_ratio", "1").worst_first] == ["R2"]


def test_the_question_names_room_value_and_target(package, hold, room, window):
    finding = hold(package(rooms=room(), windows=window()), "daylight_ratio", "12")
    assert finding.question == (
        "Day room has 8.0 % of its floor in clear glass, against 12.0 %. Where does the light "
        "come from on a grey afternoon?"
    )
