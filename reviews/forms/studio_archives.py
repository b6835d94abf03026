"""The forms by which a studio goes out as an archive, and comes in from one."""

from __future__ import annotations

from django import forms

from reviews.forms.fields import LineField


class StudioOutForm(forms.Form):
    """Whether addresses go along."""

    with_addresses = forms.BooleanField(
        label="With e-mail addresses",
        required=False,
        help_text="Where it is brought in, people find their work again by them. "
        "Without: names stand, and nobody can sign in to them.",
    )


class StudioInForm(forms.Form):
    """The archive, and once it was looked at, what to do with it."""

    file = forms.FileField(
        label="Archive",
        required=False,
        help_text="A ZIP that a studio’s evidence page made",
        widget=forms.FileInput(attrs={"accept": ".zip,application/zip"}),
    )
    receipt = LineField(
        "the mark of an archive that was looked at",
        required=False,
        max_length=64,
        widget=forms.HiddenInput,
    )
    is_copy = forms.BooleanField(required=False, widget=forms.HiddenInput)
