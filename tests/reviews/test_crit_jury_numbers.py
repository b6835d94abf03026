"""The jury's numbers on the leader's page: the library's own, from the sheets that count."""

from datetime import timedelta
from fractions import Fraction
from itertools import product

import pytest
from django.urls import reverse
from django.utils import timezone

from criteria.scoring.adjusting import Decision
from criteria.scoring.analysis import analyse_panel
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.panel import Panel
from criteria.scoring.rooms import gap_of_rooms
from reviews.deeds import crit_jury_keeping, crit_planning
from reviews.deeds.record_versions import version_of
from reviews.models.briefs import Frozen
from reviews.pages.jury_numbers import numbers_page
from reviews.pages.jury_rooms import room_parts
from reviews.reading import crit_jury_numbers
from reviews.reading.crit_jury_numbers import DRAWS, jury_numbers, panel_of
from reviews.reading.crit_moderation_table import moderation_table
from tests import factories

LEANS = (-1, 1, 0, 0, 1, -1)
TRUE = (2, 4, 3, 3, 2, 4, 3, 2, 4, 3, 3, 2, 4, 3)


def give(cast, seat, scheme, *levels, lock=True):
    """One level for both criteria, or one for each."""
    for criterion, level in zip(
        (cast.criterion, cast.other_criterion), (*levels, *levels), strict=False
    ):
        crit_jury_keeping.keep_level(seat, scheme, criterion, level, 0)
    if lock:
        crit_jury_keeping.lock_sheet(seat, scheme)


@pytest.fixture
def jury(cast):
    """Fourteen schemes and six jurors; a test says who sees what."""
    cast.crit.slots.all().delete()
    cast.crit.seats.all().delete()
    schemes = [
        factories.SchemeFactory(studio=cast.studio, number=f"X{n:02}") for n in range(len(TRUE))
    ]
    for place, scheme in enumerate(schemes, 1):
        factories.SlotFactory(crit=cast.crit, scheme=scheme, position=place)
    seats = [factories.SeatFactory(crit=cast.crit, name=f"Juror {name}") for name in "ABCDEF"]
    return schemes, seats


def three_of_six(cast, jury):
    schemes, seats = jury
    for i, scheme in enumerate(schemes):
        for step in (0, 1, 3):
            j = (i + step) % 6
            level = min(5, max(1, TRUE[i] + LEANS[j]))
            give(cast, seats[j], scheme, level, min(5, level + (i * j % 4 == 1)))


def two_rooms(cast, jury):
    schemes, seats = jury
    for i, scheme in enumerate(schemes):
        for j in (0, 1, 2) if i < 7 else (3, 4, 5):
            level = min(5, max(1, TRUE[i] + LEANS[j]))
            give(cast, seats[j], scheme, level, min(5, level + (i * j % 4 == 1)))


# From the first lock of the day on: one juror alone once broke the whole table.
@pytest.mark.parametrize("order", ["scheme by scheme", "juror by juror"])
@pytest.mark.parametrize("level", [lambda i, j: 3, lambda i, j: 1 + (i + j) % 5])
def test_after_every_lock_there_is_a_page(cast, jury, monkeypatch, order, level):
    monkeypatch.setattr(crit_jury_numbers, "DRAWS", 10)
    schemes, seats = jury
    pairs = list(product(range(4), range(3)))
    for i, j in pairs if order == "scheme by scheme" else sorted(pairs, key=lambda pair: pair[1]):
        give(cast, seats[j], schemes[i], level(i, j))
        shown = numbers_page(moderation_table(cast.crit))
        assert shown.jurors
        assert shown.rank_working


def test_the_page_s_numbers_are_the_library_s(cast, jury):
    three_of_six(cast, jury)
    table = moderation_table(cast.crit)
    given = {
        (row.scheme.number, cell.seat.name, each.criterion.code): Fraction(each.level)
        for row in table.rows
        for cell in row.counted
        for each in cell.given
    }
    assert len(given) == 2 * 3 * len(TRUE)
    weights = {"F1": Fraction(50), "F2": Fraction(50)}
    theirs = analyse_panel(Panel("the same", given, weights), announced=False, draws=DRAWS)
    ours = jury_numbers(table)
    assert [s.adjusted for s in ours.standings] == pytest.approx(
        [s.adjusted for s in theirs.standings]
    )
    shown = numbers_page(table)
    leans = [f"{j.effect.effect.value:+.2f}".replace("-", "−") for j in ours.jurors]
    assert [line.lean for line in shown.jurors] == leans
    assert all(" to " in line.interval for line in shown.jurors)
    assert "Jurors differ in severity" in shown.presence
    assert [line.scheme.number for line in shown.groups[0].lines] == [
        scheme.number for scheme in jury[0]
    ]  # the order of the day, no rank


def test_only_sheets_that_count_are_in_the_numbers(cast, jury):
    schemes, seats = jury
    give(cast, seats[0], schemes[0], 3)
    give(cast, seats[1], schemes[0], 5, lock=False)
    panel = panel_of(moderation_table(cast.crit))
    assert {juror for _, juror, _ in panel.levels} == {"Juror A"}
    assert panel.positions == {("X00", "Juror A"): 1.0}


def test_without_a_locked_sheet_there_is_a_reason_and_no_number(cast, jury):
    assert panel_of(moderation_table(cast.crit)) == NotAvailable("no jury sheet is locked")
    page = cast.client(cast.leader).get(reverse("show-table", args=[cast.crit.pk]))
    assert "Not available: no jury sheet is locked." in page.content.decode()


