"""The release: what is missing, who has opened it, and calling it back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import crit_releasing
from reviews.forms.moderation import ReleaseForm
from reviews.models import Crit
from reviews.models.briefs import Frozen
from reviews.reading.crit_moderation_table import moderation_table
from reviews.views.fetching import require_form
from reviews.views.moderation import moderated_crit, show_moderation


def _led(request: HttpRequest, crit_id: int) -> Crit:
    crit = moderated_crit(request, crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    return crit


@require_form
def release_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    form = _form(request, crit)
    if request.method == "POST" and form.is_valid():
        words, seen = form.cleaned_data["words"], form.cleaned_data["seen"]
        try:
            crit_releasing.release_crit(crit, request.user, words, seen=seen)
            messages.success(request, "Released to all students at once.")
            return redirect("release-crit", crit.pk)
        except Frozen as closed:
            messages.warning(request, str(closed))
            return redirect("release-crit", crit.pk)
        except crit_releasing.Changed:
            form = _form(request, crit)
    return show_moderation(
        request,
        "release_crit",
        crit,
        form=form.again() if form.is_bound else form,
        openings=crit.openings.select_related("person"),
        why_not_called_back=crit_releasing.why_not_called_back(crit),
    )


def _form(request: HttpRequest, crit: Crit) -> ReleaseForm:
    table = moderation_table(crit)
    lacks = crit_releasing.lacks(table)
    return ReleaseForm(request.POST or None, rows=table.rows, lacks=lacks, words=crit.release_words)


@require_POST
def call_back_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    try:
        crit_releasing.call_back(crit, request.user)
        messages.success(request, "Called back. Nobody had opened it; students read nothing.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("release-crit", crit.pk)
