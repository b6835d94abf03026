"""Sheet 07: the schedules, set as tables just as they are typed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.page import FIELD

GUTTER, GAP = 7.0, 4.0
ROW, LEADING, HEAD, HEAD_LINE, TITLE = 4.75, 4.0, 4.8, 3.4, 6.6
SIZE, HEAD_SIZE, SPACE = 3.6, 3.2, 2.0
COLUMNS = 3
SET = (
    "rooms windows occupants vents doors plant precedents tanks moves loads claims ways_out "
    "pieces stowage envelope power ramp"
)
"""The schedules that are set, in their order within a column."""

NOT_SET = {
    "rooms": "depth_m width_m private at_x at_y level",
    "doors": "swing hinge room faces left",
    "windows": "left gap escape_w escape_h",
    "tanks": "stands x_m y_m h_m",
    "pieces": "x_m y_m z_m opens_by hinge hinge_turn eyes sling eye_h_m",
    "envelope": "mu",
    "loads": "starts",
}
"""Columns that aren't set: what they say is drawn on the other sheets, or asked on the page."""

Records = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class SetColumn:
    """A column as it is set: where, and its heading and cells broken into lines."""

    column: Column
    left: float
    width: float
    head: list[str]
    cells: list[list[str]]


@dataclass(frozen=True)
class Table:
    """A schedule as it is set."""

    schedule: Schedule
    columns: list[SetColumn]

    @property
    def head_high(self) -> float:
        """How high its heads are [mm]."""
        return HEAD + HEAD_LINE * (max(len(c.head) for c in self.columns) - 1)

    @property
    def rows_high(self) -> list[float]:
        """How high each of its rows is [mm]."""
        rows = zip(*(c.cells for c in self.columns), strict=True)
        return [ROW + LEADING * (max(map(len, row)) - 1) for row in rows]

    @property
    def high(self) -> float:
        """How much of a sheet it takes [mm]."""
        if self.schedule.is_single:
            return TITLE + ROW * ceil(len(self.columns) / 2) + GAP
        return TITLE + self.head_high + sum(self.rows_high) + GAP


WIDE = (FIELD.width - GUTTER * (COLUMNS - 1)) / COLUMNS
"""How wide a column of tables is [mm]."""


def columns_of(canvas: Canvas, tables: Mapping[str, Records]) -> list[list[Table]]:
    """Return the tables of each column, all that are filled, the longest set first."""
    filled = {slug: [r for r in tables.get(slug, ()) if any(r.values())] for slug in SET.split()}
    made = [_table(canvas, BY_SLUG[slug], rows, WIDE) for slug, rows in filled.items() if rows]
    columns: list[list[Table]] = [[] for _ in range(COLUMNS)]
    for table in sorted(made, key=lambda each: -each.high):
        min(columns, key=lambda column: sum(each.high for each in column)).append(table)
    return [sorted(column, key=made.index) for column in columns]


def draw_schedules(canvas: Canvas, tables: Mapping[str, Records]) -> None:
    """Set all filled schedules in three columns."""
    for i, column in enumerate(columns_of(canvas, tables)):
        spare = FIELD.height - sum(table.high for table in column)
        y = FIELD.top
        for table in column:
            _set(canvas, table, FIELD.left + i * (WIDE + GUTTER), y, WIDE)
            y += table.high + min(0.0, spare / max(1, len(column) - 1))


def _table(canvas: Canvas, schedule: Schedule, records: Records, wide: float) -> Table:
    """Break the cells of the columns that any row fills."""
    left_out = NOT_SET.get(schedule.slug, "").split()
    shown = [column for column in schedule.columns if column.head not in left_out]
    columns = [c for c in shown if any(_words(c, record) for record in records)]
    made = []
    for column, (left, width) in zip(columns, _places(canvas, columns, records, wide), strict=True):
        head = canvas.lines(_head(column), width + 0.6, HEAD_SIZE)[:3]
        cells = [_cell(canvas, _words(column, record), width) for record in records]
        made.append(SetColumn(column, left, width, head, cells))
    return Table(schedule, made)


