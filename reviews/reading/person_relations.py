"""What is kept that points at a person: what of it an export tells, and what it leaves out and why.

Every key of every model to a person stands in one of the two tables, by model and key; a test
fails where one stands in neither.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from typing import Any

from django.apps import apps
from django.db import models
from django.utils import timezone

from reviews.models import Person

ACCOUNT = "name email opens_studios is_coordinator is_active last_login units lamp plain_type"
"""What of an account is told, field by field."""

ACCOUNT_LEFT_OUT = {
    "id": "a number of the database's",
    "password": "a hash, of which nothing can be read and with which guessing would be easier",
    "erased_at": "blank of everybody who can ask",
}

TOLD: dict[str, tuple[str, ...]] = {
    "Addendum.issued_by": ("brief", "number", "text", "issued_at"),
    "AddendumOpened.person": ("addendum", "at"),
    "Adjustment.ended_by": ("scheme", "effect", "ended_at"),
    "Adjustment.person": ("scheme", "effect", "minutes", "words", "set_at", "ended_at"),
    "Adjustment.set_by": ("scheme", "effect", "minutes", "set_at"),
    "AgreedLevel.by": ("criterion", "scheme", "reason", "at"),
    "AlikeGroup.by": ("scheme", "heading", "at"),
    "AlikeGroup.taken_back_by": ("scheme", "heading", "taken_back_at"),
    "Answer.answered_by": ("kind", "words", "place_now", "answered_at"),
    "Appeal.by": ("crit", "scheme", "ground", "words", "at", "withdrawn_at"),
    "Appeal.decided_by": ("crit", "scheme", "outcome", "decision", "decided_at"),
    "AppealWords.by": ("words", "at"),
    "Attendance.by": ("seat", "state", "words", "at"),
    "AuditLine.of_person": ("deed", "about", "at"),
    "AuditLine.person": ("deed", "about", "at"),
    "Authenticator.user": ("data", "created_at", "last_used_at"),
    "Brief.issued_by": ("studio", "text", "issued_at"),
    "BriefQuestion.answered_by": ("brief", "answer", "answered_at"),
    "BriefQuestion.asked_by": ("brief", "words", "asked_at"),
    "BroughtFile.by": ("package", "name", "kind", "at", "ended_at"),
    "CalendarLink.person": ("made_at",),
    "Change.by": ("schedule", "what", "at", "undone_at"),
    "ClockEntry.by": ("slot", "deed", "minutes", "words", "at"),
    "ClockEntry.taken_back_by": ("slot", "deed", "taken_back_at"),
    "Closing.by": ("is_closed", "words", "at"),
    "Comment.decided_by": ("decided_at",),
    "Comment.held_by": ("held_at", "held_reason"),
    "Consent.person": ("kind", "scheme", "crit", "given_at", "ended_at"),
    "Conversation.by": ("crit", "scheme", "held_on", "minutes", "words", "agreed", "at"),
    "Correction.by": ("was", "now", "reason", "at"),
    "Crit.called_back_by": ("studio", "kind", "day", "called_back_at"),
    "Crit.comments_sent_by": ("studio", "kind", "day", "comments_sent_at"),
    "Crit.issuing_closed_by": ("studio", "kind", "day", "issuing_closed_at"),
    "Crit.quiet_closed_by": ("studio", "kind", "day", "quiet_closed_at"),
    "Crit.release_due_by": ("studio", "kind", "day", "release_due_at"),
    "Crit.released_by": ("studio", "kind", "day", "release_words", "released_at"),
    "Crit.severity_chosen_by": ("studio", "kind", "day", "severity_chosen_at"),
    "Crossing.by": ("seat", "slot", "comes", "reason", "at"),
    "Crossing.taken_back_by": ("seat", "slot", "taken_back_at"),
    "DeskCrit.by": ("scheme", "words", "at"),
    "Duty.person": ("crit", "kind", "slot", "room"),
    "EvidenceBook.by": ("studio", "title", "asked_at"),
    "FormerAnswer.answered_by": ("kind", "words", "place_now", "answered_at"),
    "FormerSheet.reopened_by": ("reason", "reopened_at"),
    "Interest.taken_back_by": ("scheme", "taken_back_at"),
    "JudgedChoice.by": ("slot", "revision", "at"),
    "JurorLetter.by": ("at",),
    "JurySheet.typed_by": ("scheme",),
    "KeptOrder.by": ("crit", "lot", "kept_at"),
    "Mail.person": ("kind", "address", "named", "subject", "state", "queued_at", "sent_at"),
    "Membership.person": ("studio", "role", "is_invited", "school_id"),
    "NextStep.done_by": ("words", "done_at"),
    "Opening.person": ("crit", "at"),
    "OpposedPair.by": ("scheme", "ruling", "at"),
    "OpposedPair.taken_back_by": ("scheme", "taken_back_at"),
    "Option.changed_by": ("scheme", "title", "words", "why", "changed_at"),
    "OwnReleaseWords.by": ("crit", "scheme", "words", "at"),
    "PaperSheets.by": ("crit", "made_at"),
    "Portfolio.changed_by": ("scheme", "title", "words", "credits", "changed_at"),
    "Portfolio.unnamed": ("scheme",),
    "ProofRead.by": ("crit", "scheme", "at"),
    "QuietNote.by": ("crit", "scheme", "kind", "words", "kept_at"),
    "ResultPapers.asked_by": ("crit", "asked_at"),
    "Revision.issued_by": ("scheme", "letter", "issued_at"),
    "Rewording.offered_by": ("words", "offered_at"),
    "Row.changed_by": ("package", "schedule", "cells", "changed_at"),
    "ScriptToken.person": ("name", "made_at", "used_on"),
    "SentPicture.by": ("package", "name", "drawn_by", "ended_at", "why"),
    "SetAside.by": ("studio", "scheme", "key", "reason", "at"),
    "SetAside.taken_back_by": ("studio", "scheme", "key", "taken_back_at"),
    "Sheet.changed_by": ("package", "number", "title", "scale", "changed_at"),
    "SocialAccount.user": ("provider", "uid", "extra_data", "date_joined", "last_login"),
    "SpokenNote.by": ("slot", "typed", "said_at"),
    "SpokenNote.decided_by": ("decided_at",),
    "SpokenNote.held_by": ("held_at", "held_reason"),
    "Studio.opened_by": ("title", "cohort", "year_line", "opened_at"),
    "Verdict.by": ("crit", "scheme", "kind", "words", "at"),
}
"""What is told of each row that points at a person: of what others wrote in it, nothing."""

LEFT_OUT = {
    "EmailAddress.user": "a table of the library for signing in, which nothing here fills",
    "Scheme.members": "told whole, with all that is drawn and typed, as schemes",
    "Revision.students": "told whole, as issued, with its results, as revisions",
}


def keys_to_a_person() -> dict[str, models.Field[Any, Any]]:
    """Every key of every model of the site to a person, by model and key."""
    return {
        f"{model.__name__}.{field.name}": field
        for model in apps.get_models()
        for field in (*model._meta.fields, *model._meta.many_to_many)
        if field.related_model is Person
    }


def account_of(person: Person) -> dict[str, Any]:
    """What an account holds."""
    return {name: plain(getattr(person, name)) for name in ACCOUNT.split()}


def rows_of(person: Person) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Each kind of row that points at a person, with what is told of each."""
    keys = keys_to_a_person()
    for key, names in TOLD.items():
        kept = keys[key].model._base_manager.filter(**{keys[key].name: person})
        if told := list(_told(kept.order_by("pk"), names)):
            yield key, told


def _told(rows: models.QuerySet[Any], names: tuple[str, ...]) -> Iterator[dict[str, Any]]:
    """What is told of each row; of what it points at the words, worked out once each."""
    keys = [name for name in names if rows.model._meta.get_field(name).is_relation]
    words: dict[models.Model, str] = {}
    for row in rows.select_related(*keys) if keys else rows:
        held = {name: getattr(row, name) for name in names}
        for name in keys:
            if held[name] is not None:
                if held[name] not in words:
                    words[held[name]] = str(held[name])
                held[name] = words[held[name]]
        yield {name: plain(value) for name, value in held.items()}


def plain(value: Any) -> Any:
    """A value as JSON has it: moments in the site's time zone, rows by their words."""
    if isinstance(value, datetime):
        return timezone.localtime(value).isoformat(timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, models.Model) else value
