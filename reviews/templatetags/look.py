"""Marks of the drawing: words with shapes, drawn as small SVG figures. Nothing is judged here."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any, NamedTuple

from django import template
from django.forms import BoundField
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

Point = tuple[float, float]

SQUARE: tuple[Point, ...] = ((2, 2), (18, 2), (18, 18), (2, 18))
DOWN: tuple[Point, ...] = ((1, 3), (19, 3), (10, 19))
UP: tuple[Point, ...] = ((10, 1), (19, 17), (1, 17))
LOZENGE: tuple[Point, ...] = ((10, 0.5), (19.5, 10), (10, 19.5), (0.5, 10))

LEVEL_WORDS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")


class Mark(NamedTuple):
    """How a state of a check is written and drawn."""

    word: str
    drawing: SafeString


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


STATES: dict[str, Mark] = {
    "meets": Mark("Meets", outline(SQUARE, "solid")),
    "on_the_line": Mark("On the line", outline(SQUARE) + hatch(SQUARE, 7.5)),
    "short": Mark("Short", outline(DOWN) + hatch(DOWN, 3.4)),
    "over": Mark("Over", outline(UP) + hatch(UP, 3.4)),
    "no_data": Mark("No data", outline(SQUARE, "dashed")),
    "not_asked": Mark("Not asked", mark_safe('<path d="M1 10H19"/>')),
    "claim_differs": Mark(
        "Claim differs", outline(LOZENGE) + hatch(LOZENGE, 4) + hatch(LOZENGE, 4, rising=False)
    ),
    "odd_value": Mark(
        "Odd value",
        mark_safe(
            '<circle cx="10" cy="10" r="8.6"/>'
            '<path d="M7.2 7.6a2.8 2.8 0 1 1 4.3 2.4c-1 .7-1.5 1.2-1.5 2.3M10 14.2v1.4"/>'
        ),
    ),
}


def state_key(state: Any) -> str:
    """Read a state given as a word, a slug or a member of an enumeration."""
    key = str(getattr(state, "value", state)).strip().lower().replace(" ", "_").replace("-", "_")
    if key not in STATES:
        raise ValueError(f"state: read {state!r}, expected one of {', '.join(STATES)}")
    return key


def drawing(content: SafeString, width: float = 20, height: float = 20) -> SafeString:
    """Wrap a mark's strokes in an SVG that assistive technology passes over."""
    return format_html(
        '<svg class="mark-drawing" viewBox="0 0 {} {}" aria-hidden="true"'
        ' focusable="false">{}</svg>',
        width,
        height,
        content,
    )


@register.simple_tag
def state(state: Any, note: str = "") -> SafeString:
    """Show a check's state: its shape with hatching, its word, and a note such as "by 7 %"."""
    key = state_key(state)
    mark = STATES[key]
    return format_html(
        '<span class="state state-{}">{}<span>{}{}</span></span>',
        key.replace("_", "-"),
        drawing(mark.drawing),
        mark.word,
        f" {note}" if note else "",
    )


@register.inclusion_tag("_legend.html")
def legend(*states: Any) -> dict[str, Any]:
    """Explain the hatching used on this page: all states, or those that are named."""
    return {"states": [state_key(each) for each in states] or list(STATES)}


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
    name = LEVEL_WORDS[value - 1]
    shown = "level-word" if word else "level-word visually-hidden"
    return format_html(
        '<span class="level level-{}">{}<span class="{}">{}</span></span>',
        value,
        level_height(value),
        shown,
        name,
    )


@register.inclusion_tag("_level_picker.html")
def level_picker(
    field: BoundField, descriptors: Iterable[str] = (), weight: str = ""
) -> dict[str, Any]:
    """Offer a radio field as five height marks and, for an empty or other value, a plain box."""
    words = list(descriptors)
    choices = []
    for option in field:
        figure = str(option.data["value"] or "")
        on_scale = figure in {"1", "2", "3", "4", "5"}
        choices.append(
            {
                "input": option.tag(),
                "on_scale": on_scale,
                "height": level_height(figure) if on_scale else "",
                "word": option.choice_label,
                "descriptor": words[int(figure) - 1] if on_scale and words else "",
            }
        )
    return {"field": field, "choices": choices, "weight": weight}