def _cell(canvas: Canvas, words: str, width: float) -> list[str]:
    """Break a cell into two lines at most."""
    lines = canvas.lines(words, width, SIZE) or [""]
    return [*lines[:1], canvas.fitted(" ".join(lines[1:]), width, SIZE)][: len(lines)]


def _words(column: Column, record: Mapping[str, str]) -> str:
    text = (record.get(column.head) or "").strip()
    return {"True": "yes", "False": "no"}.get(text, text)


def _head(column: Column) -> str:
    """Return a column's heading with its unit, unless the heading says it."""
    unit = column.unit()
    return column.label if not unit or unit in column.label.split() else f"{column.label} {unit}"


def _set(canvas: Canvas, table: Table, x: float, y: float, wide: float) -> None:
    canvas.text((x, y + 4.6), table.schedule.title, 4.3, "strong")
    y += TITLE
    canvas.line([(x, y), (x + wide, y)])
    if table.schedule.is_single:
        _set_single(canvas, table, x, y, wide)
        return
    ends = [y + table.head_high]
    for high in table.rows_high:
        ends.append(ends[-1] + high)
    for end in ends:
        pen, ink = ("thin", "graphite") if end == ends[0] else ("hair", "fine")
        canvas.line([(x, end), (x + wide, end)], pen, ink)
    for c in table.columns:
        at, anchor = (x + c.left + c.width, "rs") if c.column.is_number else (x + c.left, "ls")
        face, ink = ("medium", "ochre") if c.column.head == "mark" else ("label", "ink")
        for i, line in enumerate(reversed(c.head)):
            base = (at, ends[0] - 1.5 - HEAD_LINE * i)
            canvas.text(base, line, HEAD_SIZE, "label", "graphite", anchor)
        for top, cell in zip(ends, c.cells, strict=False):
            for i, line in enumerate(cell):
                base = (at, top + ROW - 1.3 + LEADING * i)
                canvas.text(base, line, SIZE, face, ink, anchor)


def _set_single(canvas: Canvas, table: Table, x: float, y: float, wide: float) -> None:
    half = wide / 2
    for i, c in enumerate(table.columns):
        left, base = x + (i % 2) * (half + 2), y + ROW * (i // 2 + 1) - 1.3
        words = f"{' '.join(c.cells[0])} {c.column.unit()}".strip()
        room = half - 4 - canvas.width_of(words, SIZE)
        canvas.text((left, base), canvas.fitted(c.column.label, room, 3.4), 3.4, ink="graphite")
        canvas.text((left + half - 2, base), words, SIZE, anchor="rs")
        if i % 2 == 0:
            canvas.line([(x, base + 1.3), (x + wide, base + 1.3)], "hair", "fine")


def _places(
    canvas: Canvas, columns: Sequence[Column], records: Records, wide: float
) -> Iterator[tuple[float, float]]:
    """Yield start and width of each column: figures take what they need, words share the rest."""
    needs, wants = [], []
    for column in columns:
        cells = [_words(column, r) for r in records]
        head = max(canvas.width_of(word, HEAD_SIZE) for word in _head(column).split())
        longest = max(canvas.width_of(cell, SIZE) for cell in cells)
        words = [word for cell in cells for word in cell.split()] or [""]
        word = max(canvas.width_of(word, SIZE) for word in words)
        needs.append(max(head, longest if column.is_number else word))
        wants.append(max(head, longest))
    spare = wide - SPACE * (len(columns) - 1) - sum(needs)
    longing = sum(want - need for want, need in zip(wants, needs, strict=True))
    share = max(0.0, min(1.0, spare / longing)) if longing else 0.0
    squeeze = min(1.0, (spare + sum(needs)) / sum(needs))
    left = max(0.0, spare - longing * share)
    words_at = [i for i, c in enumerate(columns) if not c.is_number and c.head != "mark"]
    grows = max(words_at, key=lambda i: wants[i]) if words_at else len(columns) - 1
    x = 0.0
    for i, (need, want) in enumerate(zip(needs, wants, strict=True)):
        width = need * squeeze + (want - need) * share + (left if i == grows else 0.0)
        yield x, width
        x += width + SPACE
