"""What a section shows of rooms: partitions, ceilings, windows, doors, furniture and names."""

from dataclasses import dataclass

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas
from reviews.demo.drawings.fittings import FIRES, SURFACES_M, Fitting
from reviews.demo.drawings.geometry import ENDS, PARTITION_M, PlannedRoom
from reviews.demo.drawings.heights import UPPER_FLOOR_M, Heights, clear_height_m
from reviews.demo.drawings.openings import PlacedDoor, PlacedWindow
from reviews.demo.drawings.plan_marks import section_cuts
from reviews.demo.drawings.symbols import dimension, grouped


@dataclass(frozen=True)
class Cell:
    """A room as a section shows it: from, to, floor and clear height [m]."""

    room: PlannedRoom
    start: float
    end: float
    floor: float
    high: float


@dataclass(frozen=True)
class Section:
    """One section of a building, its view in metres along the cut and above the floor.

    along   cut along the building, looking to the top of the plan; else across it, looking right
    """

    view: Canvas
    building: Building
    heights: Heights
    along: bool

    @property
    def long(self) -> float:
        """Length inside the walls [m]."""
        return self.building.plan.inner.long(self.along)

    @property
    def looks_to(self) -> str:
        """The side of the plan that it looks to."""
        return "top" if self.along else "right"

    def roof(self, at: float) -> float:
        """Return the inside of the roof over a place along the cut [m]."""
        cut_y, _ = section_cuts(self.building)
        share = cut_y / self.building.plan.inner.height if self.along else at / self.long
        return self.heights.roof_at(min(1.0, max(0.0, share)))

    def cells(self) -> list[Cell]:
        """Return the rooms that it cuts, from left to right."""
        cut = section_cuts(self.building)[0 if self.along else 1]
        found = []
        for room in self.building.plan.rooms:
            spans = []
            for part in room.parts:
                low, high = part.span(not self.along)
                if low <= cut <= high:
                    spans.append(part.span(self.along))
            if spans:
                floor = (self.heights.upper_floor or 0.0) if room.is_upper else 0.0
                start, end = min(a for a, _ in spans), max(b for _, b in spans)
                found.append(Cell(room, start, end, floor, clear_height_m(room.room)))
        return sorted(found, key=lambda c: (c.floor, c.start))


def draw_cells(section: Section) -> None:
    """Draw the rooms that a section cuts with what stands in them and in their walls."""
    building, cells = section.building, section.cells()
    for cell in cells:
        _room(section, cell)
    for cell in cells:
        for window in building.openings.windows:
            if window.room is cell.room:
                _window(section, cell, window)
        for door in building.openings.doors:
            is_seen = door.side == section.looks_to and door.is_outside
            if is_seen and door.room is cell.room:
                _door(section.view, cell, door)
        for fitting in building.fittings:
            if fitting.room is cell.room and fitting.kind in SURFACES_M:
                _fitting(section, fitting, cell)


def _room(section: Section, cell: Cell) -> None:
    """Draw a room's ceiling and the partition at its right."""
    view, plan = section.view, section.building.plan
    if cell.room.is_upper:
        view.box(cell.start, cell.floor - UPPER_FLOOR_M, cell.end, cell.floor, fill="ink")
        return
    ceiling = cell.floor + cell.high
    ends = [(cell.start, ceiling), (cell.end, ceiling)]
    if plan.upper and cell.room is plan.day:
        view.line(ends, "thin", "graphite", (3, 1.4))
    else:
        view.line(ends)
    if cell.end < section.long - 1e-6:
        view.box(cell.end, cell.floor, cell.end + PARTITION_M, ceiling, fill="ink")


def _fitting(section: Section, fitting: Fitting, cell: Cell) -> None:
    """Draw the outline of a piece of furniture, with its legs or its flue."""
    view, surfaces, floor = section.view, SURFACES_M[fitting.kind], cell.floor
    a, b = fitting.rect.span(section.along)
    is_fire = fitting.kind in FIRES
    for low, high in surfaces:
        hatch = (1.3, 45, "fine") if is_fire else None
        view.box(a, floor + low, b, floor + high, "thin", "fine", hatch=hatch)
    under, top = surfaces[-1]
    if is_fire:
        x = (a + b) / 2
        view.box(x - 0.08, floor + top, x + 0.08, floor + cell.high, "thin", "fine")
    if under > 0:
        for x in (a + 0.03, b - 0.03):
            reach = top if fitting.kind == "bunk" else under
            view.line([(x, floor), (x, floor + reach)], "thin", "fine")


