"""A crit, page by page, as its leader sets it."""

from datetime import timedelta

import pytest
from django.utils import timezone

from reviews.deeds.crit_criteria_keeping import lines_of, start_from
from reviews.models import Crit
from tests import factories
from tests.reviews.page_steps import rows_of, text_of

CRIT = {"kind": "interim", "day": "2026-10-22", "pens_down": "2026-10-21T18:00"}


@pytest.fixture
def url(cast) -> str:
    return f"/crits/{cast.crit.pk}/"


def test_a_crit_is_set_once_however_often_it_is_sent(cast, leader):
    new = f"/studios/{cast.studio.pk}/crits/new/"
    first, second = leader.post(new, CRIT), leader.post(new, CRIT)
    assert first["Location"] == second["Location"]
    crit = cast.studio.crits.get(kind="interim")
    assert str(crit) == "Interim crit, 22 Oct 2026"
    assert not crit.names_jurors


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"day": "22nd"}, "Read “22nd”. Expected a day, such as 4 Dec 2026."),
        ({"day": ""}, "Read nothing. Expected a day, such as 4 Dec 2026."),
        ({"pens_down": "tea"}, "Read “tea”. Expected a day and an hour: 3 Dec 2026 18:00."),
        ({"kind": "party"}, "Read “party”. Expected one of the kinds."),
        (
            {"pens_down": "2026-10-23T09:00"},
            "Read “Fri 23 Oct 2026, 09:00”. Expected an hour before the day of the crit is over.",
        ),
    ],
)
def test_a_cell_that_cannot_be_read_is_named_and_the_rest_kept(cast, leader, change, said):
    text = text_of(leader.post(f"/studios/{cast.studio.pk}/crits/new/", CRIT | change))
    assert said in text
    assert not cast.studio.crits.filter(kind="interim").exists()


@pytest.mark.parametrize("typed", ["22 Oct 2026", "22/10/2026", "2026-10-22", "22 October 2026"])
def test_days_are_read_as_people_write_them(cast, leader, typed):
    leader.post(f"/studios/{cast.studio.pk}/crits/new/", CRIT | {"day": typed})
    assert cast.studio.crits.filter(day="2026-10-22").exists()


def _edit(cast, leader, **change):
    shown = leader.get(f"/crits/{cast.crit.pk}/edit/").context["form"]
    names = ("kind", "day", "pens_down", "seen")
    sent = {name: shown[name].value() for name in names} | {"names_jurors": "on"}
    sent["pens_down"] = f"{cast.crit.day:%Y-%m-%d}T08:00"
    return leader.post(f"/crits/{cast.crit.pk}/edit/", sent | change)


def test_a_day_is_moved(cast, leader):
    later = cast.crit.day + timedelta(days=400)
    assert _edit(cast, leader, day=later.isoformat()).status_code == 302
    cast.crit.refresh_from_db()
    assert cast.crit.day == later


def test_a_released_crit_and_an_announced_promise_do_not_change(cast, leader):
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    assert "That stays as announced" in text_of(_edit(cast, leader, names_jurors=""))
    Crit.objects.filter(pk=cast.crit.pk).update(released_at=timezone.now())
    late = _edit(cast, leader, kind="re-crit")
    assert "The crit is released" in text_of(late)
    cast.crit.refresh_from_db()
    assert (cast.crit.kind, cast.crit.names_jurors) == ("final", True)


def test_minutes_of_a_slot_are_set_and_blank_is_usual(cast, leader):
    assert cast.crit.slot_parts.slot_min == 27
    assert _edit(cast, leader, present_min="10", change_min="0").status_code == 302
    cast.crit.refresh_from_db()
    assert (cast.crit.slot_parts.slot_min, cast.crit.discuss_min) == (27, None)
    assert cast.crit.orders.get().plan["minutes"] == [10, 14, 3, 0]
    assert "Read “long”. Expected 0 to 120 minutes, or a blank." in text_of(
        _edit(cast, leader, discuss_min="long")
    )
    none = dict.fromkeys(("present_min", "discuss_min", "writing_min"), "0")
    assert "Read “a slot of 2 min”." in text_of(_edit(cast, leader, **none))


def test_the_order_of_talk_is_fixed_once_a_juror_has_begun(cast, leader):
    assert _edit(cast, leader, talk="quiet").status_code == 302
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    late = _edit(cast, leader, talk="talk")
    assert "A juror has begun in this order of talk." in text_of(late)
    assert _edit(cast, leader, talk="").status_code == 302  # a page that knew of no such field
    cast.crit.refresh_from_db()
    assert cast.crit.talk == "quiet"


def test_everybody_of_the_studio_reads_the_crit(cast, url):
    text = text_of(cast.client(cast.student).get(url))
    for said in ("Lee", "Jo Juror", "F1", "Students read who wrote each comment"):
        assert said in text
    assert cast.seat.code not in text
    assert "To think over" not in text
    assert f"{url}edit/" not in text


def test_a_leader_closes_issuing_and_every_student_reads_so(cast, leader, url):
    student, package = cast.client(cast.student), f"/schemes/{cast.scheme.pk}/"
    issue = f"{package}issue/"
    assert "is closed" not in text_of(student.get(package)) + text_of(student.get(url))
    leader.post(f"{url}close-issuing/")
    for address in (url, package, issue):
        text = text_of(student.get(address))
        assert "issuing is closed (Lena Leader, " in text
    assert "What is issued now is for no crit." in text_of(student.get(package))
    assert "Close issuing" not in text_of(student.get(url))
    assert "Open issuing again" in text_of(leader.get(url))
    leader.post(f"{url}open-issuing/")
    assert "is closed" not in text_of(student.get(package)) + text_of(student.get(issue))


