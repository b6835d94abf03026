"""Marks of the drawing: words with shapes, drawn as small SVG figures. Nothing is judged here."""

from collections.abc import Iterable
from functools import cache
from typing import Any

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from criteria.findings import Rule, State
from reviews.models.crits import LEVELS
from reviews.pages.sheet_views import sizes_of
from reviews.stylesheets import stylesheets

register = template.Library()
register.simple_tag(sizes_of)
register.simple_tag(stylesheets)

Point = tuple[float, float]

SQUARE: tuple[Point, ...] = ((2, 2), (18, 2), (18, 18), (2, 18))
DOWN: tuple[Point, ...] = ((1, 3), (19, 3), (10, 19))
UP: tuple[Point, ...] = ((10, 1), (19, 17), (1, 17))
LOZENGE: tuple[Point, ...] = ((10, 0.5), (19.5, 10), (10, 19.5), (0.5, 10))


def outline(polygon: Iterable[Point], kind: str = "outline") -> SafeString:
    """Draw a closed polygon."""
    corners = "L".join(f"{x:g} {y:g}" for x, y in polygon)
    return format_html('<path class="{}" d="M{}Z"/>', kind, corners)


def hatch(polygon: tuple[Point, ...], spacing: float, rising: bool = True) -> SafeString:
    """Fill a convex polygon with 45° lines, cut where they leave it."""
    sign = 1 if rising else -1
    sides = list(zip(polygon, polygon[1:] + polygon[:1], strict=True))
    offsets = [y + sign * x for x, y in polygon]
    lines = []
    offset = min(offsets) + spacing
    while offset < max(offsets) - spacing / 4:
        cuts = []
        for (x1, y1), (x2, y2) in sides:
            start, end = y1 + sign * x1 - offset, y2 + sign * x2 - offset
            if start * end < 0:
                share = start / (start - end)
                cuts.append((x1 + share * (x2 - x1), y1 + share * (y2 - y1)))
        if len(cuts) == 2:
            (ax, ay), (bx, by) = cuts
            lines.append(f"M{ax:.1f} {ay:.1f}L{bx:.1f} {by:.1f}")
        offset += spacing
    return format_html('<path class="hatch" d="{}"/>', "".join(lines))


DRAWINGS: dict[State, SafeString] = {
    State.MEETS: outline(SQUARE, "solid"),
    State.ON_THE_LINE: outline(SQUARE) + hatch(SQUARE, 7.5),
    State.SHORT: outline(DOWN) + hatch(DOWN, 3.4),
    State.OVER: outline(UP) + hatch(UP, 3.4),
    State.NO_DATA: outline(SQUARE, "dashed"),
    State.NOT_ASKED: mark_safe('<path d="M1 10H19"/>'),
    State.CLAIM_DIFFERS: outline(LOZENGE) + hatch(LOZENGE, 4) + hatch(LOZENGE, 4, rising=False),
    State.ODD_VALUE: mark_safe(
        '<circle cx="10" cy="10" r="8.6"/>'
        '<path d="M7.2 7.6a2.8 2.8 0 1 1 4.3 2.4c-1 .7-1.5 1.2-1.5 2.3M10 14.2v1.4"/>'
    ),
}


def read_state(given: State | str) -> State:
    """Read a state given as itself, its slug or its word."""
    try:
        return State(str(given).strip().lower().replace(" ", "_").replace("-", "_"))
    except ValueError:
        raise ValueError(f"state: read {given!r}, expected one of {', '.join(State)}") from None


def css_name(state: State) -> str:
    return state.value.replace("_", "-")


def drawing(content: SafeString, width: float = 20, height: float = 20) -> SafeString:
    """Wrap a mark's strokes in an SVG that assistive technology passes over."""
    return format_html(
        '<svg class="mark-drawing" viewBox="0 0 {} {}" aria-hidden="true"'
        ' focusable="false">{}</svg>',
        width,
        height,
        content,
    )


MARKS = {state: drawing(content) for state, content in DRAWINGS.items()}


@register.simple_tag(name="state")
def state_mark(given: State | str, note: str = "") -> SafeString:
    """Show a check's state: its shape with hatching, its word, and a note such as "by 7 %"."""
    state = read_state(given)
    return format_html(
        '<span class="state state-{}">{}<span>{}{}</span></span>',
        css_name(state),
        MARKS[state],
        state.word,
        f" {note}" if note else "",
    )


STANDINGS = {
    "In order": State.MEETS,
    "Look at it": State.ON_THE_LINE,
    "Fails": State.SHORT,
    "Unknown": State.NO_DATA,
}
"""How a part of the site stands, each with the shape of the state that it is like."""


@register.simple_tag
def standing(word: str) -> SafeString:
    """Show how a part of the site stands: its shape and its word."""
    like = STANDINGS[word]
    return format_html(
        '<span class="state state-{}">{}<span>{}</span></span>',
        css_name(like),
        MARKS[like],
        word,
    )


@register.simple_tag
@cache
def legend(*states: str) -> SafeString:
    """Explain the hatching used on this page: all states, or those that are named."""
    shown = [read_state(each) for each in states] or list(State)
    marks = format_html_join("\n  ", "<li>{}</li>", ((state_mark(each),) for each in shown))
    return format_html('<ul class="legend" aria-label="Legend">\n  {}\n</ul>\n', marks)


def level_height(figure: Any) -> SafeString:
    """Draw the height mark ▽ standing on its line, with the figure beside it."""
    triangle = drawing(outline(((1, 2), (19, 2), (10, 19))))
    return format_html('<span class="level-height">{}<span>{}</span></span>', triangle, figure)


