"""Sheets in preparation: pictures hung, their title blocks, and the pictures themselves."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from criteria.errors import Refused
from reviews.access import HttpRequest
from reviews.deeds.sheet_keeping import confirm_sheets as confirm
from reviews.deeds.sheet_keeping import keep_answers, save_sheet
from reviews.deeds.sheet_keeping import remove_sheet as take_down
from reviews.deeds.sheet_line import ring, said, send_pictures
from reviews.forms.rows import read_save
from reviews.forms.sheets import HangForm, MarksForm, SheetForm, sheets_seen
from reviews.models import Sheet
from reviews.pages.page_frame import frame
from reviews.pages.sheet_list import sheet_list
from reviews.reading.sheet_room import sheet_room
from reviews.request_size import takes_pictures
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.packages import package_of

REFUSED = 409


@takes_pictures
@require_http_methods(["GET", "HEAD", "POST"])
def edit_sheets(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    room = sheet_room(package.scheme.studio)
    typed = request.POST if request.method == "POST" else None
    form = HangForm(typed, initial={"drawn_by": request.user.name}, room=room)
    if form.is_valid():
        files = request.FILES.getlist("files")
        if not files:
            form.add_error("files", "Nothing was read. Expected at least one picture.")
        made = send_pictures(package, files, request.user, **form.how) if files else []
        if made and all(each.is_kept_whole for each in made):
            kept = "; ".join(f"{', '.join(each.numbers)}, receipt {each.receipt}" for each in made)
            messages.success(request, f"Kept: sheet {kept}.")
            return redirect("edit-sheets", scheme_id)
    sent = package.sent_pictures.shown().select_related("sheet__original")
    if waits := any(each.is_waiting for each in sent):
        ring()  # whoever had begun with it may have been stopped
    context = {
        "package": package,
        "list": sheet_list(package, system_of(request)),
        "form": form,
        "sent": sent,
        "waits": waits,
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    part = request.htmx.target == "sheets-now"
    return render(request, f"sheets/{'_sheets_now' if part else 'edit_sheets'}.html", context)


def _sheet(request: HttpRequest, scheme_id: int, sheet_id: int, *, to_edit: bool) -> Sheet:
    package = package_of(request, scheme_id, to_edit=to_edit)
    sheet = get_object_or_404(package.sheets.select_related("file", "changed_by"), pk=sheet_id)
    sheet.package = package
    return sheet


@takes_pictures
@require_http_methods(["GET", "HEAD", "POST"])
def edit_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    sheet = _sheet(request, scheme_id, sheet_id, to_edit=True)
    if request.method != "POST":
        return _show_sheet(request, sheet, SheetForm(sheet, system_of(request)))
    form = SheetForm(sheet, system_of(request), request.POST, request.FILES)
    if not form.is_valid():
        return _show_sheet(request, sheet, form)
    seen, person, is_confirmed = (
        read_save(request.POST).seen,
        request.user,
        "confirm" in request.POST,
    )
    try:
        kept = save_sheet(
            sheet.package, sheet.pk, form.said, seen, person, is_confirmed=is_confirmed
        )
    except Newer as newer:
        return _show_sheet(request, newer.kept, form, newer)
    except Refused as refused:
        form.add_error("number", said(refused))
        return _show_sheet(request, sheet, form)
    files = [file] if (file := form.cleaned_data["file"]) else []
    for sent in send_pictures(sheet.package, files, person, sheet=kept):
        if sent.why:
            form.add_error("file", f"{sent.why} The title block is kept.")
            return _show_sheet(request, kept, form)
        if sent.is_waiting:
            messages.success(request, f"Sheet {kept.number} is kept; its picture is in line.")
            return redirect("edit-sheets", scheme_id)
    messages.success(request, f"Sheet {kept.number} is kept.")
    return redirect("edit-sheets", scheme_id)


def _show_sheet(
    request: HttpRequest, sheet: Sheet, form: SheetForm, newer: Newer | None = None
) -> HttpResponse:
    context: dict[str, Any] = {"sheet": sheet, "form": form, "newer": newer}
    context |= frame(request, scheme=sheet.package.scheme, page="schemes")
    status = REFUSED if newer else 200
    return render(request, "sheets/edit_sheet.html", context, status=status)


@require_POST
def confirm_sheets(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    if newer := confirm(package, sheets_seen(request.POST), request.user):
        numbers = ", ".join(sheet.number for sheet in newer)
        messages.error(request, f"Changed meanwhile and not confirmed: {numbers}. Look again.")
    else:
        messages.success(request, "Confirmed.")
    return redirect("edit-sheets", scheme_id)


@require_POST
def answer_marks(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    answer = MarksForm(request.POST, package=package)
    if not answer.is_valid():
        messages.error(request, " ".join(answer.refusals))
    else:
        keep_answers(package, answer.cleaned_data["none"], answer.cleaned_data["again"])
        messages.success(request, "Kept: what is a mark, and what is none.")
    return redirect("edit-sheets", scheme_id)


@require_POST
def remove_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    try:
        take_down(package, sheet_id, read_save(request.POST).seen)
    except Newer as newer:
        messages.error(
            request,
            f"{newer.kept.changed_by} changed sheet {newer.kept.number} "
            "meanwhile. Nothing was taken down.",
        )
        return redirect("edit-sheet", scheme_id, sheet_id)
    messages.success(request, "The sheet is taken down. Issued revisions keep it.")
    return redirect("edit-sheets", scheme_id)
