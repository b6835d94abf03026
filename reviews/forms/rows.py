"""What comes with a row that is saved: its cells, the version seen, the key of the save."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import NamedTuple
from uuid import UUID

from django.http import QueryDict

from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.deeds.record_typed import Cells, kept_cells
from reviews.forms.fields import number_in

PREFIX = "cell-"


class Save(NamedTuple):
    """The version that whoever saves had seen, and the key that the device made.

    A version that can't be read is one that nobody can have seen: nothing is overwritten.
    """

    seen: int
    key: UUID | None


def read_save(sent: QueryDict) -> Save:
    """Read version and key of what is sent."""
    version = sent.get("version", "")
    key = None
    with contextlib.suppress(ValueError):
        key = UUID(sent.get("key", ""))
    return Save(number_in(version, otherwise=-1), key)


def read_cells(
    schedule: Schedule, sent: QueryDict, kept: Mapping[str, str], system: System
) -> Cells:
    """Read the cells that are sent, as they are kept; those that are not sent are left out."""
    typed = {
        head: str(sent[f"{PREFIX}{head}"]) for head in schedule.heads if f"{PREFIX}{head}" in sent
    }
    return kept_cells(schedule, typed, kept, system)
