"""Which checks a comment names, and what became of them from what it was said of until now."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding
from reviews.models import Comment

_WORD = re.compile(r"[A-Za-z]{1,3}\d{1,3}")


@dataclass(frozen=True)
class CheckMove:
    """A target before, as issued with what the comment was said of, and as issued last.

    before, now   None where that revision's brief had no such target, or it kept no check sheet
    is_typed      whether the juror typed its reference; else the comment's criterion rests on it
    """

    ref: str
    before: Finding | None
    now: Finding | None
    is_typed: bool

    @property
    def has_moved(self) -> bool:
        """Whether its state or its figure is another."""
        if self.before is None or self.now is None:
            return self.before is not self.now
        return self._said(self.before) != self._said(self.now)

    @staticmethod
    def _said(finding: Finding) -> tuple[str, str, str]:
        return finding.state.value, finding.write_value(), finding.write_target()

    @property
    def is_telling(self) -> bool:
        """Whether it is shown: typed, or missed or unknown before, or moved."""
        return self.is_typed or self.has_moved or (self.before is None or _asks(self.before))


def _asks(finding: Finding) -> bool:
    return not finding.state.is_met


def named_checks(
    comment: Comment, before: CheckSheet | None, now: CheckSheet | None
) -> list[CheckMove]:
    """The targets that a comment's words name; where none is, those its criterion rests on."""
    was, stands = _by_ref(before), _by_ref(now)
    known = {*was, *stands}
    typed = _once(ref for ref in (w.upper() for w in _WORD.findall(comment.words)) if ref in known)
    criterion = comment.criterion
    refs = typed or _once(
        ref for ref in (criterion.evidence_refs if criterion else ()) if ref in known
    )
    moves = (CheckMove(ref, was.get(ref), stands.get(ref), bool(typed)) for ref in refs)
    return [move for move in moves if move.is_telling]


def _by_ref(sheet: CheckSheet | None) -> dict[str, Finding]:
    return {finding.ref: finding for finding in sheet.asked} if sheet else {}


def _once(refs: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(refs))
