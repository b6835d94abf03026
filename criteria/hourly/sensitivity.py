"""What moves the worst night most: inputs changed by one sensible step each, one at a time.

Of the room without plant: a heater that holds what is wanted hides what the building is. The night
is that of the package as it stands, and stays the same hours under every change.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from criteria.findings import Amount, Step
from criteria.hourly.of_air import LEAKS_50_S
from criteria.hourly.of_year import Bare, bare_year
from criteria.hourly.worst import DAYS, NIGHT_BEGINS, NIGHT_H, Span, is_night_settled
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.air import Vent
from criteria.schedules.envelope import PARTS, Layer
from criteria.schedules.openings import Window
from criteria.schedules.people import Occupant
from criteria.schedules.power import Load
from criteria.typed.cells import Lacking
from criteria.typed.rows import Row
from criteria.units import RESISTANCE

R = TypeVar("R", bound=Row)

FIFTH = 0.2
"""Part by which most figures are changed, up and down [1]."""
SHUTTER_M2K_W = 0.25
"""What a shutter of boards adds, its air space with it [m²K/W]. Common practice."""
COLOUR = 0.3
"""From pale to middle, and from middle to dark, of the sun taken up [1]. Common practice."""
RECOVERED = 0.1
"""A step of heat recovery [1]. Ours."""
SHOWN = 5
NOTHING_K = 0.005
"""What moves the night by less moves nothing [K]."""
HEAVY = ("timber_kg", "stone_kg")

Changing = Callable[[Package, int], Package | None]
"""Makes a package with an input a step less (−1) or more (1); None where it can't go that way."""


@dataclass(frozen=True)
class Input:
    """What is changed, by how much either way, and what does it."""

    name: str
    step: Step
    changing: Changing


@dataclass(frozen=True)
class Moved:
    """By how much an input moves the worst night [K], a step less and a step more of it.

    None where it can't be less, or more.
    """

    name: str
    step: Step
    less_k: float | None
    more_k: float | None

    @property
    def most_k(self) -> float:
        """The greater of both, either way."""
        return max(abs(each or 0.0) for each in (self.less_k, self.more_k))


@dataclass(frozen=True, kw_only=True)
class Moves:
    """Inputs by how much they move the worst night, most first.

    night       its hours
    night_k     mean operative temperature through them, without plant [K]
    is_settled  whether the weather holds a night as cold as is designed for
    """

    night: Span
    night_k: float
    is_settled: bool
    inputs: tuple[Moved, ...]

    @property
    def most(self) -> tuple[Moved, ...]:
        """The five that move it most; what moves nothing isn't among them."""
        return tuple(each for each in self.inputs[:SHOWN] if each.most_k >= NOTHING_K)


def moves_of(package: Package) -> Moves:
    """Return what moves a package's worst night, each input by one step. Raises Lacking."""
    bare = bare_year(package)
    night = coldest_night(bare)
    was = _felt_k(bare, night)
    found = []
    for each in inputs_of(package):
        less, more = (_by_k(each.changing(package, way), night, was) for way in (-1, 1))
        found.append(Moved(each.name, each.step, less, more))
    return Moves(
        night=night,
        night_k=was,
        is_settled=is_night_settled(bare.ready.weather),
        inputs=tuple(sorted(found, key=lambda each: -each.most_k)),
    )


def coldest_night(bare: Bare) -> Span:
    """Return the coldest night without plant, of those in which somebody is there longest."""
    nights = [Span(24 * day + NIGHT_BEGINS, NIGHT_H) for day in range(DAYS)]
    at = np.stack([night.at for night in nights])
    there = bare.assembled.use.people.is_there[at].sum(axis=1)
    felt = bare.run.operative_k[at].mean(axis=1)
    return nights[int(np.lexsort((felt, -there))[0])]


def _by_k(other: Package | None, night: Span, was_k: float) -> float | None:
    """Return by how much a package's night differs [K]; None where it can't stand so."""
    try:
        return None if other is None else _felt_k(bare_year(other), night) - was_k
    except Lacking:
        return None


def _felt_k(bare: Bare, night: Span) -> float:
    return float(bare.run.operative_k[night.at].mean())


