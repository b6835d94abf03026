"""The sheet list of a package in preparation: title blocks, what is proposed, what lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from criteria.units import System
from reviews.deeds.revision_issuing import undrawn
from reviews.models import Package, Sheet
from reviews.reading.sheet_lettering import MARK
from reviews.reading.sheet_marks import MarkOnSheet, MarksRead, marks_read
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
    read: MarksRead
    not_marks: Sequence[str]

    heads = [LABELS[name] for name in ORDER]

    @property
    def marks(self) -> list[tuple[str, list[MarkOnSheet]]]:
        """Of each sheet the marks read on it, each once, in the order of their names."""
        return [
            (number, sorted({each.mark: each for each in found}.values(), key=_in_order))
            for number, found in self.read.on.items()
        ]

    @property
    def asked(self) -> list[tuple[str, str]]:
        """What reads like a mark and has no row, with the sheets that it stands on."""
        return [(word, ", ".join(numbers)) for word, numbers in self.read.asked.items()]

    @property
    def is_read(self) -> bool:
        """Whether anything is said of what stands on the sheets in letters."""
        return bool(self.read.on or self.read.asked or self.read.outlined or self.not_marks)

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
    return SheetList(
        [ListedSheet(sheet, system) for sheet in sheets],
        list(lacks),
        marks_read(package),
        package.not_marks,
    )


def _in_order(found: MarkOnSheet) -> tuple[str, int, str]:
    match = MARK.match(found.mark)
    return (match[1], int(match[2]), match[3]) if match else (found.mark, 0, "")
