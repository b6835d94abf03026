"""The way in, and what waits there."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login, logout, update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.http import FileResponse, Http404, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST, require_safe

from criteria.units import System
from reviews import access, access_answers, demo_mark
from reviews.access import HttpRequest, Role
from reviews.deeds import (
    mail_choosing,
    passkey_keeping,
    person_links,
    studio_roster,
    token_keeping,
)
from reviews.forms.people import ChangePasswordForm, NewPasswordForm, SignInForm, YouForm
from reviews.models import Person
from reviews.pages import demo_door, duties_now, person_data, waiting
from reviews.pages.look_specimen import specimen_context
from reviews.pages.page_frame import frame
from reviews.pages.plan_chest import plan_chest
from reviews.surroundings import keep_on_device, system_of
from reviews.views.fetching import require_form

BACKEND = "django.contrib.auth.backends.ModelBackend"
SLOWED = 429


def next_of(request: HttpRequest, otherwise: str = "/") -> str:
    """Return where to go on to, on this site alone."""
    wanted = request.POST.get("next") or request.GET.get("next") or ""
    is_here = url_has_allowed_host_and_scheme(
        wanted, {request.get_host()}, require_https=request.is_secure()
    )
    return wanted if is_here else otherwise


@require_safe
def show_home(request: HttpRequest) -> HttpResponse:
    viewer = request.viewer
    context = {
        "is_home": True,
        "invitations": access.invitations(viewer).select_related("studio", "scheme"),
        "duties": duties_now.duties_of(viewer),
        "appeals": access_answers.waiting_appeals(viewer),
        "led": waiting.led(viewer),
        "own": waiting.own(viewer, system_of(request)),
        "pausable": waiting.pausable(viewer),
        "past": waiting.past(viewer),
        "scribed": waiting.attended(viewer, Role.SCRIBE),
        "chest": plan_chest(viewer),
        "coordinated": waiting.coordinated(viewer),
        "can_open_studios": access.can_open_studios(viewer),
        "can_see_status": access.can_see_status(viewer),
    }
    return render(request, "home/show_home.html", frame(request) | context)


@sensitive_post_parameters("password")
@login_not_required
@require_form
def sign_in(request: HttpRequest) -> HttpResponse:
    if request.user.is_authenticated:
        return HttpResponseRedirect(next_of(request))
    form = SignInForm(request, data=request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return HttpResponseRedirect(next_of(request))
    context = {"form": form, "next": next_of(request, otherwise=""), "school": settings.SCHOOL.name}
    if demo_mark.is_demo():
        context |= demo_door.ways_in()
    status = SLOWED if form.is_slowed else 200
    return render(request, "home/sign_in.html", frame(request) | context, status=status)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect("sign-in")


@require_POST
def answer_invitation(request: HttpRequest, membership_id: int) -> HttpResponse:
    place = get_object_or_404(access.invitations(request.viewer), pk=membership_id)
    if request.POST.get("answer") == "decline":
        studio_roster.remove_member(place, request.user)
        messages.success(request, f"You did not join {place.studio}.")
    else:
        studio_roster.join(place)
        messages.success(request, f"You belong to {place.studio} now.")
    return redirect("home")


@require_form
def edit_you(request: HttpRequest) -> HttpResponse:
    person = Person.objects.get(pk=request.user.pk)
    letters = {"letters": mail_choosing.wanted(person.email)}
    form = YouForm(request.POST or None, instance=person, initial=letters)
    if request.method == "POST" and form.is_valid():
        form.save()
        mail_choosing.choose(person.email, form.cleaned_data["letters"])
        messages.success(request, "Kept.")
        return keep_on_device(redirect("you"), "lamp", form.cleaned_data["lamp"])
    return render(request, "home/edit_you.html", frame(request) | {"form": form})


@require_POST
def export_you(request: HttpRequest) -> FileResponse:
    seats = person_data.own_seats(request.viewer)
    file = person_data.export_person(request.user, seats, by=request.user)
    return FileResponse(file, as_attachment=True, filename="your-data.zip")


@sensitive_post_parameters()
@require_form
def change_password(request: HttpRequest) -> HttpResponse:
    form = ChangePasswordForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        update_session_auth_hash(request, form.save())
        messages.success(request, "The new password is in use. Other devices are signed out.")
        return redirect("you")
    return render(request, "home/change_password.html", frame(request) | {"form": form})


@sensitive_post_parameters()
@login_not_required
@require_form
def set_password(request: HttpRequest, uidb64: str, token: str) -> HttpResponse:
    person = person_links.person_of(uidb64)
    if person is None or not person_links.is_sound(person, token):
        return render(request, "home/link_ended.html", frame(request), status=410)
    form = NewPasswordForm(person, request.POST or None)
    if request.method == "POST" and form.is_valid():
        form.save()
        # who begins anew can't know who added them
        passkey_keeping.remove(person, passkey_keeping.passkeys_of(person))
        token_keeping.end_all(person)
        login(request, person, BACKEND)
        return redirect("home")
    context = {"form": form, "person": person}
    return render(request, "home/set_password.html", frame(request) | context)


@login_not_required
@require_POST
def switch_lamp(request: HttpRequest) -> HttpResponse:
    lamp = Person.Lamp.OFF if request.POST.get("lamp") == "off" else Person.Lamp.ON
    answer = HttpResponseRedirect(next_of(request))
    if person := request.viewer.person:
        person.lamp = lamp
        person.save(update_fields=["lamp"])
    # jury pages follow the device alone, so it is told whoever is signed in
    return keep_on_device(answer, "lamp", lamp)


@login_not_required
@require_POST
def switch_units(request: HttpRequest) -> HttpResponse:
    system = System.US if request.POST.get("units") == System.US else System.METRIC
    answer = HttpResponseRedirect(next_of(request))
    if person := request.viewer.person:
        person.units = system
        person.save(update_fields=["units"])
    return keep_on_device(answer, "units", system)


@login_not_required
@require_safe
def show_specimen(request: HttpRequest) -> HttpResponse:
    if not (settings.DEBUG or demo_mark.is_demo()):
        raise Http404
    return render(request, "specimen.html", specimen_context())
