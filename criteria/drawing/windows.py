"""Windows, drawn: each wall that has one from inside, roof lights, and the glass on the floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.elevations import Face, Lit, Pane, Rooms, rooms_of
from criteria.drawing.glass_on_floor import Floors
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import (
    Box,
    Gap,
    Lettering,
    Mark,
    Path,
    Point,
    Strokes,
    Touch,
    flat,
    rectangle,
)
from criteria.drawing.panes import box_of, draw_pane, edges
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.placing import Look, Placing
from criteria.drawing.plan_parts import scale_bar
from criteria.drawing.scales import lettered
from criteria.drawing.walls_laid import (
    APART_MM,
    BETWEEN_MM,
    FOOT_MM,
    FOOT_NARROW_MM,
    LINE_MM,
    SIDE_MM,
    TITLE_MM,
    Part,
    laid_out,
    plan_scale,
    tall_mm,
)
from criteria.findings import NOT_ALL, Amount
from criteria.typed.cells import Lacking
from criteria.units import LENGTH

DRIFT = "drift"


def draw_windows(rooms: Rooms, seen: Seen, field: Field) -> Drawing:
    """Draw rooms with their windows."""
    return _Windows(rooms, seen, field).drawing()


class _Windows:
    """A drawing of windows while it is drawn."""

    def __init__(self, rooms: Rooms, seen: Seen, field: Field) -> None:
        self.seen, self.asked, self.field = seen, seen.asked, field
        self.rooms, self.system = rooms, field.system
        self.head, self.floors = answer(seen, field), Floors(seen)
        self.laid = laid_out(rooms.lit, {*self.floors.shares}, self.asked.measured.subject, field)
        foot = FOOT_NARROW_MM if field.is_narrow else FOOT_MM
        self.height_mm = self.head.height_mm + self.laid.height_mm + foot
        self.placing = Placing(field.width_mm, self.height_mm)
        self.figures = list(self.head.figures)
        self.unlettered: list[str] = []
        self.named: set[str] = set()

    def drawing(self) -> Drawing:
        """Draw all parts, row by row; those of one row stand on one line."""
        laid, marks = self.laid, list[Mark](self.head.letters)
        for letter in self.head.letters:
            self.placing.keep_free(letter.box)
        places = list(self._places())
        for part, x, foot in places:  # no words of one part stand on the title of another
            title = self._title(part, x, foot)
            self.placing.keep_free(title.box)
            marks.append(title)
        for part, x, foot in places:
            marks += self._part(part, x, foot)
        marks += self._foot()
        over = [", ".join(laid.over)] if laid.over else []
        gaps = [gap.says for mark in flat(marks) if isinstance(mark, Path) and (gap := mark.gap)]
        missing = dict.fromkeys([*gaps, *(gap.says for gap in self.rooms.left_out)])
        says = f"{self.head.says} Not given: {'; '.join(missing)}." if missing else self.head.says
        where = f", {self.asked.situation}" if self.asked.situation else ""
        return Drawing(
            title=f"Windows from inside{where}: {self.asked.title}".removesuffix(": "),
            says=says,
            width_mm=self.field.width_mm,
            height_mm=round(self.height_mm, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=laid.scale.name,
            left_out=self.rooms.left_out,
            key=(*self.unlettered, *over),
        )

    def _places(self) -> Iterator[tuple[Part, float, float]]:
        """Where each part stands: its left end, and its foot; those of one row on one line."""
        y = self.head.height_mm
        for row in self.laid.rows:
            foot, x = y + TITLE_MM + tall_mm(row), SIDE_MM
            for part in row:
                yield part, x, foot
                x += part.wide_mm + APART_MM
            y = foot + BETWEEN_MM

    def _foot(self) -> Iterator[Mark]:
        """Both scales, and a bar of the larger."""
        y, scale = self.height_mm - 4.0, self.laid.scale
        bar = scale_bar((SIDE_MM, y), scale, self.field.width_mm * 0.25, self.system)
        x = SIDE_MM + bar.length_mm + 1.5
        yield from bar.marks
        yield Lettering(words=bar.says, at=(x, y + 1.7), tone=Tone.GRAPHITE)
        if any(row[0].is_plan for row in self.laid.rows):
            plans = f"plans {plan_scale(scale, self.field).name}"
            x += width_mm(bar.says, LEAST_MM) + 3.0
            at = (SIDE_MM, y - 2.0) if self.field.is_narrow else (x, y + 1.7)
            yield Lettering(words=plans, at=at, tone=Tone.GRAPHITE)

    def _title(self, part: Part, x: float, foot: float) -> Lettering:
        is_picked, room_mm = self._is_picked(part.room), part.wide_mm + APART_MM - 1.5
        return Lettering(
            words=fitted(part.title, LEAST_MM, min(room_mm, self.field.width_mm - x - 0.5)),
            at=(x, foot - part.size[1] - 1.4),
            is_strong=is_picked,
            tone=self.asked.tone if is_picked else Tone.INK,
        )

    def _letter(
        self, words: str, places: Sequence[Point], look: Look | None = None
    ) -> Iterator[Lettering]:
        if self.placing.letter(words, places, look):
            yield self.placing.letters[-1]

    def _part(self, part: Part, x: float, foot: float) -> Iterator[Mark]:
        wide, high = part.size
        top = foot - high
        if part.face is None:
            lies, room_mm = (x, top, x + wide, foot - LINE_MM), part.wide_mm + APART_MM - 1.0
            drawn = self.floors.draw(part.room, lies, room_mm, self.field)
            self.placing.keep_free(drawn.letter.box)
            self.figures += [drawn.figure] if drawn.figure else []
            yield from (*drawn.marks, drawn.letter)
            return
        box = (x, top, x + wide, foot)
        for each in (box, *(box_of(pane, part, x, foot) for pane in part.face.panes)):
            for edge in edges(each):
                self.placing.keep_free(edge)
        gap = part.room.gap
        pen = Pen.ASSUMED if gap else Pen.SEEN
        yield Path(points=rectangle(box), pen=pen, is_closed=True, gap=gap)
        if gap:
            yield from self._say_gap(gap.says, gap, (x + wide / 2, top + 2.5))
        if not part.face.is_ceiling:
            yield Path(points=((x, foot), (x + wide, foot)), pen=Pen.CUT)
        lines = [] if part.face.is_ceiling else list(self._outside_and_eyes(part, part.face, box))
        yield from self._panes(part, part.face, x, foot)
        yield from lines

    def _is_picked(self, room: Lit) -> bool:
        """Whether the figure is of this room: by its mark, or by its name among those that fail."""
        measured = self.asked.measured
        if measured.subject:
            return measured.subject == room.mark
        return (
            measured.shown.startswith(NOT_ALL) and bool(room.name) and room.name in measured.shown
        )

    def _panes(self, part: Part, face: Face, x: float, foot: float) -> Iterator[Mark]:
        for pane in face.panes:
            box = box_of(pane, part, x, foot)
            tone = self.asked.tone if self._is_lowest(pane) else Tone.INK
            marks: list[Path | Strokes | Lettering] = list(draw_pane(pane, part, box, tone))
            key = f"{pane.row} {face.letters}"
            if key not in self.named:
                self.named.add(key)
                marks += self._name(pane, box, None if face.is_ceiling else foot)
            size = f"{self._write(pane.wide_m)} × {self._write(pane.high_m)}"
            yield Touch(
                schedule="windows",
                mark=pane.row,
                says=f"{pane.row}, {size}",
                marks=tuple(marks),
            )

    def _write(self, m: float) -> str:
        return lettered(Amount(m, LENGTH), self.system)

    def _is_lowest(self, pane: Pane) -> bool:
        steps = self.asked.measured.steps
        return self.seen.check == "lowest_sill" and any(pane.row in s.amounts[:1] for s in steps)

    def _name(self, pane: Pane, box: Box, foot: float | None) -> Iterator[Path | Lettering]:
        """Letter a pane's mark, its size within it, how high it stands, and what isn't given."""
        left, top, right, low = box
        x, middle = (left + right) / 2, (top + low) / 2
        half = LINE_MM / 2
        size = f"{self._write(pane.wide_m)} × {self._write(pane.high_m)}"
        is_roomy = width_mm(size, LEAST_MM) < right - left - 1 and low - top > 2.4 * LINE_MM
        around = [(x, top - 3.0), (x, low + 3.0), (right + 4.5, middle), (left - 4.5, middle)]
        places = [(x, middle - half if is_roomy else middle), *around, (x, top - 5.5)]
        name = list(self._letter(pane.row, places, Look(is_strong=True)))
        yield from name
        if not name:
            self.unlettered.append(pane.row)
        if is_roomy:
            yield from self._letter(size, [(x, middle + half)])
        if foot is not None and pane.low_m > 0 and not (pane.gap and "sill" in pane.gap.says):
            yield from self._sill(pane, (left, low, right, foot))
        if pane.gap:
            words = pane.gap.says.partition(": ")[2]
            yield from self._say_gap(words, pane.gap, (x, low + 3.0), f"{pane.gap.says}")

    def _sill(self, pane: Pane, box: Box) -> Iterator[Path | Lettering]:
        """How high it stands: dimensioned under it, or beside it at its level."""
        left, low, right, foot = box
        words = self._write(pane.low_m)
        half = width_mm(words, LEAST_MM) / 2 + 1.0
        x = left + min(2.0, (right - left) / 4)
        under = list(self._letter(words, [(x + half, (low + foot) / 2)]))
        if under:
            yield Path(points=((x, low), (x, foot)), pen=Pen.FINE)
            for y in (low, foot):
                yield Path(points=((x - 0.8, y + 0.8), (x + 0.8, y - 0.8)))
        y = low - LEAST_MM / 2 - 0.8
        beside = under or list(
            self._letter(words, [(left - half - 1.5, y), (right + half + 1.5, y)])
        )
        for letter in () if under else beside:
            middle, is_left = (letter.box[0] + letter.box[2]) / 2, letter.box[0] < left
            ends = (middle - half, left) if is_left else (right, middle + half)
            yield Path(points=((ends[0], low), (ends[1], low)), pen=Pen.FINE)
        yield from beside

    def _say_gap(self, words: str, gap: Gap, at: Point, full: str = "") -> Iterator[Lettering]:
        x, y = at
        look = Look(tone=Tone.GRAPHITE, gap=gap)
        places = [(x, y), (x, y + 3.4), (x, y - 3.4), (x + 8, y), (x - 8, y)]
        found = list(self._letter(words, places, look))
        if not found and (said := full or words) not in self.unlettered:
            self.unlettered.append(said)
        yield from found

    def _outside_and_eyes(self, part: Part, face: Face, box: Box) -> Iterator[Mark]:
        left, top, right, foot = box
        if face.drift_m:
            level = max(top, foot - part.scale.mm(face.drift_m))
            yield hatched(rectangle((left, level, right, foot)), 1.8, Tone.GRAPHITE)
            yield Path(points=((left, level), (right, level)), tone=Tone.GRAPHITE)
            depth = self._write(self.seen.package.leniently.site.drift_m)
            yield from self._beside((f"{DRIFT} {depth}", DRIFT), level, box, Tone.INK)
        for name, eye in part.room.eyes:
            y = foot - part.scale.mm(eye)
            if y > top:
                yield Path(points=((left, y), (right, y)), pen=Pen.DATUM, tone=Tone.GRAPHITE)
                words = f"{name} {self._write(eye)}"
                said = words, words.partition(" ")[2]
                yield from self._beside(said, y, box, Tone.GRAPHITE)

    def _beside(
        self, words: tuple[str, ...], y: float, box: Box, tone: Tone
    ) -> Iterator[Lettering]:
        """Letter what a line is, at its ends over or under it; less of it where that won't fit."""
        left, top, right, foot = box
        for each in words:
            half = width_mm(each, LEAST_MM) / 2 + 0.8
            near = [y - LEAST_MM / 2 - 0.8, y + LEAST_MM / 2 + 0.8]
            middles = [*near, foot - LEAST_MM, top + LEAST_MM] if each == DRIFT else near
            places = [(x, m) for m in middles for x in (right - half, left + half)]
            if found := list(self._letter(each, places, Look(tone=tone))):
                yield from found
                return
        if DRIFT in words and words[0] not in self.unlettered:
            self.unlettered.append(words[0])


def _ready(seen: Seen) -> Ready | None:
    try:
        rooms = rooms_of(seen.package)
    except Lacking:
        return None
    if not any(room.faces for room in rooms.lit):
        return None
    return Ready(partial(draw_windows, rooms, seen))


WINDOWS = Picture(
    ready=_ready,
    wants="windows want a room with its floor and height, and the size of their glass",
    checks=(
        "daylight_ratio",
        "average_daylight_factor",
        "limiting_depth",
        "lowest_sill",
        "possible_sun",
        "seated_view",
        "lying_view",
        "openable_ratio",
        "escape_window",
    ),
    schedules=("windows",),
    main="daylight_ratio",
)
