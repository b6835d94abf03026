"""The demo's own: in by one click, and its clock. Shut unless this is the demo."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from reviews import clock
from reviews.access import HttpRequest
from reviews.forms.people import DemoClockForm
from reviews.models import Person
from reviews.moments import moment_words
from reviews.pages import demo_door
from reviews.views.home import BACKEND, next_of


@login_not_required
@require_POST
def demo_sign_in(request: HttpRequest, person_id: int) -> HttpResponse:
    demo_door.require_demo()
    login(request, get_object_or_404(Person, pk=person_id, is_active=True), BACKEND)
    return redirect("home")


@login_not_required
@require_POST
def move_demo_clock(request: HttpRequest) -> HttpResponse:
    demo_door.require_demo()
    form = DemoClockForm(request.POST)
    if form.is_valid():
        clock.move_to(demo_door.moment_of_the_day(form.cleaned_data["hour"]))
        messages.success(request, f"The demo's clock stands at {moment_words(clock.now())}.")
    else:
        messages.error(request, " ".join(map(str, form.errors["hour"])))
    return redirect(next_of(request, otherwise="/sign-in/"))
