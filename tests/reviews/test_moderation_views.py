"""The leader's pages between crit and release."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from reviews import access
from reviews.access import Viewer
from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.models import Comment, Correction, Crit, FormerSheet, LevelGiven
from reviews.pages.moderation_page import ModerationPage
from reviews.reading.crit_beside_levels import beside_levels
from reviews.reading.crit_levels_read import read_levels
from tests import factories


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
    assert "1 not ready" in page
    assert "Not locked: Zoe Open." in page
    assert "<b>ZO</b> Zoe Open" in page
    assert "1 of 2 locked, mean 3.5." in page
    assert page.index("Schemes by jurors") < page.index("Place by the mean")


def test_only_what_needs_a_decision_is_named_and_drawn_wide(cast, leader, sheet):
    """Two jurors 2 levels apart on one scheme; the classmate's is judged by nobody."""
    other = factories.SeatFactory(crit=cast.crit, name="Zoe Far")
    for criterion, level in ((cast.criterion, 1), (cast.other_criterion, 2)):
        crit_jury_keeping.keep_level(other, cast.scheme, criterion, level, 0)
    crit_jury_keeping.lock_sheet(other, cast.scheme)
    page = ModerationPage(read_levels(cast.crit), beside_levels(cast.crit))
    strips = page.strips
    assert strips.answer == "1 scheme to look at; 1 not judged yet."
    asked = {row.scheme: (row.asks, "pen-cut" in row.drawn) for row in strips.rows}
    assert asked.pop(cast.scheme) == (("2.0 levels apart: talk, then say why.",), True)
    assert set(asked.values()) == {((), False)}


def test_the_table_is_exported_as_a_file(cast, leader, sheet):
    response = leader.get(reverse("export-table", args=[cast.crit.pk]))
    assert response["Content-Type"].startswith("text/csv")
    assert response["Content-Disposition"] == 'attachment; filename="ridge-final-table.csv"'
    assert "R01,Lee,1,,Jo Juror,locked,,4,3,4,3.5" in response.content.decode()
    levels = leader.get(reverse("export-table", args=[cast.crit.pk]), {"rows": "levels"})
    assert "final,R01,1,Jo Juror,F1,3" in levels.content.decode()


def test_a_scheme_s_page_has_words_descriptors_impression_and_comments(cast, leader, sheet):
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    for words in (
        "Worked through",
        "Ratios met; one deliberate view",
        "Overall impression",
        "(50 × 3 + 50 × 4) ÷ 100 = 3.50",
        "Weigh it wet.",
    ):
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


def _known(client, crit):
    """What a leader who read the page sends with the words: a reason beside what stays open."""
    form = client.get(reverse("release-crit", args=[crit.pk])).context["form"]
    reasons = {name: "A small crit." for name in form.fields if name.startswith("why-")}
    return {"seen": form["seen"].value(), **reasons}


def test_a_release_without_a_reason_is_asked_for_it_and_keeps_the_words(
    cast, leader, sheet, at_a_working_hour
):
    known = _known(leader, cast.crit) | {"why-unread": ""}
    response = _release(leader, cast.crit, words="Two careful sentences.", **known)
    page = response.content.decode()
    assert "Read nothing. Expected it decided, or the reason why it goes out so." in page
    assert "Two careful sentences." in page
    assert not Crit.objects.get(pk=cast.crit.pk).is_released


def test_a_release_is_called_back_until_somebody_opens_it(cast, leader, sheet, at_a_working_hour):
    _release(leader, cast.crit, words="Words.", **_known(leader, cast.crit))
    back = reverse("call-back-crit", args=[cast.crit.pk])
    page = _page(leader, "release-crit", cast.crit.pk)
    assert "Nobody yet." in page
    assert back in page
    page = leader.post(back, follow=True).content.decode()
    assert "Called back" in page
    assert "by Lena Leader, before anybody had opened it" in page
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert cast.client(cast.student).get(results).status_code == 404
    _release(leader, cast.crit, words="Words.", **_known(leader, cast.crit))
    assert cast.client(cast.student).get(results).status_code == 200
    page = _page(leader, "release-crit", cast.crit.pk)
    assert back not in page
    assert "Stef Student opened it" in page
    leader.post(back)
    assert Crit.objects.get(pk=cast.crit.pk).is_released


@pytest.mark.parametrize(("who", "name"), [
    ("student", "show-results"), ("examiner", "show-results"), ("coordinator", "show-results"),
    ("coordinator", "show-table"), ("coordinator", "export-table"),
    ("coordinator", "moderate-scheme"),
])  # fmt: skip
def test_whoever_reads_what_is_released_has_opened_it(cast, sheet, who, name):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    args = (
        [cast.crit.pk, cast.scheme.pk] if name.endswith(("results", "scheme")) else [cast.crit.pk]
    )
    assert cast.client(getattr(cast, who)).get(reverse(name, args=args)).status_code == 200
    assert cast.crit.openings.get().person == getattr(cast, who)


