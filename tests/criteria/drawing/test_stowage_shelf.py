"""Stowage, drawn: a place is as wide on the shelf as it holds, and what a guest lacks as long."""

import pytest

from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touches, words


def place(mark, n, litres, used_by="guest", also=""):
    cells = {"what": f"Place {mark}", "n": str(n), "l_each": str(litres)}
    return {"mark": mark, **cells, "for": used_by, "also_used_as": also}


ROWS = [
    place("S1", 8, 80),
    place("S2", 12, 0, "boots"),
    place("S3", 2, 100, "kit"),
    place("S4", 1, 40, "guest", "the bench"),
]
TABLES = {"stowage": ROWS, "site": [{"guests": "10"}]}
TARGET = ("stowage_per_guest", "at least", "110 L")


def paths(touch):
    return [m for m in touch.marks if isinstance(m, Path)]


def span(path):
    return path.points[1][0] - path.points[0][0]


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, "stowage_per_guest", TARGET):
        assert [*touches(drawing)] == ["S1", "S4", "S3", "S2"]  # those for guests first
        assert not drawing.gaps


def test_a_place_is_as_wide_as_it_holds_and_the_millimetre_is_said():
    drawing = drawn(TABLES, "stowage_per_guest")
    wide = {
        mark: span(paths(each[0])[0]) for mark, each in touches(drawing).items() if mark != "S2"
    }
    assert wide == {
        "S1": pytest.approx(171 * 640 / 880),
        "S4": pytest.approx(171 * 40 / 880),
        "S3": pytest.approx(171 * 200 / 880),
    }
    assert "1 mm = 5.1 L" in words(drawing)  # 880 / 171
    assert {"8 × S1, 80 L", "2 × S3, 100 L"} <= words(drawing)


def test_guests_places_are_tinted_those_alike_parted_and_those_used_twice_crossed():
    found = {mark: each[0] for mark, each in touches(drawn(TABLES, "stowage_per_guest")).items()}
    fills = {mark: paths(touch)[0].fill for mark, touch in found.items() if mark != "S2"}
    assert fills == {"S1": Fill.TRACE, "S4": Fill.TRACE, "S3": Fill.PAPER}
    strokes = {m: [s for s in t.marks if isinstance(s, Strokes)] for m, t in found.items()}
    assert [len(strokes[mark]) for mark in ("S1", "S4", "S3")] == [1, 2, 1]
    assert len(strokes["S1"][0].segments) == 7
    assert sum(isinstance(m, Disc) for m in found["S2"].marks) == 12


def test_what_a_guest_lacks_is_hatched_as_long_as_it_is():
    """640 + 40 litres for ten: 68 of 110."""
    drawing = drawn(TABLES, "stowage_per_guest", TARGET)
    (short,) = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.SHORT]
    (has,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE]
    assert span(short) / span(has) == pytest.approx(42 / 68)
    limit = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT][-1]
    assert limit.points[0][0] == pytest.approx(short.points[1][0])
    assert {"42 L short", "at least 110 L", "68 L"} <= words(drawing)


def test_what_holds_enough_has_nothing_hatched():
    drawing = drawn(TABLES, "stowage_per_guest", ("stowage_per_guest", "at least", "60 L"))
    assert not [m for m in drawing.marks if getattr(m, "tone", None) is Tone.SHORT]
    assert "Meets" in words(drawing)


def test_what_isnt_given_is_left_out_and_named():
    rows = [place("S1", "", 80), place("S2", 2, ""), place("S3", 1, 5)]
    drawing = drawn({"stowage": rows}, "stowage_per_guest")
    assert [gap.says for gap in drawing.gaps] == ["S1: number not given", "S2: litres not given"]
    assert "not known" in words(drawing)


def test_hooks_alone_have_no_shelf():
    drawing = drawn({"stowage": [place("S1", 2, 0)]}, "stowage_per_guest")
    assert not [m for m in drawing.marks if isinstance(m, Path)]
    assert drawn({"stowage": [place("S1", "", "")]}, "stowage_per_guest") is None
    assert drawn({}, "stowage_per_guest") is None


def test_two_hundred_places_stay_on_the_sheet():
    many = [place(f"S{n}", 500, 9000, "guest", "all") for n in range(200)]
    hooks = [place(f"H{n}", 500, 0, "a use of thirty and more signs") for n in range(200)]
    tables = {"stowage": many + hooks, "site": [{"guests": "1"}]}
    for drawing in in_each_field(tables, "stowage_per_guest", TARGET):
        assert len(drawing.key) > 300
