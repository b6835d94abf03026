"""The check sheet on its page, one check whole, and the rehearsal card."""

import pytest
from django.urls import reverse

from reviews.deeds import package_keeping
from tests.factories import RowFactory, TargetLineFactory


@pytest.fixture
def package(cast):
    """A day room of 20 m² with 1.2 m² of glass: 6 % where 12 % is asked."""
    package = cast.scheme.package
    RowFactory(package=package, changed_by=cast.student)
    window = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1000"}
    RowFactory(package=package, schedule="windows", cells=window, changed_by=cast.student)
    return package


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


def text_of(client, name, *args):
    return client.get(reverse(name, args=args)).content.decode()


def test_a_check_stands_with_state_value_target_margin_and_room(cast, package, client):
    text = text_of(client, "show-checks", cast.scheme.pk)
    for words in ("Short", "6.0 %", "at least 12.0 %", "short by 6.0 points", "Day room (R1)"):
        assert words in text
    assert "teaching checks, not a code approval" in text
    assert "<svg" in text


def test_the_sheet_follows_a_change_at_once(cast, package, client):
    row = package.rows.get(schedule="windows")
    package_keeping.save_row(package, row.pk, {"n": "2"}, 1, cast.student)
    text = text_of(client, "show-checks", cast.scheme.pk)
    assert "12.0 %" in text
    assert "On the line 1" in text


def test_one_check_shows_working_source_limits_question_and_every_room(cast, package, client):
    RowFactory(
        package=package,
        changed_by=cast.student,
        cells={"mark": "R2", "room": "Snug", "floor_m2": "10", "use": "day"},
    )
    text = text_of(client, "show-check", cast.scheme.pk, "T01")
    assert "W1: 1 × 1\u202f200 mm × 1\u202f000 mm = 1.20 m²" in text
    assert "1.20 m² ÷ 20.0 m² = 6.0 %" in text
    assert "International Residential Code 2021, R303.1" in text
    assert "Clear glass only, whole floor." in text
    assert "Where does the light come from on a grey afternoon?" in text
    assert "asked by the brief" in text
    assert text.index("Snug</td>") < text.index("Day room</td>")  # 0 % decides, so it stands first


def test_a_check_that_nothing_asks_for_has_its_page_too(cast, package, client):
    text = text_of(client, "show-check", cast.scheme.pk, "floor_area")
    assert "Not asked" in text
    assert "20.0 m²" in text


def test_a_hazardous_subject_carries_its_caution(cast, package, client):
    text = text_of(client, "show-check", cast.scheme.pk, "ways_out")
    assert 'class="caution"' in text


@pytest.mark.parametrize("key", ["T99", "nothing"])
def test_there_is_no_other_check(cast, package, client, key):
    answer = client.get(reverse("show-check", args=[cast.scheme.pk, key]))
    assert answer.status_code == 404


def test_a_check_that_two_targets_ask_for_has_a_page_for_each(cast, package, client):
    cells = {"id": "T02", "what": "Kitchen daylight ratio", "check": "daylight_ratio",
             "rooms": "kitchen", "rule": "at least", "value": "8", "unit": "%"}  # fmt: skip
    TargetLineFactory(brief=cast.studio.brief, cells=cells)
    text = text_of(client, "show-check", cast.scheme.pk, "T02")
    assert "T02 Kitchen daylight ratio" in text


def test_the_rehearsal_card_asks_what_a_juror_may_ask(cast, package, client):
    text = text_of(client, "show-questions", cast.scheme.pk)
    assert "Day room has 6.0 % of its floor in clear glass, against 12.0 %." in text
    assert "6.0 %, at least 12.0 %" in text


def test_a_coordinator_reads_checks_but_no_questions(cast, package):
    client = cast.client(cast.coordinator)
    assert client.get(reverse("show-checks", args=[cast.scheme.pk])).status_code == 200
    assert client.get(reverse("show-questions", args=[cast.scheme.pk])).status_code == 403
    text = text_of(client, "show-checks", cast.scheme.pk)
    assert "Likely questions" not in text.replace("Likely question</dt>", "")


def test_a_claim_about_one_room_stands_by_the_target_of_that_room_alone(cast, package, client):
    kitchen = {"mark": "R2", "room": "Kitchen", "floor_m2": "10", "use": "kitchen"}
    RowFactory(package=package, changed_by=cast.student, cells=kitchen)
    claim = {"about": "Kitchen glass", "text": "10.6 % of floor"}
    RowFactory(package=package, schedule="claims", cells=claim, changed_by=cast.student)
    asked = {"id": "T02", "what": "Kitchen daylight ratio", "check": "daylight_ratio",
             "rooms": "kitchen", "rule": "at least", "value": "8", "unit": "%"}  # fmt: skip
    TargetLineFactory(brief=cast.studio.brief, cells=asked)
    assert "10.6 % of floor" in text_of(client, "show-check", cast.scheme.pk, "T02")
    assert "10.6 % of floor" not in text_of(client, "show-check", cast.scheme.pk, "T01")


@pytest.fixture
def claim(cast, package):
    def kept(**cells):
        cells = {"about": "Day room glass", "text": "20 %", **cells}
        return RowFactory(package=package, schedule="claims", cells=cells, changed_by=cast.student)

    return kept


def test_a_claim_shows_what_it_is_held_as_and_against(cast, claim, client):
    """1.2 m² of glass to a floor of 20 m² is 6 %; the sheet says 20 %."""
    claim()
    text = " ".join(text_of(client, "show-checks", cast.scheme.pk).split())
    assert "<td>Daylight ratio, Day room, 20.0 % <span" in text
    assert "<td>6.0 %</td>" in text
    assert "by 3.3 times" in text


def test_a_check_proposed_from_words_is_to_be_confirmed(cast, claim, client):
    row = claim()
    assert "proposed from its words" in text_of(client, "show-checks", cast.scheme.pk)
    row.cells |= {"check": "daylight_ratio"}
    row.save()
    text = text_of(client, "show-checks", cast.scheme.pk)
    assert "Daylight ratio, Day room, 20.0 %" in text
    assert "proposed from its words" not in text


def test_a_claim_whose_words_name_no_check_asks_which(cast, claim, client):
    claim(about="Spirit", text="calm")
    text = text_of(client, "show-checks", cast.scheme.pk)
    assert "Which check?" in text
    address = reverse("show-schedule", args=[cast.scheme.pk, "claims"])
    assert f'href="{address}">Choose<' in text


def test_a_claims_check_is_chosen_from_the_catalogue_in_its_form(cast, claim, client):
    claim()
    text = text_of(client, "show-schedule", cast.scheme.pk, "claims")
    assert '<option value="battery_days">battery days</option>' in text
