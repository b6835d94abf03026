"""What closes or changes under a juror: release, stepping aside, a new revision."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Comment, Interest, JurySheet, LevelGiven
from reviews.places import Place
from tests import factories
from tests.reviews.jury_steps import HTMX, comment_url, level_url, lock, read, sheet_url

# release and stepping aside


def _release(cast):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")


def test_a_released_crit_takes_no_level_and_still_shows_the_sheet(cast, juror):
    lock(cast, cast.seat)
    _release(cast)
    saves = {
        level_url(cast): {"level": "5", "seen": "1"},
        reverse("keep-impression", args=[cast.scheme.pk]): {"level": "5", "seen": "0"},
        comment_url(cast): {"key": str(uuid4()), "seen": "0", "kind": "Keep"},
    }
    for url, data in saves.items():
        response = juror.post(url, data, headers=HTMX)
        assert response.status_code == 409
    assert not Comment.objects.exists()
    assert set(LevelGiven.objects.values_list("level", flat=True)) == {3}
    assert 'name="level"' not in read(juror, sheet_url(cast))


def test_a_lock_that_comes_after_the_release_is_told_so(cast, juror):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    _release(cast)
    page = juror.post(reverse("lock-sheet", args=[cast.scheme.pk]), follow=True).content.decode()
    assert "Levels stay as they were" in page
    assert "released without this sheet" in page
    assert not JurySheet.objects.get().is_locked


@pytest.mark.usefixtures("issued")
@pytest.mark.parametrize("headers", [{}, HTMX])
def test_a_release_stops_no_juror_in_mid_sentence(cast, juror, headers):
    key = uuid4()
    stub = CommentSent("Prove", Place("02", "C4"), None, "")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, stub, 0)
    lock(cast, cast.seat)
    _release(cast)
    sent = {"key": str(key), "seen": "1", "kind": "Prove", "place": "02 C4", "words": "Weigh it."}
    assert juror.post(comment_url(cast), sent, headers=headers).status_code in (200, 302)
    comment = Comment.objects.get()
    assert comment.words == "Weigh it."
    assert comment.held_reason == "Worded after the release."
    page = read(juror, sheet_url(cast))
    assert "Weigh it." in page
    assert "Held by the studio leader: Worded after the release." in page
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert "Weigh it." not in read(cast.client(cast.student), results)


def test_words_on_a_sheet_that_was_released_without_its_levels_are_still_kept(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Prove"), 0)
    _release(cast)
    page = read(juror, sheet_url(cast))
    assert 'name="words"' in page
    sent = {"key": str(key), "seen": "1", "kind": "Prove", "words": "Weigh it."}
    assert juror.post(comment_url(cast), sent).status_code == 302
    assert Comment.objects.get().words == "Weigh it."
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert "Weigh it." not in read(cast.client(cast.student), results)


def _interest_url(cast):
    return reverse("declare-interest", args=[cast.scheme.pk])


def test_where_an_interest_is_declared_the_revision_shown_is_said(cast, juror):
    assert "Not issued" in read(juror, _interest_url(cast))
    factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    assert "Not issued" not in read(juror, _interest_url(cast))


def test_stepping_aside_is_asked_once_and_takes_the_scheme_from_the_list(cast, juror):
    assert _interest_url(cast) in read(juror, sheet_url(cast))
    page = read(juror, _interest_url(cast))
    assert "Until the release it can be taken back" in page
    assert not Interest.objects.exists()
    page = juror.post(_interest_url(cast), {"how": "aside", "words": ""}, follow=True)
    assert Interest.objects.get().seat == cast.seat
    assert f'href="{sheet_url(cast)}"' not in page.content.decode()
    assert juror.get(sheet_url(cast)).status_code == 404
    assert juror.post(level_url(cast), {"level": "3", "seen": "0"}).status_code == 404


def test_a_step_aside_is_taken_back_from_the_order(cast, juror):
    juror.post(_interest_url(cast), {"how": "aside", "words": "Her uncle."})
    page = read(juror, reverse("show-jury"))
    back = reverse("take-own-interest-back", args=[cast.scheme.pk])
    assert back in page
    assert "Her uncle." in page
    assert juror.post(back).status_code == 302
    assert juror.post(back).status_code == 404
    assert sheet_url(cast) in read(juror, reverse("show-jury"))


def test_an_interest_with_comments_leaves_the_sheet_without_levels(cast, juror):
    juror.post(_interest_url(cast), {"how": "comments", "words": "Former employer."})
    page = read(juror, sheet_url(cast))
    assert 'name="level"' not in page
    assert 'name="kind"' in page
    assert "Former employer." in page
    assert "comments, no level" in read(juror, reverse("show-jury"))
    response = juror.post(level_url(cast), {"level": "3", "seen": "0"}, headers=HTMX)
    assert response.status_code == 409
    assert "No level is set" in response.content.decode()


def test_a_step_aside_without_the_one_answer_is_asked_for_it(cast, juror):
    page = juror.post(_interest_url(cast), {"words": "Her uncle."}).content.decode()
    assert "Expected one of the two." in page
    assert "Her uncle." in page
    assert not Interest.objects.exists()


def test_a_reason_too_long_to_keep_comes_back_as_typed(cast, juror):
    words = "y" * 241
    page = juror.post(_interest_url(cast), {"how": "aside", "words": words})
    assert "Read 241 characters. Expected 240 at most." in page.content.decode()
    assert words in page.content.decode()
    assert not Interest.objects.exists()


def test_a_juror_moved_to_another_room_keeps_the_sheets_begun(cast, juror):
    cast.crit.slots.filter(scheme=cast.scheme).update(room="A")
    cast.crit.slots.filter(scheme=cast.other_scheme).update(room="A")
    cast.seat.room = "A"
    cast.seat.save()
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    cast.seat.room = "B"
    cast.seat.save()
    page = read(juror, reverse("show-jury"))
    assert "R01 Lee" in page
    assert "R02 Keel" not in page
    assert juror.post(level_url(cast), {"level": "4", "seen": "1"}).status_code == 302
    assert LevelGiven.objects.get().level == 4


# a revision issued while the sheet is open


def _issue_b(cast):
    return factories.issue_sheets(cast, "02", letter="B", schemes=[cast.scheme])[0]


def test_a_juror_is_told_of_a_newer_revision_and_what_is_shown_stays(cast, juror, issued):
    juror.post(level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
    assert 'id="newer"' not in read(juror, sheet_url(cast))
    later = _issue_b(cast)
    page = read(juror, sheet_url(cast))
    assert "this sheet is of revision A" in page
    assert f'href="{reverse("show-revision", args=[later.pk])}"' in page
    assert "Go on with revision B" in page
    assert "on revision A</span>" in page  # the level that is set
    assert f'name="of" value="{issued.pk}"' in page
    assert reverse("issued-sheet-image", args=[issued.pk, "03", "preview"]) in page
    assert reverse("issued-sheet-image", args=[later.pk, "02", "preview"]) not in page


def test_a_tap_is_set_on_the_revision_that_the_page_showed(cast, juror, issued):
    later = _issue_b(cast)
    juror.post(level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
    answer = juror.post(
        level_url(cast), {"level": "5", "seen": "1", "of": str(issued.pk)}, headers=HTMX
    ).content.decode()
    given = LevelGiven.objects.get()
    assert (given.level, given.revision, given.jury_sheet.revision) == (5, issued, issued)
    assert f'name="of" value="{issued.pk}"' in answer
    assert "on revision A" in answer
    assert str(later.pk) not in re.findall(r'name="of" value="(\d+)"', answer)


def test_a_juror_goes_on_with_the_newer_one_and_each_level_says_on_which_it_was_set(
    cast, juror, issued
):
    juror.post(level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
    later = _issue_b(cast)
    answer = juror.post(
        reverse("take-up-revision", args=[cast.scheme.pk]), {"of": str(later.pk)}, follow=True
    )
    page = answer.content.decode()
    assert "This sheet goes on with R01 Lee, revision B." in page
    assert "on revision A</span>" in page
    assert 'id="newer"' not in page
    assert f'name="of" value="{later.pk}"' in page


def test_a_locked_sheet_names_the_newer_one_and_offers_no_way_on(cast, juror, issued):
    for criterion in (cast.criterion, cast.other_criterion):
        url = reverse("keep-level", args=[cast.scheme.pk, criterion.pk])
        juror.post(url, {"level": "4", "seen": "0", "of": str(issued.pk)})
    juror.post(reverse("lock-sheet", args=[cast.scheme.pk]))
    later = _issue_b(cast)
    page = read(juror, sheet_url(cast))
    assert "this sheet is of revision A" in page
    assert "Go on with" not in page
    url = reverse("take-up-revision", args=[cast.scheme.pk])
    answer = juror.post(url, {"of": str(later.pk)}, follow=True)
    assert "The sheet is locked" in answer.content.decode()


def test_a_juror_of_a_crit_without_an_issue_is_told_where_the_work_is(cast, juror, issued):
    type(issued).objects.update(crit=None)
    page = read(juror, sheet_url(cast))
    assert "Nothing is issued for this crit." in page
    assert f'<a href="{reverse("show-revision", args=[issued.pk])}">Revision A</a> was' in page
    assert "for no crit." in page
    assert 'name="of" value="0"' in page


@pytest.mark.parametrize("headers", [HTMX, {}])
def test_a_place_on_a_sheet_that_was_not_shown_comes_back_as_typed(cast, juror, issued, headers):
    data = {"key": str(uuid4()), "kind": "Prove", "place": "09 C4", "words": "Typed with care",
            "seen": "0", "of": str(issued.pk)}  # fmt: skip
    page = juror.post(comment_url(cast), data, headers=headers).content.decode()
    assert "Read “09·C4”. Expected a sheet of revision A: 02, 03; or nothing" in page
    assert "Typed with care" in page
    assert 'value="09 C4"' in page
    assert not Comment.objects.exists()
