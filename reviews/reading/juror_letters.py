"""What became of each juror's remarks, as a letter would tell it: with their students' consent."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from reviews.models import (
    Closing,
    Comment,
    Consent,
    Crit,
    JurorLetter,
    Revision,
    Scheme,
    Seat,
    StoredFinding,
    Verdict,
)
from reviews.reading.comment_rulings import as_they_go_out
from reviews.reading.crit_sheets import judged_revisions
from reviews.worked_out import fingerprint

Contents = list[dict[str, Any]]
"""A scheme each: number and name, verdict, checks that moved, and the juror's remarks."""


@dataclass(frozen=True)
class LetterRead:
    """The letter to one juror, as it went out or as it would.

    contents   of schemes whose students allow it
    left_out   how many more schemes the juror remarked on, whose students don't
    open       how many of the remarks told have no answer yet
    sent       the letter, where it went out
    """

    seat: Seat
    contents: Contents
    left_out: int = 0
    open: int = 0
    sent: JurorLetter | None = None

    @property
    def remarks(self) -> int:
        """How many remarks it tells of."""
        return sum(len(each["remarks"]) for each in self.contents)

    @property
    def is_to_send(self) -> bool:
        """Whether there is anything to tell, and it wasn't told."""
        return bool(self.contents) and self.sent is None

    @property
    def left_out_words(self) -> str:
        """How many schemes it leaves out, naming none."""
        if not self.left_out:
            return ""
        many = "One scheme" if self.left_out == 1 else f"{self.left_out} schemes"
        return f"{many} that you remarked on {'is' if self.left_out == 1 else 'are'} not told of."


@dataclass(frozen=True)
class Letters:
    """All letters of a crit.

    consenting   schemes whose students allow it, of those with a remark
    """

    crit: Crit
    letters: list[LetterRead]
    consenting: int
    schemes: int
    seen: str = field(default="")

    @property
    def to_send(self) -> list[LetterRead]:
        """Those that would go out."""
        return [each for each in self.letters if each.is_to_send]

    def of(self, seat_id: int) -> LetterRead | None:
        """That of one juror."""
        return next((each for each in self.letters if each.seat.pk == seat_id), None)


def consenting_schemes(crit: Crit) -> set[int]:
    """The schemes of which a student allows that jurors of a crit read what became of remarks."""
    standing = Consent.objects.filter(kind=Consent.Kind.LETTER, crit=crit, ended_at=None)
    return {*standing.values_list("scheme_id", flat=True)}


def letters_of(crit: Crit) -> Letters:
    """Every juror's letter of a released crit, in a fixed number of queries."""
    consents = consenting_schemes(crit)
    sent = {each.seat_id: each for each in JurorLetter.objects.filter(seat__crit=crit)}
    closed = {
        each.comment_id: each.is_closed
        for each in Closing.objects.standing().filter(comment__jury_sheet__seat__crit=crit)
    }
    remarks: dict[int, dict[Scheme, list[Comment]]] = defaultdict(lambda: defaultdict(list))
    comments = Comment.objects.released().not_held().filter(jury_sheet__seat__crit=crit)
    comments = comments.select_related("jury_sheet__scheme", "issued_sheet", "revision", "answer")
    ordered = comments.order_by("jury_sheet__scheme__number", "begun_at", "pk")
    for comment in as_they_go_out(ordered):
        remarks[comment.jury_sheet.seat_id][comment.jury_sheet.scheme].append(comment)
    verdicts = {each.scheme_id: each for each in Verdict.objects.standing().filter(crit=crit)}
    moved = _moved(crit)
    letters = []
    for seat in crit.seats.named():
        told = {scheme: said for scheme, said in remarks[seat.pk].items() if scheme.pk in consents}
        contents = [
            _told(scheme, said, verdicts.get(scheme.pk), moved.get(scheme.pk, []), closed)
            for scheme, said in told.items()
        ]
        letters.append(_letter(seat, contents, len(remarks[seat.pk]) - len(told), sent))
    seen = fingerprint([(each.seat.pk, each.contents, each.left_out) for each in letters])
    schemes = {scheme.pk for of_seat in remarks.values() for scheme in of_seat}
    return Letters(crit, letters, len(schemes & consents), len(schemes), seen)


def _letter(
    seat: Seat, contents: Contents, left_out: int, sent: Mapping[int, JurorLetter]
) -> LetterRead:
    if letter := sent.get(seat.pk):
        return LetterRead(seat, letter.contents, sent=letter)
    unanswered = sum(not each["answer"] for told in contents for each in told["remarks"])
    return LetterRead(seat, contents, left_out, unanswered)


def _told(
    scheme: Scheme,
    said: list[Comment],
    verdict: Verdict | None,
    moved: list[str],
    closed: Mapping[int, bool],
) -> dict[str, Any]:
    return {
        "scheme_id": scheme.pk,
        "scheme": str(scheme),
        "verdict": verdict.get_kind_display() if verdict else "",
        "checks": moved,
        "remarks": [_remark(comment, closed.get(comment.pk, False)) for comment in said],
    }


def _remark(comment: Comment, is_closed: bool) -> dict[str, str]:
    answer = getattr(comment, "answer", None)
    return {
        "kind": comment.kind,
        "place": comment.place,
        "revision": comment.revision.letter if comment.revision else "",
        "words": comment.words,
        "answer": answer.kind if answer else "",
        "answer_words": answer.words if answer else "",
        "place_now": answer.place_now if answer else "",
        "state": "closed" if is_closed else "",
    }


def facts_of(told: Mapping[str, Any]) -> list[tuple[str, str]]:
    """What a letter tells of one scheme, a label and a line each."""
    facts = [
        (f"{told['scheme']}, {each['kind']} {each['place']}".rstrip(" ,"), remark_words(each))
        for each in told["remarks"]
    ]
    if told["verdict"]:
        facts.append((f"{told['scheme']}, verdict", told["verdict"]))
    if told["checks"]:
        facts.append((f"{told['scheme']}, checks that moved", "; ".join(told["checks"])))
    return facts


def remark_words(told: Mapping[str, str]) -> str:
    """One remark with what became of it, in a line."""
    said = f"“{told['words']}” → " if told["words"] else ""
    words = f": “{told['answer_words']}”" if told["answer_words"] else ""
    place = f" Now at {told['place_now']}." if told["place_now"] else ""
    state = " Closed." if told["state"] else ""
    return f"{said}{told['answer'] or 'no answer'}{words}.{place}{state}"


def _moved(crit: Crit) -> dict[int, list[str]]:
    """By scheme, the checks whose state moved from the revision judged to the last issued."""
    judged = {each.scheme_id: each.pk for each in judged_revisions(crit)}
    last = dict(
        Revision.objects.filter(scheme__in=judged).order_by("pk").values_list("scheme_id", "pk")
    )
    states: dict[int, dict[str, tuple[str, str]]] = defaultdict(dict)
    found = StoredFinding.objects.filter(revision__in=[*judged.values(), *last.values()])
    for revision, ref, title, state in found.values_list("revision", "ref", "title", "state"):
        states[revision][ref] = title, state
    moved: dict[int, list[str]] = {}
    for scheme, was in judged.items():
        before, after = states[was], states[last[scheme]]
        moved[scheme] = [
            f"{ref} {title}: {before[ref][1].lower()}, now {state.lower()}"
            for ref, (title, state) in sorted(after.items())
            if ref in before and before[ref][1] != state
        ]
    return moved
