"""Issued revisions on their pages: receipt, sheets, schedules, checks, and what changed."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.urls import reverse

import criteria
from criteria.check_sheet.sheet import CheckSheet, check_sheet
from reviews import worked_out
from reviews.deeds import crit_releasing, package_keeping
from reviews.deeds.revision_issuing import issue
from reviews.deeds.sheet_keeping import save_sheet
from reviews.models import Brief, HandInItem, Person
from reviews.models.briefs import Frozen
from reviews.reading import package_checking
from reviews.reading.title_block import TitleBlock
from tests.factories import (
    PENS_DOWN,
    MembershipFactory,
    SheetFileFactory,
    TargetLineFactory,
    prepare,
)

STORM = {"state": "storm", "kind": "night"}


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def package(cast):
    sheets = (("01", "Site"), ("02", "Plan"), ("03", "Sections"))
    package = prepare(cast, *sheets, glass_w="1200", glass_h="1 m")
    HandInItem.objects.create(brief=cast.studio.brief, kind="schedule", code="tanks")
    return package


@pytest.fixture
def revision(cast, package):
    return issue(package, cast.student, PENS_DOWN + timedelta(minutes=41))


def text_of(client, name, *args):
    answer = client.get(reverse(name, args=args))
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_receipt_says_when_what_how_late_and_what_lacks(cast, revision):
    text = text_of(cast.client(cast.student), "show-revision", revision.pk)
    assert "Thu 3 Dec 2026, 18:41:00, by Stef Student" in text
    assert "Late issue, by 41 min." in text
    assert "Tank schedule: no row yet" in text
    assert revision.fingerprint in text
    assert "02 Plan" in text


def test_a_classmate_sees_sheets_and_not_what_is_lacking(cast, revision):
    text = text_of(cast.client(cast.classmate), "show-revision", revision.pk)
    assert "02 Plan" in text
    assert "Tank schedule" not in text
    assert "Check sheet at issue" not in text


def test_a_juror_reads_it_with_the_lamp_off(cast, revision):
    text = text_of(cast.client(cast.seat), "show-revision", revision.pk)
    assert 'data-lamp="off"' in text
    assert "Check sheet at issue" in text


def test_schedules_stand_as_typed_whatever_is_changed_later(cast, package, revision):
    row = package.rows.get(schedule="windows")
    package_keeping.save_row(package, row.pk, {"glass_h": "2 m"}, 1, cast.student)
    text = text_of(cast.client(cast.student), "show-issued-schedule", revision.pk, "windows")
    assert "1 m" in text
    assert "1\u202f000 mm" in text
    assert "2 m<" not in text


def test_the_site_sheet_in_force_is_there(cast, revision):
    text = text_of(cast.client(cast.student), "show-issued-schedule", revision.pk, "site")
    assert "People in the brief" in text
    assert "<dd>13</dd>" in text


def test_the_check_sheet_is_that_of_the_issue(cast, package, revision):
    row = package.rows.get(schedule="windows")
    package_keeping.save_row(package, row.pk, {"n": "2"}, 1, cast.student)
    client = cast.client(cast.student)
    assert "6.0 %" in text_of(client, "show-issued-checks", revision.pk)
    assert "6.0 %" in text_of(client, "show-issued-check", revision.pk, "T01")


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("show-issued-check", ["T99"]),
        ("show-issued-schedule", ["nothing"]),
        ("show-issued-sheet", ["09"]),
        ("issued-sheet-image", ["02", "huge"]),
    ],
)
def test_what_was_not_issued_is_not_there(cast, revision, name, more):
    client = cast.client(cast.student)
    assert client.get(reverse(name, args=[revision.pk, *more])).status_code == 404


def test_a_sheet_stands_large_in_its_zones_between_its_neighbours(cast, revision):
    text = text_of(cast.client(cast.student), "show-issued-sheet", revision.pk, "02")
    assert reverse("issued-sheet-image", args=[revision.pk, "02", "full"]) in text
    assert 'class="zones zones-left"' in text
    assert 'rel="prev"' in text
    assert ">Sheet 01<" in text
    assert ">Sheet 03<" in text


def test_the_revision_table_says_what_moved(cast, package, revision):
    row = package.rows.get(schedule="windows")
    package_keeping.save_row(package, row.pk, {"n": "2", "sill": "901"}, 1, cast.student)
    sauna = {
        "mark": "R9",
        "room": "Sauna",
        "floor_m2": "4",
        "clear_height_m": "2.1",
        "use": "other",
    }
    package_keeping.add_row(package, "rooms", sauna, cast.mate)
    package_keeping.keep_statement(package, "A warm shelf.", 0)
    plan = package.sheets.get(number="02")
    save_sheet(package, plan.pk, TitleBlock("02", "Plan"), 1, cast.mate, file=SheetFileFactory())
    second = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", second.pk)
    assert "what changed since revision A" in text
    assert 'No. <s class="before">1</s> → 2' in text
    assert "<strong>R9</strong> <span>added</span>" in text
    assert "02 Plan</a>: another picture; being compared" in text
    assert '<s class="before">6.0 %</s> → <span class="figure">12.0 %</span>' in text
    assert "A warm shelf." in text
    Person.objects.update(units="us")
    drawn = text_of(cast.client(cast.student), "show-revision", second.pk)
    assert "→ 2'-11 1/2\"" in drawn.replace("&#x27;", "'").replace("&quot;", '"')
    assert "901" not in drawn


def test_a_row_by_state_alone_stands_in_the_revision_table_with_its_state(cast, package, revision):
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=[STORM])
    night = {"mark": "W1", "state": "storm", "covered_by": "Shutter"}
    package_keeping.add_row(package, "openings_by_state", night, cast.student)
    second = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", second.pk)
    assert "Openings by state</a>" in text
    assert "<strong>W1 storm</strong> <span>added</span>" in text
    row = package.rows.get(schedule="openings_by_state")
    package_keeping.save_row(package, row.pk, {"covered_by": "Flap"}, 1, cast.student)
    third = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", third.pk)
    assert "<strong>W1 storm</strong>" in text
    assert '<s class="before">Shutter</s> → Flap' in text


def test_states_and_cases_that_the_brief_changed_stand_in_the_revision_table(
    cast, package, revision
):
    case = {"case": "weekend", "people": "5"}
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=[STORM], cases=[case])
    second = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", second.pk)
    assert "<strong>storm</strong> <span>added</span>" in text
    assert "<strong>weekend</strong> <span>added</span>" in text
    assert "Nothing changed." not in text
    for slug in ("states", "cases"):
        text_of(cast.client(cast.student), "show-issued-schedule", second.pk, slug)


def test_a_target_alone_that_changed_is_a_change(cast, package, revision):
    bare = {"id": "T31", "what": "The idea", "value": "", "check": ""}
    TargetLineFactory(brief=cast.studio.brief, cells=bare)
    second = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", second.pk)
    assert "T31 The idea" in text
    assert "Nothing changed." not in text


def test_a_check_that_another_state_decides_says_from_which_to_which(cast, package, revision):
    calm = {"state": "calm", "kind": "night"}
    Brief.objects.filter(pk=cast.studio.brief.pk).update(states=[STORM, calm])
    line = {"id": "T30", "what": "Sleepers", "check": "night_air", "rule": "at least", "value": "4"}
    TargetLineFactory(brief=cast.studio.brief, cells=line)
    bunks = {"mark": "R8", "room": "Bunks", "use": "sleep", "sleepers": "2", "floor_m2": "8"}
    package_keeping.add_row(package, "rooms", bunks, cast.student)
    vent = {"mark": "V1", "room": "R8", "n": "1", "l_s_each": "10"}
    package_keeping.add_row(package, "vents", vent, cast.student)
    issue(package, cast.mate, PENS_DOWN)
    storm = {"room": "R8", "state": "storm", "sleepers": "4"}
    package_keeping.add_row(package, "rooms_by_state", storm, cast.student)
    third = issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", third.pk)
    assert '<span class="quiet">states storm, calm → state storm</span>' in text


def test_an_older_revision_says_that_it_is_superseded(cast, package, revision):
    package_keeping.keep_statement(package, "A warm shelf.", 0)
    issue(package, cast.mate, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", revision.pk)
    assert "This revision is superseded." in text


def test_a_picture_of_a_closed_wall_is_not_sent_to_a_classmate(cast, revision):
    cast.studio.is_wall_open = False
    cast.studio.save()
    address = reverse("issued-sheet-image", args=[revision.pk, "02", "full"])
    assert cast.client(cast.classmate).get(address).status_code == 404
    assert cast.client(cast.seat).get(address).getvalue().startswith(b"\xff\xd8")


def test_an_examiner_reads_what_was_issued_for_a_released_crit_and_nothing_later(
    cast, package, revision
):
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    later = issue(package, cast.student, PENS_DOWN)
    client = cast.client(cast.examiner)
    assert client.get(reverse("show-revision", args=[revision.pk])).status_code == 200
    assert client.get(reverse("show-revision", args=[later.pk])).status_code == 404


def test_an_examiner_who_draws_in_the_studio_reads_a_classmate_s_sheets_alone(cast, revision):
    MembershipFactory(studio=cast.studio, person=cast.examiner, role="student")
    client, checks = cast.client(cast.examiner), reverse("show-issued-checks", args=[revision.pk])
    assert client.get(reverse("show-revision", args=[revision.pk])).status_code == 200
    assert client.get(checks).status_code == 403
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    assert client.get(checks).status_code == 200


# what a later library says


@pytest.fixture
def later_library(monkeypatch):
    """A library that finds a tenth more glass."""

    def other(*read):
        sheet = check_sheet(*read)
        return replace(sheet, findings=tuple(_more(f) for f in sheet.findings))

    def _more(finding):
        if finding.check != "daylight_ratio":
            return finding
        return replace(finding, parts=tuple(replace(p, value=p.value * 1.1) for p in finding.parts))

    def bring() -> None:
        monkeypatch.setattr(criteria, "__version__", "9.9.9")
        monkeypatch.setattr(package_checking, "check_sheet", other)
        worked_out.forget()  # a later library is another process

    return bring


@pytest.mark.parametrize(
    ("name", "more"), [("show-issued-checks", ()), ("show-issued-check", ("T01",))]
)
def test_what_was_issued_stands_and_the_later_library_is_named(
    cast, revision, later_library, name, more
):
    client = cast.client(cast.student)
    assert "oday's library" not in text_of(client, name, revision.pk, *more)
    later_library()
    text = text_of(client, name, revision.pk, *more)
    assert "6.0 %" in text
    assert "6.6 %, short" in text
    assert "oday's library" in text
    assert f"by library {revision.check_sheet.library}" in text
    assert "9.9.9" not in text


def test_a_juror_reads_the_figures_that_were_issued(cast, revision, later_library):
    later_library()
    text = text_of(cast.client(cast.seat), "show-jury-sheet", cast.scheme.pk)
    assert "6.0 %" in text
    assert "6.6 %" not in text


def test_the_revision_table_compares_what_was_issued_and_names_both_libraries(
    cast, package, revision, later_library
):
    later_library()
    after = issue(package, cast.student, PENS_DOWN)
    text = text_of(cast.client(cast.student), "show-revision", after.pk)
    assert "was computed by library" in text
    assert "9.9.9" in text
    assert "6.0 %</s> → " in text


def test_a_check_that_the_library_no_longer_has_is_still_read(cast, revision, monkeypatch):
    monkeypatch.setattr(package_checking, "check_sheet", lambda *read: CheckSheet((), ()))
    worked_out.forget()
    text = text_of(cast.client(cast.student), "show-issued-check", revision.pk, "T01")
    assert "6.0 %" in text
    assert "no such check" in text
    assert "m² ÷ " in text  # its working


def test_an_issued_check_sheet_does_not_change(revision):
    with pytest.raises(Frozen, match="does not change"):
        revision.check_sheet.save()
