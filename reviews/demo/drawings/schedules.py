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
ORDERS = (
    (
        "rooms windows occupants vents doors plant",
        "precedents tanks moves loads claims ways_out",
        "pieces stowage envelope power ramp",
    ),
    (
        "rooms windows envelope claims vents tanks",
        "precedents occupants doors loads power",
        "pieces stowage moves plant ramp ways_out",
    ),
    (
        "rooms tanks windows vents doors",
        "precedents occupants envelope loads power",
        "pieces stowage moves claims plant ramp ways_out",
    ),
)
"""Ways to hang the schedules in three columns; each scheme keeps to one."""

Records = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class Table:
    """A schedule as it is set: columns with their place, cells broken into lines."""

    schedule: Schedule
    columns: tuple[Column, ...]
    places: tuple[tuple[float, float], ...]
    heads: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[tuple[str, ...], ...], ...]

    @property
    def head_high(self) -> float:
        """How high its heads are [mm]."""
        return HEAD + HEAD_LINE * (max(map(len, self.heads)) - 1)

    @property
    def high(self) -> float:
        """How much of a sheet it takes [mm]."""
        if self.schedule.is_single:
            return TITLE + ROW * ceil(len(self.columns) / 2) + GAP
        return TITLE + self.head_high + sum(map(_row_high, self.rows)) + GAP


def _row_high(row: Sequence[Sequence[str]]) -> float:
    return ROW + LEADING * (max(len(cell) for cell in row) - 1)


def draw_schedules(canvas: Canvas, tables: Mapping[str, Records], scheme_number: str) -> None:
    """Set all filled schedules in three columns."""
    wide = (FIELD.width - GUTTER * (COLUMNS - 1)) / COLUMNS
    for i, column in enumerate(arrange(canvas, tables, scheme_number, wide)):
        x, y = FIELD.left + i * (wide + GUTTER), FIELD.top
        spare = FIELD.height - sum(table.high for table in column)
        tighten = min(0.0, spare / max(1, len(column) - 1))
        for table in column:
            _set(canvas, table, x, y, wide)
            y += table.high + tighten


def arrange(
    canvas: Canvas, tables: Mapping[str, Records], scheme_number: str, wide: float
) -> list[list[Table]]:
    """Return the filled schedules by column."""
    digits = "".join(c for c in scheme_number if c.isdigit())
    order = ORDERS[int(digits or 0) % len(ORDERS)]
    columns: list[list[Table]] = []
    for slugs in order:
        column = []
        for slug in slugs.split():
            records = [r for r in tables.get(slug, ()) if any(r.values())]
            if records:
                column.append(_table(canvas, BY_SLUG[slug], records, wide))
        columns.append(column)
    return columns


def _table(canvas: Canvas, schedule: Schedule, records: Records, wide: float) -> Table:
    columns = _filled(schedule, records)
    places = tuple(_places(canvas, columns, records, wide))
    rows = tuple(
        tuple(
            _cell(canvas, _words(column, record), width)
            for column, (_, width) in zip(columns, places, strict=True)
        )
        for record in records
    )
    heads = tuple(
        tuple(canvas.lines(_head(column), width + 0.6, HEAD_SIZE)[:3])
        for column, (_, width) in zip(columns, places, strict=True)
    )
    return Table(schedule, columns, places, heads, rows)


def _cell(canvas: Canvas, words: str, width: float) -> tuple[str, ...]:
    """Break a cell into two lines at most."""
    lines = canvas.lines(words, width, SIZE)
    if len(lines) > 2:
        lines = [lines[0], canvas.fitted(" ".join(lines[1:]), width, SIZE)]
    return tuple(lines) or ("",)


def _filled(schedule: Schedule, records: Records) -> tuple[Column, ...]:
    """Return the columns that any row fills."""
    return tuple(c for c in schedule.columns if any((r.get(c.head) or "").strip() for r in records))


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
    for column, (left, width), lines in zip(table.columns, table.places, table.heads, strict=True):
        for i, line in enumerate(reversed(lines)):
            base = y + table.head_high - 1.5 - HEAD_LINE * i
            right = column.is_number
            at = (x + left + (width if right else 0.0), base)
            canvas.text(at, line, HEAD_SIZE, ink="graphite", anchor="rs" if right else "ls")
    y += table.head_high
    canvas.line([(x, y), (x + wide, y)], "thin", "graphite")
    for row in table.rows:
        for column, (left, width), cell in zip(table.columns, table.places, row, strict=True):
            is_mark = column.head == "mark"
            right = column.is_number
            at_x = x + left + (width if right else 0.0)
            for i, line in enumerate(cell):
                at = (at_x, y + ROW - 1.3 + LEADING * i)
                face, ink = ("medium", "ochre") if is_mark else ("label", "ink")
                canvas.text(at, line, SIZE, face, ink, "rs" if right else "ls")
        y += _row_high(row)
        canvas.line([(x, y), (x + wide, y)], "hair", "fine")


def _set_single(canvas: Canvas, table: Table, x: float, y: float, wide: float) -> None:
    half = wide / 2
    for i, column in enumerate(table.columns):
        left = x + (i % 2) * (half + 2)
        base = y + ROW * (i // 2 + 1) - 1.3
        value = " ".join(table.rows[0][i])
        words = f"{value} {column.unit()}".strip()
        room = half - 4 - canvas.width_of(words, SIZE)
        canvas.text((left, base), canvas.fitted(column.label, room, 3.4), 3.4, ink="graphite")
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
