"""JSON for scripts: what is told, as the printed schema describes it, and how.

Who reads what by a token is walked by tests/test_access.py.
"""

import json
from uuid import uuid4

import pytest
from django.db import InterfaceError, connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from criteria.__main__ import main
from criteria.command.schema import package_schema
from reviews import access, access_scripts
from reviews.access import Viewer
from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing, token_keeping
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.revision_issuing import issue
from reviews.models import (
    Comment,
    Membership,
    Person,
    Revision,
    Slot,
    SpokenNote,
)
from reviews.places import Place, Point
from tests import factories
from tests.reviews.script_steps import by_token, get, problem, told

HERE = {"REMOTE_ADDR": "192.0.2.7"}


# Who reads what


@pytest.mark.parametrize("is_released", [False, True])
def test_lists_hold_what_single_answers_give_and_no_more(cast, is_released):
    factories.issue_sheets(cast, "02", schemes=[cast.scheme, cast.other_scheme])
    if is_released:
        crit_releasing.release_crit(cast.crit, cast.leader, "")
    people = Person.objects.all()
    assert len(people) > 7
    for person in people:
        viewer = Viewer(person)
        whole = [r for r in access.revisions(viewer) if access.can_read_schedules(viewer, r)]
        assert {*access_scripts.whole_revisions(viewer)} == {*whole}, person
        slots = Slot.objects.select_related("crit", "scheme")
        read = [s for s in slots if access_scripts.can_tell_results(viewer, s.crit, s.scheme)]
        assert {*access_scripts.released_slots(viewer)} == {*read}, person


def test_whoever_leaves_a_studio_or_the_site_reads_nothing_of_it_at_once(cast):
    head = by_token(cast.leader)
    assert get("tell-package", cast.scheme.pk, head=head).status_code == 200
    Membership.objects.filter(person=cast.leader, studio=cast.studio).delete()
    assert get("tell-package", cast.scheme.pk, head=head).status_code == 404
    Person.objects.filter(pk=cast.leader.pk).update(is_active=False)
    assert "account is closed" in problem(get("tell-start", head=head))["detail"]


def test_a_jurors_link_in_the_same_browser_counts_for_nothing(cast):
    factories.issue_sheets(cast, "02")
    browser = cast.client(cast.seat)
    address = reverse("tell-issued-package", args=[Revision.objects.first().pk])
    assert browser.get(address).status_code == 401
    browser.force_login(cast.classmate)
    assert browser.get(address).status_code == 403


# What is told


def test_a_script_begins_at_one_address_and_is_led_on(cast):
    factories.issue_sheets(cast, "02")
    head = by_token(cast.student)
    start = told(get("tell-start", head=head), "start")
    assert (start["reads_as"], start["token"]) == (cast.student.name, "laptop")
    ask = Client()
    packages = told(ask.get(start["addresses"]["packages"], headers=head), "list")
    revisions = told(ask.get(start["addresses"]["revisions"], headers=head), "list")
    assert told(ask.get(start["addresses"]["results"], headers=head), "list")["items"] == []
    assert [each["scheme"] for each in packages["items"]] == [cast.scheme.number]
    assert [each["revision"] for each in revisions["items"]] == ["A"]
    for each in packages["items"] + revisions["items"]:
        package = told(ask.get(each["addresses"]["package"], headers=head), "package")
        checks = told(ask.get(each["addresses"]["check_sheet"], headers=head), "check_sheet")
        assert package["about"] == checks["about"] == each
    schema = ask.get(start["addresses"]["schema"])
    assert json.loads(schema.content) == package_schema()


