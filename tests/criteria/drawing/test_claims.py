"""Claims drawn: each pair on a line from nothing, the gap hatched where a claim is better."""

import pytest

from criteria.drawing.claims import CLAIMS
from criteria.drawing.held import asked_of, of_rows_alone
from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Fill, Tone
from criteria.drawing.picture import Seen
from criteria.findings import Measured, State
from criteria.package import read_package
from tests.criteria.drawing.seen import FIELDS as EVERY
from tests.criteria.drawing.seen import boxes, in_fields, words

WALL = [{"part": "wall", "layer": "Wool", "mm": "200", "lambda": "0.04"}]  # 5.17: U 0.193
TANKS = [{"mark": "T1", "holds": "potable", "litres": "1000", "usable_share": "1"}]
TABLES = {
    "envelope": WALL,
    "tanks": TANKS,
    "site": [{"people": "10", "water_l_pd": "10"}],  # 10 days
}


def claim(about, text, **cells):
    return {"about": about, "text": text, **cells}


def drawn(*claims, fields=EVERY[:1], **tables):
    package = read_package({**TABLES, "claims": [*claims], **tables}).package
    asked = asked_of(of_rows_alone(), Measured())
    return in_fields(fields, Seen(package=package, check="", asked=asked), CLAIMS)


WATER = claim("Water", "20 days")
FAIR = claim("Wall", "U 0.25")
VAGUE = claim("Wood", "plenty for all")


def test_letters_keep_their_height_and_their_distance():
    assert len(drawn(FAIR, WATER, VAGUE, fields=EVERY)) == 4


def test_a_pair_lies_on_one_line_as_far_from_nothing_as_its_figures():
    (drawing,) = drawn(WATER)
    sheet, rows = [m for m in drawing.marks if isinstance(m, Disc)]
    (zero,) = [
        m.points[0][0]
        for m in drawing.marks
        if isinstance(m, Path) and m.points[0][0] == m.points[1][0] and not m.is_closed
    ]
    far, near = sheet.middle[0] - zero, rows.middle[0] - zero
    assert far / near == pytest.approx(20 / 10)
    assert (sheet.fill, rows.fill) == (Fill.PAPER, Fill.INK)
    (gap,) = boxes(drawing.marks, tone=Tone.CLAIM)
    assert (gap[0], gap[2]) == (rows.middle[0], sheet.middle[0])
    crossed = [m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.CLAIM]
    assert len(crossed) == 2
    assert {
        "Water: 20 days",
        "Claim differs 2.0 times",
        "sheet 20.0 days",
        "rows 10.0 days",
    } <= words(drawing)
    assert [f.amount.si / 86400 for f in drawing.figures] == pytest.approx([20, 10])


def test_a_claim_that_is_no_better_has_no_gap():
    (drawing,) = drawn(FAIR)
    assert not boxes(drawing.marks, tone=Tone.CLAIM)
    assert {"none differs", "Agrees"} <= words(drawing)


def test_the_widest_pair_stands_first_and_what_cant_be_held_says_why():
    (drawing,) = drawn(FAIR, claim("Water", "11 days"), VAGUE, WATER)
    names = [m.words for m in drawing.letters if ": " in m.words and not m.words.startswith("rows")]
    assert names[:2] == ["Water: 20 days", "Water: 11 days"]
    assert {"2 of 4 differ", "Which check?", "rows: its words name no check"} <= words(drawing)
    assert drawing.says.startswith("2 of 4 differ. Wall, U 0.25: agrees. Water, 11 days: claim")


def test_words_temperatures_and_nothing_make_no_pair():
    of_all = claim("Beds", "all", check="lying_view")
    cold = claim("Cold", "-20 °C", check="balance_temperature")
    (drawing,) = drawn(of_all, cold, claim("Water", "0 days"), tanks=[])
    assert not [m for m in drawing.marks if isinstance(m, Disc)]
    none = claim("Alarms", "2", check="smoke_alarms")
    (without,) = drawn(none, ways_out=[{"smoke_alarms": "1"}], rooms=[])
    assert without.marks


def test_a_claim_where_rows_give_nothing_stands_first():
    room = {"room": "Day room", "use": "day", "floor_m2": "20"}
    glass = {"mark": "W1", "room": "R2", "n": "1", "glass_w": "900", "glass_h": "900"}
    lit = claim("Day room", "5 %", check="daylight_ratio", subject="R1")
    rooms = [room | {"mark": "R1"}, room | {"mark": "R2", "room": "Bunks"}]
    tables = {"rooms": rooms, "windows": [glass]}
    (drawing,) = drawn(WATER, lit, **tables)
    assert "Day room: 5 %" in words(drawing)
    gaps = boxes(drawing.marks, tone=Tone.CLAIM)
    assert len(gaps) == 2
    assert gaps[0][0] == 2.0  # from nothing


def test_many_claims_stay_on_a_sheet():
    many = [claim(f"Water {n}", "20 days") for n in range(200)]
    for drawing in drawn(*many, fields=EVERY):
        assert drawing.key[0].endswith("Water 199")


def test_without_claims_nothing_is_drawn():
    assert drawn() == []
    assert of_rows_alone().state is State.NOT_ASKED
