"""The precedents of a package, each with a small sketch of its kind."""

from collections.abc import Sequence

from criteria.schedules.precedents import Precedent
from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    REDLINE,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.names import speaks_of
from reviews.demo.drawings.page import FIELD, caption


def draw_precedents(canvas: Canvas, rows: Sequence[Precedent], bottom: float) -> None:
    """Set the precedents side by side across the top of the field."""
    note = "what was studied, what became of it, what is taken from it"
    caption(canvas, (FIELD.left, FIELD.top + 5), "Precedents", note)
    if not rows:
        canvas.text((FIELD.left, FIELD.top + 20), "None in the schedule.", 4, "label", GRAPHITE)
        return
    wide = FIELD.width / max(4, len(rows))
    for i, row in enumerate(rows):
        x, y = FIELD.left + i * wide, FIELD.top + 17
        if i:
            canvas.line([(x - 4, FIELD.top + 12), (x - 4, bottom)], HAIR, FINE)
        canvas.text((x, y), row.mark, 4.2, "strong", OCHRE)
        room = wide - 15
        y = canvas.paragraph((x + 9, y), row.building or "", room, 4.6, "medium", leading=1.2)
        ink = REDLINE if row.has_failed else GRAPHITE
        y = canvas.paragraph((x + 9, y + 0.3), row.outcome or "", room, 3.9, "label", ink, 1.25)
        words = (row.lesson or "") + (f" (sheet {row.sheet})" if row.sheet else "")
        y = canvas.paragraph((x + 9, y + 1.0), words, room, 4.1, "italic", SPRUCE, 1.25)
        if bottom - y > 8:
            _sketch(canvas, (x + 9, bottom), row, min(16.0, bottom - y + 1))


def _sketch(canvas: Canvas, at: Point, row: Precedent, high: float) -> None:
    """Draw a small front as the building's name suggests it."""
    x, ground = at
    name = row.building
    unit = high / 16.0
    legs = 4.5 * unit if speaks_of(name, ("leg", "reef", "marsh", "hide")) else 0.0
    storeys = 2 if speaks_of(name, ("two-storey", "stacked", "lighthouse")) else 1
    wide = (26 if storeys == 1 else 18) * unit
    body = (7.5 if legs == 0 else 5.5) * unit * (1.25 if storeys == 2 else 1.0)
    base = ground - legs
    canvas.line([(x - 3, ground), (x + 48 * unit, ground)], LINE, GRAPHITE)
    for k in range(4 if legs else 0):
        leg = x + wide * k / 3
        canvas.line([(leg, ground), (leg, base)], THIN, GRAPHITE)
    canvas.box(x, base - body, x + wide, base, PAPER, LINE)
    front = [(x, base - body), (x + wide, base - body), (x + wide, base), (x, base)]
    canvas.hatch(front, 1.3, 90, HAIR, PALE)
    peak = 4.0 * unit
    ridge = (x + wide / 2, base - body - peak)
    if speaks_of(name, ("hide", "weather", "store")):
        ridge = (x + wide, base - body - peak * 0.6)
    roof = [(x - unit, base - body), ridge, (x + wide + unit, base - body)]
    canvas.shape(roof, PAPER, LINE)
    canvas.hatch(roof, 1.0, 45, HAIR, OCHRE)
    if speaks_of(name, ("sauna", "smoke", "stove", "core", "club")):
        top, foot = base - body - peak * 1.35, base - body - peak * 0.4
        canvas.box(x + wide * 0.68, top, x + wide * 0.78, foot, PAPER, LINE)
    for k in range(storeys):
        y = base - body * (k + 0.62) / storeys
        canvas.box(x + wide * 0.2, y, x + wide * 0.4, y + body * 0.24 / storeys, PAPER, THIN)
        canvas.box(x + wide * 0.6, y, x + wide * 0.8, y + body * 0.24 / storeys, PAPER, THIN)
    if row.has_failed:
        a, b = (x - 2 * unit, base - body - peak), (x + wide + 2 * unit, ground)
        canvas.line([a, b], BOLD, REDLINE)
        canvas.line([(a[0], b[1]), (b[0], a[1])], BOLD, REDLINE)
    canvas.line([(x + 40 * unit, ground), (x + 40 * unit, ground - 7 * unit)], THIN, INK)
    canvas.circle((x + 40 * unit, ground - 7.8 * unit), 0.8 * unit, INK, HAIR, INK)
