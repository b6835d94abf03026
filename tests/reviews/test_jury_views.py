"""A juror's pages: the link, the order, the sheet, and what must not be seen before locking."""

import re
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from criteria.scoring.levels import NOT_MINE
from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Comment, Interest, JurySheet, LevelGiven
from reviews.pages import jury_pages
from reviews.places import Place
from tests import factories

HTMX = {"HX-Request": "true"}


@pytest.fixture
def issued(cast, settings, tmp_path):
    """Revision A of the scheme with sheets 02 and 03."""
    settings.MEDIA_ROOT = tmp_path
    return factories.issue_sheets(cast, "02", "03", schemes=[cast.scheme])[0]


@pytest.fixture
def juror(cast):
    return cast.client(cast.seat)


def _sheet_url(cast):
    return reverse("show-jury-sheet", args=[cast.scheme.pk])


def _level_url(cast):
    return reverse("keep-level", args=[cast.scheme.pk, cast.criterion.pk])


def _comment_url(cast):
    return reverse("keep-comment", args=[cast.scheme.pk])


def _lock(cast, seat, level=3):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seat, cast.scheme, criterion, level, 0)
    return crit_jury_keeping.lock_sheet(seat, cast.scheme)


def _page(client, address):
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


# the link


def test_a_link_opens_without_an_account_and_leads_to_the_order(cast, client):
    response = client.get(reverse("enter-jury", args=[cast.seat.code.upper()]), follow=True)
    assert response.redirect_chain == [(reverse("show-jury"), 302)]
    assert "R01 Lee" in response.content.decode()


def test_a_wrong_code_is_told_what_a_code_is(db, client):
    response = client.get(reverse("enter-jury", args=["nosuchcode"]))
    assert response.status_code == 404
    assert "12 letters and figures" in response.content.decode()


def test_a_link_ends_48_hours_after_the_day(cast, client):
    cast.crit.day = date.today() - timedelta(days=3)  # its last minute is more than 48 h ago
    cast.crit.save()
    address = reverse("enter-jury", args=[cast.seat.code])
    assert client.get(address).status_code == 404
    assert cast.client(cast.seat).get(reverse("show-jury")).status_code == 404
    cast.crit.day = date.today() - timedelta(days=2)
    cast.crit.save()
    assert client.get(address).status_code == 302


def test_a_renewed_code_ends_the_old_link_where_it_is_open(cast, juror):
    cast.seat.code = "anothercode22"
    cast.seat.save()
    assert juror.get(reverse("show-jury")).status_code == 404


def test_leaving_closes_the_link_on_this_device(cast, juror):
    assert juror.get(reverse("leave-jury")).status_code == 405
    juror.post(reverse("leave-jury"))
    assert juror.get(reverse("show-jury")).status_code == 404


# the order


def test_the_order_says_what_is_to_come_in_hand_and_locked(cast, juror):
    page = _page(juror, reverse("show-jury"))
    assert page.count("To come") == 2
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, NOT_MINE, 0)
    assert "In hand, 1 of 2 set" in _page(juror, reverse("show-jury"))
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert "Locked " in _page(juror, reverse("show-jury"))


def test_a_juror_sees_the_own_room_and_what_all_see(cast):
    cast.crit.slots.filter(scheme=cast.other_scheme).update(room="B")
    cast.seat.room = "A"
    cast.seat.save()
    client = cast.client(cast.seat)
    page = _page(client, reverse("show-jury"))
    assert "R01 Lee" in page
    assert "R02 Keel" not in page
    other = reverse("show-jury-sheet", args=[cast.other_scheme.pk])
    assert client.get(other).status_code == 404


@pytest.mark.parametrize("name", ["show-jury", "show-jury-sheet"])
def test_queries_do_not_grow_with_the_schemes(cast, name):
    def queries():
        client = cast.client(cast.seat)
        args = [cast.scheme.pk] if name == "show-jury-sheet" else []
        with CaptureQueriesContext(connection) as caught:
            _page(client, reverse(name, args=args))
        return len(caught)

    def fill(schemes):
        for n in range(schemes):
            scheme = factories.SchemeFactory(studio=cast.studio)
            factories.SlotFactory(crit=cast.crit, scheme=scheme, position=n + 3)
            sheet = factories.JurySheetFactory(seat=cast.seat, scheme=scheme)
            factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion)

    fill(8)
    at_10 = queries()
    fill(90)
    assert queries() == at_10


