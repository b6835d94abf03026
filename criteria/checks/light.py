"""Light and opening air, from the window schedule."""

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Step
from criteria.measures import light
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import LIVED_IN, Room
from criteria.sources import IRC_AIR, IRC_LIGHT
from criteria.units import AREA, FLOOR, LENGTH, SHARE, SHARE_PERCENT


def _glass_of(window: Window) -> tuple[float, Step]:
    assert window.glass_w_m and window.glass_h_m
    n = window.n or 1
    area = light.clear_glass(n, window.glass_w_m, window.glass_h_m)
    sizes = (Amount(window.glass_w_m, LENGTH), Amount(window.glass_h_m, LENGTH))
    return area, Step("{}: {} × {} × {} = {}", (window.mark, n, *sizes, Amount(area, AREA)))


def _missing(package: Package, room: Room, *heads: str) -> tuple[str, ...]:
    if not package.windows:
        return ("rows of the window schedule",)
    windows = package.windows_of(room)
    cells = [cell for window in windows for cell in blank(Window.schedule, window, *heads)]
    return (*blank(Room.schedule, room, "floor_m2"), *cells)


def _measured(room: Room, value: float, steps: list[Step], words: str, area: float) -> Measured:
    assert room.floor_m2
    total = Amount(area, AREA)
    last = Step(words, (total, Amount(room.floor_m2, FLOOR), Amount(value, SHARE_PERCENT)))
    notes = () if steps else (Step("no row for {} in the window schedule", (room.mark,)),)
    return Measured(
        subject=room.mark,
        name=room.name,
        use=room.use or "",
        values=(value,),
        steps=(*steps, last),
        notes=notes,
    )


def _daylight_ratio(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for room in package.rooms_used_for(uses or LIVED_IN):
        windows = package.windows_of(room)
        if missing := _missing(package, room, "n", "glass_w", "glass_h"):
            found.append(_without(room, missing))
            continue
        glass = [_glass_of(window) for window in windows]
        area = sum(a for a, _ in glass)
        ratio = light.daylight_ratio(area, room.floor_m2 or 0)
        found.append(_measured(room, ratio, [s for _, s in glass], "{} ÷ {} = {}", area))
    return found


def _openable_ratio(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = []
    for room in package.rooms_used_for(uses or LIVED_IN):
        windows = package.windows_of(room)
        if missing := _missing(package, room, "n", "glass_w", "glass_h", "open_share"):
            found.append(_without(room, missing))
            continue
        steps, total = [], 0.0
        for window in windows:
            assert window.open_share is not None
            glass, _ = _glass_of(window)
            clear = light.opening_area(glass, window.open_share)
            total += clear
            share = Amount(window.open_share, SHARE)
            figures = (window.mark, Amount(glass, AREA), share, Amount(clear, AREA))
            steps.append(Step("{}: {} × {} open = {}", figures))
        ratio = light.openable_ratio(total, room.floor_m2 or 0)
        found.append(_measured(room, ratio, steps, "{} ÷ {} = {}", total))
    return found


def _without(room: Room, missing: tuple[str, ...]) -> Measured:
    return Measured(subject=room.mark, name=room.name, use=room.use or "", missing=missing)


DAYLIGHT_RATIO = Check(
    slug="daylight_ratio",
    title="Daylight ratio",
    topic="Light and view",
    scales=(SHARE_PERCENT,),
    measure=_daylight_ratio,
    schedules=("rooms", "windows"),
    uses=LIVED_IN,
    formula="r = Σ(n · w · h) ÷ A",
    meaning="n windows alike; w, h clear glass [m]; A whole floor of the room [m²]; r [%]",
    citations=(IRC_LIGHT,),
    limits="Clear glass only, whole floor. Orientation, depth, obstruction and kind of glass "
    "are not in it; a room without a window row counts as 0 %.",
    question="{name} has {value} of its floor in clear glass, against {target}. Where does the "
    "light come from on a grey afternoon?",
    question_over="{name} has {value} of its floor in clear glass; the brief allows {target}. "
    "Where do the heat and the glare go?",
)

OPENABLE_RATIO = Check(
    slug="openable_ratio",
    title="Openable ratio",
    topic="Air",
    scales=(SHARE_PERCENT,),
    measure=_openable_ratio,
    schedules=("rooms", "windows"),
    uses=LIVED_IN,
    formula="r = Σ(n · w · h · s) ÷ A",
    meaning="n windows alike; w, h clear glass [m]; s share that opens clear [1]; A floor of the "
    "room [m²]; r [%]",
    citations=(IRC_AIR,),
    limits="Area alone: wind, height and reach are not in it, nor air moved by a fan.",
    question="The opening area of {name} is {value} of its floor; the brief asks {target}. Who "
    "opens it, and can they reach?",
)
