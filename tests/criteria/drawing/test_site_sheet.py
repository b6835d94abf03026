"""The site sheet, drawn: the drift on its side, the ground as steep as it is, the flood over it."""

import pytest

from criteria.drawing.catalogue import BY_SCHEDULE
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.package import read_package
from tests.criteria.drawing.seen import FIELDS, boxes, in_fields, words

SITE = {
    **{"place": "Harl Saddle", "drift_m": "2.2", "drift_side": "E", "gust_ms": "55"},
    **{"exposure": "C", "slope": "20 %", "ground_m": "2", "flood_m": "3", "ground_snow": "1.5"},
}


def rows_seen(schedule, **tables):
    """The drawings over a schedule that no check reads, held to the rules of all."""
    asked = Asked(title="", measured=Measured())
    seen = Seen(package=read_package(tables).package, check="", asked=asked)
    return in_fields(FIELDS, seen, BY_SCHEDULE[schedule])


def site(**cells):
    return rows_seen("site", site=[SITE | cells])


def ground(drawing):
    lines = [m.points for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    return next(line for line in lines if len(line) == 2 and line[1][0] - line[0][0] > 30)


@pytest.mark.parametrize("side", ["N", "E", "S", "W"])
def test_the_drift_lies_on_its_side_of_the_building(side):
    for drawing in site(drift_side=side):
        ((left, top, right, foot),) = boxes(drawing.marks, fill=Fill.GLASS)
        ((in_left, in_top, in_right, in_foot),) = [
            box for box in boxes(drawing.marks, pen=Pen.CUT) if box[2] - box[0] == 14.0
        ]
        beside = {"N": foot <= in_top, "S": top >= in_foot, "E": left >= in_right,
                  "W": right <= in_left}  # fmt: skip
        assert [each for each, is_there in beside.items() if is_there] == [side]


def test_the_ground_is_as_steep_as_it_is_up_to_a_half():
    (x, y), (to_x, to_y) = ground(site()[0])
    assert (y - to_y) / (to_x - x) == pytest.approx(0.2)
    (x, y), (to_x, to_y) = ground(site(slope="150 %")[0])
    assert (y - to_y) / (to_x - x) == pytest.approx(0.5)
    assert "150.0 %" in site(slope="150 %")[0].says


def test_the_flood_stands_over_or_under_the_ground():
    for flood, is_over in (("3", True), ("1", False)):
        drawing = site(flood_m=flood)[0]
        (line,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
        assert (line.points[0][1] < ground(drawing)[1][1]) is is_over
    assert {"2.00 m", "3.00 m"} <= words(site()[0])


def test_what_isnt_given_is_dashed_or_named():
    bare = dict.fromkeys(SITE, "") | {"ground_m": "2"}
    for drawing in rows_seen("site", site=[bare]):
        assert [gap.says.partition(":")[0] for gap in drawing.gaps][1:] == [
            *("drift depth", "side of the drift", "gust"),
        ]
        assert "slope not given" in words(drawing)
        assert drawing.title == "Site"
    assert site(drift_m="", exposure="")[0].says.startswith("snow drifts on the E side; gusts")
    assert rows_seen("site", site=[{"place": "Harl Saddle"}]) == []
