"""The sheet list of a package in preparation: title blocks, what is proposed, what lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from criteria.units import System
from reviews.deeds.revision_issuing import undrawn
from reviews.models import Package, Sheet
from reviews.reading.title_block import (
    LABELS,
    as_contents,
    kind_words,
    paper_words,
    proposed_from,
    title_block_of,
)


class SaidField(NamedTuple):
    """A field of a title block as the list shows it; `read_from` where nobody confirmed it."""

    words: str
    read_from: str


@dataclass(frozen=True)
class ListedSheet:
    """A line of the sheet list."""

    sheet: Sheet
    system: System

    @property
    def fields(self) -> list[SaidField]:
        """All but its number, in the order of the heads."""
        said, file = title_block_of(self.sheet), self.sheet.file
        words = said._asdict() | {
            "kind": kind_words(said.kind),
            "width_mm": paper_words(said.width_mm, file.width / file.height, self.system),
        }
        read_from = {name: proposed_from(s) for name, s in self.sheet.proposed.items()}
        return [SaidField(words[name], read_from.get(name, "")) for name in ORDER]

    @property
    def number_from(self) -> str:
        """What its number was read from, where nobody confirmed it."""
        source = self.sheet.proposed.get("number", "")
        return proposed_from(source) if source else ""

    @property
    def seen(self) -> str:
        """What a button that confirms it sends."""
        return f"{self.sheet.pk}:{self.sheet.version}"


ORDER = ("title", "kind", "state", "scale", "width_mm", "drawn_by", "checked_by")


@dataclass(frozen=True)
class SheetList:
    """The sheets of a package, and of the hand-in list what none of them shows."""

    lines: Sequence[ListedSheet]
    undrawn: Sequence[str]

    heads = [LABELS[name] for name in ORDER]

    @property
    def proposed(self) -> list[ListedSheet]:
        """Those of which something isn't confirmed."""
        return [line for line in self.lines if line.sheet.proposed]


def sheet_list(package: Package, system: System) -> SheetList:
    """The sheet list of a package in preparation."""
    sheets = list(package.sheets.select_related("file", "changed_by"))
    said = [as_contents(title_block_of(sheet)) for sheet in sheets]
    brief = package.scheme.studio.brief
    lacks = undrawn(brief.hand_in.all(), brief.state_names(), said) if brief.is_issued else ()
    return SheetList([ListedSheet(sheet, system) for sheet in sheets], list(lacks))
