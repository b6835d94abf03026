"""Forms of files that are brought to a package: the file itself, answers, and what is ticked."""

from __future__ import annotations

from collections.abc import Mapping

from django import forms
from django.http import QueryDict

from reviews.deeds.file_taking import Choices
from reviews.exchange.kinds import KINDS
from reviews.forms.fields import number_in

ANSWER = "answer-"


class FileForm(forms.Form):
    """One file to be read."""

    file = forms.FileField(
        label="File",
        allow_empty_file=True,
        help_text="It is read at once; nothing is kept before you say what.",
        error_messages={"required": "Read nothing. Expected a file."},
        widget=forms.FileInput(attrs={"accept": ",".join(e for kind in KINDS for e in kind.ends)}),
    )


def read_answers(sent: QueryDict) -> Mapping[str, str]:
    """The answers to a reader's questions, by their names."""
    return {
        key.removeprefix(ANSWER): str(value)
        for key, value in sent.items()
        if key.startswith(ANSWER) and value
    }


def read_choices(sent: QueryDict) -> Choices:
    """What is ticked; a tick that names nothing is none."""
    cells = (each.partition(":") for each in sent.getlist("cell"))
    return Choices(
        rows=frozenset(number_in(each, -1) for each in sent.getlist("row")),
        cells=frozenset((number_in(number, -1), head) for number, _, head in cells),
        gone=frozenset(number_in(each, -1) for each in sent.getlist("gone")),
    )
