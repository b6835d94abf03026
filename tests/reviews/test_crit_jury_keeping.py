"""What jurors set is kept once, by the version they saw, until it is locked."""

from datetime import timedelta
from functools import partial
from uuid import uuid4

import pytest
from django.http import Http404
from django.utils import timezone

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE
from reviews.deeds import crit_jury_keeping, crit_sheet_in_hand
from reviews.deeds.crit_jury_keeping import CommentSent, Unfinished
from reviews.models import Comment, JurySheet, LevelGiven
from reviews.models.briefs import Frozen
from reviews.places import Place, Point
from reviews.reading.crit_sheets import revision_shown
from reviews.versions import Newer
from tests import factories

PROVE = CommentSent("Prove", Place("02", "C4"), None, "Show the number.")


@pytest.fixture(autouse=True)
def issued(cast, settings, tmp_path):
    """Revision A of both schemes with sheets 00 and 02."""
    settings.MEDIA_ROOT = tmp_path
    return factories.issue_sheets(cast, "00", "02")[0]


def _set_all(cast, level=3):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, level, 0)


def test_a_level_is_kept_and_changed(cast):
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert (given.level, given.version) == (3, 1)
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)
    assert (given.level, given.version) == (4, 2)
    assert LevelGiven.objects.count() == 1


def test_the_same_level_sent_again_changes_nothing(cast):
    first = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    again = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert (again.pk, again.version, again.kept_at) == (first.pk, 1, first.kept_at)


def test_a_level_over_a_newer_one_is_refused_and_nothing_changes(cast):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)
    with pytest.raises(Newer, match="sent: ") as refusal:
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 2, 1)
    assert refusal.value.kept.level == 4
    assert LevelGiven.objects.get().level == 4


def test_not_mine_is_neither_a_level_nor_nothing(cast):
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, NOT_MINE, 0)
    assert (given.level, given.is_not_mine) == (None, True)
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 2, 1)
    assert (given.level, given.is_not_mine) == (2, False)


def test_an_impression_is_kept_by_version_too(cast):
    sheet = crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    assert (sheet.impression, sheet.impression_version) == (4, 1)
    assert crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0).impression_version == 1
    with pytest.raises(Newer, match="sent: "):
        crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0)


def test_a_comment_is_one_however_often_its_key_is_sent(cast):
    key = uuid4()
    for _ in range(3):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    comment = Comment.objects.get()
    assert (comment.kind, comment.place, comment.version) == ("Prove", "02·C4", 1)


def test_words_come_after_the_stub(cast):
    key = uuid4()
    stub = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE._replace(words=""), 0)
    assert stub.is_stub
    worded = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 1)
    assert (worded.words, worded.begun_at) == ("Show the number.", stub.begun_at)


def test_a_comment_over_a_newer_one_is_refused(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    with pytest.raises(Newer, match="sent") as refusal:
        crit_jury_keeping.keep_comment(
            cast.seat, cast.scheme, key, PROVE._replace(words="Other"), 0
        )
    assert refusal.value.kept.words == "Show the number."


def test_a_comment_left_off_stays_off_until_somebody_who_saw_that_words_it(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    off = crit_jury_keeping.remove_comment(cast.seat, cast.scheme, key, 1)
    assert off.removed_at
    assert crit_jury_keeping.remove_comment(cast.seat, cast.scheme, key, 1).version == off.version
    with pytest.raises(Newer, match="sent"):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE._replace(words="Late"), 1)
    back = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 2)
    assert back.removed_at is None


def test_a_key_of_another_sheet_is_not_taken_over(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    with pytest.raises(Http404, match="another sheet"):
        crit_jury_keeping.keep_comment(cast.seat, cast.other_scheme, key, PROVE, 1)


def test_a_lock_names_each_weighted_criterion_that_is_open(cast):
    factories.CriterionFactory(crit=cast.crit, code="F3", weight=0, position=2)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    with pytest.raises(Unfinished, match=r"^F2 Making$"):
        crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert not JurySheet.objects.get().is_locked
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, NOT_MINE, 0)
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).is_locked


def test_nothing_set_yet_is_not_judged(cast):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion, level=None)
    missing = crit_jury_keeping.not_yet_judged(cast.crit, sheet)
    assert missing == [cast.criterion, cast.other_criterion]


def test_a_locked_sheet_takes_no_level_no_impression_and_no_new_comment(cast):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    saves = (
        lambda: crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 5, 1),
        lambda: crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0),
        lambda: crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), PROVE, 0),
    )
    for save in saves:
        with pytest.raises(Frozen, match="The sheet is locked"):
            save()
    assert set(LevelGiven.objects.values_list("level", flat=True)) == {3}
    assert not Comment.objects.exists()


def test_a_resend_after_the_lock_is_no_change(cast):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0).version == 1


