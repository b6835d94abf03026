"""A juror's pages: the link, the order, the brief, the sheet and its levels."""

import re
from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from criteria.scoring.levels import NOT_MINE
from reviews import worked_out
from reviews.deeds import crit_jury_keeping
from reviews.models import LevelGiven
from reviews.pages import jury_pages
from tests import factories
from tests.criteria.checks.steps import FOURTEEN, STATES
from tests.reviews.jury_steps import HTMX, level_url, read, sheet_url

# the link


def test_a_link_opens_without_an_account_and_leads_to_the_order(cast, client):
    response = client.get(reverse("enter-jury", args=[cast.seat.code.upper()]), follow=True)
    assert response.redirect_chain == [(reverse("show-jury"), 302)]
    assert "R01 Lee" in response.content.decode()


def test_a_wrong_code_is_told_what_a_code_is(db, client):
    response = client.get(reverse("enter-jury", args=["nosuchcode"]))
    assert response.status_code == 404
    assert "12 letters and figures" in response.content.decode()


def test_a_link_ends_48_hours_after_the_day(cast, client):
    cast.crit.day = date.today() - timedelta(days=3)  # its last minute is more than 48 h ago
    cast.crit.save()
    address = reverse("enter-jury", args=[cast.seat.code])
    assert client.get(address).status_code == 404
    assert cast.client(cast.seat).get(reverse("show-jury")).status_code == 404
    cast.crit.day = date.today() - timedelta(days=2)
    cast.crit.save()
    assert client.get(address).status_code == 302


def test_a_renewed_code_ends_the_old_link_where_it_is_open(cast, juror):
    cast.seat.code = "anothercode22"
    cast.seat.save()
    assert juror.get(reverse("show-jury")).status_code == 404


def test_leaving_closes_the_link_on_this_device(cast, juror):
    assert juror.get(reverse("leave-jury")).status_code == 405
    juror.post(reverse("leave-jury"))
    assert juror.get(reverse("show-jury")).status_code == 404


# the order


def test_the_order_says_what_is_to_come_in_hand_and_locked(cast, juror):
    page = read(juror, reverse("show-jury"))
    assert page.count("To come") == 2
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, NOT_MINE, 0)
    assert "In hand, 1 of 2 set" in read(juror, reverse("show-jury"))
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert "Locked " in read(juror, reverse("show-jury"))


def test_a_juror_sees_the_own_room_and_what_all_see(cast):
    cast.crit.slots.filter(scheme=cast.other_scheme).update(room="B")
    cast.seat.room = "A"
    cast.seat.save()
    client = cast.client(cast.seat)
    page = read(client, reverse("show-jury"))
    assert "R01 Lee" in page
    assert "R02 Keel" not in page
    other = reverse("show-jury-sheet", args=[cast.other_scheme.pk])
    assert client.get(other).status_code == 404


@pytest.mark.parametrize("name", ["show-jury", "show-jury-sheet"])
def test_queries_do_not_grow_with_the_schemes(cast, name):
    def queries():
        worked_out.forget()
        client = cast.client(cast.seat)
        args = [cast.scheme.pk] if name == "show-jury-sheet" else []
        with CaptureQueriesContext(connection) as caught:
            read(client, reverse(name, args=args))
        return len(caught)

    def fill(schemes):
        for n in range(schemes):
            scheme = factories.SchemeFactory(studio=cast.studio)
            factories.SlotFactory(crit=cast.crit, scheme=scheme, position=n + 3)
            sheet = factories.JurySheetFactory(seat=cast.seat, scheme=scheme)
            factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion)

    fill(8)
    at_10 = queries()
    fill(90)
    assert queries() == at_10


# the brief


def test_the_brief_has_targets_year_level_and_descriptors_on_one_page(cast, juror):
    cast.studio.year_line = "Third year, seven weeks"
    cast.studio.save()
    cast.criterion.level_4 = "Glare and drift handled"
    cast.criterion.save()
    page = read(juror, reverse("show-jury-brief"))
    said = ("Third year, seven weeks", "Day room daylight ratio", "Glare and drift handled")
    for words in said:
        assert words in page


def test_a_brief_in_preparation_is_not_shown(cast, juror):
    cast.studio.brief.issued_at = None
    cast.studio.brief.save()
    page = read(juror, reverse("show-jury-brief"))
    assert cast.studio.brief.text not in page
    assert "not issued yet" in page


# the sheet


def test_the_lamp_is_off_until_the_juror_switches_it_on(cast, juror):
    assert 'data-lamp="off"' in read(juror, sheet_url(cast))
    juror.cookies["lamp"] = "on"
    assert 'data-lamp="on"' in read(juror, sheet_url(cast))


