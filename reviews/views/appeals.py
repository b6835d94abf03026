"""Appeals: made by a student, added to, decided by a coordinator, taken back."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from reviews import access, access_answers
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, crit_appealing
from reviews.deeds.crit_releasing import Changed
from reviews.forms.appeals import AddedWordsForm, AppealForm, DecisionForm
from reviews.forms.fields import says
from reviews.models import Appeal
from reviews.models.briefs import Frozen
from reviews.pages.appeal_page import AppealPage, appeal_page, appeals_of, standing
from reviews.pages.page_frame import frame
from reviews.views.answers import released_scheme
from reviews.views.fetching import require_form


def _appeal(request: HttpRequest, appeal_id: int) -> Appeal:
    """An appeal that the viewer reads whole."""
    appeals = access_answers.appeals(request.viewer)
    rows = appeals.select_related("crit__studio__brief", "scheme__studio", "by", "decided_by")
    return get_object_or_404(rows, pk=appeal_id)


@require_form
def make_appeal(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = released_scheme(request, crit_id, scheme_id)
    access.require(access_answers.can_appeal(request.viewer, crit, scheme))
    form = AppealForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        sent = form.cleaned_data
        try:
            appeal = crit_appealing.make_appeal(
                crit, scheme, request.user, sent["key"], sent["ground"], sent["words"]
            )
        except Appeal.DoesNotExist:
            access.require(False)
        except Frozen as closed:
            form.add_error(None, str(closed))
        else:
            messages.success(request, "The appeal is made. Leaders and coordinators are told.")
            return redirect("show-appeal", appeal.pk)
    own = access_answers.own_appeals(request.viewer, crit, scheme)
    context = {"crit": crit, "form": form, "own": own}
    around = frame(request, studio=crit.studio, scheme=scheme, crit=crit, page="crits")
    return render(request, "appeals/make_appeal.html", around | context)


@require_safe
def show_appeal(request: HttpRequest, appeal_id: int) -> HttpResponse:
    return _show(request, _appeal(request, appeal_id))


def _show(
    request: HttpRequest,
    appeal: Appeal,
    *,
    words: AddedWordsForm | None = None,
    decision: DecisionForm | None = None,
    status: int = 200,
) -> HttpResponse:
    page = appeal_page(request.viewer, appeal)
    if page.has_office:
        audit_keeping.read_levels(appeal.crit, request.user, appeal.scheme)
    context: dict[str, Any] = {"page": page, "appeal": appeal, "words": words or AddedWordsForm()}
    if page.can_decide:
        decision = decision.again(page.seen) if decision else _decision(page)
        context |= {"decision": decision, "stands": standing(appeal)[1]}
    around = frame(
        request, studio=appeal.crit.studio, scheme=appeal.scheme, crit=appeal.crit, page="crits"
    )
    return render(request, "appeals/show_appeal.html", around | context, status=status)


def _decision(page: AppealPage, data: Any = None) -> DecisionForm:
    criteria = list(page.appeal.crit.criteria.all())
    agreed, _ = standing(page.appeal)
    return DecisionForm(data, given=page.given, criteria=criteria, seen=page.seen, agreed=agreed)


@require_POST
def add_appeal_words(request: HttpRequest, appeal_id: int) -> HttpResponse:
    appeal = _appeal(request, appeal_id)
    form = AddedWordsForm(request.POST)
    if not form.is_valid():
        return _show(request, appeal, words=form)
    try:
        crit_appealing.add_words(appeal, request.user, form.cleaned_data["words"])
    except Frozen as closed:
        form.add_error("words", str(closed))
        return _show(request, appeal, words=form, status=409)
    return redirect("show-appeal", appeal.pk)


@require_POST
def withdraw_appeal(request: HttpRequest, appeal_id: int) -> HttpResponse:
    appeal = _appeal(request, appeal_id)
    access.require(appeal.by_id == request.user.pk)
    try:
        crit_appealing.withdraw(appeal)
        messages.success(request, "The appeal is withdrawn. What was written stays.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-appeal", appeal.pk)


@require_POST
def decide_appeal(request: HttpRequest, appeal_id: int) -> HttpResponse:
    appeal = _appeal(request, appeal_id)
    access.require(access_answers.may_decide(request.viewer, appeal))
    page = appeal_page(request.viewer, appeal)
    form = _decision(page, request.POST)
    if not form.is_valid():
        return _show(request, appeal, decision=form)
    seen = form.cleaned_data["seen"]
    try:
        crit_appealing.decide(appeal, request.user, form.decision(), seen)
        messages.success(request, "Decided. Whoever made the appeal is told.")
    except Refused as refused:
        form.add_error("outcome", says(refused.read, refused.expected))
        return _show(request, appeal, decision=form)
    except Changed as changed:
        form.add_error(None, str(changed))
        return _show(request, appeal, decision=form, status=409)
    except Frozen as closed:
        typed = form.cleaned_data["words"]
        messages.warning(request, f"{closed} Typed and not kept: “{typed}”")
    return redirect("show-appeal", appeal.pk)


@require_safe
def show_appeals(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = get_object_or_404(access.studios(request.viewer).select_related("brief"), pk=studio_id)
    access.require(access_answers.can_list_answers(request.viewer, studio))
    appeals = appeals_of(studio)
    around = frame(request, studio=studio, page="moderation")
    return render(request, "appeals/show_appeals.html", around | {"appeals": appeals})
