"""A drawing as SVG: millimetres are its units, pens, tones and fills are classes.

Colours and line widths stand in css/drawn.css under `.drawn`, so that a drawing is drawn for the
lamp off and for print, not turned round; nothing is inline that a strict policy forbids.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import type_mm
from criteria.drawing.marks import (
    Box,
    Disc,
    Flat,
    Lettering,
    Mark,
    Patches,
    Path,
    Point,
    Ribbon,
    Slide,
    Strokes,
    Touch,
    box_of,
)

Way = Callable[[str, str], str]
"""The address of a row: of a schedule's slug and the row's mark."""
REACH_MM = 1.5
"""How far round its marks a link is touched [mm]."""


def as_svg(drawing: Drawing, key: str, way: Way | None = None) -> SafeString:
    """Write a drawing.

    key   begins the ids, so that a page may hold several
    way   where a mark leads that is touched; without one none leads anywhere
    """
    slides = [mark for mark in drawing.marks if isinstance(mark, Slide)]
    marks: Iterable[Mark] = drawing.marks if way or slides else drawing.flat
    is_touched = bool(slides) or any(isinstance(mark, Touch) for mark in marks)
    return format_html(
        '<svg class="drawn" viewBox="0 0 {0} {1}" width="{0}mm" height="{1}mm" role="{6}"'
        ' aria-labelledby="{2}-title" aria-describedby="{2}-says"><title id="{2}-title">{3}'
        '</title><desc id="{2}-says">{4}</desc>{5}</svg>',
        _mm(drawing.width_mm),
        _mm(drawing.height_mm),
        key,
        drawing.title,
        drawing.says,
        format_html_join(
            "",
            "{}",
            (
                (_slide(mark, f"{key}-{slides.index(mark)}"),)
                if isinstance(mark, Slide)
                else (_mark(mark, way),)
                for mark in marks
            ),
        ),
        "group" if is_touched else "img",
    )


def _mark(mark: Flat | Touch, way: Way | None = None) -> SafeString:
    match mark:
        case Path():
            return _path(mark)
        case Strokes():
            lines = "".join(f"M{_at(one)}L{_at(other)}" for one, other in mark.segments)
            return _drawn("path", mark.pen.name, mark.tone, "none", mark_safe(f' d="{lines}"'))
        case Patches():
            boxes = "".join(map(_patch, mark.boxes))
            return _drawn("path", "none", mark.tone, mark.fill, mark_safe(f' d="{boxes}"'))
        case Disc():
            (x, y), radius = mark.middle, mark.radius_mm
            where = f' cx="{_mm(x)}" cy="{_mm(y)}" r="{_mm(radius)}"'
            return _drawn("circle", mark.pen.name, mark.tone, mark.fill, mark_safe(where))
        case Ribbon():
            return _ribbon(mark)
        case Lettering():
            return _lettering(mark)
        case Touch():
            return _touch(mark, way)


def _touch(touch: Touch, way: Way | None) -> SafeString:
    """Marks as a link; a finger finds it in all the paper round them."""
    return format_html(
        '<a class="touch" href="{}" data-row="{} {}" aria-label="{}">{}</a>',
        way(touch.schedule, touch.mark) if way else "",
        touch.schedule,
        touch.mark,
        touch.says,
        _reached(touch.marks),
    )


def _slide(slide: Slide, key: str) -> SafeString:
    """Marks that js/daylight.js moves: their place and their run [mm], and which way is up."""
    return format_html(
        '<g class="slide" id="{}" data-left="{}" data-most="{}" data-way="{}" data-said="{}"'
        ' data-place="{}" data-mm="{}">{}</g>',
        key,
        round(1000 * slide.at_m),
        round(1000 * slide.most_m),
        slide.way,
        f"Move {slide.mark}",
        slide.place,
        slide.ratio,
        _reached(slide.marks),
    )


def _reached(marks: Iterable[Flat]) -> SafeString:
    """Marks, and all the paper round them in which a finger finds them."""
    marks = list(marks)
    boxes = [box_of(mark) for mark in marks]
    left, top = (min(box[n] for box in boxes) - REACH_MM for n in (0, 1))
    right, foot = (max(box[n] for box in boxes) + REACH_MM for n in (2, 3))
    return format_html(
        '<rect class="reach" x="{}" y="{}" width="{}" height="{}"/>{}',
        *map(_mm, (left, top, right - left, foot - top)),
        format_html_join("", "{}", ((_mark(mark),) for mark in marks)),
    )


def _drawn(element: str, pen: str, tone: str, fill: str, rest: SafeString) -> SafeString:
    classes = f"pen-{pen.lower()} tone-{tone} fill-{fill}"
    return format_html('<{} class="{}"{}/>', element, classes, rest)


def _path(path: Path) -> SafeString:
    pen = path.pen.name if path.pen else "none"
    line = _line(path.points) + ("Z" if path.is_closed else "")
    return _drawn("path", pen, path.tone, path.fill, mark_safe(f' d="{line}"'))


def _ribbon(ribbon: Ribbon) -> SafeString:
    line = mark_safe(_line(ribbon.points))
    return format_html(
        '<path class="ribbon-edge" stroke-width="{1}" d="{0}"/>'
        '<path class="ribbon" stroke-width="{2}" d="{0}"/>',
        line,
        _mm(ribbon.width_mm),
        _mm(max(0.0, ribbon.width_mm - 0.36)),
    )


def _lettering(lettering: Lettering) -> SafeString:
    x, y = map(_mm, lettering.at)
    return format_html(
        '<text class="tone-{}{}" x="{}" y="{}" font-size="{}" text-anchor="{}"{}>{}</text>',
        lettering.tone,
        " strong" if lettering.is_strong else "",
        x,
        y,
        _mm(type_mm(lettering.cap_mm)),
        lettering.anchor,
        mark_safe(f' transform="rotate(-90 {x} {y})"') if lettering.is_turned else "",
        lettering.words,
    )


def _line(points: Iterable[Point]) -> str:
    return "M" + "L".join(map(_at, points))


def _patch(box: Box) -> str:
    left, top, right, foot = box
    return f"M{_at((left, top))}h{_mm(right - left)}v{_mm(foot - top)}h{_mm(left - right)}z"


def _at(point: Point) -> str:
    return f"{_mm(point[0])} {_mm(point[1])}"


def _mm(length: float) -> str:
    return f"{length:.2f}".rstrip("0").rstrip(".")