@pytest.mark.parametrize("is_issued", [False, True])
def test_a_package_that_was_taken_is_checked_to_the_same_again(cast, tmp_path, capsys, is_issued):
    factories.prepare(cast, "02")
    room = {"mark": "R9", "room": "Odd", "floor_m2": "much", "use": "attic"}
    factories.RowFactory(package=cast.scheme.package, changed_by=cast.student, cells=room)
    told_of = ("tell-package", "tell-checks", cast.scheme.pk)
    if is_issued:
        revision = issue(cast.scheme.package, cast.student)
        told_of = ("tell-issued-package", "tell-issued-checks", revision.pk)
    head = by_token(cast.student)
    answer = get(told_of[0], told_of[2], head=head)
    package = told(answer, "package")
    sheet = told(get(told_of[1], told_of[2], head=head), "check_sheet")
    (tmp_path / "package.json").write_bytes(answer.content)
    main(["check", str(tmp_path / "package.json"), "--json"])
    out, err = capsys.readouterr()
    again = json.loads(out)
    assert again["findings"] == sheet["check_sheet"]["findings"]
    assert again["odd_values"] == sheet["check_sheet"]["odd_values"]
    assert package["schedules"]["rooms"]
    assert {"much", "attic"} <= {cell["read"] for cell in package["refused"]}
    assert all(cell["read"] in err for cell in package["refused"])


def test_likely_questions_are_their_schemes_and_its_leaders(cast):
    for person, has in ((cast.student, True), (cast.leader, True), (cast.coordinator, False)):
        answer = get("tell-checks", cast.scheme.pk, head=by_token(person))
        assert isinstance(told(answer, "check_sheet")["check_sheet"]["questions"], list) is has


@pytest.fixture
def released(cast):
    factories.issue_sheets(cast, "02")
    for sent in (
        CommentSent("Ask", Place("02", "C4"), cast.criterion, "Why 900?", Point(0.6, 0.6)),
        CommentSent("Rework", Place("02", "B2"), None, "You gave up."),
    ):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), sent, 0)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    slot = cast.crit.slots.get(scheme=cast.scheme)
    factories.SpokenNoteFactory(slot=slot, by=cast.scribe, seat=cast.seat, words="Mind the gap.")
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    return cast


def _results(cast, who):
    return get("tell-results", cast.crit.pk, cast.scheme.pk, head=by_token(who, f"{uuid4()}"))


def test_results_are_told_after_the_release_as_their_page_shows_them(released):
    unkind = Comment.objects.get(words="You gave up.")
    crit_moderating.hold_comment(unkind, released.leader, "About the person.")
    results = told(_results(released, released.student), "results")["results"]
    assert results["words"] == "Read the keeps first."
    levels = {each["code"]: each["levels"][0]["level"] for each in results["criteria"]}
    assert levels == {released.criterion.code: 3, released.other_criterion.code: 3}
    by_place = {each["square"]: each for each in results["comments"]}
    assert (by_place["C4"]["words"], by_place["C4"]["point"]) == ("Why 900?", [0.6, 0.6])
    assert (by_place["B2"]["words"], by_place["B2"]["is_held"]) == ("", True)
    assert "You gave up." not in json.dumps(results)
    assert [each["words"] for each in results["spoken"]] == ["Mind the gap."]
    listed = get("tell-all-results", head=by_token(released.student))
    (item,) = told(listed, "list")["items"]
    assert item["addresses"]["results"].endswith(
        f"/json/1/crits/{released.crit.pk}/results/{released.scheme.pk}.json"
    )


def test_results_before_the_release_are_not_there_for_anybody(cast):
    factories.issue_sheets(cast, "02")
    for person in (cast.student, cast.leader, cast.coordinator, cast.examiner):
        problem(_results(cast, person))
        assert _results(cast, person).status_code == 404
    assert SpokenNote.objects.count() == 0


def test_what_a_script_reads_of_levels_is_on_the_audit_list_as_a_page_is(released):
    before = released.studio.audit_lines.count()
    _results(released, released.student)
    assert released.studio.audit_lines.filter(deed="read").count() == 0
    told(_results(released, released.examiner), "results")
    assert released.studio.audit_lines.filter(deed="read", person=released.examiner).exists()
    assert released.studio.audit_lines.count() > before
    assert told(_results(released, released.coordinator), "results")["results"]["spoken"] is None


