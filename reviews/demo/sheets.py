"""The eight hung sheets of a revision: drawings of its own rows, as pages have them, on A3."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.border import TitleBlock, block_of, frame_of, hung
from criteria.drawing.catalogue import BY_SCHEDULE
from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, Drawing, Field
from criteria.drawing.held import asked_of, of_rows_alone
from criteria.drawing.lettering import NAME_MM, fitted
from criteria.drawing.marks import Lettering, Mark, Path, Point, flat, moved
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.picture import Picture, Seen
from criteria.drawing.plan_in_states import Laid, plans_in_states
from criteria.findings import Measured, State
from criteria.package import Package
from criteria.schedules.states import DAY, NIGHT
from criteria.situations import Situation, states_of
from criteria.targets.reading import Target
from criteria.typed.cells import Lacking
from reviews.demo.building_section import section
from reviews.demo.set_tables import set_tables, wrapped
from reviews.demo.site_map import site_map, storeys

Placed = tuple[Drawing, Point]

GAP_MM, CAPTION_MM, NEAR_MM, STEP_MM = 6.0, 9.0, 5.0, 10.0
"""Between drawings; what a caption takes; kept from the frame; how near a width is found [mm]."""
LEFT, TOP, RIGHT, FOOT = (
    each + by for each, by in zip(frame_of(), (NEAR_MM, NEAR_MM, -NEAR_MM, -NEAR_MM), strict=True)
)
OVER_BLOCK = block_of()[1] - NEAR_MM
WIDE = RIGHT - LEFT

SHEETS = (
    ("00", "Title and statement", ()),
    ("01", "Site and approach", ("ramp", "climate", "supports", "precedents")),
    ("02", "Plan", ()),
    ("03", "Sections", ("envelope", "vents", "plant")),
    ("04", "Inside views", ("windows", "doors", "lights", "finishes", "ways_out", "occupants")),
    ("05", "Furniture and stowage, day and night", ("stowage", "furniture", "moves")),
    ("06", "Pieces as packed, order, removal", ("pieces", "steps", "transport", "tanks")),
    ("07", "Schedules", ()),
)
"""Number, title, and the schedules whose drawings hang on it."""

ACROSS, ACROSS_MM = ("03",), 156.0
"""Sheets whose first drawing goes across them, and how tall that may be [mm]."""
SIZES_MM = ((MIDDLE_MM, 200.0), (MIDDLE_MM, 110.0), (HALF_MM, 110.0))
"""Width and most height that are tried for the others [mm]."""

ALONE: dict[str, Callable[[Package, Field], Drawing]] = {"01": site_map, "03": section}
"""What a sheet has beside them."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """What the sheets of one revision say of it."""

    number: str
    name: str
    by: str
    letter: str
    day: str
    statement: str
    site: str


def draw_sheets(
    told: Told,
    package: Package,
    tables: Mapping[str, Sequence[Mapping[str, str]]],
    targets: Sequence[Target],
    only: Collection[str] = (),
) -> Iterator[tuple[str, str, str, Drawing]]:
    """Yield number, title, scale and drawing of the sheets of one revision, or of some of them.

    package   its schedules in SI, with the site sheet and the brief's states
    tables    the same records as typed, by schedule slug, for the sheet of schedules
    targets   of its brief, to which drawings are held
    only      numbers of the sheets to draw; none named is all
    """
    for number, title, slugs in SHEETS:
        if only and number not in only:
            continue
        if number == "00":
            placed = _title(told, package)
        elif number == "02":
            placed = _plans(list(plans_in_states(package, (DAY,))))
        elif number == "07":
            placed = [(set_tables(tables, WIDE, FOOT - TOP), (LEFT, TOP))]
        else:
            pictures = [Hanging(laid) for laid in _pictures(number, slugs, package, targets)]
            placed = _in_columns(pictures, number in ACROSS)
        scales = dict.fromkeys(drawing.scale for drawing, _ in placed if drawing.scale)
        scale = next(iter(scales)) if len(scales) == 1 else "as shown" if scales else ""
        block = TitleBlock(
            owner=f"{told.number} {told.name}",
            title=title,
            creator=told.by,
            site=told.site,
            day=told.day,
            scale=scale,
            number=number,
            of=len(SHEETS),
            revision=told.letter,
        )
        yield number, title, "" if scale == "as shown" else scale, hung(block, placed)


def _pictures(
    number: str, slugs: Iterable[str], package: Package, targets: Sequence[Target]
) -> Iterator[Laid]:
    """Give what a sheet alone has, then the drawings of schedules as their pages have them."""
    if number == "05":
        yield from plans_in_states(package, (NIGHT,))
    if (alone := ALONE.get(number)) and storeys(package):
        yield partial(alone, package)
    for picture in dict.fromkeys(BY_SCHEDULE[slug] for slug in slugs if slug in BY_SCHEDULE):
        if laid := _picture(picture, package, targets):
            yield laid


def _picture(picture: Picture, package: Package, targets: Sequence[Target]) -> Laid | None:
    """Return the drawing of a schedule as its page has it: what is missed before what holds."""
    findings = [
        judge(package, each) for each in targets if each.check and each.check.slug in picture.checks
    ]
    findings.sort(key=lambda each: (not each.state.is_missed, each.state is State.NO_DATA))
    bare = unasked(package, CHECKS[picture.main]) if picture.main else of_rows_alone()
    finding = findings[0] if findings else bare
    measured = next(iter(finding.worst_first), Measured())
    state = measured.in_state.split(", ")[0]
    try:
        states = [each for each in states_of(package) if each.state == state]
        there = Situation(states[0] if states else None).of(package)
        seen = Seen(
            package=there,
            check=finding.check,
            asked=asked_of(finding, measured, state),
            findings={each.check: each for each in [*findings, finding]},
        )
        ready = picture.ready(seen)
    except Lacking:
        return None
    return ready.of if ready else None


def _in_columns(each: Sequence[Hanging], is_across: bool) -> list[Placed]:
    """Hang the first drawing across the sheet, or all in two columns, each where most is free.

    What has no room is left out.
    """
    right, y = RIGHT - MIDDLE_MM, TOP
    placed: list[Placed] = []
    for laid in each[:is_across]:
        drawing = laid.at(WIDE, ACROSS_MM)
        placed.append((drawing, (LEFT, y)))
        y += drawing.height_mm + GAP_MM
    free = {LEFT: [y, FOOT], right: [y, OVER_BLOCK]}
    for laid in each[is_across:]:
        for width, tallest in SIZES_MM:
            drawing = laid.at(width, tallest)
            fits = [x for x, (top, foot) in free.items() if top + drawing.height_mm <= foot]
            if fits:
                at = min(fits, key=lambda x: free[x][0] - free[x][1])
                placed.append((drawing, (at, free[at][0])))
                free[at][0] += drawing.height_mm + GAP_MM
                break
    return placed


class Hanging:
    """A drawing that remembers how it was laid out for each width and height."""

    def __init__(self, laid: Laid) -> None:
        self.laid = laid
        self.made: dict[tuple[float, float], Drawing] = {}

    def at(self, width_mm: float, tallest_mm: float) -> Drawing:
        """Return it with its caption, for so much paper."""
        key = width_mm, tallest_mm
        if key not in self.made:
            field = Field(width_mm=width_mm, tallest_mm=tallest_mm)
            self.made[key] = _captioned(self.laid(field))
        return self.made[key]


def _captioned(drawing: Drawing) -> Drawing:
    """Return a drawing with its title and scale over it."""
    whole = f"{drawing.title}   {drawing.scale}".strip()
    words = fitted(whole, NAME_MM, drawing.width_mm)
    head = Lettering(words=words, at=(0.0, NAME_MM + 0.5), cap_mm=NAME_MM, is_strong=True)
    rule = Path(points=((0.0, 6.4), (drawing.width_mm, 6.4)), pen=Pen.FINE, tone=Tone.GRAPHITE)
    below = _lower(drawing, CAPTION_MM)
    return replace(below, marks=(head, rule, *below.marks))


def _lower(drawing: Drawing, by_mm: float) -> Drawing:
    """Return a drawing further down, on taller paper."""
    marks = tuple(moved(mark, 0.0, by_mm) for mark in flat(drawing.marks))
    return replace(drawing, marks=marks, height_mm=drawing.height_mm + by_mm)


def _plans(storeys: list[Laid], wide: float = WIDE, tall: float = OVER_BLOCK - TOP) -> list[Placed]:
    """Hang storeys side by side or under each other at one scale, the largest at which all fit."""
    for ratio in (50, 100, 200):
        drawn = [_captioned(_at_most(laid, ratio, wide, tall)) for laid in storeys]
        is_alike = len({drawing.scale for drawing in drawn}) == 1
        if is_alike and (placed := _in_rows(drawn, wide, tall)):
            return placed
    return []


def _at_most(laid: Laid, ratio: int, wide: float, tall: float) -> Drawing:
    """Draw a storey at 1 to a ratio or less, on paper no wider than it needs."""
    field = Field(width_mm=wide, tallest_mm=tall - CAPTION_MM, ratio=ratio)
    drawing = laid(field)
    low, high = 80.0, wide
    while high - low > STEP_MM:
        middle = (low + high) / 2
        narrow = laid(replace(field, width_mm=middle))
        if narrow.scale == drawing.scale:
            drawing, high = narrow, middle
        else:
            low = middle
    return drawing


def _in_rows(drawn: list[Drawing], wide: float, tall: float) -> list[Placed]:
    """Set drawings in rows within a field; nothing where they don't all fit."""
    placed: list[Placed] = []
    x, y, high = 0.0, 0.0, 0.0
    for drawing in drawn:
        if x and x + drawing.width_mm > wide:
            x, y, high = 0.0, y + high + GAP_MM, 0.0
        is_beside = LEFT + x + drawing.width_mm < block_of()[0] - NEAR_MM
        deepest = FOOT - TOP if is_beside else tall
        if x + drawing.width_mm > wide or y + drawing.height_mm > deepest:
            return []
        placed.append((drawing, (LEFT + x, TOP + y)))
        x, high = x + drawing.width_mm + GAP_MM, max(high, drawing.height_mm)
    return placed


