"""Evidence of a studio: the register of what was issued, and what leads to map and books."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.models import Studio
from reviews.pages.evidence_page import BookLine
from reviews.pages.page_frame import frame
from reviews.pages.register_page import register_csv, register_page
from reviews.views.fetching import seen_studio
from reviews.views.tables_out import csv_answer


def _read_studio(request: HttpRequest, studio_id: int) -> Studio:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_read_evidence(request.viewer, studio))
    return studio


@require_safe
def show_evidence(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _read_studio(request, studio_id)
    context = frame(request, studio=studio, page="schemes") | {
        "can_keep": access_studio.can_keep_evidence(request.viewer, studio),
        "can_take_out": access_studio.can_take_studio_out(request.viewer, studio),
        "is_coordinator": request.viewer.is_coordinator,
        "standards": studio.standards.count(),
        "books": [BookLine(book) for book in access_studio.evidence_books(request.viewer, studio)],
    }
    return render(request, "evidence/show_evidence.html", context)


@require_safe
def show_register(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _read_studio(request, studio_id)
    context = frame(request, studio=studio, page="schemes") | {
        "page": register_page(request.viewer, studio),
        "can_keep": access_studio.can_keep_evidence(request.viewer, studio),
    }
    return render(request, "evidence/show_register.html", context)


@require_safe
def export_register(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _read_studio(request, studio_id)
    return csv_answer(register_csv(request.viewer, studio), f"{slugify(studio.title)}-register")
