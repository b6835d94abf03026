"""What lets a crit day go on without a network: worker, list of the day, the device's page."""

from __future__ import annotations

from pathlib import Path

from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from reviews.access import HttpRequest
from reviews.models import Seat
from reviews.pages.jury_day import day_list
from reviews.pages.jury_frame import jury_frame
from reviews.pages.page_frame import frame
from reviews.surroundings import holder_of, lamp_of, system_of
from reviews.views.jury import for_jurors

WORKER = "reviews/js/worker.js"


@login_not_required
@require_safe
def send_worker(request: HttpRequest) -> HttpResponse:
    """The worker, from the top of the site: so it stands before every page of it."""
    script = Path(str(finders.find(WORKER))).read_text(encoding="utf-8")
    answer = HttpResponse(script, content_type="text/javascript; charset=utf-8")
    answer["Service-Worker-Allowed"] = "/"
    answer["Cache-Control"] = "private, no-cache"
    return answer


@for_jurors
@require_safe
def list_jury_day(request: HttpRequest, seat: Seat) -> HttpResponse:
    lamp = lamp_of(request)
    told = day_list(seat, holder_of(request.viewer) or "", system_of(request), lamp)
    validator = f'"{told["validator"]}"'
    whole: HttpResponse = JsonResponse(told)
    answer = get_conditional_response(request, etag=validator, response=whole) or whole
    answer["ETag"] = validator
    return answer


@login_not_required
@require_safe
def show_device(request: HttpRequest) -> HttpResponse:
    is_juror = request.viewer.seat is not None and request.viewer.person is None
    context = jury_frame(request) if is_juror else frame(request)
    return render(request, "home/show_device.html", context)
