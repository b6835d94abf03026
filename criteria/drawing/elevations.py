"""Rooms as their windows are drawn: walls seen from inside, roof lights and floors in plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.checks.view import SEATED_EYE_M, lying_eye_m
from criteria.drawing.marks import Gap
from criteria.errors import InputError
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import LIVED_IN, SAT_IN, Room
from criteria.typed.cells import Cell, Lacking

MOST_PANES = 60
"""Panes that are drawn of one room."""
PAST_M = 1e-6


@dataclass(frozen=True, kw_only=True)
class Pane:
    """One pane of glass in a wall or a ceiling.

    left_m, low_m   from the left end and the floor; of a roof light, from the lower wall [m]
    around_m        how much wider and higher its frame is than the glass; none where not given [m]
    gap             what of its place isn't given
    """

    row: str
    left_m: float
    low_m: float
    wide_m: float
    high_m: float
    around_m: tuple[float, float] | None
    opens: str
    gap: Gap | None


@dataclass(frozen=True, kw_only=True)
class Face:
    """A wall from inside, or a ceiling in plan, with what is in it.

    letters   the way it looks: "S", "up"
    drift_m   of the snow outside, over the floor; none where none lies there [m]
    """

    letters: str
    wide_m: float
    high_m: float
    panes: tuple[Pane, ...]
    drift_m: float | None = None

    @property
    def is_ceiling(self) -> bool:
        """Whether it lies over the room."""
        return self.letters == "up"


@dataclass(frozen=True, kw_only=True)
class Lit:
    """A room with the faces that have windows.

    across_m, deep_m   its floor, as its plan has it [m]
    eyes               heights from which somebody looks out, each named [m]
    gap                why its sides are assumed
    """

    mark: str
    name: str
    across_m: float
    deep_m: float
    faces: tuple[Face, ...]
    eyes: tuple[tuple[str, float], ...]
    gap: Gap | None


@dataclass(frozen=True)
class Rooms:
    """All rooms that can be drawn, and what lacks for the others."""

    lit: tuple[Lit, ...]
    left_out: tuple[Gap, ...]


def rooms_of(package: Package) -> Rooms:
    """Return the rooms that have windows or are lived in. Raises Lacking where rows can't be told
    from others."""
    gaps: list[Gap] = []
    by_room: dict[str, list[Window]] = {}
    for window in package.rows_of(Window):
        if (room := window.if_given("room")) is None:
            gaps.append(_gap(window.cell("room")))
        else:
            by_room.setdefault(room, []).append(window)
    found = []
    for row in package.rows_of(Room):
        own = by_room.get(row.mark, [])
        if own or row.if_given("use") in LIVED_IN:
            lit = _lit(package, row, own, gaps)
            found += [lit] if lit else []
    return Rooms(tuple(found), tuple(dict.fromkeys(gaps)))


def _gap(cell: Cell) -> Gap:
    label = cell.column.label.lower() if cell.column else cell.where
    read = "can't be read" if cell.refusal else "not given"
    says = f"{cell.mark}: {label} {read}".removeprefix(": ")
    return Gap(schedule=cell.schedule, mark=cell.mark, column=cell.head, says=says)


def _lit(package: Package, row: Room, windows: Sequence[Window], gaps: list[Gap]) -> Lit | None:
    """Lay out a room; a window that lacks what nothing can stand for is left out and named."""
    from criteria.plans.of_package import drawn  # brings numpy, which others needn't wait for

    while True:
        try:
            plan = drawn(package.but(windows=tuple(windows), envelope=()), row)
            break
        except Lacking as lacks:
            gaps += map(_gap, lacks.cells)
            bare = {cell.mark for cell in lacks.cells if cell.schedule == "windows"}
            if not bare:
                return None
            windows = [window for window in windows if window.mark not in bare]
        except InputError as impossible:
            gaps.append(Gap(schedule="rooms", mark=row.mark, column="", says=f"{impossible}"))
            return None
    rows = {window.mark: window for window in windows}
    proposed = [(cell.mark, str(cell.head)) for cell in plan.proposed]
    panes: dict[str, list[Pane]] = {}
    for placed in plan.openings[:MOST_PANES]:
        lacks_of = [head for mark, head in proposed if mark == placed.row]
        window = rows[placed.row]
        pane = Pane(
            row=placed.row,
            left_m=placed.left_m,
            low_m=placed.sill_m,
            wide_m=placed.width_m,
            high_m=placed.height_m,
            around_m=placed.frame_m,
            opens=window.if_given("opens") or "",
            gap=_not_given(placed.row, lacks_of, is_spread=placed.is_assumed),
        )
        panes.setdefault(placed.face, []).append(pane)
    shell, sides = plan.shell, [head for mark, head in proposed if mark == row.mark]
    lengths = {face: shell.wall_length_m(plan.wall_of(face)) for face in panes if face != "up"}
    sizes = {face: (length, shell.height_m) for face, length in lengths.items()}
    sizes["up"] = shell.length_m, shell.width_m
    faces = []
    for letters, size in sizes.items():
        within = list(_within(panes.get(letters, []), size[0], gaps))
        if within:
            high = max(size[1], *(pane.low_m + pane.high_m for pane in within))
            drift = None if letters == "up" else _drift_m(package, letters, gaps)
            faces.append(
                Face(
                    letters=letters,
                    wide_m=size[0],
                    high_m=size[1] if letters == "up" else high,
                    panes=tuple(within),
                    drift_m=drift,
                )
            )
    says = f"{row.mark}: depth and width not given, its proportions are assumed"
    no_sides = Gap(schedule="rooms", mark=row.mark, column="depth_m", says=says)
    return Lit(
        mark=row.mark,
        name=str(row.if_given("name") or ""),
        across_m=shell.length_m,
        deep_m=shell.width_m,
        faces=tuple(faces),
        eyes=tuple(_eyes(package, row)),
        gap=no_sides if {"depth_m", "width_m"} <= {*sides} else None,
    )


def _not_given(mark: str, heads: Sequence[str], *, is_spread: bool) -> Gap | None:
    names = ["place"] if is_spread else []
    names += [name for head, name in (("faces", "wall"), ("sill", "sill")) if head in heads]
    if not names:
        return None
    column = "left" if is_spread else "faces" if "faces" in heads else "sill"
    says = f"{mark}: {', '.join(names)} not given"
    return Gap(schedule="windows", mark=mark, column=column, says=says)


def _within(panes: Sequence[Pane], wide_m: float, gaps: list[Gap]) -> Iterator[Pane]:
    """The panes that lie on a wall; one past its end is left out and named."""
    for pane in panes:
        if pane.left_m < -PAST_M or pane.left_m + pane.wide_m > wide_m + PAST_M:
            says = f"{pane.row}: goes past the end of its wall, not drawn there"
            gaps.append(Gap(schedule="windows", mark=pane.row, column="left", says=says))
        else:
            yield pane


def _drift_m(package: Package, letters: str, gaps: list[Gap]) -> float | None:
    """How high the drift lies before a wall, over the floor."""
    known = package.leniently
    drift, side = known.site.drift_m, known.site.drift_side
    if not drift or not side or side not in letters:
        return None
    rise = known.ramp.rise_m
    if rise is None:
        says = "drift before a wall: floor over the ground not given"
        gaps.append(Gap(schedule="ramp", mark="", column="rise_mm", says=says))
        return None
    return max(drift - rise, 0.0)


def _eyes(package: Package, row: Room) -> Iterator[tuple[str, float]]:
    if row.if_given("use") in SAT_IN:
        yield "seated eye", SEATED_EYE_M
    if row.typed("sleepers"):
        try:
            yield "lying eye", lying_eye_m(package, row)
        except Lacking:
            return
