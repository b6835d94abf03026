"""All schedules of a package at once, to take away."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.views.decorators.http import require_safe

from reviews.access import HttpRequest
from reviews.pages.schedules_taken import Taken, as_data_zip, as_workbook
from reviews.surroundings import system_of
from reviews.views.packages import read_package
from reviews.views.revisions import seen_revision
from reviews.views.tables_out import workbook_answer, zip_answer


@require_safe
def take_workbook(request: HttpRequest, scheme_id: int) -> HttpResponse:
    taken = Taken.of_package(read_package(request, scheme_id))
    return workbook_answer(as_workbook(taken, system_of(request)), f"{taken.number}-schedules")


@require_safe
def take_tables(request: HttpRequest, scheme_id: int) -> HttpResponse:
    taken = Taken.of_package(read_package(request, scheme_id))
    return zip_answer(as_data_zip(taken), f"{taken.number}-tables")


@login_not_required
@require_safe
def take_issued_workbook(request: HttpRequest, revision_id: int) -> HttpResponse:
    taken = Taken.of_revision(seen_revision(request, revision_id))
    return workbook_answer(as_workbook(taken, system_of(request)), f"{taken.number}-schedules")


@login_not_required
@require_safe
def take_issued_tables(request: HttpRequest, revision_id: int) -> HttpResponse:
    taken = Taken.of_revision(seen_revision(request, revision_id))
    return zip_answer(as_data_zip(taken), f"{taken.number}-tables")