def test_a_leader_who_reads_has_opened_nothing(cast, leader, sheet):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    _page(leader, "show-results", cast.crit.pk, cast.scheme.pk)
    _page(leader, "show-table", cast.crit.pk)
    assert not cast.crit.openings.exists()


def _correct(client, given, **data):
    sent = {"seen": str(given.version), "level": "2", "reason": "Typed for R02."} | data
    return client.post(reverse("correct-level", args=[given.pk]), sent)


def test_a_correction_is_read_by_the_student_beside_both_levels(cast, leader, sheet):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    given = sheet.levels.get(criterion=cast.criterion)
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert reverse("correct-level", args=[given.pk]) in page
    assert _correct(leader, given).status_code == 302
    for client, name in (
        (cast.client(cast.student), "show-results"),
        (cast.client(cast.examiner), "show-results"),
        (leader, "moderate-scheme"),
    ):
        page = _page(client, name, cast.crit.pk, cast.scheme.pk)
        assert "by Lena Leader: was 3, is 2. Typed for R02." in " ".join(page.split())
    table = leader.get(reverse("export-table", args=[cast.crit.pk])).content.decode()
    assert "F1 3 → 2 (" in table
    assert "Typed for R02." in table


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ({"level": "3"}, "Read 3 Worked through, which stands. Expected another."),
        ({"level": ""}, "No level was read. Expected 1 to 5, or not mine to judge."),
        ({"level": "7"}, "Read “7”. Expected 1 to 5, or not mine to judge."),
        ({"reason": " "}, "Read nothing. Expected the reason, in a sentence."),
    ],
)
def test_a_correction_that_can_t_be_kept_comes_back_as_typed(cast, leader, sheet, data, message):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    page = _correct(leader, sheet.levels.get(criterion=cast.criterion), **data).content.decode()
    assert message in page
    assert not Correction.objects.exists()


def test_a_correction_over_a_newer_one_keeps_what_was_typed(cast, leader, sheet):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    given = sheet.levels.get(criterion=cast.criterion)
    _correct(leader, given)
    response = _correct(leader, given, level="5", reason="Another reason.")
    assert response.status_code == 409
    page = response.content.decode()
    assert "Corrected meanwhile" in page
    assert "Another reason." in page
    assert Correction.objects.get().now == "2"


def test_the_leader_reads_why_somebody_stepped_aside_and_takes_it_back(cast, leader, sheet):
    declare_interest(cast.seat, cast.scheme, "Her uncle.")
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Reason: Her uncle." in page
    assert "Weigh it wet." not in page
    interest = cast.seat.interests.get()
    back = reverse("take-interest-back", args=[interest.pk])
    assert back in page
    assert leader.post(back).status_code == 302
    assert leader.post(back).status_code == 404
    interest.refresh_from_db()
    assert interest.taken_back_by == cast.leader
    assert "Weigh it wet." in _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)


# a leader who sits on the jury


@pytest.fixture
def sitting(cast, sheet):
    """The leader's own seat at the crit, whose sheet for the scheme isn't locked."""
    return factories.SeatFactory(crit=cast.crit, name="L. L.", email="LENA@example.org")


def test_a_leader_on_the_jury_reads_others_levels_after_the_own_lock(cast, leader, sheet, sitting):
    comment = sheet.comments.get()

    def pages():
        return [
            _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk),
            _page(leader, "show-table", cast.crit.pk),
            leader.get(reverse("export-table", args=[cast.crit.pk])).content.decode(),
        ]

    for page in pages():
        assert "3.5" not in page
        assert "Weigh it wet." not in page
        assert "Ratios met" not in page
    levels = leader.get(reverse("export-table", args=[cast.crit.pk]), {"rows": "levels"})
    assert "Jo Juror" not in levels.content.decode()
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert leader.get(results).status_code == 404
    for name in ("hold-comment", "let-go-comment"):
        assert leader.post(reverse(name, args=[comment.pk]), {"reason": "x"}).status_code == 403
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(sitting, cast.scheme, criterion, 1, 0)
    assert "3.5" not in pages()[0]
    crit_jury_keeping.lock_sheet(sitting, cast.scheme)
    assert all("3.5" in page for page in pages())
    assert leader.get(results).status_code == 200


def test_a_leader_who_stepped_aside_or_is_released_moderates_as_ever(cast, leader, sheet, sitting):
    declare_interest(sitting, cast.scheme)
    assert "Weigh it wet." in _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    cast.crit.seats.get(pk=sitting.pk).interests.update(taken_back_at="2026-12-04T10:00Z")
    assert "Weigh it wet." not in _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    assert "Weigh it wet." in _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)


