"""What became of their remarks: allowed by students, read and sent to jurors by the leader."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_again
from reviews.access import HttpRequest
from reviews.deeds import juror_letters
from reviews.models import Crit, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.reading.juror_letters import letters_of
from reviews.reading.mail_deliveries import letters_out
from reviews.versions import Newer
from reviews.views.fetching import led_crit, require_form


@require_form
def show_letters(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    if request.method == "POST":
        try:
            sent = juror_letters.send_letters(crit, request.user, request.POST.get("seen", ""))
            without = ", ".join(each.seat.name for each in sent if not each.seat.email)
            more = f" Without an address, so print theirs: {without}." if without else ""
            messages.success(request, f"{len(sent)} kept as sent, each once.{more}")
        except Newer:
            messages.warning(request, "It changed since this page was opened. Read it again.")
        except Frozen as frozen:
            messages.warning(request, str(frozen))
        return redirect("show-letters", crit.pk)
    letters, mails = letters_of(crit), letters_out(crit)
    lines = [(each, mails.get(each.seat.pk)) for each in letters.letters]
    context = {"crit": crit, "page": letters, "lines": lines}
    around = frame(request, crit=crit, page="moderation")
    return render(request, "letters/show_letters.html", around | context)


@require_safe
def show_letter(request: HttpRequest, crit_id: int, seat_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    letter = letters_of(crit).of(seat_id)
    if letter is None:
        raise Http404
    around = frame(request, crit=crit, page="moderation")
    return render(request, "letters/show_letter.html", around | {"crit": crit, "letter": letter})


@require_POST
def allow_letter(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crits = access.crits(request.viewer)
    crit: Crit = get_object_or_404(crits, pk=crit_id)
    scheme = get_object_or_404(Scheme, pk=scheme_id, studio=crit.studio_id)
    access.require(access_again.can_consent(request.viewer, crit, scheme))
    is_allowed = request.POST.get("allowed") == "yes"
    if juror_letters.allow_letter(crit, scheme, request.user, is_allowed=is_allowed):
        words = (
            "Jurors may read what became of their remarks."
            if is_allowed
            else ("Allowed no more. What went out before stays as it went.")
        )
        messages.success(request, words)
    return redirect("show-results", crit.pk, scheme.pk)
