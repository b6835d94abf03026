"""A person's tokens for scripts: made, shown once, ended."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters, sensitive_variables
from django.views.decorators.http import require_POST

from reviews import access_scripts
from reviews.access import HttpRequest
from reviews.deeds import token_keeping
from reviews.deeds.token_keeping import NoToken
from reviews.forms.people import TokenForm
from reviews.models import Person
from reviews.pages.page_frame import frame
from reviews.views.fetching import require_form


@sensitive_post_parameters("password")
@sensitive_variables("made")
@require_form
def keep_tokens(request: HttpRequest) -> HttpResponse:
    person = Person.objects.get(pk=request.user.pk)
    form, made = TokenForm(person, request.POST or None), ""
    if request.method == "POST" and form.is_valid():
        try:
            made = token_keeping.make(person, form.cleaned_data["name"])
        except NoToken as refused:
            form.add_error("name", str(refused))
        else:
            form = TokenForm(person)
    context = {
        "form": form,
        "made": made,
        "tokens": access_scripts.own_tokens(request.viewer),
        "start": request.build_absolute_uri(reverse("tell-start")),
    }
    return render(request, "home/keep_tokens.html", frame(request) | context)


@require_POST
def end_token(request: HttpRequest, token_id: int) -> HttpResponse:
    token = get_object_or_404(access_scripts.own_tokens(request.viewer), pk=token_id)
    token.delete()
    messages.success(request, f"“{token}” reads nothing any more.")
    return redirect("keep-tokens")
