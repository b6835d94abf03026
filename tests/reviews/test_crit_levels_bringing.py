"""Levels of paper sheets from one table: held to the crit, kept as typed in, and once."""

import pytest
from django.urls import reverse

from criteria.scoring.levels import NOT_MINE
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.crit_jury_keeping import keep_level
from reviews.deeds.crit_levels_bringing import bring_in_levels, read_levels
from reviews.deeds.table_bringing import NotClean
from reviews.models import AuditLine, JurySheet, LevelGiven
from reviews.reading.crit_levels_csv import long_csv
from reviews.reading.crit_moderation_table import moderation_table
from reviews.reading.crit_sheets import level_of
from reviews.versions import Newer
from tests import factories

HEADS = "juror,scheme,criterion,level"


def table(*lines: str, heads: str = HEADS) -> str:
    return "\n".join((heads, *lines))


WHOLE = table("Jo Juror,R01,F1,4", "Jo Juror,R01,F2,n", "jo juror,r02,F1,2")


def levels_of(seat, scheme):
    sheet = JurySheet.objects.get(seat=seat, scheme=scheme)
    return sheet, {each.criterion.code: level_of(each) for each in sheet.levels.all()}


def refusals(crit, typed, closed=()):
    return [
        (cell.row, cell.column, cell.expected) for cell in read_levels(crit, typed, closed).refused
    ]


def test_each_sheet_is_kept_as_typed_in_and_a_whole_one_locked(cast):
    bring_in_levels(cast.crit, WHOLE, cast.leader)
    sheet, levels = levels_of(cast.seat, cast.scheme)
    assert levels == {"F1": 4, "F2": NOT_MINE}
    assert sheet.is_locked
    assert sheet.typed_by == cast.leader
    other, levels = levels_of(cast.seat, cast.other_scheme)
    assert levels == {"F1": 2}
    assert not other.is_locked
    deeds = AuditLine.objects.filter(deed=AuditLine.Deed.TYPED)
    assert {line.person for line in deeds} == {cast.leader}


def test_a_second_table_says_what_differs_and_fills_the_rest(cast):
    bring_in_levels(cast.crit, table("Jo Juror,R02,F1,2"), cast.leader)
    second = table("Jo Juror,R02,F1,3", "Jo Juror,R02,F2,5")
    assert read_levels(cast.crit, second).news == ("differs: 2 → 3", "new")
    assert read_levels(cast.crit, table("Jo Juror,R02,F1,2")).news == ("the same",)
    bring_in_levels(cast.crit, second, cast.leader)
    sheet, levels = levels_of(cast.seat, cast.other_scheme)
    assert levels == {"F1": 3, "F2": 5}
    assert sheet.is_locked


@pytest.mark.parametrize(
    ("line", "column", "expected"),
    [
        ("Nobody,R01,F1,3", "Juror", "a juror of this crit"),
        ("Jo Juror,R77,F1,3", "Scheme number", "a scheme that Jo Juror sees (R01, R02)"),
        ("Jo Juror,R01,F9,3", "Criterion code", "one of F1, F2"),
        ("Jo Juror,R01,F1,6", "Level", "a level from 1 to 5, or n"),
        ("Jo Juror,R01,F1,3.5", "Level", "a level from 1 to 5, or n"),
        ("Jo Juror,R01,F1,", "Level", "text of at most 20 characters"),
        ("Jo Juror,R01,F2,3", "Criterion code", "one that isn't in line 1 already"),
    ],
)
def test_a_cell_that_cannot_be_is_named_and_nothing_is_kept(cast, line, column, expected):
    typed = table("Jo Juror,R01,F2,3", line)
    assert refusals(cast.crit, typed) == [(2, column, expected)]
    with pytest.raises(NotClean):
        bring_in_levels(cast.crit, typed, cast.leader)
    assert not JurySheet.objects.exists()


def test_the_revision_that_the_juror_saw_is_kept(cast):
    made = [
        factories.RevisionFactory(
            scheme=cast.scheme, letter=letter, issued_by=cast.student, crit=cast.crit
        )
        for letter in "AB"
    ]
    heads = f"{HEADS},revision"
    bring_in_levels(cast.crit, table("Jo Juror,R01,F1,4,a", heads=heads), cast.leader)
    assert levels_of(cast.seat, cast.scheme)[0].revision == made[0]
    unknown = table("Jo Juror,R01,F1,4,Q", heads=heads)
    assert refusals(cast.crit, unknown) == [
        (1, "Revision", "a revision of R01 issued for this crit")
    ]


def test_what_a_juror_began_on_a_device_stays_theirs(cast):
    keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    [(_, column, expected)] = refusals(cast.crit, table("Jo Juror,R01,F1,5"))
    assert column == "Juror"
    assert "began this sheet on a device" in expected


def test_an_interest_and_a_closed_scheme_take_no_level(cast):
    assert refusals(cast.crit, table("Jo Juror,R01,F1,5"), {cast.scheme.pk}) == [
        (1, "Scheme number", "a scheme that Jo Juror sees (R02)")
    ]
    declare_interest(cast.seat, cast.scheme, may_comment=True)
    [(_, column, _)] = refusals(cast.crit, table("Jo Juror,R01,F1,5"))
    assert column == "Scheme number"


def test_who_meets_newer_levels_keeps_nothing(cast):
    seen = read_levels(cast.crit, WHOLE).seen
    bring_in_levels(cast.crit, table("Jo Juror,R02,F1,5"), cast.leader, seen=seen)
    with pytest.raises(Newer):
        bring_in_levels(cast.crit, WHOLE, cast.leader, seen=seen)
    assert not JurySheet.objects.filter(scheme=cast.scheme).exists()


def test_levels_that_went_out_come_in_elsewhere(cast):
    bring_in_levels(cast.crit, WHOLE, cast.leader)
    out = long_csv(moderation_table(cast.crit))
    LevelGiven.objects.all().delete()
    JurySheet.objects.all().delete()
    preview = read_levels(cast.crit, out)
    assert preview.is_clean
    assert set(preview.news) == {"new"}
    assert preview.ignored == ("crit", "position")


def test_the_page_looks_first_then_keeps(cast):
    leader, url = cast.client(cast.leader), reverse("bring-levels-in", args=[cast.crit.pk])
    looked = leader.post(url, {"text": WHOLE})
    assert not JurySheet.objects.exists()
    seen = looked.context["preview"].seen
    kept = leader.post(url, {"text": WHOLE, "keep": "yes", "seen": seen}, follow=True)
    assert "3 lines are in." in kept.content.decode()
    again = leader.post(url, {"text": WHOLE, "keep": "yes", "seen": seen})
    assert "The sheet is locked" in again.content.decode()
    assert cast.seat.sheets.count() == 2
    assert AuditLine.objects.filter(deed=AuditLine.Deed.READ, person=cast.leader).count() == 1
