"""Books of evidence as they are read on the site: from their frozen contents and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from reviews.models import EvidenceBook

Told = dict[str, Any]


@dataclass(frozen=True)
class BookLine:
    """One book in the list of a studio."""

    book: EvidenceBook

    @property
    def is_made(self) -> bool:
        """Whether its files are there."""
        return bool(self.book.file)

    @property
    def state(self) -> str:
        """Where it stands, in words."""
        book = self.book
        if self.is_made:
            return "frozen"
        if book.failed:
            return f"stopped and tried again: {book.failed}"
        again = "made again: " if book.frozen_at else ""
        return f"{again}{book.done} of {book.total} schemes written"

    @property
    def megabytes(self) -> str:
        """How much the ZIP takes [MB]."""
        return f"{self.book.bytes / 1e6:.1f}"


@dataclass(frozen=True)
class BookPage(BookLine):
    """One book, open."""

    @property
    def contents(self) -> Told:
        """All that its pages show."""
        told: Told = self.book.contents
        return told

    def scheme(self, number: str) -> Told | None:
        """One of its schemes."""
        schemes: list[Told] = self.contents.get("schemes", [])
        return next((each for each in schemes if each["number"] == number), None)

    def picture(self, sha256: str) -> str:
        """Where a sheet's picture lies in the ZIP; blank where the book has no such sheet."""
        found = (
            sheet["path"]
            for scheme in self.contents.get("schemes", [])
            for revision in scheme["revisions"]
            for sheet in revision["sheets"]
            if sheet["sha256"] == sha256 and "path" in sheet
        )
        return next(found, "")
