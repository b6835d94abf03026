"""What a juror sends: an impression, a level, a comment, a step aside."""

from __future__ import annotations

import re
import uuid
from datetime import UTC, datetime
from typing import Any

from django import forms
from django.http import HttpRequest
from django.utils.datastructures import MultiValueDict

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.deeds import juror_entering
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.crit_sheet_in_hand import NOTHING_SHOWN
from reviews.deeds.signing_in import still_waits_s
from reviews.forms.fields import AS_TYPED, LineField, of_kind, says
from reviews.forms.places import DrawnField, PlaceField
from reviews.models import Comment, Criterion, Seat
from reviews.models.crits import LEVELS
from reviews.pages.jury_lines import NOT_MINE_SENT
from reviews.strokes import read_point, read_strokes, write_points, write_strokes

ON_SCALE = tuple((str(n), word) for n, word in enumerate(LEVELS, start=1))
MOMENT_MS = re.compile(r"[0-9]{1,14}", re.ASCII)
LONGEST_COMMENT = 4_000
"""Most characters of a comment: a page and a half."""


class VersionField(forms.IntegerField):
    """The version that whoever saves had seen; 0 before there is one."""

    def __init__(self) -> None:
        super().__init__(
            min_value=0,
            widget=forms.HiddenInput,
            error_messages={
                "required": "What was seen is missing. Open the sheet again.",
                "invalid": "What was seen can't be read. Open the sheet again.",
            },
        )


class Saved(forms.Form):
    """A save of one thing, with the version that whoever saves had seen."""

    data: MultiValueDict[str, Any]
    seen = VersionField()

    @property
    def errors_in_words(self) -> str:
        """Every message, for a line that has no place for a field's own."""
        return " ".join(str(message) for errors in self.errors.values() for message in errors)


class SetAtField(forms.CharField):
    """When something was set that waited on a device: ms since 1970 by the site's clock.

    What can't be read is left out: the time at which it was kept stands.
    """

    def __init__(self) -> None:
        super().__init__(required=False, widget=forms.HiddenInput)

    def clean(self, value: Any) -> datetime | None:
        if not isinstance(value, str) or not MOMENT_MS.fullmatch(value):
            return None
        return datetime.fromtimestamp(int(value) / 1000, UTC)


class Judged(Saved):
    """A save of what was said of a revision.

    of       the key of the one that the page showed
    set_at   when it was set, where it waited on the device
    """

    of = forms.IntegerField(
        required=False,
        min_value=NOTHING_SHOWN,
        widget=forms.HiddenInput,
        error_messages={"invalid": "The revision shown can't be read. Open the sheet again."},
    )
    set_at = SetAtField()

    @property
    def where_and_when(self) -> dict[str, Any]:
        """On which revision it was set, and when, where it waited."""
        return {"of": self.cleaned_data["of"], "set_at": self.cleaned_data["set_at"]}


class CodeForm(forms.Form):
    """The short code of a printed strip; wrong ones are counted and slowed as passwords are.

    seat   whose code it is, once the form is valid
    """

    code = LineField("the eight letters and figures on the strip", max_length=40, label="Code")
    seat: Seat | None = None
    is_slowed = False

    def __init__(self, request: HttpRequest, *args: Any, **more: Any) -> None:
        self.request = request
        super().__init__(*args, **more)
        self.fields["code"].widget.attrs.update({"autocomplete": "off", **AS_TYPED})

    def clean_code(self) -> str:
        typed: str = self.cleaned_data["code"]
        if juror_entering.is_refused(self.request):
            self.is_slowed = True
            raise forms.ValidationError(
                "Too many wrong codes from where you are. Wait 15 minutes, or open the link itself."
            )
        if wait := still_waits_s(self.request, juror_entering.TRIED_AS):
            self.is_slowed = True
            raise forms.ValidationError(
                f"Many wrong codes were tried. Each waits a little: wait {wait} s, then type again."
            )
        self.seat = juror_entering.seat_of(typed)
        if self.seat is None:
            juror_entering.keep_wrong(self.request)
            raise forms.ValidationError(
                says(
                    typed,
                    "a code from a strip of a crit that is not over; it holds no l, o, i, 0 or 1",
                )
            )
        return typed


class ImpressionForm(Judged):
    """One level for the whole, before the criteria."""

    level = forms.TypedChoiceField(
        choices=ON_SCALE,
        coerce=int,
        error_messages={
            "required": "No level was read. Expected 1 to 5.",
            "invalid_choice": "Read “%(value)s”. Expected a level from 1 to 5.",
        },
    )


