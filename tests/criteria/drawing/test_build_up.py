"""Layers drawn: as thick on paper as rows have them, the cold through them, what is missing."""

import pytest

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.build_up import BUILD_UP, build_ups, draw_build_ups
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Disc, Path, Strokes, around
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Amount, Measured
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System
from tests.criteria.drawing.test_plan_walked import keeps_the_rules


def layer(part, name, mm, conducts="", **cells):
    return {"part": part, "layer": name, "mm": mm, "lambda": conducts, **cells}


# the wall's R by hand: 0.17 + 0.02/0.05 + 0.2/0.04 + 0.08/0.16 = 6.07
LAYERS = [
    layer("wall", "Shingles", "22"),
    layer("wall", "Fibre board", "20", "0.05", mu="5"),
    layer("wall", "Wool", "200", "0.04", mu="1"),
    layer("wall", "Timber panel", "80", "0.16", mu="50"),
    layer("roof", "Wool between rafters", "240", "0.04", bridge_lambda="0.13", bridge_share="0.1"),
    layer("floor", "Concrete", "100", "1.6"),
]
SITE = [{"design_outside_c": "-18", "design_inside_c": "16"}]
ASKED = {"wall_u": "0.18", "roof_u": "0.15", "floor_u": "0.18"}


TABLES = {"envelope": LAYERS, "site": SITE}


def package_of(*layers, **changed):
    own = {"envelope": [*layers]} if layers else {}
    return read_package({**TABLES, **own, **changed}).package


def seen_of(package, check="wall_u", asked=ASKED):
    findings = {}
    for slug in (*ASKED, check):
        row = {"id": "T01", "check": slug, "rule": "at most", "value": asked.get(slug, "0.5")}
        is_asked = slug in asked
        findings[slug] = (
            judge(package, read_targets([row]).targets[0])
            if is_asked
            else unasked(package, CHECKS[slug])
        )
    finding = findings[check]
    measured = (*finding.worst_first, Measured())[0]
    amount = Amount(measured.values[0], finding.scale) if measured.values else None
    shown = Asked(title=finding.title, measured=measured, amount=amount, state=finding.state)
    return Seen(package=package, check=check, asked=shown, findings=findings)


def drawn(package=None, check="wall_u", field=None, **more):
    seen = seen_of(package or package_of(), check, **more)
    return draw_build_ups(build_ups(seen), seen, field or Field())


def words(drawing):
    return [letter.words for letter in drawing.letters]


def skins(drawing):
    """Boxes of the layers, in their order."""
    paths = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.PAPER]
    boxes = [around(m.points) for m in paths]
    return [box for box in boxes if box[3] - box[1] > 20]


FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
@pytest.mark.parametrize("check", ["wall_u", "floor_u", "inside_wetting", "apparent_conductivity"])
def test_letters_keep_their_height_and_their_distance(check, field):
    keeps_the_rules(drawn(None, check, field))


def test_layers_are_as_thick_on_paper_as_rows_have_them():
    drawing = drawn(package_of(*LAYERS[:4]))
    assert drawing.scale == "1:10"
    assert [box[2] - box[0] for box in skins(drawing)] == pytest.approx([2.2, 2, 20, 8])
    assert {"200", "Wool", "5.000", "not counted"} <= {*words(drawing)}


def test_each_hatch_says_how_a_layer_conducts():
    drawing = drawn()
    hatches = [m for m in drawing.marks if isinstance(m, Strokes) and m.pen is Pen.HATCH]
    # two insulating, timber once, concrete both ways, and what the floor lacks
    assert len(hatches) == 3 + 1 + 2 + 1


def test_framing_is_as_high_as_its_share():
    drawing = drawn()
    (cross,) = [m for m in drawing.marks if isinstance(m, Strokes) and m.pen is Pen.FINE]
    box = around([point for segment in cross.segments for point in segment])
    assert box[3] - box[1] == pytest.approx(0.1 * 38)


def test_the_cold_runs_through_the_layers_by_their_resistance():
    """By hand: from −18 to 16 °C over 6.07; 0 °C after 18/34 of it, 3.2135, within the wool."""
    drawing = drawn(package_of(*LAYERS[:4]))
    (line,) = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.MEETS]
    (left, *_), right = line.points[0], line.points[-1]
    (disc,) = [m for m in drawing.marks if isinstance(m, Disc)]
    wool = skins(drawing)[2]
    share = (18 / 34 * 6.07 - 0.04 - 0.4) / 5
    assert disc.middle[0] == pytest.approx(wool[0] + share * (wool[2] - wool[0]))
    # over 34 K and 2 K beyond each: the inside face is 0.13/6.07 of 34 K under the room
    per_k = 38 / 38
    assert right[1] - skins(drawing)[0][1] == pytest.approx((2 + 34 * 0.13 / 6.07) * per_k)
    assert left == skins(drawing)[0][0]
    assert "0.0 °C" in words(drawing)


@pytest.mark.parametrize(
    "site", [[], [{"design_outside_c": "5", "design_inside_c": "20"}]], ids=["blank", "mild"]
)
def test_without_frost_or_weather_no_freezing_point_is_drawn(site):
    drawing = drawn(package_of(site=site))
    keeps_the_rules(drawing)
    assert len([m for m in drawing.marks if isinstance(m, Disc)]) == 0
    assert bool(drawing.gaps) == (not site)


