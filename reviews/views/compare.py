"""One cohort beside another."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.forms.compare import CompareForm
from reviews.pages.compare_page import ComparePage
from reviews.pages.page_frame import frame
from reviews.reading.cohort_comparing import set_beside


@require_safe
def compare_cohorts(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = get_object_or_404(access.led_studios(request.viewer), pk=studio_id)
    others = access.led_studios(request.viewer, besides=studio.pk)
    form = CompareForm.asked(request.GET, others)
    beside = set_beside(studio, form.cleaned_data["other"]) if form.is_valid() else None
    page = ComparePage(beside) if beside else None
    context = {"form": form, "page": page, "has_others": others.exists()}
    around = frame(request, studio=studio, page="compare")
    return render(request, "compare/compare_cohorts.html", around | context)
