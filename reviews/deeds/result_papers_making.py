"""Results on paper: one scheme's as it is asked for, and all of a crit in one file, as a job."""

from __future__ import annotations

import tempfile
import zipfile
from collections.abc import Iterator
from functools import partial

from django.core.files import File
from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import QuerySet
from django.utils.text import capfirst, slugify

from criteria.findings import Finding
from criteria.units import System
from reviews import clock
from reviews.deeds.mail_words import whole_address
from reviews.deeds.paper_making import LOG, small_picture
from reviews.deeds.sheet_uploads import work_folder
from reviews.drawn.result_papers import Line, Note, NotedSheet, ResultPaper, draw_results
from reviews.jobs import job
from reviews.models import Comment, Crit, IssuedSheet, Person, ResultPapers, Scheme, SpokenNote
from reviews.models.crits import LEVELS
from reviews.moments import day_words, moment_words
from reviews.reading.crit_release_read import read_release
from reviews.reading.crit_results import (
    CriterionRead,
    ResultsRead,
    foot_of,
    read_results,
    sheet_place,
    spoken_place,
)
from reviews.reading.crit_sheets import credits_of
from reviews.reading.package_checking import issued
from reviews.worked_out import fingerprint

PICTURE_PX = 1000
"""Across a sheet's picture: 150 dots an inch at 170 mm [px]."""

HELD = "Held by the studio leader since. It was here."


def paper_of(
    crit: Crit, scheme: Scheme, system: System = System.METRIC, *, hears: bool = True
) -> ResultPaper:
    """What one scheme's students read, as it is printed in a system's units.

    hears   with what was said aloud
    """
    results = read_results(crit, scheme, hears=hears)
    by = credits_of(crit).get(scheme.pk, scheme.by)
    if crit.released_at:
        told = f"Released {moment_words(crit.released_at)}"
    else:
        told = "Not released: as its students will read it"
    checks_title, checks = _checks(results, system)
    verdict = results.decided.verdict
    has_levels = bool(results.sheets or results.decided.levels)
    return ResultPaper(
        scheme=str(scheme),
        facts=(f"{crit}, {crit.studio}", by, told, capfirst(results.set_on) or "Nothing issued"),
        made_for=crit.released_at or clock.now(),
        leader=str(crit.released_by or ""),
        words=results.words,
        verdict=verdict.title if verdict else "",
        verdict_lines=tuple(_verdict_lines(results)),
        sheets=tuple(_sheets(results)),
        checks_title=checks_title,
        checks=checks,
        levels_title="Levels, as agreed"
        if results.decided.is_agreed
        else "Levels, each juror's own",
        levels=tuple(_level(each) for each in results.criteria if has_levels),
        ways_on=_ways_on(crit, scheme),
    )


def _verdict_lines(results: ResultsRead) -> Iterator[str]:
    verdict = results.decided.verdict
    if verdict and verdict.words:
        yield verdict.words
    if results.stays_open:
        named = "; ".join(map(str, results.stays_open))
        yield f"To show again: {named}. Nothing else is asked for."
    for each, was in results.verdicts_since:
        changed = f"Changed {moment_words(each.at)} by {each.by}"
        yield f"{changed}: was {was or 'no verdict'}, is {each.title}."


def _sheets(results: ResultsRead) -> Iterator[NotedSheet]:
    """Each sheet that something was said of, as on the page: numbers are the same."""
    said: dict[IssuedSheet | None, list[tuple[str, Comment | SpokenNote]]] = {}
    comments = results.in_place
    for n, comment in enumerate(comments, start=1):
        said.setdefault(comment.issued_sheet, []).append((str(n), comment))
    for n, note in enumerate(sorted(results.heard, key=spoken_place), start=1):
        said.setdefault(note.issued_sheet, []).append((f"S{n}", note))
    numbers = {comment.pk: str(n) for n, comment in enumerate(comments, start=1)}
    for sheet in sorted(said, key=sheet_place):
        notes = tuple(_note(n, each, results, numbers) for n, each in said[sheet])
        if sheet is None:
            yield NotedSheet("The scheme as a whole", notes)
            continue
        placed = [(n, foot) for n, each in said[sheet] if (foot := foot_of(each))]
        strokes = [s for _, each in said[sheet] if isinstance(each, Comment) for s in each.drawn]
        yield NotedSheet(
            title=f"Sheet {sheet.number} {sheet.title}, revision {sheet.revision.letter}",
            notes=notes,
            picture=small_picture(sheet, PICTURE_PX),
            width=sheet.file.width,
            height=sheet.file.height,
            flags=tuple((n, foot.x, foot.y) for n, foot in placed),
            strokes=tuple(tuple((point.x, point.y) for point in stroke) for stroke in strokes),
        )


