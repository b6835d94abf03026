"""What scripts are told, as `criteria.command.schema` describes it: figures with their units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import Http404
from django.urls import reverse
from django.utils import timezone

import criteria
from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import CheckSheet
from criteria.command.report import as_json
from criteria.command.schema import VERSION
from criteria.package import Package as Read
from criteria.schedules import BY_SLUG
from criteria.typed.tables import RefusedCell
from reviews.access import HttpRequest
from reviews.deeds.package_keeping import as_cells
from reviews.deeds.revision_issuing import contents_of
from reviews.models import Package, Revision, Scheme, Slot, WeatherFile
from reviews.models.weather import WEATHER, read_tables
from reviews.reading import package_checking
from reviews.worked_out import Tables

Json = dict[str, Any]

MOST_A_PAGE = 100
"""Packages, revisions or results that one answer lists."""


def moment(at: datetime | None) -> str | None:
    """A moment in the site's time zone, to the second."""
    return timezone.localtime(at).isoformat(timespec="seconds") if at else None


class Told:
    """Makes answers for one request: their addresses are those by which it was asked."""

    def __init__(self, request: HttpRequest) -> None:
        self.request = request

    def address(self, path: str) -> str:
        """A whole address."""
        return self.request.build_absolute_uri(path)

    def start(self, token: str | None) -> Json:
        """Where a script begins: as whom it reads, and the lists of what it may."""
        return {
            "version": VERSION,
            "reads_as": str(self.request.viewer.person),
            "token": token,
            "addresses": {
                "packages": self.address(reverse("tell-packages")),
                "revisions": self.address(reverse("tell-revisions")),
                "results": self.address(reverse("tell-all-results")),
                "schema": self.address(reverse("tell-schema")),
            },
        }

    def page(self, rows: QuerySet[Any], about: Callable[[Any], Json], number: int) -> Json:
        """A page of a list. Raises Http404 where it has no such page."""
        pages = Paginator(rows, MOST_A_PAGE)
        if number not in pages.page_range:
            raise Http404(f"This list has {pages.num_pages} pages.")
        shown = pages.page(number)
        after = f"{self.request.path}?page={number + 1}" if shown.has_next() else ""
        return {
            "version": VERSION,
            "count": pages.count,
            "next": self.address(after) if after else None,
            "items": [about(row) for row in shown.object_list],
        }

    def of_scheme(self, scheme: Scheme) -> Json:
        """A package in preparation."""
        return self._about(
            scheme,
            package=reverse("tell-package", args=[scheme.pk]),
            check_sheet=reverse("tell-checks", args=[scheme.pk]),
        )

    def of_revision(self, revision: Revision) -> Json:
        """What was issued."""
        return self._about(
            revision.scheme,
            package=reverse("tell-issued-package", args=[revision.pk]),
            check_sheet=reverse("tell-issued-checks", args=[revision.pk]),
        ) | {
            "crit": str(revision.crit) if revision.crit else None,
            "revision": revision.letter,
            "issued_at": moment(revision.issued_at),
            "receipt": revision.fingerprint,
        }

    def of_results(self, slot: Slot) -> Json:
        """What a jury said of a scheme at a crit that is released."""
        args = [slot.crit_id, slot.scheme_id]
        address = reverse("tell-results", args=args)
        return self._about(slot.scheme, results=address) | {"crit": str(slot.crit)}

    def _about(self, scheme: Scheme, **addresses: str) -> Json:
        return {
            "studio": scheme.studio.title,
            "cohort": scheme.studio.cohort,
            "scheme": scheme.number,
            "name": scheme.name,
            "is_withdrawn": scheme.withdrawn_at is not None,
            "crit": None,
            "revision": None,
            "issued_at": None,
            "receipt": None,
            "addresses": {name: self.address(path) for name, path in addresses.items()},
        }


def package_told(about: Json, package: Package) -> Json:
    """A package in preparation, as typed."""
    tables = package_checking.tables_of(package)
    read = read_tables(tables, package.notation)
    return _package(about, contents_of(package), tables.holds, read.refused)


def issued_told(about: Json, revision: Revision) -> Json:
    """A revision as it was issued, read today."""
    return _package(about, revision.contents, revision.tables.holds, revision.reading.refused)


def _package(
    about: Json,
    contents: Mapping[str, Any],
    tables: Tables,
    refused: Mapping[str, Sequence[RefusedCell]],
) -> Json:
    return {
        "version": VERSION,
        "about": about,
        "decimal": contents.get("decimal", "point"),
        "statement": contents["statement"],
        "schedules": {
            slug: [as_cells(schedule, row) for row in rows]
            for slug, schedule in BY_SLUG.items()
            if (rows := tables.get(slug))
        },
        "targets": contents["targets"],
        "weather": _weather(tables.get(WEATHER, ())),
        "sheets": contents["sheets"],
        "refused": [
            {"schedule": slug, **_refused(cell)}
            for slug, cells in refused.items()
            for cell in cells
        ],
    }


def _refused(cell: RefusedCell) -> Json:
    names = ("row", "mark", "column", "read", "expected")
    return {name: getattr(cell, name) for name in names}


def _weather(named: Sequence[Mapping[str, str]]) -> Json | None:
    """The year that a brief names, whole; blank where it is lost, so that none stands in for it."""
    if not named:
        return None
    held = WeatherFile.objects.filter(digest=named[0]["digest"]).values_list("held", flat=True)
    digest, name = named[0]["digest"], named[0].get("name", "")
    return {"name": name, "digest": digest, "year": next(iter(held), "")}


def checks_told(about: Json, package: Package, *, asks: bool) -> Json:
    """The check sheet of a package in preparation; `asks`: with its likely questions."""
    checked = package_checking.draft(package)
    return _checks(about, criteria.__version__, checked.sheet, checked.package, asks=asks)


def issued_checks_told(about: Json, revision: Revision, *, asks: bool) -> Json:
    """The check sheet of a revision as it was issued, by the library of then."""
    sheet = package_checking.issued_sheet(revision)
    read = package_checking.issued_package(revision)
    return _checks(about, revision.library, sheet, read, asks=asks)


def _checks(about: Json, library: str, sheet: CheckSheet, read: Read, *, asks: bool) -> Json:
    called = " ".join(filter(None, (about["scheme"], about["revision"])))
    questions = likely_questions(sheet, read) if asks else ()
    told = as_json(sheet, called, {}, questions)
    if not asks:
        told["questions"] = None
    return {"version": VERSION, "about": about, "library": library, "check_sheet": told}
