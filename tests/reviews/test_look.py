"""The look: colours that can be read, marks that never rest on colour, markup the policy allows."""

import math
import re
from itertools import product
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.template import Context, Template
from django.template.loader import render_to_string
from django.test import RequestFactory

from criteria.findings import Rule, State
from reviews.models import Comment
from reviews.models.crits import LEVELS
from reviews.pages.look_specimen import SpecimenForm, specimen_context
from reviews.templatetags import look

STATIC = Path(look.__file__).parents[1] / "static" / "reviews"
SHEETS = sorted((STATIC / "css").glob("*.css"))

TEXT = ("ink", "graphite", "redline", "petrol", "spruce", "ochre", "violet")
GROUNDS = ("board", "sheet", "trace", "raised")

# The palette as designed: colour, contrast on the sheet and on the board, to one decimal,
# worked out with another implementation of the same formula.
PALETTE = {
    "on": {
        "ink": ("#1B2421", 15.2, 11.4),
        "graphite": ("#4C5753", 7.2, 5.4),
        "fine": ("#7B877F", 3.6, 2.7),
        "edge": ("#66726A", 4.8, 3.6),
        "redline": ("#A3271A", 7.0, 5.2),
        "petrol": ("#1D5060", 8.5, 6.3),
        "spruce": ("#2A5E38", 7.3, 5.4),
        "ochre": ("#7A5200", 6.6, 5.0),
        "violet": ("#633A78", 8.3, 6.2),
    },
    "off": {
        "ink": ("#EAE4D2", 13.1, 14.6),
        "graphite": ("#B5BCB3", 8.6, 9.6),
        "edge": ("#6F7C75", 3.8, 4.3),
        "redline": ("#FF9C88", 8.2, 9.2),
        "petrol": ("#8FCAD6", 9.2, 10.3),
        "spruce": ("#9FD0A5", 9.5, 10.7),
        "ochre": ("#E6BE6A", 9.4, 10.6),
        "violet": ("#D0B6E6", 9.1, 10.2),
    },
}


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour. WCAG 2.2, definition of relative luminance."""
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours. WCAG 2.2, definition of contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def tokens(lamp: str) -> dict[str, str]:
    css = (STATIC / "css" / "tokens.css").read_text()
    opening = ":root {" if lamp == "on" else ':root[data-lamp="off"] {'
    block = css[css.index(opening) :].split("}")[0]
    return dict(re.findall(r"--([\w-]+): (#[0-9A-F]{6});", block))


def draw(source: str, **context: object) -> str:
    return Template("{% load look %}" + source).render(Context(context))


def specimen(**extra: object) -> str:
    request = RequestFactory().get("/specimen/")
    return render_to_string("specimen.html", specimen_context() | extra, request)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#FFFFFF", 21.0),  # the greatest ratio, WCAG 2.2 note 1
        ("#FFFFFF", "#FFFFFF", 1.0),
        ("#767676", "#FFFFFF", 4.54),  # the lightest grey that passes on white, common practice
    ],
)
def test_contrast_follows_the_published_formula(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("lamp", ["on", "off"])
def test_palette_is_the_designed_one(lamp: str) -> None:
    colours = tokens(lamp)
    for name, (colour, on_sheet, on_board) in PALETTE[lamp].items():
        assert colours[name] == colour
        assert contrast(colour, colours["sheet"]) == pytest.approx(on_sheet, abs=0.051)
        assert contrast(colour, colours["board"]) == pytest.approx(on_board, abs=0.051)


@pytest.mark.parametrize(("lamp", "name", "ground"), product(["on", "off"], TEXT, GROUNDS))
def test_text_reads_on_every_ground(lamp: str, name: str, ground: str) -> None:
    colours = tokens(lamp)
    assert contrast(colours[name], colours[ground]) >= 4.5


@pytest.mark.parametrize(("lamp", "ground"), product(["on", "off"], GROUNDS))
def test_control_edges_show_on_every_ground(lamp: str, ground: str) -> None:
    colours = tokens(lamp)
    assert contrast(colours["edge"], colours[ground]) >= 3.0


def test_the_night_that_a_device_asks_for_is_the_night_of_the_lamp() -> None:
    css = (STATIC / "css" / "tokens.css").read_text()
    off, device = (
        re.findall(r"--[\w-]+: [^;]+;", css[css.index(f'[data-lamp="{lamp}"]') :].split("}")[0])
        for lamp in ("off", "device")
    )
    assert off == device
    assert len(off) > 15


def drawn(part: str) -> set[str]:
    """The tokens by which drawings are drawn, as drawn.css gives them to its classes."""
    css = (STATIC / "css" / "drawn.css").read_text()
    found = re.findall(rf"\.drawn \.{part}-\w+ {{\s+(?:color|fill): var\(--([\w-]+)\)", css)
    assert found
    return set(found)


@pytest.mark.parametrize("lamp", ["on", "off"])
def test_each_line_hatch_and_letter_of_a_drawing_shows_on_each_of_its_grounds(lamp: str) -> None:
    """3:1 for what is drawn, 4.5:1 for what is lettered (WCAG 2.2, 1.4.11 and 1.4.3)."""
    colours = tokens(lamp)
    # what is cut is outlined in ink, and nothing stands on it; on a floor by day see below
    grounds = drawn("fill") - {"cut", "lit"}
    assert {"sheet", "glass", "trace"} <= grounds
    for tone in drawn("tone") - {"shade"} | {"petrol"}:
        assert contrast(colours[tone], colours["sheet"]) >= 4.5, tone  # letters have its halo
        assert all(contrast(colours[tone], colours[each]) >= 3 for each in grounds), tone
    assert contrast(colours["ink"], colours["sheet"]) >= 3
    # a daylight plan: hatching, lines and figures of the floor, doors that lie on floor and sheet
    assert contrast(colours["shade"], colours["lit"]) >= 3
    assert contrast(colours["on-lit"], colours["lit"]) >= 4.5
    assert all(contrast(colours["either"], colours[each]) >= 3 for each in ("lit", "sheet"))
    # by night as by day, what is bright is light and what is dark hatched darker
    assert luminance(colours["lit"]) > 0.6 > luminance(colours["shade"])


def test_print_is_black_on_white() -> None:
    css = (STATIC / "css" / "tokens.css").read_text().partition("@media print")[2]
    printed = dict(re.findall(r"--(\w+): (#[0-9A-F]{6});", css))
    assert {printed[ground] for ground in GROUNDS} == {"#FFFFFF"}
    assert all(contrast(printed[name], "#FFFFFF") >= 7 for name in TEXT)


def test_every_state_has_its_own_drawing_and_its_word() -> None:
    drawn = {state: draw("{% state s %}", s=state) for state in State}
    assert len({re.search(r"<svg.*</svg>", html)[0] for html in drawn.values()}) == len(State)
    assert all(f">{state.word}<" in html for state, html in drawn.items())


@pytest.mark.parametrize("given", ["On the line", "on_the_line", "on-the-line", State.ON_THE_LINE])
def test_a_state_is_read_from_word_slug_or_member(given: str) -> None:
    assert "On the line by 2 mm" in draw("{% state s 'by 2 mm' %}", s=given)


def test_an_unknown_state_is_refused() -> None:
    with pytest.raises(ValueError, match="read 'fine', expected one of meets, on_the_line"):
        draw("{% state 'fine' %}")


def test_a_note_is_escaped() -> None:
    assert "&lt;b&gt;" in draw("{% state 'short' note %}", note="<b>")


@pytest.mark.parametrize("shape", [look.SQUARE, look.DOWN, look.UP, look.LOZENGE])
@pytest.mark.parametrize("rising", [True, False])
def test_hatching_stays_inside_its_outline(shape: tuple[look.Point, ...], rising: bool) -> None:
    path = look.hatch(shape, 3, rising=rising)
    points = [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", path)]
    assert len(points) >= 4
    middle_x = sum(x for x, _ in shape) / len(shape)
    middle_y = sum(y for _, y in shape) / len(shape)
    for (x1, y1), (x2, y2) in zip(shape, shape[1:] + shape[:1], strict=True):
        length = math.hypot(x2 - x1, y2 - y1)
        inward = (x2 - x1) * (middle_y - y1) - (y2 - y1) * (middle_x - x1)
        for x, y in points:
            off_side = ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / length
            assert math.copysign(off_side, off_side * inward) > -0.08  # drawn to one decimal


def test_legend_shows_all_states_or_those_named() -> None:
    assert draw("{% legend %}").count("<li>") == len(State)
    assert draw("{% legend 'short' 'over' %}").count("<li>") == 2


@pytest.mark.parametrize(("value", "word"), enumerate(LEVELS, start=1))
def test_a_level_shows_figure_and_word(value: int, word: str) -> None:
    html = draw("{% level value %}", value=value)
    assert f"<span>{value}</span>" in html
    assert word in html


def test_a_level_left_aside_is_said() -> None:
    assert "Not mine to judge" in draw("{% level None %}")


@pytest.mark.parametrize("value", [0, 6, "3"])
def test_a_level_off_the_scale_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match="expected a whole number from 1 to 5 or None"):
        draw("{% level value %}", value=value)


def tick_of(html: str) -> float:
    return float(re.search(r'class="value" d="M([\d.]+)', html)[1])


def bar(value: float | None, target: float | None, rule: Rule = Rule.AT_LEAST) -> str:
    return look.scale_bar(value, target, f"{value} days", f"{target} days", rule, State.SHORT)


def test_scale_bar_places_the_tick_in_proportion() -> None:
    assert tick_of(bar(0, 5)) == look.START
    assert tick_of(bar(5, 5)) == look.AT_TARGET
    assert tick_of(bar(2.5, 5)) == pytest.approx((look.START + look.AT_TARGET) / 2, abs=0.05)


@pytest.mark.parametrize(("value", "end"), [(50, look.END), (-1, look.START)])
def test_scale_bar_breaks_for_a_value_past_its_end(value: float, end: float) -> None:
    html = bar(value, 5)
    assert tick_of(html) == end
    assert 'class="break"' in html
    assert 'class="break"' not in bar(5, 5)


def test_scale_bar_says_what_it_draws() -> None:
    assert "<title>4.4 days, at least 5 days</title>" in bar(4.4, 5)
    assert "<title>4.4 days, at most 5 days</title>" in bar(4.4, 5, Rule.AT_MOST)


def test_scale_bar_draws_both_limits_where_there_are_two() -> None:
    html = look.scale_bar(18, 22, "18 %", "22 %", Rule.AT_MOST, State.MEETS, 11, "11 to 22 %")
    limits = re.findall(r'class="target" d="M([\d.]+) 11V30M[\d.]+ 29H([\d.]+)', html)
    upper, lower = ([float(x) for x in pair] for pair in limits)
    assert upper[0] == look.AT_TARGET > upper[1]
    assert lower[0] == pytest.approx((look.START + look.AT_TARGET) / 2, abs=0.05)
    assert lower[1] > lower[0]
    assert "<title>18 %, 11 to 22 %</title>" in html


def test_scale_bar_beside_figures_needs_no_letters() -> None:
    assert "<text" not in look.scale_bar(4, 5, "4", "5", is_lettered=False)
    assert "<text" in bar(4, 5)


def test_scale_bar_without_value_has_no_tick() -> None:
    html = bar(None, 5)
    assert 'class="value"' not in html
    assert "<title>no data, at least 5 days</title>" in html


@pytest.mark.parametrize("target", [None, 0])
def test_scale_bar_without_target_is_left_out(target: float | None) -> None:
    assert bar(4, target) == ""


def test_marks_name_themselves() -> None:
    assert "Comment 9" in draw("{% flag 9 '#comment-9' %}")
    assert 'href="#comment-9"' in draw("{% flag 9 '#comment-9' %}")
    assert "Changed at revision B" in draw("{% revision 'B' %}")


def test_strokes_are_seen_on_paper_and_on_paper_in_the_dark() -> None:
    """WCAG 2.2, 1.4.11: 3 to 1; their halo parts them from whatever dark is drawn beneath."""
    colours = tokens("on")
    dimmed = "#" + f"{round(255 * 0.86):02X}" * 3
    assert "brightness(0.86)" in (STATIC / "css" / "tokens.css").read_text()
    for ground in ("#FFFFFF", dimmed, colours["halo"]):
        assert contrast(colours["stroke"], ground) >= 3.0
    assert {"stroke", "halo"} & set(tokens("off")) in (set(), {"stroke", "halo"})


def test_field_joins_label_hint_and_error_to_its_control() -> None:
    form = SpecimenForm({"rise": ""})
    html = draw('{% include "_field.html" with field=form.rise unit="mm" %}', form=form)
    assert '<label for="id_rise">' in html
    described = re.search(r'aria-describedby="([^"]+)"', html)[1].split()
    assert described == ["id_rise_helptext", "id_rise_error"]
    assert all(f'id="{name}"' in html for name in described)
    assert 'aria-invalid="true"' in html


def test_specimen_leaves_no_variable_unfilled_and_no_id_twice() -> None:
    ids = re.findall(r'\bid="([^"]+)"', specimen())
    assert sorted(set(ids)) == sorted(ids)


def test_pages_carry_nothing_that_the_content_policy_forbids() -> None:
    html = specimen()
    assert not re.search(r"<style|\sstyle=|\son\w+=|javascript:", html)
    assert all("src=" in tag for tag in re.findall(r"<script[^>]*>", html))


@pytest.mark.parametrize("lamp", ["on", "off"])
def test_the_server_sets_the_lamp(lamp: str) -> None:
    html = specimen(lamp=lamp)
    assert f'data-lamp="{lamp}"' in html
    assert f'name="theme-color" content="{tokens(lamp)["board"]}"' in html
    assert f'name="color-scheme" content="{"dark" if lamp == "off" else "light"}"' in html


def test_a_stopped_page_needs_no_context_and_stays_dark() -> None:
    html = render_to_string("500.html")
    assert 'data-lamp="off"' in html
    assert 'name="color-scheme" content="dark"' in html


@pytest.mark.parametrize("name", ["403.html", "404.html"])
def test_refusals_keep_the_lamp(name: str) -> None:
    assert 'data-lamp="off"' in render_to_string(name, {"lamp": "off"})


def test_everything_linked_is_there() -> None:
    for name in re.findall(r'/(reviews/[\w./-]+\.(?:css|svg))"', specimen()):
        assert finders.find(name), name
    for sheet in SHEETS:
        for url in re.findall(r'url\("([^"]+)"\)', sheet.read_text()):
            assert (sheet.parent / url).is_file(), url


def test_each_typeface_has_its_licence_beside_it() -> None:
    fonts = STATIC / "fonts"
    licences = {
        "Barlow": "BarlowSemiCondensed-OFL.txt",
        "Faustina": "Faustina-OFL.txt",
        "atkinson": "AtkinsonHyperlegibleNext-OFL.txt",
    }
    for font in fonts.glob("*.woff2"):
        licence = next(file for start, file in licences.items() if font.name.startswith(start))
        assert "SIL Open Font License, Version 1.1" in (fonts / licence).read_text()


def test_style_sheets_stay_short_enough_to_read() -> None:
    assert all(len(sheet.read_text().splitlines()) < 400 for sheet in SHEETS)


def test_no_button_bears_the_name_of_a_comment_kind_and_no_page_a_machine_word():
    """Keep is a kind of comment, so buttons save; a receipt number is no fingerprint."""
    button = re.compile(rf"<button[^>]*>\s*(Keep\b|({'|'.join(Comment.Kind.values)})\s*<)")
    machine = re.compile(r"working copy|fingerprint|SHA-256|\blet it go\b", re.IGNORECASE)
    tags = re.compile(r"{#.*?#}|{%.*?%}|{{.*?}}", re.DOTALL)
    for template in sorted(Path("templates").rglob("*.html")):
        text = tags.sub("", template.read_text(encoding="utf-8"))
        assert not button.search(text), template
        assert not machine.search(re.sub(r"<[^>]*>", " ", text)), template
