"""Bring a file to a package: read apart, kept as what it proposes, answered, cleared in time."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from functools import partial
from typing import IO

from django.core.files.base import File
from django.db import transaction
from django.utils import timezone

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, SCHEDULES
from criteria.typed import quantities
from criteria.typed.columns import Column
from criteria.units import Notation
from reviews.deeds.file_reading import kind_that_is_read, read_apart
from reviews.deeds.table_bringing import Preview
from reviews.exchange.proposed import How, Proposal, ProposedCell, ProposedRow
from reviews.models import BroughtFile, Package, Person, Revision
from reviews.models.brought import OPEN_FOR
from reviews.reading.earlier_rows import records_as_issued

TABLE = "table"
REVISION = "revision"
"""The kind of what is brought of an earlier revision, and not of a file."""

LONGEST_NAME = 255


def bring_file(package: Package, name: str, file: IO[bytes], by: Person) -> BroughtFile:
    """Read a file and keep what it proposes, until somebody says what is taken over.

    Raises Refused with what was read and what was expected.
    """
    kind = kind_that_is_read(name, file)
    proposal = _for_students(read_apart(kind.name, name, file))
    file.seek(0)
    digest = hashlib.file_digest(file, "sha256").hexdigest()  # type: ignore[arg-type]
    file.seek(0)
    brought = BroughtFile(
        package=package,
        by=by,
        name=name[-LONGEST_NAME:],
        kind=kind.name,
        digest=digest,
        told=proposal.as_json(),
    )
    if proposal.questions:
        brought.file.save(f"{brought.key}", File(file), save=False)
    brought.save()
    return brought


def answer(brought: BroughtFile, answers: Mapping[str, str]) -> BroughtFile:
    """Read a file again with answers to its questions; an answer that is no choice is left out.

    Raises Refused where it can't be read so, or isn't here any more.
    """
    if brought.ended_at or not brought.file:
        raise Refused(f"{brought.name}, which isn't kept here any more", "it sent once more")
    asked = {q.name: {value for value, _ in q.choices} for q in brought.proposal.questions}
    known = {name: given for name, given in answers.items() if given in asked.get(name, ())}
    together = {**brought.answers, **known}
    with brought.file.open("rb") as file:
        proposal = _for_students(read_apart(brought.kind, brought.name, file, together))
    return _answered(brought, together, proposal)


@transaction.atomic
def _answered(brought: BroughtFile, answers: Mapping[str, str], proposal: Proposal) -> BroughtFile:
    """Keep what was read with answers, unless somebody took it over or set it aside meanwhile."""
    held = BroughtFile.objects.select_for_update().get(pk=brought.pk)
    if held.ended_at:
        raise Refused(f"{held.name}, which was done with meanwhile", "it sent once more")
    held.answers, held.told = dict(answers), proposal.as_json()
    held.save(update_fields=["answers", "told"])
    return held


def bring_revision(package: Package, revision: Revision, by: Person) -> BroughtFile:
    """Propose the rows of an earlier revision, of this scheme or another."""
    rows = tuple(
        ProposedRow(
            schedule=schedule.slug,
            cells={
                head: ProposedCell(
                    text=_as_kept(schedule.column(head), text, revision.notation, package.notation),
                    how=How.WRITTEN,
                    place=f"{schedule.title.lower()} of revision {revision.letter}",
                )
                for head, text in record.items()
                if head in schedule.heads
            },
        )
        for schedule in SCHEDULES
        for record in records_as_issued(revision, schedule)
    )
    return BroughtFile.objects.create(
        package=package,
        by=by,
        name=str(revision)[:LONGEST_NAME],
        kind=REVISION,
        told=Proposal(kind=REVISION, rows=rows).as_json(),
    )


def bring_table(package: Package, name: str, preview: Preview, by: Person) -> BroughtFile:
    """Propose the lines of a pasted table, as they were read for one schedule."""
    rows = tuple(
        ProposedRow(
            schedule=preview.schedule.slug,
            cells={
                head: ProposedCell(text=text, place=f"line {number}")
                for head, text in record.items()
                if text.strip()
            },
        )
        for number, record in enumerate(preview.records, start=1)
    )
    said = [f"{cell}." for cell in preview.elsewhere]
    if preview.ignored:
        said.append(f"Heads that mean no column, left out: {', '.join(preview.ignored)}.")
    proposal = Proposal(kind=TABLE, rows=rows, said=tuple(said))
    return BroughtFile.objects.create(
        package=package, by=by, name=name[:LONGEST_NAME], kind=TABLE, told=proposal.as_json()
    )


def _as_kept(column: Column, text: str, from_: Notation, to: Notation) -> str:
    """A cell of another studio's decimal sign as it is kept under this one's."""
    if column.scale is None or from_.decimal is to.decimal:
        return text
    with suppress(Refused):
        read = quantities.read(text, column.scale, from_.kept)
        return quantities.plain(f"{float(column.scale.metric.from_si(read.si)):.12f}")
    return text


def _for_students(proposal: Proposal) -> Proposal:
    """The same without rows of what the leader fills in, which is said."""
    slugs = {schedule.slug for schedule in SCHEDULES}
    others = dict.fromkeys(r.schedule for r in proposal.rows if r.schedule not in slugs)
    if not others:
        return proposal
    titles = [BY_SLUG[slug].title if slug in BY_SLUG else slug for slug in others]
    told = Proposal.as_json(proposal)
    told["rows"] = [row for row in told["rows"] if row["schedule"] in slugs]
    told["said"] = [*proposal.said, f"Left out, for it is the brief's: {', '.join(titles)}."]
    return Proposal.of_json(told)


@transaction.atomic
def clear_waiting() -> int:
    """Let go of proposals that nobody said anything of in time, with their files; how many."""
    late = BroughtFile.objects.open().filter(at__lt=timezone.now() - OPEN_FOR)
    files = [each.file for each in late if each.file]
    count, _ = late.delete()
    for file in files:
        transaction.on_commit(partial(file.storage.delete, str(file)))
    return count
