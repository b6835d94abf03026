"""The targets of a brief: a table that is written line by line, pasted, or taken from a set."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from criteria.targets.reading import TARGETS
from criteria.targets.sets import SETS
from criteria.typed.tables import write_csv
from reviews import access
from reviews.deeds import brief_writing
from reviews.deeds.record_versions import version_of
from reviews.forms.briefs import TargetForm
from reviews.forms.bringing import BringInForm
from reviews.forms.fields import says
from reviews.models import Studio, TargetLine
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import published_sets, target_entries, unused_of, warnings_for
from reviews.pages.page_frame import frame
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.briefs import FROZEN, frozen_brief
from reviews.views.fetching import led_studio, require_form, seen_studio

KNOWN = "a reference that no other target of the brief has"


def _line(studio: Studio, line_id: str | int) -> TargetLine:
    """A line of the brief itself, not of an addendum."""
    if not str(line_id).isdecimal():
        raise Http404
    lines = studio.brief.target_lines.select_related("brief")
    return get_object_or_404(lines, pk=line_id, addendum=None)


def _table(
    request: HttpRequest,
    studio: Studio,
    *,
    new: TargetForm | None = None,
    line: TargetLine | None = None,
    form: TargetForm | None = None,
) -> HttpResponse:
    """The table with a form for a new target below, and for the line that is being changed."""
    system = system_of(request)
    context = {
        "targets": target_entries(studio.brief, system),
        "new": new or TargetForm(notation_of(request, studio.brief.notation), prefix="new"),
        "line": line,
        "form": form,
        "sets": published_sets(studio.brief, system),
        "warnings": warnings_for(request.viewer, studio),
        "unused": unused_of(studio),
    }
    shown = frame(request, studio=studio, page="brief") | context
    status = form.status if form else 200
    return render(request, "targets/edit_targets.html", shown, status=status)


@require_form
def edit_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    notation = notation_of(request, studio.brief.notation)
    if request.method == "POST":
        new = TargetForm(notation, {}, request.POST, prefix="new")
        if new.is_valid():
            try:
                brief_writing.add_target(studio.brief, new.cells)
            except brief_writing.KnownRef as known:
                new.add_error("id", says(str(known), KNOWN))
            except Frozen:
                new.add_error(None, FROZEN)
            else:
                return redirect(f"{reverse('edit-targets', args=[studio.pk])}#new")
        return _table(request, studio, new=new)
    if studio.brief.is_issued:
        return frozen_brief(request, studio)
    if changed := request.GET.get("change"):
        line = _line(studio, changed)
        return _table(request, studio, line=line, form=TargetForm(notation, line.cells))
    return _table(request, studio)


@require_POST
def save_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    line = _line(studio, line_id)
    form = TargetForm(notation_of(request, studio.brief.notation), line.cells, request.POST)
    if form.is_valid():
        try:
            brief_writing.change_target(line, form.cells, form.seen_version)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except brief_writing.KnownRef as known:
            form.add_error("id", says(str(known), KNOWN))
        except Frozen:
            form.add_error(None, FROZEN)
        else:
            return redirect(f"{reverse('edit-targets', args=[studio.pk])}#target-{line.pk}")
    return _table(request, studio, line=line, form=form)


@require_POST
def remove_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    line = _line(studio, line_id)
    try:
        brief_writing.remove_target(line)
    except Frozen:
        return frozen_brief(request, studio)
    messages.success(request, f"{line} is taken out.")
    return redirect("edit-targets", studio.pk)


@require_form
def paste_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    form = BringInForm(request.POST or None, request.FILES or None)
    preview = None
    if request.method == "POST" and form.is_valid():
        preview = brief_writing.read_targets_table(studio.brief, form.cleaned_data["text"])
        if "keep" in request.POST and preview.is_clean:
            try:
                brief_writing.bring_in_targets(studio.brief, form.cleaned_data["text"])
            except Frozen:
                form.add_error(None, FROZEN)
            else:
                messages.success(request, f"{len(preview.records)} targets are in.")
                return redirect("edit-targets", studio.pk)
    context = {"form": form, "preview": preview, "columns": TARGETS.columns}
    shown = frame(request, studio=studio, page="brief") | context
    return render(request, "targets/paste_targets.html", shown)


@require_POST
def add_published_set(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    sets = {chosen.slug: chosen for chosen in SETS}
    chosen = sets.get(request.POST.get("set", ""))
    if chosen is None:
        messages.error(request, says(request.POST.get("set"), f"one of {', '.join(sets)}"))
        return redirect("edit-targets", studio.pk)
    try:
        count = brief_writing.add_set(studio.brief, chosen, system_of(request))
    except Frozen:
        return frozen_brief(request, studio)
    messages.success(request, f"{count} targets added from {chosen.title}.")
    return redirect("edit-targets", studio.pk)


@require_safe
def export_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    table = write_csv(TARGETS, studio.brief.target_records())
    answer = HttpResponse(table, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="targets-{studio.pk}.csv"'
    return answer
