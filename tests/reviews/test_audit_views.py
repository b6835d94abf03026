"""The audit list as leaders read it, and what reading and entering write into it."""

import csv
import io
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import audit_keeping, crit_jury_keeping, crit_releasing
from reviews.deeds.audit_keeping import Deed
from reviews.models import AuditLine
from reviews.pages.audit_list import LINES_A_PAGE
from tests import factories
from tests.reviews.page_steps import text_of


@pytest.fixture
def locked(cast):
    for seat in (cast.seat, factories.SeatFactory(crit=cast.crit, name="Zoe Second")):
        for criterion in (cast.criterion, cast.other_criterion):
            crit_jury_keeping.keep_level(seat, cast.scheme, criterion, 3, 0)
        sheet = crit_jury_keeping.lock_sheet(seat, cast.scheme)
    factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.")
    return sheet


def told() -> list[tuple[str, str, str]]:
    lines = AuditLine.objects.named().order_by("pk")
    return [(line.deed, line.who, line.by_link_of) for line in lines]


def audit(cast, ending="/", **query):
    return cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/audit{ending}", query)


def test_levels_on_the_table_and_a_scheme_s_page_are_read_once_a_day_each(cast, leader, locked):
    for _ in range(2):
        leader.get(reverse("show-table", args=[cast.crit.pk]))
        leader.get(reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk]))
    assert told() == [("read", "Lena Leader", "")] * 2
    lines = AuditLine.objects.order_by("pk")
    assert [line.about for line in lines] == [str(cast.crit), f"{cast.crit}: R01 Lee"]


def test_a_table_without_a_sheet_tells_of_nobody(cast, leader):
    leader.get(reverse("show-table", args=[cast.crit.pk]))
    leader.get(reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk]))
    assert told() == []


def test_every_export_of_the_table_is_told(cast, leader, locked):
    url = reverse("export-table", args=[cast.crit.pk])
    leader.get(url)
    leader.get(url, {"rows": "levels"})
    assert told() == [("exported", "Lena Leader", "")] * 2
    assert {line.about for line in AuditLine.objects.all()} == {
        f"{cast.crit}, table",
        f"{cast.crit}, levels",
    }


