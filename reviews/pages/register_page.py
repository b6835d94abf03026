"""The register of packages and revisions as its readers see it, and as a table."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.typed.csv_cells import csv_of
from reviews import access
from reviews.access import Viewer
from reviews.models import Studio
from reviews.reading.revision_register import HEADS, RegisterLine, counted, register_of


@dataclass(frozen=True)
class RegisterPage:
    """Every line, and what they come to."""

    lines: list[RegisterLine]

    @property
    def totals(self) -> tuple[int, int, int]:
        """Revisions, those issued late, schemes without one."""
        return counted(self.lines)


def register_page(viewer: Viewer, studio: Studio) -> RegisterPage:
    """The register as far as its reader may know of it: examiners, what was released."""
    return RegisterPage(register_of(studio, access.revisions(viewer)))


def register_csv(viewer: Viewer, studio: Studio) -> str:
    """The same as CSV."""
    lines = register_page(viewer, studio).lines
    return csv_of([list(HEADS), *(line.cells for line in lines)])
