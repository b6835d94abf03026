"""Every way to spoil one cell of the demo's packages, for tests of what isn't known."""

import os
import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from criteria.check_sheet.sheet import CheckSheet, asked_sheet, check_sheet
from criteria.command.folder import read_folder
from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG
from criteria.targets.reading import Target

DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"
PACKAGES = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
IS_LONG = bool(os.environ.get("MUNTIN_LONG"))
"""Whether all variants are run, as by hand, or a sample drawn by a fixed seed, as in the build."""

Tables = dict[str, list[dict[str, str]]]


@dataclass(frozen=True)
class Variant:
    """One cell of one package with something else in it."""

    key: tuple[str, str]
    slug: str
    row: int
    head: str
    text: str

    def __str__(self) -> str:
        return f"{''.join(self.key)}-{self.slug}-{self.row + 1}-{self.head}={self.text or 'blank'}"

    @property
    def package(self) -> Package:
        tables = {slug: [dict(r) for r in rows] for slug, rows in typed(self.key)[0].items()}
        tables[self.slug][self.row][self.head] = self.text
        return read_package(tables).package

    @property
    def sheet(self) -> CheckSheet:
        return check_sheet(self.package, typed(self.key)[1])

    @property
    def asked_sheet(self) -> CheckSheet:
        """What the brief asks alone: a tenth of the time."""
        return _asked_sheet(self)


@cache
def typed(key: tuple[str, str]) -> tuple[Tables, tuple[Target, ...]]:
    """Return the typed records of a package by schedule, and its targets."""
    reading = read_folder(DATA, scheme=key[0], rev=key[1])
    return {slug: list(rows) for slug, rows in reading.records.items()}, reading.targets


@lru_cache(200)
def _asked_sheet(variant: Variant) -> CheckSheet:
    return asked_sheet(variant.package, typed(variant.key)[1])


@cache
def sheet_of(key: tuple[str, str]) -> CheckSheet:
    tables, targets = typed(key)
    return check_sheet(read_package(tables).package, targets)


def variants(text: str) -> Iterator[Variant]:
    """Every filled cell of every package with a text in its place."""
    for key in PACKAGES:
        for slug, rows in typed(key)[0].items():
            for number, record in enumerate(rows):
                for head in BY_SLUG[slug].heads:
                    if (record.get(head) or "").strip():
                        yield Variant(key, slug, number, head, text)


def sample(text: str, most: int) -> list[Variant]:
    found = list(variants(text))
    return found if IS_LONG else random.Random(7).sample(found, most)
