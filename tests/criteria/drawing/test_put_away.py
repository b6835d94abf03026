"""Furniture put away, drawn: boxes where the search laid them, or beside what they don't fit."""

import pytest

from criteria.drawing.pens import Tone
from criteria.drawing.put_away import back_to_front
from criteria.measures.packing import Place
from tests.criteria.checks.test_transport import OUTER, stowed
from tests.criteria.drawing.seen import drawn, in_each_field, touched, touches, words

ALL = ("furniture_packs", "all", "yes")
FITS = {"pieces": [OUTER], "furniture": [stowed("4", "1000", "500", "500")]}
LARGE = {
    "pieces": [OUTER],
    "furniture": [stowed("2", "1100", "1100", "300"), *(stowed("1", f"{n}", "900", "9") for n in
                  range(901, 930))],
}  # fmt: skip


@pytest.mark.parametrize("tables", [FITS, LARGE], ids=["fits", "too large"])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(tables):
    for drawing in in_each_field(tables, ALL[0], ALL):
        assert any(each.words.startswith("M1 Shell: what is") for each in drawing.letters)


def test_boxes_are_as_large_as_they_are_put_away_and_only_those_seen_are_named():
    """Four boxes of 1.0 × 0.5 × 0.5 m: lengths and heights are true in this view."""
    drawing = drawn(FITS, ALL[0], ALL)
    assert drawing.scale == "1:50"
    (mark,) = touches(drawing)
    front = touched(drawing, mark)[0].points
    assert abs(front[0][1] - front[3][1]) == pytest.approx(10.0)
    named = {each for each in words(drawing) if each.startswith("U")}
    assert named | set(drawing.key) == {f"U10004.{n}" for n in (1, 2, 3, 4)}


def test_what_is_hidden_or_too_small_for_its_mark_is_named_beside():
    """A box behind a larger one lies behind it: its mark would stand on the other's face."""
    rows = [stowed("1", "1900", "800", "900"), stowed("1", "10", "10", "10")]
    drawing = drawn({"pieces": [OUTER], "furniture": rows}, ALL[0], ALL)
    assert {*drawing.key, *words(drawing)} >= {"U19001", "U101"}
    close = [stowed("9", "20", "20", "20")]
    assert drawn({"pieces": [OUTER], "furniture": close}, ALL[0], ALL).key


def test_what_does_not_fit_is_drawn_beside_in_red_and_the_rest_named():
    drawing = drawn(LARGE, ALL[0], ALL)
    assert {mark.tone for mark in touched(drawing, "U11002")} == {Tone.SHORT}
    assert "2 × U11002" in words(drawing)
    assert drawing.key


def test_a_piece_without_sizes_inside_is_passed_over():
    other = {"mark": "M0", "piece": "Core", "n": "1"}
    rows = {"pieces": [other, OUTER]}
    put = [*FITS["furniture"], FITS["furniture"][0] | {"mark": "U9", "stowed_in": "M0"}]
    assert any("M1" in w for w in words(drawn(rows | {"furniture": put}, ALL[0])))
    assert drawn({"pieces": [other], "furniture": put[1:]}, ALL[0]) is None


def test_boxes_are_drawn_back_to_front_whatever_their_order():
    near, far = (Place(m, (0, y, 0), (1, 1, 1)) for m, y in (("near", 0), ("far", 1)))
    over = Place("over", (0, 0, 1), (1, 1, 1))
    for places in ([near, over, far], [over, far, near]):
        order = [place.mark for place in back_to_front(places)]
        assert order.index("far") < order.index("near") < order.index("over")
