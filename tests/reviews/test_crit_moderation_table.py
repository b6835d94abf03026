"""The leader's table: exact weighted levels, spread in words, and the files made of it."""

import csv
import io
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from criteria.scoring.levels import NOT_MINE
from criteria.scoring.reading import read_levels
from reviews.deeds import crit_jury_keeping
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.models import Comment
from reviews.reading.crit_levels_csv import long_csv, wide_csv
from reviews.reading.crit_moderation_table import moderation_table
from tests import factories

# Weights of the final sheet of practice: 15 10 15 20 10 10 10 10. The levels of E03 by Quill
# (33313223) and Ferro (55545555), and their weighted levels, 2.40 and 4.80, are printed in the
# demo scenario's own table, worked out apart from this code.
WEIGHTS = (15, 10, 15, 20, 10, 10, 10, 10)
QUILL, FERRO = "33313223", "55545555"


@pytest.fixture
def final(cast):
    cast.crit.criteria.all().delete()
    cast.criteria = [
        factories.CriterionFactory(crit=cast.crit, code=f"F{n}", weight=weight, position=n)
        for n, weight in enumerate(WEIGHTS, start=1)
    ]
    return cast


def _give(cast, seat, digits, *, lock=True, scheme=None):
    scheme = scheme or cast.scheme
    for criterion, digit in zip(cast.criteria, digits, strict=True):
        if digit == "n":
            crit_jury_keeping.keep_level(seat, scheme, criterion, NOT_MINE, 0)
        elif digit != ".":
            crit_jury_keeping.keep_level(seat, scheme, criterion, int(digit), 0)
    if lock:
        crit_jury_keeping.lock_sheet(seat, scheme)


def _row(cast):
    return next(row for row in moderation_table(cast.crit).rows if row.scheme == cast.scheme)


def test_weighted_levels_mean_and_spread_are_exact(final):
    ferro = factories.SeatFactory(crit=final.crit, name="Zed Ferro")
    _give(final, final.seat, QUILL)
    _give(final, ferro, FERRO)
    row = _row(final)
    assert [cell.weighted.value for cell in row.cells] == [Fraction("2.4"), Fraction("4.8")]
    assert [cell.shown for cell in row.cells] == ["2.4", "4.8"]
    assert (row.panel.value, row.panel.spread) == (Fraction("3.6"), Fraction("2.4"))
    assert (row.mean, row.spread, row.is_wide) == ("3.6", "2.4", True)


def test_a_half_is_rounded_up_and_once(final):
    _give(final, final.seat, "33334333")  # 3 + 10/100 = 3.10
    assert _row(final).cells[0].shown == "3.1"
    other = factories.SeatFactory(crit=final.crit, name="Zoe")
    _give(final, other, "43333333")  # 3.15: a half, shown as 3.2
    row = _row(final)
    assert row.cells[1].shown == "3.2"
    assert row.panel.value == Fraction("3.125")


def test_not_mine_is_left_out_of_the_sum(final):
    _give(final, final.seat, "4444n444")
    cell = _row(final).cells[0]
    assert cell.weighted.value == 4
    assert cell.weighted.left_out == ("F5",)
    assert cell.digits == "4444n444"


def test_a_sheet_in_hand_is_shown_and_counts_for_nothing(final):
    other = factories.SeatFactory(crit=final.crit, name="Zoe")
    _give(final, final.seat, "33333333")
    _give(final, other, "55555555", lock=False)
    row = _row(final)
    assert row.cells[1].shown == "5.0"
    assert row.mean == "3.0"
    assert row.spread == ""
    assert row.not_locked == ["Zoe"]


def test_a_sheet_with_gaps_has_no_weighted_level(final):
    _give(final, final.seat, "3.......", lock=False)
    cell = _row(final).cells[0]
    assert cell.shown == ""
    assert cell.weighted.reason.startswith("no level yet for F2")
    assert cell.digits == "3·······"


@pytest.mark.parametrize(("digit", "wide"), [("4", []), ("5", ["F2"])])
def test_two_levels_apart_is_wide(final, digit, wide):
    other = factories.SeatFactory(crit=final.crit, name="Zoe")
    _give(final, final.seat, "33333333")
    _give(final, other, f"3{digit}333333")
    row = _row(final)
    assert row.wide == wide
    assert not row.is_wide


