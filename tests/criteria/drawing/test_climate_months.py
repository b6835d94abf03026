"""The climate, drawn: columns as high as what falls, from mean to mean minimum, what is used."""

from dataclasses import replace

import pytest

from criteria.drawing.climate_months import CLIMATE
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.package import read_package
from criteria.schedules.site import MONTHS
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    in_fields,
    seen_of,
    strokes,
    words,
)

RAIN = (0, 0, 0, 8, 52, 118, 139, 131, 88, 34, 5, 0)
SNOW = (165, 190, 215, 220, 140, 35, 0, 0, 2, 12, 60, 115)
MEAN = (-8, -9, -7, -4, 0, 4, 7, 7, 4, 1, -5, -7)
OPEN = MONTHS[5:10]
ASKED = ("rain_catch", "at least", "0.5")


def months(names=MONTHS, **cells):
    return [
        {
            "month": name,
            "mean_c": str(MEAN[n]),
            "mean_min_c": str(MEAN[n] - 3),
            "rain_mm": str(RAIN[n]),
            "snow_cm": str(SNOW[n]),
            "open": "yes" if name in OPEN else "no",
            **cells,
        }
        for n, name in enumerate(MONTHS)
        if name in names
    ]


def tables(rows=None, roof="50", **site):
    return {
        "climate": months() if rows is None else rows,
        "envelope": [{"part": "roof", "layer": "Wool", "mm": "200", "gross_area_m2": roof}],
        "site": [{"people": "4", "water_l_pd": "20", "design_month": "Oct", **site}],
    }


def climate(rows=None, field=None, targets=(ASKED,), **rest):
    return drawn(tables(rows, **rest), "rain_catch", *targets, field=field)


def rain(drawing):
    """Columns of rain, left to right, and the ground that they stand on."""
    found = [box for fill in (Fill.GLASS, Fill.PAPER) for box in boxes(drawing.marks, fill=fill)]
    ground = max(box[3] for box in found if box[3] - box[1] > 0 and box[3] < drawing.height_mm - 20)
    return sorted(box for box in found if box[3] == ground), ground


def line(drawing):
    """Where the line of what is used lies; None without one."""
    heavy = [m.points for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    across = [points for points in heavy if len(points) == 2 and points[0][1] == points[1][1]]
    return across[0][0][1] if across else None


def test_letters_keep_their_height_and_their_distance():
    in_each_field(tables(), "rain_catch", ASKED)
    in_each_field(tables(months(rain_mm="4000", mean_c="50", mean_min_c="-80")), "rain_catch")


@pytest.mark.parametrize("name", MONTHS)
def test_one_month_alone_is_drawn(name):
    in_each_field(tables(months([name])), "rain_catch")


def test_columns_are_as_high_as_the_rain_of_their_months():
    found, ground = rain(climate())
    wet = [mm for mm in RAIN if mm]
    assert len(found) == len(wet)
    per_mm = (ground - found[wet.index(139)][1]) / 139
    assert [(ground - box[1]) / per_mm for box in found] == pytest.approx(wet)
    assert "139 mm" in words(climate())


def test_open_months_are_filled_and_the_one_that_decided_is_heavy():
    drawing = climate()
    assert len(boxes(drawing.marks, fill=Fill.GLASS)) == len(OPEN)
    assert len(boxes(drawing.marks, pen=Pen.SEEN, fill=Fill.INK)) >= len(OPEN)
    (heavy,) = boxes(drawing.marks, pen=Pen.CUT)
    middle = (heavy[0] + heavy[2]) / 2
    assert (middle - 2) / 171 * 12 - 0.5 == pytest.approx(MONTHS.index("Oct"))


def test_what_is_used_is_a_line_as_high_as_the_rain_that_would_bring_it():
    """0.034 m × 50 m² × 0.8 = 1,360 L of 4 × 20 × 30 = 2,400 L: 60 mm would, by hand."""
    drawing = climate()
    found, ground = rain(drawing)
    october = next(box for box in found if box in boxes(drawing.marks, pen=Pen.CUT))
    per_mm = (ground - october[1]) / 34
    assert (ground - line(drawing)) / per_mm == pytest.approx(60)
    assert "0.57" in words(drawing)
    little = climate(roof="1")
    assert line(little) is None
    assert "heavy line" not in little.says
    assert line(climate(roof="")) is None


def test_warmth_lies_between_mean_and_mean_minimum_with_the_freezing_point():
    drawing = climate()
    (freezing,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    zero = freezing.points[0][1]
    shapes = [*boxes(drawing.marks, fill=Fill.INK), *boxes(drawing.marks, fill=Fill.PAPER)]
    warm = sorted(box for box in shapes if box[3] - zero < 14 and box[3] < zero + 14)[:12]
    per_k = (warm[0][3] - warm[0][1]) / 3
    assert [(zero - box[1]) / per_k for box in warm] == pytest.approx(MEAN, abs=1e-6)
    assert {"7.0 °C", "-12.0 °C"} <= words(drawing)


def test_snow_is_hatched_as_high_as_it_lies():
    drawing = climate()
    hatches = strokes(drawing.marks, pen=Pen.HATCH, tone=Tone.GRAPHITE)
    assert len(hatches) == sum(cm > 0 for cm in SNOW)
    assert "220 cm at most" in drawing.says
    without = climate(rows=months(snow_cm="0"))
    assert not strokes(without.marks, pen=Pen.HATCH, tone=Tone.GRAPHITE)
    assert "snow" not in without.says


def test_the_design_month_is_lettered_strong_and_narrow_months_by_their_letter():
    strong = {each.words for each in climate().letters if each.is_strong}
    assert "Oct" in strong
    narrow = [each.words for each in climate(field=FIELDS[2]).letters]
    assert "".join(w for w in narrow if len(w) == 1) == "".join(name[0] for name in MONTHS)


def test_what_isnt_given_is_left_out_and_named():
    rows = [{"month": "Jan"}, {"month": "Feb", "mean_c": "1", "mean_min_c": "-2"}]
    drawing = climate(rows=rows)
    assert [gap.says for gap in drawing.gaps] == [
        "Jan: mean not given",
        "Jan: mean minimum not given",
        "Jan: rain not given",
        "Feb: rain not given",
    ]
    assert words(drawing) >= {"no data", "1.0 °C"}
    assert climate(rows=[{"month": "Jan"}]) is not None
    assert climate(rows=[]) is None


def test_the_same_is_said_in_words():
    assert climate().says.startswith("Meets. filled: open, empty: closed; from mean")
    seen = seen_of(tables(), "rain_catch", ASKED)
    bare = replace(seen, asked=replace(seen.asked, measured=replace(seen.asked.measured, notes=())))
    with pytest.raises(StopIteration):
        in_fields(FIELDS[:1], bare)


def test_over_the_briefs_own_table_nothing_is_asked_of_it():
    asked = Asked(title="", measured=Measured())
    package = read_package({"climate": months(), "site": [{"design_month": "Oct"}]}).package
    seen = Seen(package=package, check="", asked=asked)
    for drawing in in_fields(FIELDS, seen, CLIMATE):
        assert "no data" not in words(drawing)
        assert "139 mm" in words(drawing) or drawing.figures
