"""Lettering, scales, hatching and places for words: by hand, and what must never happen."""

import pytest

from criteria.drawing.drawing import Drawing
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import CAP_EM, fitted, type_mm, width_mm
from criteria.drawing.marks import Gap, Lettering, Path, around, meet, rectangle
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.scales import METRIC, US, largest, lettered
from criteria.findings import Amount
from criteria.units import LENGTH, System

GAP = Gap(schedule="windows", mark="W1", column="left", says="W1: place not given")


def test_pens_keep_the_widths_of_the_standard():
    """ISO 128-2: 4 : 2 : 1, from memory."""
    assert [pen.width_mm for pen in (Pen.CUT, Pen.SEEN, Pen.FINE)] == [0.70, 0.35, 0.18]
    assert Pen.ASSUMED.dashes_mm == (2.0, 1.1)
    assert Pen.SEEN.dashes_mm == ()


def test_all_figures_have_one_width():
    assert len({width_mm(figure, 2.5) for figure in "0123456789"}) == 1


def test_capitals_are_as_high_as_asked_in_the_smaller_face():
    assert type_mm(2.5) * CAP_EM == pytest.approx(2.5)


def test_words_in_the_table_are_narrower_than_what_isnt():
    assert width_mm("W", 2.5) < width_mm("漢", 2.5)


def test_what_has_no_room_at_all_is_dots():
    assert fitted("Donau", 2.5, 1) == "…"


@pytest.mark.parametrize("system", list(System))
def test_the_largest_scale_that_fits_and_no_larger(system):
    ladder = US if system is System.US else METRIC
    for size in (0.5, 2.0, 7.0, 40.0, 300.0):
        scale = largest((size, size / 2), (160, 120), system)
        assert scale.mm(size) <= 160
        assert scale.ratio >= 48
        larger = [s for s in ladder if 48 <= s.ratio < scale.ratio]
        assert all(s.mm(size) > 160 or s.ratio < 47.5 for s in larger)


def test_what_fits_no_scale_has_the_smallest():
    assert largest((1e6, 1.0), (160, 120), System.METRIC) == METRIC[-1]


def test_figures_are_written_as_everywhere_but_bare_in_millimetres():
    assert lettered(Amount(0.914, LENGTH), System.METRIC) == "914"
    assert lettered(Amount(0.914, LENGTH), System.US) == LENGTH.write(0.914, System.US)
    assert lettered(Amount(0.914, LENGTH), System.US, 1) == LENGTH.write(0.914, System.US, 1)


def test_what_is_drawn_as_assumed_names_what_isnt_given():
    points = ((0.0, 0.0), (1.0, 0.0))
    with pytest.raises(ValueError, match="names what isn't given"):
        Path(points=points, pen=Pen.ASSUMED)
    with pytest.raises(ValueError, match="and nothing else"):
        Path(points=points, gap=GAP)
    dashed = Path(points=points, pen=Pen.ASSUMED, gap=GAP)
    drawing = Drawing(
        title="", says="", width_mm=9, height_mm=9, marks=(dashed, dashed), left_out=(GAP,)
    )
    assert drawing.gaps == (GAP,)


def test_hatching_stays_within_its_shape():
    corners = rectangle((10, 10, 30, 20))
    for rising in (True, False):
        drawn = hatched(corners, 2.0, Tone.SHORT, is_rising=rising)
        ends = [point for segment in drawn.segments for point in segment]
        assert len(drawn.segments) > 8
        assert around(ends) == pytest.approx((10, 10, 30, 20), abs=2.0)
        assert all(10 - 1e-9 <= x <= 30 + 1e-9 and 10 - 1e-9 <= y <= 20 + 1e-9 for x, y in ends)


def test_hatching_of_a_point_is_none():
    assert hatched(((1, 1), (1, 1), (1, 1)), 1.0, Tone.INK).segments == ()


@pytest.mark.parametrize(("anchor", "left"), [("start", 50), ("middle", 45), ("end", 40)])
def test_words_take_their_paper_from_where_they_hang(anchor, left):
    words = Lettering(words="", at=(50, 20), anchor=anchor)
    wide = Lettering(words="R1 Day room", at=(50, 20), anchor=anchor).box
    assert words.box[0] == 50
    assert wide[1] == 17.5
    assert wide[0] == pytest.approx(50 - (wide[2] - wide[0]) * (50 - left) / 10)


def test_words_never_meet_and_never_leave_the_paper():
    placing = Placing(40, 20)
    placing.keep_free((0, 0, 40, 5))
    tried = [placing.letter("W1", about((20, 10), "W1", 2.5, 1.0)) for _ in range(40)]
    assert any(tried)
    assert not all(tried)
    boxes = [each.box for each in placing.letters]
    assert not any(meet(a, b) for n, a in enumerate(boxes) for b in boxes[:n])
    assert all(box[0] > 0 and box[1] >= 5 and box[2] < 40 and box[3] < 20 for box in boxes)


def test_words_stand_where_they_shy_away_from_only_if_nothing_else_is_free():
    placing = Placing(40, 20)
    avoids = [(0, 0, 20, 20)]
    places = [(10, 10), (30, 10)]
    for _ in range(2):
        placing.letter("U1", places, Look(tone=Tone.SHORT), avoids)
    assert [each.at[0] for each in placing.letters] == [30, 10]


def test_no_letters_are_smaller_than_the_least():
    with pytest.raises(ValueError, match=r"W1: letters of 2\.4 mm, under 2\.5 mm"):
        Lettering(words="W1", at=(0, 0), cap_mm=2.4)
