"""One scheme's results as annotations that other programs read, in the names that readers know."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from uuid import NAMESPACE_URL, uuid5

from django.urls import reverse

from reviews.exchange.annotations import (
    Answered,
    Json,
    Noted,
    Stands,
    Where,
    collection_of,
)
from reviews.models import Answer, Comment, SpokenNote
from reviews.pages.results_page import CommentRead, Results
from reviews.pages.spoken_read import UNCONFIRMED, SpokenRead
from reviews.places import COLUMNS, ROWS
from reviews.reading.comment_rulings import REWORDED
from reviews.reading.crit_answers import closing_of
from reviews.reading.rows_pointed_at import rows_pointed_at


def results_annotations(results: Results, whole: Callable[[str], str]) -> Json:
    """What was said of a scheme, less what is held since, with its answers, and what was spoken.

    whole   makes an address of a path of this site
    """
    read_of = [read for read in results.comments if not read.held_at]
    rows = {
        pk: [
            whole(reverse("show-issued-schedule", args=[each.revision, each.schedule]))
            + f"#line-{each.line}"
            for each in found
        ]
        for pk, found in rows_pointed_at(read.comment for read in read_of).items()
    }
    said = [_noted(read, results, rows.get(read.comment.pk, ())) for read in read_of]
    said += [_spoken(read, results) for read in results.spoken if not read.held_at]
    own = _urn(f"results {results.crit.pk} {results.scheme.pk} {results.crit.released_at}")
    label = f"{results.scheme}: {results.crit}"
    return collection_of(own, label, said)


def _urn(name: str) -> str:
    return f"urn:uuid:{uuid5(NAMESPACE_URL, name)}"


def _noted(read: CommentRead, results: Results, rows: Sequence[str]) -> Noted:
    comment = read.comment
    return Noted(
        id=f"urn:uuid:{comment.key}",
        by=read.juror,
        kind=comment.kind,
        words=comment.words,
        tags=(
            comment.kind,
            str(comment.criterion or ""),
            REWORDED if read.is_reworded else "",
        ),
        begun_at=comment.begun_at,
        kept_at=comment.kept_at,
        where=replace(_where(comment, results), rows=rows),
        answer=_answered(read.answer, comment) if read.answer else None,
        stands=_stands(comment),
    )


def _spoken(read: SpokenRead, results: Results) -> Noted:
    note = read.note
    return Noted(
        id=f"urn:uuid:{note.key}",
        by=read.who,
        kind=note.kind,
        words=read.words or read.instead,
        tags=(UNCONFIRMED, note.kind),
        begun_at=note.said_at,
        kept_at=note.kept_at,
        where=_where(note, results),
    )


def _where(comment: Comment | SpokenNote, results: Results) -> Where:
    sheet = comment.issued_sheet
    if sheet is None:
        of = comment.revision
        return Where(_receipt(of.fingerprint) if of else _urn(f"scheme {results.scheme.pk}"))
    return Where(
        source=_receipt(sheet.file.sha256),
        box=_box(comment.zone) if comment.zone else None,
        point=comment.point,
        strokes=comment.drawn,
        width=sheet.file.width,
        height=sheet.file.height,
    )


def _receipt(number: str) -> str:
    return f"urn:sha256:{number}"


def _box(zone: str) -> tuple[float, float, float, float]:
    width, height = 1 / len(COLUMNS), 1 / len(ROWS)
    return COLUMNS.index(zone[1]) * width, ROWS.index(zone[0]) * height, width, height


def _answered(answer: Answer, comment: Comment) -> Answered:
    place = f"Now at {answer.place_now}." if answer.place_now else ""
    words = "\n".join(part for part in (f"{answer.kind}.", answer.words, place) if part)
    by, at = str(answer.answered_by), answer.answered_at
    return Answered(_urn(f"answer to {comment.key}"), by, at, words)


def _stands(comment: Comment) -> Stands | None:
    """Its last closing, or opening again."""
    is_closed, words, by, at = closing_of(comment)
    if at is None:
        return None
    own = _urn(f"closing of {comment.key} {at.isoformat()}")
    return Stands(own, by, at, "Closed" if is_closed else "Open again", words)
