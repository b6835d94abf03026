"""Words offered for a comment, before its juror: taken, answered by others, or left."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access_day
from reviews.access import HttpRequest
from reviews.deeds import comment_rewording
from reviews.forms.comments import OfferAnswerForm
from reviews.models import Rewording, Seat
from reviews.models.briefs import Frozen
from reviews.pages.jury_frame import jury_frame
from reviews.pages.offered_words import offered_words
from reviews.views.jury import for_jurors

SAID = {
    Rewording.Reply.TAKEN: "Taken. Students read these words, marked as reworded with your "
    "consent, where the comment goes out.",
    Rewording.Reply.OWN: "Kept. The studio leader reads your words before they go out.",
    Rewording.Reply.REFUSED: "Left as it is. The studio leader decides whether it goes out so.",
}


@for_jurors
@require_safe
def show_offered_words(request: HttpRequest, seat: Seat) -> HttpResponse:
    return _show(request, seat)


def _show(
    request: HttpRequest, seat: Seat, form: OfferAnswerForm | None = None, of: int = 0
) -> HttpResponse:
    lines = [
        (line, form if form and line.offer.pk == of else OfferAnswerForm(offer=line.offer))
        for line in offered_words(access_day.offers_to(seat))
    ]
    context = {"lines": lines} | jury_frame(request)
    return render(request, "jury/show_offered_words.html", context)


@for_jurors
@require_POST
def answer_offered_words(request: HttpRequest, seat: Seat, offer_id: int) -> HttpResponse:
    offer = get_object_or_404(access_day.offers_to(seat), pk=offer_id)
    form = OfferAnswerForm(request.POST, offer=offer)
    if not form.is_valid():
        return _show(request, seat, form, offer.pk)
    reply = Rewording.Reply(form.cleaned_data["reply"])
    try:
        comment_rewording.answer_offer(offer, reply, form.cleaned_data["own_words"])
        messages.success(request, SAID[reply])
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-offered-words")
