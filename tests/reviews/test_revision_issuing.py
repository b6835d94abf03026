"""An issued revision: frozen, fingerprinted, with its receipt."""

import hashlib
import json
import threading
from datetime import timedelta

import pytest
from django.db import connection

from reviews.deeds import package_keeping, revision_issuing
from reviews.deeds.sheet_keeping import hang_sheet
from reviews.models import HandInItem, Package, Revision, StoredFinding
from reviews.models.briefs import Frozen
from reviews.reading.sheet_names import TitleBlock
from tests.factories import PENS_DOWN, CritFactory, RowFactory, SheetFileFactory, TargetLineFactory


@pytest.fixture
def package(cast):
    cast.crit.day = (PENS_DOWN + timedelta(days=1)).date()
    cast.crit.save()
    package = cast.scheme.package
    RowFactory(package=package, changed_by=cast.student)
    window = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1.2 m", "glass_h": "1000"}
    RowFactory(package=package, schedule="windows", cells=window, changed_by=cast.student)
    hang_sheet(package, SheetFileFactory(), TitleBlock("02", "Plan", "1:50"), cast.student)
    return package


def test_a_revision_holds_everything_as_typed(cast, package):
    package_keeping.keep_statement(package, "A shelf in the calm.", 0)
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    contents = revision.contents
    assert revision.letter == "A"
    assert contents["statement"] == "A shelf in the calm."
    assert contents["schedules"]["windows"][0]["glass_w"] == "1.2 m"
    assert contents["site"]["people"] == "13"
    assert contents["targets"][0]["asked_by"] == "the brief"
    assert contents["sheets"][0]["number"] == "02"
    assert revision.sheets.get().file == package.sheets.get().file


def test_the_fingerprint_can_be_made_again_from_the_contents(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    text = json.dumps(revision.contents, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert revision.fingerprint == hashlib.sha256(text.encode()).hexdigest()


def test_another_picture_is_another_fingerprint(cast, package):
    first = revision_issuing.issue(package, cast.student, PENS_DOWN)
    package.sheets.update(file=SheetFileFactory())
    second = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert first.fingerprint != second.fingerprint


def test_editing_on_starts_the_next_letter_and_leaves_the_issued_one(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert not revision_issuing.is_changed_since(package, revision)
    row = package.rows.get(schedule="rooms")
    package_keeping.save_row(package, row.pk, {"floor_m2": "21"}, 1, cast.mate)
    assert revision_issuing.is_changed_since(package, revision)
    assert Package.objects.get(pk=package.pk).letter == "B"
    revision.refresh_from_db()
    assert revision.contents["schedules"]["rooms"][0]["floor_m2"] == "20"


def test_an_issued_revision_does_not_change(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN)
    with pytest.raises(Frozen, match="does not change"):
        revision.save()


def test_two_who_issue_at_once_make_one_revision(cast, package):
    first = revision_issuing.issue(package, cast.student, PENS_DOWN, letter="A")
    assert revision_issuing.issue(package, cast.mate, PENS_DOWN, letter="A") == first
    assert Revision.objects.count() == 1


def test_findings_are_stored_with_the_ratio_to_the_target(cast, package):
    """1.2 m² of glass to 20 m² is 6 %, half of the 12 % asked for."""
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    stored = StoredFinding.objects.get()
    assert (stored.ref, stored.check_slug, stored.state) == ("T01", "daylight_ratio", "short")
    assert (stored.value, stored.target, stored.ratio) == pytest.approx((0.06, 0.12, 0.5))


def test_an_at_most_target_has_its_ratio_the_other_way(cast, package):
    cells = {"id": "T02", "what": "Floor area indoors", "check": "floor_area", "rule": "at most",
             "value": "16", "unit": "m²"}  # fmt: skip
    TargetLineFactory(brief=cast.studio.brief, cells=cells)
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert StoredFinding.objects.get(ref="T02").ratio == pytest.approx(16 / 20)


def test_what_cannot_be_computed_is_stored_without_figures(cast, package):
    package.rows.filter(schedule="windows").delete()
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    stored = StoredFinding.objects.get()
    assert (stored.state, stored.value, stored.ratio) == ("no_data", None, None)


@pytest.mark.parametrize(
    ("after_s", "late"), [(-60, 0), (0, 0), (1, 1), (60, 1), (61, 2), (41 * 60, 41)]
)
def test_late_is_counted_in_minutes_begun_after_pens_down(cast, package, after_s, late):
    at = PENS_DOWN + timedelta(seconds=after_s)
    revision = revision_issuing.issue(package, cast.student, at)
    assert (revision.crit, revision.minutes_late) == (cast.crit, late)


def test_a_package_is_issued_for_the_first_crit_that_is_not_over(cast, package):
    sooner = CritFactory(
        studio=cast.studio, kind="interim", day=(PENS_DOWN - timedelta(days=40)).date(),
        pens_down=PENS_DOWN - timedelta(days=41),
    )  # fmt: skip
    at = PENS_DOWN - timedelta(days=40)
    assert revision_issuing.next_crit(cast.studio, at) == sooner
    assert revision_issuing.next_crit(cast.studio, at + timedelta(days=1)) == cast.crit
    assert revision_issuing.next_crit(cast.studio, PENS_DOWN + timedelta(days=2)) is None


def test_after_the_last_crit_nothing_is_late(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN + timedelta(days=9))
    assert (revision.crit, revision.minutes_late) == (None, 0)


def test_what_the_hand_in_list_asks_for_and_is_not_there_is_told(cast, package):
    for kind, code, title in (
        ("sheet", "2", "Plan"), ("sheet", "03", "Sections"), ("statement", "statement", ""),
        ("schedule", "windows", ""), ("schedule", "tanks", ""),
    ):  # fmt: skip
        HandInItem.objects.create(brief=cast.studio.brief, kind=kind, code=code, title=title)
    assert revision_issuing.issue(package, cast.student, PENS_DOWN).lacks == [
        "Tank schedule: no row yet", "Sheet 03 Sections", "Statement",
    ]  # fmt: skip
    package_keeping.keep_statement(package, "A shelf.", 0)
    package_keeping.add_row(package, "tanks", {"mark": "T1"}, cast.student)
    package.refresh_from_db()
    assert revision_issuing.lacks(package) == ["Sheet 03 Sections"]


@pytest.mark.django_db(transaction=True)
def test_two_requests_at_the_same_moment_make_one_revision(cast):
    """Two threads, each with its own connection, pass one gate together."""
    gate, made = threading.Barrier(2), []

    def press(person) -> None:
        try:
            gate.wait(timeout=10)
            made.append(
                revision_issuing.issue(cast.scheme.package, person, PENS_DOWN, letter="A").pk
            )
        finally:
            connection.close()

    people = (cast.student, cast.mate)
    threads = [threading.Thread(target=press, args=(person,)) for person in people]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert made == [Revision.objects.get().pk] * 2