def _window(section: Section, cell: Cell, window: PlacedWindow) -> None:
    """Draw a window seen beyond the cut, or cut through in an end wall."""
    if window.frame_m is None:
        return
    low, high = (cell.floor + z for z in window.frame_m)
    wall = section.building.plan.wall_m
    if window.side == section.looks_to:
        if cell.start - 0.01 <= window.start_m and window.end_m <= cell.end + 0.01:
            _elevation(section.view, low, high, window)
    elif window.side in ENDS[section.along] and window.index == 0:
        is_first = window.side == ENDS[section.along][0]
        faces = (-wall, 0.0) if is_first else (section.long + wall, section.long)
        _cut_window(section.view, cell.floor, low, high, window.edge_m, *faces)


def _cut_window(
    view: Canvas, floor: float, low: float, high: float, edge: float, outside: float, inside: float
) -> None:
    """Draw a window cut through, with its sill and head."""
    way = 1 if inside > outside else -1
    pane = outside + way * 0.09
    view.box(outside, low, inside, high)
    view.box(pane - 0.035, low, pane + 0.035, high, "thin")
    view.line([(pane, low), (pane, high)], "thin", "petrol")
    for level, word in ((low + edge, "sill"), (high - edge, "head")):
        view.line([(inside, level), (inside + way * 0.62, level)], "hair", "graphite")
        words, anchor = f"{word} {grouped(level - floor)}", "ls" if way > 0 else "rs"
        off = (way * 1.2, -0.9)
        view.text((inside, level), words, 3.3, "label", "graphite", anchor, True, off)


def _elevation(view: Canvas, low: float, high: float, window: PlacedWindow) -> None:
    """Draw a window from inside, with the sign of how it opens."""
    w, a, b, edge = window.window, window.start_m, window.end_m, window.edge_m
    left, right = a + window.jamb_m, b - window.jamb_m
    view.box(a, low, b, high)
    view.box(left, low + edge, right, high - edge, "thin", "graphite", "glass")
    if not w.is_fixed:
        sign = [(right, low + edge), (left, (low + high) / 2), (right, high - edge)]
        view.line(sign, "hair", "fine", (1.6, 0.9))
    middle, words = (a + b) / 2, f"sill {grouped(w.sill_m or 0.0)}"
    view.text((middle, low + edge), w.mark, 3.3, "medium", "ink", "ms", True, (0, -1.2))
    view.text((middle, low), words, 3.2, "label", "graphite", "ms", True, (0, 4.2))


def _door(view: Canvas, cell: Cell, door: PlacedDoor) -> None:
    """Draw an outside door that stands in the wall beyond the cut."""
    a, b, top = door.start_m, door.end_m, cell.floor + door.height_m
    view.box(a, cell.floor, b, top, hatch=(3.4, 90, "pale"))
    at = ((a + b) / 2, (cell.floor + top) / 2)
    view.text(at, door.mark, 3.3, "medium", anchor="ms", halo=True)


def letter_cell(section: Section, cell: Cell) -> None:
    """Letter a room's name and clear height."""
    view, wide = section.view, cell.end - cell.start
    if wide < 0.7:
        return
    at = ((cell.start + cell.end) / 2, cell.floor + 0.12)
    name = view.fitted(cell.room.room.name or "", view.mm(wide) - 2, 3.6, "medium")
    view.text(at, name, 3.6, "medium", anchor="ms", halo=True)
    if cell.room.is_upper:
        words = f"{grouped(cell.high)} mean"
        view.text(at, words, 3.4, "label", "graphite", "ms", True, (0, -5))
    elif wide > 1.0:
        x = _clear_of_windows(section, cell)
        dimension(view, [(x, cell.floor), (x, cell.floor + cell.high)])


def _clear_of_windows(section: Section, cell: Cell) -> float:
    """Return where a height can be dimensioned clear of the windows that are seen [m]."""
    seen = [
        w
        for w in section.building.openings.windows
        if w.room is cell.room and w.side == section.looks_to and not w.is_roof_light
    ]
    wide = cell.end - cell.start
    spots = [cell.start + wide * i / 20 for i in range(3, 18)]
    wish = cell.start + (0.24 if section.along else wide * 0.62)

    def cost(at: float) -> float:
        hit = any(w.start_m - 0.2 < at < w.end_m + 0.2 for w in seen)
        return 10.0 * hit + abs(at - wish)

    return min([wish, *spots], key=cost)
