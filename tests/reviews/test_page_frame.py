"""The frame around every page: who is offered which sheet, and what the title block says."""

import re
from datetime import date, timedelta

import pytest
from django.test import RequestFactory

from reviews.access import Viewer
from reviews.pages.page_frame import frame
from reviews.reading.crit_waiting import nearest_crit
from tests import factories
from tests.reviews.page_steps import text_of


def _frame(viewer: Viewer, **more):
    request = RequestFactory().get("/")
    request.viewer = viewer
    return frame(request, **more)


def _names(framed) -> list[str]:
    return [entry["name"] for entry in framed["sheet_list"]]


def test_a_leader_is_offered_every_sheet_in_order(cast):
    framed = _frame(Viewer(cast.leader), studio=cast.studio, page="brief")
    assert _names(framed) == ["Brief", "Site", "Schemes", "Crits", "Moderation", "Compare"]
    assert [entry["number"] for entry in framed["sheet_list"]] == [
        "01",
        "02",
        "03",
        "04",
        "05",
        "06",
    ]
    assert [entry["name"] for entry in framed["sheet_list"] if entry["current"]] == ["Brief"]


@pytest.mark.parametrize(
    ("who", "more"), [("student", []), ("scribe", []), ("examiner", ["Compare"])]
)
def test_others_of_the_studio_are_not_offered_the_leaders_sheets(cast, who, more):
    framed = _frame(Viewer(getattr(cast, who)), scheme=cast.scheme, page="schemes")
    assert _names(framed) == ["Brief", "Site", "Schemes", "Crits", *more]


def test_a_student_is_not_offered_a_brief_in_preparation(cast):
    cast.studio.brief.issued_at = None
    framed = _frame(Viewer(cast.student), studio=cast.studio)
    assert _names(framed) == ["Schemes", "Crits"]
    assert framed["brief_url"] == ""


def test_a_coordinator_is_offered_moderation_once_it_is_released(cast):
    viewer = Viewer(cast.coordinator)
    assert "Moderation" not in _names(_frame(viewer, crit=cast.crit))
    cast.crit.released_at = cast.crit.pens_down
    assert "Moderation" in _names(_frame(viewer, crit=cast.crit))


def test_a_juror_is_offered_the_jury_pages_of_the_crit_alone(cast):
    framed = _frame(Viewer(seat=cast.seat), crit=cast.crit)
    assert [entry["url"] for entry in framed["sheet_list"]] == ["/jury/brief/", "/jury/"]
    assert _names(_frame(Viewer(seat=cast.seat), crit=cast.other_crit)) == []


def test_strangers_and_pages_of_no_studio_have_no_sheet_list(cast):
    assert _names(_frame(Viewer(cast.other_student), studio=cast.studio)) == []
    assert _names(_frame(Viewer(cast.student))) == []


def test_the_title_block_says_the_revision_and_who_drew_it(cast):
    revision = factories.RevisionFactory(scheme=cast.scheme, letter="B")
    pairs = dict(_frame(Viewer(cast.student), revision=revision)["title_block"])
    assert pairs == {
        "Drawn": "Mira Mate and Stef Student",
        "Revision": "B",
        "Issued": "Thu 3 Dec 2026, 18:00",
    }


def test_the_title_block_says_what_is_in_preparation(cast):
    pairs = dict(_frame(Viewer(cast.student), scheme=cast.scheme)["title_block"])
    assert pairs["Revision"] == "In preparation"


def test_the_nearest_crit_is_the_next_else_the_last(db):
    studio = factories.StudioFactory()
    assert nearest_crit(studio) is None
    past = factories.CritFactory(studio=studio, day=date.today() - timedelta(days=30))
    last = factories.CritFactory(studio=studio, day=date.today() - timedelta(days=2))
    assert nearest_crit(studio) == last
    soon = factories.CritFactory(studio=studio, day=date.today() + timedelta(days=2))
    factories.CritFactory(studio=studio, day=date.today() + timedelta(days=30))
    assert nearest_crit(studio) == soon != past


def test_every_page_leads_to_what_waits_and_to_the_other_studios(cast):
    factories.MembershipFactory(studio=cast.other_studio, person=cast.leader, role="leader")
    text = text_of(cast.client(cast.leader).get(f"/studios/{cast.studio.pk}/"))
    head = text.partition("</header>")[0]
    assert '<a href="/">Waiting for you</a>' in head
    assert f'href="/studios/{cast.other_studio.pk}/"' in head
    framed = _frame(Viewer(cast.leader), studio=cast.studio)
    assert framed["other_studios"] == [cast.other_studio]
    assert _frame(Viewer(cast.student), studio=cast.studio)["other_studios"] == []


def test_a_title_names_the_page_then_scheme_and_studio(cast):
    client = cast.client(cast.student)
    named = f"· {cast.scheme} · {cast.studio.title} · Muntin</title>"
    for page, title in (
        ("", "Package"),
        ("checks/", "Check sheet"),
        ("schedules/rooms/", "Room schedule"),
    ):
        text = text_of(client.get(f"/schemes/{cast.scheme.pk}/{page}"))
        assert f"<title>{title} {named}" in " ".join(text.split())
    juror = text_of(cast.client(cast.seat).get(f"/jury/{cast.scheme.pk}/"))
    assert f"<title>Jury sheet {named}" in " ".join(juror.split())


def test_package_results_and_brief_lead_to_each_other(cast):
    cast.crit.released_at = cast.crit.pens_down
    cast.crit.save()
    package, brief = f"/schemes/{cast.scheme.pk}/", f"/studios/{cast.studio.pk}/brief/"
    results = f"/crits/{cast.crit.pk}/results/{cast.scheme.pk}/"
    client = cast.client(cast.student)
    for page, others in ((package, {brief, results}), (results, {package, brief})):
        (nav,) = re.findall(r'<nav class="ways-on".*?</nav>', text_of(client.get(page)), re.S)
        own = {f"{package}checks/", f"{package}portfolio/"}
        assert set(re.findall(r'href="(.*?)"', nav)) == others | own
    (nav,) = re.findall(r'<nav class="ways-on".*?</nav>', text_of(client.get(brief)), re.S)
    assert {package, results} < set(re.findall(r'href="(.*?)"', nav))
    examiner = text_of(cast.client(cast.examiner).get(results))
    assert f'href="{package}"' not in examiner


def test_a_re_crit_leads_its_own_schemes_alone_to_results(cast):
    again = factories.CritFactory(
        studio=cast.studio, kind="re-crit", follows=cast.crit, released_at=cast.crit.pens_down
    )
    factories.SlotFactory(crit=again, scheme=cast.other_scheme)
    for who, scheme, is_led in (
        (cast.student, cast.scheme, False),
        (cast.classmate, cast.other_scheme, True),
    ):
        address = f"/crits/{again.pk}/results/{scheme.pk}/"
        client = cast.client(who)
        for page in ("/", f"/schemes/{scheme.pk}/"):
            assert (f'href="{address}' in text_of(client.get(page))) is is_led, (who, page)
