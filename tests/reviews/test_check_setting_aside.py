"""A check set aside: what it then says, what it counts for, who may, and how it comes back."""

from datetime import datetime

import pytest
from django.db import IntegrityError
from django.urls import reverse
from django.utils import timezone

from criteria.check_sheet.claims import ClaimResult
from criteria.findings import State
from criteria.units import System
from reviews import access
from reviews.deeds import revision_issuing
from reviews.deeds.check_setting_aside import AsideAlready, set_aside, take_back
from reviews.models import SetAside, StoredFinding
from reviews.pages.check_page import check_line, summary_of
from reviews.pages.jury_pages import facts_for, likely_questions
from reviews.pages.rehearsing import KeptCard
from reviews.pages.scheme_table import scheme_table
from reviews.reading import package_checking
from tests.factories import PENS_DOWN, RowFactory, SetAsideFactory, TargetLineFactory

REASON = "The roof glass is not counted."
AT = timezone.make_aware(datetime(2026, 12, 4, 11, 5))
SAID = f"set aside by Lena Leader, Fri 4 Dec 2026: {REASON}"
WINDOW = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1000"}


@pytest.fixture
def package(cast):
    """Two schemes with a day room of 20 m² and 1.2 m² of glass: 6 % where 12 % is asked."""
    for scheme in (cast.scheme, cast.other_scheme):
        RowFactory(package=scheme.package, changed_by=cast.student)
        RowFactory(
            package=scheme.package, schedule="windows", cells=WINDOW, changed_by=cast.student
        )
    return cast.scheme.package


def aside(cast, key="T01", *, whole_studio=False, reason=REASON):
    return set_aside(cast.scheme, key, reason, cast.leader, whole_studio=whole_studio, at=AT)


def finding(scheme, ref="T01"):
    return next(f for f in package_checking.draft(scheme.package).sheet.asked if f.ref == ref)


def states(cast):
    return [finding(scheme).state for scheme in (cast.scheme, cast.other_scheme)]


# what it says and counts for


def test_a_target_set_aside_is_not_asked_and_says_by_whom_when_and_why(cast, package):
    aside(cast)
    found = finding(cast.scheme)
    assert (found.state, found.write_notes(), found.question) == (State.NOT_ASKED, (SAID,), "")
    assert found.value == pytest.approx(0.06)  # the figure stays, for information
    line = check_line(found, System.METRIC)
    assert (line.why_not_asked, line.margin_text, line.target) == (SAID, "–", None)


@pytest.mark.parametrize(
    ("key", "whole_studio", "expected"),
    [
        ("T01", False, [State.NOT_ASKED, State.SHORT]),
        ("T01", True, [State.NOT_ASKED, State.NOT_ASKED]),
        ("daylight_ratio", False, [State.NOT_ASKED, State.SHORT]),
        ("daylight_ratio", True, [State.NOT_ASKED, State.NOT_ASKED]),
        ("T1", True, [State.SHORT, State.SHORT]),
    ],
)
def test_it_holds_for_what_and_whom_it_names(cast, package, key, whole_studio, expected):
    aside(cast, key, whole_studio=whole_studio)
    assert states(cast) == expected


def test_a_check_is_set_aside_with_every_target_that_it_answers(cast, package):
    cells = cast.studio.brief.target_lines.get().cells | {"id": "T02", "value": "10"}
    TargetLineFactory(brief=cast.studio.brief, cells=cells)
    aside(cast, "T02")
    assert finding(cast.scheme, "T01").state is State.SHORT
    aside(cast, "daylight_ratio", reason="It forgets the borrowed light.")
    assert {f.state for f in package_checking.draft(package).sheet.asked} == {State.NOT_ASKED}
    assert finding(cast.scheme, "T02").write_notes() == (SAID,)  # the target's own reason first


def test_another_studio_is_left_alone(cast, package):
    SetAsideFactory(studio=cast.other_studio, key="T01")
    assert states(cast) == [State.SHORT, State.SHORT]