def test_locking_what_is_locked_keeps_the_first_time(cast):
    _set_all(cast)
    first = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).locked_at
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).locked_at == first


def test_a_lock_leaves_open_only_the_stubs_it_found(cast):
    stub, worded = uuid4(), uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE._replace(words=""), 0)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, worded, PROVE, 0)
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    typed = PROVE._replace(words="The num")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, typed, 1)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE, 2)
    with pytest.raises(Frozen, match="locked"):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, worded, typed, 1)


def _set_clock(monkeypatch, *, hours):
    """Set the server's clock forward or back."""
    now = timezone.now
    monkeypatch.setattr(timezone, "now", lambda: now() + timedelta(hours=hours))


def test_a_stub_stays_open_although_the_clock_is_set_back_after_the_lock(cast, monkeypatch):
    """Before, its first words were kept as if before the lock, and the next ones refused."""
    stub = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE._replace(words=""), 0)
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    _set_clock(monkeypatch, hours=-1)
    typed = PROVE._replace(words="The num")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, typed, 1)
    kept = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE, 2)
    assert (kept.words, kept.version) == ("Show the number.", 3)


@pytest.mark.parametrize("hours", [-1, 24])
def test_a_lock_closes_what_was_worded_wherever_the_clock_is_set(cast, monkeypatch, hours):
    """Before, words kept an hour later by the clock than their lock could be changed after it."""
    worded = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, worded, PROVE, 0)
    _set_all(cast)
    _set_clock(monkeypatch, hours=hours)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    with pytest.raises(Frozen, match="locked"):
        crit_jury_keeping.keep_comment(
            cast.seat, cast.scheme, worded, PROVE._replace(words="Other"), 1
        )


# of which revision a sheet is


def _later(cast, letter="B"):
    return factories.issue_sheets(cast, "02", "03", letter=letter, schemes=[cast.scheme])[0]


def test_a_sheet_is_of_what_was_shown_at_its_first_entry_whatever_is_issued_later(cast, issued):
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    sheet = crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    later = _later(cast)
    other = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 3, 0)
    comment = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), PROVE, 0)
    locked = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    seen = (locked.revision, given.revision, other.revision, sheet.impression_revision)
    assert {*seen, comment.revision, comment.issued_sheet.revision} == {issued}
    assert revision_shown(cast.crit, cast.scheme) == later


def test_what_the_page_showed_decides_though_a_newer_one_was_issued_before_the_tap(cast, issued):
    later = _later(cast)
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0, of=issued.pk)
    assert (given.revision, given.jury_sheet.revision) == (issued, issued)
    sheet = crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0, of=later.pk)
    assert (sheet.impression_revision, sheet.revision) == (later, issued)


def test_a_page_that_showed_nothing_sets_levels_on_nothing(cast, issued):
    given = crit_jury_keeping.keep_level(
        cast.seat, cast.scheme, cast.criterion, 3, 0, of=crit_sheet_in_hand.NOTHING_SHOWN
    )
    assert (given.revision, given.jury_sheet.revision) == (None, None)


def test_a_revision_of_another_scheme_or_crit_is_not_taken_for_what_was_shown(cast, issued):
    foreign = factories.RevisionFactory(scheme=cast.scheme, letter="C", crit=None)
    theirs = cast.other_scheme.revisions.get()
    for other in (foreign, theirs):
        given = crit_jury_keeping.keep_level(
            cast.seat, cast.scheme, cast.criterion, 3, 0, of=other.pk
        )
        assert given.revision is None
        given.delete()


def test_a_juror_goes_on_with_a_newer_revision_and_what_was_set_stays_set_on_the_former(
    cast, issued
):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    later = _later(cast)
    sheet = crit_jury_keeping.take_up_revision(cast.seat, cast.scheme, later.pk)
    assert sheet.revision == later
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 2, 0)
    on = {given.criterion: given.revision for given in sheet.levels.all()}
    assert on == {cast.criterion: issued, cast.other_criterion: later}
    again = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 1)
    assert (again.level, again.revision, again.version) == (3, later, 2)


def test_no_sheet_goes_back_to_an_older_revision(cast, issued):
    later = _later(cast)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    for of in (issued.pk, crit_sheet_in_hand.NOTHING_SHOWN, 10**9):
        sheet = crit_jury_keeping.take_up_revision(cast.seat, cast.scheme, of)
        assert sheet.revision == later


def test_a_locked_sheet_takes_up_no_newer_revision(cast, issued):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    later = _later(cast)
    with pytest.raises(Frozen, match="locked"):
        crit_jury_keeping.take_up_revision(cast.seat, cast.scheme, later.pk)


def test_the_same_tap_sent_twice_from_one_page_is_one_whatever_is_issued_between(cast, issued):
    keep = partial(
        crit_jury_keeping.keep_level, cast.seat, cast.scheme, cast.criterion, 3, 0, of=issued.pk
    )
    keep()
    _later(cast)
    assert keep().version == 1


