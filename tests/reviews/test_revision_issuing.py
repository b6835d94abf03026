"""An issued revision: frozen, fingerprinted, with its receipt."""

import hashlib
import json
import threading
from datetime import timedelta

import pytest
from django.db import connection

from reviews.deeds import crit_planning, crit_releasing, package_keeping, revision_issuing
from reviews.models import Brief, HandInItem, Package, Revision, StoredFinding
from reviews.models.briefs import Frozen
from reviews.pages.jury_late import late_issue
from reviews.reading.crit_sheets import Issued, all_issued, judged_revisions, revision_shown
from tests.factories import (
    PENS_DOWN,
    CritFactory,
    SheetFileFactory,
    TargetLineFactory,
    prepare,
)


@pytest.fixture
def package(cast):
    return prepare(cast, ("02", "Plan", "1:50"), glass_w="1.2 m", glass_h="1000")


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
    assert (stored.uses, stored.rule) == ("day", "at least")


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
        studio=cast.studio,
        kind="interim",
        day=(PENS_DOWN - timedelta(days=40)).date(),
        pens_down=PENS_DOWN - timedelta(days=41),
    )
    at, crits = PENS_DOWN - timedelta(days=40), cast.studio.crits.all()
    assert revision_issuing.next_crit(crits, at) == sooner
    assert revision_issuing.next_crit(crits, at + timedelta(days=1)) == cast.crit
    assert revision_issuing.next_crit(crits, PENS_DOWN + timedelta(days=2)) is None


def test_what_is_issued_after_a_release_never_enters_the_crit(cast, package):
    seen = revision_issuing.issue(package, cast.student, PENS_DOWN)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read slowly.", at=PENS_DOWN)
    later = revision_issuing.issue(package, cast.student, PENS_DOWN + timedelta(minutes=5))
    assert (seen.crit, later.crit) == (cast.crit, None)
    assert revision_shown(cast.crit, cast.scheme) == seen
    assert list(judged_revisions(cast.crit)) == [seen]
    recrit = CritFactory(studio=cast.studio, kind="re-crit", day=cast.crit.day)
    assert revision_issuing.issue(package, cast.student, PENS_DOWN).crit == recrit


def test_a_leader_closes_issuing_and_opens_it_again(cast, package):
    crit_planning.close_issuing(cast.crit, cast.leader, at=PENS_DOWN)
    crit_planning.close_issuing(cast.crit, cast.coordinator)
    cast.crit.refresh_from_db()
    assert (cast.crit.issuing_closed_by, cast.crit.issuing_closed_at) == (cast.leader, PENS_DOWN)
    outside = revision_issuing.issue(package, cast.student, PENS_DOWN)
    crit_planning.open_issuing(cast.crit)
    within = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert (outside.crit, within.crit) == (None, cast.crit)


@pytest.mark.parametrize(
    "change",
    [
        lambda cast: crit_planning.close_issuing(cast.crit, cast.leader),
        lambda cast: crit_planning.open_issuing(cast.crit),
    ],
)
def test_issuing_for_a_released_crit_is_neither_closed_nor_opened(cast, change):
    cast.crit.released_at = PENS_DOWN
    cast.crit.save()
    with pytest.raises(Frozen, match="released"):
        change(cast)


def test_an_unchanged_package_is_issued_again_for_a_crit_that_has_none_of_it(cast, package):
    first = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert not revision_issuing.is_to_issue(package, first, PENS_DOWN)
    after = PENS_DOWN + timedelta(days=3)
    assert not revision_issuing.is_to_issue(package, first, after)
    CritFactory(studio=cast.studio, kind="re-crit", day=after.date())
    assert revision_issuing.is_to_issue(package, first, after)


def test_the_order_is_that_of_issue_though_the_clock_steps_back(cast, package):
    revision_issuing.issue(package, cast.student, PENS_DOWN)
    second = revision_issuing.issue(package, cast.student, PENS_DOWN - timedelta(hours=1))
    assert [r.letter for r in cast.scheme.revisions.all()] == ["A", "B"]
    assert revision_shown(cast.crit, cast.scheme) == second
    assert list(judged_revisions(cast.crit)) == [second]


