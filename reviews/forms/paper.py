"""What is typed in from a jury sheet on paper: levels, impression, comments, all in one form."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from django import forms

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.crit_paper_typing import Typed
from reviews.forms.fields import number_in
from reviews.forms.jury import LONGEST_COMMENT, ON_SCALE
from reviews.forms.places import PlaceField
from reviews.models import Comment, Criterion, JurySheet, Revision
from reviews.pages.jury_lines import NOT_MINE_SENT
from reviews.places import Place
from reviews.reading.crit_sheets import level_of

ROWS = 6
"""Comments that fit on the second side."""

_LEVELS = [("", "Nothing on paper"), *((sent, f"{sent} {word}") for sent, word in ON_SCALE)]
_WRONG = {"invalid_choice": "Read “%(value)s”. Expected a level from 1 to 5, or nothing."}


class Pick(forms.ChoiceField):
    """A level to choose; what can't be one is named."""

    def __init__(self, label: str, *, is_mine: bool = False) -> None:
        more = [] if is_mine else [(NOT_MINE_SENT, "n Not mine to judge")]
        super().__init__(
            label=label, required=False, choices=[*_LEVELS, *more], error_messages=_WRONG
        )


@dataclass(frozen=True)
class CommentRow:
    """The fields of one comment."""

    number: int
    kind: forms.BoundField
    place: forms.BoundField
    words: forms.BoundField
    hidden: tuple[forms.BoundField, ...]


class PaperForm(forms.Form):
    """One sheet of paper; each thing comes back with the version that its typist had seen."""

    of = forms.ChoiceField(
        label="Revision on the paper",
        required=False,
        error_messages={"invalid_choice": "Read “%(value)s”. Expected a revision of this crit."},
    )
    impression_seen = forms.CharField(widget=forms.HiddenInput, required=False)
    impression = Pick("Overall impression", is_mine=True)
    in_part = forms.BooleanField(label="Saw the scheme in part: came late, or left", required=False)
    trouble = ""
    locks = forms.BooleanField(label="Lock it: the juror has finished this sheet", required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        sheet: JurySheet | None,
        criteria: list[Criterion],
        revisions: list[Revision],
    ) -> None:
        super().__init__(data)
        self.sheet, self.criteria = sheet, criteria
        self.fields["of"].choices = [  # type: ignore[attr-defined]
            (str(each.pk), f"Revision {each.letter}") for each in reversed(revisions)
        ] or [("", "Nothing was issued")]
        if revisions:
            self.initial["of"] = str(revisions[-1].pk)
        self.kept = list(sheet.comments.kept().with_places()) if sheet else []
        if sheet:
            self.initial.update(
                {
                    "of": str(sheet.revision_id or ""),
                    "in_part": sheet.is_in_part,
                    "impression": str(sheet.impression or ""),
                    "impression_seen": str(sheet.impression_version),
                }
            )
        for criterion in criteria:
            self._add_level(criterion)
        for n in range(max(ROWS, len(self.kept) + 1)):
            self._add_comment(n, self.kept[n] if n < len(self.kept) else None)

    def _add_level(self, criterion: Criterion) -> None:
        given = self.sheet.given_for(criterion) if self.sheet else None
        level = level_of(given)
        name = f"level_{criterion.pk}"
        self.fields[name] = Pick(str(criterion))
        self.fields[f"{name}_seen"] = forms.CharField(widget=forms.HiddenInput, required=False)
        self.initial[name] = NOT_MINE_SENT if level is NOT_MINE else str(level or "")
        self.initial[f"{name}_seen"] = str(given.version if given else 0)

    def _add_comment(self, n: int, comment: Comment | None) -> None:
        self.fields[f"kind_{n}"] = forms.ChoiceField(
            label="Kind",
            required=False,
            choices=[("", "No kind"), *Comment.Kind.choices],
            error_messages={"invalid_choice": "Read “%(value)s”. Expected one of the kinds."},
        )
        self.fields[f"place_{n}"] = PlaceField(help_text="02 C4")
        self.fields[f"words_{n}"] = forms.CharField(
            label="Words",
            required=False,
            max_length=LONGEST_COMMENT,
            widget=forms.Textarea(attrs={"rows": 2}),
            error_messages={
                "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."
            },
        )
        self.fields[f"words_{n}"].widget.attrs.pop("maxlength", None)
        for name in (f"key_{n}", f"seen_{n}"):
            self.fields[name] = forms.CharField(widget=forms.HiddenInput, required=False)
        self.initial.update({f"key_{n}": str(uuid.uuid4()), f"seen_{n}": "0"})
        if comment:
            self.initial.update(
                {
                    f"key_{n}": str(comment.key),
                    f"seen_{n}": str(comment.version),
                    f"kind_{n}": comment.kind,
                    f"place_{n}": comment.place,
                    f"words_{n}": comment.words,
                }
            )

    @property
    def levels(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Each criterion's field with what was seen of it."""
        names = (f"level_{each.pk}" for each in self.criteria)
        return [(self[name], self[f"{name}_seen"]) for name in names]

    @property
    def comments(self) -> list[CommentRow]:
        """The rows of comments."""
        rows = [name.removeprefix("key_") for name in self.fields if name.startswith("key_")]
        return [
            CommentRow(
                int(n) + 1,
                self[f"kind_{n}"],
                self[f"place_{n}"],
                self[f"words_{n}"],
                (self[f"key_{n}"], self[f"seen_{n}"]),
            )
            for n in rows
        ]

    def clean(self) -> None:
        for name in ("impression", *(f"level_{each.pk}" for each in self.criteria)):
            sent = self.cleaned_data.get(name)
            if self.cleaned_data.get("in_part"):
                if sent and sent != self.initial.get(name):
                    self.add_error(
                        name,
                        f"Read {sent}. Expected none: whoever saw a scheme in part sets no level.",
                    )
            elif self.initial.get(name) and sent == "":
                self.add_error(
                    name, "Read nothing. Expected a level: what is set is changed, not taken away."
                )

    def typed(self) -> Typed:
        """What was typed, once the form is valid."""
        sent = self.cleaned_data
        sets_levels = not sent["in_part"]
        levels = [
            (each, _level(value), number_in(sent[f"level_{each.pk}_seen"]))
            for each in self.criteria
            if (value := sent[f"level_{each.pk}"]) and sets_levels
        ]
        return Typed(
            impression=int(sent["impression"]) if sent["impression"] and sets_levels else None,
            impression_seen=number_in(sent["impression_seen"]),
            levels=levels,
            comments=list(self._comments()),
            of=number_in(sent["of"]) or None,
            locks=sent["locks"],
            in_part=sent["in_part"],
        )

    def _comments(self) -> Any:
        kept = {str(each.key) for each in self.kept}
        for row in self.comments:
            n = row.number - 1
            kind, place = self.cleaned_data[f"kind_{n}"], self.cleaned_data[f"place_{n}"]
            words = self.cleaned_data[f"words_{n}"].replace("\r\n", "\n")
            key, seen = self.cleaned_data[f"key_{n}"], self.cleaned_data[f"seen_{n}"]
            if key in kept or kind or words or place != Place():
                yield _key(key), CommentSent(kind, place, None, words), number_in(seen)


def _level(sent: str) -> int | NotJudged:
    return NOT_MINE if sent == NOT_MINE_SENT else int(sent)


def _key(sent: str) -> uuid.UUID:
    """The comment's own key; a fresh one where none can be read."""
    try:
        return uuid.UUID(sent)
    except ValueError:
        return uuid.uuid4()
