"""Next year's studio: brief and criteria sheets copied, days cleared, people left behind."""

from datetime import timedelta

import pytest
from django.urls import reverse

from reviews import access
from reviews.access import Viewer
from reviews.deeds.brief_issuing import add_addendum, issue
from reviews.models import (
    AuditLine,
    Criterion,
    HandInItem,
    Mail,
    MappedStandard,
    Membership,
    StoredFinding,
    Studio,
    TargetLine,
)
from reviews.reading.last_year import last_year
from tests import factories
from tests.reviews.page_steps import text_of

pytestmark = pytest.mark.django_db

PARTS = ["text", "targets", "site", "use", "hand-in", "standards"]


@pytest.fixture
def brief(cast):
    """The brief of a studio as it stood last: with an addendum that changes target and site."""
    brief = cast.studio.brief
    brief.text, brief.site = "A hut. Pens down Thu 3 Dec 2026.", {"people": "13"}
    brief.climate, brief.states = [{"month": "Jan", "rain_mm": "40"}], [{"state": "night"}]
    brief.statement_words, brief.decimal = 40, "comma"
    brief.save()
    brief.target_lines.all().delete()
    factories.TargetLineFactory(brief=brief)
    HandInItem.objects.update_or_create(brief=brief, kind="sheet", code="02", title="Plan")
    MappedStandard.objects.create(
        studio=cast.studio, body="NAAB", edition="2020", title="Design", criteria="F1"
    )
    issue(brief, cast.leader)
    cells = dict(TargetLine.objects.get(brief=brief).cells) | {"value": "14"}
    add_addendum(
        brief, cast.leader, "Twelve sleep.", number=1, targets=[cells], site={"people": "12"}
    )
    return brief


def sent(cast, **more):
    day = cast.crit.day + timedelta(days=365)
    return {
        "title": "Ridge",
        "cohort": "cohort U, autumn 2027",
        "year_line": "",
        "parts": PARTS,
        f"day_{cast.crit.pk}": day.isoformat(),
        f"pens_{cast.crit.pk}": f"{day - timedelta(days=1)}T18:00",
    } | more


def carry(cast, who=None, **more):
    return cast.client(who or cast.leader).post(
        reverse("carry-studio", args=[cast.studio.pk]), sent(cast, **more)
    )


def test_everything_is_copied_as_it_stood_last_and_nothing_is_shared(cast, brief):
    page = text_of(cast.client(cast.leader).get(reverse("carry-studio", args=[cast.studio.pk])))
    assert "Thu 3 Dec 2026" in page
    for _ in range(2):
        assert carry(cast).status_code == 302
    new = Studio.objects.get(follows=cast.studio)
    fresh = new.brief
    assert not fresh.is_issued
    assert fresh.text.startswith("A hut.")
    assert "From addendum 1:\nTwelve sleep." in fresh.text
    assert (fresh.site, fresh.decimal, fresh.statement_words) == ({"people": "12"}, "comma", 40)
    assert (fresh.climate, fresh.states) == (brief.climate, brief.states)
    line = fresh.target_lines.get()
    assert (line.addendum, line.cells["value"]) == (None, "14")
    assert [*fresh.hand_in.values_list("code", flat=True)] == [
        *brief.hand_in.values_list("code", flat=True)
    ]
    assert new.standards.get().criteria == "F1"
    crit = new.crits.get()
    assert (crit.kind, crit.day) == (cast.crit.kind, cast.crit.day + timedelta(days=365))
    assert [*crit.criteria.values_list("code", flat=True)] == ["F1", "F2"]
    assert not crit.seats.exists()
    assert not crit.slots.exists()
    assert not new.schemes.exists()
    assert [place.person for place in new.memberships.all()] == [cast.leader]
    assert AuditLine.objects.filter(studio=new, deed="carried").count() == 1
    Criterion.objects.filter(crit=crit).delete()
    line.delete()
    assert cast.crit.criteria.count() == 2
    assert brief.target_lines.count() == 2


def test_what_is_not_ticked_stays_behind_and_a_blank_day_leaves_its_sheet(cast, brief):
    more = {f"day_{cast.crit.pk}": "", f"pens_{cast.crit.pk}": ""}
    carry(cast, parts=["targets"], **more)
    new = Studio.objects.get(follows=cast.studio)
    assert (new.brief.text, new.brief.site, new.standards.count()) == ("", {}, 0)
    assert new.brief.target_lines.count() == 1
    assert not new.crits.exists()