# How it is told


def test_an_answer_is_whoever_asked_alone_and_asked_again_is_known(cast):
    head = by_token(cast.student)
    first = get("tell-package", cast.scheme.pk, head=head)
    assert first["Cache-Control"] == "private, no-cache"
    assert {"Authorization", "Cookie"} <= {*first["Vary"].replace(" ", "").split(",")}
    assert first["X-Content-Type-Options"] == "nosniff"
    again = get("tell-package", cast.scheme.pk, head=head, **{"If-None-Match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    factories.RowFactory(package=cast.scheme.package, changed_by=cast.student)
    after = get("tell-package", cast.scheme.pk, head=head, **{"If-None-Match": first["ETag"]})
    assert after.status_code == 200


def test_what_is_refused_says_so_in_words(cast):
    head = by_token(cast.classmate)
    unknown = Client().get(reverse("tell-start"))
    assert (unknown.status_code, unknown["WWW-Authenticate"]) == (401, 'Bearer realm="scripts"')
    assert "Authorization: Bearer" in problem(unknown)["detail"]
    wrong = cast.client(cast.leader).get(
        reverse("tell-start"), headers={"Authorization": "Bearer muntin_nothing"}
    )  # no session stands in for a token that is wrong
    assert 'error="invalid_token"' in wrong["WWW-Authenticate"]
    problem(wrong)
    problem(get("tell-package", cast.scheme.pk, head=head))
    assert "1 pages" in problem(_page(head, 2))["detail"]
    factories.issue_sheets(cast, "02")
    problem(get("tell-issued-package", Revision.objects.first().pk, head=head))
    strict = Client(enforce_csrf_checks=True)
    posted = strict.post(reverse("tell-package", args=[cast.scheme.pk]), headers=head)
    assert (posted.status_code, posted["Allow"]) == (405, "GET, HEAD")
    problem(posted)
    basic = cast.client(cast.leader).get(
        reverse("tell-start"), headers={"Authorization": "Basic eDp5"}
    )  # a front server's own, which browsers send along
    assert told(basic, "start")["token"] is None


def _page(head: dict[str, str], number: int) -> HttpResponse:
    return Client().get(reverse("tell-packages"), {"page": f"{number}"}, headers=head)


def test_wrong_tokens_are_slowed_where_they_come_from_and_right_ones_never(cast, monkeypatch):
    monkeypatch.setattr(token_keeping, "MOST_WRONG", 3)
    head, start = by_token(cast.student), reverse("tell-start")
    wrong = {"Authorization": "Bearer x"}
    for _ in range(3):
        assert Client().get(start, headers=wrong, **HERE).status_code == 401
    slowed = Client().get(start, headers=wrong, **HERE)
    assert (slowed.status_code, slowed["Retry-After"]) == (429, "900")
    problem(slowed)
    assert Client().get(start, headers=wrong, REMOTE_ADDR="192.0.2.8").status_code == 401
    assert Client().get(start, headers=head, **HERE).status_code == 200


def test_a_long_list_is_told_page_by_page(cast, monkeypatch):
    monkeypatch.setattr("reviews.pages.script_answers.MOST_A_PAGE", 2)
    for n in range(5):
        factories.SchemeFactory(studio=cast.studio, number=f"Z{n}")
    head, found = by_token(cast.leader), []
    address = reverse("tell-packages")
    while address:
        page = told(Client().get(address, headers=head), "list")
        found += [each["scheme"] for each in page["items"]]
        address = page["next"]
    assert len(found) == page["count"] == len(set(found)) == cast.studio.schemes.count()


# What stops an answer outside of its view


def _head_and_words(answer: HttpResponse) -> tuple[int, str]:
    return answer.status_code, problem(answer)["detail"]


@pytest.mark.parametrize("at", ["/json/", "/json/1/no.json", "/json/2/", "/json/1/schemes/x/y"])
def test_an_address_that_is_not_there_says_so_in_json(cast, at):
    for ask in (cast.client(cast.leader), Client(headers=by_token(cast.student, at))):
        status, words = _head_and_words(ask.get(at))
        assert (status, words[:10]) == (404, "Nothing is")
    assert Client().get("/no.json")["Content-Type"].startswith("text/html")
    assert Client().get("/json/1")["Location"] == "/json/1/"
    assert cast.client(cast.leader).head("/json/").content == b""


def test_a_key_beyond_any_and_signs_that_are_no_letters_are_answered_in_json(cast):
    head = by_token(cast.student)
    assert problem(get("tell-package", 2**70, head=head))["status"] == 404
    start = reverse("tell-start")
    assert problem(Client().get(start, {"a": "\0"}, headers=head))["status"] == 400


def test_a_fault_of_ours_says_so_in_json_with_its_number(cast, monkeypatch):
    def stop(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("reviews.views.scripts.checks_told", stop)
    ask = Client(raise_request_exception=False, headers=by_token(cast.student))
    answer = ask.get(reverse("tell-checks", args=[cast.scheme.pk]))
    status, words = _head_and_words(answer)
    assert status == 500
    assert answer["X-Request-ID"] in words


def test_a_database_that_is_away_says_so_in_json(cast, monkeypatch):
    def away(*_: object, **__: object) -> None:
        raise InterfaceError

    head = by_token(cast.student)
    monkeypatch.setattr(access_scripts, "whole_revisions", away)
    ask = Client(raise_request_exception=False, headers=head)
    answer = ask.get(reverse("tell-revisions"))
    assert (*_head_and_words(answer)[:1], answer["Retry-After"]) == (503, "5")


def test_what_is_sent_is_refused_in_json_by_its_method_or_its_size(cast):
    start, schema = reverse("tell-start"), reverse("tell-schema")
    posted = Client(enforce_csrf_checks=True).post(schema)
    assert (posted.status_code, posted["Allow"]) == (405, "GET, HEAD")
    problem(posted)
    kind = "application/octet-stream"
    large = Client().post(start, b"", content_type=kind, CONTENT_LENGTH=str(6 * 2**20))
    assert _head_and_words(large) == (413, "Read more than any question holds. Ask by GET.")
    endless = Client().post(start, b"", kind, CONTENT_LENGTH="", HTTP_TRANSFER_ENCODING="chunked")
    assert problem(endless)["status"] == 411


def _queries(name: str, *args: object, head: dict[str, str]) -> int:
    with CaptureQueriesContext(
        connection,
    ) as queries:
        assert get(name, *args, head=head).status_code == 200
    return len(queries)


def test_queries_do_not_grow_with_what_is_told(released):
    cast, head = released, by_token(released.leader)
    asked = (
        *(("tell-packages",), ("tell-revisions",), ("tell-all-results",)),
        *(("tell-package", cast.scheme.pk), ("tell-checks", cast.scheme.pk)),
        ("tell-results", cast.crit.pk, cast.scheme.pk),
    )
    for each in asked:
        _queries(*each, head=head)
    before = [_queries(*each, head=head) for each in asked]
    sheet = cast.seat.sheets.get(scheme=cast.scheme)
    for n in range(4):
        scheme = factories.SchemeFactory(studio=cast.studio, number=f"Z{n}")
        factories.RevisionFactory(scheme=scheme, issued_by=cast.student, crit=cast.crit)
        factories.SlotFactory(crit=cast.crit, scheme=scheme)
        factories.RowFactory(
            package=cast.scheme.package, changed_by=cast.student, cells={"mark": f"R{n}"}
        )
        factories.CommentFactory(jury_sheet=sheet, words=f"Words {n}.")
    assert [_queries(*each, head=head) for each in asked] == before