@register.simple_tag
def level(value: int | None, word: bool = True) -> SafeString:
    """Show one of the five levels with its name, or that the juror left it."""
    if value is None:
        return mark_safe('<span class="level level-none">Not mine to judge</span>')
    if value not in range(1, 6):
        raise ValueError(f"level: read {value!r}, expected a whole number from 1 to 5 or None")
    name = LEVELS[value - 1]
    shown = "level-word" if word else "level-word visually-hidden"
    return format_html(
        '<span class="level level-{}">{}<span class="{}">{}</span></span>',
        value,
        level_height(value),
        shown,
        name,
    )


START, AT_TARGET, END = 6.0, 152.0, 226.0
TOP, HEIGHT = 14, 8
BREAK = "l5-6l-5-4l5-6"


def at(length: float) -> str:
    return f"{length:.1f}"


def bays() -> SafeString:
    """Draw four bays from 0 to the target, filled and open in turn, as on a drawn scale."""
    width = (AT_TARGET - START) / 4
    return format_html_join(
        "",
        '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>',
        (
            ("open" if n % 2 else "filled", at(START + n * width), TOP, at(width), HEIGHT)
            for n in range(4)
        ),
    )


def beyond() -> SafeString:
    """Draw the bar's run past the target."""
    return format_html(
        '<path class="beyond" d="M{0} {1}H{2}M{0} {3}H{2}"/>', AT_TARGET, TOP, END, TOP + HEIGHT
    )


def limit(x: float, rule: Rule) -> SafeString:
    """Draw a limit on the bar, with an arrow toward the side that is asked for."""
    toward = -1 if rule is Rule.AT_MOST else 1
    return format_html(
        '<path class="target" d="M{0} 11V30M{0} 29H{1}M{2} 26L{1} 29L{2} 32"/>',
        at(x),
        at(x + toward * 12),
        at(x + toward * 8),
    )


def tick(share: float) -> SafeString:
    """Stand the value's tick on the bar; past either end, at that end behind a break line."""
    x = START + share * (AT_TARGET - START)
    broken = ""
    if x > END:
        x, broken = END, mark_safe(f'<path class="break" d="M{END - 23} 26{BREAK}"/>')
    elif x < START:
        x, broken = START, mark_safe(f'<path class="break" d="M{START + 10} 26{BREAK}"/>')
    return format_html(
        '{}<path class="value" d="M{} 7V26"/><path class="pointer" d="M{} 0h11l-5.5 9z"/>',
        broken,
        at(x),
        at(x - 5.5),
    )


@register.simple_tag
def scale_bar(
    value: float | None,
    target: float | None,
    value_text: str,
    target_text: str,
    rule: Rule | str = Rule.AT_LEAST,
    state: State | str = State.NOT_ASKED,
    lower: float | None = None,
    words: str = "",
    is_lettered: bool = True,
) -> SafeString:
    """Draw a bar from 0 to the target and half as far again, with a tick at the value.

    Value and target are in one unit; the texts say them with that unit, as precisely as the
    target is given. Without a target, or with a target of 0, there is nothing to scale by.

    words        what is asked, where a side and a limit don't say it
    lower        the other limit, where there are two: the target is then the upper one
    is_lettered  whether 0 and the target stand below it; beside a column of figures they needn't
    """
    if not target:
        return mark_safe("")
    side = Rule(rule)
    said = value_text if value is not None else "no data"
    other = START + lower / target * (AT_TARGET - START) if lower is not None else 0.0
    letters = format_html(
        '<text x="{}" y="48">0</text><text x="{}" y="48" text-anchor="middle">{}</text>',
        START - 4,
        AT_TARGET,
        target_text,
    )
    height = 52 if is_lettered else 34
    return format_html(
        '<svg class="scale-bar scale-bar-{0}" viewBox="0 0 240 {1}" width="240" height="{1}"'
        ' role="img"><title>{2}, {3}</title><desc>Bar from 0 to the target and on.</desc>'
        "{4}{5}{6}{7}{8}{9}</svg>",
        css_name(read_state(state)),
        height,
        said,
        words or f"{side} {target_text}",
        bays(),
        beyond(),
        limit(AT_TARGET, side),
        "" if lower is None else limit(other, Rule.AT_LEAST),
        "" if value is None else tick(value / target),
        letters if is_lettered else "",
    )


def linked(css_class: str, href: str, name: str, content: SafeString) -> SafeString:
    """Give a mark its spoken name, and make it a link where it leads somewhere."""
    spoken = format_html('<span class="visually-hidden">{}</span>', name)
    if href:
        return format_html('<a class="{}" href="{}">{}{}</a>', css_class, href, content, spoken)
    return format_html('<span class="{}">{}{}</span>', css_class, content, spoken)


@register.simple_tag
def flag(number: Any, href: str = "") -> SafeString:
    """Show a comment's number on a pennant."""
    width = 20 + 9 * len(str(number))
    pennant = format_html(
        '<path d="M2 2V31M2 3H{0}l-6 9.5l6 9.5H2"/><text x="{1}" y="18">{2}</text>',
        width,
        (width - 2) / 2,
        number,
    )
    return linked("flag", href, f"Comment {number}", drawing(pennant, width + 2, 32))


@register.simple_tag
def revision(letter: str) -> SafeString:
    """Show the revision in which a row last changed: a triangle with its letter."""
    triangle = format_html('<path d="M16 2L31 29H1Z"/><text x="16" y="26">{}</text>', letter)
    return linked("revision", "", f"Changed at revision {letter}", drawing(triangle, 32, 32))


@register.simple_tag
def state_box(*words: Any) -> SafeString:
    """Say a package's state in a ruled box: Issued for crit · Rev B · 18:00."""
    return format_html(
        '<p class="state-box">{}</p>',
        format_html_join("", "<span>{}</span>", ((word,) for word in words if word)),
    )
