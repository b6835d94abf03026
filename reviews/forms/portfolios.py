"""What a portfolio says, and what is chosen for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms

from criteria.units import System
from reviews.deeds.portfolio_keeping import Head, head_of, portfolio_of
from reviews.forms.fields import ChosenField, LineField, ProseField, SeenForm, says
from reviews.models import (
    Comment,
    IssuedSheet,
    Person,
    Portfolio,
    PortfolioItem,
    Revision,
    Scheme,
)
from reviews.pages.portfolio_page import Leaf, Shown, shown_portfolio
from reviews.reading import portfolios
from reviews.reading.portfolios import Proposal
from reviews.versions import Newer

LONGEST_CAPTION = 1_000
LONGEST_CREDITS = 4_000


class PortfolioForm(SeenForm):
    """Title, words and credits, and whose schedules fill the project data."""

    title = LineField(
        "a title of at most 120 characters",
        max_length=120,
        required=False,
        help_text="Blank: the scheme’s name.",
    )
    words = ProseField(
        "words of at most 20,000 characters",
        rows=6,
        required=False,
        help_text="What it is, for whom, and what it turns on. Somebody reads it who knows nothing "
        "of the studio.",
    )
    credits = ProseField(
        f"lines of at most {LONGEST_CREDITS:,} characters together",
        rows=4,
        max_length=LONGEST_CREDITS,
        required=False,
        help_text="Who did what, a line each: model and photographs, Ada Merrowby.",
    )
    revision = ChosenField("a revision that is issued", label="Project data of")

    def __init__(
        self, data: Any, portfolio: Portfolio | None, revisions: Sequence[Revision]
    ) -> None:
        initial = head_of(portfolio)._asdict() | {"seen": portfolio.version if portfolio else 0}
        super().__init__(data, initial=initial)
        field = self.fields["revision"]
        assert isinstance(field, forms.ChoiceField)
        named = [(str(each.pk), f"Revision {each.letter}") for each in revisions]
        field.choices = [("0", "The last that is issued"), *named]

    @classmethod
    def of(cls, scheme: Scheme, data: Any = None) -> PortfolioForm:
        """The form of a scheme's portfolio, as it stands or as it was sent."""
        return cls(data, portfolio_of(scheme), list(scheme.revisions.order_by("pk")))

    def show_kept(self, newer: Newer) -> None:
        """Set what a team mate kept meanwhile beside what was typed here."""
        kept = head_of(newer.kept)._asdict()
        self.show_newer(Newer(kept, newer.sent._asdict()), newer.kept.version)

    @property
    def head(self) -> Head:
        """What was sent."""
        sent = {name: self.cleaned_data[name] for name in Head._fields}
        return Head(**sent | {"revision": int(sent["revision"])})


class CaptionForm(SeenForm):
    """The words under one page."""

    caption = ProseField(
        f"words of at most {LONGEST_CAPTION:,} characters",
        rows=2,
        max_length=LONGEST_CAPTION,
        required=False,
    )

    def __init__(self, data: Any, item: PortfolioItem) -> None:
        self.item = item
        initial = {"caption": item.caption, "seen": item.version}
        super().__init__(data, initial=initial, auto_id=f"item-{item.pk}-%s")

    def show_kept(self, newer: Newer) -> None:
        """Set what a team mate kept meanwhile beside what was typed here."""
        kept = {"caption": newer.kept.caption}
        self.show_newer(Newer(kept, {"caption": newer.sent}), newer.kept.version)


@dataclass(frozen=True)
class EditedLeaf:
    """A page of a portfolio with the form of its words, as it stands or as it was sent."""

    leaf: Leaf
    form: CaptionForm

    @property
    def earlier(self) -> int:
        """The place before its own, counted from 0."""
        return self.leaf.number - 2

    @property
    def later(self) -> int:
        """The place behind its own."""
        return self.leaf.number


def edited_leaves(shown: Shown, sent: CaptionForm | None = None) -> list[EditedLeaf]:
    """Each page with its form."""
    of = sent.item.pk if sent else 0
    return [
        EditedLeaf(each, sent if sent and each.item.pk == of else CaptionForm(None, each.item))
        for each in shown.leaves
    ]


