"""The release: what is undecided and unread, its minute, who has opened it, and calling it back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, crit_release_setting, crit_releasing
from reviews.deeds.crit_releasing import Changed, Undecided
from reviews.forms.fields import number_in
from reviews.forms.release import OwnWordsForm, ReleaseForm
from reviews.models import Crit, Scheme
from reviews.models.briefs import Frozen
from reviews.moments import moment_words
from reviews.pages.release_page import release_page, released_page
from reviews.reading.crit_release import Release, SchemeOut
from reviews.reading.crit_release_read import read_release
from reviews.versions import Newer
from reviews.views import results
from reviews.views.fetching import require_form
from reviews.views.moderation import moderated_crit, show_moderation


def _led(request: HttpRequest, crit_id: int) -> Crit:
    crit = moderated_crit(request, crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    return crit


@require_form
def release_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    if crit.is_released:
        if request.method == "POST":
            messages.warning(request, "The crit is released already.")
            return redirect("release-crit", crit.pk)
        why = crit_releasing.why_not_called_back(crit)
        page = released_page(crit)
        return show_moderation(request, "released_crit", crit, page=page, why_not_called_back=why)
    unread = release_page(request.viewer, crit)
    sent, do = request.POST or None, request.POST.get("do", "release")
    form = ReleaseForm(sent, told=unread.told, places=unread.places, do=do)
    if request.method == "POST" and form.is_valid() and _is_done(request, crit, form):
        return redirect("release-crit", crit.pk)
    form = form.again() if form.is_bound else form
    return show_moderation(request, "release_crit", crit, page=unread, form=form)


def _is_done(request: HttpRequest, crit: Crit, form: ReleaseForm) -> bool:
    """Keep, set or release, and say so; where it can't be, say why above it."""
    sent, by = form.cleaned_data, request.user
    over = {"reasons": form.reasons, "seen": sent["seen"]}
    try:
        if form.do == "keep":
            crit_release_setting.keep_words(crit, sent["words"])
            messages.success(request, "The words are kept. Nothing is released.")
        elif form.do == "due":
            crit_release_setting.set_due(crit, by, sent["words"], sent["due"], **over)
            messages.success(request, f"Set: it goes out {moment_words(sent['due'])}, by itself.")
        else:
            crit_release_setting.release_now(crit, by, sent["words"], **over)
            messages.success(request, "Released to all students at once.")
    except (Frozen, Changed, Undecided) as why:
        form.add_error(None, str(why))
        return False
    return True


@require_POST
def unset_release(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    try:
        crit_release_setting.unset_due(crit, request.user)
        messages.success(request, "Unset. It goes out by your hand alone.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("release-crit", crit.pk)


@require_form
def proof_scheme(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    told = read_release(crit)
    out = told.of(scheme.pk)
    if crit.is_released or out is None:
        return redirect("release-crit", crit.pk)
    audit_keeping.read_levels(crit, request.user, scheme)
    form = OwnWordsForm(request.POST if request.POST.get("do") == "words" else None, out=out)
    if request.method == "POST":
        return _proofed(request, crit, told, out, form)
    return _show_proof(request, crit, told, out, form)


def _show_proof(
    request: HttpRequest,
    crit: Crit,
    told: Release,
    out: SchemeOut,
    form: OwnWordsForm,
    status: int = 200,
) -> HttpResponse:
    before, after = told.beside(out.scheme.pk)
    proof = {"out": out, "before": before, "after": after, "form": form, "told": told}
    return results.show_proof(request, crit.pk, out.scheme.pk, proof, status=status)


def _proofed(
    request: HttpRequest, crit: Crit, told: Release, out: SchemeOut, form: OwnWordsForm
) -> HttpResponse:
    """Keep the tick or the words; what was typed over newer words stays in the form."""
    scheme: Scheme = out.scheme
    try:
        if not form.is_bound:
            seen = request.POST.get("seen", "")
            crit_release_setting.read_proof(crit, scheme, request.user, seen)
            after = told.next_unread(scheme.pk)
            return (
                redirect("proof-scheme", crit.pk, after.pk) if after else _all_read(request, crit)
            )
        if form.is_valid():
            words, seen_n = form.cleaned_data["words"].strip(), number_in(form.data["seen"])
            crit_release_setting.keep_own_words(crit, scheme, request.user, words, seen_n)
            messages.success(request, "Kept. Their students read these words first.")
            return redirect("proof-scheme", crit.pk, scheme.pk)
    except Newer as newer:
        messages.warning(request, f"Meanwhile {newer.kept.by} kept: {newer.kept.words}")
        return _show_proof(request, crit, told, out, form.again(newer.kept), status=409)
    except (Frozen, Changed) as why:
        messages.warning(request, str(why))
        return redirect("proof-scheme", crit.pk, scheme.pk)
    return _show_proof(request, crit, told, out, form)


def _all_read(request: HttpRequest, crit: Crit) -> HttpResponse:
    messages.success(request, "Every scheme is read.")
    return redirect("release-crit", crit.pk)


@require_POST
def call_back_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    try:
        crit_releasing.call_back(crit, request.user)
        messages.success(request, "Called back. Nobody had opened it; students read nothing.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("release-crit", crit.pk)
