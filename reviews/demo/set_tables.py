"""Schedules set as tables in columns, just as they are typed, for the sheet that they hang on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, flat, moved
from criteria.drawing.pens import Pen, Tone
from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule

COLUMNS, GUTTER_MM, ROW_MM, HEAD_MM, SPACE_MM = 3, 7.0, 4.0, 13.3, 1.8
AFTER_MM = 3.0
"""Kept under a table [mm]."""
LOW_MM = 40.0
"""How much lower the columns over the title block are [mm]."""
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


def wrapped(words: str, most_mm: float, cap_mm: float) -> list[str]:
    """Break words into lines of a width."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, cap_mm) <= most_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def set_tables(tables: Mapping[str, Records], wide_mm: float, tall_mm: float) -> Drawing:
    """Set all filled schedules in columns, the longest first where most is free."""
    wide = (wide_mm - GUTTER_MM * (COLUMNS - 1)) / COLUMNS
    filled = {slug: [r for r in tables.get(slug, ()) if any(r.values())] for slug in SET.split()}
    made = [_table(BY_SLUG[slug], rows, wide) for slug, rows in filled.items() if rows]
    free = [tall_mm - (LOW_MM if n else 0.0) for n in range(COLUMNS)]
    columns: list[list[Drawing]] = [[] for _ in range(COLUMNS)]
    left_out = []
    for table in sorted(made, key=lambda each: -each.height_mm):
        n = max(range(COLUMNS), key=lambda each: free[each])
        if free[n] < table.height_mm:
            left_out.append(table.title)
            continue
        columns[n].append(table)
        free[n] -= table.height_mm
    marks: list[Mark] = []
    for n, column in enumerate(columns):
        y = 0.0
        for table in sorted(column, key=made.index):
            across = n * (wide + GUTTER_MM)
            marks += [moved(mark, across, y) for mark in flat(table.marks)]
            y += table.height_mm
    return Drawing(
        title="Schedules",
        says="As typed",
        width_mm=wide_mm,
        height_mm=tall_mm,
        marks=tuple(marks),
        key=tuple(left_out),
    )


def _table(schedule: Schedule, records: Records, wide: float) -> Drawing:
    marks = [_words(schedule.title, 0.0, NAME_MM + 0.4, NAME_MM, is_strong=True)]
    marks.append(_rule(5.6, wide, Pen.SEEN))
    shown = [c for c in schedule.columns if c.head not in NOT_SET.get(schedule.slug, "").split()]
    columns = [c for c in shown if any(_cell(c, record) for record in records)]
    if schedule.is_single:
        pairs = [(_head(c), _cell(c, records[0])) for c in columns]
        for n, (head, cell) in enumerate(pairs, 1):
            y = 6.2 + n * ROW_MM - 1.0
            room = wide - width_mm(cell, LEAST_MM) - 4
            marks.append(_words(fitted(head, LEAST_MM, room), 0.0, y, tone=Tone.GRAPHITE))
            marks.append(_words(cell, wide, y, anchor="end"))
        tall = 6.2 + len(pairs) * ROW_MM + AFTER_MM
    else:
        foot = HEAD_MM
        for column, left, width in _places(columns, records, wide):
            x, anchor = (left + width, "end") if column.is_number else (left, "start")
            heads = wrapped(_head(column), width + 0.8, LEAST_MM)[:2]
            for n, line in enumerate(reversed(heads)):
                line = fitted(line, LEAST_MM, width + SPACE_MM - 0.4)
                y = foot - 1.0 - 3.2 * n
                marks.append(_words(line, x, y, anchor=anchor, tone=Tone.GRAPHITE))
            for n, record in enumerate(records, 1):
                cell = fitted(_cell(column, record), LEAST_MM, width + 0.4)
                marks.append(_words(cell, x, foot + n * ROW_MM - 1.0, anchor=anchor))
        marks += [_rule(foot + n * ROW_MM, wide, Pen.HATCH) for n in range(len(records) + 1)]
        tall = foot + len(records) * ROW_MM + AFTER_MM
    return Drawing(title=schedule.title, says="", width_mm=wide, height_mm=tall, marks=tuple(marks))


def _words(
    words: str,
    x: float,
    y: float,
    cap_mm: float = LEAST_MM,
    *,
    anchor: str = "start",
    tone: Tone = Tone.INK,
    is_strong: bool = False,
) -> Mark:
    return Lettering(
        words=words, at=(x, y), anchor=anchor, cap_mm=cap_mm, tone=tone, is_strong=is_strong
    )


def _rule(y: float, wide: float, pen: Pen) -> Mark:
    return Path(points=((0.0, y), (wide, y)), pen=pen, tone=Tone.GRAPHITE)


def _cell(column: Column, record: Mapping[str, str]) -> str:
    text = (record.get(column.head) or "").strip()
    return {"True": "yes", "False": "no"}.get(text, text)


def _head(column: Column) -> str:
    """Return a column's heading with its unit, unless the heading says it."""
    unit = column.unit()
    return column.label if not unit or unit in column.label.split() else f"{column.label} {unit}"


def _places(
    columns: Sequence[Column], records: Records, wide: float
) -> Iterator[tuple[Column, float, float]]:
    """Give start and width of each column: figures take what they need, words share the rest."""
    needs, wants = [], []
    for column in columns:
        cells = [width_mm(_cell(column, record), LEAST_MM) for record in records]
        head = max(width_mm(word, LEAST_MM) for word in _head(column).split())
        needs.append(max(cells) if column.is_number else min(max(cells), 12.0))
        wants.append(max(head, *cells))
    free = wide - SPACE_MM * (len(columns) - 1)
    longing = sum(wants) - sum(needs)
    share = max(0.0, min(1.0, (free - sum(needs)) / longing)) if longing else 0.0
    squeeze = min(1.0, free / sum(needs))
    x = 0.0
    for column, need, want in zip(columns, needs, wants, strict=True):
        width = need * squeeze + (want - need) * share
        yield column, x, width
        x += width + SPACE_MM
