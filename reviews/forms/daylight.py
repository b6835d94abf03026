"""A trial of a room's windows: a line for each, read in the person's units, refused in place."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.http import QueryDict

from criteria.errors import Refused
from criteria.plans.openings import SILL_M, longest_gap_m
from criteria.plans.plan import Placed, RoomPlan
from criteria.plans.trial import FRAME_M, misplaced
from criteria.schedules.openings import Window
from criteria.units import LENGTH, THOUSANDS, Notation, System
from reviews.forms.columns import CellField
from reviews.forms.fields import ChosenField, number_in, says
from reviews.models import Change
from reviews.versions import Newer

SIZES = {"left": "left", "sill": "sill", "width": "glass_w", "height": "glass_h"}
"""Fields of a line, and the columns of the window schedule that they are."""
MOST_OPENINGS = 24


class OpeningForm(forms.Form):
    """One window of a trial."""

    row = forms.CharField(required=False, widget=forms.HiddenInput, max_length=12)
    mark = forms.CharField(widget=forms.HiddenInput, max_length=12)
    drop = forms.BooleanField(required=False, label="Drop")

    def __init__(
        self, like: Placed, plan: RoomPlan, notation: Notation, data: Any = None, *, prefix: str
    ) -> None:
        self.like, self.notation = like, notation
        self.is_rooflight = like.is_rooflight
        columns = {name: Window.schedule.column(head) for name, head in SIZES.items()}
        if like.is_rooflight:
            columns["sill"] = Window.schedule.column("from_wall")
        shown = {name: _shown(like, name, notation.system) for name in SIZES}
        start = {"row": like.row, "mark": like.mark, "face": like.face, **shown}
        super().__init__(data, initial=start, prefix=prefix)
        faces = ("up",) if like.is_rooflight else plan.faces
        words = [(face, "ceiling" if face == "up" else face) for face in faces]
        self.fields["face"] = ChosenField(
            "one of: " + ", ".join(word for _, word in words), choices=words, label="Wall"
        )
        for name, column in columns.items():
            self.fields[name] = CellField(column, notation)
            self.fields[name].required = True
            self.fields[name].error_messages["required"] = says(
                None, column.expected(notation.system)
            )
        for name in ("face", *SIZES, "drop"):
            attrs = {"aria-label": f"{like.mark}, {self.fields[name].label}"}
            if name != "drop":
                attrs["aria-describedby"] = f"{self[name].auto_id}_error"
            self.fields[name].widget.attrs |= attrs

    @property
    def cells(self) -> list[forms.BoundField]:
        """The fields that are seen, in the order of the table."""
        return [self[name] for name in ("face", *SIZES)]

    @property
    def placed(self) -> Placed | None:
        """The opening as the line has it; None where it is dropped."""
        if self.cleaned_data["drop"]:
            return None
        values = {
            f"{name}_m": getattr(self.like, f"{name}_m")
            if self.cleaned_data[name] == self.initial[name]
            else Window.schedule.column(head).read(self.cleaned_data[name], self.notation)
            for name, head in SIZES.items()
        }
        return replace(self.like, face=self.cleaned_data["face"], **values)


def _shown(placed: Placed, name: str, system: System) -> str:
    column = Window.schedule.column(SIZES[name])
    return column.show(getattr(placed, f"{name}_m"), system).replace(THOUSANDS[system], "")


class TrialForm:
    """All windows of a room in a trial.

    seen    the last change of the window schedule that whoever tries had seen (0: none)
    key     made for one adoption, so that adopting twice adopts once
    """

    def __init__(
        self,
        plan: RoomPlan,
        notation: Notation,
        *,
        seen: int,
        new_mark: str,
        data: QueryDict | None = None,
    ) -> None:
        self.plan, self.notation, self.new_mark = plan, notation, new_mark
        self.is_bound, self.trouble = data is not None, ""
        self.seen = number_in(data.get("seen", "")) if data is not None else seen
        self.key = _uuid(data.get("key", "")) if data is not None else uuid4()
        if data is not None and data.get("add"):
            data = self._with_one_more(data)
        self.lines = self._bound(data) if data is not None else self._fresh()

    def _fresh(self) -> list[OpeningForm]:
        return [
            OpeningForm(placed, self.plan, self.notation, prefix=f"o{number}")
            for number, placed in enumerate(self.plan.openings)
        ]

    def _bound(self, data: QueryDict) -> list[OpeningForm]:
        own = {placed.mark: placed for placed in self.plan.openings}
        lines = []
        for number in range(min(number_in(data.get("lines", "")), MOST_OPENINGS)):
            mark = data.get(f"o{number}-mark", "")
            like = own.get(mark) or self._new(mark or self.new_mark)
            lines.append(OpeningForm(like, self.plan, self.notation, data, prefix=f"o{number}"))
        return lines

    def _with_one_more(self, data: QueryDict) -> QueryDict:
        """Return what was sent with a new window's line behind it."""
        more = data.copy()
        count = number_in(data.get("lines", ""))
        if count >= MOST_OPENINGS:
            return more
        taken = {data.get(f"o{number}-mark") for number in range(count)}
        mark, n = self.new_mark, 1
        while mark in taken:
            mark, n = f"{self.new_mark}{chr(ord('a') + n)}", n + 1
        new = self._new(mark)
        sizes = {name: _shown(new, name, self.notation.system) for name in SIZES}
        for name, text in {"mark": mark, "row": "", "face": new.face, **sizes}.items():
            more[f"o{count}-{name}"] = text
        more["lines"] = str(count + 1)
        return more

    def _new(self, mark: str) -> Placed:
        """A window like the room's first, in the middle of the longest free wall beside it."""
        upright = self.plan.upright
        plain = Placed(
            mark=mark,
            row="",
            face=self.plan.faces[2],
            left_m=0.0,
            width_m=0.9,
            height_m=min(1.0, self.plan.shell.height_m / 2),
            sill_m=min(SILL_M, self.plan.shell.height_m / 2),
            frame_m=FRAME_M,
        )
        like = replace(upright[0], mark=mark, row="", is_assumed=False) if upright else plain
        length = self.plan.shell.wall_length_m(self.plan.wall_of(like.face))
        start, end = longest_gap_m([o for o in upright if o.face == like.face], length)
        wide = min(like.width_m, round(0.8 * (end - start), 3))
        return replace(like, width_m=wide, left_m=round((start + end - wide) / 2, 3))

    def is_valid(self) -> bool:
        """Whether every line can be read and all stand clear of each other in the room."""
        if not self.is_bound:
            return False
        read = [line for line in self.lines if line.is_valid()]
        standing = [(line, placed) for line in read if (placed := line.placed) is not None]
        self.trial = self.plan.with_openings([placed for _, placed in standing])
        # lines that can be read are held to each other, whatever the others say
        for trouble in misplaced(self.trial, self.notation.system):
            line, _ = standing[trouble.index]
            line.add_error(trouble.field, f"Read {trouble.read}. Expected {trouble.expected}.")
        return not any(line.errors for line in self.lines)

    @property
    def unit(self) -> str:
        """Unit of a bare number."""
        return LENGTH.unit(self.notation.system).symbol

    @property
    def is_refused(self) -> bool:
        """Whether a line can't be read or can't stand as it is typed."""
        return self.is_bound and any(line.errors for line in self.lines)

    def say_refused(self, refused: Newer | Refused, last: Change | None) -> None:
        """Say why a trial was not adopted; the next try is made knowing what stands."""
        if isinstance(refused, Refused):
            self.trouble = f"Read {refused.read}. Expected {refused.expected}."
            return
        self.seen = last.pk if last else 0
        self.key = uuid4()
        by = f" by {last.by}: {last.what}" if last else ""
        self.trouble = (
            f"The window schedule was changed meanwhile{by}. Nothing was adopted. The trial stands "
            "below as it was typed, beside the schedule as it is now."
        )


def _uuid(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        return uuid4()
