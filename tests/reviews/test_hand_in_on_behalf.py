"""A leader hands in for a student who can't: the package as it stands, with the reason."""

import pytest
from django.core import mail
from django.urls import reverse

from reviews.deeds.mail_sending import send_due
from reviews.models import AuditLine, Mail, Revision

REASON = "Agreed absence until Thursday."


@pytest.fixture
def address(cast):
    cast.scheme.package.statement = "A hut for eight."
    cast.scheme.package.save()
    return reverse("issue-for-students", args=[cast.scheme.pk])


def hand_in(client, cast, address, reason=REASON, letter="A"):
    client.force_login(cast.leader)
    return client.post(address, {"reason": reason, "letter": letter}, follow=True)


def test_the_package_is_issued_as_it_stands_for_its_students(client, cast, address):
    answer = hand_in(client, cast, address)
    revision = Revision.objects.get(scheme=cast.scheme)
    assert (revision.issued_by, revision.behalf_words) == (cast.leader, REASON)
    assert set(revision.students.all()) == {cast.student, cast.mate}
    assert revision.contents["statement"] == "A hut for eight."
    assert "who handed it in for its students" in answer.text
    assert REASON in answer.text


def test_the_audit_list_tells_it_without_the_reason(client, cast, address):
    hand_in(client, cast, address)
    line = AuditLine.objects.get(deed=AuditLine.Deed.HANDED_IN)
    assert (line.person, line.studio) == (cast.leader, cast.studio)
    assert line.about == f"{cast.scheme}, revision A"
    answer = client.get(reverse("show-audit", args=[cast.studio.pk]))
    assert "Handed in for students" in answer.text
    assert REASON not in answer.text


def test_the_students_receipt_says_who_handed_it_in_and_why(client, cast, address):
    hand_in(client, cast, address)
    assert set(Mail.objects.filter(kind=Mail.Kind.RECEIPT).values_list("person", flat=True)) == {
        cast.student.pk,
        cast.mate.pk,
    }
    send_due.call()
    assert all(f"{cast.leader} handed it in for you: {REASON}" in each.body for each in mail.outbox)
    assert len(mail.outbox) == 2


def test_the_reason_is_read_by_students_leaders_and_coordinators_alone(client, cast, address):
    hand_in(client, cast, address)
    shown = reverse("show-revision", args=[Revision.objects.get(scheme=cast.scheme).pk])
    for person, reads in (
        (cast.student, True),
        (cast.mate, True),
        (cast.coordinator, True),
        (cast.scribe, False),
    ):
        client.force_login(person)
        answer = client.get(shown)
        assert "who handed it in for its students" in answer.text
        assert (REASON in answer.text) == reads, person
    client.logout()
    client.get(reverse("enter-jury", args=[cast.seat.code]))
    assert REASON not in client.get(shown).text


def test_a_student_who_issues_hands_in_for_nobody(client, cast, address):
    client.force_login(cast.student)
    client.post(reverse("issue-package", args=[cast.scheme.pk]), {"letter": "A"})
    revision = Revision.objects.get(scheme=cast.scheme)
    assert revision.behalf_words == ""
    answer = client.get(reverse("show-revision", args=[revision.pk]))
    assert "handed it in for its students" not in answer.text
    assert not AuditLine.objects.filter(deed=AuditLine.Deed.HANDED_IN).exists()


def test_what_a_student_issued_meanwhile_stays_theirs(client, cast, address):
    client.force_login(cast.student)
    client.post(reverse("issue-package", args=[cast.scheme.pk]), {"letter": "A"})
    answer = hand_in(client, cast, address)
    assert f"Revision A is issued for crit, by {cast.student}" in answer.text
    assert Revision.objects.get(scheme=cast.scheme).behalf_words == ""


@pytest.mark.parametrize(
    ("reason", "letter", "said"),
    [
        ("", "A", "Read nothing. Expected the reason"),
        ("  ", "A", "Read nothing. Expected the reason"),
        ("x" * 241, "A", "Expected the reason, in at most 240 characters"),
        (REASON, "Z", "Read revision “Z”. Expected A."),
    ],
)
def test_without_a_reason_or_the_letter_nothing_is_issued(
    client, cast, address, reason, letter, said
):
    answer = hand_in(client, cast, address, reason, letter)
    assert said in answer.text
    assert reason in answer.text
    assert not Revision.objects.filter(scheme=cast.scheme).exists()


def test_the_page_leads_there_from_the_package(client, cast, address):
    client.force_login(cast.leader)
    assert address in client.get(reverse("show-package", args=[cast.scheme.pk])).text
    client.force_login(cast.student)
    assert address not in client.get(reverse("show-package", args=[cast.scheme.pk])).text


def test_of_a_withdrawn_scheme_nothing_is_handed_in(client, cast, address):
    cast.scheme.withdrawn_at = cast.crit.pens_down
    cast.scheme.save()
    client.force_login(cast.leader)
    assert client.get(address).status_code == 403
