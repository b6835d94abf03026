"""Letters on pages: links sent by a leader, kinds switched off, what did not arrive."""

from django.core import mail as outbox
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import mail_choosing, mail_queueing
from reviews.models import Mail
from tests import factories
from tests.reviews.mail_steps import send


def _stop(address, kind):
    return reverse("stop-mail", args=[mail_choosing.token_for(address, kind)])


def test_a_leader_sends_the_links_of_jurors_with_an_address(
    cast, leader, django_capture_on_commit_callbacks
):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    factories.SeatFactory(crit=cast.crit, name="Nora Nomail")
    with django_capture_on_commit_callbacks(execute=True):
        answer = leader.post(reverse("send-links", args=[cast.crit.pk]), follow=True)
    assert [letter.to for letter in outbox.outbox] == [["jo@example.org"]]
    assert "The links of 1 juror with an e-mail address are on" in answer.content.decode()
    page = leader.get(reverse("print-links", args=[cast.crit.pk])).content.decode()
    assert "By e-mail to jo@example.org: sent." in page


def test_somebody_chooses_what_comes(cast, leader):
    page = leader.get(reverse("you"))
    every = "receipt comments stubs results stopped answers rewording letter appeal day"
    assert page.context["form"]["letters"].value() == every.split()
    kept = {"name": "Lena", "units": "metric", "lamp": "on", "letters": ["day"]}
    assert leader.post(reverse("you"), kept).status_code == 302
    assert mail_choosing.wanted("Lena@Example.org") == ["day"]
    assert leader.get(reverse("you")).context["form"]["letters"].value() == ["day"]
    leader.post(reverse("you"), kept | {"letters": []})
    assert mail_choosing.wanted("lena@example.org") == []


def test_an_odd_kind_is_refused(cast, leader):
    kept = {"name": "Lena", "units": "metric", "lamp": "on", "letters": ["invitation"]}
    assert leader.post(reverse("you"), kept).status_code == 200
    assert "day" in mail_choosing.wanted("lena@example.org")


def test_a_juror_switches_a_kind_off_and_on_by_the_link_in_the_letter(cast):
    address, juror = _stop("jo@example.org", "answers"), Client()
    assert "Send no more of these" in juror.get(address).content.decode()
    assert "answers" in mail_choosing.wanted("jo@example.org")  # looking changes nothing
    assert "switched off" in juror.post(address).content.decode()
    assert "answers" not in mail_choosing.wanted("jo@example.org")
    juror.post(address, {"again": "yes"})
    assert "answers" in mail_choosing.wanted("jo@example.org")


def test_a_mail_program_switches_off_by_one_click(cast):
    strict = Client(enforce_csrf_checks=True)
    one_click = {"List-Unsubscribe": "One-Click"}
    assert strict.post(_stop("jo@example.org", "answers"), one_click).status_code == 200
    assert "answers" not in mail_choosing.wanted("jo@example.org")


def test_a_made_up_link_switches_nothing_off(cast):
    assert Client().post(reverse("stop-mail", args=["made:up:token"])).status_code == 404
    token = mail_choosing.token_for("jo@example.org", "answers")
    assert Client().post(reverse("stop-mail", args=[f"x{token}"])).status_code == 404


def test_leaders_read_on_the_people_page_what_did_not_arrive(cast, leader):
    revision = factories.RevisionFactory(scheme=cast.scheme, issued_at=timezone.now())
    mail_queueing.hand_receipts(revision)
    Mail.objects.filter(person=cast.student).update(state="failed", said="550 <b>Unknown</b>")
    page = leader.get(reverse("show-people", args=[cast.studio.pk])).content.decode()
    assert "E-mail that did not arrive" in page
    assert "could not be delivered: 550 &lt;b&gt;Unknown&lt;/b&gt;" in page
    send()  # the mate's arrives
    undelivered = leader.get(reverse("show-people", args=[cast.studio.pk])).context["undelivered"]
    assert [name for name, _ in undelivered] == ["Stef Student"]
    other = cast.client(cast.other_leader)
    page = other.get(reverse("show-people", args=[cast.other_studio.pk])).content.decode()
    assert "did not arrive" not in page
