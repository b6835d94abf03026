"""Cohorts side by side: whose levels, which revision, which target."""

import re
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews import worked_out
from reviews.deeds import package_keeping
from reviews.deeds.revision_issuing import issue
from reviews.models import Crit, LevelGiven, Membership, StoredFinding, Studio
from reviews.pages.compare_page import ComparePage
from reviews.reading.cohort_comparing import set_beside
from reviews.reading.cohort_records import last_of, records_of, released_of
from tests import factories
from tests.factories import PENS_DOWN


@pytest.fixture
def beside(cast):
    """The other studio is led by the same leader, and has a criterion of the same words."""
    factories.MembershipFactory(
        studio=cast.other_studio, person=cast.leader, role=Membership.Role.LEADER
    )
    Crit.objects.update(released_at=timezone.now())
    factories.CriterionFactory(crit=cast.other_crit, code="F1", name="Light", evidence="T01")
    return cast


def _records(*studios):
    crits = last_of(released_of(Studio.objects.all()), Crit.Kind.FINAL)
    return records_of([crits[studio.pk] for studio in studios])


def _beside(cast):
    return set_beside(_records(cast.studio, cast.other_studio)).holds


def _record(cast):
    return _records(cast.studio)[0].holds


def _judge(crit, seat, levels):
    """Give each level to a scheme of its own."""
    criterion = crit.criteria.get(code="F1")
    for level in levels:
        scheme = factories.SchemeFactory(studio=crit.studio)
        factories.SlotFactory(crit=crit, scheme=scheme)
        sheet = factories.JurySheetFactory(seat=seat, scheme=scheme, locked_at=timezone.now())
        factories.LevelGivenFactory(jury_sheet=sheet, criterion=criterion, level=level)


def _revision(scheme, crit, ratio, letter="A", hours=0, **cells):
    revision = factories.RevisionFactory(
        scheme=scheme, crit=crit, letter=letter, issued_at=PENS_DOWN + timedelta(hours=hours)
    )
    _finding(revision, ratio, **cells)
    return revision


def _finding(revision, ratio, **cells):
    usual = {
        "ref": "T01",
        "check_slug": "daylight_ratio",
        "uses": "day",
        "rule": "at least",
        "title": "Day room daylight ratio",
        "state": "meets",
    }
    StoredFinding.objects.create(
        revision=revision, value=ratio, target=1.0, ratio=ratio, **(usual | cells)
    )


def test_levels_are_counted_and_means_are_of_schemes(beside):
    _judge(beside.crit, beside.seat, (3, 4, 4, 5))
    _judge(beside.other_crit, beside.other_seat, (2, 3, 3))
    (side,) = _beside(beside).criteria
    counts = [each.shares.counts for each in side.figures]
    assert counts == [(0, 0, 1, 2, 1), (0, 1, 2, 0, 0)]
    this, other = side.figures
    assert (this.n, this.median, this.lower, this.upper) == ("4", "4.00", "3.75", "4.25")
    assert (other.n, other.median) == ("3", "3.00")


def test_different_juries_are_said_to_prove_nothing(beside):
    _judge(beside.crit, beside.seat, (3, 4, 4, 5))
    _judge(beside.other_crit, beside.other_seat, (2, 3, 3))
    found = _beside(beside)
    assert any("The juries differ (nobody sat in both)" in words for words in found.warnings)
    (compared,) = found.criteria[0].compared
    assert compared.words.endswith("descriptive only, the juries differ")


def test_the_same_juror_is_known_by_name(beside):
    beside.other_seat.name = beside.seat.name
    beside.other_seat.save()
    _judge(beside.crit, beside.seat, (3, 4))
    _judge(beside.other_crit, beside.other_seat, (2, 3))
    found = _beside(beside)
    assert not found.criteria[0].compared[0].descriptive


def test_sheets_in_hand_not_mine_and_stepped_aside_are_left_out(beside):
    _judge(beside.crit, beside.seat, (3, 3, 3, 3))
    open_, not_mine, aside, _ = beside.seat.sheets.order_by("pk")
    open_.locked_at = None
    open_.save()
    not_mine.levels.update(level=None, is_not_mine=True)
    factories.InterestFactory(seat=beside.seat, scheme=aside.scheme)
    record = _record(beside)
    assert record.levels("F1") == [3]
    assert record.means("F1").count(None) == len(record.schemes) - 1


