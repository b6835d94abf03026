"""What the next brief starts from: missed, said again, apart; and the failures drawer."""

import csv
import io
import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from python_calamine import CalamineWorkbook

from reviews import worked_out
from reviews.models import AlikeGroup, Comment, Crit, Revision, StoredFinding, Verdict
from reviews.pages.compare_page import ComparePage
from reviews.reading.cohort_comparing import set_beside
from reviews.reading.cohort_counting import (
    Count,
    Times,
    by_criterion,
    by_place,
    by_target,
    most_missed,
    said_alike,
    widest,
)
from reviews.reading.cohort_failures import failures
from reviews.reading.cohort_records import records_of
from tests import factories
from tests.factories import PENS_DOWN

FAILED = {"mark": "P1", "building": "Dome camp", "outcome": "failed: wet wool", "lesson": "A gap"}


@pytest.fixture
def years(cast):
    """Both studios' crits are released; their leader leads both."""
    factories.MembershipFactory(studio=cast.other_studio, person=cast.leader, role="leader")
    Crit.objects.update(released_at=timezone.now())
    return cast


def read(cast):
    crits = [Crit.objects.get(pk=each.pk) for each in (cast.crit, cast.other_crit)]
    return records_of(crits)


def plain(cast):
    return [each.holds for each in read(cast)]


def issue(scheme, crit, letter="A", *, precedents=(), hours=0, **states):
    contents = {"statement": "", "schedules": {"precedents": list(precedents)}, "site": {}}
    revision = factories.RevisionFactory(
        scheme=scheme,
        crit=crit,
        letter=letter,
        contents=contents | {"targets": [], "sheets": []},
        issued_at=PENS_DOWN + timedelta(hours=hours),
    )
    for ref, state in states.items():
        StoredFinding.objects.create(
            revision=revision, ref=ref, check_slug=f"check_{ref}", rule="at least",
            title=f"Target {ref}", state=state, ratio=0.9 if state == "short" else 1.1,
        )  # fmt: skip
    return revision


def say(cast, scheme, kind="Prove", **more):
    seat, crit = (
        (cast.seat, cast.crit)
        if scheme.studio_id == cast.studio.pk
        else (cast.other_seat, cast.other_crit)
    )
    sheet, _ = seat.sheets.get_or_create(scheme=scheme, defaults={"locked_at": crit.pens_down})
    return factories.CommentFactory(jury_sheet=sheet, kind=kind, **more)


def test_what_is_not_known_of_a_target_is_in_no_share(years):
    issue(years.scheme, years.crit, T1="short", T2="meets", T3="not_asked")
    third = factories.SchemeFactory(studio=years.studio)
    issue(third, years.crit, T1="no_data", T2="on_the_line", T3="short")
    other = factories.SchemeFactory(studio=years.other_studio)
    issue(other, years.other_crit, T1="over", T9="claim_differs")
    found = {each.title: each for each in most_missed(plain(years))}
    # of three schemes the classmate issued nothing
    assert found["Target T1"].counts == {0: Count(1, 0, 2, 0), 1: Count(1, 0, 0, 0)}
    assert found["Target T2"].counts == {0: Count(0, 2, 1, 0)}
    assert found["Target T3"].counts == {0: Count(1, 0, 1, 1)}
    assert found["Target T9"].counts == {1: Count(0, 0, 1, 0)}
    assert list(found) == ["Target T1", "Target T3", "Target T2", "Target T9"]
    page = years.client(years.leader).get(reverse("compare-cohorts", args=[years.studio.pk]))
    for words in (
        "1 of 1, 2 not known",
        "–: not in that brief",
        "1 of 1, 1 not known, 1 not asked",
    ):
        assert words in page.content.decode()


def test_comments_are_counted_by_scheme_and_never_while_held_or_unreleased(years):
    for scheme in (years.scheme, years.other_scheme):
        say(years, scheme, criterion=years.criterion, words="T1 isn't shown.")
    say(years, years.scheme, criterion=years.criterion, words="Show T1 again.")
    say(years, years.scheme, kind="Draw", criterion=years.criterion)
    issue(years.scheme, years.crit, T1="short")
    (told,) = by_criterion(plain(years))
    assert (told.about, told.kind, told.times) == ("F1 Light", "Prove", {0: Times(3, 2)})
    (named,) = by_target(plain(years))
    assert (named.about, named.times) == ("Target T1", {0: Times(3, 2)})
    held = Comment.objects.filter(jury_sheet__scheme=years.other_scheme)
    held.update(held_at=timezone.now())
    assert by_criterion(plain(years)) == []
    held.update(held_at=None)
    assert by_criterion(plain(years)) != []
    years.other_scheme.withdrawn_at = timezone.now()
    years.other_scheme.save()
    assert by_criterion(plain(years)) == []


