"""What a person says of themselves: sign-in, name, units, lamp, password."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, SetPasswordForm

from reviews import demo_mark
from reviews.deeds.signing_in import still_waits_s
from reviews.forms.fields import ChosenField, HourField, LineField, says
from reviews.models import Person
from reviews.models.mails import SWITCHABLE


class SignInForm(AuthenticationForm):
    """An e-mail address and a password."""

    error_messages = {
        "invalid_login": "No account has this e-mail address and this password. Capital letters "
        "of the password count.",
        "inactive": "This account is closed.",
        "refused": "Too many wrong passwords for this account from where you are. Wait 15 minutes, "
        "then sign in again.",
        "waits": "Many wrong passwords were tried for this account. Each sign-in waits a little: "
        "wait %(wait)s s, then sign in again.",
    }
    is_slowed = False

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["username"].label = "E-mail"
        if demo_mark.is_demo() and not self.is_bound:
            # the demo's page begins with its doors, and the form stands at its foot
            self.fields["username"].widget.attrs.pop("autofocus", None)
        self.fields["username"].error_messages["required"] = says("", "an e-mail address")
        self.fields["password"].error_messages["required"] = says("", "a password")

    def clean(self) -> dict[str, Any]:
        email = str(self.cleaned_data.get("username", "")).strip().lower()
        assert self.request is not None
        if email and (wait := still_waits_s(self.request, email)):
            self.is_slowed = True
            raise self._error("waits", wait=wait)
        return super().clean()

    def get_invalid_login_error(self) -> forms.ValidationError:
        self.is_slowed = bool(getattr(self.request, "axes_locked_out", False))
        return self._error("refused" if self.is_slowed else "invalid_login")

    def _error(self, code: str, **said: Any) -> forms.ValidationError:
        return forms.ValidationError(self.error_messages[code], code=code, params=said)


class YouForm(forms.ModelForm):  # type: ignore[type-arg]
    """How a person is named and how pages are shown to them."""

    name = LineField("a name of at most 120 characters", max_length=120, label="Name")
    units = ChosenField(
        "metric or US",
        label="Units",
        choices=Person._meta.get_field("units").choices,
        widget=forms.RadioSelect,
    )
    lamp = ChosenField(
        "lamp on or lamp off", label="Lamp", choices=Person.Lamp.choices, widget=forms.RadioSelect
    )

    letters = forms.MultipleChoiceField(
        label="E-mail that comes",
        help_text="Invitations, personal links and word of passkeys and tokens come in any case.",
        choices=SWITCHABLE,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    class Meta:
        model = Person
        fields = ("name", "units", "lamp", "plain_type")


class _Passwords:
    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        for name, field in self.fields.items():  # type: ignore[attr-defined]
            which = "the password in use now" if name == "old_password" else "a password, twice"
            field.error_messages["required"] = says("", which)
            if name == "new_password1":
                field.help_text = "Eight characters or more; not a common word, not figures alone."


class NewPasswordForm(_Passwords, SetPasswordForm):  # type: ignore[type-arg]
    """A password, twice."""


class WayInForm(forms.Form):
    """What a new way into an account is called; the password too, of whoever has one."""

    name = LineField("a name of at most 60 characters", max_length=60, label="Name")
    password = forms.CharField(
        label="Password in use now",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
        error_messages={"required": says("", "the password in use now")},
    )

    def __init__(self, person: Person, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.person = person
        if not person.has_usable_password():
            del self.fields["password"]

    def clean_password(self) -> str:
        password = str(self.cleaned_data["password"])
        if not self.person.check_password(password):
            raise forms.ValidationError("This is not the password in use now.")
        return password


class PasskeyForm(WayInForm):
    """The same of a passkey, and what a device answers."""

    answer = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["name"].help_text = "Where it is held, such as “phone”."

    def refuse(self) -> None:
        """Say that a device's answer can't be taken."""
        self.add_error(None, "What the device sent is no passkey for this site. Try it once more.")


class TokenForm(WayInForm):
    """The same of a token for scripts."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["name"].help_text = "What reads by it, such as “spreadsheet at home”."


class ChangePasswordForm(_Passwords, PasswordChangeForm):
    """The old password, then a new one twice."""

    error_messages = {
        **PasswordChangeForm.error_messages,
        "password_incorrect": "This is not the password in use now.",
    }


class DemoClockForm(forms.Form):
    """The hour at which the demo's clock is to stand, on the day of its running crit."""

    hour = HourField()
