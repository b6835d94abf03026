"""Whom the school's answer leads to, where two come at once; the rest is in test_school_views."""

import threading

import pytest
from allauth.socialaccount.models import SocialAccount
from django.db import connection

from reviews.deeds.school_asking import NotSignedIn, Told, Why
from reviews.deeds.school_signing_in import person_told_of


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("subjects", [("s-1", "s-1"), ("s-1", "s-2")])
def test_of_two_first_sign_ins_at_once_one_links_the_account(cast, subjects):
    both = threading.Barrier(2)
    ends = []

    def come(subject: str) -> None:
        told = Told("https://id.example", subject, "stef@example.org", "/")
        both.wait()
        try:
            ends.append(person_told_of(told).pk)
        except NotSignedIn as refused:
            ends.append(refused.why)
        finally:
            connection.close()

    threads = [threading.Thread(target=come, args=[subject]) for subject in subjects]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    refused = {Why.TAKEN} if len(set(subjects)) > 1 else set()
    assert (len(ends), set(ends)) == (2, {cast.student.pk} | refused)
    assert SocialAccount.objects.count() == 1
