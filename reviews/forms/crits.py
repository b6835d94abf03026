"""A crit, its criteria sheet and its jurors."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any, TypeVar, cast

from django import forms
from django.forms.formsets import BaseFormSet, formset_factory

from criteria.crit_day.timetable import USUAL
from reviews.deeds import crit_criteria_keeping, crit_planning, crit_seating
from reviews.forms.fields import (
    ChosenField,
    DayField,
    LineField,
    MailField,
    MomentField,
    ProseField,
    SeenForm,
    WeightField,
    WholeField,
    says,
)
from reviews.models import Crit, Seat
from reviews.models.crits import LEVELS, SLOT_PARTS
from reviews.moments import moment_words
from reviews.reading.crit_criteria_sheets import SHEETS

MOST_ROWS = 200
LEAST_SLOT = 5
"""Minutes of a slot, all parts together. Our choice [min]."""


def _minutes(label: str, part: str) -> WholeField:
    """One part of a slot; blank is what is usual of the kind, which is said."""
    usual = ", ".join(f"{kind} {getattr(parts, part)}" for kind, parts in USUAL.items())
    return WholeField(
        "0 to 120 minutes, or a blank",
        label=label,
        required=False,
        min_value=0,
        max_value=120,
        help_text=f"Blank is what is usual: {usual}.",
    )


class CritForm(SeenForm):
    """What a crit is, when it is, and whether students read who wrote a comment."""

    kind = ChosenField("one of the kinds", label="Kind", choices=Crit.Kind.choices)
    day = DayField(label="Day")
    pens_down = MomentField(
        label="Pens down",
        help_text="After this hour nothing more is drawn; a later issue is marked late. "
        "18:00 the day before lets everybody arrive awake.",
    )
    present_min = _minutes("Present [min]", "present_min")
    discuss_min = _minutes("Discuss [min]", "discuss_min")
    writing_min = _minutes("Silent writing [min]", "writing_min")
    change_min = _minutes("Change over [min]", "change_min")
    talk = ChosenField(
        "one of the orders of talk",
        label="Order of talk",
        choices=Crit.Talk.choices,
        required=False,
        initial=Crit.Talk.PRIVATE_FIRST,
        help_text="Announce it beforehand; it can't be changed once a juror has begun.",
    )
    follows_id = ChosenField(
        "one of the studio’s released crits, or none",
        label="Of a re-crit, the crit that it follows",
        choices=[("", "none")],
        required=False,
        help_text="Its open comments and criteria are what is shown again.",
    )
    level_cap = WholeField(
        "a level from 1 to 5, or a blank",
        label="Of a re-crit, the highest level it may raise to",
        required=False,
        min_value=1,
        max_value=5,
        help_text="As the school sets; blank sets none. No level ever falls.",
    )
    names_jurors = forms.BooleanField(
        label="Students read who wrote a comment",
        required=False,
        initial=True,
        help_text="Announce it beforehand; it can't be changed once a juror has begun.",
    )

    takes_severity_out = forms.BooleanField(
        label="Severity is taken out of the levels where the rule allows",
        required=False,
        help_text="Announce it beforehand: it is fixed once a juror begins or the day comes. "
        "Levels as given are always kept and shown beside.",
    )

    def __init__(self, *args: Any, earlier: Iterable[Crit] = (), **more: Any) -> None:
        super().__init__(*args, **more)
        chosen = cast("ChosenField", self.fields["follows_id"])
        chosen.choices = [("", "none"), *((str(crit.pk), str(crit)) for crit in earlier)]

    def clean_follows_id(self) -> int | None:
        """The key of the crit that a re-crit follows."""
        chosen = self.cleaned_data["follows_id"]
        return int(chosen) if chosen else None

    def _clean_again(self, cleaned: dict[str, Any]) -> None:
        """What a re-crit alone has isn't said of another kind."""
        if cleaned.get("kind") == Crit.Kind.RECRIT:
            return
        for name, read in (("follows_id", "a crit that it follows"), ("level_cap", "a cap")):
            if cleaned.get(name) is not None:
                self.add_error(name, says(read, "none, for this isn’t a re-crit"))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        self._clean_again(cleaned)
        day, pens_down = cleaned.get("day"), cleaned.get("pens_down")
        if day and pens_down and not crit_planning.is_before_its_end(day, pens_down):
            read = moment_words(pens_down)
            self.add_error("pens_down", says(read, "an hour before the day of the crit is over"))
        if not self.errors and self._slot_min < LEAST_SLOT:
            expected = f"parts that make a slot of {LEAST_SLOT} min or more"
            self.add_error("present_min", says(f"a slot of {self._slot_min} min", expected))
        return cleaned

    def clean_talk(self) -> str:
        """The order of talk; that which stands where a page without it was sent."""
        return self.cleaned_data["talk"] or self.initial.get("talk") or Crit.Talk.PRIVATE_FIRST

    @property
    def _slot_min(self) -> int:
        usual, given = USUAL[self.cleaned_data["kind"]], self.cleaned_data
        asked = [(given[name], getattr(usual, name)) for name in SLOT_PARTS]
        return sum(usual if minutes is None else minutes for minutes, usual in asked)

    @property
    def parts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in crit_planning.PARTS}


