"""Which columns a check reads, learnt by asking it: what a form shows first follows from it.

A check is asked of made-up packages whose rows remember what was asked of them: filled, filled
so that a plan can be drawn, and blank but for what may not be. A page shows beside it whatever
is filled, so that what none of the three was asked for is never out of reach.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext, suppress
from functools import cache
from typing import Any, Self

from criteria.checks.catalogue import CHECKS
from criteria.checks.check import Check
from criteria.hourly.of_year import NotRun
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.openings import Window
from criteria.schedules.states import STATE_KINDS, BuildingState
from criteria.typed.cells import standing_in
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Row, Schedule

HUT: Mapping[str, Mapping[str, Any]] = {
    "climate": {
        "mean_k": 278.15,
        "mean_min_k": 274.15,
        "sun_s": 3 * 3600.0,
        "wind_m_s": 3.0,
    },
    "power": {"panels_w": 5000.0, "second_w": 1000.0},
    "envelope": {
        "gross_area_m2": 400.0,
        "north_m2": None,
        "east_m2": None,
        "south_m2": None,
        "west_m2": None,
    },
    "rooms": {
        "floor_m2": 24.0,
        "depth_m": 4.0,
        "width_m": 6.0,
        "clear_height_m": 2.4,
        "wall_m": 0.3,
        "at_x_m": None,
        "at_y_m": None,
        "level": None,
        "part_of": None,
        "sleepers": 1,
    },
    "windows": {
        "room": "R1",
        "faces": "S",
        "left_m": 0.5,
        "glass_w_m": 1.0,
        "frame_w_m": 1.2,
        "sill_m": 0.8,
    },
    "doors": {
        "room": "R1",
        "faces": "S",
        "left_m": 4.0,
        "leaf_w_m": 1.0,
        "swing": "in",
        "hinge": "left",
    },
    "furniture": {
        "room": "R1",
        "plan_x_m": 3.0,
        "plan_y_m": 2.0,
        "used_l_m": 2.0,
        "used_w_m": 0.9,
        "night": 1,
    },
}
"""What a made-up room must have so that it can be drawn, walked and stand in a weather [SI]."""

Address = tuple[str, str]
"""A schedule's slug and a column's head."""
Cells = Mapping[str, Any]
Making = Callable[[Schedule, int], Cells]
"""Makes up the cells of the row of a number."""


@cache
def columns_read(check: str) -> frozenset[Address]:
    """Return the columns that a check of the catalogue reads."""
    read: set[Address] = set()
    watching = {slug: _watching(schedule, read) for slug, schedule in BY_SLUG.items()}
    with _no_year_is_run(CHECKS[check]):
        for cells in (_filled, _hut, _blank):
            with suppress(NotRun):
                CHECKS[check].of(_watched(watching, cells))
    return frozenset(read)


def _no_year_is_run(check: Check) -> AbstractContextManager[None]:
    """Let a check of the year ask for its cells only, as where something stands in for one."""
    return standing_in({(0, ""): None}) if check.is_yearly else nullcontext()


def _watched(watching: Mapping[str, type[Row]], cells: Making) -> Package:
    """Return a made-up package of rows that watch; none is equal to that of another check."""
    rows: dict[str, Any] = {}
    for schedule in BY_SLUG.values():
        made = tuple(_as(watching[schedule.slug], row) for row in _rows(schedule, cells))
        rows[schedule.slug] = made[0] if schedule.is_single else made
    return Package(**rows)


def _as(kind: type[Row], row: Row) -> Row:
    same = object.__new__(kind)
    object.__getattribute__(same, "__dict__").update(row.__dict__)
    return same


@cache
def _rows(schedule: Schedule, cells: Making) -> tuple[Row, ...]:
    return tuple(schedule.row(**cells(schedule, n)) for n in range(_how_many(schedule)))


def _watching(schedule: Schedule, read: set[Address]) -> type[Row]:
    """Return rows of a schedule that write down which of their cells are asked for."""
    heads = {column.attribute: column.head for column in schedule.columns}

    def asked(name: str) -> None:
        if name in heads:
            read.add((schedule.slug, heads[name]))

    class Watched(schedule.row):  # type: ignore[name-defined,misc]
        def __getattribute__(self, name: str) -> Any:
            asked(name)
            return super().__getattribute__(name)

        def typed(self, attribute: str) -> Any:
            asked(attribute)
            return super().typed(attribute)

        def if_given(self, attribute: str) -> Any:
            asked(attribute)
            return super().if_given(attribute)

        def unless_blank(self, attribute: str) -> Any:
            asked(attribute)
            return super().unless_blank(attribute)

        def but(self, **values: Any) -> Self:
            known = set(read)  # a row that is copied is asked for all of its cells
            other: Self = super().but(**values)
            read.intersection_update(known)
            return other

    return Watched


def _how_many(schedule: Schedule) -> int:
    """Return how many rows it takes to have each word of its longest list once."""
    words = max((len(c.choices) for c in schedule.columns if c.kind is Kind.WORD), default=1)
    return 1 if schedule.is_single else max(2, words)


def _filled(schedule: Schedule, n: int) -> Cells:
    return {column.attribute: _value(schedule, column, n) for column in schedule.columns}


def _hut(schedule: Schedule, n: int) -> Cells:
    return {**_filled(schedule, n), **HUT.get(schedule.slug, {})}


def _blank(schedule: Schedule, n: int) -> Cells:
    kept = [c for c in schedule.columns if c.required or c.kind is Kind.WORD]
    return {column.attribute: _value(schedule, column, n) for column in kept}


def _value(schedule: Schedule, column: Column, n: int) -> Any:
    if column.kind is Kind.MARK:
        return _mark_of(schedule, n)
    if column.kind is Kind.REFERENCE:
        to = BY_SLUG.get(column.refers_to, Window.schedule)
        if to is schedule:
            return _mark_of(to, 0) if n else None
        return _mark_of(to, n % _how_many(to))
    if column.kind is Kind.WORD:
        return column.choices[n % len(column.choices)]
    if column.kind is Kind.YES_NO:
        return n % 2 == 0
    if column.example:
        return column.read(column.example)
    if column.kind is Kind.TEXT:
        return "something"
    least, most = column.least or 0, 1 if column.most is None else column.most
    return round(least + (most - least) / 10) if column.kind is Kind.COUNT else (least + most) / 2


def _mark_of(schedule: Schedule, n: int) -> str:
    if schedule is BuildingState.schedule:
        return STATE_KINDS[n % len(STATE_KINDS)]
    return f"{schedule.mark_prefix or schedule.slug}{n + 1}"
