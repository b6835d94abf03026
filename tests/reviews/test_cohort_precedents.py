"""Precedents of a cohort: counted across schemes, named to the leader, counted to students."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from criteria.units import System
from reviews.pages.rehearsing import KeptCard
from reviews.reading.cohort_precedents import cohort_precedents, own_precedents
from tests.factories import RowFactory, SchemeFactory


def study(scheme, *buildings):
    for n, building in enumerate(buildings, start=1):
        cells = {"mark": f"P{n}", "building": building, "outcome": "in use"}
        RowFactory(
            package=scheme.package,
            schedule="precedents",
            cells=cells,
            changed_by=scheme.studio.opened_by,
        )


@pytest.fixture
def third(cast):
    return SchemeFactory(studio=cast.studio, number="R03", name="Drift")


@pytest.fixture
def studied(cast, third):
    """Three schemes: all of them study the club hut, two of them the barn."""
    study(cast.scheme, "Two-storey club hut", "Barn", "Barn")
    study(cast.other_scheme, "two storey CLUB HUT", "Snow shed")
    study(third, "Barn, ", "Two-storey club-hut", "")


def counts(found):
    return [(each.building, each.count, each.cohort) for each in found]


def test_buildings_are_counted_once_a_scheme_and_by_their_letters(cast, studied):
    assert counts(cohort_precedents(cast.studio)) == [
        ("Two-storey club hut", 3, 3),
        ("Barn", 2, 3),
        ("Snow shed", 1, 3),
    ]


def test_withdrawn_schemes_and_other_studios_do_not_count(cast, studied, third):
    third.withdrawn_at = timezone.now()
    third.save()
    study(SchemeFactory(studio=cast.other_studio), "Snow shed")
    assert counts(cohort_precedents(cast.studio)) == [
        ("Two-storey club hut", 2, 2),
        ("Barn", 1, 2),
        ("Snow shed", 1, 2),
    ]


def test_a_package_has_its_own_by_its_own_names(cast, studied):
    assert counts(own_precedents(cast.other_scheme.package)) == [
        ("two storey CLUB HUT", 3, 3),
        ("Snow shed", 1, 3),
    ]


def test_a_cohort_of_two_is_told_nothing_for_the_number_would_name_the_other(cast):
    study(cast.scheme, "Barn")
    study(cast.other_scheme, "Barn")
    assert own_precedents(cast.scheme.package) == []


def page(cast, who, name, *args):
    return cast.client(who).get(reverse(name, args=args)).content.decode()


def test_students_read_how_many_and_not_whose(cast, studied):
    text = page(cast, cast.student, "show-schedule", cast.scheme.pk, "precedents")
    assert "used by 3 of the cohort’s 3 schemes, this one among them" in text
    assert "used by 2 of the cohort’s 3 schemes" in text
    assert "Keel" not in text
    assert "Drift" not in text
    text = page(cast, cast.classmate, "show-schedule", cast.other_scheme.pk, "precedents")
    assert "used by this scheme alone, of 3" in text
    assert "Barn" not in text
    assert "cohort’s" not in page(cast, cast.student, "show-schedule", cast.scheme.pk, "rooms")


def test_leaders_read_who_on_the_studios_page_and_others_do_not(cast, studied):
    text = page(cast, cast.leader, "show-studio", cast.studio.pk)
    for said in ("3 buildings", "Two-storey club hut", "Snow shed"):
        assert said in text
    for who in (cast.student, cast.coordinator, cast.scribe):
        assert "Snow shed" not in page(cast, who, "show-studio", cast.studio.pk)


def test_the_rehearsal_card_asks_about_what_others_study_too(cast, studied):
    card = KeptCard(cast.scheme.package, System.METRIC).shown
    asked = [q.asked.text for q in card.raised if q.asked.template == 82]
    assert asked == [
        "Of the cohort’s 3 schemes several study the same: Two-storey club hut (3), Barn (2). "
        "What did you see that the others did not?",
    ]
    assert 82 not in [q.asked.template for q in card.always]
    assert "Two-storey club hut (3), Barn (2)" in page(
        cast, cast.student, "show-questions", cast.scheme.pk
    )


def test_where_nobody_shares_any_nobody_is_said_to_know_it(cast, third):
    study(cast.scheme, "Barn")
    card = KeptCard(cast.scheme.package, System.METRIC).shown
    assert 82 not in [q.asked.template for q in (*card.raised, *card.always)]


def test_queries_of_the_studios_page_do_not_grow_with_precedents(cast, studied):
    def queries():
        with CaptureQueriesContext(
            connection,
        ) as caught:
            page(cast, cast.leader, "show-studio", cast.studio.pk)
        return len(caught)

    before = queries()
    study(cast.scheme, *(f"House {n}" for n in range(10)))
    assert queries() == before
