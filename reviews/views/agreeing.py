"""A leader agrees levels and gives verdicts: one scheme at a time, or all that is plain at once."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import crit_agreeing
from reviews.forms.agreeing import AgreeForm
from reviews.models.briefs import Frozen
from reviews.pages.moderation_agreed import scheme_agreed
from reviews.versions import Newer
from reviews.views.fetching import led_crit
from reviews.views.moderation import moderated_crit, scheme_row, show_scheme


@require_POST
def agree_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    row = scheme_row(request, crit, scheme)
    form, status = AgreeForm(request.POST, agreed=scheme_agreed(crit, scheme, row)), 200
    if form.is_valid():
        try:
            made = crit_agreeing.decide_scheme(
                crit, scheme, request.user, form.decided, form.verdict_given
            )
        except Newer:
            row, status = scheme_row(request, crit, scheme), 409
            form = form.again(scheme_agreed(crit, scheme, row))
        except Frozen as closed:
            messages.warning(request, str(closed))
            return redirect("moderate-scheme", crit.pk, scheme.pk)
        else:
            messages.success(request, "Saved." if made else "That stood already.")
            return redirect("moderate-scheme", crit.pk, scheme.pk)
    return show_scheme(request, crit, scheme, row, form=form, status=status)


@require_POST
def agree_means(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    closed = access.closed_schemes(request.viewer, crit)
    try:
        filled = crit_agreeing.agree_means(crit, request.user, closed=closed)
        messages.success(request, filled.words)
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-table", crit.pk)