def test_a_released_level_s_correction_page_is_a_reading(cast, leader, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    leader.get(reverse("correct-level", args=[locked.levels.first().pk]))
    assert told()[-1] == ("read", "Lena Leader", "")


def test_results_are_read_by_others_than_the_scheme_s_students(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    url = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    for who in (cast.student, cast.examiner, cast.coordinator, cast.leader):
        assert cast.client(who).get(url).status_code == 200
    assert [who for deed, who, _ in told() if deed == "read"] == [
        "Edda Examiner",
        "Cora Coordinator",
        "Lena Leader",
    ]


def test_whoever_is_turned_away_leaves_no_reading(cast, locked):
    for who in (cast.student, cast.other_leader, cast.examiner, cast.other_seat):
        client = cast.client(who)
        client.get(reverse("show-table", args=[cast.crit.pk]))
        client.get(reverse("show-results", args=[cast.crit.pk, cast.scheme.pk]))
    assert told() == []


def test_a_juror_reads_others_levels_beside_the_own_locked_sheet(cast, juror, locked):
    juror.get(reverse("show-jury-sheet", args=[cast.scheme.pk]))
    juror.get(reverse("show-jury-sheet", args=[cast.other_scheme.pk]))
    assert told() == [("read", "Jo Juror, no account", "Jo Juror")]


def test_a_leader_who_enters_by_a_juror_s_link_is_told_as_such(cast, leader):
    leader.get(reverse("enter-jury", args=[cast.seat.code]))
    leader.get(reverse("show-jury"))
    assert told() == [("entered-as", "Lena Leader", "Jo Juror")]
    text = text_of(audit(cast))
    assert "Entered by another&#x27;s link" in text


def test_whoever_opens_a_link_first_and_signs_in_then_is_told_too(cast):
    client = cast.client()
    client.get(reverse("enter-jury", args=[cast.seat.code]))
    cast.leader.set_password("a long enough one")
    cast.leader.save()
    client.post("/sign-in/", {"username": cast.leader.email, "password": "a long enough one"})
    client.get(reverse("show-jury"))
    assert told() == [
        ("entered", "Jo Juror, no account", "Jo Juror"),
        ("entered-as", "Lena Leader", "Jo Juror"),
    ]


def test_a_level_read_by_a_leader_through_a_juror_s_link_tells_both(cast, leader, locked):
    leader.get(reverse("enter-jury", args=[cast.seat.code]))
    leader.get(reverse("show-jury-sheet", args=[cast.scheme.pk]))
    assert told()[-1] == ("read", "Lena Leader", "Jo Juror")


def test_the_newest_stand_first_and_a_deed_narrows_the_list(cast):
    now = timezone.now()
    audit_keeping.record(Deed.RELEASED, cast.studio, about="the older", at=now - timedelta(days=2))
    audit_keeping.record(Deed.EXPORTED, cast.studio, about="the newer", at=now)
    text = text_of(audit(cast))
    assert text.index("the newer") < text.index("the older")
    text = text_of(audit(cast, deed="released"))
    assert "the older" in text
    assert "the newer" not in text
    assert '<option value="released" selected>' in text


@pytest.mark.parametrize("query", [{"deed": "nonsense"}, {"page": "-3"}, {"page": "9" * 30}])
def test_odd_addresses_show_the_nearest_page(cast, query):
    audit_keeping.record(Deed.RELEASED, cast.studio, about="the only one")
    assert "the only one" in text_of(audit(cast, **query))


def test_lines_of_another_studio_and_of_none_are_not_there(cast):
    audit_keeping.record(Deed.RELEASED, cast.other_studio, about="of another")
    audit_keeping.record(Deed.DATA_EXPORTED, None, about="of none")
    for ending in ("/", ".csv"):
        text = text_of(audit(cast, ending))
        assert "of another" not in text
        assert "of none" not in text


def test_no_level_and_no_word_of_a_comment_stands_in_it(cast, leader, locked):
    leader.get(reverse("moderate-scheme", args=[cast.crit.pk, cast.scheme.pk]))
    crit_releasing.release_crit(cast.crit, cast.leader, "Ladies first.")
    for ending in ("/", ".csv"):
        text = text_of(audit(cast, ending))
        assert "Lena Leader" in text
        assert "Weigh it wet." not in text
        assert "Ladies first." not in text


def test_the_csv_has_every_line_and_runs_nothing(cast):
    cast.leader.name = "=HYPERLINK(1)"
    cast.leader.save()
    for _ in range(LINES_A_PAGE + 1):
        audit_keeping.record(Deed.RELEASED, cast.studio, by=cast.leader, about="-1+1")
    answer = audit(cast, ".csv")
    assert answer["Content-Disposition"].endswith('filename="ridge-audit.csv"')
    head, *lines = csv.reader(io.StringIO(text_of(answer).removeprefix("\ufeff")))
    assert head == ["when", "who", "by the link of", "deed", "about", "of whom"]
    assert len(lines) == LINES_A_PAGE + 1
    assert lines[0][1:5] == ["'=HYPERLINK(1)", "", "Released", "'-1+1"]


def test_the_list_comes_in_pages_and_its_queries_do_not_grow(cast):
    def asked() -> int:
        with CaptureQueriesContext(connection) as held:
            text_of(audit(cast))
        return len(held)

    def add(count: int) -> None:
        for n in range(count):
            seat = factories.SeatFactory(crit=cast.crit)
            by = factories.PersonFactory()
            audit_keeping.record(Deed.ENTERED_AS, cast.studio, by=by, link_of=seat, about=f"n{n}")

    add(2)
    few = asked()
    add(LINES_A_PAGE + 5)
    assert asked() == few
    second = text_of(audit(cast, page="2"))
    assert second.count("<tr>") == 8  # the head and 7 lines
    assert "Page 2 of 2" in second