class SheetsForm(forms.Form):
    """Sheets to add, any number at once."""

    sheets = forms.MultipleChoiceField(widget=forms.CheckboxSelectMultiple, label="Sheets")

    def __init__(self, data: Any, sheets: Sequence[IssuedSheet]) -> None:
        super().__init__(data, auto_id="add-sheets-%s")
        self.held = {str(sheet.pk): sheet for sheet in sheets}
        field = self.fields["sheets"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = [(key, sheet_words(sheet)) for key, sheet in self.held.items()]
        field.error_messages["required"] = says("", "at least one sheet, ticked")
        field.error_messages["invalid_choice"] = "Read %(value)s. Expected sheets of this scheme."

    @property
    def chosen(self) -> list[IssuedSheet]:
        """Those ticked, in the order in which they stand."""
        ticked = set(self.cleaned_data["sheets"])
        return [sheet for key, sheet in self.held.items() if key in ticked]


class ChangeForm(forms.Form):
    """A sheet before and after, and the remark between them."""

    before = ChosenField("a sheet that this scheme issued", label="Sheet before")
    after = ChosenField("a sheet that this scheme issued", label="Sheet after")
    comment = ChosenField("a remark that is released, or none", label="Remark", required=False)

    def __init__(
        self, data: Any, sheets: Sequence[IssuedSheet], remarks: Sequence[Comment]
    ) -> None:
        super().__init__(data, auto_id="add-change-%s")
        self.sheets = {str(sheet.pk): sheet for sheet in sheets}
        self.remarks = {str(remark.pk): remark for remark in remarks}
        pictured = [("", "Choose"), *((k, sheet_words(s)) for k, s in self.sheets.items())]
        said = [("", "None"), *((k, remark_words(r)) for k, r in self.remarks.items())]
        for name, choices in (("before", pictured), ("after", pictured), ("comment", said)):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = choices

    def clean(self) -> None:
        chosen = [self.sheets.get(self.cleaned_data.get(name, "")) for name in ("before", "after")]
        before, after = chosen
        if before and after and before.revision_id >= after.revision_id:
            later = f"a sheet issued after revision {before.revision.letter}"
            self.add_error("after", says(sheet_words(after), later))

    @property
    def chosen(self) -> tuple[IssuedSheet, IssuedSheet, Comment | None]:
        """Sheet before, sheet after, remark."""
        sent = self.cleaned_data
        return (
            self.sheets[sent["before"]],
            self.sheets[sent["after"]],
            self.remarks.get(sent["comment"]),
        )


def sheet_words(sheet: IssuedSheet) -> str:
    """A sheet as it is chosen: 02 Plan, revision B."""
    return f"{sheet.number} {sheet.title}, revision {sheet.revision.letter}"


def remark_words(comment: Comment) -> str:
    """A remark as it is chosen: its kind, place and first words."""
    first = comment.words if len(comment.words) < 80 else f"{comment.words[:78].rstrip()} …"
    return f"{comment}: {first}"


@dataclass(frozen=True)
class PortfolioForms:
    """The page where a portfolio is written: what it shows, and every form of it.

    proposals   remarks that were taken up and changed a sheet, to be added by one button
    """

    shown: Shown
    head: PortfolioForm
    leaves: list[EditedLeaf]
    sheets: SheetsForm
    change: ChangeForm
    proposals: list[Proposal]

    @property
    def status(self) -> int:
        """The answer's status: conflict where something newer stands."""
        return max(self.head.status, *(each.form.status for each in self.leaves), 200)

    @property
    def has_sheets(self) -> bool:
        """Whether anything is issued yet."""
        return bool(self.sheets.held)

    def asks_not(self, person: Person) -> bool:
        """Whether somebody asks not to be named."""
        portfolio = self.shown.portfolio
        return portfolio is not None and portfolio.unnamed.filter(pk=person.pk).exists()


def portfolio_forms(
    scheme: Scheme,
    system: System,
    *,
    head: PortfolioForm | None = None,
    caption: CaptionForm | None = None,
    sheets: Any = None,
    change: Any = None,
) -> PortfolioForms:
    """Make ready the page; a form that was sent stands as it was sent."""
    remarks = portfolios.remarks_of(scheme)
    shown = shown_portfolio(scheme, system, remarks=remarks)
    held = portfolios.sheets_to_show(scheme)
    taken = [leaf.item.comment_id for leaf in shown.leaves if leaf.item.comment_id]
    return PortfolioForms(
        shown,
        head or PortfolioForm.of(scheme),
        edited_leaves(shown, caption),
        SheetsForm(sheets, held),
        ChangeForm(change, held, remarks),
        portfolios.proposals(remarks, held, taken),
    )
