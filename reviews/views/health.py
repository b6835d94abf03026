"""Whether the site can work, for whoever watches over the server: nothing about anybody."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.pages.page_frame import frame
from reviews.pages.status_page import status_page
from reviews.reading.site_working import database_answers, store_keeps


@never_cache
@login_not_required
@require_safe
def show_health(request: HttpRequest) -> HttpResponse:
    parts = {"Database": database_answers(), "Storage": store_keeps()}
    lines = [f"{name}: {'works' if works else 'fails'}\n" for name, works in parts.items()]
    status = 200 if all(parts.values()) else 503
    return HttpResponse("".join(lines), status=status, content_type="text/plain; charset=utf-8")


@require_safe
def show_status(request: HttpRequest) -> HttpResponse:
    access.require(access.can_see_status(request.viewer))
    context = frame(request) | {"page": status_page()}
    return render(request, "health/show_status.html", context)
