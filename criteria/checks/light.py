"""Light and opening air, from the window schedule."""

from collections.abc import Callable

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.findings import Amount, Measured, Step
from criteria.measures import light
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import LIVED_IN, Room
from criteria.sources import IRC_AIR, IRC_LIGHT
from criteria.units import AREA, FLOOR, LENGTH, SHARE, SHARE_PERCENT


def _glass_of(window: Window) -> tuple[float, Step]:
    area = light.clear_glass(window.n, window.glass_w_m, window.glass_h_m)
    sizes = (Amount(window.glass_w_m, LENGTH), Amount(window.glass_h_m, LENGTH))
    figures = (window.mark, window.n, *sizes, Amount(area, AREA))
    return area, Step("{}: {} × {} × {} = {}", figures)


def _opening_of(window: Window) -> tuple[float, Step]:
    glass, _ = _glass_of(window)
    clear = light.opening_area(glass, window.open_share)
    share = Amount(window.open_share, SHARE)
    figures = (window.mark, Amount(glass, AREA), share, Amount(clear, AREA))
    return clear, Step("{}: {} × {} open = {}", figures)


def _over_floor(
    package: Package,
    uses: tuple[str, ...],
    of: Callable[[Window], tuple[float, Step]],
    ratio: Callable[[float, float], float],
) -> list[Measured]:
    """Hold an area of each room's windows to its floor."""

    def measured(room: Room) -> Measured:
        found = gathered(package.windows_of(room), of)
        area = sum(each for each, _ in found)
        value = ratio(area, room.floor_m2)
        figures = (Amount(area, AREA), Amount(room.floor_m2, FLOOR), Amount(value, SHARE_PERCENT))
        none = (Step("no row for {} in the window schedule", (room.mark,)),)
        steps = (*(step for _, step in found), Step("{} ÷ {} = {}", figures))
        return Measured(values=(value,), steps=steps, notes=() if found else none)

    return of_each(package.rooms_used_for(uses or LIVED_IN), measured)


DAYLIGHT_RATIO = Check(
    slug="daylight_ratio",
    title="Daylight ratio",
    topic="Light and view",
    scales=(SHARE_PERCENT,),
    measure=lambda package, uses: _over_floor(package, uses, _glass_of, light.daylight_ratio),
    is_monotone=True,
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
    measure=lambda package, uses: _over_floor(package, uses, _opening_of, light.openable_ratio),
    is_monotone=True,
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
