"""What students read after release, and what they answer; what is held never reaches them."""

import re
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Answer, Comment
from reviews.pages.results_page import results_of
from reviews.places import Place
from tests import factories


def _say(seat, scheme, kind, place, words):
    sent = CommentSent(kind, place, None, words)
    return crit_jury_keeping.keep_comment(seat, scheme, uuid4(), sent, 0)


def _lock(cast, seat, scheme, levels):
    for criterion, level in zip((cast.criterion, cast.other_criterion), levels, strict=True):
        crit_jury_keeping.keep_level(seat, scheme, criterion, level, 0)
    return crit_jury_keeping.lock_sheet(seat, scheme)


@pytest.fixture
def judged(cast, settings, tmp_path):
    """Two jurors on the scheme, one on the classmate's; one comment held; not released."""
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02", "03")
    cast.criterion.level_2 = "Enough or too much, not placed"
    cast.criterion.save()
    other = factories.SeatFactory(crit=cast.crit, name="Zoe Zander")
    _say(cast.seat, cast.scheme, "Draw", Place("03", "B4"), "Draw the second way out.")
    _say(cast.seat, cast.scheme, "Keep", Place("02", "C4"), "Keep the lee.")
    _say(other, cast.scheme, "Prove", Place("02", "A1"), "Weigh it wet.")
    _say(other, cast.scheme, "Ask", Place(), "Who empties it?")
    unkind = _say(other, cast.scheme, "Rework", Place("02", "A1"), "You gave up.")
    _lock(cast, cast.seat, cast.scheme, (2, 4))
    _lock(cast, other, cast.scheme, (5, 1))
    _say(cast.seat, cast.other_scheme, "Keep", Place("02", "A1"), "Words for a classmate.")
    _lock(cast, cast.seat, cast.other_scheme, (3, 3))
    crit_moderating.hold_comment(unkind, cast.leader, "About the person.")
    return cast


@pytest.fixture
def released(judged):
    crit_releasing.release_crit(judged.crit, judged.leader, "Read the keeps first.")
    judged.crit.refresh_from_db()
    return judged


def _url(cast, scheme=None):
    return reverse("show-results", args=[cast.crit.pk, (scheme or cast.scheme).pk])


def _page(client, address):
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


def test_nothing_is_read_before_release_but_by_the_leader(judged):
    for who in (judged.student, judged.classmate, judged.examiner, judged.coordinator):
        assert judged.client(who).get(_url(judged)).status_code == 404
    page = _page(judged.client(judged.leader), _url(judged))
    assert "as the students will read it" in page
    assert "You gave up." not in page


def test_the_leader_s_words_come_first_then_comments_then_levels(released):
    page = _page(released.client(released.student), _url(released))
    order = [page.index(words) for words in ("Read the keeps first.", "Weigh it wet.", "Levels")]
    assert order == sorted(order)


def test_comments_stand_by_sheet_and_zone(released):
    page = _page(released.client(released.student), _url(released))
    words = ("Weigh it wet.", "Keep the lee.", "Draw the second way out.", "Who empties it?")
    places = [page.index(each) for each in words]
    assert places == sorted(places)
    assert "The scheme as a whole" in page


def test_a_flag_leads_to_its_note_and_back_and_levels_are_marks_in_one_section(released):
    page = _page(released.client(released.student), _url(released))
    for n in range(1, 4):  # the fourth is of the scheme as a whole, and flags nothing
        assert page.count(f'id="flag-{n}"') == page.count(f'href="#flag-{n}"') == 1
        assert page.count(f'id="comment-{n}"') == 1
    assert 'href="#flag-4"' not in page
    assert page.index('<img src="') < page.index('class="notes"') < page.index('class="drawn"')
    assert "F1: JJ 2, ZZ 5; F2: JJ 4, ZZ 1." in page