def test_a_check_sheet_counts_it_as_not_asked(cast, package):
    summary = summary_of(package_checking.draft(package).sheet, System.METRIC)
    assert (summary.counts, summary.is_all_met) == (((State.SHORT, 1),), False)
    aside(cast)
    summary = summary_of(package_checking.draft(package).sheet, System.METRIC)
    assert (summary.counts, summary.is_all_met) == (((State.NOT_ASKED, 1),), True)
    assert (summary.worst, summary.asked) == ((), 1)


def test_nobody_is_asked_about_it(cast, package):
    def asked():
        return [q.asked.ref for q in KeptCard(package, System.METRIC).shown.raised]

    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert "T01" in asked()
    assert [f.ref for f in likely_questions(package_checking.issued_sheet(revision))] == ["T01"]
    aside(cast)
    assert "T01" not in asked()
    assert likely_questions(package_checking.issued_sheet(revision)) == []


def test_a_claim_is_not_held_against_a_check_that_is_set_aside(cast, package):
    cells = {"about": "Day room glass", "text": "20 %", "sheet": "02"}
    RowFactory(package=package, schedule="claims", cells=cells, changed_by=cast.student)
    assert package_checking.draft(package).sheet.claims[0].differs
    aside(cast, "daylight_ratio")
    (claim,) = package_checking.draft(package).sheet.claims
    assert (claim.result, claim.write_why()) == (ClaimResult.NOT_COMPARED, (SAID,))


# issued revisions


