"""Comments at moderation: read together, ruled on, put into words that their juror agrees to."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import comment_rewording, comment_ruling
from reviews.forms.comments import OPPOSED, ChosenForm, RewordingForm, RulingForm
from reviews.models import AlikeGroup, Crit, OpposedPair, Rewording, Scheme
from reviews.models.briefs import Frozen
from reviews.versions import Newer
from reviews.views.fetching import require_form
from reviews.views.moderation import led_comment, moderated_crit, show_moderation


def _back(crit: Crit, scheme_id: int, at: str) -> HttpResponse:
    return redirect(f"{reverse('moderate-scheme', args=[crit.pk, scheme_id])}#{at}")


@require_form
def choose_comments(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    scheme = get_object_or_404(crit.studio.schemes, pk=scheme_id)
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    among = access_day.chosen_comments(crit, scheme)
    form = ChosenForm(request.POST or None, among=among)
    if request.method == "POST" and form.is_valid():
        try:
            return _back(crit, scheme.pk, _stand_together(request, crit, scheme, form))
        except Frozen as closed:
            messages.warning(request, str(closed))
            return _back(crit, scheme.pk, "comments")
    return show_moderation(request, "choose_comments", crit, of=scheme, form=form)


def _stand_together(request: HttpRequest, crit: Crit, scheme: Scheme, form: ChosenForm) -> str:
    """Keep how the chosen comments stand to each other; where on the page it is read."""
    chosen = list(form.cleaned_data["comment"])
    if form.cleaned_data["stand"] == OPPOSED:
        pair = comment_ruling.pair_comments(crit, scheme, chosen, request.user)
        messages.success(request, "Paired. Students read both with your ruling: write it below.")
        return f"pair-{pair.pk}"
    heading = form.cleaned_data["heading"]
    group = comment_ruling.group_alike(crit, scheme, chosen, request.user, heading)
    messages.success(request, "Grouped. Students read how many said it, and every wording.")
    return f"group-{group.pk}"


def _pair(request: HttpRequest, pair_id: int) -> OpposedPair:
    pairs = access_day.led_pairs(request.viewer).select_related("crit__studio", "scheme__studio")
    pair = get_object_or_404(pairs, pk=pair_id)
    access.require(access.can_moderate(request.viewer, pair.crit, pair.scheme_id))
    return pair


@require_form
def rule_pair(request: HttpRequest, pair_id: int) -> HttpResponse:
    pair, status = _pair(request, pair_id), 200
    crit = pair.crit
    form = RulingForm(request.POST or None, pair=pair)
    if request.method == "POST" and form.is_valid():
        seen = form.cleaned_data["seen"]
        try:
            comment_ruling.rule_pair(pair, request.user, form.sent(), seen)
            messages.success(request, "Ruled. Students read it beside both comments.")
            return _back(crit, pair.scheme_id, f"pair-{pair.pk}")
        except Newer as newer:
            pair, status = newer.kept, 409
            form = form.again(pair)
        except Frozen as closed:
            messages.warning(request, str(closed))
            return _back(crit, pair.scheme_id, "comments")
    both = access_day.paired_comments(pair)
    given = {"of": pair.scheme, "pair": pair, "both": both, "form": form}
    given["is_newer"] = status == 409
    return show_moderation(request, "rule_pair", crit, status=status, **given)


@require_POST
def take_back_pair(request: HttpRequest, pair_id: int) -> HttpResponse:
    pair = _pair(request, pair_id)
    try:
        comment_ruling.take_back_pair(pair, request.user)
        messages.success(request, "Taken back. Each comment stands for itself.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return _back(pair.crit, pair.scheme_id, "comments")


@require_POST
def take_back_group(request: HttpRequest, group_id: int) -> HttpResponse:
    groups = access_day.led_groups(request.viewer).select_related("crit__studio", "scheme")
    group: AlikeGroup = get_object_or_404(groups, pk=group_id)
    access.require(access.can_moderate(request.viewer, group.crit, group.scheme_id))
    try:
        comment_ruling.ungroup(group, request.user)
        messages.success(request, "Taken apart. Each comment stands for itself.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return _back(group.crit, group.scheme_id, "comments")


@require_form
def reword_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = led_comment(request, comment_id)
    crit, scheme = comment.jury_sheet.seat.crit, comment.jury_sheet.scheme
    form = RewordingForm(request.POST or None, comment=comment)
    if request.method == "POST" and form.is_valid():
        try:
            words = form.cleaned_data["words"]
            comment_rewording.offer_rewording(comment, request.user, words)
            seat = comment.jury_sheet.seat
            how = "by e-mail and" if seat.email else "no e-mail address: tell them. It stands"
            messages.success(request, f"Offered to {seat.name}, {how} behind their link.")
        except Frozen as closed:
            messages.warning(request, str(closed))
        return _back(crit, scheme.pk, f"comment-{comment.pk}")
    why = comment_rewording.why_not_reworded(comment, crit)
    given = {"of": scheme, "comment": comment, "form": form, "why_not": why}
    return show_moderation(request, "reword_comment", crit, **given)


@require_POST
def take_back_offer(request: HttpRequest, offer_id: int) -> HttpResponse:
    offers = access_day.led_offers(request.viewer).select_related("comment__jury_sheet__seat__crit")
    offer: Rewording = get_object_or_404(offers, pk=offer_id)
    sheet = offer.comment.jury_sheet
    access.require(access.can_moderate(request.viewer, sheet.seat.crit, sheet.scheme_id))
    try:
        comment_rewording.take_back_offer(offer, request.user)
        messages.success(request, "Taken back. The comment stays held, in its juror's own words.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return _back(sheet.seat.crit, sheet.scheme_id, f"comment-{offer.comment_id}")