def test_a_released_crit_offers_nothing_to_close(cast, leader, url):
    Crit.objects.update(released_at=timezone.now(), released_by=cast.leader)
    answer = leader.post(f"{url}close-issuing/", follow=True)
    assert "The crit is released. Nothing more is issued for it." in text_of(answer)
    assert "Close issuing" not in text_of(answer)
    package = text_of(cast.client(cast.student).get(f"/schemes/{cast.scheme.pk}/"))
    assert "it is released, so nothing more is issued for it" in package


def test_a_student_finds_the_results_once_released(cast, url):
    results = f"{url}results/{cast.scheme.pk}/"
    client = cast.client(cast.student)
    assert results not in text_of(client.get(url))
    Crit.objects.filter(pk=cast.crit.pk).update(released_at=timezone.now())
    assert results in text_of(client.get(url))
    assert results not in text_of(cast.client(cast.classmate).get(url))


# the criteria sheet


def test_a_ready_sheet_is_laid_on_an_empty_crit(cast, leader):
    crit = factories.CritFactory(studio=cast.studio, kind="interim")
    page = f"/crits/{crit.pk}/criteria/"
    assert "Start from the technical sheet" in text_of(leader.get(page))
    assert leader.post(f"{page}start/", {"sheet": "technical"})["Location"] == page
    assert [c.code for c in crit.criteria.all()] == [f"K{n}" for n in range(1, 8)]
    answer = leader.post(f"{page}start/", {"sheet": "other"}, follow=True)
    assert "Read “other”. Expected one of interim, final, technical." in text_of(answer)


def test_the_sheet_is_kept_with_weights_and_words(cast, leader, url):
    page = leader.get(f"{url}criteria/")
    sent = rows_of(page, **{"rows-0-weight": "55,5 %", "rows-1-weight": "44.5"})
    sent |= {
        "rows-0-level_3": "Worked out in numbers",
        "rows-1-position": "1",
        "rows-0-position": "2",
    }
    assert leader.post(f"{url}criteria/", sent).status_code == 302
    first, second = lines_of(cast.crit)
    assert (first["code"], second["code"]) == ("F2", "F1")
    assert str(second["weight"]) == "55.50"
    assert second["level_3"] == "Worked out in numbers"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rows-0-weight": "lots"}, "Read “lots”. Expected a weight from 0 to 100."),
        ({"rows-0-weight": "120"}, "Read “120”. Expected a weight from 0 to 100."),
        ({"rows-0-weight": "NaN"}, "Read “NaN”. Expected a weight from 0 to 100."),
        ({"rows-0-code": ""}, "Read nothing. Expected a code of at most 6 characters: F1."),
        ({"rows-1-code": "F1"}, "Read “F1”. Expected a code that no criterion above has."),
        (
            {"rows-2-name": "Half typed"},
            "Read nothing. Expected a code of at most 6 characters: F1.",
        ),
    ],
)
def test_a_bad_criterion_is_named_and_nothing_is_kept(cast, leader, url, change, said):
    before = lines_of(cast.crit)
    sent = rows_of(leader.get(f"{url}criteria/"), **{"rows-0-name": "Typed anew"}) | change
    text = text_of(leader.post(f"{url}criteria/", sent))
    assert said in text
    assert "Typed anew" in text
    assert lines_of(cast.crit) == before


def test_a_criterion_is_added_and_one_left_out(cast, leader, url):
    new = {"rows-2-code": "F3", "rows-2-name": "Air", "rows-2-weight": "50", "rows-0-DELETE": "on"}
    leader.post(f"{url}criteria/", rows_of(leader.get(f"{url}criteria/"), **new))
    assert [line["code"] for line in lines_of(cast.crit)] == ["F2", "F3"]


def test_a_sheet_that_somebody_else_kept_is_shown_beside_what_was_typed(cast, leader, url):
    page = leader.get(f"{url}criteria/")
    cast.criterion.name = "Kept by the other"
    cast.criterion.save()
    late = leader.post(f"{url}criteria/", rows_of(page, **{"rows-0-name": "Typed here"}))
    assert late.status_code == 409
    assert "Kept by the other" in text_of(late)
    assert "Typed here" in text_of(late)
    again = rows_of(late)
    assert leader.post(f"{url}criteria/", again).status_code == 302
    cast.criterion.refresh_from_db()
    assert cast.criterion.name == "Typed here"


def test_a_fixed_sheet_offers_no_form(cast, leader, url):
    page = leader.get(f"{url}criteria/")
    factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    assert "The criteria sheet is fixed" in text_of(leader.get(f"{url}criteria/"))
    assert "A juror has begun" in text_of(
        leader.post(f"{url}criteria/", rows_of(page) | {"rows-0-name": "x"})
    )


def test_warnings_follow_what_is_typed_and_keep_nothing(cast, leader, url):
    by_htmx = {"HX-Request": "true"}
    sent = rows_of(leader.get(f"{url}criteria/"), **{"rows-0-weight": "10"})
    answer = leader.post(f"{url}criteria/", sent, headers=by_htmx)
    assert "Weights add to 60; a criteria sheet adds to 100." in text_of(answer)
    assert "F2 Making has no evidence" in text_of(answer)
    cast.criterion.refresh_from_db()
    assert cast.criterion.weight == 50
    bad = leader.post(
        f"{url}criteria/", sent | {"rows-0-weight": "x"}, headers={"HX-Request": "true"}
    )
    assert bad.status_code == 204


def test_start_from_needs_no_targets(cast):
    crit = factories.CritFactory(studio=cast.studio, kind="interim")
    cast.studio.brief.target_lines.all().delete()
    start_from(crit, "interim")
    assert set(crit.criteria.values_list("evidence", flat=True)) == {""}