# the brief


def test_the_brief_has_targets_year_level_and_descriptors_on_one_page(cast, juror):
    cast.studio.year_line = "Third year, seven weeks"
    cast.studio.save()
    cast.criterion.level_4 = "Glare and drift handled"
    cast.criterion.save()
    page = _page(juror, reverse("show-jury-brief"))
    said = ("Third year, seven weeks", "Day room daylight ratio", "Glare and drift handled")
    for words in said:
        assert words in page


def test_a_brief_in_preparation_is_not_shown(cast, juror):
    cast.studio.brief.issued_at = None
    cast.studio.brief.save()
    page = _page(juror, reverse("show-jury-brief"))
    assert cast.studio.brief.text not in page
    assert "not issued yet" in page


# the sheet


def test_the_lamp_is_off_until_the_juror_switches_it_on(cast, juror):
    assert 'data-lamp="off"' in _page(juror, _sheet_url(cast))
    juror.cookies["lamp"] = "on"
    assert 'data-lamp="on"' in _page(juror, _sheet_url(cast))


def test_the_impression_comes_before_the_criteria_and_every_level_can_be_tapped(cast, juror):
    page = _page(juror, _sheet_url(cast))
    assert page.index("Overall impression") < page.index("F1 Light") < page.index("F2 Making")
    sent = re.findall(r'name="level" value="([^"]+)"', page)
    assert sent == [*"12345", *([*"12345", "not-mine"] * 2)]
    assert "onclick" not in page
    assert "style=" not in page


def test_facts_stand_under_the_criterion_that_names_them_and_set_nothing(cast, juror):
    factories.RevisionFactory(
        scheme=cast.scheme, crit=cast.crit,
        contents={
            "statement": "", "site": dict(cast.studio.brief.site), "sheets": [],
            "targets": cast.studio.brief.target_records(),
            "schedules": {
                "rooms": [{"mark": "R1", "room": "Day room", "floor_m2": "20", "use": "day"}],
                "windows": [
                    {"mark": "W1", "room": "R1", "count": "1", "frame_w": "1200",
                     "frame_h": "1200", "glass_w": "1000", "glass_h": "1000"},
                ],
            },
        },
    )  # fmt: skip
    page = _page(juror, _sheet_url(cast))
    light = page[page.index("F1 Light") : page.index("F2 Making")]
    making = page[page.index("F2 Making") : page.index("comments-title")]
    assert "1 check fact" in light
    assert "Day room daylight ratio" in light
    assert "check fact" not in making
    assert 'aria-pressed="true"' not in page
    assert not LevelGiven.objects.exists()


def test_at_most_five_questions_are_shown_worst_first():
    class Finding:
        def __init__(self, ref, margin, question="Why?"):
            self.ref, self.relative_margin, self.question = ref, margin, question

    class Sheet:
        asked = [Finding(f"T{n}", -n / 10) for n in range(7)] + [Finding("T9", -9, "")]

    chosen = jury_pages.likely_questions(Sheet())
    assert [finding.ref for finding in chosen] == ["T6", "T5", "T4", "T3", "T2"]


def test_a_tap_without_javascript_keeps_the_level_and_returns_to_its_line(cast, juror):
    response = juror.post(_level_url(cast), {"level": "4", "seen": "0"})
    assert response.status_code == 302
    assert response["Location"] == f"{_sheet_url(cast)}#level-{cast.criterion.pk}"
    page = _page(juror, _sheet_url(cast))
    assert re.search(r"Kept \d\d:\d\d:\d\d", page)
    assert page.count('aria-pressed="true"') == 1


