"""The way in through a school, where the settings name one."""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from reviews.access import HttpRequest
from reviews.deeds import school_asking, school_signing_in
from reviews.deeds.school_asking import NotSignedIn, Why
from reviews.pages.not_signed_in import words_of
from reviews.pages.page_frame import frame
from reviews.views.home import BACKEND, next_of


def _school() -> str:
    if not settings.SCHOOL.server:
        raise Http404("No school signs anybody in here.")
    return str(settings.SCHOOL.name)


@login_not_required
@require_POST
def go_to_school(request: HttpRequest) -> HttpResponse:
    """Send a browser to the school: as a step of its own, which no form's policy binds."""
    school = _school()
    if request.user.is_authenticated:
        return HttpResponseRedirect(next_of(request))
    try:
        url = school_asking.way_there(request, next_of(request))
    except NotSignedIn as refused:
        return _refusal(request, refused.why)
    context = {"school": school, "url": url}
    answer = render(request, "home/go_to_school.html", frame(request) | context)
    answer.headers["Refresh"] = f"0; url={url}"
    return answer


@login_not_required
@require_safe
def come_from_school(request: HttpRequest) -> HttpResponse:
    _school()
    try:
        told = school_asking.what_came(request)
        person = school_signing_in.person_told_of(told)
    except NotSignedIn as refused:
        return _refusal(request, refused.why)
    login(request, person, BACKEND)
    return HttpResponseRedirect(told.next)


def _refusal(request: HttpRequest, why: Why) -> HttpResponse:
    said = words_of(why, settings.SCHOOL.name)
    context = frame(request) | {"said": said}
    return render(request, "home/not_signed_in.html", context, status=said.status)
