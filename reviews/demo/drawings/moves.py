"""Changes of use, each drawn before and after with its hands, weight and time."""

from collections.abc import Sequence

from criteria.schedules.stowage import Move
from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PAPER,
    THIN,
    TRACE,
    Canvas,
    Point,
)
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.symbols import arrow


def draw_moves(canvas: Canvas, rows: Sequence[Move], top: float) -> None:
    """Draw each change of use: before, after, hands, weight and time."""
    canvas.line([(FIELD.left - 5, top), (FIELD.right + 5, top)], LINE)
    caption(canvas, (FIELD.left, top + 9), "Change of use", "day on the left, night on the right")
    if not rows:
        canvas.text((FIELD.left, top + 22), "None in the schedule.", 4, "label", GRAPHITE)
        return
    wide = FIELD.width / max(3, len(rows))
    for i, row in enumerate(rows):
        x = FIELD.left + i * wide
        y = top + 18
        if i:
            canvas.line([(x - 5, top + 14), (x - 5, FIELD.bottom - 12)], HAIR, FINE)
        canvas.text((x, y + 2), row.mark, 4.0, "strong", OCHRE)
        canvas.text(
            (x + 9, y + 2), canvas.fitted(row.item or "", wide - 18, 4.2, "medium"), 4.2, "medium"
        )
        half = (wide - 26) / 2
        for k, state in enumerate((row.from_state, row.to_state)):
            bx = x + k * (half + 14)
            _state(canvas, (bx, y + 7), half, row.item or "", state or "–", k)
        arrow(canvas, (x + half + 2, y + 22), (x + half + 12, y + 22), LINE)
        people = (
            f"{row.people} {'person' if row.people == 1 else 'people'}"
            if row.people
            else "hands not given"
        )
        mass = f"{row.mass_kg:g} kg" if row.mass_kg is not None else "kg not given"
        time = f"{row.time_s:g} s" if row.time_s is not None else "time not given"
        canvas.text((x, y + 50), f"{time}, {people}, {mass}", 4.0, "label", INK)


def _state(canvas: Canvas, at: Point, wide: float, item: str, state: str, night: int) -> None:
    x, y = at
    floor = y + 32
    canvas.line([(x, floor), (x + wide, floor)], BOLD)
    folded = any(
        word in (item + " " + state).casefold() for word in ("fold", "wall", "hoist", "ceiling")
    )
    mid = x + wide / 2
    kind = item.casefold()
    if "table" in kind or "lab bench" in kind:
        if night and folded and "leaf" not in state:
            up = 2 if "ceiling" in state else 14
            canvas.box(mid - 12, y + up, mid + 12, y + up + 2, PAPER, LINE)
            canvas.line([(mid - 9, y), (mid - 9, y + up)], THIN)
            canvas.line([(mid + 9, y), (mid + 9, y + up)], THIN)
        else:
            half = 9 if night else 13
            canvas.box(mid - half, y + 17, mid + half, y + 19.4, PAPER, LINE)
            canvas.line([(mid - half + 2, y + 19.4), (mid - half + 2, floor)], LINE)
            canvas.line([(mid + half - 2, y + 19.4), (mid + half - 2, floor)], LINE)
    elif "curtain" in kind:
        end = mid + 13 if night else mid - 7
        canvas.line([(mid - 13, y + 3), (mid + 13, y + 3)], LINE)
        canvas.hatch(
            [(mid - 13, y + 3), (end, y + 3), (end, floor - 2), (mid - 13, floor - 2)],
            1.7,
            90,
            THIN,
            GRAPHITE,
        )
    elif "lamp" in kind:
        drop = 18 if night else 6
        canvas.line([(mid, y), (mid, y + drop)], THIN)
        canvas.shape(
            [
                (mid - 4, y + drop + 4),
                (mid + 4, y + drop + 4),
                (mid + 1.5, y + drop),
                (mid - 1.5, y + drop),
            ],
            PAPER,
            LINE,
        )
    else:
        canvas.box(mid - 15, floor - 9, mid + 15, floor - 6, TRACE if night else PAPER, LINE)
        canvas.line([(mid - 13, floor - 6), (mid - 13, floor)], LINE)
        canvas.line([(mid + 13, floor - 6), (mid + 13, floor)], LINE)
        if night:
            canvas.box(mid - 13, floor - 11.5, mid - 7, floor - 9, PAPER, THIN)
        else:
            canvas.box(mid - 15, floor - 18, mid - 12.5, floor - 9, PAPER, LINE)
    canvas.text(
        (mid, floor + 5.4), canvas.fitted(state, wide + 8, 3.7), 3.7, "label", GRAPHITE, "ms"
    )
