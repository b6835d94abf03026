"""The brief, page by page."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils.html import escape

from reviews.deeds.brief_writing import PARTS
from reviews.models import Brief
from tests import factories
from tests.reviews.page_steps import sent_of, text_of
from tests.reviews.test_targets_views import NEW

# reading


def test_everybody_of_the_studio_reads_an_issued_brief(cast, brief_url):
    crit = factories.CritFactory(studio=cast.studio)
    factories.CriterionFactory(crit=crit, name="Light", level_3="Ratios are met")
    cast.studio.brief.hand_in.create(kind="sheet", code="02", title="Plan")
    text = text_of(cast.client(cast.student).get(brief_url))
    for said in ("A hut for thirteen on a ridge.", "Day room daylight ratio", "12 %",
                 "Daylight ratio", "the brief", "02 Plan", "Ratios are met", "People in the brief",
                 "12 L/day"):  # fmt: skip
        assert said in text
    assert "Write an addendum" not in text
    assert "To mend" not in text


def test_a_brief_in_preparation_is_for_those_who_write_it(cast, draft, brief_url):
    assert cast.client(cast.student).get(brief_url).status_code == 403
    text = text_of(cast.client(cast.leader).get(brief_url))
    assert "To mend" in text
    assert "To mend" not in text_of(cast.client(cast.coordinator).get(brief_url))


def test_figures_follow_the_readers_units(cast, brief_url):
    cast.student.units = "us"
    cast.student.save()
    # 12 L at 3.785411784 L/gal (NIST Handbook 44, Appendix C) = 3.17
    assert "3.17 gal/day" in text_of(cast.client(cast.student).get(brief_url))


def test_site_climate_states_and_people_are_drawn_over_their_tables(cast, brief_url):
    site = {"people": "4", "drift_side": "E", "slope": "10 %"}
    tables = {
        "site": site,
        "climate": [{"month": "Oct", "mean_c": "4", "rain_mm": "90"}],
        "states": [{"state": "night", "kind": "night"}],
        "cases": [{"case": "full", "people": "4"}],
    }
    Brief.objects.filter(pk=cast.studio.brief.pk).update(**tables)
    text = cast.client(cast.student).get(brief_url).content.decode()
    for slug in tables:
        assert text.count(f'id="{slug}-half-title"') == 1
    assert "drift depth: not given" in text
    Brief.objects.filter(pk=cast.studio.brief.pk).update(site={}, climate=[], states=[], cases=[])
    assert "-half-title" not in cast.client(cast.student).get(brief_url).content.decode()


def test_leaders_read_what_leads_nowhere_and_others_do_not(cast, leader, brief_url):
    cast.criterion.evidence = "T99"
    cast.criterion.save()
    text = text_of(leader.get(brief_url))
    assert "1 target feeds no criterion" in text
    assert "are asked by no target" in text
    assert "asked by no target" not in text_of(cast.client(cast.student).get(brief_url))


def test_what_is_set_aside_for_the_whole_studio_stands_under_the_targets(cast, brief_url):
    one = factories.SetAsideFactory(studio=cast.studio, reason="Roof glass.", by=cast.leader)
    factories.SetAsideFactory(
        studio=cast.studio, scheme=cast.scheme, reason="Lee alone.", by=cast.leader
    )
    text = text_of(cast.client(cast.student).get(brief_url))
    assert str(one) in text
    assert "Lee alone." not in text


def test_queries_of_a_brief_do_not_grow_with_targets_or_criteria(cast, brief_url):
    client = cast.client(cast.leader)

    def add(first: int, count: int) -> None:
        for n in range(first, first + count):
            cells = {"id": f"X{n}", "rule": "at least", "value": "1"}
            factories.TargetLineFactory(brief=cast.studio.brief, cells=cells)
            factories.CriterionFactory(crit=cast.crit, code=f"C{n}")
            cast.studio.brief.addenda.create(number=n + 1, text="x", issued_by=cast.leader)

    def asked() -> int:
        with CaptureQueriesContext(connection) as held:
            client.get(brief_url)
        return len(held)

    add(0, 10)
    few = asked()
    add(10, 90)
    assert asked() == few


# writing


def test_the_text_is_kept(cast, leader, draft, brief_url):
    text = "A station.\r\n\r\nFor six."
    answer = leader.post(
        f"{brief_url}text/", sent_of(leader.get(f"{brief_url}text/")) | {"text": text}
    )
    assert answer["Location"] == f"{brief_url}text/"
    draft.refresh_from_db()
    assert draft.text == "A station.\n\nFor six."


def test_the_decimal_sign_is_set_with_the_text_and_frozen_with_it(cast, leader, draft, brief_url):
    sent = sent_of(leader.get(f"{brief_url}text/"))
    assert sent["decimal"] == "point"
    leader.post(f"{brief_url}text/", sent | {"decimal": "comma"})
    refused = {"water_l_pd": "1,200", "drift_m": "1.234"}
    text = text_of(
        leader.post(f"{brief_url}site/", sent_of(leader.get(f"{brief_url}site/")) | refused)
    )
    assert "Read “1,200”. Expected 1,2 or 1200: it could be either." in text
    assert "Read “1.234”. Expected 1,2340 or 1234: it could be either." in text
    leader.post(f"{brief_url}site/", sent_of(leader.get(f"{brief_url}site/")) | {"drift_m": "2,25"})
    draft.refresh_from_db()
    assert draft.site["drift_m"] == "2,25"
    leader.post(f"{brief_url}issue/")
    late = leader.post(f"{brief_url}text/", sent)
    assert "The brief is issued" in text_of(late)
    draft.refresh_from_db()
    assert draft.decimal == "comma"


def test_a_target_of_two_readings_is_refused_where_the_sign_is_a_comma(leader, draft, brief_url):
    Brief.objects.update(decimal="comma")
    text = text_of(leader.post(f"{brief_url}targets/", NEW | {"new-value": "1,200"}))
    assert "Read “1,200”. Expected 1,2 or 1200: it could be either." in text
    leader.post(f"{brief_url}targets/", NEW | {"new-value": "10,5"})
    assert "10,5 days" in text_of(leader.get(f"{brief_url}targets/"))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"decimal": "dash"}, "Read “dash”. Expected point or comma."),
        ({"statement_words": "few"}, "Read “few”. Expected a whole number from 10 to 500."),
        ({"statement_words": "9"}, "Read “9”. Expected a whole number from 10 to 500."),
        ({"text": "x" * 20_001}, "(20,001 characters)”. Expected a text of at most 20,000"),
    ],
)
def test_a_bad_text_is_named_and_nothing_is_lost(leader, draft, brief_url, change, said):
    sent = sent_of(leader.get(f"{brief_url}text/")) | {"text": "Typed anew"} | change
    text = text_of(leader.post(f"{brief_url}text/", sent))
    assert said in text
    assert sent["text"] in text
    draft.refresh_from_db()
    assert draft.text == "A hut for thirteen on a ridge."


@pytest.mark.parametrize("part", ["text", "site", "hand-in"])
def test_a_newer_version_is_shown_beside_what_was_typed(leader, draft, brief_url, part):
    change = {
        "text": {"text": "Typed here"},
        "site": {"people": "17"},
        "hand-in": {"sheets": "09 Detail"},
    }[part]
    sent = sent_of(leader.get(f"{brief_url}{part}/")) | change
    draft.text, draft.site = "Kept by the other", {"people": "99"}
    draft.save()
    draft.hand_in.create(kind="sheet", code="55", title="Kept")
    late = leader.post(f"{brief_url}{part}/", sent)
    assert late.status_code == 409
    text = text_of(late)
    assert "Somebody changed this since" in text
    assert next(iter(change.values())) in text
    assert {"text": "Kept by the other", "site": "99", "hand-in": "55"}[part] in text
    again = sent_of(late) | change
    assert leader.post(f"{brief_url}{part}/", again).status_code == 302


@pytest.mark.parametrize("part", ["text", "site", "hand-in", "targets", "targets/paste"])
def test_an_issued_brief_is_not_offered_for_writing(cast, leader, brief_url, part):
    answer = leader.get(f"{brief_url}{part}/", follow=True)
    assert "It changes by addenda." in text_of(answer)


def test_what_was_typed_when_the_brief_was_issued_meanwhile_is_not_lost(leader, draft, brief_url):
    sent = sent_of(leader.get(f"{brief_url}text/")) | {"text": "Typed too late"}
    Brief.objects.update(issued_at="2026-09-07T09:00Z")
    text = text_of(leader.post(f"{brief_url}text/", sent))
    assert "The brief is issued. Change it by an addendum." in text
    assert "Typed too late" in text


def test_the_site_sheet_is_read_cell_by_cell(leader, draft, brief_url):
    bad = {"people": "dozen", "latitude": "95", "water_l_pd": "12 kg", "drift_m": "7'-3\""}
    text = text_of(leader.post(f"{brief_url}site/", sent_of(leader.get(f"{brief_url}site/")) | bad))
    for said in (
        "Read “dozen”. Expected a whole number",
        "Read “95”. Expected",
        "from -90",
        "Read “12 kg”. Expected",
        "7&#x27;-3&quot;",
    ):
        assert said in text
    draft.refresh_from_db()
    assert draft.site["people"] == "13"


def test_a_bare_number_takes_the_units_of_whoever_types(cast, draft, brief_url):
    cast.leader.units = "us"
    cast.leader.save()
    client = cast.client(cast.leader)
    page = client.get(f"{brief_url}site/")
    assert page.context["form"]["water_l_pd"].value() == "12 L/day"
    client.post(f"{brief_url}site/", sent_of(page) | {"drift_m": "7"})
    draft.refresh_from_db()
    assert draft.site["drift_m"] == "7 ft"
    assert draft.site["water_l_pd"] == "12"


@pytest.mark.parametrize("part", ["text", "site", "climate", "hand-in", "targets"])
def test_the_last_change_of_a_part_is_named_and_can_be_undone(cast, leader, draft, brief_url, part):
    change = {
        "text": {"text": "Typed here"},
        "site": {"people": "17"},
        "climate": {"Jan-rain_mm": "9"},
        "hand-in": {"sheets": "09 Detail"},
        "targets": NEW,
    }[part]
    page, before = f"{brief_url}{part}/", PARTS[part].read(draft)
    assert "Undo it" not in text_of(leader.get(page))
    sent = {} if part == "targets" else sent_of(leader.get(page))
    leader.post(page, sent | change)
    change = draft.changes.get()
    assert f"Last change: {escape(change.what)}, by {cast.leader}" in text_of(leader.get(page))
    assert "Nothing was undone" in text_of(
        leader.post(f"{page}undo/", {"change": "x"}, follow=True)
    )
    done = leader.post(f"{page}undo/", {"change": change.pk}, follow=True)
    assert f"Undone: {escape(change.what)}." in text_of(done)
    draft.refresh_from_db()
    assert PARTS[part].read(draft) == before
    Brief.objects.update(issued_at="2026-09-07T09:00Z")
    late = leader.post(f"{page}undo/", {"change": change.pk}, follow=True)
    assert "It changes by addenda." in text_of(late)


def test_the_hand_in_list_is_kept(leader, draft, brief_url):
    sent = {"schedules": ["rooms", "tanks"], "sheets": "02 Plan\n\n03 Section", "statement": "on"}
    sent["seen"] = sent_of(leader.get(f"{brief_url}hand-in/"))["seen"]
    assert leader.post(f"{brief_url}hand-in/", sent).status_code == 302
    assert [str(item) for item in draft.hand_in.all()] == [
        "Schedule rooms Room schedule",
        "Schedule tanks Tank schedule",
        "Sheet 02 Plan",
        "Sheet 03 Section",
        "Statement statement",
    ]
    assert sent_of(leader.get(f"{brief_url}hand-in/"))["sheets"] == "02 Plan\n03 Section"


def test_the_hand_in_list_says_which_kinds_and_states_are_to_be_shown(leader, draft, brief_url):
    sent = {"sheets": "02 Plan; PLAN; packed\n03 Long;; night\n04 Cut ; section"}
    sent["seen"] = sent_of(leader.get(f"{brief_url}hand-in/"))["seen"]
    leader.post(f"{brief_url}hand-in/", sent)
    asked = [(item.title, item.drawing, item.state) for item in draft.hand_in.all()]
    assert asked == [("Plan", "plan", "packed"), ("Long", "", "night"), ("Cut", "section", "")]
    again = sent_of(leader.get(f"{brief_url}hand-in/"))["sheets"]
    assert again == "02 Plan; plan; packed\n03 Long; ; night\n04 Cut; section"
    shown = text_of(leader.get(brief_url))
    assert "02 Plan (Plan, packed)" in shown
    assert "Sheet 02 is to show “packed”, no state of the brief." in shown


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"sheets": "Plan"}, "Line 1: Read “Plan”. Expected a number and a title: 02 Plan."),
        ({"sheets": "02 Plan\n02 Roof"}, "Line 2: Read “02”. Expected a number that no line above"),
        ({"sheets": "02 Plan; roof"}, "Line 1: Read “roof”. Expected a kind of drawing: title"),
        ({"sheets": "02 Plan; plan; a; b"}, "Expected a number and a title, a kind and a state"),
        ({"schedules": ["cellars"]}, "Read “cellars”. Expected one of the schedules."),
    ],
)
def test_a_bad_hand_in_list_is_named(leader, draft, brief_url, change, said):
    sent = sent_of(leader.get(f"{brief_url}hand-in/")) | change
    assert said in text_of(leader.post(f"{brief_url}hand-in/", sent))
    assert not draft.hand_in.exists()


# issue and addenda


def test_what_is_frozen_is_shown_before_it_is(cast, leader, draft, brief_url):
    text = text_of(leader.get(f"{brief_url}issue/"))
    assert "A hut for thirteen on a ridge." in text
    assert text.count("frozen") >= 4
    leader.post(f"{brief_url}issue/")
    draft.refresh_from_db()
    assert draft.is_issued
    assert draft.issued_by == cast.leader
    assert cast.client(cast.student).get(brief_url).status_code == 200


WATER = {
    "one-more-id": "T14",
    "one-more-rule": "at least",
    "one-more-value": "10",
    "one-more-check": "water_days",
}


def test_an_addendum_changes_a_target_and_a_figure(cast, leader, brief_url):
    page = f"{brief_url}addenda/new/"
    shown = leader.get(page)
    assert "Addendum 1" in text_of(shown)
    sent = {"text": "More light.", "number": "1", "target": ["T01", "+"]}
    chosen = leader.post(page, sent | {"choose": "yes"})
    assert "More light." in text_of(chosen)
    assert not cast.studio.brief.addenda.exists()
    for _, form in chosen.context["page"].targets:
        sent |= {f.html_name: f.value() or "" for f in form}
    sent |= {f.html_name: f.value() or "" for f in chosen.context["page"].site}
    sent |= {"target-T01-value": "14", "site-people": "15"} | WATER
    assert leader.post(page, sent)["Location"] == brief_url
    brief = Brief.objects.get(studio=cast.studio)
    assert {r["id"]: r["value"] for r in brief.target_records()} == {"T01": "14", "T14": "10"}
    assert brief.site_record()["people"] == "15"
    assert brief.addenda.get().site_changes == {"people": "15"}
    text = text_of(cast.client(cast.student).get(brief_url))
    assert "More light." in text
    assert "(Addendum 1)" in text


def _addendum(leader, brief_url, **change) -> dict[str, object]:
    sent = {"text": "More light.", "number": "1", "target": ["T01", "+"]}
    page = leader.post(f"{brief_url}addenda/new/", sent | {"choose": "yes"}).context["page"]
    for _, form in page.targets:
        sent |= {f.html_name: f.value() or "" for f in form}
    sent |= {f.html_name: f.value() or "" for f in page.site}
    return sent | WATER | change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"text": ""}, "Read nothing. Expected what changes, in words."),
        ({"target-T01-id": "T02"}, "Read “T02”. Expected the reference T01, which stays."),
        (
            {"one-more-id": "T01"},
            "Read “T01”. Expected a reference that no target of the brief has.",
        ),
        ({"target-T01-value": "lots"}, "Read “lots”. Expected"),
        ({"site-people": "lots"}, "Read “lots”. Expected a whole number"),
    ],
)
def test_a_bad_addendum_is_named_and_nothing_is_issued(cast, leader, brief_url, change, said):
    text = text_of(leader.post(f"{brief_url}addenda/new/", _addendum(leader, brief_url) | change))
    assert said in text
    assert not cast.studio.brief.addenda.exists()


def test_two_addenda_at_once_are_two(cast, leader, brief_url):
    sent = _addendum(leader, brief_url)
    cast.studio.brief.addenda.create(number=1, text="By the other", issued_by=cast.leader)
    late = leader.post(f"{brief_url}addenda/new/", sent)
    assert late.status_code == 409
    assert "By the other" in text_of(late)
    assert leader.post(f"{brief_url}addenda/new/", sent | {"number": "2"}).status_code == 302
    assert leader.post(f"{brief_url}addenda/new/", sent | {"number": "2"}).status_code == 302
    assert [a.number for a in cast.studio.brief.addenda.all()] == [1, 2]


def test_a_brief_in_preparation_takes_no_addendum(leader, draft, brief_url):
    answer = leader.get(f"{brief_url}addenda/new/", follow=True)
    assert "The brief is in preparation: change it itself." in text_of(answer)
