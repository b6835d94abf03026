import pytest

from criteria.odd.values import odd_values
from criteria.schedules import BY_SLUG
from criteria.units import System


@pytest.fixture
def odd(package):
    def found(schedule, **tables):
        return [odd for odd in odd_values(package(**tables)) if odd.schedule == schedule]

    return found


def tank(**cells):
    return {"mark": "T1", "holds": "potable", "litres": "500", "usable_share": "0.9", **cells}


# Common practice: no hut's tank holds less than a jerrican of 20 L or more than 10 m³, 10 t.
@pytest.mark.parametrize(
    ("litres", "is_odd"), [("19.9", True), ("20", False), ("10 m³", False), ("10.1 m³", True)]
)
def test_a_tank_of_an_unlikely_size_is_asked_about(odd, litres, is_odd):
    found = odd("tanks", tanks=tank(litres=litres))
    assert bool(found) is is_odd
    assert all(value.head == "litres" and value.mark == "T1" for value in found)


def test_litres_that_are_probably_cubic_metres_are_mended_in_one_step(odd):
    (value,) = odd("tanks", tanks=tank(litres="1.6"))
    assert value.write_read() == "1.6 L"
    assert value.write_question() == "T1 reads 1.6 L. Is that 1.6 m³, 1\u202f600 L?"
    column = BY_SLUG["tanks"].column("litres")
    assert column.read(value.suggestion) == pytest.approx(1.6)


def test_a_tank_usable_to_the_last_drop_is_asked_about(odd):
    (value,) = odd("tanks", tanks=tank(usable_share="1"))
    assert value.write_question().endswith("Where is its outlet?")
    assert odd("tanks", tanks=tank(usable_share="0.99")) == []


def test_a_blank_tank_is_no_odd_size(odd):
    assert [v.head for v in odd("tanks", tanks=tank(litres="", usable_share=""))] == []


def pane(**cells):
    return {
        "mark": "W1",
        "room": "R1",
        "n": "1",
        "frame_w": "1000",
        "frame_h": "1000",
        "glass_w": "840",
        "glass_h": "840",
        "opens": "side-hung",
        "open_share": "0.9",
        **cells,
    }


@pytest.fixture
def windows(odd, room):
    return lambda **cells: odd("windows", rooms=room(), windows=pane(**cells))


def test_a_window_with_frame_and_glass_apart_is_not_odd(windows):
    assert windows() == []


@pytest.mark.parametrize(("glass", "is_odd"), [("949", False), ("950", True), ("1000", True)])
def test_glass_as_large_as_its_frame_is_asked_about(windows, glass, is_odd):
    found = windows(glass_w=glass, glass_h=glass)
    assert [v.head for v in found] == (["glass_w"] if is_odd else [])


def test_glass_wider_than_its_frame_is_asked_about(windows):
    (value,) = windows(glass_w="1001")
    assert (value.head, value.write_read()) == ("glass_w", "1\u202f001 mm")
    assert (
        value.write_question()
        == "W1: glass 1\u202f001 mm in a frame of 1\u202f000 mm. Which is it?"
    )
    us = "W1: glass 3'-3 7/16\" in a frame of 3'-3 3/8\". Which is it?"
    assert (value.write_read(System.US), value.write_question(System.US)) == ("3'-3 7/16\"", us)
    assert [v.head for v in windows(glass_h="1001")] == ["glass_h"]


def test_a_fixed_window_that_opens_is_asked_about(windows):
    (value,) = windows(opens="fixed")
    assert (value.head, value.write_read(), value.suggestion) == ("open_share", "0.9", "0")
    assert windows(opens="fixed", open_share="0") == []
    assert windows(opens="fixed", open_share="") == []


@pytest.mark.parametrize(
    ("frame", "is_odd"), [("99", True), ("100", False), ("4000", False), ("4001", True)]
)
def test_a_frame_of_an_unlikely_size_is_asked_about(windows, frame, is_odd):
    glass = str(0.85 * float(frame))
    found = windows(frame_w=frame, glass_w=glass, glass_h="840")
    assert [v.head for v in found if v.head == "frame_w"] == ["frame_w"] * is_odd


def test_blanks_of_a_window_are_not_odd(windows):
    blanks = dict.fromkeys(("frame_w", "frame_h", "glass_w", "glass_h", "open_share"), "")
    assert windows(**blanks) == []


@pytest.mark.parametrize(("low", "is_odd"), [("10", False), ("10.1", True)])
def test_more_low_floor_than_floor_is_asked_about(odd, room, low, is_odd):
    found = odd("rooms", rooms=room(floor="10", low_headroom_m2=low))
    assert [v.head for v in found] == (["low_headroom_m2"] if is_odd else [])
    if is_odd:
        assert (
            found[0]
            .write_question()
            .startswith("R1: 10.1 m² under 1.5 m high in a floor of 10.0 m²")
        )


@pytest.mark.parametrize(
    ("height", "use", "is_odd"),
    [
        ("1.19", "day", True),
        ("1.2", "day", False),
        ("6", "day", False),
        ("6.1", "day", True),
        ("0.9", "plant", False),
        ("", "day", False),
    ],
)
def test_a_lived_in_room_of_an_unlikely_height_is_asked_about(odd, room, height, use, is_odd):
    found = odd("rooms", rooms=room(use=use, clear_height_m=height))
    assert [v.head for v in found] == (["clear_height_m"] if is_odd else [])


def test_people_who_sleep_here_are_compared_with_the_brief(odd):
    people = [
        {"mark": "O1", "who": "Walkers", "n": "9", "sleeps_here": "yes"},
        {"mark": "O2", "who": "Day guests", "n": "20", "sleeps_here": "no"},
        {"mark": "O3", "who": "Cook", "n": "", "sleeps_here": "yes"},
    ]
    (value,) = odd("occupants", occupants=people, site={"people": "10"})
    assert value.write_question().startswith("The schedule sleeps 9, the brief asks for 10.")
    assert odd("occupants", occupants=people, site={"people": "9"}) == []
    assert odd("occupants", occupants=people) == []
    assert odd("occupants", site={"people": "9"}) == []


def test_each_odd_value_stands_where_a_person_can_find_it(odd, package, room):
    hut = package(
        rooms=room(floor="10", low_headroom_m2="11", clear_height_m="8"),
        windows=pane(opens="fixed", glass_w="1000", glass_h="1000", frame_w="5000"),
        tanks=[tank(litres="2"), tank(mark="T2", litres="30 m³", usable_share="1")],
        occupants={"mark": "O1", "who": "A", "n": "2", "sleeps_here": "yes"},
        site={"people": "3"},
    )
    for value in odd_values(hut):
        assert BY_SLUG[value.schedule].column(value.head)
        assert value.write_read()
        assert value.write_question().endswith("?")
        assert "!" not in value.write_question()
