"""Cohorts beside one, and what the next brief starts from; read only, of released crits alone."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from criteria.typed.csv_cells import csv_of
from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.exchange.workbook import workbook_of
from reviews.forms.compare import CompareForm
from reviews.models import Studio
from reviews.pages.compare_page import ComparePage
from reviews.pages.compare_tables import TABLES, Line, tables_out
from reviews.pages.failures_page import failures_page, remarks_page
from reviews.pages.page_frame import frame
from reviews.reading.cohort_comparing import cohorts_called, set_beside
from reviews.reading.cohort_records import records_of, released_of
from reviews.reading.crit_marks import as_text
from reviews.views.tables_out import csv_answer, workbook_answer


def _asked(request: HttpRequest, studio_id: int) -> tuple[Studio, CompareForm]:
    """A studio whose cohort the viewer may compare, and what stands beside it."""
    compared = access_studio.compared_studios(request.viewer)
    studio = get_object_or_404(compared, pk=studio_id)
    return studio, CompareForm(request.GET, studio=studio, crits=released_of(compared))


@require_safe
def compare_cohorts(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio, form = _asked(request, studio_id)
    page = ComparePage(records_of(form.chosen)) if form.chosen else None
    context = frame(request, studio=studio, page="compare") | {"form": form, "page": page}
    return render(request, "compare/compare_cohorts.html", context)


@require_safe
def show_failures(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio, form = _asked(request, studio_id)
    cohorts = cohorts_called([record.holds for record in records_of(form.chosen)])
    found = failures_page(cohorts, access.revisions(request.viewer), request.GET.dict())
    context = frame(request, studio=studio, page="compare") | {"form": form, "found": found}
    return render(request, "compare/show_failures.html", context | {"cohorts": cohorts})


@require_safe
def show_remarks(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio, form = _asked(request, studio_id)
    cohorts = cohorts_called([record.holds for record in records_of(form.chosen)])
    found = remarks_page(cohorts, request.GET.dict())
    context = frame(request, studio=studio, page="compare") | {"form": form, "found": found}
    return render(request, "compare/show_remarks.html", context)


def _tables(request: HttpRequest, studio_id: int) -> tuple[dict[str, list[Line]], str]:
    studio, form = _asked(request, studio_id)
    records = records_of(form.chosen)
    if not records:
        return {}, slugify(studio.title)
    beside = set_beside(records).holds
    tables = tables_out(beside, records, access.revisions(request.viewer))
    return tables, slugify(f"{studio.title} cohorts")


@require_safe
def export_cohorts(request: HttpRequest, studio_id: int, table: str) -> HttpResponse:
    tables, name = _tables(request, studio_id)
    if table not in TABLES:
        raise Http404
    return csv_answer(csv_of(as_text(tables.get(table, []))), f"{name}-{table}")


@require_safe
def export_cohort_tables(request: HttpRequest, studio_id: int) -> HttpResponse:
    tables, name = _tables(request, studio_id)
    sheets = [(table.capitalize(), lines) for table, lines in tables.items()]
    return workbook_answer(workbook_of(sheets or [("Nothing released", [])]), name)