def test_the_last_released_final_crit_counts(beside):
    now = timezone.now()
    long_ago, to_come = (date.today() + timedelta(days=days) for days in (-300, 30))
    factories.CritFactory(studio=beside.studio, kind=Crit.Kind.INTERIM, released_at=now)
    factories.CritFactory(studio=beside.studio, day=long_ago, released_at=now)
    factories.CritFactory(studio=beside.studio, day=to_come)
    assert _record(beside).crit_id == beside.crit.pk


def test_a_criterion_in_other_words_is_named_and_not_compared(beside):
    _judge(beside.crit, beside.seat, (3, 4))
    _judge(beside.other_crit, beside.other_seat, (2, 3))
    beside.other_crit.criteria.filter(code="F1").update(level_3="Light in every room.")
    found = _beside(beside)
    assert found.criteria == []
    assert "F1 Light (other words: Shore)" in found.unpaired
    assert "F2 Making (Ridge, not Shore)" in found.unpaired


def test_a_check_is_compared_as_stored_ratio_of_the_last_revision(beside):
    scheme = beside.scheme
    _revision(scheme, beside.crit, 0.5, letter="A")
    _revision(scheme, beside.crit, 1.25, letter="B", hours=1)
    _revision(scheme, None, 9.0, letter="C", hours=2)  # issued for another day
    other = factories.SchemeFactory(studio=beside.other_studio)
    _revision(other, beside.other_crit, 0.75)
    (side,) = _beside(beside).checks
    this, other = (each.summary for each in side.figures)
    assert (this.values, other.values) == ((1.25,), (0.75,))
    assert this.without == 1  # the classmate has issued nothing


def test_the_page_answers_first_and_ranks_what_tells_the_cohorts_apart(beside):
    apart, same, wide = "day_ratio", "u_value", "water_days"
    for crit, ratios in ((beside.crit, (1.0, 1.1, 1.2)), (beside.other_crit, (3.0, 3.1, 3.2))):
        for n, ratio in enumerate(ratios * 3):
            scheme = factories.SchemeFactory(studio=crit.studio)
            revision = _revision(scheme, crit, ratio, check_slug=apart, title="Far apart")
            _finding(revision, 1.0 + n % 3, check_slug=same, title="The same", ref="T02")
            away = n % 3 * (2 if crit == beside.crit else 3)
            _finding(revision, away, check_slug=wide, title="Wide", ref="T03")
    page = ComparePage(_records(beside.studio, beside.other_studio))
    assert page.answer == "Of 3 checks, 1 tells the cohorts apart; of 1 criterion, none."
    checks, criteria = page.groups
    assert [line.side.name for line in checks.apart] == ["Far apart"]
    assert [line.side.name for line in checks.nearest] == ["Wide", "The same"]
    assert 'class="pen-cut' in checks.apart[0].drawn
    assert 'class="pen-cut' not in checks.nearest[0].drawn
    assert [side.name for side in criteria.uncompared] == [str(beside.crit.criteria.get(code="F1"))]
    answer = beside.client(beside.leader).get(
        reverse("compare-cohorts", args=[beside.studio.pk]), {"other": beside.other_studio.pk}
    )
    words = answer.content.decode()
    ids = re.findall(r' id="([^"]+)"', words)
    assert len(ids) == len(set(ids))
    assert words.index(page.answer) < words.index("Far apart") < words.index("Not told apart")


def test_a_check_asked_in_one_year_only_is_named_and_not_compared(beside):
    _revision(beside.scheme, beside.crit, 1.1)
    other = factories.SchemeFactory(studio=beside.other_studio)
    _revision(other, beside.other_crit, 0.75, check_slug="water_days", ref="T14")
    found = _beside(beside)
    assert found.checks == []
    labels = [cohort.label for cohort in found.cohorts]
    assert [f"Day room daylight ratio ({each})" for each in labels] == found.unpaired[-2:]


@pytest.fixture
def two_years(beside):
    """A scheme of either year, each with a revision and no target yet."""
    other = factories.SchemeFactory(studio=beside.other_studio)
    return (
        factories.RevisionFactory(scheme=beside.scheme, crit=beside.crit),
        factories.RevisionFactory(scheme=other, crit=beside.other_crit),
    )


def _values(found):
    return [(side.name, *(each.summary.values for each in side.figures)) for side in found.checks]


