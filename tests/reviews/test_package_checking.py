"""A package against its brief: what is in force, and where each target comes from."""

import pytest
from django.utils import timezone

from criteria.findings import State
from reviews.deeds import revision_issuing
from reviews.models import Addendum, Brief
from reviews.reading import package_checking
from tests.factories import PENS_DOWN, RowFactory, TargetLineFactory


@pytest.fixture
def package(cast):
    RowFactory(package=cast.scheme.package)
    window = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1600", "glass_h": "1500"}
    RowFactory(package=cast.scheme.package, schedule="windows", cells=window)
    return cast.scheme.package


def finding(package, ref="T01"):
    return next(f for f in package_checking.draft(package).sheet.findings if f.ref == ref)


def test_a_finding_says_that_the_brief_asks(package):
    """1.6 m × 1.5 m of glass to 20 m² of floor is 12 %, which is what is asked."""
    found = finding(package)
    assert (found.state, found.asked_by) == (State.ON_THE_LINE, "the brief")


def test_an_addendum_that_changes_a_target_holds_and_is_named(cast, package):
    brief = cast.studio.brief
    addendum = Addendum.objects.create(brief=brief, number=1, text="More", issued_by=cast.leader)
    cells = brief.target_lines.get().cells | {"value": "13"}
    TargetLineFactory(brief=brief, addendum=addendum, cells=cells)
    found = finding(package)
    assert (found.state, found.asked_by) == (State.SHORT, "Addendum 1")
    assert len(package_checking.draft(package).sheet.asked) == 1


def test_an_addendum_that_changes_the_site_sheet_holds(cast):
    brief = cast.studio.brief
    Addendum.objects.create(
        brief=brief, number=1, text="One more", issued_by=cast.leader, site_changes={"people": "14"}
    )
    assert package_checking.asked_by(brief).site["people"] == "14"


def test_figures_that_only_the_targets_give_are_read_from_them(cast):
    brief = cast.studio.brief
    cells = {
        "id": "T02",
        "what": "Floor area per person (13 people)",
        "rule": "at least",
        "value": "5",
    }
    TargetLineFactory(brief=brief, cells=cells)
    brief.site = {"people": " "}
    assert package_checking.asked_by(brief).site == {"people": "13"}


def test_a_brief_in_preparation_asks_nothing_yet(cast, package):
    brief = package.scheme.studio.brief
    brief.issued_at = None
    brief.save()
    assert package_checking.asked_by(brief) == ({}, [], [], [], [], [], "point")
    assert package_checking.draft(package).sheet.asked == ()


def test_an_issued_revision_is_held_to_what_was_asked_then(cast, package):
    from reviews.deeds.revision_issuing import issue

    revision = issue(package, cast.student, timezone.now())
    cells = cast.studio.brief.target_lines.get().cells | {"value": "40"}
    addendum = Addendum.objects.create(
        brief=cast.studio.brief, number=1, text="More", issued_by=cast.leader
    )
    TargetLineFactory(brief=cast.studio.brief, addendum=addendum, cells=cells)
    assert finding(package).state is State.SHORT
    assert package_checking.issued_sheet(revision).asked[0].state is State.ON_THE_LINE


def test_the_check_sheet_follows_a_change_at_once(cast, package):
    row = package.rows.get(schedule="windows")
    row.cells["glass_w"] = "4'"
    row.save()
    assert finding(package).state is State.SHORT


def test_figures_are_read_with_the_studios_decimal_sign(cast, package):
    glass = {"mark": "W9", "room": "R1", "n": "1", "glass_w": "1,250", "glass_h": "900"}
    RowFactory(package=package, schedule="windows", cells=glass, changed_by=cast.student)
    cast.studio.brief.target_lines.update(
        cells={"id": "T01", "check": "daylight_ratio", "rule": "at least", "value": "1,200"}
    )
    assert "windows" not in package_checking.draft(package).refused
    assert finding(package).target == 12.0
    package.scheme.studio.brief.decimal = "comma"
    package.scheme.studio.brief.save()
    checked = package_checking.draft(package)
    (cell,) = checked.refused["windows"]
    assert (cell.mark, cell.expected) == ("W9", "1,25 or 1250: it could be either")
    (found,) = checked.sheet.asked
    assert found.state is State.NO_DATA
    assert "1,2 or 1200: it could be either" in str(found.missing)


def test_a_claim_of_two_readings_is_compared_where_the_sign_is_a_point_alone(cast, package):
    said = {"about": "Floor area", "text": "1,250 m²", "sheet": "02"}
    RowFactory(package=package, schedule="claims", cells=said, changed_by=cast.student)

    def claimed():
        (claim,) = package_checking.draft(package).sheet.claims
        return claim.claimed

    assert claimed() == 1250
    package.scheme.studio.brief.decimal = "comma"
    assert claimed() is None


def test_a_revision_is_read_with_the_decimal_sign_it_was_issued_under(cast, package):
    glass = {"mark": "W9", "room": "R1", "n": "1", "glass_w": "1,250", "glass_h": "900"}
    RowFactory(package=package, schedule="windows", cells=glass, changed_by=cast.student)
    first = revision_issuing.issue(package, cast.student, PENS_DOWN)
    Brief.objects.update(decimal="comma")
    later = revision_issuing.issue(package, cast.student, PENS_DOWN)
    assert (first.contents["decimal"], later.contents["decimal"]) == ("point", "comma")
    assert "windows" not in first.reading.refused
    assert later.reading.refused["windows"][0].read == "1,250"


def test_a_page_that_shows_what_is_asked_reads_the_same_of_it(package):
    whole, alone = (package_checking.draft(package, asked_alone=each) for each in (False, True))
    assert alone.sheet.findings == whole.sheet.asked
    assert alone.sheet.odd == whole.sheet.odd
    assert alone.told != whole.told
