"""A brief's tables brought in from one workbook."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render

from criteria.errors import Refused
from reviews.access import HttpRequest
from reviews.deeds import brief_workbook
from reviews.exchange.proposed import Proposal
from reviews.forms.brief_workbook import BriefWorkbookForm
from reviews.forms.fields import says
from reviews.models import Studio
from reviews.models.briefs import Frozen
from reviews.pages.brief_changes import BriefChanges
from reviews.pages.page_frame import frame
from reviews.request_size import takes_pictures
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.briefs import frozen_brief
from reviews.views.fetching import led_studio, require_form

REFUSED = 409


@takes_pictures
@require_form
def bring_brief_in(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued:
        return frozen_brief(request, studio)
    form = BriefWorkbookForm(
        request.POST or None, request.FILES or None, initial={"bare_in": system_of(request)}
    )
    proposal = _proposal(form) if form.is_valid() else None
    if proposal and form.cleaned_data["keep"] and (done := _kept(request, studio, form, proposal)):
        return done
    return _show(request, studio, form, proposal)


def _proposal(form: BriefWorkbookForm) -> Proposal | None:
    sent, told = form.cleaned_data["file"], form.cleaned_data["told"]
    if not sent:
        return told if isinstance(told, Proposal) else None
    try:
        return brief_workbook.read_file(sent.name, sent.file, form.cleaned_data["bare_in"])
    except Refused as refused:
        form.add_error("file", says(refused.read, refused.expected))
        return None


def _kept(
    request: HttpRequest, studio: Studio, form: BriefWorkbookForm, proposal: Proposal
) -> HttpResponse | None:
    """Keep it and go on; None, said in the form, where that can't be."""
    try:
        seen = form.cleaned_data["seen"]
        parts = brief_workbook.bring_in(studio.brief, proposal, request.user, seen)
    except brief_workbook.NotClean:
        form.add_error(None, "Nothing can be kept before every cell can be read.")
    except Newer as newer:
        what = f"{newer.kept.what}, by {newer.kept.by}" if newer.kept else "a change was undone"
        form.add_error(None, f"The brief was changed meanwhile: {what}. Nothing was kept.")
    except Frozen as frozen:
        form.add_error(None, str(frozen))
    else:
        named = ", ".join(f"{read.part.name} ({len(read.changed)} cells)" for read in parts)
        messages.success(request, f"Kept: {named or 'nothing new'}.")
        return redirect("show-brief", studio.pk)
    return None


def _show(
    request: HttpRequest, studio: Studio, form: BriefWorkbookForm, proposal: Proposal | None
) -> HttpResponse:
    context: dict[str, Any] = {"form": form, "part": "workbook"}
    if proposal:
        notation = notation_of(request, studio.brief.notation)
        read = brief_workbook.read_brief(studio.brief, proposal)
        context["changes"] = BriefChanges.of(read, proposal, notation)
    status = REFUSED if form.is_bound and form.non_field_errors() else 200
    page = frame(request, studio=studio, page="brief") | context
    return render(request, "briefs/bring_brief_in.html", page, status=status)