def _note(
    number: str,
    said: Comment | SpokenNote,
    results: ResultsRead,
    numbers: dict[int, str],
) -> Note:
    seat = said.jury_sheet.seat_id if isinstance(said, Comment) else said.seat_id
    by = results.names[seat] if seat else "speaker unknown"
    criterion = said.criterion if isinstance(said, Comment) else None
    is_spoken = isinstance(said, SpokenNote)
    head = ", ".join(
        part
        for part in (
            "Spoken, unconfirmed" if is_spoken else "",
            said.kind,
            said.place,
            by,
            str(criterion or ""),
        )
        if part
    )
    words = said.words or ("Something was missed here." if is_spoken else "No words were added.")
    if said.held_at:
        return Note(number, head, HELD)
    told = () if is_spoken else tuple(_ruled(said.pk, results, numbers))
    return Note(number, head, words, told)


def _ruled(comment_id: int, results: ResultsRead, numbers: dict[int, str]) -> Iterator[str]:
    """What the leader made of a comment, as on the page: what opposes it, and who says the same."""
    for pair in results.rulings.pairs_of(comment_id):
        told = f"Two jurors disagree. Comment {numbers[pair.other(comment_id)]} says otherwise."
        ruled = f" The studio leader: {pair.ruling}" if pair.ruling else ""
        until = pair.argue_by and f" Your decision; argue it by {day_words(pair.argue_by)}."
        yield f"{told}{ruled}{until or ''}"
    if alike := results.rulings.group_of(comment_id):
        heading = alike.group.heading and f": {alike.group.heading}"
        say = "say" if alike.jurors > 1 else "says"
        others = sorted((numbers[pk] for pk in alike.seats if pk != comment_id), key=int)
        see = ", ".join(f"comment {number}" for number in others)
        yield f"{alike.words.capitalize()} {say} so{heading}. See {see}."


def _level(each: CriterionRead) -> Line:
    agreed = f"{each.agreed} {each.word}" if each.agreed else ""
    more = [each.descriptor] if each.descriptor else []
    for change, was in each.changes:
        now = change.level or "no level"
        told = f"was {was or 'no level'}, is {now}. {change.reason}"
        more.append(f"Corrected {moment_words(change.at)} by {change.by}: {told}")
    for level in each.levels:
        given = f"{level.level} {level.word}" if level.level else level.word
        more.append(f"{level.juror}: {given}")
        if level.descriptor and not each.agreed:
            more.append(level.descriptor)
        for fixed in level.corrections:
            told = f"was {fixed.was or 'no level'}, is {fixed.now}. {fixed.reason}"
            more.append(f"Corrected {moment_words(fixed.at)} by {fixed.by}: {told}")
    return Line(str(each.criterion), agreed, tuple(more))


def _checks(results: ResultsRead, system: System) -> tuple[str, tuple[Line, ...]]:
    """The check sheet as issued: what is missed, then what has no data; the rest is counted."""
    if not results.revisions:
        return "", ()
    revision = results.revisions[-1]
    asked = [each for each in issued(revision).holds.findings if each.ref]
    missed = [each for each in asked if each.state.is_missed]
    rest = [each for each in asked if not (each.state.is_missed or each.state.is_met)]
    met = sum(each.state.is_met for each in asked)
    lines = [_check(each, system) for each in (*missed, *rest)]
    if asked:
        lines.append(Line(f"{met} of {len(asked)} targets are met", ""))
    return f"Checks of revision {revision.letter}, as issued", tuple(lines)


def _check(finding: Finding, system: System) -> Line:
    value, target = finding.write_value(system), finding.write_target(system)
    held = f"{value or 'no figure'}, asked {finding.rule} {target}" if target else value
    named = " ".join(part for part in (finding.name, finding.subject) if part)
    lacks = f"Lacks: {'; '.join(finding.missing)}" if finding.missing else ""
    more = tuple(part for part in (named, finding.write_margin(system), lacks) if part)
    return Line(f"{finding.ref} {finding.title}", f"{finding.state.word}. {held}", more)


