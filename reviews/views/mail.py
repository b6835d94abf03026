"""Switching a kind of letter off from the letter itself, with no account."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.csrf import csrf_exempt

from reviews.access import HttpRequest
from reviews.deeds import mail_choosing
from reviews.models import Mail
from reviews.pages.page_frame import frame
from reviews.views.fetching import require_form


@csrf_exempt  # a mail program sends it too (RFC 8058); the token alone lets it
@login_not_required
@require_form
def stop_mail(request: HttpRequest, token: str) -> HttpResponse:
    read = mail_choosing.read_token(token)
    if read is None:
        raise Http404
    address, kind = read
    if request.method == "POST":
        mail_choosing.switch(address, kind, on=request.POST.get("again") == "yes")
    context = {
        "address": address,
        "kind": Mail.Kind(kind).label,
        "is_wanted": kind in mail_choosing.wanted(address),
    }
    return render(request, "mail/stop_mail.html", frame(request) | context)