def _level(sent: str) -> int | NotJudged:
    return NOT_MINE if sent == NOT_MINE_SENT else int(sent)


class LevelForm(Judged):
    """One criterion's level, or that it isn't this juror's to judge."""

    level = forms.TypedChoiceField(
        choices=(*ON_SCALE, (NOT_MINE_SENT, "Not mine to judge")),
        coerce=_level,
        error_messages={
            "required": "No level was read. Expected 1 to 5, or not mine to judge.",
            "invalid_choice": "Read “%(value)s”. Expected 1 to 5, or not mine to judge.",
        },
    )


class CommentForm(Judged):
    """A comment: begun with a kind and a place, worded when there is time."""

    key = forms.UUIDField(
        widget=forms.HiddenInput,
        error_messages={"invalid": "Read “%(value)s”. Expected the comment's own key."},
    )
    kind = forms.ChoiceField(
        choices=[("", "No kind yet"), *Comment.Kind.choices],
        required=False,
        error_messages={
            "invalid_choice": f"Read “%(value)s”. Expected one of {', '.join(Comment.Kind.values)}."
        },
    )
    place = PlaceField(help_text="02 C4")
    point = DrawnField(read_point)
    strokes = DrawnField(read_strokes)
    criterion = forms.ModelChoiceField(
        Criterion.objects.none(),
        required=False,
        empty_label="No one criterion",
        error_messages={"invalid_choice": "Expected a criterion of this crit's sheet."},
    )
    words = forms.CharField(
        required=False,
        max_length=LONGEST_COMMENT,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What I see → why it matters → what to do or show",
        error_messages={
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."
        },
    )

    def __init__(self, *args: Any, criteria: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        of_kind(forms.ModelChoiceField, self, "criterion").queryset = criteria
        self.fields["words"].widget.attrs.pop("maxlength", None)  # a long paste is never cut short

    def clean_words(self) -> str:
        return str(self.cleaned_data["words"]).replace("\r\n", "\n").strip()

    def sent(self) -> CommentSent:
        """The contents that were sent."""
        data = self.cleaned_data
        place, point = data["place"], data["point"]
        # whoever types another zone means that one
        if point and point.zone != place.zone:
            point = None
        return CommentSent(
            data["kind"], place, data["criterion"], data["words"], point, data["strokes"]
        )

    @property
    def heads(self) -> list[forms.BoundField]:
        """The fields that stand above the words."""
        return [self["kind"], self["place"], self["criterion"]]

    @property
    def own_key(self) -> uuid.UUID:
        """The comment's key; a fresh one where none could be read."""
        return self.cleaned_data.get("key") or uuid.uuid4()

    def again(self, kept: Comment | None) -> CommentForm:
        """The same form as typed, which has now seen what is kept."""
        data = self.data.copy()
        if kept:
            data["seen"] = kept.version
        auto_id = f"comment-{self.own_key}-%s"
        criteria = of_kind(forms.ModelChoiceField, self, "criterion").queryset
        form = CommentForm(data, criteria=criteria, auto_id=auto_id)
        form.full_clean()
        return form


def comment_form(comment: Comment, criteria: Any, of: int) -> CommentForm:
    """The form of a comment that is kept, on a page that shows a revision."""
    initial = {
        "seen": comment.version,
        "of": of,
        "key": comment.key,
        "kind": comment.kind,
        "place": comment.place,
        "point": write_points([comment.point] if comment.point else []),
        "strokes": write_strokes(comment.drawn),
        "criterion": comment.criterion_id,
        "words": comment.words,
    }
    return CommentForm(criteria=criteria, auto_id=f"comment-{comment.key}-%s", initial=initial)


class RemoveCommentForm(Judged):
    """Takes a comment off the sheet."""


class InterestForm(forms.Form):
    """Leaves the room for a scheme, or only comments; the reason only if the juror writes one."""

    ASIDE, COMMENTS = "aside", "comments"

    how = forms.ChoiceField(
        label="For this scheme I",
        choices=[
            (ASIDE, "step aside: leave the room, no comment, no level"),
            (COMMENTS, "comment, and set no level"),
        ],
        widget=forms.RadioSelect,
        error_messages={
            "required": "Read nothing. Expected one of the two.",
            "invalid_choice": "Read “%(value)s”. Expected one of the two.",
        },
    )
    words = forms.CharField(
        label="Why",
        required=False,
        max_length=240,
        help_text="Kept with the fact, read by the studio leader",
        error_messages={
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["words"].widget.attrs.pop("maxlength", None)
