"""A package as later years are shown it: sheets, figures and schedules, and nobody's name.

No comment, no level, and in every text a word in place of each name of the studio's people.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from criteria.schedules import SCHEDULES
from criteria.units import System
from reviews import access_studio
from reviews.access import Viewer
from reviews.deeds.record_typed import taken_cells
from reviews.models import Consent, IssuedSheet, Revision, Scheme, Studio
from reviews.pages.portfolio_data import Data, project_data
from reviews.pages.sheet_views import Sizes, sizes_of
from reviews.reading.evidence_names import Masks, masks_of
from reviews.reading.examples import Example, example_of, examples_of
from reviews.reading.sheet_pictures import PREVIEW


@dataclass(frozen=True)
class Hung:
    """A sheet with the sizes in which its picture stands, and where it is seen larger."""

    sheet: IssuedSheet
    sizes: Sizes
    href: str
    title: str

    @property
    def alt(self) -> str:
        """What the picture is, for whoever doesn't see it."""
        said = [self.title, self.sheet.get_kind_display().lower(), self.sheet.scale]
        return f"Sheet {', '.join(filter(None, said))}"


@dataclass(frozen=True)
class Table:
    """A schedule as it was issued: the columns in which anything stands."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Shown:
    """One package, whole."""

    revision: Revision
    statement: str
    sheets: tuple[Hung, ...]
    data: Data
    tables: tuple[Table, ...]


def shown_package(revision: Revision, system: System, studio: Studio | None = None) -> Shown:
    """Read a revision as it was issued.

    studio   of a later year, whose readers are sent the pictures as an example's; None: its own
             students, who look how it would be
    """
    masks, held = masks_of(revision.scheme.studio), revision.contents
    sheets = revision.sheets.select_related("file").order_by("number", "pk")
    return Shown(
        revision,
        masks.text(held["statement"]),
        tuple(_hung(each, masks, studio) for each in sheets),
        project_data(revision, system),
        tuple(_tables(revision, held["schedules"], system, masks)),
    )


def _hung(sheet: IssuedSheet, masks: Masks, studio: Studio | None) -> Hung:
    title, at = masks.text(f"{sheet.number} {sheet.title}"), (sheet.revision_id, sheet.number)
    if studio is None:
        href = reverse("show-issued-sheet", args=at)
        return Hung(sheet, sizes_of(sheet.file, "issued-sheet-image", *at), href, title)
    of = studio.pk, sheet.revision.scheme_id, sheet.number
    href = reverse("example-image", args=[*of, PREVIEW])
    return Hung(sheet, sizes_of(sheet.file, "example-image", *of), href, title)


def _tables(
    revision: Revision, held: Mapping[str, Any], system: System, masks: Masks
) -> Iterator[Table]:
    notation = revision.notation.read_in(system)
    for schedule in SCHEDULES:
        rows = [taken_cells(schedule, row, notation) for row in held.get(schedule.slug, ())]
        columns = [c for c in schedule.columns if any(row[c.head] for row in rows)]
        if columns:
            units = ((c.label, c.unit(system)) for c in columns)
            yield Table(
                schedule.title,
                tuple(f"{label} [{unit}]" if unit else label for label, unit in units),
                tuple(tuple(masks.text(row[c.head]) for c in columns) for row in rows),
            )


@dataclass(frozen=True)
class ExamplesPage:
    """What a studio's readers find of earlier years, and what it offers to later ones itself.

    shown     examples of the studios that it follows
    follows   whether it follows any
    own       its own schemes, for whoever leads or coordinates: how many of each allow it
    """

    shown: list[Example]
    follows: bool
    own: list[Example]


def examples_page(viewer: Viewer, studio: Studio) -> ExamplesPage:
    """Read both, as far as their reader may."""
    earlier = access_studio.earlier_studios(studio)
    shown = [each for each in examples_of(earlier) if each.is_shown]
    keeps = access_studio.can_keep_evidence(viewer, studio)
    return ExamplesPage(shown, bool(earlier), examples_of([studio.pk]) if keeps else [])


@dataclass(frozen=True)
class ConsentPage:
    """Whether a scheme is shown to later years, and how it would be.

    own      what its reader allowed; None where they didn't, or it isn't theirs
    is_own   whether it is theirs to allow
    package  as it would be shown; None where nothing could be
    """

    example: Example
    own: Consent | None
    is_own: bool
    package: Shown | None


def consent_page(viewer: Viewer, scheme: Scheme, system: System) -> ConsentPage:
    """Read it for one of its students, its leaders or a coordinator."""
    example = example_of(scheme)
    own = Consent.objects.to_examples().filter(scheme=scheme, person=viewer.person).first()
    package = shown_package(example.revision, system) if example.revision else None
    return ConsentPage(example, own, access_studio.can_allow_example(viewer, scheme), package)