def _title(told: Told, package: Package) -> list[Placed]:
    """The name, the statement, who it is by, and the plan by day."""
    x, most = 10.0, 150.0
    marks: list[Mark] = [
        Lettering(words=told.number, at=(x, 36), cap_mm=7.0, tone=Tone.GRAPHITE),
        Lettering(words=told.name, at=(x, 56), cap_mm=13.0, is_strong=True),
        Path(points=((x, 64), (x + 60, 64)), pen=Pen.CUT),
    ]
    y = 80.0
    for line in wrapped(told.statement, most, 4.2):
        marks.append(Lettering(words=line, at=(x, y), cap_mm=4.2))
        y += 9.0
    marks.append(Lettering(words=told.by, at=(x, y + 8), cap_mm=NAME_MM, is_strong=True))
    words = Drawing(
        title=told.name,
        says=told.statement,
        width_mm=most + 20,
        height_mm=y + 12,
        marks=tuple(marks),
    )
    plans = [
        laid(Field(width_mm=MIDDLE_MM, tallest_mm=105)) for laid in plans_in_states(package, (DAY,))
    ]
    placed: list[Placed] = [(words, (LEFT, TOP))]
    y = TOP + 20
    for plan in map(_captioned, plans[:2]):
        placed.append((plan, (RIGHT - MIDDLE_MM, y)))
        y += plan.height_mm + GAP_MM
    return placed