def test_flags_of_one_zone_stand_side_by_side(released):
    Comment.objects.exclude(zone="").update(zone="C4")
    page = _page(released.client(released.student), _url(released))
    flags = re.findall(r'<svg x="58.33%" y="62.50%".*?translate\((\d+) 0\)', page)
    assert flags == ["0", "34", "0"]  # two on sheet 02, one on another


def test_a_flag_stands_at_its_point_and_its_strokes_lie_on_its_juror_s_tracing_paper(released):
    Comment.objects.filter(words="Weigh it wet.").update(
        x=0.97, y=0.6, strokes=[[[0.5, 0.6], [0.97, 0.6]]]
    )
    page = _page(released.client(released.student), _url(released))
    said = Comment.objects.get(words="Weigh it wet.")
    number = re.search(r'<svg x="97.00%" y="60.00%".*?id="flag-(\d)"', page)[1]
    note = page[page.index(f'id="comment-{number}"') :]
    assert note.index("Weigh it wet.") < note.index("</article>")
    trace = re.search(r'data-layer="([^"]+)">(.*?)</svg>', page, flags=re.S)
    assert trace[1] == said.jury_sheet.seat.name
    assert f'data-drawn-with="comment-{number}"' in trace[2]
    assert 'class="stroke" points="0.5 0.6 0.97 0.6"' in trace[2]
    assert f'value="{trace[1]}" checked' in page


def test_strokes_of_a_comment_held_since_are_not_in_the_page(released):
    said = Comment.objects.filter(words="Weigh it wet.")
    said.update(strokes=[[[0.5, 0.6], [0.97, 0.6]]])
    student = released.client(released.student)
    assert "polyline" in _page(student, _url(released))
    said.update(held_at=timezone.now(), held_reason="Read again.")
    assert "polyline" not in _page(student, _url(released))


def test_a_held_comment_never_reaches_a_student(released):
    held = Comment.objects.get(words="You gave up.")
    for who in (released.student, released.mate):
        client = released.client(who)
        page = _page(client, _url(released))
        assert "You gave up." not in page
        assert "About the person." not in page
        assert client.get(reverse("answer-comment", args=[held.pk])).status_code == 404
        assert client.post(reverse("answer-comment", args=[held.pk])).status_code == 404


def test_a_comment_let_go_is_read(released):
    crit_moderating.let_go_comment(Comment.objects.get(words="You gave up."), released.leader)
    assert "You gave up." in _page(released.client(released.student), _url(released))


def test_levels_have_words_and_descriptors_and_no_decimals(released):
    page = _page(released.client(released.student), _url(released))
    levels = page[page.index('id="levels-title"') : page.index("sheet-foot")]
    for words in ("Roughed out", "Enough or too much, not placed", "Carried to the detail"):
        assert words in levels
    text = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", levels, flags=re.S)
    assert not re.search(r"\d[.,]\d", text)
    assert "weight" not in text.lower()
    assert "mean" not in text.lower()


def test_nothing_of_another_scheme_is_read(released):
    page = _page(released.client(released.student), _url(released))
    assert "Words for a classmate." not in page
    assert (
        released.client(released.student).get(_url(released, released.other_scheme)).status_code
        == 404
    )


def test_a_sheet_that_was_not_locked_is_not_read(judged):
    late = factories.SeatFactory(crit=judged.crit, name="Lena Late")
    _say(late, judged.scheme, "Prove", Place("02", "B1"), "Still a draft.")
    crit_releasing.release_crit(judged.crit, judged.leader, "Read the keeps first.")
    page = _page(judged.client(judged.student), _url(judged))
    assert "Still a draft." not in page
    assert "Lena Late" not in page
    draft = Comment.objects.get(words="Still a draft.")
    url = reverse("answer-comment", args=[draft.pk])
    assert judged.client(judged.student).get(url).status_code == 404


def test_whoever_stepped_aside_is_not_read(judged):
    declare_interest(judged.seat, judged.scheme)
    crit_releasing.release_crit(judged.crit, judged.leader, "Read the keeps first.")
    released = judged
    page = _page(released.client(released.student), _url(released))
    assert "Keep the lee." not in page
    assert "Jo Juror" not in page


