"""Issue a package: freeze what it holds as a lettered revision, with a receipt."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

import criteria
from criteria.check_sheet.record import as_record
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, Part, Rule, State
from criteria.schedules import BY_SLUG
from reviews import clock, worked_out
from reviews.deeds.audit_keeping import record
from reviews.deeds.mail_queueing import hand_receipts
from reviews.deeds.package_keeping import as_cells, hold
from reviews.models import (
    AuditLine,
    Crit,
    HandInItem,
    IssuedCheckSheet,
    IssuedPackage,
    IssuedSheet,
    Package,
    Person,
    Revision,
    Sheet,
    StoredFinding,
)
from reviews.models.pictures import TitleBlockFields
from reviews.models.revisions import plain_number
from reviews.reading.check_asides import under_asides
from reviews.reading.package_checking import asked_by, todays_sheet
from reviews.reading.row_origins import ORIGINS, standing_origins
from reviews.reading.sheet_marks import SheetMarks, marks_of_sheets, with_read_marks
from reviews.reading.title_block import as_contents, kind_words, proposed_words, title_block_of
from reviews.worked_out import MOST_PACKAGES, Tables, Told, kept

Kind = HandInItem.Kind
Contents = dict[str, Any]


@transaction.atomic
def issue(
    package: Package,
    by: Person,
    at: datetime | None = None,
    *,
    letter: str = "",
    behalf_words: str = "",
) -> Revision:
    """Freeze the package as its next revision.

    letter   the letter that whoever issues it had seen; where that is issued by now, it is
             returned, so that two who issue at once make one revision
    behalf_words   why a leader hands it in for its students; blank where they do
    """
    held = hold(package)
    if letter and (issued := held.scheme.revisions.filter(letter=letter).first()):
        return issued
    at = at or clock.now()
    contents = contents_of(held)
    crit = next_crit(held.scheme.studio.crits.select_for_update(of=("self",)), at, held.scheme_id)
    revision = Revision.objects.create(
        scheme=held.scheme,
        letter=held.letter,
        issued_at=at,
        issued_by=by,
        crit=crit,
        minutes_late=minutes_late(crit, at),
        fingerprint=fingerprint(contents),
        lacks=lacks(held),
        behalf_words=behalf_words,
    )
    if behalf_words:
        told = f"{held.scheme}, revision {revision.letter}"
        record(AuditLine.Deed.HANDED_IN, held.scheme.studio_id, by=by, about=told, at=at)
    IssuedPackage.objects.create(revision=revision, contents=contents)
    revision.students.set(held.scheme.members.all())
    said = [field.name for field in TitleBlockFields._meta.fields]
    IssuedSheet.objects.bulk_create(
        IssuedSheet(
            revision=revision,
            **{name: getattr(sheet, name) for name in (*said, "file", "original")},
        )
        for sheet in held.sheets.select_related("file", "original")
    )
    sheet = todays_sheet(revision)
    IssuedCheckSheet.objects.create(
        revision=revision, library=criteria.__version__, record=as_record(sheet)
    )
    StoredFinding.objects.bulk_create(_stored(revision, under_asides(sheet, held.scheme)))
    hand_receipts(revision)
    return revision


def contents_of(package: Package) -> dict[str, Any]:
    """Everything that a revision freezes, as typed."""
    asked = asked_by(package.scheme.studio.brief)
    origins = standing_origins(package)
    told = {ORIGINS: origins} if origins else {}
    return {**own_contents(package).holds, **asked._asdict(), **told}


@kept(MOST_PACKAGES)
def _filled(tables: Told[Tables]) -> dict[str, list[dict[str, str]]]:
    """Each schedule's rows as an issue freezes them: cells in their order, none that is blank."""
    return {
        slug: filled
        for slug, records in tables.holds.items()
        if (filled := [cells for r in records if (cells := as_cells(BY_SLUG[slug], r))])
    }


def own_contents(
    package: Package,
    sheets: Iterable[Sheet] | None = None,
    marks: Sequence[SheetMarks] | None = None,
) -> Told[Contents]:
    """The part of a package's contents that its students made.

    sheets, marks   its sheets, and what was read on them, where they are at hand
    """
    read = with_read_marks(package, marks_of_sheets(package) if marks is None else marks)
    tables = package.tables(read)
    hung = [
        {**as_contents(title_block_of(sheet)), "sha256": sheet.file.sha256}
        for sheet in (package.sheets.select_related("file") if sheets is None else sheets)
    ]
    return Told(
        worked_out.fingerprint(package.statement, tables, hung),
        {"statement": package.statement, "schedules": _filled(tables), "sheets": hung},
    )


def is_next(package: Package, letter: str) -> bool:
    """Whether a letter is that of the revision in preparation, or was issued."""
    return letter == package.letter or package.scheme.revisions.filter(letter=letter).exists()


def is_changed_since(
    package: Package, revision: Revision, own: Told[Contents] | None = None
) -> bool:
    """Whether anything that its students made differs from an issued revision."""
    return _differs(own or own_contents(package), Told(revision.told, revision))


@kept(MOST_PACKAGES)
def _differs(own: Told[Contents], issued: Told[Revision]) -> bool:
    """The same of contents; what was issued never changes, so it is read once."""
    held = issued.holds.contents
    return any(held.get(name) != made for name, made in own.holds.items())