def test_the_impression_comes_before_the_criteria_and_every_level_can_be_tapped(cast, juror):
    page = read(juror, sheet_url(cast))
    assert page.index("Overall impression") < page.index("F1 Light") < page.index("F2 Making")
    sent = re.findall(r'name="level" value="([^"]+)"', page)
    assert sent == [*"12345", *([*"12345", "not-mine"] * 2)]
    assert "onclick" not in page
    assert "style=" not in page


def test_facts_stand_under_the_criterion_that_names_them_and_set_nothing(cast, juror):
    factories.RevisionFactory(
        scheme=cast.scheme, crit=cast.crit,
        contents={
            "statement": "", "site": dict(cast.studio.brief.site), "sheets": [],
            "targets": cast.studio.brief.target_records(),
            "schedules": {
                "rooms": [{"mark": "R1", "room": "Day room", "floor_m2": "20", "use": "day"}],
                "windows": [
                    {"mark": "W1", "room": "R1", "count": "1", "frame_w": "1200",
                     "frame_h": "1200", "glass_w": "1000", "glass_h": "1000"},
                ],
            },
        },
    )  # fmt: skip
    page = read(juror, sheet_url(cast))
    light = page[page.index("F1 Light") : page.index("F2 Making")]
    making = page[page.index("F2 Making") : page.index("comments-title")]
    assert "1 check fact" in light
    assert "Day room daylight ratio" in light
    assert "check fact" not in making
    assert 'aria-pressed="true"' not in page
    assert not LevelGiven.objects.exists()


def test_what_decided_a_fact_is_drawn_where_a_juror_asks_for_it(cast, juror):
    asked = {"id": "T91", "check": "setup_time", "rule": "at most", "value": "2 h"}
    contents = {
        "statement": "",
        "site": {},
        "sheets": [],
        "states": STATES,
        "targets": [asked],
        "schedules": {"steps": FOURTEEN, "site": [{"crew": "4"}]},
    }
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, contents=contents)
    cast.criterion.evidence = "T91"
    cast.criterion.save()
    address = reverse("show-issued-check", args=[revision.pk, "T91"])
    assert f'hx-get="{address}"' in read(juror, sheet_url(cast))
    assert 'class="drawn-figure"' in read(juror, address)


def test_at_most_five_questions_are_shown_worst_first():
    class Finding:
        def __init__(self, ref, margin, question="Why?"):
            self.ref, self.relative_margin, self.question = ref, margin, question

    class Sheet:
        asked = [Finding(f"T{n}", -n / 10) for n in range(7)] + [Finding("T9", -9, "")]

    chosen = jury_pages.likely_questions(Sheet())
    assert [finding.ref for finding in chosen] == ["T6", "T5", "T4", "T3", "T2"]


def test_a_tap_without_javascript_keeps_the_level_and_returns_to_its_line(cast, juror):
    response = juror.post(level_url(cast), {"level": "4", "seen": "0"})
    assert response.status_code == 302
    assert response["Location"] == f"{sheet_url(cast)}#level-{cast.criterion.pk}"
    page = read(juror, sheet_url(cast))
    assert re.search(r"Kept \d\d:\d\d:\d\d", page)
    assert page.count('aria-pressed="true"') == 1


def test_a_tap_from_a_device_is_answered_with_its_line_alone(cast, juror):
    response = juror.post(level_url(cast), {"level": "not-mine", "seen": "0"}, headers=HTMX)
    page = response.content.decode()
    assert response.status_code == 200
    assert f'id="level-{cast.criterion.pk}" data-seen="1"' in page
    assert "<html" not in page
    assert LevelGiven.objects.get().is_not_mine


@pytest.mark.parametrize("headers", [{}, HTMX])
def test_a_stale_tap_is_refused_with_both_shown(cast, juror, headers):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 0)
    response = juror.post(level_url(cast), {"level": "2", "seen": "0"}, headers=headers)
    page = response.content.decode()
    assert response.status_code == 409
    assert "4 Resolved" in page
    assert "2 Roughed out" in page
    assert 'name="seen" value="1"' in page
    assert LevelGiven.objects.get().level == 4


@pytest.mark.parametrize(
    ("name", "level"), [("level", "6"), ("level", "3.5"), ("impression", "not-mine")]
)
def test_a_level_off_the_scale_is_refused_and_named(cast, juror, name, level):
    url = level_url(cast)
    if name == "impression":
        url = reverse("keep-impression", args=[cast.scheme.pk])
    page = juror.post(url, {"level": level, "seen": "0"}).content.decode()
    assert f"Read “{level}”. Expected" in page
    assert not LevelGiven.objects.exists()


def test_a_level_for_a_criterion_of_another_crit_is_not_there(cast, juror):
    other = factories.CriterionFactory(crit=cast.other_crit)
    url = reverse("keep-level", args=[cast.scheme.pk, other.pk])
    assert juror.post(url, {"level": "3", "seen": "0"}).status_code == 404
