"""Between crit and release: the leader's table, reasons, and the release."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from reviews import access
from reviews.deeds import crit_moderating
from reviews.forms.moderation import ReasonForm, ReleaseForm
from reviews.models import Comment, Crit
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.reading.crit_moderation_table import long_csv, moderation_table, wide_csv


def _crit(request: HttpRequest, crit_id: int) -> Crit:
    return get_object_or_404(
        access.moderated_crits(request.viewer).select_related("studio"), pk=crit_id
    )


def _render(request: HttpRequest, name: str, crit: Crit, **context: Any) -> HttpResponse:
    can_moderate = access.can_lead(request.viewer, crit.studio_id)
    around = frame(
        request, studio=crit.studio, crit=crit, scheme=context.pop("of", None), page="moderation"
    )
    given = {"crit": crit, "can_moderate": can_moderate, **context}
    return render(request, f"moderation/{name}.html", around | given)


@require_safe
def show_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    return _render(request, "show_table", crit, table=moderation_table(crit))


@require_safe
def export_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    table = moderation_table(crit)
    is_long = request.GET.get("rows") == "levels"
    name = slugify(f"{crit.studio.title} {crit.kind} {'levels' if is_long else 'table'}")
    return HttpResponse(
        long_csv(table) if is_long else wide_csv(table),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}.csv"'},
    )


@require_safe
def moderate_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    row = next(iter(moderation_table(crit, scheme).rows), None)
    reasons = ReasonForm(auto_id=False)
    return _render(
        request, "moderate_scheme", crit, of=scheme, row=row, reasons=reasons,
        can_reopen=access.can_lead(request.viewer, crit.studio_id) and not crit.is_released,
    )  # fmt: skip


@require_http_methods(["GET", "HEAD", "POST"])
def reopen_sheet(request: HttpRequest, sheet_id: int) -> HttpResponse:
    sheet = get_object_or_404(
        access.led_jury_sheets(request.viewer).select_related(
            "seat__crit__studio", "scheme__studio"
        ),
        pk=sheet_id,
    )
    crit = sheet.seat.crit
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            crit_moderating.reopen_sheet(sheet, request.user, form.cleaned_data["reason"])
            messages.success(request, f"Open again: {sheet}. What was locked is kept.")
        except Frozen as closed:
            messages.warning(request, str(closed))
        return redirect("moderate-scheme", crit.pk, sheet.scheme_id)
    return _render(request, "reopen_sheet", crit, of=sheet.scheme, sheet=sheet, form=form)


@require_http_methods(["GET", "HEAD", "POST"])
def hold_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = _comment(request, comment_id)
    crit = comment.jury_sheet.seat.crit
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        crit_moderating.hold_comment(comment, request.user, form.cleaned_data["reason"])
        messages.success(request, "Held. Students do not read it.")
        return redirect("moderate-scheme", crit.pk, comment.jury_sheet.scheme_id)
    scheme = comment.jury_sheet.scheme
    return _render(request, "hold_comment", crit, of=scheme, comment=comment, form=form)


@require_POST
def let_go_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = _comment(request, comment_id)
    crit_moderating.let_go_comment(comment)
    messages.success(request, "Let go. Students read it once the crit is released.")
    return redirect(
        "moderate-scheme", comment.jury_sheet.seat.crit_id, comment.jury_sheet.scheme_id
    )


def _comment(request: HttpRequest, comment_id: int) -> Comment:
    comments = access.led_comments(request.viewer).select_related(
        "jury_sheet__seat__crit__studio", "jury_sheet__scheme__studio"
    )
    return get_object_or_404(comments, pk=comment_id)


@require_http_methods(["GET", "HEAD", "POST"])
def release_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    table = moderation_table(crit)
    lacks = crit_moderating.lacks(table)
    form = ReleaseForm(request.POST, lacks=lacks.seen) if request.method == "POST" else None
    if form and form.is_valid():
        try:
            crit_moderating.release_crit(crit, request.user, form.cleaned_data["words"])
            messages.success(request, "Released to all students at once.")
        except Frozen as closed:
            messages.warning(request, str(closed))
        return redirect("show-table", crit.pk)
    initial = {"seen": lacks.seen, "words": crit.release_words}
    form = form.again() if form else ReleaseForm(initial=initial, lacks=lacks.seen)
    return _render(request, "release_crit", crit, table=table, lacks=lacks, form=form)