def test_a_tap_from_a_device_is_answered_with_its_line_alone(cast, juror):
    response = juror.post(_level_url(cast), {"level": "not-mine", "seen": "0"}, headers=HTMX)
    page = response.content.decode()
    assert response.status_code == 200
    assert f'id="level-{cast.criterion.pk}" data-seen="1"' in page
    assert "<html" not in page
    assert LevelGiven.objects.get().is_not_mine


@pytest.mark.parametrize("headers", [{}, HTMX])
def test_a_stale_tap_is_refused_with_both_shown(cast, juror, headers):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 0)
    response = juror.post(_level_url(cast), {"level": "2", "seen": "0"}, headers=headers)
    page = response.content.decode()
    assert response.status_code == 409
    assert "4 Resolved" in page
    assert "2 Roughed out" in page
    assert 'name="seen" value="1"' in page
    assert LevelGiven.objects.get().level == 4


@pytest.mark.parametrize(
    ("name", "level"), [("level", "6"), ("level", "3.5"), ("impression", "not-mine")]
)
def test_a_level_off_the_scale_is_refused_and_named(cast, juror, name, level):
    url = _level_url(cast)
    if name == "impression":
        url = reverse("keep-impression", args=[cast.scheme.pk])
    page = juror.post(url, {"level": level, "seen": "0"}).content.decode()
    assert f"Read “{level}”. Expected" in page
    assert not LevelGiven.objects.exists()


def test_a_level_for_a_criterion_of_another_crit_is_not_there(cast, juror):
    other = factories.CriterionFactory(crit=cast.other_crit)
    url = reverse("keep-level", args=[cast.scheme.pk, other.pk])
    assert juror.post(url, {"level": "3", "seen": "0"}).status_code == 404


# comments


@pytest.mark.usefixtures("issued")
def test_kind_sheet_and_zone_make_a_stub(cast, juror):
    data = {"key": str(uuid4()), "kind": "Prove", "sheet": "02", "place": "02·C4", "seen": "0"}
    assert juror.post(_comment_url(cast), data).status_code == 302
    comment = Comment.objects.get()
    assert (comment.kind, comment.place) == ("Prove", "02·C4")
    assert "stub, words to come" in _page(juror, _sheet_url(cast))


def test_a_comment_sent_twice_is_one(cast, juror):
    data = {"key": str(uuid4()), "kind": "Keep", "place": "", "words": "Good.", "seen": "0"}
    for _ in range(2):
        assert juror.post(_comment_url(cast), data, headers=HTMX).status_code == 200
    assert Comment.objects.count() == 1


@pytest.mark.usefixtures("issued")
@pytest.mark.parametrize("headers", [{}, HTMX])
def test_a_comment_over_a_newer_one_loses_nothing(cast, juror, headers):
    key = uuid4()
    first = CommentSent("Prove", Place("02", "C4"), None, "From the tablet")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, first, 0)
    data = {"key": str(key), "kind": "Rework", "place": "02 C4", "words": "From the phone",
            "seen": "0"}  # fmt: skip
    response = juror.post(_comment_url(cast), data, headers=headers)
    page = response.content.decode()
    assert response.status_code == 409
    assert "From the tablet" in page
    assert "From the phone" in page
    assert Comment.objects.get().words == "From the tablet"
    data["seen"] = "1"
    assert juror.post(_comment_url(cast), data, headers=HTMX).status_code == 200
    assert Comment.objects.get().words == "From the phone"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"place": "02 E9"}, "Read “02 E9”. Expected a sheet and a zone from A1 to D6"),
        ({"kind": "Praise"}, "Read “Praise”. Expected one of Keep, Rework"),
        ({"words": "x" * 4001}, "Read 4001 characters. Expected 4000 at most."),
        ({"criterion": "0"}, "Expected a criterion of this crit&#x27;s sheet."),
    ],
)
def test_a_comment_that_can_t_be_read_comes_back_as_typed(cast, juror, change, message):
    data = {"key": str(uuid4()), "kind": "Prove", "place": "02·C4", "words": "Typed with care",
            "seen": "0"} | change  # fmt: skip
    page = juror.post(_comment_url(cast), data, headers=HTMX).content.decode()
    assert message in page
    assert data["words"] in page
    assert not Comment.objects.exists()


