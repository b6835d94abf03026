"""A claim that stands on a sheet after the schedule it speaks of was changed is asked about."""

from datetime import timedelta

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping
from reviews.deeds.record_changes import last_change
from reviews.reading import package_checking
from reviews.reading.package_older_claims import older_claims
from tests.factories import PENS_DOWN, RowFactory

CLAIM = {"about": "Day room glass", "text": "20 %", "sheet": "02"}
ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "20", "use": "day"}
WINDOW = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1000"}
BEFORE, AFTER = PENS_DOWN - timedelta(days=1), PENS_DOWN + timedelta(days=1)


@pytest.fixture
def package(cast):
    """1.2 m² of glass to 20 m² of floor is 6 %; the sheet says 20 %. All of it at one moment."""
    package = cast.scheme.package
    for slug, cells in (("rooms", ROOM), ("windows", WINDOW), ("claims", CLAIM)):
        RowFactory(
            package=package,
            schedule=slug,
            cells=cells,
            changed_by=cast.student,
            changed_at=PENS_DOWN,
        )
    return package


def row(package, slug):
    return package.rows.get(schedule=slug)


def asked(package):
    found = older_claims(package_checking.draft(package).sheet)
    return [each.write_question() for each in found]


def test_a_claim_of_the_same_moment_or_later_is_not_asked_about(cast, package):
    assert asked(package) == []
    package_keeping.save_row(
        package, row(package, "claims").pk, {"text": "21 %"}, 1, cast.mate, at=AFTER
    )
    assert asked(package) == []


def test_an_older_claim_is_asked_about_with_both_moments(cast, package):
    package_keeping.save_row(
        package, row(package, "windows").pk, {"n": "2"}, 1, cast.mate, at=AFTER
    )
    assert asked(package) == [
        "“20 %” (Day room glass, sheet 02) stands as of Thu 3 Dec 2026, 18:00; the window schedule "
        "was changed Fri 4 Dec 2026, 18:00. Does the claim still hold?"
    ]
    (odd,) = older_claims(package_checking.draft(package).sheet)
    assert (odd.schedule, odd.row, odd.check) == ("claims", 1, "daylight_ratio")


def test_a_schedule_that_it_does_not_speak_of_asks_nothing(cast, package):
    package_keeping.add_row(package, "tanks", {"mark": "T1", "litres": "800"}, cast.mate, at=AFTER)
    assert asked(package) == []


def test_a_row_taken_away_and_one_taken_back_are_changes_too(cast, package):
    package_keeping.add_row(package, "windows", WINDOW | {"mark": "W2"}, cast.mate, at=BEFORE)
    assert asked(package) == []
    second = package.rows.get(schedule="windows", cells__mark="W2")
    package_keeping.remove_row(package, second.pk, 1, cast.mate, at=AFTER)
    assert len(asked(package)) == 1


def test_an_undone_change_counts_from_when_it_was_undone(cast, package):
    package_keeping.add_row(package, "windows", WINDOW | {"mark": "W2"}, cast.mate, at=BEFORE)
    change = last_change(package, "windows")
    package_keeping.undo(package, "windows", change.pk, cast.mate, at=AFTER)
    assert len(asked(package)) == 1


def test_a_value_put_back_asks_nothing(cast, package):
    window = row(package, "windows")
    package_keeping.save_row(package, window.pk, {"n": "2"}, 1, cast.mate, at=AFTER)
    assert len(asked(package)) == 1
    later = AFTER + timedelta(minutes=1)
    package_keeping.save_row(package, window.pk, {"n": "1"}, 2, cast.mate, at=later)
    assert asked(package) == []


def test_a_schedule_pasted_again_as_it_was_asks_nothing(cast, package):
    package_keeping.bring_in(package, "windows", [WINDOW], cast.mate, is_replacing=True, at=AFTER)
    assert asked(package) == []
    other = WINDOW | {"n": "3"}
    package_keeping.bring_in(package, "windows", [other], cast.mate, is_replacing=True, at=AFTER)
    assert len(asked(package)) == 1


def test_a_change_taken_back_asks_nothing(cast, package):
    package_keeping.add_row(package, "windows", WINDOW | {"mark": "W2"}, cast.mate, at=AFTER)
    assert len(asked(package)) == 1
    change = last_change(package, "windows")
    package_keeping.undo(package, "windows", change.pk, cast.mate, at=AFTER + timedelta(minutes=1))
    assert asked(package) == []


@pytest.mark.parametrize(("text", "asks"), [("12.2 %", 0), ("11.7 %", 1), ("12.3 %", 1)])
def test_a_claim_that_still_says_what_the_schedules_give_needs_no_question(
    cast, package, text, asks
):
    """Two windows make 12 %; two per cent of that is 0.24 %."""
    claim = row(package, "claims")
    claim.cells = CLAIM | {"text": text}
    claim.save()
    package_keeping.save_row(
        package, row(package, "windows").pk, {"n": "2"}, 1, cast.mate, at=AFTER
    )
    assert len(asked(package)) == asks


def test_a_claim_that_no_check_computes_is_left_alone(cast, package):
    claim = row(package, "claims")
    claim.cells = {"about": "Spirit", "text": "calm"}
    claim.save()
    package_keeping.save_row(
        package, row(package, "windows").pk, {"n": "2"}, 1, cast.mate, at=AFTER
    )
    assert asked(package) == []


@pytest.mark.parametrize(
    ("name", "args"),
    [
        ("show-package", []),
        ("show-checks", []),
        ("show-check", ["T01"]),
        ("show-questions", []),
        ("issue-package", []),
        ("show-schedule", ["claims"]),
    ],
)
def test_it_is_asked_wherever_the_package_is_looked_at(cast, package, name, args):
    package_keeping.save_row(
        package, row(package, "windows").pk, {"n": "2"}, 1, cast.mate, at=AFTER
    )
    address = reverse(name, args=[cast.scheme.pk, *args])
    text = cast.client(cast.student).get(address).content.decode()
    assert text.count("Does the claim still hold?") == 1


def test_the_page_of_another_check_does_not_ask(cast, package):
    package_keeping.save_row(
        package, row(package, "windows").pk, {"n": "2"}, 1, cast.mate, at=AFTER
    )
    address = reverse("show-check", args=[cast.scheme.pk, "floor_area"])
    assert "still hold" not in cast.client(cast.student).get(address).content.decode()