def inputs_of(package: Package) -> Iterator[Input]:
    """Give the inputs of a package that can be changed, each with its step."""
    fifth = Step("± 20 %")
    yield from _of_envelope(package, fifth)
    if package.rows_of(Window):
        shutter = Step("± {}", (Amount(SHUTTER_M2K_W, RESISTANCE),))
        yield Input("U of the windows", fifth, _by_a_fifth(Window, "u_w_m2k"))
        yield Input("Solar factor of the windows", fifth, _by_a_fifth(Window, "solar_factor"))
        yield Input("Width of the windows", fifth, _by_a_fifth(Window, "glass_w_m", "frame_w_m"))
        yield Input("Night shutters", shutter, _by(Window, "shutter_m2k_w", SHUTTER_M2K_W))
    if any(row.typed("is_outside") for row in package.rows_of(Door)):
        yield Input("U of the outside doors", fifth, _by_a_fifth(Door, "u_w_m2k"))
    if package.rows_of(Vent):
        yield Input("Air of the vents", fifth, _by_a_fifth(Vent, "flow_m3_s"))
    if groups := package.rows_of(Occupant):
        most = max(groups, key=lambda row: row.n)
        name = f"People, {most.title}"
        yield Input(name, Step("± 1"), _by(Occupant, "n", 1, only=most.number))
    if package.rows_of(Load):
        yield Input("Power of the loads", fifth, _by_a_fifth(Load, "power_w"))
    yield Input("Leaks", fifth, _of_plant({"leaks_50_s": LEAKS_50_S}, _fifth))
    recovered = _of_plant({"recovery": 0.0}, lambda x, way: x + way * RECOVERED)
    yield Input("Heat recovery", Step("± 0.1"), recovered)
    heavy = _of_plant(dict.fromkeys(HEAVY, 0.0), _fifth)
    yield Input("Timber and stone inside", fifth, heavy)


def _fifth(value: float, way: int) -> float:
    return value * (1 + way * FIFTH)


def _of_envelope(package: Package, fifth: Step) -> Iterator[Input]:
    layers = package.rows_of(Layer)
    colour = Step("± 0.3")
    for part in PARTS:
        counted = [row for row in layers if row.part == part and row.lambda_w_mk is not None]
        if not counted:
            continue
        best = max(counted, key=lambda row: row.thickness_m / (row.lambda_w_mk or 1.0))
        name = f"Thickness of {best.layer}, {part}"
        yield Input(name, fifth, _by_a_fifth(Layer, "thickness_m", only=best.number))
        if part != "floor":
            outer = next(row for row in layers if row.part == part)
            change = _by(Layer, "absorptance", COLOUR, only=outer.number)
            yield Input(f"Sun taken up by the {part}", colour, change)


def _by_a_fifth(kind: type[Row], *attributes: str, only: int = 0) -> Changing:
    def changing(package: Package, way: int) -> Package | None:
        return _with(package, kind, attributes, lambda value: _fifth(value, way), only)

    return changing


def _by(kind: type[Row], attribute: str, step: float, only: int = 0) -> Changing:
    def changing(package: Package, way: int) -> Package | None:
        return _with(package, kind, (attribute,), lambda value: value + way * step, only)

    return changing


def _with(
    package: Package,
    kind: type[Row],
    attributes: tuple[str, ...],
    other: Callable[[float], float],
    only: int,
) -> Package | None:
    """Change cells of all rows, or of one; None where that changes nothing."""
    rows = package.rows_of(kind)
    changed = tuple(
        row if only and row.number != only else _changed(row, dict.fromkeys(attributes), other)
        for row in rows
    )
    return None if changed == rows else package.but(**{kind.schedule.slug: changed})


def _changed(row: R, blanks: Mapping[str, float | None], other: Callable[[float], float]) -> R:
    """Change what a row holds of some cells, else what stands for blank ones.

    No further than their columns go.
    """
    values = {}
    for name, blank in blanks.items():
        typed = row.if_given(name)
        now = blank if typed is None else typed
        if now is not None:
            column = row.schedule.by_attribute[name]
            assert column.least is not None
            assert column.most is not None
            values[name] = min(max(other(now), column.least), column.most)
    return row.but(**values)


def _of_plant(blanks: Mapping[str, float], other: Callable[[float, int], float]) -> Changing:
    """Change cells of the plant row, with what stands for blank ones."""

    def changing(package: Package, way: int) -> Package | None:
        row = package.plant
        changed = _changed(row, blanks, lambda value: other(value, way))
        return None if changed == row else package.but(plant=changed)

    return changing