def test_what_a_limit_lacks_is_drawn_outside_to_scale():
    """By hand: 1/0.15 − 6.07 = 0.5967 m²K/W, of wool 23.9 mm."""
    drawing = drawn(package_of(*LAYERS[:4]), asked={"wall_u": "0.15"})
    short = [m for m in drawing.marks if isinstance(m, Path) and m.tone is Tone.SHORT]
    (box,) = [around(m.points) for m in short if m.is_closed]
    assert box[2] - box[0] == pytest.approx((1 / 0.15 - 6.07) * 0.04 * 100)
    assert skins(drawing)[0][0] == pytest.approx(box[2])
    assert {"24", "short, of Wool"} <= {*words(drawing)}
    figures = {figure.what: figure.amount.si for figure in drawing.figures}
    assert figures["Wall, short of Wool"] == pytest.approx((1 / 0.15 - 6.07) * 0.04)


def test_beside_what_is_drawn_stands_what_would_do_and_how_deep_freezing_lies():
    """By hand: 0.2 − (6.07 − 1/0.18) · 0.04 = 0.1794, so 180; 0 °C at 16/34 of 6.07 from inside."""
    drawing = drawn(package_of())
    assert {"180", "would do, of Wool", "169", "to 0.0 °C from inside"} <= {*words(drawing)}
    figures = {figure.what: figure.amount.si for figure in drawing.figures}
    assert figures["Wall, enough of Wool"] == pytest.approx(0.18)
    from_inside = (16 / 34 * 6.07 - 0.13 - 0.5) * 0.04 + 0.08
    assert figures["Wall, from inside to 0.0 °C"] == pytest.approx(from_inside)
    us = {*words(drawn(field=Field(system=System.US)))}
    assert {"7.07", "6.66", "to 32.0 °F from inside"} <= us
    framed = {*words(drawn(package_of(LAYERS[4]), "roof_u"))}
    assert not any(each.startswith("would do") for each in framed)
    unsaid = {*words(drawn(package_of(layer("wall", "Shingles", ""), *LAYERS[1:4])))}
    assert not any(each.startswith("to 0.0") for each in unsaid)


def test_each_lettered_figure_is_the_findings():
    seen = seen_of(package_of())
    drawing = draw_build_ups(build_ups(seen), seen, Field())
    values = {finding.value for finding in seen.findings.values()}
    findings = [figure for figure in drawing.figures if "," not in figure.what]
    assert {figure.amount.si for figure in findings} == values


def test_of_what_nobody_asks_no_limit_is_lettered():
    drawing = drawn(package_of(*LAYERS[:4]), asked={})
    assert not any(each.startswith("at most") for each in words(drawing))
    assert "U 0.165" in words(drawing)


def test_where_vapour_condenses_a_line_is_drawn_between_the_layers():
    wet = [layer("wall", "Sheet", "1", "50", mu="1000000"), *LAYERS[2:4]]
    drawing = drawn(package_of(*wet), "inside_wetting")
    keeps_the_rules(drawing)
    (line,) = [
        m for m in drawing.marks if isinstance(m, Path) and (m.tone, m.pen) == (Tone.SHORT, Pen.CUT)
    ]
    assert line.points[0][0] == pytest.approx(skins(drawing)[0][2])
    dry = drawn(package_of(*LAYERS[1:4]), "inside_wetting")
    assert not any(m.tone is Tone.SHORT for m in dry.marks if isinstance(m, Path))


def test_what_isnt_given_is_dashed_and_named():
    drawing = drawn(
        package_of(layer("wall", "Wool", "", "0.04"), layer("wall", "Board", "20", "0.1"))
    )
    keeps_the_rules(drawing)
    assert [gap.says for gap in drawing.gaps] == ["wall, Wool: thickness not given"]
    assert "U not known" in words(drawing)
    assert not any(m.tone is Tone.MEETS for m in drawing.marks if isinstance(m, Path))
    bare = drawn(package_of(layer("wall", "Cloth", "5")))
    keeps_the_rules(bare)
    assert {"not counted", "200 mm, 1:5"} <= {*words(bare)}
    inches = drawn(package_of(layer("wall", "Cloth", "5")), field=Field(system=System.US))
    assert '5 in, 3" = 1\'-0"' in words(inches)


@pytest.mark.parametrize("field", FIELDS[::3], ids=lambda f: f"{f.width_mm:g}")
def test_two_hundred_layers_stay_on_a_sheet_and_the_rest_is_counted(field):
    many = [
        layer(part, "Board and its long name", "1999", "0.1") for part in ("wall", "roof") * 100
    ]
    drawing = drawn(package_of(*many), field=field)
    keeps_the_rules(drawing)
    assert drawing.key == ("88 more layers of the wall", "88 more layers of the roof")
    assert drawing.height_mm < 180


def test_without_layers_nothing_is_drawn():
    closed = read_package({"envelope": LAYERS}, unread=["envelope"]).package
    for package in (package_of(envelope=[]), closed):
        asked = Asked(title="", measured=Measured())
        assert BUILD_UP.ready(Seen(package=package, check="wall_u", asked=asked)) is None
    assert BUILD_UP.ready(seen_of(package_of())).of(Field()).marks


def test_it_says_the_answer_first():
    drawing = drawn(package_of(*LAYERS[:4]))
    assert drawing.says == "0.165 W/m²K, Meets. Wall: Shingles, Fibre board, Wool, Timber panel."