def test_a_comment_left_off_is_gone_from_the_sheet_and_kept(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Keep", words="Hm"), 0)
    url = reverse("remove-comment", args=[cast.scheme.pk, key])
    assert juror.get(url).status_code == 405
    assert juror.post(url, {"seen": "1"}).status_code == 302
    assert "Hm" not in _page(juror, _sheet_url(cast))
    assert Comment.objects.get().words == "Hm"


def test_a_comment_changed_since_is_not_left_off(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Keep", words="One"), 0)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Keep", words="Two"), 1)
    url = reverse("remove-comment", args=[cast.scheme.pk, key])
    response = juror.post(url, {"seen": "1"}, headers=HTMX)
    assert response.status_code == 409
    assert "Two" in response.content.decode()
    assert Comment.objects.get().removed_at is None


# lock


def test_a_lock_that_lacks_something_names_it_and_keeps_the_sheet_open(cast, juror):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    page = juror.post(reverse("lock-sheet", args=[cast.scheme.pk])).content.decode()
    missing = page[page.index('id="lock-state"') :]
    assert f'href="#level-{cast.other_criterion.pk}">F2 Making' in missing
    assert "F1 Light" not in missing[: missing.index("</ul>")]
    assert not JurySheet.objects.get().is_locked


def test_before_the_lock_a_quiet_note_counts_the_keeps(cast, juror):
    assert "Keep 0" in _page(juror, _sheet_url(cast))
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, uuid4(), CommentSent("Keep", words="Y"), 0
    )
    assert "Keep 0" not in _page(juror, _sheet_url(cast))


def test_a_locked_sheet_is_read_only(cast, juror):
    _lock(cast, cast.seat)
    page = _page(juror, _sheet_url(cast))
    assert 'name="level"' not in page
    assert reverse("lock-sheet", args=[cast.scheme.pk]) not in page
    response = juror.post(_level_url(cast), {"level": "5", "seen": "1"}, headers=HTMX)
    assert response.status_code == 409
    assert "The sheet is locked" in response.content.decode()


@pytest.mark.usefixtures("issued")
def test_nothing_of_another_juror_s_sheet_is_seen_before_the_own_lock(cast, juror):
    other = factories.SeatFactory(crit=cast.crit, name="Olga Otherjuror")
    crit_jury_keeping.keep_impression(other, cast.scheme, 5, 0)
    words = CommentSent("Rework", Place("03", "B2"), None, "Words of another juror")
    crit_jury_keeping.keep_comment(other, cast.scheme, uuid4(), words, 0)
    _lock(cast, other, level=5)
    for address in (_sheet_url(cast), reverse("show-jury"), reverse("show-jury-brief")):
        page = _page(juror, address)
        assert "Olga" not in page
        assert "Words of another juror" not in page
        assert 'aria-pressed="true"' not in page
        assert "level-5" not in page.replace(f"level-{cast.criterion.pk}-5", "").replace(
            f"level-{cast.other_criterion.pk}-5", ""
        )
    # a refused tap, a refused lock and a bad form don't tell either
    for url, data in (
        (_level_url(cast), {"level": "9", "seen": "0"}),
        (_level_url(cast), {"level": "3", "seen": "7"}),
        (reverse("lock-sheet", args=[cast.scheme.pk]), {}),
        (_comment_url(cast), {"key": "x"}),
    ):
        assert "Olga" not in juror.post(url, data).content.decode()


def test_after_the_own_lock_the_locked_others_are_read_and_no_draft(cast, juror):
    locked = factories.SeatFactory(crit=cast.crit, name="Lou Locked")
    draft = factories.SeatFactory(crit=cast.crit, name="Dora Draft")
    _lock(cast, locked, level=5)
    crit_jury_keeping.keep_level(draft, cast.scheme, cast.criterion, 1, 0)
    _lock(cast, cast.seat)
    page = _page(juror, _sheet_url(cast))
    others = page[page.index("others-title") :]
    assert "Lou Locked" in others
    assert others.count("Carried to the detail") == 2
    assert "Dora Draft" not in page


