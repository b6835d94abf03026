"""Planning a crit's day: hours before anybody is invited, the draw, the order, who crosses."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import crit_drawing, crit_running_order
from reviews.deeds.record_versions import version_of
from reviews.forms.order import OrderPage
from reviews.forms.order_draw import DrawPage
from reviews.forms.order_plan import HoursForm
from reviews.models.briefs import Frozen
from reviews.pages import order_sheet, plan_page
from reviews.pages.page_frame import frame
from reviews.reading.crit_panels import concerns
from reviews.versions import Newer
from reviews.views.fetching import led_crit, require_form


@require_safe
def plan_day(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    form = HoursForm(request.GET, crit=crit)
    context = {"crit": crit, "form": form, "parts": crit.slot_parts, "rows": []}
    if form.is_valid():
        asked = form.cleaned_data
        context |= plan_page.plan_page(form.plan, asked["schemes"], asked["jurors"])
    return render(request, "crits/plan_day.html", frame(request, crit=crit, page="crits") | context)


@require_form
def draw_order(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    page = DrawPage(crit, request.POST or request.GET)
    if request.method == "POST" and page.day and page.keep.is_valid():
        try:
            crit_drawing.keep_drawn(crit, page.day.drawn, page.keep.seen_version, request.user)
        except (Newer, Frozen) as refused:
            page.refuse(refused)
        else:
            messages.success(request, f"The order of lot {page.day.drawn.lot} is kept.")
            return redirect("show-order", crit.pk)
    context = frame(request, crit=crit, page="crits") | {"crit": crit, "page": page}
    return render(request, "crits/draw_order.html", context, status=page.status)


@require_form
def edit_order(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    page = OrderPage(crit, request.POST or None)
    if page.is_to_keep():
        lot = page.order.cleaned_data["lot"]
        lines, seen = page.rows.lines, page.order.seen_version
        try:
            crit_running_order.keep_order(
                crit, lines, seen, by=request.user, lot=lot, breaks=page.break_lines
            )
        except Newer as newer:
            kept = crit_running_order.lines_of(crit)
            page.order.show_newer_rows(
                Newer(kept, newer.sent), version_of(newer.kept), ("position", "room", "starts_at")
            )
        except Frozen as frozen:
            page.order.add_error(None, str(frozen))
        else:
            messages.success(request, "The running order is kept.")
            return redirect("edit-order", crit.pk)
    context = {"crit": crit, "page": page, "concerns": concerns(crit)}
    shown = frame(request, crit=crit, page="crits") | context
    return render(request, "crits/edit_order.html", shown, status=page.order.status)


@require_safe
def show_order(request: HttpRequest, crit_id: int) -> HttpResponse:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    shape = "tall" if request.GET.get("paper") == "tall" else "upright"
    context = order_sheet.order_sheet(request.viewer, crit) | {"shape": shape}
    return render(
        request, "crits/show_order.html", frame(request, crit=crit, page="crits") | context
    )
