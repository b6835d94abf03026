"""Ways out, drawn: a way as long as it is walked, a threshold over its ground, a guard, signs."""

import pytest

from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, words

ROW = {
    **{"furthest_m": "12", "ways_out": "2", "second_exit_threshold_mm": "1900"},
    **{"smoke_alarms": "3", "co_alarms": "1", "drop_mm": "1500", "guard_mm": "900"},
}
DOOR = {"mark": "D2", "place": "Gable", "height": "2000", "role": "second exit", "outside": "yes"}
TABLES = {"ways_out": [ROW], "site": [{"drift_m": "2.2"}], "doors": [DOOR]}
TARGETS = [
    ("furthest_bunk", "at most", "10 m"),
    ("second_exit_threshold", "at least", "2200 mm"),
    ("guard_height", "at least", "1100 mm"),
    ("ways_out", "at least", "3"),
]


def changed(**more):
    return {**TABLES, "ways_out": [{**ROW, **more}]}


def shapes(drawing, **like):
    """Boxes of closed shapes that look so: width, height, left, foot."""
    found = []
    for mark in drawing.flat:
        if not isinstance(mark, Path) or not mark.is_closed:
            continue
        if all(getattr(mark, name) == value for name, value in like.items()):
            xs, ys = zip(*mark.points, strict=True)
            found.append((max(xs) - min(xs), max(ys) - min(ys), min(xs), max(ys)))
    return found


def heavy(drawing):
    return [m.points for m in drawing.flat if isinstance(m, Path) and m.pen is Pen.CUT]


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for check, *_ in [*TARGETS, ("smoke_alarms",), ("exits_by_count",), ("co_alarm",)]:
        for drawing in in_each_field(TABLES, check, *TARGETS):
            assert not drawing.gaps
            assert all(f.lettered in " ".join(words(drawing)) for f in drawing.figures)


def test_the_furthest_way_is_as_long_as_it_is_walked_and_hatched_past_its_limit():
    drawing = drawn(TABLES, "furthest_bunk", TARGETS[0])
    assert drawing.scale == "1:100"
    way = shapes(drawing, fill=Fill.TRACE, pen=Pen.SEEN)[0]
    assert way[0] == pytest.approx(120.0)
    (over,) = shapes(drawing, tone=Tone.SHORT)
    assert over[0] == pytest.approx(20.0)
    assert {"12.0 m", "at most 10.0 m", "Over", "furthest bunk 12.0 m"} <= words(drawing)
    within = drawn(TABLES, "furthest_bunk", ("furthest_bunk", "at most", "12 m"))
    assert not shapes(within, tone=Tone.SHORT)


def test_the_second_exit_stands_over_its_ground_and_lacks_what_it_lacks():
    drawing = drawn(changed(furthest_m=""), "second_exit_threshold", TARGETS[1])
    ratio = 100
    assert drawing.scale == "1:100"
    (short,) = shapes(drawing, tone=Tone.SHORT)
    assert short[1] == pytest.approx(300 / ratio)
    ground = heavy(drawing)[0][0][1]
    assert ground - short[3] == pytest.approx(1900 / ratio)
    (drift,) = shapes(drawing, fill=Fill.TRACE)
    assert drift[1] == pytest.approx(2200 / ratio)
    leaf = next(each for each in shapes(drawing, pen=Pen.FINE) if each[0] == pytest.approx(0.8))
    assert leaf[1] == pytest.approx(2000 / ratio)
    assert {"1\u202f900", "at least 2\u202f200", "drift 2.20 m"} <= words(drawing)
    enough = drawn(changed(second_exit_threshold_mm="2200"), "second_exit_threshold", TARGETS[1])
    assert not shapes(enough, tone=Tone.SHORT)


def test_a_guard_stands_on_its_drop_and_lacks_what_it_lacks():
    drawing = drawn({"ways_out": [ROW]}, "guard_height", TARGETS[2])
    (short,) = shapes(drawing, tone=Tone.SHORT)
    ratio = 200 / short[1]  # 1,100 less 900
    edge = next(line for line in heavy(drawing) if len(line) == 3)
    assert edge[2][1] - edge[1][1] == pytest.approx(1500 / ratio)
    assert ratio in (pytest.approx(50), pytest.approx(100))
    assert {"guard 900", "at least 1\u202f100", "drop 1\u202f500"} <= words(drawing)
    enough = drawn(changed(guard_mm="1100"), "guard_height", TARGETS[2])
    assert not shapes(enough, tone=Tone.SHORT)
    none = drawn(changed(guard_mm="0"), "guard_height", TARGETS[2])
    assert "guard 0" in words(none)


def test_what_is_counted_has_a_sign_each_and_a_missing_way_is_open():
    drawing = drawn(TABLES, "ways_out", TARGETS[3])
    assert len(shapes(drawing, fill=Fill.INK)) == 2
    assert len(shapes(drawing, tone=Tone.SHORT, fill=Fill.NONE)) == 1
    assert sum(isinstance(m, Disc) for m in drawing.flat) == 4
    assert {"2 ways out", "3 smoke alarms", "1 carbon monoxide alarms"} <= words(drawing)


def test_what_isnt_given_is_left_out_and_named():
    drawing = drawn({"ways_out": [{"smoke_alarms": "2"}]}, "furthest_bunk")
    assert [gap.column for gap in drawing.gaps] == [
        "furthest_m",
        "ways_out",
        "second_exit_threshold_mm",
    ]
    assert "not known" in words(drawing)
    assert drawn({"ways_out": [{}]}, "ways_out") is None
    assert drawn({}, "ways_out") is None
    bare = drawn({"ways_out": [{"second_exit_threshold_mm": "0"}]}, "second_exit_threshold")
    assert not shapes(bare, fill=Fill.TRACE)


@pytest.mark.parametrize(
    "more",
    [
        {"furthest_m": "200", "second_exit_threshold_mm": "20000", "drop_mm": "50000"},
        {"furthest_m": "0", "second_exit_threshold_mm": "-5000", "drop_mm": "0", "guard_mm": "0"},
        {"ways_out": "20", "smoke_alarms": "50", "co_alarms": "50"},
    ],
)
def test_absurd_rows_stay_on_the_sheet(more):
    in_each_field(changed(**more), "furthest_bunk", *TARGETS)
