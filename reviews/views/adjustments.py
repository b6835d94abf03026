"""How somebody presents: seen by them and by whoever sets it; and the pause that is their own."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import adjustment_setting
from reviews.forms.adjustments import AdjustmentForm
from reviews.models import Scheme
from reviews.models.briefs import Frozen
from reviews.pages.adjustments_page import adjustments_page
from reviews.pages.page_frame import frame


def _scheme(request: HttpRequest, scheme_id: int, *, to_set: bool = False) -> Scheme:
    held = access.packages(request.viewer).select_related("studio__brief")
    scheme = get_object_or_404(held, pk=scheme_id)
    if to_set:
        access.require(access_studio.can_adjust(request.viewer, scheme))
    return scheme


def _show(request: HttpRequest, scheme: Scheme, form: AdjustmentForm | None = None) -> HttpResponse:
    can_adjust = access_studio.can_adjust(request.viewer, scheme)
    context = {
        "page": adjustments_page(scheme, request.viewer),
        "form": form or (AdjustmentForm(scheme) if can_adjust else None),
        "can_adjust": can_adjust,
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "adjustments/show_adjustments.html", context)


@require_safe
def show_adjustments(request: HttpRequest, scheme_id: int) -> HttpResponse:
    return _show(request, _scheme(request, scheme_id))


@require_POST
def set_adjustment(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_set=True)
    form = AdjustmentForm(scheme, request.POST)
    if not form.is_valid():
        return _show(request, scheme, form)
    said = form.cleaned_data
    adjustment_setting.set_adjustment(
        scheme,
        form.whose,
        said["effect"],
        request.user,
        minutes=said["minutes"],
        words=said["words"],
    )
    messages.success(
        request, f"Set for {form.whose}. Jury and timekeeper are told the effect alone."
    )
    return redirect("show-adjustments", scheme.pk)


@require_POST
def end_adjustment(request: HttpRequest, scheme_id: int, adjustment_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_set=True)
    adjustment = get_object_or_404(scheme.adjustments, pk=adjustment_id)
    adjustment_setting.end_adjustment(adjustment, request.user)
    messages.success(request, "Ended. It stays on the list with its dates.")
    return redirect("show-adjustments", scheme.pk)


@require_POST
def pause_own_slot(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id)
    access.require(access.is_own(request.viewer, scheme.pk))
    try:
        adjustment_setting.pause_own(scheme, request.user)
    except Frozen as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "The clock stands for five minutes. The timekeeper is told.")
    return redirect("home")
