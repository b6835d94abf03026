"""The audit list of a studio, for its leaders alone."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from reviews.access import HttpRequest
from reviews.pages import audit_list
from reviews.pages.page_frame import frame
from reviews.views.fetching import led_studio
from reviews.views.tables_out import csv_answer


@require_safe
def show_audit(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    deed, number = request.GET.get("deed", ""), request.GET.get("page", "")
    page = audit_list.audit_page(studio, deed, number)
    context = frame(request, studio=studio, page="schemes") | {"page": page}
    return render(request, "studios/show_audit.html", context)


@require_safe
def export_audit(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    table = audit_list.audit_csv(studio, request.GET.get("deed", ""))
    return csv_answer(table, f"{slugify(studio.title)}-audit")
