"""Let the demo's jurors sit: levels, comments, locks, releases and the students' answers."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime, timedelta

from reviews.deeds.comment_answering import AnswerSent, answer_comment
from reviews.deeds.crit_jury_keeping import (
    CommentSent,
    keep_comment,
    keep_impression,
    keep_level,
    lock_sheet,
    tell_seen,
)
from reviews.deeds.crit_releasing import release_crit
from reviews.demo.afterwards import follow_up
from reviews.demo.agreed import agree
from reviews.demo.day import comment_key, keep_time, take_down
from reviews.demo.moderated import moderate, words_of
from reviews.demo.scenario import RELEASE_WORDS, Calendar, StudioStory
from reviews.demo.studios import leader
from reviews.demo.tables import read_csv
from reviews.models import (
    Comment,
    Crit,
    Criterion,
    Interest,
    JurySheet,
    LevelGiven,
    Scheme,
    Seat,
    Studio,
)
from reviews.places import Place
from reviews.strokes import read_point, read_strokes

BEFORE_RELEASE = timedelta(hours=2)

Levels = dict[tuple[str, str], dict[str, int]]
"""Levels by criterion code, by scheme and juror."""


def sit(studio: Studio, story: StudioStory, calendar: Calendar) -> None:
    """Hold both crits of a studio, and release what the story has released."""
    by_kind = {crit.kind: crit for crit in studio.crits.all()}
    interim, final = by_kind[Crit.Kind.INTERIM], by_kind[Crit.Kind.FINAL]
    _hold(interim, story, calendar.at(*story.interim, "11:30"))
    released_at = calendar.working(*story.interim_released)
    agree(interim, story, released_at - BEFORE_RELEASE)
    _release(interim, released_at)
    if story.final_released:
        at = calendar.at(*story.final, "09:00") - timedelta(days=3)
        _step_aside(final, "Marek Ostrey", "E05", "The student once worked for my firm.", at)
        _hold(final, story, calendar.at(*story.final, "12:00"))
        released_at = calendar.working(*story.final_released)
        agree(final, story, released_at - BEFORE_RELEASE)
        _release(final, released_at)
    else:
        _hold_so_far(final, calendar.at(*story.final, "11:04"))
        keep_time(final, story, calendar)
        take_down(final, story, calendar)
    _answer(studio)
    follow_up(studio)


def _step_aside(crit: Crit, juror: str, number: str, words: str, at: datetime) -> None:
    scheme = crit.studio.schemes.get(number=number)
    seat = crit.seats.get(name=juror)
    Interest.objects.create(seat=seat, scheme=scheme, words=words, declared_at=at)


def _told(crit: Crit, story: StudioStory) -> Levels:
    """What each juror gave each scheme; nothing where they stepped aside, or saw only a part."""
    levels: Levels = defaultdict(dict)
    for row in read_csv("levels_long"):
        if row["cohort"] == story.letter and row["crit"].startswith(crit.kind):
            given = levels[row["scheme"], row["juror"]]
            if row["level"]:
                given[row["criterion"]] = int(row["level"])
    return levels


def _impressions(crit: Crit, story: StudioStory) -> dict[tuple[str, str], int]:
    return {
        (row["scheme"], row["juror"]): int(row["impression"])
        for row in read_csv("impressions")
        if row["cohort"] == story.letter and row["crit"].startswith(crit.kind) and row["impression"]
    }


def _hold(crit: Crit, story: StudioStory, at: datetime) -> None:
    told, impressions = _told(crit, story), _impressions(crit, story)
    seats, schemes, criteria = _of(crit)
    _comment(crit, seats, schemes)
    for (number, juror), levels in told.items():
        seat, scheme = seats[juror], schemes[number]
        if seat.interest_in(scheme.pk):
            continue
        if not levels:
            tell_seen(seat, scheme, in_part=True)
        if (number, juror) in impressions:
            keep_impression(seat, scheme, impressions[number, juror], 0)
        for code, level in levels.items():
            keep_level(seat, scheme, criteria[code], level, 0)
        lock_sheet(seat, scheme)
    set_times(crit, at)


def _hold_so_far(crit: Crit, at: datetime) -> None:
    """Set what jurors have set by now; a dash is a criterion not yet reached."""
    seats, schemes, criteria = _of(crit)
    _comment(crit, seats, schemes)
    for row in read_csv("levels_final_H"):
        seat, scheme = seats[row["juror"]], schemes[row["scheme"]]
        if row["impression"]:
            keep_impression(seat, scheme, int(row["impression"]), 0)
        for code, level in zip(criteria, row["levels"], strict=True):
            if level.isdigit():
                keep_level(seat, scheme, criteria[code], int(level), 0)
        if row["state"] == "locked":
            lock_sheet(seat, scheme)
    set_times(crit, at)


def _of(crit: Crit) -> tuple[dict[str, Seat], dict[str, Scheme], dict[str, Criterion]]:
    return (
        {seat.name: seat for seat in crit.seats.select_related("crit")},
        {scheme.number: scheme for scheme in crit.studio.schemes.all()},
        {criterion.code: criterion for criterion in crit.criteria.all()},
    )


def _comment(crit: Crit, seats: dict[str, Seat], schemes: dict[str, Scheme]) -> None:
    criteria = {criterion.code: criterion for criterion in crit.criteria.all()}
    for row in read_csv("comments"):
        if row["crit"] != crit.kind or row["scheme"] not in schemes:
            continue
        seat, scheme = seats[row["juror"]], schemes[row["scheme"]]
        sheet, _, zone = row["place"].partition("·")
        words = words_of(row)
        criterion = criteria.get(row["criterion"])
        point, strokes = read_point(row["point"]), read_strokes(row["strokes"])
        sent = CommentSent(row["kind"], Place(sheet, zone), criterion, words, point, strokes)
        keep_comment(seat, scheme, comment_key(row["no"]), sent, 0)


def set_times(crit: Crit, at: datetime) -> None:
    """Let everything have been set on the day, not while the demo loads."""
    LevelGiven.objects.filter(jury_sheet__seat__crit=crit).update(kept_at=at)
    sheets = JurySheet.objects.filter(seat__crit=crit)
    sheets.exclude(impression=None).update(impression_kept_at=at)
    sheets.exclude(saw_in_part_at=None).update(saw_in_part_at=at)
    sheets.locked().update(locked_at=at)
    Comment.objects.filter(jury_sheet__seat__crit=crit).update(kept_at=at, begun_at=at)


def _release(crit: Crit, at: datetime) -> None:
    moderate(crit, at)
    release_crit(crit, leader(), RELEASE_WORDS, at=at)


def _answer(studio: Studio) -> None:
    for row in read_csv("answers"):
        comment = Comment.objects.filter(
            key=comment_key(row["comment"]), jury_sheet__scheme__studio=studio
        ).first()
        if comment is None:
            continue
        place = row["place_now"].replace("–", "")
        sent = AnswerSent(row["answer"], row["words"], place)
        answerer = comment.jury_sheet.scheme.members.all()[0]
        at = comment.jury_sheet.seat.crit.released_at
        answer_comment(comment, answerer, sent, 0, at=at)