def fingerprint(contents: dict[str, Any]) -> str:
    """SHA-256 over the contents as JSON: keys in order, no spaces, UTF-8.

    Each sheet stands in it with the SHA-256 of its picture.

    >>> fingerprint({"b": "½", "a": []}) == hashlib.sha256('{"a":[],"b":"½"}'.encode()).hexdigest()
    True
    """
    text = json.dumps(contents, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def is_to_issue(
    package: Package,
    latest: Revision | None,
    at: datetime | None = None,
    own: Told[Contents] | None = None,
) -> bool:
    """Whether there is something to issue: a change, or a crit that nothing is issued for yet."""
    if latest is None or is_changed_since(package, latest, own):
        return True
    crit = next_crit(package.scheme.studio.crits.all(), at or clock.now(), package.scheme_id)
    return crit is not None and latest.crit_id != crit.pk


def next_crit(crits: Iterable[Crit], at: datetime, scheme_id: int = 0) -> Crit | None:
    """Return the crit that a package issued at a moment is for: the first that takes issues.

    crits       in the order of their days
    scheme_id   whose package it is: a re-crit that lacks its slot doesn't ask for it
    """
    day = timezone.localtime(at).date()
    open_ones = (crit for crit in crits if crit.takes_issues(day))
    return next((crit for crit in open_ones if not scheme_id or crit.asks_for(scheme_id)), None)


def minutes_late(crit: Crit | None, at: datetime) -> int:
    """Return whole minutes begun since pens down, 0 where issued in time."""
    if crit is None:
        return 0
    return max(0, math.ceil((at - crit.pens_down).total_seconds() / 60))


def lacks(
    package: Package, own: Told[Contents] | None = None, hung: Sequence[Sheet] | None = None
) -> list[str]:
    """Say what the hand-in list asks for and isn't there, and what nobody has confirmed.

    hung   its sheets, where they are at hand
    """
    hung = list(package.sheets.select_related("file")) if hung is None else hung
    made = (own or own_contents(package, hung)).holds
    sheets = {plain_number(sheet["number"]) for sheet in made["sheets"]}
    waiting = len(package.sent_pictures.waiting().values_list("pk"))
    missing = [f"Pictures that still stand in line: {waiting}"] if waiting else []
    brief = package.scheme.studio.brief
    items = brief.hand_in.all()
    missing += undrawn(items, brief.state_names() if brief.is_issued else (), made["sheets"])
    for item in items:
        if item.kind == Kind.SHEET and plain_number(item.code) not in sheets:
            missing.append(f"Sheet {item.code} {item.title}".strip())
        elif item.kind == Kind.SCHEDULE and item.code not in made["schedules"]:
            schedule = BY_SLUG.get(item.code)
            missing.append(f"{schedule.title if schedule else item.code}: no row yet")
        elif item.kind == Kind.STATEMENT and not made["statement"].strip():
            missing.append("Statement")
    return [*missing, *_unconfirmed(hung)]


def undrawn(
    items: Iterable[HandInItem],
    states: Iterable[str],
    sheets: Sequence[Mapping[str, Any]],
) -> Iterator[str]:
    """Say which kinds and states no sheet shows: those asked for, else each state of the brief."""
    shown = {(sheet.get("kind", ""), sheet.get("state", "")) for sheet in sheets}
    kinds, in_states = ({each[n] for each in shown} for n in (0, 1))
    asked = [item for item in items if item.kind == Kind.SHEET]
    for drawing, state in dict.fromkeys((item.drawing, item.state) for item in asked):
        of_kind = {each for kind, each in shown if kind == drawing} if drawing else in_states
        if state not in of_kind if state else drawing and drawing not in kinds:
            name = ", ".join(part for part in (kind_words(drawing), state) if part)
            yield f"{name}: no sheet shows it"
    bare = [name for name in states if name not in in_states]
    if bare and asked and not any(item.state for item in asked):
        yield f"States that no sheet shows: {', '.join(bare)}"


def _unconfirmed(hung: Iterable[Sheet]) -> Iterator[str]:
    """Say of each sheet what was read and nobody has confirmed."""
    for sheet in hung:
        if sheet.proposed:
            words = proposed_words(sheet.proposed)
            yield f"Sheet {sheet.number}, read and not confirmed: {words}"


def _stored(revision: Revision, sheet: CheckSheet) -> list[StoredFinding]:
    return [
        StoredFinding(
            revision=revision,
            ref=f.ref,
            check_slug=f.check,
            uses=" ".join(sorted(f.uses)),
            rule=str(f.rule),
            title=f.title,
            state=str(f.state),
            value=f.value,
            target=f.target,
            ratio=ratio(f),
        )
        for f in sheet.asked
    ]


def ratio(finding: Finding) -> float | None:
    """Return the worst part's figure as a ratio to its target, 1 or more being met [1].

    Value over target for at least, target over value for at most; None where either is
    missing or nought, and where it is set aside.
    """
    if finding.rule is Rule.ALL or finding.state is State.NOT_ASKED:
        return None
    ratios = [_ratio(part) for part in finding.parts]
    known = [r for r in ratios if r is not None]
    return min(known) if len(known) == len(ratios) else None


def _ratio(part: Part) -> float | None:
    if not part.value or not part.target:
        return None
    return part.value / part.target if part.rule is Rule.AT_LEAST else part.target / part.value