def test_jurors_are_named_only_where_the_crit_says_so(released):
    student = released.client(released.student)
    assert "Zoe Zander" in _page(student, _url(released))
    released.crit.names_jurors = False
    released.crit.save()
    page = _page(student, _url(released))
    assert "Zoe Zander" not in page
    assert "Jo Juror" not in page
    assert "Juror A" in page
    assert "Juror B" in page


def _answer(cast, who=None, comment="Weigh it wet.", **data):
    url = reverse("answer-comment", args=[Comment.objects.get(words=comment).pk])
    return cast.client(who or cast.student).post(url, {"seen": "0"} | data)


def test_an_answer_is_kept_with_its_place(released):
    response = _answer(released, kind="Taken up", words="Shortened.", place_now="sheet 3 b1")
    assert response.status_code == 302
    answer = Answer.objects.get()
    assert (answer.kind, answer.place_now) == ("Taken up", "03·B1")
    page = _page(released.client(released.mate), _url(released))
    assert "Shortened." in page
    assert "Stef Student" in page


def test_a_mate_s_newer_answer_stands_beside_what_was_typed(released):
    _answer(released, released.mate, kind="Taken up", words="By the mate.")
    response = _answer(released, kind="Talk first", words="Typed by the student.")
    page = response.content.decode()
    assert response.status_code == 409
    assert "By the mate." in page
    assert "Typed by the student." in page
    assert 'name="seen" value="1"' in page
    assert Answer.objects.get().words == "By the mate."
    again = _answer(released, kind="Talk first", words="Typed by the student.", seen="1")
    assert again.status_code == 302
    assert Answer.objects.get().words == "Typed by the student."


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ({}, "Expected one of: Taken up; Part taken up"),
        ({"kind": "Noted"}, "Read “Noted”. Expected one of"),
        ({"kind": "Not taken, with reason"}, "Expected the reason why it is not taken."),
        ({"kind": "Taken up", "place_now": "by the door"}, "Read “by the door”. Expected a sheet"),
        ({"kind": "Taken up", "place_now": "08 B1"}, "Read “08·B1”. Expected a sheet of"),
        ({"kind": "Taken up", "place_now": "B1"}, "package: 02, 03."),
    ],
)
def test_an_answer_that_can_t_be_kept_comes_back_as_typed(released, data, message):
    sent = {"place_now": "03 B1"} | data
    page = _answer(released, **sent).content.decode()
    assert message in page
    assert sent["place_now"] in page
    assert not Answer.objects.exists()


def test_a_hazard_cannot_be_declined(released):
    Comment.objects.filter(words="Weigh it wet.").update(kind="Hazard")
    page = _answer(released, kind="Not taken, with reason", words="We disagree.").content.decode()
    assert "for a hazard. Expected what is done about it." in page
    assert "We disagree." in page
    assert not Answer.objects.exists()


def test_nobody_but_the_scheme_s_students_answers(released):
    for who in (released.classmate, released.leader, released.examiner, released.other_student):
        assert _answer(released, who, kind="Taken up").status_code == 404


def test_a_leader_reads_no_forms(released):
    page = _page(released.client(released.leader), _url(released))
    assert "Save the answer" not in page


def test_queries_do_not_grow_with_comments_and_jurors(released):
    def queries():
        client = released.client(released.student)
        with CaptureQueriesContext(connection) as caught:
            _page(client, _url(released))
        return len(caught)

    on = released.scheme.revisions.get().sheets.get(number="02")

    def fill(jurors):
        for n in range(jurors):
            seat = factories.SeatFactory(crit=released.crit)
            sheet = factories.JurySheetFactory(
                seat=seat, scheme=released.scheme, locked_at=timezone.now()
            )
            factories.LevelGivenFactory(jury_sheet=sheet, criterion=released.criterion)
            zone = f"A{n % 6 + 1}"
            factories.CommentFactory(
                jury_sheet=sheet, issued_sheet=on, revision=on.revision, zone=zone
            )

    fill(2)
    queries()  # the first keeps who opened it
    few = queries()
    fill(20)
    assert queries() == few


