"""Changes of use, each drawn before and after with its hands, weight and time."""

from collections.abc import Sequence

from criteria.schedules.stowage import Move
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.names import speaks_of
from reviews.demo.drawings.page import FIELD, caption, columns
from reviews.demo.drawings.symbols import arrow


def draw_moves(canvas: Canvas, rows: Sequence[Move], top: float) -> None:
    """Draw each change of use: before, after, hands, weight and time."""
    canvas.line([(FIELD.left - 5, top), (FIELD.right + 5, top)])
    caption(canvas, (FIELD.left, top + 9), "Change of use", "day on the left, night on the right")
    for row, x, wide in columns(canvas, rows, top + 9, FIELD.bottom - 12, 3):
        y, half = top + 18, (wide - 26) / 2
        canvas.text((x, y + 2), row.mark, 4.0, "strong", "ochre")
        item = canvas.fitted(row.item or "", wide - 18, 4.2, "medium")
        canvas.text((x + 9, y + 2), item, 4.2, "medium")
        for state, left, is_night in (
            (row.from_state, x, False),
            (row.to_state, x + half + 14, True),
        ):
            middle, foot = left + half / 2, y + 39
            canvas.line([(left, foot), (left + half, foot)], "bold")
            view = canvas.seen(lambda a, up, at=(middle, foot): (at[0] + a, at[1] - up))
            _state(view, row.item or "", state or "", is_night)
            words = canvas.fitted(state or "–", half + 8, 3.7)
            canvas.text((middle, foot + 5.4), words, 3.7, ink="graphite", anchor="ms")
        arrow(canvas, (x + half + 2, y + 22), (x + half + 12, y + 22), "line")
        time = f"{row.time_s:g} s" if row.time_s is not None else "time not given"
        people = f"{row.people} {'person' if row.people == 1 else 'people'}"
        mass = f"{row.mass_kg:g} kg" if row.mass_kg is not None else "kg not given"
        people = people if row.people else "hands not given"
        canvas.text((x, y + 50), f"{time}, {people}, {mass}", 4.0)


def _top(view: Canvas, half: float, low: float, high: float, fill: str = "paper") -> None:
    """Draw a table, bench or bed from the side on its two legs [mm]."""
    view.box(-half, low, half, high, fill=fill)
    for leg in (2 - half, half - 2):
        view.line([(leg, 0), (leg, low)])


def _state(view: Canvas, item: str, state: str, is_night: bool) -> None:
    """Draw a thing by day or by night, from the middle of its floor [mm]."""
    is_folded = speaks_of(f"{item} {state}", ("fold", "wall", "hoist", "ceiling"))
    if speaks_of(item, ("table", "lab bench")):
        if is_night and is_folded and not speaks_of(state, ("leaf",)):
            up = 30 if speaks_of(state, ("ceiling",)) else 18
            view.box(-12, up - 2, 12, up)
            for rope in (-9, 9):
                view.line([(rope, 32), (rope, up)], "thin")
        else:
            _top(view, 9 if is_night else 13, 12.6, 15)
    elif speaks_of(item, ("curtain",)):
        view.line([(-13, 29), (13, 29)])
        end = 13 if is_night else -7
        view.hatch([(-13, 29), (end, 29), (end, 2), (-13, 2)], 1.7, 90, "graphite")
    elif speaks_of(item, ("lamp",)):
        low = 14 if is_night else 26
        view.line([(0, 32), (0, low)], "thin")
        view.shape([(-4, low - 4), (4, low - 4), (1.5, low), (-1.5, low)])
    else:
        _top(view, 15, 6, 9, "trace" if is_night else "paper")
        back = (-13, 9, -7, 11.5) if is_night else (-15, 9, -12.5, 18)
        view.box(*back)
