"""Shown again: a re-crit's scope, what its jurors say of open comments, what comes of it."""

from __future__ import annotations

from functools import partial

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, recrit_closing, recrit_scoping
from reviews.forms.again import LookForm, ScopeForm, decisions
from reviews.models import Scheme, Seat
from reviews.models.briefs import Frozen
from reviews.pages.again_page import again_page, scope_page, to_show_again
from reviews.pages.before_after import OpenComment, look_line, look_trouble
from reviews.pages.jury_lines import Trouble
from reviews.pages.page_frame import frame
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.fetching import led_crit, require_form
from reviews.views.jury import KEPT, REFUSED, for_jurors, of_page, show_sheet, slot_of


@require_form
def lay_out_recrit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    page = scope_page(crit)
    form = ScopeForm(request.POST or None, scopes=page.scopes, initial=page.initial)
    if request.method == "POST" and form.is_valid():
        at = form.cleaned_data["first_at"]
        try:
            recrit_scoping.lay_out(crit, form.chosen, form.seen_version, request.user, first_at=at)
        except Newer:
            messages.warning(request, "The order was changed meanwhile. Look at it and keep again.")
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, "What is shown again is kept: slots and open criteria.")
        if form.is_valid():
            return redirect("lay-out-recrit", crit.pk)
    context = {"crit": crit, "page": page, "form": form}
    around = frame(request, crit=crit, page="crits")
    return render(request, "again/lay_out_recrit.html", around | context)


@require_form
def decide_again(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    scheme = get_object_or_404(Scheme, pk=scheme_id, slots__crit=crit)
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    if crit.follows is None:
        raise Http404
    page = again_page(crit, scheme, system_of(request))
    sent = decisions(request.POST or None, page.to_decide)
    newer = None
    if request.method == "POST" and sent.is_valid:
        try:
            recrit_closing.decide_comments(crit, scheme, sent.decided, request.user)
            messages.success(request, "Kept. Students read it once the re-crit is released.")
            return redirect("decide-again", crit.pk, scheme.pk)
        except Newer as refused:
            newer = refused.kept
        except Frozen as frozen:
            messages.warning(request, str(frozen))
    audit_keeping.read_levels(crit, request.user, scheme)
    context = {"crit": crit, "page": page, "lines": page.lines(sent.forms), "newer": newer}
    around = frame(request, crit=crit, scheme=scheme, page="moderation")
    status = REFUSED if newer else KEPT
    return render(request, "again/decide_again.html", around | context, status=status)


@require_safe
def show_scope(request: HttpRequest, scheme_id: int) -> HttpResponse:
    schemes = access.packages(request.viewer).select_related("studio__brief")
    scheme = get_object_or_404(schemes, pk=scheme_id)
    page = to_show_again(scheme, request.viewer, system_of(request))
    context = {"page": page, "is_own": access.is_own(request.viewer, scheme.pk)}
    around = frame(request, scheme=scheme, page="schemes")
    return render(request, "again/show_scope.html", around | context)


@for_jurors
@require_POST
def keep_second_look(
    request: HttpRequest, seat: Seat, scheme_id: int, comment_id: int
) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    form, status, trouble = LookForm(request.POST), KEPT, None
    if form.is_valid():
        keep = partial(recrit_closing.keep_second_look, seat, slot.scheme, comment_id)
        try:
            keep(form.is_closed, form.cleaned_data["seen"], **form.where_and_when)
        except (Newer, Frozen) as refusal:
            status, trouble = REFUSED, look_trouble(refusal, form.sent)
    else:
        trouble = Trouble(form.errors_in_words)
    line = look_line(seat, slot.scheme, comment_id, of_page(form, seat, scheme_id), trouble)
    if line is None:
        raise Http404
    return _answer_look(request, seat, line, scheme_id, status)


def _answer_look(
    request: HttpRequest, seat: Seat, line: OpenComment, scheme_id: int, status: int
) -> HttpResponse:
    if request.htmx:
        is_open = not (line.trouble and line.trouble.is_closed)
        context = {"line": line, "is_open": is_open, "scheme_id": scheme_id}
        return render(request, "again/_look.html", context, status=status)
    if line.trouble:
        return show_sheet(request, seat, scheme_id, status=status, look=line)
    return redirect(reverse("show-jury-sheet", args=[scheme_id]) + f"#{line.id}")