def test_the_one_in_time_beside_a_late_one_is_of_the_same_crit(cast, package):
    before = revision_issuing.issue(package, cast.student, PENS_DOWN)
    late = revision_issuing.issue(package, cast.student, PENS_DOWN + timedelta(minutes=5))
    Revision.objects.create(
        scheme=cast.scheme, letter="C", issued_at=PENS_DOWN, issued_by=cast.student
    )
    slot = cast.scheme.slots.get()
    issued = all_issued(cast.crit, [cast.scheme])[cast.scheme.pk]
    assert issued.shown == late
    beside = late_issue(cast.crit, slot, issued, None)
    assert beside is not None
    assert beside.both == (before, late)
    assert late_issue(cast.crit, slot, Issued([before]), None) is None


def test_after_the_last_crit_nothing_is_late(cast, package):
    revision = revision_issuing.issue(package, cast.student, PENS_DOWN + timedelta(days=9))
    assert (revision.crit, revision.minutes_late) == (None, 0)


def test_what_the_hand_in_list_asks_for_and_is_not_there_is_told(cast, package):
    for kind, code, title in (
        ("sheet", "2", "Plan"),
        ("sheet", "03", "Sections"),
        ("statement", "statement", ""),
        ("schedule", "windows", ""),
        ("schedule", "tanks", ""),
    ):
        HandInItem.objects.create(brief=cast.studio.brief, kind=kind, code=code, title=title)
    assert revision_issuing.issue(package, cast.student, PENS_DOWN).lacks == [
        "Tank schedule: no row yet",
        "Sheet 03 Sections",
        "Statement",
    ]
    package_keeping.keep_statement(package, "A shelf.", 0)
    package_keeping.add_row(package, "tanks", {"mark": "T1"}, cast.student)
    package.refresh_from_db()
    assert revision_issuing.lacks(package) == ["Sheet 03 Sections"]


def test_each_kind_and_state_that_is_asked_for_is_to_be_shown_by_a_sheet(cast, package):
    brief = cast.studio.brief
    states = [{"state": "packed", "kind": "road"}, {"state": "Night", "kind": "night"}]
    Brief.objects.filter(pk=brief.pk).update(states=states)
    package.scheme.studio.brief.refresh_from_db()

    def undrawn() -> list[str]:
        return [line for line in revision_issuing.lacks(package) if "no sheet shows" in line]

    assert not undrawn()  # no sheet is asked for
    item = HandInItem.objects.create(brief=brief, kind="sheet", code="02", title="Plan")
    assert undrawn() == ["States that no sheet shows: packed, Night"]
    item.drawing, item.state = "plan", "packed"
    item.save()
    plan = package.sheets.filter(number="02")
    for kind, state in (("", ""), ("plan", ""), ("section", "packed"), ("", "packed")):
        plan.update(title="Plan, packed", kind=kind, state=state)  # a title alone says nothing
        assert undrawn() == ["Plan, packed: no sheet shows it"]
    plan.update(kind="plan")
    assert not undrawn()


def test_an_issue_says_what_of_a_title_block_nobody_has_confirmed(cast, package):
    package.sheets.filter(number="02").update(
        proposed={"number": "file name", "title": "hand-in list", "scale": "file name"}
    )
    said = "Sheet 02, read and not confirmed: number and scale from the file name, "
    assert said + "title from the hand-in list" in revision_issuing.lacks(package)
    revision = revision_issuing.issue(package, cast.student)
    assert any(line.startswith(said) for line in revision.lacks)


def test_what_an_earlier_version_issued_does_not_look_changed(cast, package):
    """Its contents name five things of a sheet and its picture; a further one stands where said."""
    revision = revision_issuing.issue(package, cast.student)
    keys = {"number", "title", "scale", "drawn_by", "checked_by", "sha256"}
    assert {frozenset(sheet) for sheet in revision.contents["sheets"]} == {frozenset(keys)}
    package.sheets.filter(number="02").update(kind="plan", width_mm=420.0)
    assert revision_issuing.is_changed_since(package, revision)
    later = revision_issuing.issue(package, cast.student)
    plan = next(sheet for sheet in later.contents["sheets"] if sheet["number"] == "02")
    assert {key: plan[key] for key in sorted({*plan} - keys)} == {"kind": "plan", "width_mm": 420.0}


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