def test_an_issued_revision_follows_and_jurors_read_why(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    set_by = aside(cast)
    sheet = package_checking.issued_sheet(revision)
    (fact,) = facts_for(cast.criterion, sheet, System.METRIC)
    assert (fact.state, fact.value, fact.margin, fact.note) == ("not_asked", "6.0 %", "", SAID)
    take_back(set_by, cast.leader)
    (fact,) = facts_for(cast.criterion, package_checking.issued_sheet(revision), System.METRIC)
    assert (fact.state, fact.margin, fact.note) == ("short", "short by 6.0 points", "")


def test_findings_stored_later_follow_and_those_stored_before_stay(cast, package):
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    aside(cast)
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    stored = StoredFinding.objects.order_by("revision__letter")
    assert [(f.state, f.ratio) for f in stored] == [("short", 0.5), ("not_asked", None)]


@pytest.mark.parametrize("key", ["T01", "daylight_ratio"])
def test_the_studios_tally_counts_it_no_longer(cast, package, key):
    for scheme in (cast.scheme, cast.other_scheme):
        revision_issuing.issue(scheme.package, cast.student, PENS_DOWN)

    def missed():
        table = scheme_table(access.Viewer(cast.leader), cast.studio)
        return [line.missed for line in table.lines]

    assert missed() == ["1 of 1", "1 of 1"]
    set_by = aside(cast, key)
    assert missed() == ["0 of 1", "1 of 1"]
    aside(cast, key, whole_studio=True)
    assert missed() == ["0 of 1", "0 of 1"]
    take_back(set_by, cast.leader)
    assert missed() == ["0 of 1", "0 of 1"]


# history


def test_sent_twice_it_is_once_and_another_reason_is_refused(cast, package):
    first = aside(cast)
    assert aside(cast) == first
    with pytest.raises(AsideAlready, match="The roof glass is not counted") as already:
        aside(cast, reason="Another.")
    assert already.value.standing == first
    aside(cast, whole_studio=True)  # the whole studio is another matter
    assert SetAside.objects.count() == 2


def test_taken_back_it_counts_again_and_history_keeps_both(cast, package):
    first = aside(cast)
    taken = take_back(first, cast.leader, at=AT)
    assert take_back(first, cast.other_leader) == taken
    again = aside(cast, reason="Still wrong.")
    taken.refresh_from_db()
    assert (taken.taken_back_by, taken.taken_back_at) == (cast.leader, AT)
    assert list(SetAside.objects.all()) == [first, again]
    assert finding(cast.scheme).write_notes() == (str(again),)


@pytest.mark.parametrize("whole_studio", [True, False])
def test_no_two_stand_for_the_same(cast, package, whole_studio):
    first = aside(cast, whole_studio=whole_studio)
    with pytest.raises(IntegrityError, match=r"(?i)unique"):
        SetAsideFactory(studio=cast.studio, scheme=first.scheme, by=cast.leader)


# on the page


def page(cast, who, name="show-check", *args):
    return cast.client(who).get(reverse(name, args=args or [cast.scheme.pk, "T01"]))


def post(cast, who, **data):
    address = reverse("set-check-aside", args=[cast.scheme.pk, "T01"])
    return cast.client(who).post(address, {"what": "T01", "whom": "scheme"} | data)


def test_a_leader_sets_a_check_aside_on_its_page_and_takes_it_back(cast, package):
    answer = post(cast, cast.leader, reason=REASON)
    assert answer.url == reverse("show-check", args=[cast.scheme.pk, "T01"])
    (kept,) = SetAside.objects.all()
    assert (kept.scheme, kept.key, kept.reason) == (cast.scheme, "T01", REASON)
    text = page(cast, cast.student).content.decode()
    assert f"{REASON}" in text
    assert "Set aside by Lena Leader" in text
    assert "<textarea" not in text
    client = cast.client(cast.leader)
    client.post(reverse("take-check-back", args=[cast.scheme.pk, kept.pk]))
    text = page(cast, cast.student).content.decode()
    assert "taken back by Lena Leader" in text
    assert finding(cast.scheme).state is State.SHORT


def test_for_every_target_of_the_check_and_the_whole_studio(cast, package):
    post(cast, cast.leader, reason=REASON, what="daylight_ratio", whom="studio")
    (kept,) = SetAside.objects.all()
    assert (kept.scheme, kept.key) == (None, "daylight_ratio")
    text = page(cast, cast.classmate, "show-checks", cast.other_scheme.pk).content.decode()
    assert "Set aside by Lena Leader" in text
    assert "Not asked 1" in text


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"reason": " "}, "Read nothing. Expected the reason"),
        ({"reason": "x" * 1001}, "Expected the reason, in at most 1,000 characters"),
        ({"reason": REASON, "what": "T99"}, "Read “T99”. Expected one of those offered"),
        ({"reason": REASON, "whom": "me"}, "Read “me”. Expected the scheme or the studio"),
    ],
)
def test_what_cannot_be_read_is_told_and_nothing_is_lost(cast, package, data, words):
    answer = post(cast, cast.leader, **data)
    assert words in answer.content.decode()
    assert data["reason"].strip() in answer.content.decode()
    assert not SetAside.objects.exists()


def test_another_reason_is_told_what_stands(cast, package):
    aside(cast)
    answer = post(cast, cast.leader, reason="Another.")
    (said,) = answer.context["form"].non_field_errors()
    assert said == f"It is {SAID} Take that back first."
    assert "Another." in answer.content.decode()


@pytest.mark.parametrize("role", ["student", "coordinator"])
def test_only_leaders_have_the_form_and_the_right(cast, package, role):
    who, kept = getattr(cast, role), aside(cast)
    text = page(cast, who).content.decode()
    assert REASON in text
    assert "take-back" not in text
    assert post(cast, who, reason="Mine.").status_code == 403
    address = reverse("take-check-back", args=[cast.scheme.pk, kept.pk])
    assert cast.client(who).post(address).status_code == 403
    kept.refresh_from_db()
    assert kept.taken_back_at is None


def test_what_is_set_aside_for_one_scheme_cannot_be_taken_back_from_another(cast, package):
    kept = aside(cast)
    address = reverse("take-check-back", args=[cast.other_scheme.pk, kept.pk])
    assert cast.client(cast.leader).post(address).status_code == 404


def test_a_check_that_nothing_asks_for_is_set_aside_by_its_name_alone(cast, package):
    text = page(cast, cast.leader, "show-check", cast.scheme.pk, "floor_area").content.decode()
    assert 'value="floor_area"' in text
    assert 'value="T01"' not in text
