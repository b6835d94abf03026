"""Sheets in preparation: pictures hung, their title blocks, and the pictures themselves."""

from __future__ import annotations

from typing import Any, NamedTuple

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from criteria.errors import Refused
from reviews.access import HttpRequest
from reviews.deeds.sheet_keeping import hang_sheet, save_sheet, sheets_asked, title_block_of
from reviews.deeds.sheet_keeping import remove_sheet as take_down
from reviews.deeds.sheet_uploads import keep_picture
from reviews.forms.rows import read_save
from reviews.forms.sheets import HangForm, SheetForm, form_of
from reviews.models import Package, Sheet
from reviews.pages.page_frame import frame
from reviews.reading.sheet_names import said_by_name
from reviews.reading.sheet_pictures import send_picture
from reviews.versions import Newer
from reviews.views.packages import package_of

REFUSED = 409


class Hung(NamedTuple):
    """What became of one file that was sent."""

    name: str
    sheet: Sheet | None
    why: str = ""


def _hang(
    request: HttpRequest, package: Package, file: UploadedFile[bytes], form: HangForm
) -> Hung:
    """Hang one file; another's refusal doesn't touch it."""
    name, person = file.name or "", request.user
    there = {sheet.number: sheet for sheet in package.sheets.all()}
    drawn_by = form.cleaned_data["drawn_by"]
    said = said_by_name(name, drawn_by, sheets_asked(package), there)
    try:
        picture = keep_picture(file)
        if form.cleaned_data["is_replacing"] and (sheet := there.get(said.number)):
            said = title_block_of(sheet)
            kept = save_sheet(package, sheet.pk, said, sheet.version, person, file=picture)
            return Hung(name, kept)
        return Hung(name, hang_sheet(package, picture, said, person))
    except Refused as refused:
        return Hung(name, None, f"Read “{refused.read}”. Expected {refused.expected}.")
    except Newer as newer:
        return Hung(name, None, f"{newer.kept.changed_by} changed {newer.kept} meanwhile.")


@require_http_methods(["GET", "HEAD", "POST"])
def edit_sheets(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    form = HangForm(request.POST or None, initial={"drawn_by": request.user.name})
    hung: list[Hung] = []
    if request.method == "POST" and form.is_valid():
        files = request.FILES.getlist("files")
        if not files:
            form.add_error("files", "Nothing was read. Expected at least one picture.")
        hung = [_hang(request, package, file, form) for file in files]
        if hung and all(each.sheet for each in hung):
            numbers = ", ".join(each.sheet.number for each in hung if each.sheet)
            messages.success(request, f"Kept: sheet {numbers}.")
            return redirect("edit-sheets", scheme_id)
    context = {
        "package": package,
        "sheets": package.sheets.select_related("file", "changed_by"),
        "form": form,
        "hung": hung,
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "sheets/edit_sheets.html", context)


def _sheet(request: HttpRequest, scheme_id: int, sheet_id: int, *, to_edit: bool) -> Sheet:
    package = package_of(request, scheme_id, to_edit=to_edit)
    sheet = get_object_or_404(package.sheets.select_related("file", "changed_by"), pk=sheet_id)
    sheet.package = package
    return sheet


@require_http_methods(["GET", "HEAD", "POST"])
def edit_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    sheet = _sheet(request, scheme_id, sheet_id, to_edit=True)
    if request.method != "POST":
        return _show_sheet(request, sheet, form_of(sheet))
    form = SheetForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show_sheet(request, sheet, form)
    try:
        _save(request, sheet, form)
    except Newer as newer:
        return _show_sheet(request, newer.kept, form, newer)
    except Refused as refused:
        field = "number" if refused.read == form.cleaned_data["number"] else "file"
        form.add_error(field, f"Read “{refused.read}”. Expected {refused.expected}.")
        return _show_sheet(request, sheet, form)
    messages.success(request, f"Sheet {form.cleaned_data['number']} is kept.")
    return redirect("edit-sheets", scheme_id)


def _save(request: HttpRequest, sheet: Sheet, form: SheetForm) -> Sheet:
    upload = form.cleaned_data["file"]
    picture = keep_picture(upload) if upload else None
    seen, person = read_save(request.POST).seen, request.user
    return save_sheet(sheet.package, sheet.pk, form.said, seen, person, file=picture)


def _show_sheet(
    request: HttpRequest, sheet: Sheet, form: SheetForm, newer: Newer | None = None
) -> HttpResponse:
    context: dict[str, Any] = {"sheet": sheet, "form": form, "newer": newer}
    context |= frame(request, scheme=sheet.package.scheme, page="schemes")
    status = REFUSED if newer else 200
    return render(request, "sheets/edit_sheet.html", context, status=status)


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


@require_safe
def send_sheet_image(
    request: HttpRequest, scheme_id: int, sheet_id: int, size: str
) -> HttpResponse:
    sheet = _sheet(request, scheme_id, sheet_id, to_edit=False)
    name = f"{sheet.package.scheme.number}-{sheet.number}"
    return send_picture(request, sheet.file, size, name)