# the record is of what was seen


def _image(sheet):
    return reverse("issued-sheet-image", args=[sheet.revision_id, sheet.number, "preview"])


def test_flags_stand_on_the_very_drawing_that_was_spoken_of(released):
    """Revision B, issued later, draws another sheet 02."""
    seen = released.scheme.revisions.get()
    later = factories.issue_sheets(released, "02", letter="B", schemes=[released.scheme])[0]
    page = _page(released.client(released.student), _url(released))
    assert _image(seen.sheets.get(number="02")) in page
    assert _image(later.sheets.get(number="02")) not in page
    assert "Sheet 02 Plan, revision A" in page
    assert "set on revision A" in page


def test_the_title_block_names_the_revision_that_was_judged(released):
    factories.issue_sheets(released, "02", letter="B", schemes=[released.scheme])
    frame = released.client(released.student).get(_url(released)).context
    block = dict(frame["title_block"])
    assert block["Revision"] == "A"
    assert "In preparation" not in block.values()


def test_where_jurors_saw_two_revisions_each_level_and_comment_says_on_which(judged):
    late = factories.SeatFactory(crit=judged.crit, name="Lena Late")
    factories.issue_sheets(judged, "02", letter="B", schemes=[judged.scheme])
    _say(late, judged.scheme, "Keep", Place("02", "C4"), "Keep the new lee.")
    _lock(judged, late, judged.scheme, (5, 5))
    response = judged.client(judged.leader).get(_url(judged))
    page = response.content.decode()
    assert dict(response.context["title_block"])["Revision"] == "A, B"
    assert "set on revisions A and B" in page
    for letter in "AB":
        assert f"Sheet 02 Plan, revision {letter}" in page
        assert f"on revision {letter}</span>" in page
    groups = response.context["results"].groups
    both = [group.traced.sheet.sizes.src for group in groups if group.traced]
    assert len(both) == len(set(both)) == 3  # 02 of A, 02 of B, 03 of A


def test_a_comment_that_its_juror_left_off_is_read_by_nobody(judged):
    sheet = judged.seat.sheets.get(scheme=judged.other_scheme)
    crit_moderating.reopen_sheet(sheet, judged.leader, "Once more.")
    said = _say(judged.seat, judged.other_scheme, "Keep", Place(), "Unsaid.")
    crit_jury_keeping.remove_comment(judged.seat, judged.other_scheme, said.key, said.version)
    crit_jury_keeping.lock_sheet(judged.seat, judged.other_scheme)
    crit_releasing.release_crit(judged.crit, judged.leader, "")
    classmate, leader = (judged.client(who) for who in (judged.classmate, judged.leader))
    assert "Words for a classmate." in _page(classmate, _url(judged, judged.other_scheme))
    assert "Unsaid." not in _page(classmate, _url(judged, judged.other_scheme))
    moderate = reverse("moderate-scheme", args=[judged.crit.pk, judged.other_scheme.pk])
    assert "Unsaid." not in _page(leader, moderate)
    assert classmate.post(reverse("answer-comment", args=[said.pk])).status_code == 404


def test_letters_of_anonymous_jurors_are_not_in_the_order_of_their_names(judged):
    judged.crit.names_jurors = False
    judged.crit.save()
    judged.crit.seats.filter(name="Jo Juror").update(code="zzzz")
    judged.crit.seats.filter(name="Zoe Zander").update(code="aaaa")
    results = results_of(judged.crit, judged.scheme)
    words = {read.comment.words: read.juror for read in results.comments}
    assert words["Weigh it wet."] == "Juror A"  # Zoe
    assert words["Keep the lee."] == "Juror B"  # Jo
    assert [level.juror for level in results.criteria[0].levels] == ["Juror A", "Juror B"]