def test_whoever_stepped_aside_counts_for_nothing_and_is_said(final):
    _give(final, final.seat, "33333333")
    declare_interest(final.seat, final.scheme)
    row = _row(final)
    assert row.cells[0].state == "stepped aside"
    assert row.mean == ""
    assert row.not_locked == []


def test_a_juror_of_another_room_is_not_waited_for(final):
    final.crit.slots.filter(scheme=final.scheme).update(room="A")
    factories.SeatFactory(crit=final.crit, name="Zoe", room="B")
    assert _row(final).not_locked == ["Jo Juror"]


def test_notes_say_hazards_and_a_missing_keep(final):
    _give(final, final.seat, "33333333", lock=False)
    sheet = final.seat.sheets.get(scheme=final.scheme)
    factories.CommentFactory(jury_sheet=sheet, kind="Hazard")
    assert _row(final).notes == []  # drafts are the juror's own
    crit_jury_keeping.lock_sheet(final.seat, final.scheme)
    assert _row(final).notes == ["1 hazard", "nothing to keep named"]


def test_criteria_count_the_schemes_on_which_jurors_lie_wide(final):
    other = factories.SeatFactory(crit=final.crit, name="Zoe")
    _give(final, final.seat, "33333333")
    _give(final, other, "53333333")
    first = moderation_table(final.crit).by_criterion[0]
    assert (first.mean, first.schemes, first.wide) == ("4.0", 1, 1)


def test_schemes_stand_in_the_order_of_the_day_not_of_their_levels(final):
    _give(final, final.seat, "11111111")
    _give(final, final.seat, "55555555", scheme=final.other_scheme)
    table = moderation_table(final.crit)
    assert [row.scheme for row in table.rows] == [final.scheme, final.other_scheme]


def test_a_crit_without_weights_has_no_weighted_level(final):
    final.crit.criteria.update(weight=0)
    _give(final, final.seat, "33333333")
    assert _row(final).cells[0].weighted.reason == "no criterion has a weight"


def test_the_wide_file_has_a_row_for_each_scheme_and_juror(final):
    _give(final, final.seat, "4444n443")
    rows = list(csv.DictReader(io.StringIO(wide_csv(moderation_table(final.crit, in_detail=True)))))
    assert [row["scheme"] for row in rows] == ["R01", "R02"]
    first = rows[0]
    assert (first["juror"], first["state"]) == ("Jo Juror", "locked")
    assert (first["F5"], first["F8"]) == ("not mine to judge", "3")
    assert float(first["weighted_level"]) == pytest.approx(350 / 90)  # (360 − 10) ÷ 90
    assert rows[1]["state"] == "no sheet"


def test_no_cell_of_a_file_is_taken_for_a_formula(final):
    final.seat.name = "=HYPERLINK(1)"
    final.seat.save()
    _give(final, final.seat, "33333333")
    assert "\n=HYPERLINK" not in wide_csv(moderation_table(final.crit, in_detail=True))
    assert ",'=HYPERLINK(1)," in wide_csv(moderation_table(final.crit, in_detail=True))


def test_the_long_file_is_read_by_the_panel_command(final, tmp_path):
    _give(final, final.seat, "4444n443")
    path = tmp_path / "levels.csv"
    path.write_text(long_csv(moderation_table(final.crit)), encoding="utf-8")
    (panel,) = read_levels(path)
    assert panel.levels["R01", "Jo Juror", "F8"] == 3
    assert panel.levels["R01", "Jo Juror", "F5"] is NOT_MINE
    assert panel.positions["R01", "Jo Juror"] == 1


def test_queries_do_not_grow_with_schemes_jurors_and_comments(final):
    def queries():
        with CaptureQueriesContext(connection) as caught:
            table = moderation_table(final.crit)
            for row in table.rows:
                _ = (row.mean, row.notes, row.wide)
        return len(caught)

    def fill(schemes):
        for n in range(schemes):
            scheme = factories.SchemeFactory(studio=final.studio)
            factories.SlotFactory(crit=final.crit, scheme=scheme, position=n + 3)
            sheet = factories.JurySheetFactory(
                seat=final.seat, scheme=scheme, locked_at=timezone.now()
            )
            factories.LevelGivenFactory(jury_sheet=sheet, criterion=final.criteria[0])
            factories.CommentFactory(jury_sheet=sheet)

    fill(8)
    at_10 = queries()
    fill(90)
    assert Comment.objects.count() == 98
    assert queries() == at_10
