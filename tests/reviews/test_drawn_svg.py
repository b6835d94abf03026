"""Drawings as SVG: classes for pens and tokens, nothing inline, as large as the paper says."""

import gzip
import re
from dataclasses import replace
from pathlib import Path as File

import pytest

from criteria.drawing.drawing import Drawing
from criteria.drawing.marks import (
    Disc,
    Gap,
    Lettering,
    Patches,
    Path,
    Ribbon,
    Strokes,
    Touch,
)
from criteria.drawing.pens import Fill, Pen, Tone
from reviews.drawn.svg import as_svg
from tests.criteria.drawing.test_plan_walked import FIELDS, drawn, package_of

CSS = File("reviews/static/reviews/css/drawn.css").read_text(encoding="utf-8")
GAP = Gap(schedule="windows", mark="W1", column="left", says="W1: place not given")

ONE_OF_EACH = Drawing(
    title="Plan <of> R1",
    says="The answer & more",
    width_mm=87.0,
    height_mm=40.5,
    marks=(
        Path(points=((1, 2), (3.456, 4)), pen=Pen.ASSUMED, gap=GAP),
        Path(points=((0, 0), (1, 0), (1, 1)), pen=None, fill=Fill.CUT, is_closed=True),
        Strokes(segments=(((0, 0), (1, 1)), ((2, 2), (3, 3))), tone=Tone.SHORT),
        Patches(boxes=((1, 2, 3, 5), (4, 2, 4.5, 3)), fill=Fill.GLASS),
        Disc(middle=(5, 6), radius_mm=7.5, fill=Fill.PAPER),
        Ribbon(points=((0, 0), (9, 0)), width_mm=12.4),
        Lettering(words="<U3>", at=(4, 5), anchor="middle", cap_mm=4.2, is_strong=True),
    ),
)


def test_it_is_as_large_as_its_paper_and_says_what_it_is_and_what_it_shows():
    svg = as_svg(ONE_OF_EACH, "plan")
    assert svg.startswith(
        '<svg class="drawn" viewBox="0 0 87 40.5" width="87mm" height="40.5mm" role="img"'
        ' aria-labelledby="plan-title" aria-describedby="plan-says">'
        '<title id="plan-title">Plan &lt;of&gt; R1</title>'
        '<desc id="plan-says">The answer &amp; more</desc>'
    )


@pytest.mark.parametrize(
    "mark",
    [
        '<path class="pen-assumed tone-ink fill-none" d="M1 2L3.46 4"/>',
        '<path class="pen-none tone-ink fill-cut" d="M0 0L1 0L1 1Z"/>',
        '<path class="pen-hatch tone-short fill-none" d="M0 0L1 1M2 2L3 3"/>',
        '<path class="pen-none tone-ink fill-glass" d="M1 2h2v3h-2zM4 2h0.5v1h-0.5z"/>',
        '<circle class="pen-seen tone-ink fill-paper" cx="5" cy="6" r="7.5"/>',
        '<path class="ribbon-edge" stroke-width="12.4" d="M0 0L9 0"/>'
        '<path class="ribbon" stroke-width="12.04" d="M0 0L9 0"/>',
        '<text class="tone-ink strong" x="4" y="5" font-size="6.29" text-anchor="middle">'
        "&lt;U3&gt;</text>",
    ],
)
def test_each_mark_has_its_classes_and_its_place(mark):
    assert mark in as_svg(ONE_OF_EACH, "plan")


def test_pens_tones_and_fills_stand_in_the_stylesheet_as_they_are_drawn():
    for pen in Pen:
        found = re.search(rf"\.drawn \.pen-{pen.name.lower()} {{(.*?)}}", CSS, re.DOTALL)
        assert f"stroke-width: {pen.width_mm:g};" in found[1]
        dashes = " ".join(f"{dash:g}" for dash in pen.dashes_mm)
        assert f"stroke-dasharray: {dashes};" in found[1] if dashes else "dash" not in found[1]
    assert {*re.findall(r"\.tone-([\w-]+)", CSS)} == {*Tone}
    assert {*re.findall(r"\.fill-(\w+)", CSS)} == {*Fill}


def test_no_rule_of_drawings_reaches_beyond_them_and_none_is_a_colour():
    """A bare svg rule once repainted the page's own north arrow."""
    assert not re.search(r"(^|,|})\s*(svg|path|circle|text)\b", CSS)
    assert not re.search(r": #|rgb\(", CSS)


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_a_plan_is_light_and_nothing_in_it_is_inline(field):
    _, drawing = drawn(package_of(), "way_to_bed", field)
    svg = as_svg(drawing, "plan")
    assert len(gzip.compress(svg.encode())) < 15_000
    assert "style=" not in svg
    assert not re.search(r"#[0-9A-Fa-f]{3,6}\b|rgb\(", svg)


def test_words_that_run_upwards_are_turned_about_their_own_place():
    words = Lettering(words="1,200", at=(4, 5), is_turned=True)
    drawing = replace(ONE_OF_EACH, marks=(words,))
    assert 'x="4" y="5"' in as_svg(drawing, "plan")
    assert ' transform="rotate(-90 4 5)">1,200</text>' in as_svg(drawing, "plan")


def test_a_mark_leads_to_its_row_where_there_is_a_way_and_nowhere_else():
    line = Path(points=((0, 0), (1, 0)))
    touch = Touch(schedule="windows", mark='W"1', says="W1, 1,200 wide", marks=(line,))
    drawing = replace(ONE_OF_EACH, marks=(touch,))
    svg = as_svg(drawing, "plan", lambda schedule, mark: f"/{schedule}/?mark={mark}")
    assert 'role="group"' in svg
    assert (
        '<a class="touch" href="/windows/?mark=W&quot;1" data-row="windows W&quot;1"'
        ' aria-label="W1, 1,200 wide"><rect class="reach" x="-1.5" y="-1.5" width="4" height="3"/>'
        '<path class="pen-seen tone-ink fill-none" d="M0 0L1 0"/></a>'
    ) in svg
    alone = as_svg(drawing, "plan")
    assert "<a " not in alone
    assert 'role="img"' in alone
    assert 'd="M0 0L1 0"' in alone
