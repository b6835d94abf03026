"""Three options of a scheme, one chosen with why: its students write, its leader reads."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import option_keeping
from reviews.deeds.option_keeping import PLACES
from reviews.forms.options import ChoiceForm, OptionForm, choice_form, option_form, options_page
from reviews.forms.rows import read_save
from reviews.models import Scheme
from reviews.pages.page_frame import frame
from reviews.pages.ways_on import ways_on
from reviews.versions import Newer

REFUSED = 409


def _scheme(request: HttpRequest, scheme_id: int, *, to_edit: bool) -> Scheme:
    held = access.packages(request.viewer).select_related("studio__brief")
    scheme = get_object_or_404(held, pk=scheme_id)
    access.require(access.is_own_or_led(request.viewer, scheme))
    access.require(not to_edit or access.can_edit_package(request.viewer, scheme))
    return scheme


def _show(
    request: HttpRequest,
    scheme: Scheme,
    sent: OptionForm | ChoiceForm | None = None,
    newer: Newer | None = None,
) -> HttpResponse:
    """The page, or the part of it that was sent; what wasn't kept stands as it was sent."""
    status = REFUSED if newer else 200
    context: dict[str, Any] = {"scheme": scheme, "newer": newer, "sent": sent}
    if request.htmx and sent:
        part = "choice" if isinstance(sent, ChoiceForm) else "option"
        context |= {"form": sent, "page": options_page(scheme)}
        return render(request, f"options/_{part}.html", context, status=status)
    context |= {
        "page": options_page(scheme, sent),
        "can_edit": access.can_edit_package(request.viewer, scheme),
        "ways": ways_on(request, scheme),
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "options/show_options.html", context, status=status)


@require_safe
def show_options(request: HttpRequest, scheme_id: int) -> HttpResponse:
    return _show(request, _scheme(request, scheme_id, to_edit=False))


@require_POST
def keep_option(request: HttpRequest, scheme_id: int, place: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    if place not in PLACES:
        raise Http404("Three options are kept.")
    form = option_form(scheme, place, request.POST)
    if not form.is_valid():
        return _show(request, scheme, form)
    seen = read_save(request.POST).seen
    try:
        option_keeping.keep_option(scheme, place, form.sent, seen, request.user)
    except Newer as newer:
        form.option = newer.kept
        return _show(request, scheme, form, newer)
    if request.htmx:
        return _show(request, scheme, option_form(scheme, place))
    messages.success(request, f"Option {place} is kept.")
    return redirect("show-options", scheme_id)


@require_POST
def choose_option(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id, to_edit=True)
    form = choice_form(scheme, request.POST)
    if not form.is_valid():
        return _show(request, scheme, form)
    seen = read_save(request.POST).seen
    try:
        option_keeping.choose_option(scheme, form.sent, seen, request.user)
    except Newer as newer:
        return _show(request, scheme, form, newer)
    if request.htmx:
        return _show(request, scheme, choice_form(scheme))
    messages.success(request, "The choice is kept.")
    return redirect("show-options", scheme_id)