class RowsForm(BaseFormSet):  # type: ignore[type-arg]
    """A table of rows: those that are there, blank ones below, each with a box to leave it out."""

    default_error_messages = {
        "missing_management_form": "The rows were cut short on the way. Save them once more.",
        "too_many_forms": f"Read more than {MOST_ROWS} rows. Expected fewer.",
    }

    unique, expected, is_cased = "", "", True
    """The field by which rows are told apart, what is expected of one said twice, and whether
    capital letters count."""

    def clean(self) -> None:
        seen: set[str] = set()
        for form in self.forms:
            sent = getattr(form, "cleaned_data", {})
            if (text := sent.get(self.unique)) and not sent.get("DELETE"):
                folded = text if self.is_cased else text.casefold()
                if folded in seen:
                    form.add_error(self.unique, says(text, self.expected))
                seen.add(folded)

    @property
    def lines(self) -> list[dict[str, Any]]:
        """The rows to keep, in order, without blank ones and those left out."""
        rows = [form for form in self.forms if form.has_changed() or form.initial]
        return [form.line for form in rows if not form.cleaned_data.get("DELETE")]

    def add_fields(self, form: forms.Form, index: int | None) -> None:
        super().add_fields(form, index)
        form.fields["DELETE"].label = "Leave out"


_Rows = TypeVar("_Rows", bound="BaseFormSet[Any]")


def rows_of(form: type[forms.Form], rows: type[_Rows], **more: Any) -> type[_Rows]:
    """Make a table of rows, each such a form."""
    made = formset_factory(form, formset=rows, max_num=MOST_ROWS, **more)
    return cast("type[_Rows]", made)


class CriterionForm(forms.Form):
    """One line of a criteria sheet."""

    position = WholeField(
        "a whole number", label="Place", required=False, min_value=0, max_value=MOST_ROWS
    )
    code = LineField("a code of at most 6 characters: F1", max_length=6, label="Code")
    name = LineField("a name of at most 80 characters", max_length=80, label="Criterion")
    weight = WeightField(
        "a weight from 0 to 100", label="Weight", min_value=0, max_value=100, decimal_places=2
    )
    evidence = LineField(
        "references of targets, in at most 240 characters",
        max_length=240,
        required=False,
        label="Evidence",
        help_text="References of the targets that inform it: T01 T03",
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        for number, word in enumerate(LEVELS, start=1):
            self.fields[f"level_{number}"] = ProseField(
                "at most 20,000 characters", label=f"{number} {word}", required=False, rows=4
            )
        if isinstance(self.initial.get("weight"), Decimal):
            self.initial["weight"] = f"{self.initial['weight'].normalize():f}"

    @property
    def head_fields(self) -> list[forms.BoundField]:
        """Everything but the descriptors."""
        return [self[name] for name in ("position", "code", "name", "weight", "evidence")]

    @property
    def level_fields(self) -> list[forms.BoundField]:
        """The five descriptors."""
        return [self[f"level_{number}"] for number in range(1, 6)]

    @property
    def line(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in crit_criteria_keeping.PARTS}


class CriteriaRows(RowsForm):
    """A criteria sheet; codes are unique, rows stand by their place."""

    unique, expected = "code", "a code that no criterion above has"

    @property
    def lines(self) -> list[dict[str, Any]]:
        """The criteria in the order of their places; one without a place stands last."""
        rows = [form for form in self.forms if form.has_changed() or form.initial]
        kept = [form for form in rows if not form.cleaned_data.get("DELETE")]
        last = MOST_ROWS + 1
        kept.sort(key=lambda form: last if (p := form.cleaned_data["position"]) is None else p)
        return [form.line for form in kept]


CriteriaFormSet = rows_of(CriterionForm, CriteriaRows, extra=1, can_delete=True)


class StartSheetForm(forms.Form):
    """Which ready sheet to start from."""

    sheet = ChosenField(
        f"one of {', '.join(SHEETS)}",
        label="Sheet",
        choices=[(sheet.slug, sheet.title) for sheet in SHEETS.values()],
    )


class SeatForm(forms.Form):
    """One juror's seat."""

    pk = forms.IntegerField(required=False, widget=forms.HiddenInput)
    name = LineField("a name of at most 120 characters", max_length=120, label="Name")
    kind = ChosenField(
        "one of the kinds", label="Kind", choices=Seat.Kind.choices, initial=Seat.Kind.VISITING
    )
    room = LineField("a room of at most 12 characters", max_length=12, required=False, label="Room")
    email = MailField("an e-mail address, or a blank", required=False, label="E-mail")

    @property
    def line(self) -> dict[str, Any]:
        return {"pk": self.cleaned_data["pk"]} | {
            name: self.cleaned_data[name] for name in crit_seating.PARTS
        }


class SeatRows(RowsForm):
    """The seats of a crit; names are unique."""

    unique, expected = "name", "a name that no juror above has"
    is_cased = False


SeatFormSet = rows_of(SeatForm, SeatRows, extra=3, can_delete=True)