def test_targets_are_paired_by_their_rooms_whatever_their_references(beside, two_years):
    """Sorted as text T10 comes before T9: the bunk room would stand beside the day room."""
    this, other = two_years
    _finding(this, 1.1, ref="T9", uses="day", title="Day room")
    _finding(this, 2.1, ref="T10", uses="sleep", title="Bunk room")
    _finding(other, 1.2, ref="T1", uses="day", title="Day room")
    _finding(other, 2.2, ref="T2", uses="sleep", title="Bunk room")
    found = _beside(beside)
    assert _values(found) == [("Day room", (1.1,), (1.2,)), ("Bunk room", (2.1,), (2.2,))]


@pytest.mark.parametrize("cells", [{"uses": "sleep"}, {"uses": ""}, {"rule": "at most"}])
def test_targets_of_other_rooms_or_another_rule_never_pair(beside, two_years, cells):
    this, other = two_years
    _finding(this, 1.1)
    _finding(other, 1.2, **cells)
    found = _beside(beside)
    assert found.checks == []
    labels = [cohort.label for cohort in found.cohorts]
    assert [f"Day room daylight ratio ({each})" for each in labels] == found.unpaired[-2:]


def test_several_alike_pair_by_their_words_and_the_rest_is_said(beside, two_years):
    this, other = two_years
    _finding(this, 1.1, ref="T1", title="Library")
    _finding(this, 2.1, ref="T2", title="Hall")
    _finding(other, 1.2, ref="T1", title="hall")
    found = _beside(beside)
    assert _values(found) == [("Hall", (2.1,), (1.2,))]
    assert found.unpaired[-1] == "Library (Ridge)"


def test_a_withdrawn_scheme_is_left_out(beside):
    _judge(beside.crit, beside.seat, (3, 5))
    scheme = beside.seat.sheets.order_by("pk")[0].scheme
    scheme.withdrawn_at = timezone.now()
    scheme.save()
    assert _record(beside).levels("F1") == [5]


def _get(cast, who=None, **query):
    url = reverse("compare-cohorts", args=[cast.studio.pk])
    return cast.client(who or cast.leader).get(url, query)


def test_a_leader_chooses_among_the_studios_led(beside):
    page = _get(beside).content.decode()
    assert "Shore" in page
    _judge(beside.crit, beside.seat, (3, 4, 4, 5))
    _judge(beside.other_crit, beside.other_seat, (2, 3, 3))
    page = _get(beside, other=beside.other_studio.pk).content.decode()
    for words in ("F1 Light", "4.00", "<svg", "<title>", "<desc>", "Hedges", "descriptive only"):
        assert words in page
    assert "style=" not in page


@pytest.mark.parametrize("other", ["0", "x", ""])
def test_a_studio_not_led_is_refused(beside, other):
    stranger = factories.CritFactory(released_at=timezone.now()).studio_id
    page = _get(beside, other=str(stranger) if other == "0" else other).content.decode()
    assert "Expected one that you may read, with such a crit released." in page
    assert "Hedges" not in page


def test_where_no_cohort_is_asked_for_the_last_opened_stands_beside(beside):
    answer = re.compile(r'id="answer">.*?</section>', re.DOTALL)
    asked = _get(beside, other=beside.other_studio.pk).content.decode()
    assert answer.findall(_get(beside).content.decode()) == answer.findall(asked) != []
    assert not answer.findall(_get(beside, other="").content.decode())


def test_a_crit_that_is_not_released_never_enters(beside):
    Crit.objects.filter(pk=beside.other_crit.pk).update(released_at=None)
    page = _get(beside, other=beside.other_studio.pk).content.decode()
    assert "Nothing to compare with yet" in page
    Crit.objects.filter(pk=beside.crit.pk).update(released_at=None)
    page = _get(beside).content.decode()
    assert "No final crit of this studio is released." in page
    assert "Failures drawer" not in page


def test_where_no_final_crit_is_released_the_interim_crits_are_compared(beside):
    Crit.objects.filter(pk__in=(beside.crit.pk, beside.other_crit.pk)).update(kind="interim")
    page = _get(beside).content.decode()
    assert 'value="interim" selected' in page
    assert "Interim crit, " in page
    assert "No final crit of this studio" in _get(beside, kind="final").content.decode()