def test_a_comment_belongs_to_the_very_sheet_it_was_made_on(cast, issued):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    later = _later(cast)
    crit_jury_keeping.take_up_revision(cast.seat, cast.scheme, later.pk)
    worded = PROVE._replace(words="Show both numbers.")
    comment = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, worded, 1)
    assert comment.issued_sheet == issued.sheets.get(number="02")  # only its words changed
    moved = worded._replace(place=Place("03", "A1"))
    comment = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, moved, 2)
    assert (comment.issued_sheet, comment.revision) == (later.sheets.get(number="03"), later)
    whole = worded._replace(place=Place())
    comment = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, whole, 3)
    assert (comment.issued_sheet, comment.place, comment.revision) == (None, "", later)


@pytest.mark.parametrize(("typed", "kept"), [("2", "02"), ("02", "02"), ("0", "00"), ("00", "00")])
def test_a_sheet_is_found_as_people_say_its_number_and_a_resend_is_one(cast, typed, kept):
    key, sent = uuid4(), PROVE._replace(place=Place(typed, "C4"))
    for _ in range(2):
        comment = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, sent, 0)
    assert (comment.place, comment.version) == (f"{kept}·C4", 1)


@pytest.mark.parametrize(
    ("place", "of", "expected"),
    [
        (Place("09", "C4"), None, "a sheet of revision A: 00, 02"),
        (Place("", "C4"), None, "a sheet of revision A: 00, 02"),
        (Place("02", "C4"), crit_sheet_in_hand.NOTHING_SHOWN, "no sheet; or nothing"),
    ],
)
def test_a_place_on_no_sheet_that_was_shown_is_refused_by_name(cast, place, of, expected):
    with pytest.raises(Refused, match=expected) as refusal:
        crit_jury_keeping.keep_comment(
            cast.seat, cast.scheme, uuid4(), PROVE._replace(place=place), 0, of=of
        )
    assert refusal.value.read == str(place)
    assert not Comment.objects.exists()


def test_a_crit_shows_its_own_revision_and_no_other(cast, issued):
    factories.RevisionFactory(scheme=cast.scheme, letter="B")
    assert revision_shown(cast.crit, cast.scheme) == issued
    recrit = factories.CritFactory(studio=cast.studio, kind="re-crit")
    assert revision_shown(recrit, cast.scheme) is None


def test_a_released_crit_keeps_nothing_more(cast):
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    with pytest.raises(Frozen, match="The crit is released"):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert not JurySheet.objects.exists()


# points and strokes

STROKES = ((Point(0.1, 0.1), Point(0.2, 0.3)), (Point(0, 0), Point(1, 1), Point(0.5, 0.5)))
DRAWN = PROVE._replace(point=Point(0.55, 0.6), strokes=STROKES)


def test_a_point_and_strokes_are_kept_once_with_their_comment(cast):
    key = uuid4()
    for _ in range(2):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, DRAWN, 0)
    comment = Comment.objects.get()
    assert (comment.version, comment.point, comment.drawn) == (1, DRAWN.point, STROKES)
    assert comment.point.zone == comment.zone == "C4"


def test_strokes_stay_on_the_sheet_that_they_were_drawn_over(cast):
    key = uuid4()
    keep = partial(crit_jury_keeping.keep_comment, cast.seat, cast.scheme, key)
    keep(DRAWN, 0)
    later = factories.issue_sheets(cast, "02", letter="B", schemes=[cast.scheme])[0]
    with pytest.raises(Refused, match="the strokes lie on"):
        keep(DRAWN._replace(place=Place("00", "C4")), 1)
    with pytest.raises(Refused, match="the strokes lie on"):
        keep(DRAWN._replace(point=Point(0.6, 0.6)), 1, of=later.pk)
    with pytest.raises(Refused, match="drawn over"):
        keep(DRAWN._replace(strokes=STROKES[:1]), 1, of=later.pk)
    keep_another = partial(crit_jury_keeping.keep_comment, cast.seat, cast.scheme, uuid4())
    with pytest.raises(Refused, match="drawn over"):
        keep_another(DRAWN._replace(place=Place(), point=None), 0)
    assert keep(DRAWN._replace(words="Worded later."), 1, of=later.pk).revision.letter == "A"
    moved = keep(DRAWN._replace(place=Place("02", "A1"), point=None, strokes=()), 2, of=later.pk)
    assert (moved.issued_sheet.revision, moved.point, moved.drawn) == (later, None, ())


def test_strokes_alone_say_something(cast):
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, uuid4(), DRAWN._replace(kind="", words=""), 0
    )
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, uuid4(), CommentSent("", Place("02", "A1")), 0
    )
    assert [each.zone for each in Comment.objects.said_on(JurySheet.objects.all())] == ["C4"]