def _ways_on(crit: Crit, scheme: Scheme) -> tuple[str, ...]:
    page = whole_address("show-results", crit.pk, scheme.pk)
    return (
        f"Results page: {page}",
        "Each comment takes one answer there, with the place where it now stands. One that isn't "
        f"taken owes the reason. A hazard can't be declined. {LEVELS[0]} to {LEVELS[-1]} are the "
        "five levels, 1 to 5.",
        "To talk it over, ask your studio leader for fifteen minutes.",
        "If the crit wasn't held as announced, something handed in wasn't seen, or a level or a "
        "figure was reckoned wrongly, appeal from the results page: give the grounds. Leader and "
        "coordinator read it, and the decision is dated.",
    )


def papers_name(crit: Crit) -> str:
    """What tells the file of all apart: it is of these words and levels, and no others."""
    told = [(each.scheme.pk, each.seen) for each in read_release(crit).schemes]
    return f"{crit.pk}-{fingerprint(told, crit.release_words)[:16]}"


def current_papers(crit: Crit) -> ResultPapers | None:
    """The file of all, where it is of what stands now; None before a release."""
    made = crit.result_papers.exclude(made_at=None).first() if crit.is_released else None
    if made is None:
        return None
    stored = (made.file.name or "").rpartition("/")[2]
    return made if stored.startswith(papers_name(crit)) else None


@transaction.atomic
def ask_for_papers(crit: Crit, by: Person) -> ResultPapers | None:
    """Have all of a released crit made in one file, in the background; None before a release."""
    crit = Crit.objects.hold(crit.pk)
    if not crit.is_released:
        return None
    waits = crit.result_papers.filter(made_at=None, failed="").first()
    if waits:
        return waits
    papers = ResultPapers.objects.create(crit=crit, asked_by=by, asked_at=clock.now())
    transaction.on_commit(partial(make_papers.enqueue, papers.pk))
    return papers


@job
def make_papers(papers_id: int) -> None:
    """Draw one scheme after another into one file; begun again, it is made anew from the start."""
    papers = ResultPapers.objects.select_related("crit__studio", "crit__released_by")
    made = papers.filter(pk=papers_id, made_at=None).first()
    if made is None or not made.crit.is_released:
        return
    try:
        _make(made)
    except Exception as error:
        told = f"{type(error).__name__}: {error}"[:300]
        ResultPapers.objects.filter(pk=papers_id).update(failed=told)
        raise


def _make(made: ResultPapers) -> None:
    crit, name = made.crit, papers_name(made.crit)
    rows = ResultPapers.objects.filter(pk=made.pk)
    schemes = [each.scheme for each in read_release(crit).schemes]
    rows.update(done=0, total=len(schemes), failed="")
    with tempfile.TemporaryFile(dir=work_folder()) as file:
        with zipfile.ZipFile(file, "w") as archive:
            for n, scheme in enumerate(schemes, start=1):
                scheme.studio = crit.studio
                drawn = draw_results(paper_of(crit, scheme))
                archive.writestr(f"{slugify(str(scheme))}.pdf", drawn)
                rows.update(done=n)
        size = file.tell()
        file.seek(0)
        _keep(made, File(file), f"{name}.zip", size)


@transaction.atomic
def _keep(made: ResultPapers, file: File[bytes], name: str, size: int) -> None:
    """Keep it in place of what was made before; nothing where the release was called back."""
    crit = Crit.objects.hold(made.crit_id)
    stands = crit.result_papers.filter(pk=made.pk, made_at=None).first()
    if stands is None or not crit.is_released:
        return
    stands.file.save(name, file, save=False)
    stands.bytes, stands.made_at, stands.failed = size, clock.now(), ""
    stands.done = stands.total = max(stands.total, stands.done)
    stands.save()
    _let_go(crit.result_papers.exclude(pk=stands.pk))


def let_results_go(*crits: Crit) -> None:
    """Delete what was made of some crits, files and all: it repeats names."""
    _let_go(ResultPapers.objects.filter(crit__in=crits))


def _let_go(made: QuerySet[ResultPapers]) -> None:
    for name in made.exclude(file="").values_list("file", flat=True):
        transaction.on_commit(partial(_delete, name))
    made.delete()


def _delete(name: str) -> None:
    try:
        default_storage.delete(name)
    except OSError as error:
        LOG.error("%s stays until clear_pictures is run: %s", name, error)