def test_a_square_is_of_a_sheet_and_counts_over_cohorts(years):
    other = factories.SchemeFactory(studio=years.other_studio)
    for scheme, crit in ((years.scheme, years.crit), (other, years.other_crit)):
        sheet = factories.IssuedSheetFactory(revision=issue(scheme, crit), number="02")
        say(years, scheme, issued_sheet=sheet, zone="C4")
    (told,) = by_place(plain(years))
    assert (told.about, told.times) == ("02·C4", {0: Times(1, 1), 1: Times(1, 1)})


def test_groups_of_one_heading_are_one_line_until_taken_apart(years):
    groups = []
    for scheme, heading in (
        (years.scheme, "Where does it drain?"),
        (years.other_scheme, "where does  it drain?"),
    ):
        group = AlikeGroup.objects.create(
            crit=years.crit, scheme=scheme, heading=heading, by=years.leader
        )
        group.comments.add(say(years, scheme))
        groups.append(group)
    page = years.client(years.coordinator).get(
        reverse("show-remarks", args=[years.studio.pk]), {"alike": "Where does it drain?"}
    )
    assert "2 comments" in page.content.decode()
    (told,) = said_alike(plain(years))
    assert (told.heading, told.times) == ("Where does it drain?", {0: (2, 2)})
    groups[0].taken_back_at = timezone.now()
    groups[0].save()
    assert [each.jurors for each in said_alike(plain(years))] == [1]


def test_spread_is_without_each_jurors_own_severity_and_widest_first(years):
    severe = factories.SeatFactory(crit=years.crit, name="Sev")
    # Sev gives one level less throughout but for one scheme's making, where it is one more
    given = ((4, 4), (3, 2), (5, 3), (4, 4), (3, 4))
    for n, (light, making) in enumerate(given):
        scheme = factories.SchemeFactory(studio=years.studio)
        for seat, less in ((years.seat, 0), (severe, 1)):
            sheet = factories.JurySheetFactory(seat=seat, scheme=scheme, locked_at=PENS_DOWN)
            odd = -1 if n == 4 and less else less
            levels = ((years.criterion, light - less), (years.other_criterion, making - odd))
            for criterion, level in levels:
                factories.LevelGivenFactory(jury_sheet=sheet, criterion=criterion, level=level)
    first, second = widest(read(years))
    assert (first.name, second.name) == ("F2 Making", "F1 Light")
    assert not first.is_raw[0]
    assert second.mean < 1 < first.mean + 1
    assert list(first.spreads) == [0], "the other year has no such criterion"


def test_the_drawer_says_what_failed_and_what_became_of_it(years):
    issue(years.scheme, years.crit, precedents=[FAILED], T1="short", T2="short")
    issue(years.scheme, None, "B", hours=1, T1="meets", T2="over")
    to_come = factories.CritFactory(studio=years.studio)
    issue(years.scheme, to_come, "C", hours=2, T2="meets")
    issue(years.other_scheme, years.crit, precedents=[FAILED | {"outcome": "in use"}], T1="short")
    Verdict.objects.create(
        crit=years.crit, scheme=years.scheme, kind="again", criteria=["F1"], by=years.leader
    )
    drawer = failures(plain(years), Revision.objects.all())
    (building,) = drawer.buildings
    assert (building.what, building.why, building.became) == (
        "Dome camp",
        "failed: wet wool",
        "A gap",
    )
    became = [(each.scheme, each.what, each.became) for each in drawer.targets]
    assert became == [
        ("R01 Lee", "Target T1", "met in revision B"),
        ("R02 Keel", "Target T1", "no later revision is released"),
        ("R01 Lee", "Target T2", "still over in revision B"),
    ]
    (again,) = drawer.again
    assert (again.why, again.became) == ("open: F1", "no re-crit of it is released")
    second = factories.CritFactory(studio=years.studio, kind="re-crit", follows=years.crit)
    Verdict.objects.create(crit=second, scheme=years.scheme, kind="go-on", by=years.leader)
    assert failures(plain(years), Revision.objects.all()).again[0].became == again.became
    Crit.objects.filter(pk=second.pk).update(released_at=timezone.now())
    assert failures(plain(years), Revision.objects.all()).again[0].became == "re-crit: go on"


def test_a_claim_that_could_not_be_true_is_in_the_drawer_as_it_was_issued(years):
    revision = issue(years.scheme, years.crit)
    claims = [
        {"about": "Water", "text": "14 days", "sheet": "02", "result": {"value": "claim_differs"}},
        {"about": "Glass", "text": "12 %", "result": {"value": "agrees"}},
    ]
    record = {"sheet": {"claims": claims, "findings": []}, "shared": []}
    type(revision.check_sheet).objects.filter(revision=revision).update(record=record)
    (claim,) = failures(plain(years), Revision.objects.all()).claims
    assert (claim.what, claim.sheet, claim.revision) == ("Water: 14 days", "02", (revision.pk, "A"))


