"""A package on its page: what it holds and lacks, its statement, its issue."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import package_keeping
from reviews.deeds.revision_issuing import issue
from reviews.models import HandInItem, Revision
from tests.factories import RowFactory, SheetFactory

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def at(name, cast):
    return reverse(name, args=[cast.scheme.pk])


def page(client, cast):
    return client.get(at("show-package", cast)).content.decode()


class TestShow:
    def test_a_new_package_is_in_preparation_for_revision_a(self, cast, client):
        text = page(client, cast)
        assert "<span>In preparation</span><span>Rev A</span>" in text
        assert "Issue revision A for crit" in text

    def test_it_says_what_the_hand_in_list_still_lacks(self, cast, client):
        brief = cast.studio.brief
        HandInItem.objects.create(brief=brief, kind="sheet", code="02", title="Plan")
        HandInItem.objects.create(brief=brief, kind="schedule", code="rooms")
        text = page(client, cast)
        assert "<li>Sheet 02 Plan</li>" in text
        assert "<li>Room schedule: no row yet</li>" in text

    def test_schedules_show_rows_unread_cells_and_who_changed_them(self, cast, package, client):
        package_keeping.add_row(package, "tanks", {"mark": "T1", "holds": "beer"}, cast.mate)
        text = page(client, cast)
        assert "Tank schedule" in text
        assert '<strong class="refusal">1</strong>' in text
        assert "Mira Mate, " in text

    def test_the_check_sheet_is_summed_up_worst_first(self, cast, package, client):
        RowFactory(package=package, changed_by=cast.student)
        text = page(client, cast)
        assert "No data 1" in text
        assert "T01 Day room daylight ratio" in text

    def test_a_leader_reads_and_is_offered_nothing_to_change(self, cast):
        text = page(cast.client(cast.leader), cast)
        assert "Issue revision" not in text
        assert "data-keep" not in text

    def test_queries_do_not_grow_with_rows_and_sheets(self, cast, package, client):
        counts = []
        for size in (10, 90):
            for n in range(size):
                cells = {"mark": f"R{size}{n}"}
                RowFactory(package=package, cells=cells, changed_by=cast.student)
                number = f"{size}{n}"
                SheetFactory(package=package, number=number, changed_by=cast.student)
            with CaptureQueriesContext(connection) as queries:
                page(client, cast)
            counts.append(len(queries))
        assert counts[0] == counts[1]


class TestStatement:
    def test_it_is_kept_and_its_words_are_counted(self, cast, package, client):
        answer = client.post(
            at("save-statement", cast), {"statement": "A shelf in the calm.", "version": 0}, **HTMX
        )
        assert "5 words. The brief asks for 60 at most" in answer.content.decode()
        package.refresh_from_db()
        assert package.statement == "A shelf in the calm."

    def test_one_that_is_too_long_is_kept_and_said_to_be(self, cast, client):
        sent = {"statement": "word " * 63, "version": 0}
        text = client.post(at("save-statement", cast), sent, **HTMX).content.decode()
        assert "<strong>3 over</strong>" in text

    def test_without_a_script_it_leads_back_to_the_page(self, cast, client):
        answer = client.post(at("save-statement", cast), {"statement": "A.", "version": 0})
        assert answer.url == at("show-package", cast)

    @pytest.mark.parametrize("headers", [HTMX, {}])
    def test_one_over_a_newer_is_refused_with_both_shown(self, cast, package, client, headers):
        package_keeping.keep_statement(package, "A fire.", 0)
        sent = {"statement": "A shelf.", "version": 0}
        answer = client.post(at("save-statement", cast), sent, **headers)
        text = answer.content.decode()
        assert answer.status_code == 409
        assert "A shelf.</textarea>" in text
        assert "A fire.</p>" in text
        assert 'name="version" value="1"' in text

    def test_a_text_without_end_is_refused_and_stays_in_the_box(self, cast, package, client):
        sent = {"statement": "x" * 5001, "version": 0}
        text = client.post(at("save-statement", cast), sent).content.decode()
        assert "Read 5001 characters. Expected 5000 at most." in text
        assert "x" * 5001 in text
        package.refresh_from_db()
        assert package.statement == ""


class TestIssue:
    def test_the_page_says_what_is_lacking_odd_and_late_first(self, cast, package, client):
        HandInItem.objects.create(brief=cast.studio.brief, kind="sheet", code="02", title="Plan")
        cast.crit.pens_down = timezone.now() - timedelta(minutes=30)
        cast.crit.save()
        tank = {"mark": "T1", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}
        package_keeping.add_row(package, "tanks", tank, cast.student)
        text = client.get(at("issue-package", cast)).content.decode()
        assert "Sheet 02 Plan" in text
        assert "T1 reads 1.6 L. Is that 1.6 m³, 1\u202f600 L?" in text
        assert "Late by 31 min" in text or "Late by 30 min" in text
        assert not Revision.objects.exists()

    def test_issuing_freezes_and_leads_to_the_receipt(self, cast, client):
        answer = client.post(at("issue-package", cast), {"letter": "A"})
        revision = Revision.objects.get()
        assert answer.url == reverse("show-revision", args=[revision.pk])
        assert (revision.letter, revision.issued_by) == ("A", cast.student)

    def test_a_mate_who_pressed_at_the_same_time_is_led_to_the_same_revision(
        self, cast, package, client
    ):
        revision = issue(package, cast.mate)
        answer = client.post(at("issue-package", cast), {"letter": "A"}, follow=True)
        assert Revision.objects.get() == revision
        assert "by Mira Mate" in answer.content.decode()

    def test_nothing_is_issued_twice_unchanged(self, cast, package, client):
        issue(package, cast.mate)
        answer = client.post(at("issue-package", cast), {"letter": "B"}, follow=True)
        assert "Nothing differs from revision A." in answer.content.decode()
        assert Revision.objects.count() == 1

    def test_after_an_issue_the_state_says_so_until_something_changes(self, cast, package, client):
        issue(package, cast.mate)
        assert "<span>Issued for crit</span><span>Rev A</span>" in page(client, cast)
        package_keeping.add_row(package, "tanks", {"mark": "T1"}, cast.student)
        assert "<span>In preparation</span><span>Rev B</span>" in page(client, cast)

    @pytest.mark.parametrize("letter", ["", "Q", "<b>"])
    def test_another_letter_issues_nothing(self, cast, client, letter):
        answer = client.post(at("issue-package", cast), {"letter": letter})
        assert "Expected A" in answer.content.decode()
        assert not Revision.objects.exists()
