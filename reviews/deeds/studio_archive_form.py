"""How one studio lies in an archive that another installation reads.

The archive is a ZIP of a list (manifest.json), a table a model (CSV, described twice) and the files
by their SHA-256. A row has no number of ours: it is known by its line, and keys between rows are
lines of the other table, so that nothing outside of the archive can be named. Which rows are a
studio's follows from the models: those that lead to it by their keys. People, pictures and files as
they were sent come along where such a row names them.
"""

from __future__ import annotations

from collections import deque
from functools import lru_cache
from typing import Any

from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q

from reviews.models import (
    AgreedLevel,
    AuditLine,
    JurySheet,
    Original,
    Person,
    Seat,
    SheetFile,
    Studio,
)
from reviews.models.jury import NEVER_LOCKED

FORMAT = 2
"""With tables as CSV; those of format 1 are lines of JSON, and still come in."""
MANIFEST = "manifest.json"
Model = type[models.Model]
Field = models.Field[Any, Any]

LEFT_OUT = {
    "adjustment": "how somebody presents, and why, stays where it was agreed",
    "archived": "of this place",
    "broughtfile": "what became of a file here; the rows themselves say where they are from",
    "calendarlink": "a secret",
    "change": "what can be undone here, which repeats numbers of this place",
    "keptorder": "what calendars were told here",
    "mail": "letters of this place",
    "papersheets": "made again on the day",
    "phrase": "a juror's own",
    "picturechange": "found again",
    "privatenote": "a juror's own: nobody else ever reads it",
    "resultpapers": "made again from what is there",
    "roomlink": "a secret",
    "scripttoken": "a secret",
    "sentpicture": "files in the line of this place",
    "tally": "of this place",
    "unwantedmail": "of addresses, whatever the studio",
}
"""Models whose rows don't go along, and why."""

CARRIED = (Person, SheetFile, Original)
"""Models that lead to no studio, of which those rows go along that others name."""

PERSON_FIELDS = ("name", "email", "erased_at")
"""Of an account what goes along: never a password, a right or a choice."""

NOT_TOLD = {
    Studio: ("archive_key", "brought_at", "brought_receipt", "follows"),
    Seat: ("code", "opened_at"),
    SheetFile: ("small", "tiles"),
}
"""Fields that stay here: secrets, and what is made again."""
NOT_TOLD_OF_CRITS = ("release_due_at", "release_due_by", "release_seen", "release_stopped")
"""No crit is released by itself where its studio is brought in."""

STAYING = {
    AuditLine: Q(deed__in=(AuditLine.Deed.STUDIO_OUT, AuditLine.Deed.STUDIO_IN)),
    JurySheet: NEVER_LOCKED,
}
"""Rows that stay, with all that must name them: what tells of going out and coming in, and sheets
that their jurors never locked, which nobody else ever reads."""

ADDRESSES = {"Person.email", "Seat.email", "Membership.school_id"}
"""What somebody is found by: it goes along where that is asked for."""
KEYS_IN_JSON: dict[str, Model] = {f"{AgreedLevel.__name__}.stood_on": Seat}
"""Fields that hold numbers of rows as heads."""

Record = dict[str, Any]


def label_of(model: Model) -> str:
    """What its table is called in an archive."""
    return model._meta.model_name or ""


@lru_cache(maxsize=1)
def archived_models() -> tuple[Model, ...]:
    """Every model whose rows go along, what a row names before the row."""
    ours = [
        model
        for model in apps.get_app_config("reviews").get_models()
        if label_of(model) not in LEFT_OUT
    ]
    found: list[Model] = []

    def place(model: Model, above: tuple[Model, ...]) -> None:
        if model in found or model in above:
            return
        for other in _named_by(model):
            if other in ours:
                place(other, (*above, model))
        found.append(model)

    for model in ours:
        place(model, ())
    return tuple(found)


def _named_by(model: Model) -> list[Model]:
    return [
        other_of(field)
        for field in told_fields(model)
        if field.is_relation and other_of(field) is not model
    ]


def other_of(field: Field) -> Model:
    """The model that a key leads to."""
    other: Model = field.related_model  # type: ignore[assignment]
    return other


@lru_cache(maxsize=256)
def told_fields(model: Model) -> tuple[Field, ...]:
    """The fields of a model that go along, those of several keys last."""
    if model is Person:
        return tuple(f for f in Person._meta.concrete_fields if f.name in PERSON_FIELDS)
    without = {"id", *NOT_TOLD.get(model, ())}
    if label_of(model) == "crit":
        without |= {*NOT_TOLD_OF_CRITS}
    fields = (*model._meta.concrete_fields, *model._meta.many_to_many)
    return tuple(
        field
        for field in fields
        if field.name not in without
        and not (field.is_relation and label_of(other_of(field)) in LEFT_OUT)
    )


@lru_cache(maxsize=256)
def way_to_studio(model: Model) -> str:
    """The way of keys from a row to its studio, the shortest of those that must be there."""
    if model is Studio:
        return "pk"
    if model in CARRIED:
        return ""
    for may_be_blank in (False, True):
        queue: deque[tuple[Model, tuple[str, ...]]] = deque([(model, ())])
        seen = {model}
        while queue:
            here, way = queue.popleft()
            for field in here._meta.concrete_fields:
                other = field.related_model
                if not isinstance(other, type) or other in (Person, here):
                    continue
                if field.null and not may_be_blank:
                    continue
                if other is Studio:
                    return "__".join((*way, field.name))
                if other not in seen:
                    seen.add(other)
                    queue.append((other, (*way, field.name)))
    raise LookupError(f"{model.__name__} leads to no studio")


def file_fields(model: Model) -> list[models.FileField]:
    """Its fields that name files which go along."""
    return [field for field in told_fields(model) if isinstance(field, models.FileField)]


def read_value(field: Field, raw: Any) -> Any:
    """A plain value as its field has it. Raises ValidationError with what was expected."""
    if raw is None:
        if not field.null:
            raise ValidationError("a value")
        return None
    if isinstance(field, models.JSONField):
        return raw
    if isinstance(raw, dict | list):
        raise ValidationError("one value")
    value = field.to_python(raw)
    if field.choices and value not in (*dict(field.flatchoices), *field.empty_values):
        raise ValidationError(f"one of {', '.join(map(str, dict(field.flatchoices)))}")
    field.run_validators(value)
    if isinstance(field, models.CharField) and len(value) > (field.max_length or len(value)):
        raise ValidationError(f"at most {field.max_length} characters")
    return value