def test_a_sheet_opened_again_hides_the_others_again(cast, juror):
    locked = factories.SeatFactory(crit=cast.crit, name="Lou Locked")
    _lock(cast, locked)
    _lock(cast, cast.seat)
    JurySheet.objects.filter(seat=cast.seat).update(locked_at=None)
    assert "Lou Locked" not in _page(juror, _sheet_url(cast))


def test_another_scheme_s_lock_opens_nothing_here(cast, juror):
    other = factories.SeatFactory(crit=cast.crit, name="Olga Otherjuror")
    _lock(cast, other)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.other_scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.other_scheme)
    assert "Olga" not in _page(juror, _sheet_url(cast))


# release and stepping aside


def _release(cast):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")


def test_a_released_crit_takes_no_level_and_still_shows_the_sheet(cast, juror):
    _lock(cast, cast.seat)
    _release(cast)
    saves = {
        _level_url(cast): {"level": "5", "seen": "1"},
        reverse("keep-impression", args=[cast.scheme.pk]): {"level": "5", "seen": "0"},
        _comment_url(cast): {"key": str(uuid4()), "seen": "0", "kind": "Keep"},
    }
    for url, data in saves.items():
        response = juror.post(url, data, headers=HTMX)
        assert response.status_code == 409
    assert not Comment.objects.exists()
    assert set(LevelGiven.objects.values_list("level", flat=True)) == {3}
    assert 'name="level"' not in _page(juror, _sheet_url(cast))


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
    _lock(cast, cast.seat)
    _release(cast)
    sent = {"key": str(key), "seen": "1", "kind": "Prove", "place": "02 C4", "words": "Weigh it."}
    assert juror.post(_comment_url(cast), sent, headers=headers).status_code in (200, 302)
    comment = Comment.objects.get()
    assert comment.words == "Weigh it."
    assert comment.held_reason == "Worded after the release."
    page = _page(juror, _sheet_url(cast))
    assert "Weigh it." in page
    assert "Held by the studio leader: Worded after the release." in page
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert "Weigh it." not in _page(cast.client(cast.student), results)


def test_words_on_a_sheet_that_was_released_without_its_levels_are_still_kept(cast, juror):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, CommentSent("Prove"), 0)
    _release(cast)
    page = _page(juror, _sheet_url(cast))
    assert 'name="words"' in page
    sent = {"key": str(key), "seen": "1", "kind": "Prove", "words": "Weigh it."}
    assert juror.post(_comment_url(cast), sent).status_code == 302
    assert Comment.objects.get().words == "Weigh it."
    results = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    assert "Weigh it." not in _page(cast.client(cast.student), results)


def _interest_url(cast):
    return reverse("declare-interest", args=[cast.scheme.pk])


def test_stepping_aside_is_asked_once_and_takes_the_scheme_from_the_list(cast, juror):
    assert _interest_url(cast) in _page(juror, _sheet_url(cast))
    page = _page(juror, _interest_url(cast))
    assert "Until the release it can be taken back" in page
    assert not Interest.objects.exists()
    page = juror.post(_interest_url(cast), {"how": "aside", "words": ""}, follow=True)
    assert Interest.objects.get().seat == cast.seat
    assert f'href="{_sheet_url(cast)}"' not in page.content.decode()
    assert juror.get(_sheet_url(cast)).status_code == 404
    assert juror.post(_level_url(cast), {"level": "3", "seen": "0"}).status_code == 404


def test_a_step_aside_is_taken_back_from_the_order(cast, juror):
    juror.post(_interest_url(cast), {"how": "aside", "words": "Her uncle."})
    page = _page(juror, reverse("show-jury"))
    back = reverse("take-own-interest-back", args=[cast.scheme.pk])
    assert back in page
    assert "Her uncle." in page
    assert juror.post(back).status_code == 302
    assert juror.post(back).status_code == 404
    assert _sheet_url(cast) in _page(juror, reverse("show-jury"))


