"""Options of a scheme as they are typed, and the choice among them: all of their page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from django import forms

from reviews.deeds.option_keeping import (
    PLACES,
    Choice,
    OptionSent,
    choice_of,
    choice_version,
)
from reviews.forms.fields import ChosenField, TypedField
from reviews.models import Option, Scheme

LONGEST_WORDS = 5_000
WORDS_ASKED = 60
"""Words that say an option: as many as a statement usually has."""

LONGEST = {field.name: field.max_length or 0 for field in Option._meta.fields}
NO_WHY = "Read nothing. Expected why this one: a sentence is enough."


class OptionForm(forms.Form):
    """One option: what it is called, in few words what it is, and where it is drawn."""

    title = TypedField("Title", LONGEST["title"])
    words = TypedField("In words", LONGEST_WORDS, rows=4)
    sheet = TypedField("Sheet", LONGEST["sheet"], help_text="The sheet that shows it: 03")

    def __init__(self, data: Any = None, *, place: int, option: Option | None = None) -> None:
        self.place, self.option, self.unit = place, option, f"option-{place}"
        stands = OptionSent(option.title, option.words, option.sheet) if option else OptionSent()
        super().__init__(data, initial=stands._asdict(), auto_id=f"{self.unit}-%s")
        self.fields["words"].help_text = f"{WORDS_ASKED} words are enough"

    @property
    def version(self) -> int:
        """The version that the form shows."""
        return self.option.version if self.option else 0

    @property
    def counted(self) -> int:
        """How many words it has."""
        return len(str(self["words"].value() or "").split())

    @property
    def over(self) -> int:
        """How many beyond those asked."""
        return max(0, self.counted - WORDS_ASKED)

    @property
    def sent(self) -> OptionSent:
        """What was sent."""
        return OptionSent(**{name: self.cleaned_data[name] for name in OptionSent._fields})


class ChoiceForm(forms.Form):
    """Which option is chosen, and why: the one isn't kept without the other."""

    place = ChosenField("one of the options that are written", label="Chosen")
    why = TypedField("Why this one", LONGEST_WORDS, rows=3)

    def __init__(
        self, data: Any = None, *, options: list[Option], choice: Choice, version: int
    ) -> None:
        self.version, self.choice = version, choice
        initial = {"place": choice.place or "", "why": choice.why}
        super().__init__(data, initial=initial, auto_id="choice-%s")
        field = self.fields["place"]
        assert isinstance(field, forms.ChoiceField)
        named = [(str(each.position), title_of(each)) for each in options]
        field.choices = [*([] if choice.place else [("", "None yet")]), *named]

    def clean(self) -> None:
        if "why" in self.cleaned_data and not self.cleaned_data["why"].strip():
            self.add_error("why", NO_WHY)

    @property
    def sent(self) -> Choice:
        """What was sent."""
        return Choice(int(self.cleaned_data["place"]), self.cleaned_data["why"])


def title_of(option: Option) -> str:
    """What an option is called, with its place."""
    return f"{option.position}. {option.title.strip() or 'without a title yet'}"


class OptionsPage(NamedTuple):
    """What the page shows; chosen is None where nothing is yet."""

    options: Sequence[OptionForm]
    choice: ChoiceForm
    chosen: Option | None
    written: int


def option_form(scheme: Scheme, place: int, data: Any = None) -> OptionForm:
    """The form of the option in a place, as it stands or as it was sent."""
    return OptionForm(data, place=place, option=scheme.options.filter(position=place).first())


def choice_form(scheme: Scheme, data: Any = None) -> ChoiceForm:
    """The form of the choice, as it stands or as it was sent."""
    return ChoiceForm(
        data,
        options=list(scheme.options.written()),
        choice=choice_of(scheme),
        version=choice_version(scheme),
    )


def options_page(scheme: Scheme, sent: OptionForm | ChoiceForm | None = None) -> OptionsPage:
    """The page; a form that was sent stands in its place."""
    forms = [option_form(scheme, place) for place in PLACES]
    if isinstance(sent, OptionForm):
        forms[PLACES.index(sent.place)] = sent
    return OptionsPage(
        forms,
        sent if isinstance(sent, ChoiceForm) else choice_form(scheme),
        scheme.options.exclude(chosen_at=None).first(),
        scheme.options.written().count(),
    )
