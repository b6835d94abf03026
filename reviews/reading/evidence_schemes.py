"""What a book of evidence tells of its schemes: package, levels, comments, answers, what changed.

All of them are read by as many queries as one. Told is what students read after a release, and
what became of it: a comment held since leaves its place and no word; a crit that isn't released,
nothing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Prefetch

from criteria.findings import Finding, Rule
from criteria.units import System
from reviews.models import (
    Appeal,
    Closing,
    Comment,
    Crit,
    Criterion,
    IssuedPackage,
    IssuedSheet,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    SpokenNote,
    Verdict,
)
from reviews.models.crits import LEVELS
from reviews.models.revisions import with_issued_checks
from reviews.moments import day_words, moment_words
from reviews.reading.comment_rulings import (
    REWORDED,
    Rulings,
    rulings_of,
    with_words_out,
    words_out,
)
from reviews.reading.crit_agreed import Agreed, agreed_of
from reviews.reading.crit_sheets import level_of, level_text
from reviews.reading.recrit_levels import levels_again

Told = dict[str, Any]
_Key = tuple[int, int]
"""A crit and a scheme."""


@dataclass(frozen=True)
class Read:
    """Everything of some schemes of one studio, by crit and scheme; of sheets, those that count."""

    crits: Sequence[Crit]
    revisions: dict[int, list[Told]]
    sheets: dict[_Key, list[JurySheet]]
    comments: dict[_Key, list[Comment]]
    spoken: dict[_Key, list[SpokenNote]]
    agreed: dict[int, dict[int, Agreed]]
    rulings: dict[int, Rulings]
    verdicts: dict[_Key, list[Verdict]]
    appeals: dict[_Key, list[Appeal]]


def schemes_told(schemes: Sequence[Scheme], crits: Sequence[Crit]) -> list[Told]:
    """Each scheme as the book tells of it; of crits, those that are released."""
    read = _read(schemes, crits)
    return [
        {
            "number": scheme.number,
            "name": scheme.name,
            "by": [member.name for member in scheme.members.all()],
            "withdrawn": moment_words(scheme.withdrawn_at) if scheme.withdrawn_at else "",
            "revisions": read.revisions[scheme.pk],
            "crits": [
                _crit_told(read, crit, scheme)
                for crit in crits
                if any(
                    held[crit.pk, scheme.pk] for held in (read.sheets, read.comments, read.verdicts)
                )
            ],
        }
        for scheme in schemes
    ]


def _read(schemes: Sequence[Scheme], crits: Sequence[Crit]) -> Read:
    of = {"seat__crit__in": crits, "scheme__in": schemes}
    levels = LevelGiven.objects.select_related("revision", "criterion", "changed")
    levels = levels.prefetch_related("corrections__by", "corrections__appeal")
    sheets = JurySheet.objects.counting().filter(**of)
    sheets = sheets.select_related("seat", "impression_revision").order_by("seat__name", "pk")
    spoken = (
        SpokenNote.objects.standing()
        .not_held()
        .filter(slot__crit__in=crits, slot__scheme__in=schemes)
    )
    decided = {"crit__in": crits, "scheme__in": schemes}
    appeals = Appeal.objects.filter(**decided)
    return Read(
        crits,
        _revisions_told(schemes, crits),
        _grouped(
            (each.seat.crit_id, each.scheme_id, each)
            for each in sheets.prefetch_related(Prefetch("levels", levels))
        ),
        _grouped(
            (each.jury_sheet.seat.crit_id, each.jury_sheet.scheme_id, each)
            for each in _comments(schemes, crits)
        ),
        _grouped(
            (each.slot.crit_id, each.slot.scheme_id, each)
            for each in spoken.with_places().select_related("slot")
        ),
        {crit.pk: agreed_of(crit) for crit in crits},
        {crit.pk: rulings_of(crit) for crit in crits},
        _grouped(
            (each.crit_id, each.scheme_id, each)
            for each in Verdict.objects.filter(**decided).select_related("by")
        ),
        _grouped((each.crit_id, each.scheme_id, each) for each in appeals if not each.withdrawn_at),
    )


def _grouped(rows: Iterable[tuple[int, int, Any]]) -> dict[_Key, list[Any]]:
    found: dict[_Key, list[Any]] = defaultdict(list)
    for crit, scheme, row in rows:
        found[crit, scheme].append(row)
    return found


def _comments(schemes: Sequence[Scheme], crits: Sequence[Crit]) -> Any:
    of = {"jury_sheet__seat__crit__in": crits, "jury_sheet__scheme__in": schemes}
    found = with_words_out(Comment.objects.released().filter(**of).with_places())
    found = found.select_related("jury_sheet__seat", "criterion", "answer__answered_by")
    closings = Prefetch("closings", Closing.objects.told().select_related("by"))
    return found.prefetch_related(closings).order_by(
        "issued_sheet__number", "zone", "begun_at", "pk"
    )


def _revisions_told(schemes: Sequence[Scheme], crits: Sequence[Crit]) -> dict[int, list[Told]]:
    """Every revision that was issued for a released crit, or for none, in the order of issue."""
    sheets = IssuedSheet.objects.select_related("file", "original").order_by("number", "pk")
    revisions = Revision.objects.filter(scheme__in=schemes).select_related("crit", "scheme")
    revisions = revisions.prefetch_related("students", Prefetch("sheets", sheets)).order_by("pk")
    released = {crit.pk for crit in crits}
    read = [each for each in revisions if each.crit_id is None or each.crit_id in released]
    held = dict(
        IssuedPackage.objects.filter(revision__in=[each.pk for each in read]).values_list(
            "revision_id", "contents"
        )
    )
    checked = with_issued_checks(revisions)
    checks = {each.pk: _checks(each) for each in checked}
    found: dict[int, list[Told]] = defaultdict(list)
    for each in read:
        told = _revision(each, held.get(each.pk, {}), checks.get(each.pk, []))
        found[each.scheme_id].append(told)
    return found


def _revision(revision: Revision, held: Any, checks: list[list[str]]) -> Told:
    schedules = held.get("schedules", {})
    return {
        "letter": revision.letter,
        "issued": moment_words(revision.issued_at),
        "for": str(revision.crit) if revision.crit else "no crit",
        "late": revision.late_words,
        "by": [student.name for student in revision.students.all()],
        "receipt": revision.fingerprint,
        "lacks": [str(each) for each in revision.lacks],
        "statement": held.get("statement", ""),
        "schedules": {slug: len(rows) for slug, rows in schedules.items() if rows},
        "checks": checks,
        "sheets": [_sheet(each) for each in revision.sheets.all()],
    }


def _sheet(sheet: IssuedSheet) -> Told:
    """A sheet; `sha256` is of its picture, by which it is found again."""
    return {
        "number": sheet.number,
        "title": sheet.title,
        "scale": sheet.scale,
        "drawn_by": sheet.drawn_by,
        "checked_by": sheet.checked_by,
        "sha256": sheet.file.sha256,
        "width": sheet.file.width,
        "height": sheet.file.height,
    }


def _checks(revision: Revision) -> list[list[str]]:
    """Of each target its reference, title, value, what is asked, state and where it was decided."""
    return [
        [
            *(each.ref, each.title, each.write_value(System.METRIC) or "–"),
            *(_asked(each), each.state.word),
            each.situation,
        ]
        for each in revision.issued_checks.holds.asked
    ]


def _asked(finding: Finding) -> str:
    target = finding.write_target(System.METRIC)
    return target if finding.rule is Rule.ALL else f"{finding.rule} {target}".strip()


def _crit_told(read: Read, crit: Crit, scheme: Scheme) -> Told:
    key = crit.pk, scheme.pk
    counting = read.sheets[key]
    agreed = read.agreed[crit.pk].get(scheme.pk, {})
    numbers = {each.pk: n for n, each in enumerate(read.comments[key], start=1)}
    rulings = read.rulings[crit.pk].for_students(
        {each.pk for each in read.comments[key] if not each.held_at}
    )
    verdict = read.verdicts[key][-1] if read.verdicts[key] else None
    return {
        "crit": str(crit),
        "verdict": _verdict(verdict) if verdict else {},
        "jurors": [sheet.seat.name for sheet in counting],
        "criteria": [_criterion(each, counting, agreed) for each in crit.criteria.all()],
        "again": _again(crit, scheme),
        "comments": [_comment(each, rulings, numbers) for each in read.comments[key]],
        "spoken": [_spoken(each) for each in read.spoken[key]],
        "appeals": [_appeal(each) for each in read.appeals[key]],
    }


def _again(crit: Crit, scheme: Scheme) -> list[Told]:
    """Of a re-crit, each level of the whole sheet before and after, and why it stands so."""
    levels = levels_again(crit, scheme)
    return [
        {"criterion": str(each.criterion), "before": each.before, "after": each.after,
         "why": each.why}
        for each in (levels.lines if levels else ())
    ]  # fmt: skip


def _verdict(verdict: Verdict) -> Told:
    return {
        "kind": verdict.get_kind_display(),
        "words": verdict.words,
        "criteria": list(verdict.criteria),
        "by": str(verdict.by),
        "at": moment_words(verdict.at),
    }


def _criterion(criterion: Criterion, counting: list[JurySheet], agreed: Agreed) -> Told:
    stands = agreed.get(criterion.pk)
    return {
        "code": criterion.code,
        "name": criterion.name,
        "agreed": str(stands.level) if stands else "",
        "agreed_word": LEVELS[stands.level - 1] if stands and stands.level else "",
        "reason": stands.reason if stands else "",
        "levels": [_level(criterion, sheet) for sheet in counting],
    }


def _level(criterion: Criterion, sheet: JurySheet) -> Told:
    given = sheet.given_for(criterion)
    level = level_of(given)
    figure = level if isinstance(level, int) else None
    return {
        "juror": sheet.seat.name,
        "level": level_text(level) or "no level",
        "word": LEVELS[figure - 1] if figure else "",
        "descriptor": getattr(criterion, f"level_{figure}") if figure else "",
        "on": given.revision.letter if given and given.revision else "",
        "corrections": [
            {
                "was": each.was or "no level",
                "now": each.now,
                "reason": each.reason,
                "by": str(each.by),
                "at": moment_words(each.at),
                "appeal": "after an appeal" if each.appeal_id else "",
            }
            for each in (given.corrections.all() if given else ())
        ],
    }


def _comment(comment: Comment, rulings: Rulings, numbers: dict[int, int]) -> Told:
    if comment.held_at:
        return {"place": comment.place, "held": "held since the release: on request"}
    words, is_reworded = words_out(comment)
    answer = getattr(comment, "answer", None)
    return {
        "place": comment.place,
        "on": comment.revision.letter if comment.revision else "",
        "juror": comment.jury_sheet.seat.name,
        "kind": comment.kind,
        "criterion": comment.criterion.code if comment.criterion else "",
        "words": words,
        "reworded": REWORDED if is_reworded else "",
        "opposed": [
            {
                "by": numbers[pair.other(comment.pk)],
                "ruling": pair.ruling,
                "argue_by": day_words(pair.argue_by) if pair.argue_by else "",
            }
            for pair in rulings.pairs_of(comment.pk)
        ],
        "alike": _alike(comment.pk, rulings, numbers),
        "answer": {
            "kind": answer.kind,
            "words": answer.words,
            "place": answer.place_now,
            "by": str(answer.answered_by),
            "at": moment_words(answer.answered_at),
        }
        if answer
        else {},
        "closings": [
            {
                "state": "closed" if each.is_closed else "opened again",
                "words": each.words,
                "by": str(each.by),
                "at": moment_words(each.at),
            }
            for each in comment.closings.all()
        ],
    }


def _alike(comment_id: int, rulings: Rulings, numbers: dict[int, int]) -> Told:
    """Who says the same: how many jurors, under which heading, and the numbers of the others."""
    alike = rulings.group_of(comment_id)
    if alike is None:
        return {}
    others = sorted(numbers[pk] for pk in alike.seats if pk != comment_id)
    return {"jurors": alike.words, "heading": alike.group.heading, "comments": others}


def _spoken(note: SpokenNote) -> Told:
    """What was said aloud and its juror didn't confirm, as it is read."""
    return {
        "place": note.place,
        "juror": note.seat.name if note.seat else "nobody known",
        "kind": note.kind,
        "words": note.words or ("something was missed here" if note.is_gap else ""),
    }


def _appeal(appeal: Appeal) -> Told:
    """What became of an appeal; its words are between student, leader and coordinator."""
    return {
        "ground": appeal.get_ground_display(),
        "made": day_words(appeal.at.date()),
        "outcome": appeal.get_outcome_display() if appeal.outcome else "not decided yet",
        "decision": appeal.decision,
    }
