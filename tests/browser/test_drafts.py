"""What is typed into an answer outlives a lost network and a closed page, until it is kept."""

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from reviews.models import Answer
from tests import factories
from tests.browser.conftest import broken_rules, sign_in

pytestmark = pytest.mark.django_db(transaction=True)

WORDS = "The eave is shorter now."


def test_an_answer_that_was_typed_and_not_sent_stands_again_and_is_gone_once_kept(
    page: Page, cast, live_server
):
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    said = factories.CommentFactory(jury_sheet=sheet)
    sign_in(page, cast, cast.student, live_server.url)
    args = [cast.crit.pk, cast.scheme.pk]
    address = live_server.url + reverse("show-scheme-answers", args=args)
    page.goto(address)
    assert broken_rules(page) == []
    form = page.locator(f"form[data-draft=answer-{said.pk}]")
    form.get_by_label("Carried forward").check()
    form.locator("[name=words]").fill(WORDS)
    page.route("**/answer/", lambda route: route.abort())
    form.get_by_role("button", name="Save the answer").click()
    page.unroute("**/answer/")
    page.goto(address)
    expect(form.locator("[name=words]")).to_have_value(WORDS)
    expect(form.get_by_label("Carried forward")).to_be_checked()
    expect(form.locator(".draft-note")).to_be_visible()
    form.get_by_role("button", name="Save the answer").click()
    expect(page.locator(f"#answer-{said.pk} .trace")).to_contain_text(WORDS)
    expect(page.locator(".draft-note")).to_have_count(0)
    assert Answer.objects.get().words == WORDS
