"""The precedents of a package, each with a small sketch of its kind."""

from collections.abc import Sequence

from criteria.schedules.precedents import Precedent
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.names import speaks_of
from reviews.demo.drawings.page import FIELD, caption, columns


def draw_precedents(canvas: Canvas, rows: Sequence[Precedent], bottom: float) -> None:
    """Set the precedents side by side across the top of the field."""
    note = "what was studied, what became of it, what is taken from it"
    top = FIELD.top + 5
    caption(canvas, (FIELD.left, top), "Precedents", note)
    for row, x, wide in columns(canvas, rows, top, bottom, 4):
        y, room = FIELD.top + 17.0, wide - 15
        canvas.text((x, y), row.mark, 4.2, "strong", "ochre")
        y = canvas.paragraph((x + 9, y), row.building or "", room, 4.6, "medium", leading=1.2)
        ink = "redline" if row.has_failed else "graphite"
        y = canvas.paragraph((x + 9, y + 0.3), row.outcome or "", room, 3.9, "label", ink, 1.25)
        words = (row.lesson or "") + (f" (sheet {row.sheet})" if row.sheet else "")
        y = canvas.paragraph((x + 9, y + 1.0), words, room, 4.1, "italic", "spruce", 1.25)
        if bottom - y > 8:
            _sketch(canvas, (x + 9, bottom), row, min(16.0, bottom - y + 1))


def _sketch(canvas: Canvas, at: tuple[float, float], row: Precedent, high: float) -> None:
    """Draw a small front as the building's name suggests it, a sixteenth of its height a step."""
    unit, name = high / 16.0, row.building
    view = canvas.seen(lambda x, up: (at[0] + x * unit, at[1] - up * unit))
    base = 4.5 if speaks_of(name, ("leg", "reef", "marsh", "hide")) else 0.0
    storeys = 2 if speaks_of(name, ("two-storey", "stacked", "lighthouse")) else 1
    wide = 26 if storeys == 1 else 18
    eaves = base + (5.5 if base else 7.5) * (1.25 if storeys == 2 else 1.0)
    view.line([(-3, 0), (48, 0)], ink="graphite")
    for leg in (0, wide / 3, wide * 2 / 3, wide):
        view.line([(leg, 0), (leg, base)], "thin", "graphite")
    view.box(0, base, wide, eaves, hatch=(1.3, 90, "pale"))
    is_lean_to = speaks_of(name, ("hide", "weather", "store"))
    ridge = (wide, eaves + 2.4) if is_lean_to else (wide / 2, eaves + 4)
    view.shape([(-1, eaves), ridge, (wide + 1, eaves)], hatch=(1.0, 45, "ochre"))
    for k in range(storeys):
        sill, step = base + (eaves - base) * (k + 0.38) / storeys, (eaves - base) / storeys
        for left in (wide * 0.2, wide * 0.6):
            view.box(left, sill, left + wide * 0.2, sill + step * 0.24, "thin")
    if row.has_failed:
        view.line([(-2, eaves + 4), (wide + 2, 0)], "bold", "redline")
        view.line([(-2, 0), (wide + 2, eaves + 4)], "bold", "redline")
