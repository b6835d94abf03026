"""Between crit and release: the leader's table, and what they put right with a reason."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from criteria.typed.csv_cells import csv_of
from reviews import access, access_answers
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, crit_interest_declaring, crit_moderating
from reviews.exchange.workbook import workbook_of
from reviews.forms.agreeing import AgreeForm
from reviews.forms.moderation import CorrectionForm, ReasonForm
from reviews.models import Comment, Crit, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.moderation_agreed import scheme_agreed
from reviews.pages.moderation_comments import SchemeComments
from reviews.pages.moderation_page import ModerationPage
from reviews.pages.page_frame import frame
from reviews.pages.spoken_read import moderated_spoken
from reviews.reading.comment_rulings import rewordings_of, rulings_of
from reviews.reading.crit_beside_levels import beside_levels
from reviews.reading.crit_levels_csv import long_csv, wide_csv
from reviews.reading.crit_levels_read import read_levels
from reviews.reading.crit_marks import as_text, mark_lines, mark_sheets
from reviews.reading.crit_moderation_table import SchemeRow, Table, moderation_table
from reviews.reading.crit_sheets import credits_of
from reviews.versions import Newer
from reviews.views.fetching import open_released, require_form
from reviews.views.home import next_of
from reviews.views.tables_out import csv_answer, workbook_answer


def moderated_crit(request: HttpRequest, crit_id: int) -> Crit:
    """A crit whose table the viewer may read."""
    crits = access.moderated_crits(request.viewer).select_related("studio", "released_by")
    crit = get_object_or_404(crits, pk=crit_id)
    open_released(request, crit)
    return crit


def show_moderation(request: HttpRequest, name: str, crit: Crit, **context: Any) -> HttpResponse:
    """A page of the moderation, framed."""
    status = context.pop("status", 200)
    around = frame(
        request, studio=crit.studio, crit=crit, scheme=context.pop("of", None), page="moderation"
    )
    given = {"crit": crit, "can_lead": access.can_lead(request.viewer, crit.studio_id), **context}
    return render(request, f"moderation/{name}.html", around | given, status=status)


def _table(
    request: HttpRequest, crit: Crit, scheme: Scheme | None = None, *, in_detail: bool = False
) -> Table:
    closed = access.closed_schemes(request.viewer, crit)
    held_of = access_answers.held_to_read(request.viewer, crit)
    return moderation_table(crit, scheme, closed=closed, held_of=held_of, in_detail=in_detail)


@require_safe
def show_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    held_of = access_answers.held_to_read(request.viewer, crit)
    closed = access.closed_schemes(request.viewer, crit)
    read = read_levels(crit, closed=closed, held_of=held_of)
    if read.shows_levels:
        audit_keeping.read_levels(crit, request.user)
    page = ModerationPage(read, beside_levels(crit))
    return show_moderation(request, "show_table", crit, page=page)


@require_safe
def export_table(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    is_long = request.GET.get("rows") == "levels"
    table = _table(request, crit, in_detail=not is_long)
    what = "levels" if is_long else "table"
    audit_keeping.export_table(crit, request.user, what)
    name = slugify(f"{crit.studio.title} {crit.kind} {what}")
    return csv_answer(long_csv(table) if is_long else wide_csv(table), name)


@require_safe
def export_marks(request: HttpRequest, crit_id: int) -> HttpResponse:
    table, name = _exported(request, crit_id, "marks")
    return csv_answer(csv_of(as_text(mark_lines(table))), name)


@require_safe
def export_workbook(request: HttpRequest, crit_id: int) -> HttpResponse:
    table, name = _exported(request, crit_id, "marks and tables")
    return workbook_answer(workbook_of(mark_sheets(table)), name)


def _exported(request: HttpRequest, crit_id: int, what: str) -> tuple[Table, str]:
    """A crit's table in detail and the name of a file of it; that it goes out is recorded."""
    crit = moderated_crit(request, crit_id)
    table = _table(request, crit, in_detail=True)
    audit_keeping.export_table(crit, request.user, what)
    return table, slugify(f"{crit.studio.title} {crit.kind} {what}")


@require_safe
def moderate_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    row = scheme_row(request, crit, scheme)
    return show_scheme(request, crit, scheme, row)


def scheme_row(request: HttpRequest, crit: Crit, scheme: Scheme) -> SchemeRow | None:
    """A scheme's line of the table, in detail; what the viewer is shown of it is recorded."""
    table = _table(request, crit, scheme)
    if table.shows_levels:
        audit_keeping.read_levels(crit, request.user, scheme)
    return next(iter(table.rows), None)


