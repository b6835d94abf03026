"""What was worked out once and is kept: told apart by the fingerprint of all that it read.

Pure functions alone are kept. A process keeps its own, and works out anew what it doesn't have:
nothing here must be emptied when something is saved, for what is saved has another fingerprint.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, Generic, TypeVar

from criteria.package import PackageReading, read_package
from criteria.units import Notation

T = TypeVar("T")
Tables = Mapping[str, Sequence[Mapping[str, str]]]

MOST_PACKAGES = 128
"""Packages that a process keeps, the last that were asked for: a large studio's, twice over."""


@dataclass(frozen=True)
class Told(Generic[T]):
    """Something to work on, told from others by its fingerprint alone."""

    fingerprint: str
    holds: T = field(compare=False, repr=False)

    @classmethod
    def by(cls, holds: T, *parts: Any) -> Told[T]:
        """Tell a thing apart by what JSON can write of its parts."""
        written = json.dumps(parts, sort_keys=True, ensure_ascii=False, default=str)
        return cls(hashlib.sha256(written.encode()).hexdigest(), holds)


def read_tables(tables: Tables, notation: Notation) -> PackageReading:
    """Read a package's tables as typed; the same tables are read once."""
    return _read(Told.by((tables, notation), tables, notation))


@lru_cache(maxsize=MOST_PACKAGES)
def _read(told: Told[tuple[Tables, Notation]]) -> PackageReading:
    return read_package(*told.holds)
