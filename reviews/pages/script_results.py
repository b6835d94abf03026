"""Results as scripts are told them, after release: what their page shows, in the same names."""

from __future__ import annotations

from typing import Any

from criteria.command.schema import VERSION
from reviews.models import Answer, Comment, Correction, SpokenNote
from reviews.pages.results_page import CommentRead, Results
from reviews.pages.script_answers import Json, moment
from reviews.pages.spoken_read import SpokenRead
from reviews.reading.crit_results import CriterionRead, LevelRead


def results_told(about: Json, results: Results, *, hears: bool) -> Json:
    """One scheme's results; `hears`: with what was said aloud."""
    return {
        "version": VERSION,
        "about": about,
        "results": {
            "crit": str(results.crit),
            "day": results.crit.day.isoformat(),
            "released_at": moment(results.crit.released_at),
            "words": results.words,
            "verdict": _verdict(results),
            "revisions": [revision.letter for revision in results.revisions],
            "criteria": [_criterion(each) for each in results.criteria],
            "comments": [_comment(each) for each in results.comments],
            "spoken": [_spoken(each) for each in results.spoken] if hears else None,
        },
    }


def _verdict(results: Results) -> Json | None:
    verdict = results.decided.verdict
    if verdict is None:
        return None
    return {
        "kind": verdict.kind,
        "title": verdict.title,
        "words": verdict.words,
        "at": moment(verdict.at),
        "stays_open": list(verdict.codes),
    }


def _criterion(read: CriterionRead) -> Json:
    return {
        "code": read.criterion.code,
        "name": read.criterion.name,
        "agreed": read.agreed,
        "agreed_since": [
            {"was": was, "now": each.level, "at": moment(each.at), "reason": each.reason}
            for each, was in read.changes
        ],
        "levels": [_level(level) for level in read.levels],
    }


def _level(read: LevelRead) -> Json:
    return {
        "juror": read.juror,
        "level": read.level,
        "word": read.word,
        "revision": read.set_on or None,
        "corrected": [_corrected(each) for each in read.corrections],
    }


def _corrected(each: Correction) -> Json:
    return {"was": each.was, "now": each.now, "at": moment(each.at), "reason": each.reason}


def _comment(read: CommentRead) -> Json:
    comment = read.comment
    told = _said(comment, str(read.number), read.juror, comment.words)
    alike = read.alike.others if read.alike else ()
    return told | {
        "criterion": comment.criterion.code if comment.criterion else None,
        "is_reworded": read.is_reworded,
        "answer": _answer(read.answer) if read.answer else None,
        "is_closed": read.is_closed,
        "opposed": [{"number": str(each.other), "ruling": each.pair.ruling} for each in read.ruled],
        "alike": [str(number) for number in alike],
    }


def _spoken(read: SpokenRead) -> Json:
    words = "" if read.held_at else read.words or read.instead
    return _said(read.note, read.number, read.who, words)


def _said(said: Comment | SpokenNote, number: str, juror: str, words: str) -> Json:
    """What was said, and where; of what is held since, that it was there."""
    point: Any = said.point
    return {
        "number": number,
        "id": f"urn:uuid:{said.key}",
        "kind": said.kind,
        "words": words,
        "juror": juror,
        "revision": said.revision.letter if said.revision else None,
        "is_held": said.held_at is not None,
        "sheet": said.issued_sheet.number if said.issued_sheet else None,
        "square": said.zone or None,
        "point": [point.x, point.y] if point else None,
    }


def _answer(answer: Answer) -> Json:
    return {
        "kind": answer.kind,
        "words": answer.words,
        "place_now": answer.place_now,
        "by": str(answer.answered_by),
        "at": moment(answer.answered_at),
    }
