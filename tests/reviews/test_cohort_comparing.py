"""Cohorts side by side: whose levels, which revision, which target."""

import re
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import package_keeping
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.revision_issuing import issue
from reviews.models import Crit, Membership, StoredFinding
from reviews.pages.compare_page import ComparePage
from reviews.reading import cohort_comparing
from tests import factories
from tests.factories import PENS_DOWN


@pytest.fixture
def beside(cast):
    """The other studio is led by the same leader, and has a criterion of the same code."""
    factories.MembershipFactory(
        studio=cast.other_studio, person=cast.leader, role=Membership.Role.LEADER
    )
    factories.CriterionFactory(crit=cast.other_crit, code="F1", name="Light", evidence="T01")
    return cast


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
    (side,) = cohort_comparing.set_beside(beside.studio, beside.other_studio).criteria
    assert [shares.counts for shares in side.shares] == [(0, 0, 1, 2, 1), (0, 1, 2, 0, 0)]
    this, other = side.figures
    assert (this.n, this.median, this.lower, this.upper) == ("4", "4.00", "3.75", "4.25")
    assert (other.n, other.median) == ("3", "3.00")


def test_different_juries_are_said_to_prove_nothing(beside):
    _judge(beside.crit, beside.seat, (3, 4, 4, 5))
    _judge(beside.other_crit, beside.other_seat, (2, 3, 3))
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert any("The juries differ (nobody sat in both)" in words for words in found.warnings)
    assert found.criteria[0].compared.words.endswith("descriptive only, the juries differ")


def test_the_same_juror_is_known_by_name(beside):
    beside.other_seat.name = beside.seat.name
    beside.other_seat.save()
    _judge(beside.crit, beside.seat, (3, 4))
    _judge(beside.other_crit, beside.other_seat, (2, 3))
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert not found.criteria[0].compared.descriptive


def test_sheets_in_hand_not_mine_and_stepped_aside_are_left_out(beside):
    _judge(beside.crit, beside.seat, (3, 3, 3, 3))
    open_, not_mine, aside, _ = beside.seat.sheets.order_by("pk")
    open_.locked_at = None
    open_.save()
    not_mine.levels.update(level=None, is_not_mine=True)
    declare_interest(beside.seat, aside.scheme)
    cohort = cohort_comparing.cohort_of(beside.studio, "this")
    assert cohort.levels("F1") == [3]
    assert cohort.means("F1").count(None) == len(cohort.schemes) - 1


def test_the_last_final_crit_counts_and_no_interim(beside):
    interim = factories.CritFactory(studio=beside.studio, kind=Crit.Kind.INTERIM)
    earlier = factories.CritFactory(studio=beside.studio, day=date.today() - timedelta(days=300))
    assert cohort_comparing.cohort_of(beside.studio, "this").crit == beside.crit
    assert interim.pk > beside.crit.pk < earlier.pk


def test_different_descriptors_are_said(beside):
    _judge(beside.crit, beside.seat, (3, 4))
    _judge(beside.other_crit, beside.other_seat, (2, 3))
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert any("The criteria sheets differ" in words for words in found.warnings)
    assert "F2 Making" in found.unpaired


def test_a_check_is_compared_as_stored_ratio_of_the_last_revision(beside):
    scheme = beside.scheme
    _revision(scheme, beside.crit, 0.5, letter="A")
    _revision(scheme, beside.crit, 1.25, letter="B", hours=1)
    _revision(scheme, None, 9.0, letter="C", hours=2)  # issued for another day
    other = factories.SchemeFactory(studio=beside.other_studio)
    _revision(other, beside.other_crit, 0.75)
    (side,) = cohort_comparing.set_beside(beside.studio, beside.other_studio).checks
    assert side.compared.this.values == (1.25,)
    assert side.compared.other.values == (0.75,)
    assert side.compared.this.without == 1  # the classmate has issued nothing


def test_the_page_answers_first_and_ranks_what_tells_the_cohorts_apart(beside):
    apart, same, wide = "day_ratio", "u_value", "water_days"
    for crit, ratios in ((beside.crit, (1.0, 1.1, 1.2)), (beside.other_crit, (3.0, 3.1, 3.2))):
        for n, ratio in enumerate(ratios):
            scheme = factories.SchemeFactory(studio=crit.studio)
            revision = _revision(scheme, crit, ratio, check_slug=apart, title="Far apart")
            _finding(revision, 1.0 + n, check_slug=same, title="The same", ref="T02")
            away = n * (2 if crit == beside.crit else 3)
            _finding(revision, away, check_slug=wide, title="Wide", ref="T03")
    page = ComparePage(cohort_comparing.set_beside(beside.studio, beside.other_studio))
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
    assert words.index(page.answer) < words.index("Far apart") < words.index("Set beside")


