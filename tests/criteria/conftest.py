"""Schedules as people type them, and the shortest way from them to a finding."""

from collections.abc import Callable

import pytest
from hypothesis import settings

from criteria.check_sheet.sheet import judge
from criteria.checks.catalogue import CHECKS
from criteria.findings import Finding
from criteria.package import Package, read_package
from criteria.targets.reading import read_targets

# A slow machine isn't a wrong answer, and a build that fails, fails again.
settings.register_profile("muntin", deadline=None, max_examples=60, derandomize=True)
settings.load_profile("muntin")

Cells = dict[str, str]


@pytest.fixture
def package() -> Callable[..., Package]:
    """Read typed records by schedule; every cell of them must be readable."""

    def made(**tables: list[Cells] | Cells) -> Package:
        lists = {slug: [rows] if isinstance(rows, dict) else rows for slug, rows in tables.items()}
        reading = read_package(lists)
        assert not reading.refused, reading.refused
        return reading.package

    return made


@pytest.fixture
def hold() -> Callable[..., Finding]:
    """Hold a package to one target, typed as a studio leader types it."""

    def held(package: Package, check: str, value: str, rule: str = "", **cells: str) -> Finding:
        rule = rule or str(CHECKS[check].rule)
        row = {"id": "T01", "check": check, "rule": rule, "value": value, **cells}
        reading = read_targets([row])
        assert not reading.refused, reading.refused
        return judge(package, reading.targets[0])

    return held


@pytest.fixture
def room() -> Callable[..., Cells]:
    def typed(mark: str = "R1", floor: str = "10", use: str = "day", **cells: str) -> Cells:
        name = {"day": "Day room", "sleep": "Bunk room", "kitchen": "Kitchen"}.get(use, "Room")
        return {"mark": mark, "room": name, "floor_m2": floor, "use": use,
                "clear_height_m": "2.4", **cells}  # fmt: skip

    return typed


@pytest.fixture
def window() -> Callable[..., Cells]:
    def typed(mark: str = "W1", room: str = "R1", w: str = "1000", h: str = "800", **cells: str):
        return {"mark": mark, "room": room, "n": "1", "glass_w": w, "glass_h": h,
                "open_share": "0.5", **cells}  # fmt: skip

    return typed
