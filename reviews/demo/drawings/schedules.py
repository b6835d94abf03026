"""Sheet 07: the schedules, set as tables just as they are typed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from criteria.columns import Column, Schedule
from criteria.schedules import BY_SLUG, SCHEDULES
from reviews.demo.drawings.canvas import (
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    THIN,
    Canvas,
)
from reviews.demo.drawings.page import FIELD

GUTTER, ROW, HEAD, TITLE, GAP = 7.0, 4.75, 5.4, 6.6, 4.2
SIZE = 3.6
COLUMNS = 3
ORDERS = (
    ("rooms windows occupants vents doors claims", "precedents tanks moves loads plant", "pieces stowage envelope power ramp ways_out"),
    ("rooms windows envelope tanks", "precedents occupants vents doors loads claims power", "pieces stowage moves ramp ways_out plant"),
    ("rooms tanks windows vents plant claims", "occupants envelope precedents loads power", "pieces doors stowage moves ramp ways_out"),
)  # fmt: skip
"""Three ways to hang the schedules in three columns; a scheme keeps to one."""

Records = Sequence[Mapping[str, str]]


@dataclass(frozen=True)
class Table:
    """A schedule as it is to be set."""

    schedule: Schedule
    columns: tuple[Column, ...]
    records: Records

    @property
    def high(self) -> float:
        """How much of a sheet it takes [mm]."""
        rows = len(self.columns) / 2 if self.schedule.is_single else len(self.records)
        head = 0.0 if self.schedule.is_single else HEAD
        return TITLE + head + ROW * (-(-rows // 1)) + GAP


def draw_schedules(canvas: Canvas, tables: Mapping[str, Records], scheme_number: str) -> None:
    """Set all filled schedules in three columns."""
    wide = (FIELD.width - GUTTER * (COLUMNS - 1)) / COLUMNS
    for i, column in enumerate(arrange(tables, scheme_number)):
        x = FIELD.left + i * (wide + GUTTER)
        y = FIELD.top
        high = sum(table.high for table in column)
        squeeze = min(1.0, FIELD.height / high) if high else 1.0
        for table in column:
            y = _set(canvas, table, x, y, wide, squeeze)


def arrange(tables: Mapping[str, Records], scheme_number: str) -> list[list[Table]]:
    """Return the filled schedules by column, moved on where a column would run over the foot."""
    digits = "".join(c for c in scheme_number if c.isdigit())
    order = ORDERS[{0: 0, 1: 1, 2: 2}[int(digits or 0) % 3]]
    columns: list[list[Table]] = [[] for _ in range(COLUMNS)]
    named = [slug for column in order for slug in column.split()]
    rest = [s.slug for s in SCHEDULES if s.slug not in named]
    for i, slugs in enumerate(order):
        for slug in [*slugs.split(), *(rest if i == COLUMNS - 1 else ())]:
            records = [r for r in tables.get(slug, ()) if any(r.values())]
            if records:
                schedule = BY_SLUG[slug]
                columns[i].append(Table(schedule, _filled(schedule, records), records))
    return columns


def _filled(schedule: Schedule, records: Records) -> tuple[Column, ...]:
    """Return the columns that any row fills."""
    return tuple(c for c in schedule.columns if any((r.get(c.head) or "").strip() for r in records))


def _words(column: Column, record: Mapping[str, str]) -> str:
    text = (record.get(column.head) or "").strip()
    return {"True": "yes", "False": "no"}.get(text, text)


def _head(column: Column) -> str:
    unit = column.unit()
    return f"{column.label} {unit}" if unit else column.label


def _set(canvas: Canvas, table: Table, x: float, y: float, wide: float, squeeze: float) -> float:
    canvas.text((x, y + 4.6 * squeeze), table.schedule.title, 4.3, "strong", INK)
    y += TITLE * squeeze
    canvas.line([(x, y), (x + wide, y)], LINE)
    if table.schedule.is_single:
        return _set_single(canvas, table, x, y, wide, squeeze)
    widths = _widths(canvas, table, wide)
    base = y + HEAD * squeeze - 1.5
    for column, (left, width) in zip(table.columns, widths, strict=True):
        label = canvas.fitted(_head(column), width, 3.3)
        if column.is_number:
            canvas.text((x + left + width, base), label, 3.3, "label", GRAPHITE, "rs")
        else:
            canvas.text((x + left, base), label, 3.3, "label", GRAPHITE)
    y += HEAD * squeeze
    canvas.line([(x, y), (x + wide, y)], THIN, GRAPHITE)
    for record in table.records:
        base = y + ROW * squeeze - 1.3
        for column, (left, width) in zip(table.columns, widths, strict=True):
            words = canvas.fitted(_words(column, record), width, SIZE)
            face = "medium" if column.head == "mark" else "label"
            ink = OCHRE if column.head == "mark" else INK
            if column.is_number:
                canvas.text((x + left + width, base), words, SIZE, face, ink, "rs")
            else:
                canvas.text((x + left, base), words, SIZE, face, ink)
        y += ROW * squeeze
        canvas.line([(x, y), (x + wide, y)], HAIR, FINE)
    return y + GAP * squeeze


def _set_single(
    canvas: Canvas, table: Table, x: float, y: float, wide: float, squeeze: float
) -> float:
    half = wide / 2
    record = table.records[0]
    for i, column in enumerate(table.columns):
        left = x + (i % 2) * half
        base = y + ROW * squeeze - 1.3
        unit = column.unit()
        words = f"{_words(column, record)} {unit}".strip()
        room = half - canvas.width_of(words, SIZE) - 5
        canvas.text((left, base), canvas.fitted(column.label, room, 3.4), 3.4, "label", GRAPHITE)
        canvas.text((left + half - 3, base), words, SIZE, "label", INK, "rs")
        if i % 2 or i == len(table.columns) - 1:
            y += ROW * squeeze
            canvas.line([(x, y), (x + wide, y)], HAIR, FINE)
    return y + GAP * squeeze


def _widths(canvas: Canvas, table: Table, wide: float) -> list[tuple[float, float]]:
    """Share the width between the columns by what they hold; return start and width of each."""
    gap = 1.9
    wants = []
    for column in table.columns:
        held = [canvas.width_of(_words(column, r), SIZE) for r in table.records]
        head = canvas.width_of(_head(column), 3.3)
        wants.append(max(max(held), min(head, 14.0 if column.is_number else head)))
    free = wide - gap * (len(wants) - 1)
    over = sum(wants) - free
    if over > 0:
        soft = [max(0.0, w - 11.0) for w in wants]
        share = min(1.0, over / (sum(soft) or 1.0))
        wants = [w - s * share for w, s in zip(wants, soft, strict=True)]
    elif texts := [i for i, c in enumerate(table.columns) if not c.is_number]:
        widest = max(texts, key=lambda i: wants[i])
        wants[widest] += -over
    return list(_starts(wants, gap))


def _starts(widths: Sequence[float], gap: float) -> Iterator[tuple[float, float]]:
    x = 0.0
    for width in widths:
        yield x, width
        x += width + gap