def show_scheme(
    request: HttpRequest,
    crit: Crit,
    scheme: Scheme,
    row: SchemeRow | None,
    *,
    form: AgreeForm | None = None,
    status: int = 200,
) -> HttpResponse:
    """The page on which one scheme is moderated; form   as sent, where it was."""
    can_lead = access.can_lead(request.viewer, crit.studio_id)
    can_moderate = access.can_moderate(request.viewer, crit, scheme.pk)
    return show_moderation(
        request,
        "moderate_scheme",
        crit,
        of=scheme,
        by=credits_of(crit).get(scheme.pk, scheme.by),
        row=row,
        said=SchemeComments(
            row,
            moderated_spoken(crit, scheme) if can_lead else (),
            rulings_of(crit, scheme),
            rewordings_of(crit, scheme) if can_lead else (),
        ),
        agree=form or AgreeForm(agreed=scheme_agreed(crit, scheme, row)),
        can_moderate=can_moderate,
        can_reopen=can_moderate and not crit.is_released,
        can_pair=can_moderate and not crit.is_released,
        can_correct=can_moderate and crit.is_released,
        status=status,
    )


@require_form
def reopen_sheet(request: HttpRequest, sheet_id: int) -> HttpResponse:
    sheets = access.led_jury_sheets(request.viewer).select_related(
        "seat__crit__studio", "scheme__studio"
    )
    sheet = get_object_or_404(sheets, pk=sheet_id)
    crit = sheet.seat.crit
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            crit_moderating.reopen_sheet(sheet, request.user, form.cleaned_data["reason"])
            messages.success(request, f"Open again: {sheet}. What was locked is kept.")
        except Frozen as closed:
            messages.warning(request, str(closed))
        return redirect("moderate-scheme", crit.pk, sheet.scheme_id)
    return show_moderation(request, "reopen_sheet", crit, of=sheet.scheme, sheet=sheet, form=form)


@require_form
def correct_level(request: HttpRequest, given_id: int) -> HttpResponse:
    levels = access.led_levels(request.viewer).select_related(
        "criterion", "jury_sheet__seat__crit__studio", "jury_sheet__scheme__studio"
    )
    given = get_object_or_404(levels, pk=given_id)
    crit, scheme = given.jury_sheet.seat.crit, given.jury_sheet.scheme
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    audit_keeping.read_levels(crit, request.user, scheme)
    form, status = CorrectionForm(request.POST or None, given=given), 200
    if request.method == "POST" and form.is_valid():
        sent = form.cleaned_data
        try:
            crit_moderating.correct_level(
                given, request.user, sent["level"], sent["reason"], sent["seen"]
            )
        except Newer as newer:
            given, status = newer.kept, 409
            form = form.again(given)
        except Frozen as closed:
            messages.warning(request, str(closed))
            return redirect("moderate-scheme", crit.pk, scheme.pk)
        else:
            messages.success(request, "Corrected. Students read both levels, and the reason.")
            return redirect("moderate-scheme", crit.pk, scheme.pk)
    return show_moderation(
        request,
        "correct_level",
        crit,
        of=scheme,
        given=given,
        form=form,
        is_newer=status == 409,
        status=status,
    )


@require_form
def hold_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = led_comment(request, comment_id)
    crit, scheme = comment.jury_sheet.seat.crit, comment.jury_sheet.scheme
    back = next_of(request, reverse("moderate-scheme", args=[crit.pk, scheme.pk]))
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        crit_moderating.hold_comment(comment, request.user, form.cleaned_data["reason"])
        read = (
            "a comment is held, and its answer"
            if crit.is_released or comment.sent_at
            else "nothing of it"
        )
        messages.success(request, f"Held. Students read {read}.")
        return redirect(back)
    return show_moderation(
        request, "hold_comment", crit, of=scheme, comment=comment, form=form, back=back
    )


@require_POST
def let_go_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = led_comment(request, comment_id)
    crit = comment.jury_sheet.seat.crit
    crit_moderating.let_go_comment(comment, request.user)
    when = "now" if crit.is_released or comment.sent_at else "once the crit is released"
    messages.success(request, f"Held no more. Students read it {when}.")
    return redirect("moderate-scheme", crit.pk, comment.jury_sheet.scheme_id)


def led_comment(request: HttpRequest, comment_id: int) -> Comment:
    """A comment that the viewer moderates."""
    comments = access.led_comments(request.viewer).select_related(
        "jury_sheet__seat__crit__studio", "jury_sheet__scheme__studio"
    )
    comment = get_object_or_404(comments, pk=comment_id)
    crit = comment.jury_sheet.seat.crit
    access.require(access.can_moderate(request.viewer, crit, comment.jury_sheet.scheme_id))
    return comment


@require_POST
def take_interest_back(request: HttpRequest, interest_id: int) -> HttpResponse:
    interests = access.led_interests(request.viewer).select_related("seat", "scheme")
    interest = get_object_or_404(interests, pk=interest_id)
    try:
        crit_interest_declaring.take_back_interest(interest, request.user)
        messages.success(request, f"Taken back: {interest}. The juror sees the scheme again.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("moderate-scheme", interest.seat.crit_id, interest.scheme_id)