def test_the_drawers_page_searches_every_word_and_names_nobody(years):
    issue(years.scheme, years.crit, precedents=[FAILED], T1="short")
    for who in (years.leader, years.examiner, years.coordinator):
        client = years.client(who)
        address = reverse("show-failures", args=[years.studio.pk])
        page = client.get(address, {"words": "WOOL dome"}).content.decode()
        assert "Dome camp" in page
        assert "Targets missed, 0" in page
        page = client.get(address, {"words": "wool T1"}).content.decode()
        assert "No line holds all of these words." in page
        page = client.get(address, {"part": "targets"}).content.decode()
        assert "Short: 0.90 of its target" in page
        assert "Stef Student" not in page


def test_a_line_of_counts_leads_to_the_words_that_went_out(years):
    factories.CriterionFactory(crit=years.other_crit, code="F1", name="Light")
    others = factories.SchemeFactory(studio=years.other_studio, name="Reef")
    for scheme in (years.scheme, years.other_scheme, others):
        crit = years.other_crit if scheme == others else years.crit
        criterion = crit.criteria.get(code="F1")
        say(years, scheme, criterion=criterion, words=f"Where does {scheme.name} drain?")
    client = years.client(years.leader)
    page = client.get(reverse("compare-cohorts", args=[years.studio.pk])).content.decode()
    (address,) = re.findall(r'href="([^"]*remarks/[^"]*of_kind=Prove)"', page)
    page = client.get(address.replace("&amp;", "&")).content.decode()
    for name in ("Lee", "Keel", "Reef"):
        assert f"Where does {name} drain?" in page
    assert "3 comments" in page
    client, address = years.client(years.examiner), reverse("show-remarks", args=[years.studio.pk])
    page = client.get(address, {"criterion": "F1 Light", "of_kind": "Prove"}).content.decode()
    assert "2 comments" in page, "examined is one studio alone"
    assert years.seat.name not in page
    assert "No released comment" in client.get(address, {"of_kind": "Draw"}).content.decode()
    Comment.objects.filter(words__contains="Lee").update(held_at=timezone.now())
    page = client.get(address, {"criterion": "F1 Light"}).content.decode()
    assert "Where does Lee drain?" not in page


def test_every_table_goes_out_with_its_figures(years):
    issue(years.scheme, years.crit, precedents=[FAILED], T1="short")
    client = years.client(years.leader)

    def lines(table):
        answer = client.get(reverse("export-cohorts", args=[years.studio.pk, table]))
        return list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))

    assert lines("targets")[1:] == [["Target T1", "Ridge", "2", "1", "0", "1", "0"]]
    assert lines("failures")[1][:4] == ["buildings", "Ridge", "R01 Lee", "Dome camp"]
    unknown = reverse("export-cohorts", args=[years.studio.pk, "people"])
    assert client.get(unknown).status_code == 404
    answer = client.get(reverse("export-cohort-tables", args=[years.studio.pk]))
    book = CalamineWorkbook.from_filelike(io.BytesIO(answer.content))
    assert book.sheet_names == ["Differences", "Targets", "Comments", "Spread", "Failures"]
    targets = book.get_sheet_by_name("Targets").to_python()
    assert targets[1] == ["Target T1", "Ridge", 2, 1, 0, 1, 0]


def test_one_cohort_alone_is_counted_and_compared_with_nothing(years):
    (record,) = records_of([Crit.objects.get(pk=years.crit.pk)])
    beside = set_beside([record]).holds
    assert (beside.checks, beside.criteria, beside.unpaired) == ([], [], [])


def test_what_chance_alone_would_tell_apart_is_said(years):
    for crit in (years.crit, years.other_crit):
        for n in range(8):
            revision = issue(factories.SchemeFactory(studio=crit.studio), crit)
            for check in range(10):
                away = 5 if crit == years.crit and check == 0 else 0
                StoredFinding.objects.create(
                    revision=revision, ref=f"T{check}", check_slug=f"check_{check}",
                    rule="at least", title=f"Check {check}", state="meets", ratio=n % 4 + away,
                )  # fmt: skip
    page = ComparePage(read(years))
    assert page.by_chance.startswith("1 of 10 differences")
    assert "no more than about 1 would by chance alone" in page.by_chance
    StoredFinding.objects.filter(check_slug="check_1", revision__crit=years.crit).delete()
    worked_out.forget()
    assert ComparePage(read(years)).by_chance == ""
