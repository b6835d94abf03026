"""What was worked out once and is kept: told apart by the fingerprint of all that it read.

Pure functions alone are kept. A process keeps its own, and works out anew what it doesn't have:
nothing here must be emptied when something is saved, for what is saved has another fingerprint.
Parts of pages are kept likewise, by `{% kept part page.fingerprint … %}`: the fingerprint holds
all that the part shows, its reader's units and what a role opens to them among it.
"""

from __future__ import annotations

import functools
import hashlib
import json
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from datetime import date, time
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import wraps
from time import monotonic
from typing import Any, Generic, ParamSpec, TypeVar
from uuid import UUID

from django.core.cache import cache
from django.db.models import Model
from django.db.models.fields.files import FieldFile

P = ParamSpec("P")
T = TypeVar("T")
Tables = Mapping[str, Sequence[Mapping[str, str]]]

MOST_PACKAGES = 128
"""Packages that a process keeps, the last that were asked for: a large studio's, twice over."""

_forgetting: list[Callable[[], None]] = []


def fingerprint(*parts: Any) -> str:
    """SHA-256 over parts of text, figures, moments, lists, mappings and dataclasses of these.

    A row stands for its own columns, as far as they were read: name what it leads to beside it.
    Raises TypeError for anything else: what it would leave out could change unseen.

    >>> fingerprint({"b": 1, "a": "2"}) == fingerprint({"a": "2", "b": 1}) != fingerprint("a", "21")
    True
    """
    written = json.dumps(parts, sort_keys=True, ensure_ascii=False, default=_plain)
    return hashlib.sha256(written.encode()).hexdigest()


@functools.cache
def _columns(model: type[Model]) -> list[str]:
    return [each.attname for each in model._meta.concrete_fields]


def _plain(part: Any) -> Any:
    if isinstance(part, (date, time, Decimal, Fraction, UUID)):
        return repr(part)
    if isinstance(part, Told):
        return part.fingerprint
    if isinstance(part, Model):
        return [part._meta.label, *map(part.__dict__.get, _columns(type(part)))]
    if isinstance(part, FieldFile):
        return part.name
    if is_dataclass(part) and not isinstance(part, type):
        return [type(part).__name__, *(getattr(part, each.name) for each in fields(part))]
    if isinstance(part, (set, frozenset)):
        return sorted(part)
    if isinstance(part, Enum):
        return part.value
    raise TypeError(f"{type(part).__name__} has no fingerprint")


@dataclass(frozen=True)
class Told(Generic[T]):
    """Something to work on, told from others by its fingerprint alone."""

    fingerprint: str
    holds: T = field(compare=False, repr=False)

    @classmethod
    def of(cls, holds: T) -> Told[T]:
        """Tell a thing apart by what it holds: once, for all that reads it."""
        return cls(fingerprint(holds), holds)


def kept(most: int) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Let a pure function be worked out once for the same arguments; keep the last so many."""

    def keep(work: Callable[P, T]) -> Callable[P, T]:
        @functools.lru_cache(maxsize=most)
        def once(told: Told[tuple[Any, Any]]) -> T:
            args, more = told.holds
            return work(*args, **more)

        @wraps(work)
        def asked(*args: P.args, **more: P.kwargs) -> T:
            return once(Told(fingerprint(args, more), (args, more)))

        _forgetting.append(once.cache_clear)
        return asked

    return keep


def kept_for(seconds: float, most: int = 64) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Let what many ask at once be read once in so many seconds; a moment's age does no harm there.

    Arguments must be hashable. For polls alone: whoever has just saved something reads it anew.
    """

    def keep(work: Callable[P, T]) -> Callable[P, T]:
        held: OrderedDict[tuple[Any, ...], tuple[float, T]] = OrderedDict()

        @wraps(work)
        def asked(*args: P.args, **more: P.kwargs) -> T:
            key, now = (*args, *sorted(more.items())), monotonic()
            found = held.get(key)
            if found is None or now - found[0] >= seconds:
                found = held[key] = (now, work(*args, **more))
                held.move_to_end(key)
                while len(held) > most:
                    held.pop(next(iter(held)), None)
            return found[1]

        _forgetting.append(held.clear)
        return asked

    return keep


def forget() -> None:
    """Let everything be worked out anew, kept parts of pages too, as in another process."""
    cache.clear()
    for each in _forgetting:
        each()