def test_more_than_nine_others_are_refused_and_nine_are_drawn_by_letter(beside):
    others = [beside.other_studio]
    for _ in range(9):
        crit = factories.CritFactory(released_at=timezone.now())
        factories.BriefFactory(studio=crit.studio)
        factories.MembershipFactory(studio=crit.studio, person=beside.leader, role="leader")
        others.append(crit.studio)
    _judge(beside.crit, beside.seat, (3, 4, 4, 5) * 2)
    for studio in others[:9]:
        crit = studio.crits.get()
        if not crit.criteria.exists():
            factories.CriterionFactory(crit=crit, code="F1", name="Light", evidence="T01")
        _judge(crit, factories.SeatFactory(crit=crit), (2, 3, 3, 4) * 2)
    asked = [studio.pk for studio in others]
    assert "Read 10 other cohorts. Expected 1 to 9." in _get(beside, other=asked).content.decode()
    page = _get(beside, other=asked[:9]).content.decode()
    assert "of 1 criterion, 1, described only." in page
    assert "higher than A, B, C, D, E, F, G, H, I" in page
    assert [f"<strong>{letter}</strong>" in page for letter in "ABCDEFGHIJ"] == [True] * 9 + [False]
    assert "by chance alone" not in page, "of nine differences nothing is said of chance"


def test_last_years_stand_beside_it_unasked(beside):
    stranger = factories.CritFactory(released_at=timezone.now()).studio
    factories.MembershipFactory(studio=stranger, person=beside.leader, role="leader")
    beside.studio.follows = beside.other_studio
    beside.studio.save()
    page = _get(beside).content.decode()
    assert f'value="{beside.other_studio.pk}" id="id_other_0_0"' in page.replace(" checked", "")
    assert page.count(" checked") == 1
    assert "This studio’s years" in page


def test_coordinators_and_the_studios_examiners_read_it_and_nobody_is_named(beside):
    _judge(beside.crit, beside.seat, (3, 4, 4, 5))
    for who in (beside.examiner, beside.coordinator):
        page = _get(beside, who).content.decode()
        assert "Compare</h1>" in page
        for name in (beside.seat.name, beside.student.name, beside.classmate.name):
            assert name not in page
    assert "Shore, cohort" not in _get(beside, beside.examiner).content.decode()
    assert _get(beside, beside.student).status_code == 404


def test_a_correction_is_read_at_once(beside):
    _judge(beside.crit, beside.seat, (3, 4))
    assert _record(beside).levels("F1") == [3, 4]
    LevelGiven.objects.filter(level=4).update(level=5)
    assert _record(beside).levels("F1") == [3, 5]


def test_a_check_says_in_which_state_each_cohort_was_decided(beside):
    night = {"state": "storm", "kind": "night"}
    brief = beside.studio.brief
    brief.states = [night]
    brief.save()
    line = {"id": "T30", "what": "Air", "check": "night_air", "rule": "at least", "value": "4"}
    factories.TargetLineFactory(brief=brief, cells=line)
    package = factories.prepare(beside)
    for slug, cells in (
        ("rooms", {"mark": "R8", "room": "Bunks", "use": "sleep", "sleepers": "2"}),
        ("vents", {"mark": "V1", "room": "R8", "n": "1", "l_s_each": "10"}),
        ("rooms_by_state", {"room": "R8", "state": "storm", "sleepers": "5"}),
    ):
        package_keeping.add_row(package, slug, cells, beside.student)
    Crit.objects.update(released_at=None)
    revision = issue(package, beside.student, PENS_DOWN)
    Crit.objects.update(released_at=timezone.now())
    assert revision.crit == beside.crit
    stored = StoredFinding.objects.get(revision=revision, ref="T30")
    assert stored.ratio == 0.5  # 10 L/s for five in the storm, against 4 each
    other = factories.SchemeFactory(studio=beside.other_studio)
    same = {"check_slug": "night_air", "uses": stored.uses, "title": stored.title, "ref": "T2"}
    _revision(other, beside.other_crit, 0.75, **same)
    found = _beside(beside)
    (side,) = (each for each in found.checks if each.name == stored.title)
    assert side.this.summary.values == (0.5,)
    assert side.this.decided == "Ridge, decided in state storm (1)"
    page = _get(beside, other=beside.other_studio.pk).content.decode()
    assert "decided in state storm (1)" in page


def test_queries_do_not_grow_with_the_schemes(beside):
    def queries():
        worked_out.forget()
        with CaptureQueriesContext(connection) as caught:
            assert _get(beside, other=beside.other_studio.pk).status_code == 200
        return len(caught)

    def fill(schemes):
        _judge(beside.crit, beside.seat, [3, 4] * (schemes // 2))
        _judge(beside.other_crit, beside.other_seat, [2, 4] * (schemes // 2))
        for sheet in beside.seat.sheets.filter(scheme__revisions=None):
            _revision(sheet.scheme, beside.crit, 1.1)

    fill(10)
    at_10 = queries()
    fill(90)
    assert queries() == at_10