def test_which_schemes_are_closed_takes_no_more_queries_for_more_schemes(cast, sitting):
    def queries():
        with CaptureQueriesContext(connection) as asked:
            assert access.closed_schemes(Viewer(cast.leader), cast.crit)
        return len(asked)

    before = queries()
    for _ in range(5):
        scheme = factories.SchemeFactory(studio=cast.studio)
        factories.SlotFactory(crit=cast.crit, scheme=scheme)
    assert queries() == before


def test_a_leader_seated_without_an_e_mail_is_known_by_name(cast, leader, sheet):
    factories.SeatFactory(crit=cast.crit, name="lena leader")
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Weigh it wet." not in page


def test_another_leader_of_the_studio_who_doesn_t_sit_reads_all(cast, sheet, sitting):
    other = factories.PersonFactory(name="Ada Second", email="ada2@example.org")
    factories.MembershipFactory(studio=cast.studio, person=other, role="leader")
    page = _page(cast.client(other), "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Weigh it wet." in page


def test_a_release_says_what_is_missing_and_sends_all_at_once(
    cast, leader, sheet, at_a_working_hour
):
    page = _page(leader, "release-crit", cast.crit.pk)
    keel = page[page.index("R02 Keel") :]
    assert "no locked sheet, so its students read no level" in keel
    assert "no locked sheet" not in page[: page.index("R02 Keel")]
    _release(leader, cast.crit, words="Read the keeps first.", **_known(leader, cast.crit))
    assert Crit.objects.get(pk=cast.crit.pk).is_released
    student = cast.client(cast.student)
    page = _page(student, "show-results", cast.crit.pk, cast.scheme.pk)
    assert page.index("Read the keeps first.") < page.index("Weigh it wet.")


def test_a_release_without_words_is_refused(cast, leader, sheet):
    response = _release(leader, cast.crit, words=" ", **_known(leader, cast.crit))
    assert "Expected the words that students read first" in response.content.decode()
    assert not Crit.objects.get(pk=cast.crit.pk).is_released


def test_a_release_over_what_has_changed_meanwhile_asks_again_and_keeps_the_words(
    cast, leader, sheet, at_a_working_hour
):
    known = _known(leader, cast.crit)
    crit_moderating.reopen_sheet(sheet, cast.leader, "Missed sheet 04.")
    response = _release(leader, cast.crit, words="Two careful sentences.", **known)
    page = response.content.decode()
    assert "has changed since this page was opened" in page
    assert "Two careful sentences." in page
    assert "not locked, so left out: Jo Juror" in page
    assert not Crit.objects.get(pk=cast.crit.pk).is_released
    _release(leader, cast.crit, words="Two.", **_known(leader, cast.crit))
    assert Crit.objects.get(pk=cast.crit.pk).is_released


def test_after_release_a_coordinator_reads_and_changes_nothing(cast, sheet):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    coordinator = cast.client(cast.coordinator)
    page = _page(coordinator, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert reverse("hold-comment", args=[sheet.comments.get().pk]) not in page
    assert _release(coordinator, cast.crit).status_code == 403


def test_a_released_crit_offers_no_reopening(cast, leader, sheet):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    url = reverse("reopen-sheet", args=[sheet.pk])
    assert url not in page
    page = leader.post(url, {"reason": "Too late."}, follow=True).content.decode()
    assert "Students have read this sheet" in page


def test_levels_stand_on_the_revision_that_they_were_set_on_and_say_so(cast, leader, sheet):
    issued = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    later = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, letter="B")
    LevelGiven.objects.filter(jury_sheet=sheet).update(revision=issued)
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "levels set on revision A<" in page
    assert "on revision B" not in page  # issued later, seen by nobody
    LevelGiven.objects.filter(criterion=cast.other_criterion).update(revision=later)
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "levels set on revisions A and B" in page
    for letter in "AB":
        assert f'<span class="unit">on revision {letter}</span>' in page
    exported = leader.get(reverse("export-table", args=[cast.crit.pk])).content.decode()
    assert "R01,Lee,1,,Jo Juror,locked,A B,4,3,4,3.5" in exported


def test_a_former_sheet_says_on_which_revision_it_was_set(cast, leader, sheet):
    issued = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    LevelGiven.objects.filter(jury_sheet=sheet).update(revision=issued)
    Comment.objects.update(revision=issued)
    former = crit_moderating.reopen_sheet(sheet, cast.leader, "Once more.")
    assert former.contents["set_on"] == "revision A"
    assert former.contents["comments"][0]["revision"] == "A"
    page = _page(leader, "moderate-scheme", cast.crit.pk, cast.scheme.pk)
    assert "Levels set on revision A." in page
