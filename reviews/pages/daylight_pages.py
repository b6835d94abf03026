"""A room's daylight as it stands on a page: the plan, its figures, a trial beside the schedule."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from django.utils.safestring import SafeString

from criteria.daylight import ImpossibleInput
from criteria.drawing.daylight import place_words, scale_of
from criteria.findings import Finding, side_by_side
from criteria.package import Package
from criteria.plans.figure import Figure
from criteria.plans.figures import RoomLight, room_light
from criteria.plans.of_package import room_plan
from criteria.plans.plan import NoPlan, Placed, RoomPlan
from criteria.schedules.rooms import LIVED_IN
from criteria.schedules.site import Site
from criteria.units import AREA, LENGTH, POWER, SHARE_PERCENT, Notation, System
from reviews.models import Revision
from reviews.models.weather import read_tables
from reviews.pages.daylight_plan import DrawnRoom, draw_plan, field_of, tone_key
from reviews.worked_out import Tables, Told, kept

NOTHING = "–"
KEY_STEPS = {System.METRIC: ("50 mm", "10 mm"), System.US: ('2"', '1/2"')}
"""How far an arrow key moves a window, and with Shift; as static/js/daylight.js does."""
AT_A_GLANCE = ("median", "bright", "no_sky", "ratio", "provision")
"""Figures by which a room is known beside the others."""
SHOWN_BY = ("daylight_ratio", "average_daylight_factor", "limiting_depth", "possible_sun")
"""Checks beside which a juror finds the plan of the room that they are about."""


@dataclass(frozen=True)
class FigureLine:
    """A figure in a reader's units; with a trial, the trial's beside it and what it changes.

    figure   the trial's, where there is one
    """

    figure: Figure
    own: str
    trial: str
    change: str
    working: str


@dataclass(frozen=True)
class WindowLine:
    """One window: where it stands, how large it is, and what it brings and costs."""

    mark: str
    place: str
    size: str
    share: str
    heat: str
    sun: str
    is_assumed: bool
    is_new: bool


@dataclass(frozen=True)
class RoomLink:
    """A room of the package, to go to its plan."""

    mark: str
    name: str
    is_here: bool


@dataclass(frozen=True)
class Shown:
    """A room's plan as it is drawn, for any page: an answer to a trial shows one too.

    key     begins the ids within the drawing
    """

    plan: RoomPlan
    drawn: DrawnRoom
    figures: tuple[FigureLine, ...]
    windows: tuple[WindowLine, ...]
    is_trial: bool = False
    key: str = "plan"
    tones: list[tuple[SafeString, str]] = field(default_factory=tone_key)

    @property
    def first(self) -> FigureLine:
        """The median, by which a room is known at a glance."""
        return self.figures[0]

    @property
    def at_a_glance(self) -> list[FigureLine]:
        """The few figures that stand beside a small drawing."""
        return [line for line in self.figures if line.figure.key in AT_A_GLANCE]


@dataclass(frozen=True)
class RoomPage:
    """A room's page: what is shown, or why nothing can be.

    missing     blank cells without which no plan can be drawn
    refused     what is read and what is expected, where rows can't be built
    """

    mark: str
    name: str
    rooms: tuple[RoomLink, ...]
    site: Site
    system: System
    light: RoomLight | None = None
    is_moved: bool = False
    key: str = "plan"
    ratio: int = 0
    missing: tuple[str, ...] = ()
    refused: str = ""

    @property
    def plan(self) -> RoomPlan | None:
        """The room as the schedules have it."""
        return self.light.plan if self.light else None

    @property
    def key_steps(self) -> tuple[str, str]:
        """How far an arrow key moves a window, and with Shift."""
        return KEY_STEPS[self.system]

    @cached_property
    def shown(self) -> Shown | None:
        """The room as the schedules have it, drawn when it is asked for."""
        if self.light is None:
            return None
        return shown(
            self.light, self.system, key=self.key, is_moved=self.is_moved, ratio=self.ratio
        )


def room_pages(package: Package, system: System) -> list[RoomPage]:
    """Every room that is lit by a window or lived in, to be shown together at one scale."""
    pages = [
        room_page(package, link.mark, system, key=f"plan-{link.mark}")
        for link in _links(package, "")
    ]
    paper = field_of(system)
    ratios = [scale_of(page.plan, paper).ratio for page in pages if page.plan]
    return [replace(page, ratio=max(ratios)) for page in pages] if ratios else pages


def room_page(
    package: Package, mark: str, system: System, *, is_moved: bool = False, key: str = "plan"
) -> RoomPage:
    """Everything of one room. Raises KeyError where the package has no such room.

    is_moved    whether its windows can be moved in the drawing
    key         begins the ids within the drawing
    """
    room = next((each for each in package.leniently.rooms if each.mark == mark), None)
    if room is None:
        raise KeyError(mark)
    rooms, site = _links(package, mark), package.leniently.site
    page = RoomPage(mark, room.name, rooms, site, system, is_moved=is_moved, key=key)
    try:
        plan = room_plan(package, mark)
        light = room_light(plan, package.site)
    except NoPlan as bare:
        return replace(page, missing=bare.missing)
    except ImpossibleInput as wrong:
        where = f"{wrong.where}, " if wrong.where else ""
        words = f"{where}{_field_words(wrong.field)}: read {wrong.read}. Expected {wrong.expected}."
        return replace(page, refused=words[0].upper() + words[1:])
    return replace(page, light=light)


def _field_words(name: str) -> str:
    return name.removesuffix("_m").replace("_", " ")


def _links(package: Package, here: str) -> tuple[RoomLink, ...]:
    """Rooms that windows light or that people spend time in, and the one that is open."""
    said = package.leniently
    return tuple(
        RoomLink(room.mark, room.name, room.mark == here)
        for room in said.rooms
        if room.mark == here or room.use in LIVED_IN or said.windows_of(room)
    )


def shown(
    light: RoomLight,
    system: System,
    *,
    own: RoomLight | None = None,
    key: str = "plan",
    is_moved: bool = False,
    ratio: int = 0,
) -> Shown:
    """Show a room's light; beside the schedule's own where it is a trial's."""
    before = light if own is None else own
    return Shown(
        plan=light.plan,
        drawn=draw_plan(
            light, system, own=own.plan if own else None, key=key, is_moved=is_moved, ratio=ratio
        ),
        figures=tuple(_figure_line(figure, own and light, system) for figure in before.figures),
        windows=_window_lines(light, own, system),
        is_trial=own is not None,
        key=key,
    )


