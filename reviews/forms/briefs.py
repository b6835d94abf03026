"""A brief's text, its hand-in list, its targets and its addenda."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms

from criteria.schedules import SCHEDULES, SITE
from criteria.schedules.site import MONTHS
from criteria.targets.reading import TARGETS, RefusedTarget
from criteria.units import Notation, System
from reviews.deeds import brief_issuing, brief_writing
from reviews.deeds.record_typed import is_as_shown
from reviews.deeds.record_versions import version_of
from reviews.forms.brief_use import UseForm
from reviews.forms.columns import CellsForm
from reviews.forms.fields import ProseField, SeenForm, WholeField, says
from reviews.models import Brief, DrawingKind, HandInItem
from reviews.models.briefs import DECIMAL_SIGNS
from reviews.reading.title_block import kind_words
from reviews.versions import Newer

Kind = HandInItem.Kind
KINDS = {kind.label.casefold(): kind.value for kind in DrawingKind}
"""Kinds of drawing, as a line of the hand-in list names them."""


class BriefTextForm(SeenForm):
    """The text and how long a statement may be."""

    text = ProseField(
        "a text of at most 20,000 characters",
        rows=18,
        label="Text",
        required=False,
        help_text="Place, people, what is asked. A blank line begins a paragraph. Figures belong "
        "in the site sheet and the targets.",
    )
    statement_words = WholeField(
        "a whole number from 10 to 500",
        label="Words of the statement, at most",
        min_value=10,
        max_value=500,
        help_text="60 is usual",
    )

    decimal = forms.ChoiceField(
        label="Decimal sign",
        choices=DECIMAL_SIGNS,
        widget=forms.RadioSelect,
        help_text="22,4 and 0,045 are read either way. With a point "
        "1,200 is 1200; with a comma it could be 1.2 too, so it is refused, as is 1.200.",
        error_messages={
            "invalid_choice": "Read “%(value)s”. Expected point or comma.",
            "required": "Read nothing. Expected point or comma.",
        },
    )

    def __init__(self, notation: Notation, kept: Mapping[str, Any], *args: Any) -> None:
        super().__init__(*args, initial={**kept, "seen": version_of(kept)})
        self.names = tuple(kept)

    @property
    def contents(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in self.names}


class HandInForm(SeenForm):
    """Schedules, sheets and the statement that a package must hold."""

    schedules = forms.MultipleChoiceField(
        label="Schedules",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        choices=[(schedule.slug, schedule.title) for schedule in SCHEDULES],
        error_messages={"invalid_choice": "Read “%(value)s”. Expected one of the schedules."},
    )
    sheets = ProseField(
        "at most 20,000 characters",
        rows=8,
        label="Sheets",
        required=False,
        help_text="One a line, number first; behind semicolons the kind of drawing and the state "
        f"that must be shown: 02 Plan; plan; packed. Kinds: {', '.join(KINDS)}",
    )
    statement = forms.BooleanField(label="A statement", required=False)

    def __init__(self, notation: Notation, kept: Sequence[Sequence[str]], *args: Any) -> None:
        sheets = [_sheet_line(item) for item in kept if item[0] == Kind.SHEET]
        start = {
            "schedules": [item[1] for item in kept if item[0] == Kind.SCHEDULE],
            "sheets": "\n".join(sheets),
            "statement": any(item[0] == Kind.STATEMENT for item in kept),
            "seen": version_of(kept),
        }
        super().__init__(*args, initial=start)

    def show_newer(self, newer: Newer, stands_at: int) -> None:
        """Set the list that is kept beside the one that was typed."""
        self.show_newer_rows(newer, stands_at, range(5))

    def clean_sheets(self) -> list[list[str]]:
        items, seen = [], set()
        for number, line in enumerate(self.cleaned_data["sheets"].splitlines(), start=1):
            if not line.strip():
                continue
            head, *shows = (part.strip() for part in line.split(";"))
            drawing, state = (*shows, "", "")[:2]
            code, _, title = head.partition(" ")
            if code in seen:
                expected = "a number that no line above has"
                self.add_error("sheets", f"Line {number}: {says(code, expected)}")
            elif not any(c.isdigit() for c in code) or len(code) > 8 or len(title) > 120:
                expected = "a number and a title: 02 Plan"
                self.add_error("sheets", f"Line {number}: {says(line, expected)}")
            elif len(shows) > 2 or len(state) > 40:
                expected = "a number and a title, a kind and a state: 02 Plan; plan; packed"
                self.add_error("sheets", f"Line {number}: {says(line, expected)}")
            elif drawing and drawing.casefold() not in KINDS:
                expected = f"a kind of drawing: {', '.join(KINDS)}"
                self.add_error("sheets", f"Line {number}: {says(drawing, expected)}")
            seen.add(code)
            kind = KINDS.get(drawing.casefold(), "")
            items.append([str(Kind.SHEET), code, title.strip(), kind, state])
        return items

    @property
    def contents(self) -> list[list[str]]:
        titles = {schedule.slug: schedule.title for schedule in SCHEDULES}
        asked = [[str(Kind.SCHEDULE), c, titles[c], "", ""] for c in self.cleaned_data["schedules"]]
        if self.cleaned_data["statement"]:
            asked.append([str(Kind.STATEMENT), "statement", "", "", ""])
        return sorted([*asked, *self.cleaned_data["sheets"]])


def _sheet_line(item: Sequence[str]) -> str:
    """A sheet of the hand-in list as it is typed."""
    _, code, title, drawing, state = item
    head, kind = f"{code} {title}".strip(), kind_words(drawing).lower()
    return "; ".join([head, kind, state][: 3 if state else 2 if kind else 1])


SITE_PLACES = {column.head: column for column in SITE.columns}
CLIMATE_PLACES = {
    f"{month}-{column.head}": column for month in MONTHS for column in brief_writing.CLIMATE_FIGURES
}


class SiteForm(CellsForm):
    """The site sheet, a field for each column."""

    def __init__(self, notation: Notation, kept: Mapping[str, str], *args: Any, **more: Any):
        super().__init__(SITE_PLACES, notation, kept, *args, **more)


class ClimateForm(CellsForm):
    """The climate, a field for each month and figure."""

    def __init__(self, notation: Notation, kept: Mapping[str, str], *args: Any, **more: Any):
        super().__init__(CLIMATE_PLACES, notation, kept, *args, **more)
        for name, field in self.fields.items():
            if name in CLIMATE_PLACES:
                field.label, field.help_text = f"{name.partition('-')[0]}: {field.label}", ""

    @property
    def heads(self) -> list[tuple[str, str]]:
        """Label and unit of each figure."""
        system = self.notation.system
        return [(c.label, c.unit(system)) for c in brief_writing.CLIMATE_FIGURES]

    @property
    def rows(self) -> list[tuple[str, list[forms.BoundField]]]:
        """The fields of each month."""
        heads = [column.head for column in brief_writing.CLIMATE_FIGURES]
        return [(month, [self[f"{month}-{head}"] for head in heads]) for month in MONTHS]


class TargetForm(CellsForm):
    """One target, a field for each column; held to what its check asks for."""

    def __init__(
        self, notation: Notation, kept: Mapping[str, str] | None = None, *args: Any, **more: Any
    ) -> None:
        places = {column.head: column for column in TARGETS.columns}
        super().__init__(places, notation, kept or {}, *args, **more)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not self.errors:
            try:
                brief_writing.meaning(self.typed, self.notation)
            except RefusedTarget as refusal:
                self.refuse_cell(refusal.column, refusal.read, refusal.expected)
        return cleaned

    @property
    def shown(self) -> dict[str, str]:
        """What is kept; whoever reads in US units is shown the unit of a bare value."""
        is_metric = self.notation.system is System.METRIC
        return self.kept if is_metric else brief_writing.with_own_unit(self.kept, System.METRIC)

    @property
    def typed(self) -> dict[str, str]:
        """The cells as they were typed."""
        return {head: self.cleaned_data[head] for head in TARGETS.heads}

    @property
    def contents(self) -> dict[str, str]:
        shown, typed = self.shown, self.typed
        if all(is_as_shown(text, shown[head]) for head, text in typed.items()):
            return self.kept
        is_metric = self.notation.system is System.METRIC
        return typed if is_metric else brief_writing.with_own_unit(typed, System.US)


class AddendumForm(SeenForm):
    """The words of an addendum."""

    text = ProseField(
        "what changes, in words",
        rows=6,
        label="What changes, and why",
        help_text="Everybody of the studio reads it, with its date.",
    )
    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)


class AddendumPage:
    """Everything on the page of a new addendum: words, the targets chosen to change, the site.

    Choosing targets sends the page without issuing it: what is typed comes back as it was.
    """

    NEW = "+"
    """Stands for the reference of a target that is new; no reference can be this."""

    def __init__(self, brief: Brief, notation: Notation, data: Any) -> None:
        self.brief, self.notation, self.data = brief, notation, data
        self.is_sent = bool(data) and "choose" not in data
        self.records = {r.get("id", ""): r for r in brief.target_records()}
        self.chosen = set(data.getlist("target")) if data else set()
        self.site_now = {head: brief.site_record().get(head, "") for head in SITE.heads}
        self.words = AddendumForm(
            data if self.is_sent else None, initial={"number": brief_issuing.next_number(brief)}
        )
        if data and not self.is_sent:
            self.words.initial["text"] = data.get("text", "")
        self.site = self._form(SiteForm, SITE.heads, self.site_now, "site")
        self.use_now = brief_writing.cells_of_use(brief.leader_tables())
        self.use = self._form(UseForm, self.use_now, self.use_now, "use")
        refs = [*self.records, self.NEW]
        self.targets = [(ref, self._target_form(ref)) for ref in refs if ref in self.chosen]

    def _form(
        self,
        kind: type[SiteForm | TargetForm | UseForm],
        heads: Iterable[str],
        cells: Mapping[str, str],
        prefix: str,
    ) -> Any:
        names = {head: f"{prefix}-{head}" for head in heads}
        typed = {h: self.data[name] for h, name in names.items() if name in (self.data or ())}
        sent = self.data if self.is_sent and typed else None
        form = kind(self.notation, cells, sent, prefix=prefix)
        form.initial = {**form.initial, **typed}
        return form

    def _target_form(self, ref: str) -> TargetForm:
        prefix = "one-more" if ref == self.NEW else f"target-{ref}"
        cells = self.records.get(ref, {})
        form: TargetForm = self._form(TargetForm, TARGETS.heads, cells, prefix)
        if ref != self.NEW:
            form.fields["id"].widget.attrs["readonly"] = True
        return form

    @property
    def is_site_open(self) -> bool:
        """Whether something of the site sheet is typed that stands otherwise now."""
        return self._is_open(self.site)

    @property
    def is_use_open(self) -> bool:
        """The same of states and people cases."""
        return self._is_open(self.use)

    def _is_open(self, form: CellsForm) -> bool:
        shown = form.shown
        typed = {name: form[name].value() or "" for name in shown} if self.data else {}
        return any(not is_as_shown(text, shown[name]) for name, text in typed.items())

    @property
    def is_resent(self) -> bool:
        """Whether this very addendum is issued already."""
        number, text = self.data.get("number", ""), self.words["text"].value() or ""
        issued = self.brief.addenda.filter(text=text.replace("\r\n", "\n").strip())
        return str(number).isdecimal() and issued.filter(number=number).exists()

    @property
    def choices(self) -> list[tuple[str, str, bool]]:
        """Reference, words and whether chosen, of each target; last, one more."""
        lines = [
            (ref, f"{ref} {record.get('what', '')}".strip(), ref in self.chosen)
            for ref, record in self.records.items()
        ]
        return [*lines, (self.NEW, "One more target", self.NEW in self.chosen)]

    def is_valid(self) -> bool:
        """Whether it is sent to be issued and everything can be read."""
        if not self.is_sent:
            return False
        use = [self.use] if self.use.is_bound else []
        sent = [self.words, self.site, *use, *(form for _, form in self.targets)]
        read = [form.is_bound and form.is_valid() for form in sent]  # each shows its own refusals
        if not all(read):
            return False
        stays = [self._keeps_its_ref(ref, form) for ref, form in self.targets]
        return all(stays)

    def _keeps_its_ref(self, ref: str, form: TargetForm) -> bool:
        typed = form.cleaned_data["id"]
        if ref == self.NEW and typed in self.records:
            form.add_error("id", says(typed, "a reference that no target of the brief has"))
        elif ref not in (self.NEW, typed):
            form.add_error("id", says(typed, f"the reference {ref}, which stays"))
        return not form.errors

    def show_newer(self, newer: Newer) -> None:
        """Set the addendum issued meanwhile beside the words typed, which take the next number."""
        number = brief_issuing.next_number(self.brief)
        self.words.show_newer(newer, stands_at=0)
        self.words.data = {**self.words.data, "number": number}

    @property
    def changed_targets(self) -> list[dict[str, str]]:
        """The cells of the targets that are changed or new."""
        return [
            form.contents
            for ref, form in self.targets
            if brief_writing.full_cells(self.records.get(ref, {}))
            != brief_writing.full_cells(form.contents)
        ]

    @property
    def changed_site(self) -> dict[str, str]:
        """The cells of the site sheet that change."""
        return {h: cell for h, cell in self.site.contents.items() if cell != self.site_now[h]}

    @property
    def changed_use(self) -> dict[str, list[dict[str, str]]]:
        """States, people cases or both, each whole, where something of it changes."""
        if not self.use.is_bound:
            return {}
        now, typed = (brief_writing.tables_of_use(c) for c in (self.use_now, self.use.contents))
        return {slug: rows for slug, rows in typed.items() if rows != now[slug]}
