"""Fetch what a leader's page is about: unseen is 404, seen but not theirs to change is 403."""

from __future__ import annotations

from django.http import Http404
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import crit_releasing
from reviews.models import Crit, Studio

require_form = require_http_methods(["GET", "HEAD", "POST"])


def seen_studio(request: HttpRequest, studio_id: int) -> Studio:
    """A studio of the viewer's."""
    found = access.studios(request.viewer).select_related("brief")
    return get_object_or_404(found, pk=studio_id)


def led_studio(request: HttpRequest, studio_id: int) -> Studio:
    """A studio that the viewer leads."""
    studio = seen_studio(request, studio_id)
    access.require(access.can_lead(request.viewer, studio.pk))
    return studio


def open_released(request: HttpRequest, crit: Crit) -> None:
    """Keep that somebody other than its leaders opened what a crit released.

    404 where it was called back meanwhile, as if it had never been.
    """
    if access.can_lead(request.viewer, crit.studio_id):
        return
    if not crit_releasing.open_results(crit, request.user):
        raise Http404


def led_crit(request: HttpRequest, crit_id: int) -> Crit:
    """A crit of a studio that the viewer leads."""
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    return crit