def shown_trial(page: RoomPage, trial: RoomPlan) -> Shown:
    """Show a trial beside the schedule's own."""
    light = room_light(trial, page.site)
    return shown(light, page.system, own=page.light, is_moved=True)


def _text(figure: Figure, system: System) -> str:
    if figure.missing:
        return "No data"
    return figure.words if figure.value is None else figure.scale.write(figure.value, system)


def _figure_line(figure: Figure, trial: RoomLight | None, system: System) -> FigureLine:
    other = trial.figure(figure.key) if trial else None
    return FigureLine(
        other or figure,
        _text(figure, system),
        _text(other, system) if other else "",
        _change(figure, other, system) if other else "",
        (other or figure).write_working(system),
    )


def _change(own: Figure, trial: Figure, system: System) -> str:
    """What a trial changes, as a signed figure; words where words change."""
    if own.value is None or trial.value is None:
        return NOTHING if _text(own, system) == _text(trial, system) else "changed"
    if own.scale.unit(system).offset or _text(own, system) == _text(trial, system):
        return "same"
    written = own.scale.write(abs(trial.value - own.value), system)
    return f"{'+' if trial.value > own.value else '−'}{written}"


def _window_lines(
    light: RoomLight, own: RoomLight | None, system: System
) -> tuple[WindowLine, ...]:
    known = {placed.mark for placed in own.plan.openings} if own else set()
    return tuple(
        WindowLine(
            mark=placed.mark,
            place=place_words(placed, system),
            size=size_words(placed, system),
            share=SHARE_PERCENT.write(share, system),
            heat=NOTHING if heat is None else POWER.write(heat, system),
            sun=NOTHING if sun is None else POWER.write(sun, system),
            is_assumed=placed.is_assumed,
            is_new=own is not None and placed.mark not in known,
        )
        for placed, share, heat, sun in zip(
            light.plan.in_order, light.shares, light.heat_w, light.sun_w, strict=True
        )
    )


def size_words(placed: Placed, system: System) -> str:
    """Glass and sill: 1,240 × 1,040 mm (1.29 m²), sill 700 mm."""
    sides = [(LENGTH, side, 0) for side in (placed.width_m, placed.height_m)]
    glass = f"{side_by_side(sides, system, ' × ')} ({AREA.write(placed.glass_m2, system)})"
    return glass if placed.is_rooflight else f"{glass}, sill {LENGTH.write(placed.sill_m, system)}"


# What others fold into their pages

MOST_PLANS = 256
"""Plans that a process keeps as they are drawn beside criteria: those of some forty schemes."""


def plan_of(revision: Revision, mark: str, system: System, *, key: str = "plan") -> Shown | None:
    """The plan of a room as issued, for `daylight/_plan.html`; None where none can be drawn."""
    return _plan(revision.tables, revision.notation, mark, system, key)


@kept(MOST_PLANS)
def _plan(
    tables: Told[Tables], notation: Notation, mark: str, system: System, key: str
) -> Shown | None:
    try:
        return room_page(read_tables(tables, notation).package, mark, system, key=key).shown
    except KeyError:
        return None


def plans_beside(
    revision: Revision, findings: Iterable[Finding], system: System, *, key: str
) -> list[Shown]:
    """The plans of the rooms that a criterion's evidence is about, each once, as it names them.

    key     tells this criterion's drawings from those of the others on the page
    """
    marks = dict.fromkeys(
        finding.subject for finding in findings if finding.check in SHOWN_BY and finding.subject
    )
    plans = (plan_of(revision, mark, system, key=f"{key}-{mark}") for mark in marks)
    return [plan for plan in plans if plan]
