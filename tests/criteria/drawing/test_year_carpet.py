"""A year as a carpet: each hour lies in its class, and what is alike is one patch."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Disc, Patches, Strokes
from criteria.drawing.pens import Fill, Tone
from criteria.drawing.year_carpet import draw_charge, draw_warmth
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import above, below
from criteria.units import System
from tests.criteria.drawing.seen import FIELDS, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.drawing.year_made import DARK_DAY, a_year

YEAR = a_year()
WIDE = Field()
PLANT = "with the plant that is drawn"


def warmth(year=YEAR, run=None, field=WIDE):
    drawing = draw_warmth(year, run or year.drawn, PLANT, field)
    keeps_the_rules(drawing)
    return drawing


def felt(kelvin, year=YEAR):
    """A year of one warmth, and what its run is drawn as."""
    run = replace(year.drawn, operative_k=np.full(HOURS, kelvin))
    return warmth(year, run)


def patches(drawing, **like):
    """The field of a carpet in some fill, without its key."""
    marks = (m for m in drawing.marks if isinstance(m, Patches) and m.boxes[0][1] < 50)
    return [m for m in marks if all(getattr(m, k) == v for k, v in like.items())]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_every_carpet_keeps_the_rules_in_each_width_and_system(field):
    warmth(field=field)
    warmth(run=YEAR.bare, field=field)
    keeps_the_rules(draw_charge(YEAR, YEAR.power, field))


def test_the_answer_counts_hours_while_somebody_is_there():
    drawing = warmth()
    cold = int(below(YEAR.drawn, YEAR).sum())
    assert f"{cold:,} h too cold".replace(",", "\u202f") in words(drawing)
    assert drawing.letters[0].tone is Tone.SHORT
    table = {figure.what: figure.amount.si for figure in drawing.figures}
    months = [hours for what, hours in table.items() if what.endswith(", too cold")]
    assert len(months) == 12
    assert sum(months) == cold * 3600
    assert table["Jul, too cold"] == 0


@pytest.mark.parametrize(
    ("kelvin", "fill", "tone", "segments"),
    [
        (288.0, Fill.INK, Tone.GRAPHITE, 0),
        (292.0, Fill.GLASS, Tone.INK, 2 * 24),
        (293.15, None, Tone.INK, 0),
        (300.0, Fill.TRACE, Tone.INK, 68),
        (305.0, Fill.TRACE, Tone.INK, 136),
    ],
)
def test_a_class_is_bounded_by_what_is_wanted(kelvin, fill, tone, segments):
    """Open from January to June and from October on: two patches, two runs a line."""
    drawing = felt(kelvin)
    found = patches(drawing)
    assert [(each.fill, each.tone, len(each.boxes)) for each in found] == (
        [(fill, tone, 2)] if fill else []
    )
    lines = [m for m in drawing.marks if isinstance(m, Strokes) and m.pen.name == "HATCH"]
    field = [m for m in lines if len(m.segments) > 20 and m.tone is Tone.INK]
    assert sum(len(each.segments) for each in field) == pytest.approx(segments, rel=0.03)


def test_the_band_ends_where_an_hour_begins_to_be_missed():
    edge = warmth(run=replace(YEAR.drawn, operative_k=np.full(HOURS, 292.65)))
    assert not patches(edge)
    hot = felt(299.66)
    assert patches(hot, fill=Fill.TRACE)
    assert not patches(felt(299.65))
    assert above(replace(YEAR.drawn, operative_k=np.full(HOURS, 299.66)), YEAR).any()


def test_hours_in_which_nobody_is_there_have_no_ring_while_others_do():
    away = YEAR.is_there & (np.arange(HOURS) >= 24 * 100)
    drawing = warmth(replace(YEAR, is_there=away))
    assert drawing.figures[0].amount.si > YEAR.drawn.operative_k.min()
    nobody = warmth(replace(YEAR, is_there=np.zeros(HOURS, dtype=bool)))
    assert nobody.figures[0].amount.si == YEAR.drawn.operative_k.min()


def test_where_nothing_is_wanted_it_says_so_and_judges_nothing():
    never = np.full(HOURS, np.nan)
    drawing = felt(250.0, replace(YEAR, warm_k=never, cool_k=never))
    assert not patches(drawing)
    assert "nothing is wanted" in words(drawing)
    assert "0 h too cold" in words(drawing)
    assert drawing.letters[0].tone is Tone.INK


def test_the_coldest_and_the_warmest_hour_are_ringed_with_their_figures():
    drawing = warmth()
    rings = [m for m in drawing.marks if isinstance(m, Disc)]
    assert len(rings) == 2
    there, felt = YEAR.is_there, YEAR.drawn.operative_k
    hour = int(np.where(there, felt, np.inf).argmin())
    warmest = int(np.where(there, felt, 0.0).argmax())
    day_mm = (173 - rings[0].middle[0]) / (365 - hour // 24 - 0.5)
    assert day_mm == pytest.approx((173 - rings[1].middle[0]) / (365 - warmest // 24 - 0.5))
    assert {figure.lettered for figure in drawing.figures[:2]} <= words(drawing)


def test_the_hours_of_a_day_lie_downwards_from_midnight():
    run = replace(YEAR.drawn, operative_k=np.where(np.arange(HOURS) % 24 < 6, 292.0, 294.0))
    (patch,) = patches(warmth(run=run), fill=Fill.GLASS)
    tops = {box[1] for box in patch.boxes}
    assert len(tops) == 1
    assert [box[3] - box[1] for box in patch.boxes] == pytest.approx([6 * 1.7] * 2)


def test_a_year_that_changes_every_hour_stays_light():
    jagged = np.where(np.arange(HOURS) * 7919 % 5 < 2, 280.0, 296.0)
    drawing = warmth(run=replace(YEAR.drawn, operative_k=jagged))
    boxes = sum(len(m.boxes) for m in drawing.marks if isinstance(m, Patches))
    assert boxes < 4000


def test_what_is_far_is_said_in_the_readers_degrees():
    drawing = warmth(field=Field(system=System.US))
    assert "more than 9.0 °F too cold" in words(drawing)


def test_dark_hours_are_red_and_seen_however_few():
    drawing = draw_charge(YEAR, YEAR.power, WIDE)
    (patch,) = patches(drawing, tone=Tone.SHORT)
    ((left, _, right, _),) = patch.boxes
    assert right - left == pytest.approx(0.8)
    assert "7 h dark" in words(drawing)
    assert "10 Feb 17:00" in drawing.says
    assert DARK_DAY == 31 + 9
    table = {figure.what: figure.amount.si for figure in drawing.figures}
    assert table["Longest time without"] == 7 * 3600
    assert table["Feb, essential loads without power"] == 7 * 3600


def test_quarters_of_what_may_be_used_tell_classes_apart():
    """Of 1 to 9 kWh: 3 is a quarter, 5 a half."""
    for kwh, per_day in ((2.99, 2), (3.0, 1), (4.99, 1), (5.0, 0), (8.9, 0)):
        power = replace(
            YEAR.power,
            stored_j=np.full(HOURS, kwh * 3.6e6),
            unserved_essential_w=np.zeros(HOURS),
        )
        drawing = draw_charge(replace(YEAR, power=power), power, WIDE)
        lines = [m for m in drawing.marks if isinstance(m, Strokes) and len(m.segments) > 20]
        assert sum(len(m.segments) for m in lines) == 24 * per_day
    full = replace(power, stored_j=np.full(HOURS, 9 * 3.6e6))
    drawing = draw_charge(replace(YEAR, power=full), full, WIDE)
    assert patches(drawing, fill=Fill.TRACE)
    assert "essential loads always have power" in drawing.says


def test_a_battery_that_holds_nothing_is_drawn_as_empty():
    none = replace(YEAR.power, stored_j=np.zeros(HOURS), least_j=0.0, most_j=0.0)
    drawing = draw_charge(replace(YEAR, power=none), none, WIDE)
    assert "under a quarter" in words(drawing)
