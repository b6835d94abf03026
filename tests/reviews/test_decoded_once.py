"""What a revision holds is fetched and decoded where it is read, and nowhere else."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from tests import factories


@pytest.fixture
def issued(cast, settings, tmp_path):
    """Two letters of each scheme, with a finding and a level on each."""
    settings.MEDIA_ROOT = tmp_path
    made = [
        revision
        for letter in ("A", "B")
        for revision in factories.issue_sheets(cast, "02", letter=letter)
    ]
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, revision=made[-1])
    factories.CommentFactory(jury_sheet=sheet, revision=made[-1])
    factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion, revision=made[-1])
    for revision in made:
        for ref in ("T01", "T02"):
            revision.findings.create(ref=ref, check_slug="water", rule="at most", state="short")
    return made


def fetched(client, address) -> int:
    """How often what a revision holds is asked for."""
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
    contents = re.compile('"reviews_(revision|issuedpackage)"."contents"')
    return sum(bool(contents.search(query["sql"])) for query in asked)


@pytest.mark.parametrize(
    ("name", "of"),
    [
        ("home", ""),
        ("show-studio", "studio"),
        ("show-crit", "crit"),
        ("show-table", "crit"),
    ],
)
def test_a_page_that_names_revisions_reads_none_of_them(cast, issued, name, of):
    args = [getattr(cast, of).pk] if of else []
    assert fetched(cast.client(cast.leader), reverse(name, args=args)) == 0


def test_a_page_of_a_revision_reads_it_once(cast, issued):
    address = reverse("show-issued-checks", args=[issued[0].pk])
    assert fetched(cast.client(cast.student), address) == 1


def test_two_cohorts_are_compared_without_reading_a_revision(cast, issued):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.leader, role="leader")
    for crit in (cast.crit, cast.other_crit):
        crit.kind, crit.released_at = "final", timezone.now()
        crit.save()
    address = reverse("compare-cohorts", args=[cast.studio.pk])
    beside = f"{address}?other={cast.other_studio.pk}"
    assert fetched(cast.client(cast.leader), beside) == 0
