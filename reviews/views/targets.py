"""The targets of a brief: a table that is written line by line, or taken from a published set."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from criteria.targets.sets import SETS
from reviews.access import HttpRequest
from reviews.deeds import brief_tables, brief_writing
from reviews.deeds.brief_writing import TARGET_LIST
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.forms.briefs import TargetForm
from reviews.forms.fields import number_in, says
from reviews.models import Studio, TargetLine
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import published_sets, target_entries, unused_of, warnings_for
from reviews.pages.page_frame import frame
from reviews.reading.brief_reading import BriefReading
from reviews.reading.last_year import last_year
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.briefs import FROZEN, frozen_brief
from reviews.views.fetching import led_studio, require_form

KNOWN = "a reference that no other target of the brief has"


def _line(studio: Studio, line_id: int) -> TargetLine:
    """A line of the brief itself, not of an addendum."""
    lines = studio.brief.target_lines.select_related("brief")
    return get_object_or_404(lines, pk=line_id, addendum=None)


def _table(
    request: HttpRequest,
    studio: Studio,
    new: TargetForm,
    line: TargetLine | None = None,
    form: TargetForm | None = None,
) -> HttpResponse:
    """The table with a form for a new target below, and for the line that is being changed."""
    system, read = system_of(request), BriefReading.of(studio.brief)
    last = last_year(studio)
    context = {
        "targets": target_entries(studio.brief, system, read, last),
        "last_year": last,
        "new": new,
        "line": line,
        "form": form,
        "last": last_change(studio.brief, TARGET_LIST.slug),
        "part": TARGET_LIST.slug,
        "sets": published_sets(studio.brief, system),
        "warnings": warnings_for(request.viewer, studio, read),
        "unused": unused_of(studio, read),
    }
    shown = frame(request, studio=studio, page="brief") | context
    status = form.status if form else 200
    return render(request, "targets/edit_targets.html", shown, status=status)


def _is_kept(form: TargetForm, keep: Callable[[], object]) -> bool:
    """Keep a target where its form can be read; what is in the way is said in the form."""
    if not form.is_valid():
        return False
    try:
        keep()
    except Newer as newer:
        form.show_newer(newer, version_of(newer.kept))
    except brief_writing.KnownRef as known:
        form.add_error("id", says(str(known), KNOWN))
    except Frozen:
        form.add_error(None, FROZEN)
    else:
        return True
    return False


@require_form
def edit_targets(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio, by = led_studio(request, studio_id), request.user
    notation = notation_of(request, studio.brief.notation)
    new = TargetForm(notation, {}, request.POST or None, prefix="new")
    if request.method == "POST":
        if _is_kept(new, lambda: brief_writing.add_target(studio.brief, new.contents, by)):
            return redirect(f"{reverse('edit-targets', args=[studio.pk])}#new")
        return _table(request, studio, new)
    if studio.brief.is_issued:
        return frozen_brief(request, studio)
    if changed := request.GET.get("change"):
        line = _line(studio, number_in(changed))
        return _table(request, studio, new, line, TargetForm(notation, line.cells))
    return _table(request, studio, new)


@require_POST
def save_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    studio, by = led_studio(request, studio_id), request.user
    line, notation = _line(studio, line_id), notation_of(request, studio.brief.notation)
    form = TargetForm(notation, line.cells, request.POST)

    def keep() -> None:
        brief_writing.change_target(line, form.contents, form.seen_version, by)

    if _is_kept(form, keep):
        return redirect(f"{reverse('edit-targets', args=[studio.pk])}#target-{line.pk}")
    return _table(request, studio, TargetForm(notation, prefix="new"), line, form)


@require_POST
def remove_target(request: HttpRequest, studio_id: int, line_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    line = _line(studio, line_id)
    try:
        brief_writing.remove_target(line, request.user)
    except Frozen:
        return frozen_brief(request, studio)
    messages.success(request, f"{line} is taken out.")
    return redirect("edit-targets", studio.pk)


@require_POST
def add_published_set(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    sets = {chosen.slug: chosen for chosen in SETS}
    chosen = sets.get(request.POST.get("set", ""))
    if chosen is None:
        messages.error(request, says(request.POST.get("set"), f"one of {', '.join(sets)}"))
        return redirect("edit-targets", studio.pk)
    person, system = request.user, system_of(request)
    try:
        count = brief_tables.add_set(studio.brief, chosen, person, system)
    except Frozen:
        return frozen_brief(request, studio)
    messages.success(request, f"{count} targets added from {chosen.title}.")
    return redirect("edit-targets", studio.pk)
