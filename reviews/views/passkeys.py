"""A person's passkeys, and the way in by one."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse, HttpResponseRedirect, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from reviews.access import HttpRequest
from reviews.deeds import passkey_keeping
from reviews.deeds.passkey_keeping import NoPasskey
from reviews.forms.people import PasskeyForm
from reviews.models import Person
from reviews.pages.not_signed_in import NO_PASSKEY
from reviews.pages.page_frame import frame
from reviews.views.fetching import require_form
from reviews.views.home import BACKEND, next_of


@sensitive_post_parameters("password")
@require_form
def keep_passkeys(request: HttpRequest) -> HttpResponse:
    person = Person.objects.get(pk=request.user.pk)
    form = PasskeyForm(person, request.POST or None)
    if request.method == "POST" and form.is_valid():
        sent = form.cleaned_data["answer"]
        if not sent:  # what the browser asks its device then, with all else found right
            return JsonResponse(passkey_keeping.ask_for_new(person))
        try:
            passkey_keeping.keep(person, form.cleaned_data["name"], sent)
        except NoPasskey:
            form.refuse()
        else:
            messages.success(request, "The passkey is kept. It signs you in from now on.")
            return redirect("keep-passkeys")
    context = {"form": form, "passkeys": passkey_keeping.passkeys_of(person)}
    return render(request, "home/keep_passkeys.html", frame(request) | context)


@require_POST
def remove_passkey(request: HttpRequest, passkey_id: int) -> HttpResponse:
    person = Person.objects.get(pk=request.user.pk)
    passkey = get_object_or_404(passkey_keeping.passkeys_of(person), pk=passkey_id)
    passkey_keeping.remove(person, [passkey])
    messages.success(request, "The passkey signs nobody in any more.")
    return redirect("keep-passkeys")


@login_not_required
@require_POST
def sign_in_by_passkey(request: HttpRequest) -> HttpResponse:
    """Ask a browser for a passkey, or read its answer."""
    if not (sent := request.POST.get("answer", "")):
        return JsonResponse(passkey_keeping.ask_for_any())
    try:
        person = passkey_keeping.owner_of(sent)
    except NoPasskey:
        context = frame(request) | {"said": NO_PASSKEY}
        return render(request, "home/not_signed_in.html", context, status=NO_PASSKEY.status)
    login(request, person, BACKEND)
    return HttpResponseRedirect(next_of(request))
