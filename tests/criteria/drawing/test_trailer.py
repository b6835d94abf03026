"""A trailer, drawn: pieces, axles and tyres where they are, its mass where the check has it."""

import pytest

from criteria.drawing.marks import Disc
from criteria.drawing.pens import Fill, Pen
from tests.criteria.checks.test_axles import on_road
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, touched, touches, words


def tables(**transport):
    found = on_road()
    sizes = ({"l_m": "2", "w_m": "2.2", "h_m": "2"}, {"l_m": "4", "w_m": "2.2", "h_m": "1"})
    found["pieces"] = [row | size for row, size in zip(found["pieces"], sizes, strict=True)]
    return found | {"transport": [found["transport"] | transport]}


CHECKS = ["hitch_share", "static_stability"]


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("cells", [{}, {"deck_m": ""}, {"axle_m": "", "track_m": ""}])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(check, cells):
    for drawing in in_each_field(tables(**cells), check):
        assert set(touches(drawing)) == {"M1", "M2"}
        assert bool(drawing.gaps) == ("deck_m" in cells)


# 5,000 kg whose centre is 3.5 m from the hitch: 12.5 % on it, with the axles at 4.0 m.
def test_pieces_stand_on_the_deck_and_the_weight_acts_where_the_check_has_it():
    drawing = drawn(tables(), "hitch_share")
    assert drawing.scale == "1:100"
    places = [boxes(touched(drawing, mark))[0] for mark in ("M1", "M2")]
    assert [right - left for left, _, right, _ in places] == pytest.approx([20.0, 40.0])
    assert [foot - top for _, top, _, foot in places] == pytest.approx([20.0, 10.0])
    (hitch,) = [m for m in drawing.marks if isinstance(m, Disc) and m.radius_mm == 1.0]
    wheel = next(m for m in drawing.marks if isinstance(m, Disc) and m.radius_mm > 2)
    assert wheel.middle[0] - hitch.middle[0] == pytest.approx(40.0)
    assert {"12.5 %", "3.50 m", "4.00 m", "5\u202f000 kg"} <= words(drawing)


# Its centre is 1.34 m above the road between tyres 2.0 m apart.
def test_from_behind_its_centre_stands_as_high_as_the_check_has_it_between_its_tyres():
    drawing = drawn(tables(), "static_stability")
    centre = next(m for m in drawing.marks if isinstance(m, Disc))
    tyres = boxes(drawing.marks, fill=Fill.PAPER)
    assert len(tyres) == 2
    assert tyres[0][3] - centre.middle[1] == pytest.approx(13.4)
    middles = [(left + right) / 2 for left, _, right, _ in tyres]
    assert middles[1] - middles[0] == pytest.approx(20.0)
    assert {"1.34 m", "2.00 m", "0.75"} <= words(drawing)


def test_what_isnt_known_is_left_out_or_dashed():
    dashed = drawn(tables(deck_m=""), "static_stability")
    assert "deck not given" in words(dashed)
    assert not [m for m in dashed.marks if isinstance(m, Disc)]
    unsized = tables()
    unsized["pieces"][1]["l_m"] = ""
    drawing = drawn(unsized, "hitch_share")
    assert [gap.says for gap in drawing.gaps] == ["M2: length not given"]
    unweighed = tables()
    unweighed["pieces"][1]["kg_each"] = ""
    assert "not known" in words(drawn(unweighed, "hitch_share"))
    loose = tables()
    loose["pieces"] = [row | {"at_m": ""} for row in loose["pieces"]]
    assert drawn(loose, "hitch_share") is None


def test_a_piece_on_top_of_another_is_drawn_there_and_one_inside_another_is_not():
    rows = tables()
    rows["pieces"][0]["z_m"] = "0"
    rows["pieces"][1] |= {"z_m": "2", "at_m": "2"}
    rows["pieces"].append({**rows["pieces"][1], "mark": "M3", "packs_into": "M1"})
    drawing = drawn(rows, "hitch_share")
    (_, _, _, foot), (_, top, _, _) = (boxes(touched(drawing, m))[0] for m in ("M2", "M1"))
    assert foot == pytest.approx(top)
    assert "M3" not in touches(drawing)
    rows["pieces"][1]["l_m"] = "0.1"
    assert "M2" not in words(drawn(rows, "hitch_share"))
    assert {m.pen for m in touched(drawing, "M1") if hasattr(m, "pen")} == {Pen.SEEN}
