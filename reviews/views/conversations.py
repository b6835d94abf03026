"""The talk about results: asked for, held, and written down by each who held it."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render

from reviews import access, access_answers
from reviews.access import HttpRequest
from reviews.deeds.conversation_keeping import keep_conversation as keep
from reviews.forms.conversations import AskTalkForm, TalkForm
from reviews.models import Conversation, Crit, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.reading.crit_answers import talks_of
from reviews.views.answers import released_scheme
from reviews.views.fetching import require_form


def _talked(request: HttpRequest, crit_id: int, scheme_id: int) -> tuple[Crit, Scheme]:
    crit, scheme = released_scheme(request, crit_id, scheme_id)
    access.require(access_answers.can_talk(request.viewer, crit, scheme))
    return crit, scheme


@require_form
def show_conversation(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = _talked(request, crit_id, scheme_id)
    asks = "ask" in request.POST
    talk = TalkForm(request.POST if request.method == "POST" and not asks else None, crit=crit)
    ask = AskTalkForm(request.POST if asks else None)
    form = ask if asks else talk
    if request.method == "POST" and form.is_valid():
        key, sent = form.cleaned_data["key"], form.sent()
        try:
            keep(crit, scheme, key, sent, request.user)
        except Conversation.DoesNotExist:
            raise Http404 from None
        except Frozen as closed:
            form.add_error(None, str(closed))
        else:
            return redirect("show-conversation", crit.pk, scheme.pk)
    context = {
        "crit": crit,
        "records": talks_of(crit, scheme),
        "talk": talk,
        "ask": None if access.can_lead(request.viewer, crit.studio_id) else ask,
    }
    around = frame(request, studio=crit.studio, scheme=scheme, crit=crit, page="crits")
    return render(request, "conversations/show_conversation.html", around | context)
