"""A studio in which nothing is yet: every empty page says what comes next, and to whom it falls."""

import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews.models import Brief
from tests import factories
from tests.reviews.page_steps import text_of

STUDIO = ("show-studio", "show-brief", "edit-targets", "show-audit")
CRIT = ("show-crit", "show-table")
NEXT_STEP = re.compile(r'class="(?:[a-z]+ )?next-step">(.*?)</(?:p|span|td)>', re.DOTALL)
DRAFT = ("show-package", "show-checks", "show-questions", "list-daylight", "edit-sheets")


@pytest.fixture
def bare(cast):
    """A studio without schemes, and beside it one with a bare scheme and a bare crit."""
    studio = factories.StudioFactory(opened_by=cast.leader)
    factories.BriefFactory(studio=studio)
    factories.MembershipFactory(studio=studio, person=cast.leader, role="leader")
    cast.bare = studio
    return cast


def steps_on(client, address) -> str:
    answer = client.get(address)
    assert answer.status_code == 200, address
    found = re.findall(
        r'class="(?:[a-z]+ )?next-step">(.*?)</(?:p|span|td)>', text_of(answer), re.S
    )
    return " ".join(found)


def test_a_new_studio_leads_its_leader_from_page_to_page(bare):
    client, here = bare.client(bare.leader), {"studio_id": bare.bare.pk}
    for name in STUDIO:
        assert steps_on(client, reverse(name, kwargs=here)), name
    first = steps_on(client, reverse("show-studio", kwargs=here))
    assert reverse("bring-in-people", kwargs=here) in first
    assert reverse("open-crit", kwargs=here) in first


def test_a_crit_without_anything_says_so_to_each_who_opens_it(bare):
    day = timezone.localdate() + timedelta(days=3)
    crit = factories.CritFactory(studio=bare.bare, day=day)
    here = {"crit_id": crit.pk}
    leader = bare.client(bare.leader)
    shown = steps_on(leader, reverse("show-crit", kwargs=here))
    for name in ("edit-order", "edit-jurors", "edit-criteria"):
        assert reverse(name, kwargs=here) in shown
    assert reverse("edit-order", kwargs=here) in steps_on(
        leader, reverse("show-table", kwargs=here)
    )
    assert reverse("bring-in-people", args=[bare.bare.pk]) in steps_on(
        leader, reverse("edit-order", kwargs=here)
    )
    juror = bare.client(factories.SeatFactory(crit=crit))
    assert "appears" in steps_on(juror, "/jury/")
    assert "nothing to judge by" in steps_on(juror, "/jury/brief/")


def test_a_package_without_rows_says_where_to_begin_and_praises_nothing(bare):
    Brief.objects.filter(studio=bare.studio).update(issued_at=None)
    client, here = bare.client(bare.student), {"scheme_id": bare.scheme.pk}
    for name in DRAFT:
        assert steps_on(client, reverse(name, kwargs=here)), name
    rooms = reverse("show-schedule", kwargs={**here, "slug": "rooms"})
    for name in ("show-package", "show-checks", "show-questions", "list-daylight"):
        text = text_of(client.get(reverse(name, kwargs=here)))
        assert rooms in steps_on(client, reverse(name, kwargs=here)), name
        assert "is met and no value is odd" not in text
        assert "Nothing on the list is lacking" not in text


def test_a_student_is_told_when_results_open(bare):
    text = steps_on(bare.client(bare.student), reverse("show-crit", args=[bare.crit.pk]))
    assert "Results open here once the studio leader releases them." in text
