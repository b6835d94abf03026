"""Next year's studio, opened from this one: what is carried over, and what is left behind."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import studio_carrying
from reviews.forms.next_year import NextYearForm
from reviews.pages.next_year_page import next_year_page
from reviews.pages.page_frame import frame
from reviews.views.fetching import require_form, seen_studio


@require_form
def carry_studio(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_carry(request.viewer, studio))
    page = next_year_page(studio)
    form = NextYearForm(
        request.POST or None,
        studio=studio,
        page=page,
        names_leaders=request.viewer.is_coordinator,
    )
    if request.method == "POST" and form.is_valid():
        new = studio_carrying.carry_over(
            studio,
            request.user,
            form.named,
            parts=form.cleaned_data["parts"],
            crits=form.new_crits,
            leader=form.leader,
        )
        messages.success(request, "The studio is open, and its brief in preparation. Read it anew.")
        return redirect("show-brief", new.pk)
    context = frame(request, studio=studio, page="schemes") | {"page": page, "form": form}
    return render(request, "studios/carry_studio.html", context)
