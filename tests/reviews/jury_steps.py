"""What tests of a juror's pages do again and again: addresses, a lock, a page read."""

from django.urls import reverse

from reviews.deeds import crit_jury_keeping

HTMX = {"HX-Request": "true"}


def sheet_url(cast):
    return reverse("show-jury-sheet", args=[cast.scheme.pk])


def level_url(cast):
    return reverse("keep-level", args=[cast.scheme.pk, cast.criterion.pk])


def comment_url(cast):
    return reverse("keep-comment", args=[cast.scheme.pk])


def lock(cast, seat, level=3):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seat, cast.scheme, criterion, level, 0)
    return crit_jury_keeping.lock_sheet(seat, cast.scheme)


def read(client, address):
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()
