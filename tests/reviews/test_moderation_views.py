"""The leader's pages between crit and release."""

import pytest
from django.urls import reverse

from reviews.deeds import crit_jury_keeping, crit_moderating
from reviews.models import Comment, Crit, FormerSheet
from tests import factories


@pytest.fixture
def leader(cast):
    return cast.client(cast.leader)


@pytest.fixture
def sheet(cast):
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    for criterion, level in ((cast.criterion, 3), (cast.other_criterion, 4)):
        criterion.level_3 = "Ratios met; one deliberate view"
        criterion.save()
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, level, 0)
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.")
    return sheet


def _page(client, name, *args):
    response = client.get(reverse(name, args=args))
    assert response.status_code == 200
    return response.content.decode()


def test_the_table_shows_exact_levels_and_who_has_not_locked(cast, leader, sheet):
    factories.SeatFactory(crit=cast.crit, name="Zoe Open")
    page = _page(leader, "show-table", cast.crit.pk)
    assert '<span class="figure">3.5</span>' in page  # (50 × 3 + 50 × 4) ÷ 100
    assert "Zoe Open" in page[page.index("Not locked") :]
    assert "rank" not in page.lower().replace("nothing is ranked", "")


def test_the_table_is_exported_as_a_file(cast, leader, sheet):
    response = leader.get(reverse("export-table", args=[cast.crit.pk]))
    assert response["Content-Type"].startswith("text/csv")
    assert response["Content-Disposition"] == 'attachment; filename="ridge-final-table.csv"'
    assert "R01,Lee,1,,Jo Juror,locked,4,3,4,3.5" in response.content.decode()
    levels = leader.get(reverse("export-table", args=[cast.crit.pk]), {"rows": "levels"})
    assert "final,R01,1,Jo Juror,F1,3" in levels.content.decode()


def test_a_scheme_s_page_has_words_descriptors_impression_and_comments(cast, leader, sheet):
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    for words in (
        "Worked through", "Ratios met; one deliberate view", "Overall impression",
        "(50 × 3 + 50 × 4) ÷ 100 = 3.50", "Weigh it wet.",
    ):  # fmt: skip
        assert words in page


def test_comments_of_a_sheet_in_hand_are_not_shown(cast, leader):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    draft = cast.seat.sheets.get(scheme=cast.scheme)
    factories.CommentFactory(jury_sheet=draft, words="Still thinking")
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Still thinking" not in page


def test_a_scheme_of_another_studio_is_not_there(cast, leader):
    scheme = factories.SchemeFactory(studio=cast.other_studio)
    url = reverse("moderate-scheme", args=[cast.crit.pk, scheme.pk])
    assert leader.get(url).status_code == 404


def test_a_sheet_is_opened_again_with_a_reason_that_stays_readable(cast, leader, sheet):
    url = reverse("reopen-sheet", args=[sheet.pk])
    assert "Read nothing. Expected the reason" in leader.post(url, {"reason": " "}).content.decode()
    assert not FormerSheet.objects.exists()
    leader.post(url, {"reason": "Missed sheet 04."})
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Missed sheet 04." in page
    assert "As locked" in page
    sheet.refresh_from_db()
    assert not sheet.is_locked


def test_a_comment_is_held_with_a_reason_and_let_go(cast, leader, sheet):
    comment = sheet.comments.get()
    url = reverse("hold-comment", args=[comment.pk])
    assert "Expected the reason" in leader.post(url, {"reason": ""}).content.decode()
    leader.post(url, {"reason": "About the person."})
    assert Comment.objects.get().held_by == cast.leader
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "About the person." in page
    juror = cast.client(cast.seat).get(reverse("show-jury-sheet", args=[cast.scheme.pk]))
    assert "Held by the studio leader: About the person." in juror.content.decode()
    leader.post(reverse("let-go-comment", args=[comment.pk]))
    assert Comment.objects.get().held_at is None


def _release(client, crit, **data):
    return client.post(reverse("release-crit", args=[crit.pk]), data)


def _seen(client, crit):
    return client.get(reverse("release-crit", args=[crit.pk])).context["form"]["seen"].value()


def test_a_release_says_what_is_missing_and_sends_all_at_once(cast, leader, sheet):
    page = _page(leader, "release-crit", cast.crit.pk)
    assert "R02 Keel: no locked sheet, so its students read nothing" in page
    _release(leader, cast.crit, seen=_seen(leader, cast.crit), words="Read the keeps first.")
    assert Crit.objects.get(pk=cast.crit.pk).is_released
    student = cast.client(cast.student)
    page = _page(student, "show-results", cast.crit.pk, cast.scheme.pk)
    assert page.index("Read the keeps first.") < page.index("Weigh it wet.")


def test_a_release_without_words_is_refused(cast, leader, sheet):
    response = _release(leader, cast.crit, seen=_seen(leader, cast.crit), words=" ")
    assert "Expected the words that students read first" in response.content.decode()
    assert not Crit.objects.get(pk=cast.crit.pk).is_released


def test_a_release_over_what_has_changed_meanwhile_asks_again_and_keeps_the_words(
    cast, leader, sheet
):
    seen = _seen(leader, cast.crit)
    crit_moderating.reopen_sheet(sheet, cast.leader, "Missed sheet 04.")
    response = _release(leader, cast.crit, seen=seen, words="Two careful sentences.")
    page = response.content.decode()
    assert "has changed since this page was opened" in page
    assert "Two careful sentences." in page
    assert "not locked, so left out: Jo Juror" in page
    assert not Crit.objects.get(pk=cast.crit.pk).is_released
    _release(leader, cast.crit, seen=response.context["form"]["seen"].value(), words="Two.")
    assert Crit.objects.get(pk=cast.crit.pk).is_released


def test_after_release_a_coordinator_reads_and_changes_nothing(cast, sheet):
    crit_moderating.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    coordinator = cast.client(cast.coordinator)
    page = _page(coordinator, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert reverse("hold-comment", args=[sheet.comments.get().pk]) not in page
    assert _release(coordinator, cast.crit).status_code == 403


def test_a_released_crit_offers_no_reopening(cast, leader, sheet):
    crit_moderating.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    url = reverse("reopen-sheet", args=[sheet.pk])
    assert url not in page
    page = leader.post(url, {"reason": "Too late."}, follow=True).content.decode()
    assert "Students have read this sheet" in page