def test_days_of_last_year_and_its_own_cohort_are_refused(cast, brief):
    answer = carry(
        cast,
        cohort=cast.studio.cohort,
        **{f"day_{cast.crit.pk}": cast.crit.day.isoformat(), f"pens_{cast.crit.pk}": ""},
    )
    text = text_of(answer)
    assert "Expected another cohort than" in text
    assert "Expected a day after last year’s" in text.replace("&#x27;", "’").replace("'", "’")
    assert "the hour after which nothing more is drawn" in text
    assert not Studio.objects.filter(follows=cast.studio).exists()


def test_a_coordinator_opens_it_and_names_its_leader(cast, brief):
    named = {"leader_name": "Ada Merrowby", "leader_email": "ada@example.org"}
    carry(cast, cast.coordinator, **named)
    new = Studio.objects.get(follows=cast.studio)
    place = new.memberships.get()
    assert (place.person.email, place.role) == ("ada@example.org", Membership.Role.LEADER)
    assert Mail.objects.filter(address="ada@example.org", kind="invitation").exists()
    assert not access.can_lead(Viewer(cast.coordinator), new.pk)


def test_who_has_an_account_leads_once_they_have_joined(cast):
    url = reverse("name-leader", args=[cast.studio.pk])
    client = cast.client(cast.coordinator)
    client.post("/studios/new/", {"title": "Low", "cohort": "E"})
    opened = Studio.objects.get(title="Low")
    assert opened.memberships.get().person == cast.coordinator
    cast.other_leader.set_password("a long word that nobody guesses")
    cast.other_leader.save()
    for _ in range(2):
        client.post(url, {"leader_name": "Olaf Other", "leader_email": "OLAF@example.org"})
    place = cast.studio.memberships.get(person=cast.other_leader)
    assert place.is_invited
    assert not access.can_lead(Viewer(cast.other_leader), cast.studio.pk)
    refused = text_of(client.post(url, {"leader_name": "Me", "leader_email": "cora@example.org"}))
    assert "somebody else" in refused


def test_last_years_figures_stand_beside_each_target_for_its_leader_alone(cast, brief):
    third = factories.SchemeFactory(studio=cast.studio, number="R03")
    factories.SchemeFactory(studio=cast.studio, number="R04")
    schemes = (cast.scheme, cast.other_scheme, third)
    told = [("meets", 1.2), ("short", 0.5), ("no_data", 3.0)]
    for scheme, (state, ratio) in zip(schemes, told, strict=True):
        revision = factories.RevisionFactory(scheme=scheme, crit=cast.crit)
        StoredFinding.objects.create(
            revision=revision,
            ref="T01",
            check_slug="daylight_ratio",
            uses="day",
            rule="at least",
            title="Day room daylight ratio",
            state=state,
            ratio=ratio,
        )
    carry(cast)
    new = Studio.objects.get(follows=cast.studio)
    words = (
        "1 of 4 met, 1 without data, 1 issued nothing that it was asked of, "
        "median ratio to the target 0.85 of 2"
    )
    asked = ("daylight_ratio", "day", "at least")
    assert last_year(new).of(asked, "T01").words == words
    assert last_year(new).of(asked, "T99").words == words
    assert last_year(new).of(("daylight_ratio", "day", "at most"), "T01") is None
    client = cast.client(cast.leader)
    for name in ("show-brief", "edit-targets"):
        assert words in text_of(client.get(reverse(name, args=[new.pk])))
    assert "The text names days." in text_of(client.get(reverse("show-brief", args=[new.pk])))
    read = text_of(cast.client(cast.coordinator).get(reverse("show-brief", args=[new.pk])))
    assert "of 4 met" not in read


def test_figures_beside_targets_cost_the_same_for_any_number_of_schemes(
    cast, brief, django_assert_max_num_queries
):
    new = factories.StudioFactory(follows=cast.studio)
    for number in range(8):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Q{number}")
        revision = factories.RevisionFactory(scheme=scheme, crit=cast.crit)
        StoredFinding.objects.create(
            revision=revision,
            ref="T01",
            check_slug="daylight_ratio",
            rule="at least",
            state="meets",
        )
    with django_assert_max_num_queries(3):
        last_year(new)