def plain_number(value: Any) -> str:
    return f"{float(value):.6g}" if isinstance(value, (int, float, Decimal)) else str(value)


def at(length: float) -> str:
    return f"{length:.1f}"


def segments(left: float, right: float, top: float, height: float) -> SafeString:
    """Draw four bays, filled and open in turn, as on a drawn scale."""
    bay = (right - left) / 4
    return format_html_join(
        "",
        '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>',
        (
            ("filled" if n % 2 == 0 else "open", at(left + n * bay), top, at(bay), height)
            for n in range(4)
        ),
    )


@register.simple_tag
def scale_bar(
    value: Any,
    target: Any,
    unit: str = "",
    rule: str = "at least",
    state: Any = "not_asked",
    value_text: str = "",
    target_text: str = "",
) -> SafeString:
    """Draw a bar from 0 to the target and half as far again, with a tick at the value.

    A value past the end is drawn at the end, behind a break line. The texts default to the
    numbers with their unit; give them where the precision matters.
    """
    key = state_key(state)
    value_said = value_text or ("no data" if value is None else f"{plain_number(value)} {unit}")
    target_said = target_text or f"{plain_number(target)} {unit}"
    left, at_target, end, top, height = 6.0, 152.0, 226.0, 14, 8
    parts = [segments(left, at_target, top, height)]
    parts.append(
        format_html(
            '<path class="beyond" d="M{0} {1}H{2}M{0} {3}H{2}"/>', at_target, top, end, top + height
        )
    )
    toward = 1 if rule.strip().lower() == "at least" else -1
    parts.append(
        format_html(
            '<path class="target" d="M{0} 11V30M{0} 29H{1}M{2} 26L{1} 29L{2} 32"/>',
            at_target,
            at_target + toward * 12,
            at_target + toward * 8,
        )
    )
    if value is not None:
        share = float(value) / float(target) if float(target) else 0.0
        x = left + share * (at_target - left)
        if x > end:
            x = end
            parts.append(mark_safe('<path class="break" d="M203 26l5-6l-5-4l5-6"/>'))
        x = max(x, left)
        parts.append(format_html('<path class="value" d="M{0} 7V26"/>', at(x)))
        parts.append(format_html('<path class="pointer" d="M{} 0h11l-5.5 9z"/>', at(x - 5.5)))
    parts.append(
        format_html(
            '<text x="{}" y="48">0</text><text x="{}" y="48" text-anchor="middle">{}</text>',
            left - 4,
            at_target,
            target_said.strip(),
        )
    )
    return format_html(
        '<svg class="scale-bar scale-bar-{}" viewBox="0 0 240 52" width="240" height="52"'
        ' role="img"><title>{}, {} {}</title><desc>{}</desc>{}</svg>',
        key.replace("_", "-"),
        value_said.strip(),
        rule,
        target_said.strip(),
        f"Bar from 0 to the target and on; the tick stands at {value_said.strip()}.",
        mark_safe("".join(parts)),
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
def section_marker(above: Any, below: Any, href: str = "") -> SafeString:
    """Refer elsewhere: a ring cut by a line, the row above, the sheet below."""
    ring = format_html(
        '<circle cx="27" cy="27" r="25"/><path d="M2 27H52"/>'
        '<text x="27" y="22">{}</text><text x="27" y="45">{}</text>',
        above,
        below,
    )
    return linked("section-marker", href, f"{above} on sheet {below}", drawing(ring, 54, 54))


@register.simple_tag
def state_box(*words: Any) -> SafeString:
    """Say a package's state in a ruled box: Issued for crit · Rev B · 18:00."""
    return format_html(
        '<p class="state-box">{}</p>',
        format_html_join("", "<span>{}</span>", ((word,) for word in words if word)),
    )