def test_criteria_without_a_weight_give_no_number(cast, jury):
    schemes, seats = jury
    give(cast, seats[0], schemes[0], 3)
    cast.crit.criteria.update(weight=0)
    assert numbers_page(moderation_table(cast.crit)).why_none == "no criterion has a weight"


def test_a_sheet_of_nothing_but_not_mine_gives_no_number(cast, jury):
    schemes, seats = jury
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seats[0], schemes[0], criterion, crit_jury_keeping.NOT_MINE, 0)
    crit_jury_keeping.lock_sheet(seats[0], schemes[0])
    assert numbers_page(moderation_table(cast.crit)).why_none == "no jury sheet is complete"


def test_panels_without_a_shared_juror_are_ranked_apart_and_that_is_said(cast, jury):
    two_rooms(cast, jury)
    shown = numbers_page(moderation_table(cast.crit))
    assert [group.title for group in shown.groups] == ["Panel 1 of 2", "Panel 2 of 2"]
    assert [len(group.lines) for group in shown.groups] == [7, 7]
    page = cast.client(cast.leader).get(reverse("show-table", args=[cast.crit.pk]))
    text = page.content.decode()
    assert text.count("No juror of this panel sat on another") == 2
    assert "so there is no joint ranking" in text


def test_every_figure_has_unit_working_and_source_on_the_page(cast, jury):
    three_of_six(cast, jury)
    text = cast.client(cast.leader).get(reverse("show-table", args=[cast.crit.pk])).content.decode()
    section = text[text.index("numbers-title") :]
    for words in (
        "level, + generous", "λ = σ²e ÷ σ²b", "Henderson 1975", "Shrout and Fleiss 1979",
        "Mogstad", "least squares", "t on", "ICC(A,1)", "Krippendorff", "of 14",
    ):  # fmt: skip
        assert words in section, words
    assert section.count("<details") >= 4


def parts(crit, **changed):
    return crit_planning.parts_of(crit) | changed


def chosen(cast, days: int, *, takes: bool = True):
    crit = cast.crit
    crit.refresh_from_db()
    crit.day = timezone.localdate() + timedelta(days=days)
    crit.save()
    seen = version_of(crit_planning.parts_of(crit))
    return crit_planning.change_crit(crit, parts(crit, takes_severity_out=takes), seen, cast.leader)


def test_taking_severity_out_is_chosen_before_the_day_with_who_and_when(cast, jury):
    crit = chosen(cast, 2)
    assert crit.severity_chosen_by == cast.leader
    assert crit.announces_severity
    three_of_six(cast, jury)
    cast.crit.refresh_from_db()
    assert jury_numbers(moderation_table(cast.crit)).adjustment.decision is Decision.ADJUST
    said = numbers_page(moderation_table(cast.crit)).chosen
    assert said.startswith(f"{cast.leader} chose on ")
    assert "that severity is taken out where the rule allows." in said


def test_without_the_choice_levels_stay_as_given(cast, jury):
    three_of_six(cast, jury)
    found = jury_numbers(moderation_table(cast.crit)).adjustment
    assert found.decision is Decision.RAW
    assert "The rule was not announced before scoring began." in [r.words for r in found.reasons]
    assert numbers_page(moderation_table(cast.crit)).chosen.startswith("Nobody chose before")


def test_a_choice_against_it_is_said_too(cast):
    chosen(cast, 2)
    crit = chosen(cast, 2, takes=False)
    assert not crit.announces_severity
    cast.crit.refresh_from_db()
    assert numbers_page(moderation_table(cast.crit)).chosen.endswith("that levels stay as given.")


def test_the_choice_is_frozen_once_the_day_has_come(cast):
    with pytest.raises(Frozen, match="Whether severity is taken out is fixed"):
        chosen(cast, 0)


def test_the_choice_is_frozen_once_a_juror_has_begun(cast, jury):
    schemes, seats = jury
    give(cast, seats[0], schemes[0], 3, lock=False)
    with pytest.raises(Frozen, match="a juror has begun"):
        chosen(cast, 2)


def test_a_crit_set_on_its_own_day_is_not_announced(cast):
    day = timezone.localdate()
    set_today = crit_planning.open_crit(
        cast.studio,
        parts(cast.crit, kind="re-crit", day=day, takes_severity_out=True),
        cast.leader,
    )
    assert not set_today.announces_severity
    assert "That was not before the day" in numbers_page(moderation_table(set_today)).chosen


def test_a_difference_between_rooms_is_said_with_its_interval_and_whether_it_is_chance(cast, jury):
    two_rooms(cast, jury)
    schemes, seats = jury
    for n, seat in enumerate(seats):
        seat.room = "AB"[n >= 3]
        seat.save()
        for i in (0, 1) if seat.room == "B" else ():
            give(cast, seat, schemes[i], TRUE[i] + 1)
    table = moderation_table(cast.crit)
    rooms, (between,) = room_parts(table)
    gap = gap_of_rooms(jury_numbers(table).severity, *(room.names for room in rooms))
    low, high = (shown(end, 2, signed=True) for end in gap.interval)
    assert not gap.holds(0)
    assert between.words == (
        f"Room A gave the opening pair {shown(-gap.value, 2)} lower than Room B (95 % interval "
        f"{low} to {high}, {gap.method}: more than chance). It rests on 2 schemes: a hint, and no "
        "correction."
    )
    assert [len(room.schemes) for room in rooms] == [7, 9]