def test_a_check_asked_in_one_year_only_is_named_and_not_compared(beside):
    _revision(beside.scheme, beside.crit, 1.1)
    other = factories.SchemeFactory(studio=beside.other_studio)
    _revision(other, beside.other_crit, 0.75, check_slug="water_days", ref="T14")
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert found.checks == []
    labels = (found.this.label, found.other.label)
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
    return [
        (side.name, side.compared.this.values, side.compared.other.values) for side in found.checks
    ]


def test_targets_are_paired_by_their_rooms_whatever_their_references(beside, two_years):
    """Sorted as text T10 comes before T9: the bunk room would stand beside the day room."""
    this, other = two_years
    _finding(this, 1.1, ref="T9", uses="day", title="Day room")
    _finding(this, 2.1, ref="T10", uses="sleep", title="Bunk room")
    _finding(other, 1.2, ref="T1", uses="day", title="Day room")
    _finding(other, 2.2, ref="T2", uses="sleep", title="Bunk room")
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert _values(found) == [("Day room", (1.1,), (1.2,)), ("Bunk room", (2.1,), (2.2,))]


@pytest.mark.parametrize("cells", [{"uses": "sleep"}, {"uses": ""}, {"rule": "at most"}])
def test_targets_of_other_rooms_or_another_rule_never_pair(beside, two_years, cells):
    this, other = two_years
    _finding(this, 1.1)
    _finding(other, 1.2, **cells)
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert found.checks == []
    labels = (found.this.label, found.other.label)
    assert [f"Day room daylight ratio ({each})" for each in labels] == found.unpaired[-2:]


def test_several_alike_pair_by_their_words_and_the_rest_is_said(beside, two_years):
    this, other = two_years
    _finding(this, 1.1, ref="T1", title="Library")
    _finding(this, 2.1, ref="T2", title="Hall")
    _finding(other, 1.2, ref="T1", title="hall")
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    assert _values(found) == [("Hall", (2.1,), (1.2,))]
    assert found.unpaired[-1] == f"Library ({found.this.label})"


def test_a_withdrawn_scheme_is_left_out(beside):
    _judge(beside.crit, beside.seat, (3, 5))
    scheme = beside.seat.sheets.order_by("pk")[0].scheme
    scheme.withdrawn_at = timezone.now()
    scheme.save()
    assert cohort_comparing.cohort_of(beside.studio, "this").levels("F1") == [5]


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
def test_a_studio_not_led_is_refused(cast, other):
    stranger = str(cast.other_studio.pk) if other == "0" else other
    page = _get(cast, other=stranger).content.decode()
    assert "Nothing to compare with yet" in page
    assert "Hedges" not in page


def test_where_no_cohort_is_asked_for_the_last_opened_stands_beside(beside):
    answer = re.compile(r'id="answer">.*?</section>', re.DOTALL)
    asked = _get(beside, other=beside.other_studio.pk).content.decode()
    assert answer.findall(_get(beside).content.decode()) == answer.findall(asked) != []
    assert not answer.findall(_get(beside, other="").content.decode())


def test_a_studio_without_a_final_crit_is_compared_as_far_as_it_goes(beside):
    beside.crit.kind = Crit.Kind.INTERIM
    beside.crit.save()
    response = _get(beside, other=beside.other_studio.pk)
    assert response.status_code == 200
    assert "share no criterion, or a cohort has no final crit" in response.content.decode()


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
    revision = issue(package, beside.student, PENS_DOWN)
    assert revision.crit == beside.crit
    stored = StoredFinding.objects.get(revision=revision, ref="T30")
    assert stored.ratio == 0.5  # 10 L/s for five in the storm, against 4 each
    other = factories.SchemeFactory(studio=beside.other_studio)
    same = {"check_slug": "night_air", "uses": stored.uses, "title": stored.title, "ref": "T2"}
    _revision(other, beside.other_crit, 0.75, **same)
    found = cohort_comparing.set_beside(beside.studio, beside.other_studio)
    (side,) = (each for each in found.checks if each.name == stored.title)
    assert side.compared.this.values == (0.5,)
    assert side.decided == (f"{found.this.label}, decided in state storm (1)",)
    page = _get(beside, other=beside.other_studio.pk).content.decode()
    assert "decided in state storm (1)" in page


def test_queries_do_not_grow_with_the_schemes(beside):
    def queries():
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