def test_an_interest_with_comments_leaves_the_sheet_without_levels(cast, juror):
    juror.post(_interest_url(cast), {"how": "comments", "words": "Former employer."})
    page = _page(juror, _sheet_url(cast))
    assert 'name="level"' not in page
    assert 'name="kind"' in page
    assert "Former employer." in page
    assert "comments, no level" in _page(juror, reverse("show-jury"))
    response = juror.post(_level_url(cast), {"level": "3", "seen": "0"}, headers=HTMX)
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
    page = _page(juror, reverse("show-jury"))
    assert "R01 Lee" in page
    assert "R02 Keel" not in page
    assert juror.post(_level_url(cast), {"level": "4", "seen": "1"}).status_code == 302
    assert LevelGiven.objects.get().level == 4


# a revision issued while the sheet is open


def _issue_b(cast):
    return factories.issue_sheets(cast, "02", letter="B", schemes=[cast.scheme])[0]


def test_a_juror_is_told_of_a_newer_revision_and_what_is_shown_stays(cast, juror, issued):
    juror.post(_level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
    assert 'id="newer"' not in _page(juror, _sheet_url(cast))
    later = _issue_b(cast)
    page = _page(juror, _sheet_url(cast))
    assert "this sheet is of revision A" in page
    assert f'href="{reverse("show-revision", args=[later.pk])}"' in page
    assert "Go on with revision B" in page
    assert "on revision A</span>" in page  # the level that is set
    assert f'name="of" value="{issued.pk}"' in page
    assert reverse("issued-sheet-image", args=[issued.pk, "03", "preview"]) in page
    assert reverse("issued-sheet-image", args=[later.pk, "02", "preview"]) not in page


def test_a_tap_is_set_on_the_revision_that_the_page_showed(cast, juror, issued):
    later = _issue_b(cast)
    juror.post(_level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
    answer = juror.post(
        _level_url(cast), {"level": "5", "seen": "1", "of": str(issued.pk)}, headers=HTMX
    ).content.decode()
    given = LevelGiven.objects.get()
    assert (given.level, given.revision, given.jury_sheet.revision) == (5, issued, issued)
    assert f'name="of" value="{issued.pk}"' in answer
    assert "on revision A" in answer
    assert str(later.pk) not in re.findall(r'name="of" value="(\d+)"', answer)


def test_a_juror_goes_on_with_the_newer_one_and_each_level_says_on_which_it_was_set(
    cast, juror, issued
):
    juror.post(_level_url(cast), {"level": "4", "seen": "0", "of": str(issued.pk)})
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
    page = _page(juror, _sheet_url(cast))
    assert "this sheet is of revision A" in page
    assert "Go on with" not in page
    url = reverse("take-up-revision", args=[cast.scheme.pk])
    answer = juror.post(url, {"of": str(later.pk)}, follow=True)
    assert "The sheet is locked" in answer.content.decode()


def test_a_juror_of_a_crit_without_an_issue_is_told_where_the_work_is(cast, juror, issued):
    type(issued).objects.update(crit=None)
    page = _page(juror, _sheet_url(cast))
    assert "Nothing is issued for this crit." in page
    assert f'<a href="{reverse("show-revision", args=[issued.pk])}">Revision A</a> was' in page
    assert "for no crit." in page
    assert 'name="of" value="0"' in page


@pytest.mark.parametrize("headers", [HTMX, {}])
def test_a_place_on_a_sheet_that_was_not_shown_comes_back_as_typed(cast, juror, issued, headers):
    data = {"key": str(uuid4()), "kind": "Prove", "place": "09 C4", "words": "Typed with care",
            "seen": "0", "of": str(issued.pk)}  # fmt: skip
    page = juror.post(_comment_url(cast), data, headers=headers).content.decode()
    assert "Read “09·C4”. Expected a sheet of revision A: 02, 03; or nothing" in page
    assert "Typed with care" in page
    assert 'value="09 C4"' in page
    assert not Comment.objects.exists()
