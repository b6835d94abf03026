"""What is suggested to be read together: by place and criterion, never by chance words."""

from types import SimpleNamespace

import pytest

from reviews.models import Comment
from reviews.reading.comment_rulings import Alike, Rulings
from reviews.reading.comment_suggesting import MOST, alike_maybe, opposed_maybe

Kind = Comment.Kind


def said(pk, juror, kind, criterion=0, sheet=0, zone=""):
    """A comment as far as suggestions read it."""
    return SimpleNamespace(
        pk=pk,
        kind=kind,
        criterion_id=criterion,
        issued_sheet_id=sheet,
        zone=zone,
        jury_sheet=SimpleNamespace(seat_id=juror),
    )


def keys(found):
    return [tuple(each.pk for each in one) for one in found]


@pytest.mark.parametrize(
    ("kinds", "jurors", "criteria", "is_one"),
    [
        ((Kind.KEEP, Kind.REWORK), (1, 2), (5, 5), True),
        ((Kind.KEEP, Kind.HAZARD), (1, 2), (5, 5), True),
        ((Kind.KEEP, Kind.DRAW), (1, 2), (5, 5), False),
        ((Kind.REWORK, Kind.HAZARD), (1, 2), (5, 5), False),
        ((Kind.KEEP, Kind.KEEP), (1, 2), (5, 5), False),
        ((Kind.KEEP, Kind.REWORK), (1, 1), (5, 5), False),
        ((Kind.KEEP, Kind.REWORK), (1, 2), (5, 6), False),
        ((Kind.KEEP, Kind.REWORK), (1, 2), (0, 0), False),
    ],
)
def test_a_keep_of_one_juror_stands_against_a_rework_of_another(kinds, jurors, criteria, is_one):
    each = [said(n, *of) for n, of in enumerate(zip(jurors, kinds, criteria, strict=True))]
    assert keys(opposed_maybe(each, Rulings())) == [(0, 1)] * is_one


def test_one_square_stands_nearer_than_one_criterion_and_no_more_than_four_are_shown():
    keep = said(1, 1, Kind.KEEP, 5, sheet=7, zone="B2")
    far = [said(n, 2, Kind.REWORK, 5) for n in range(2, 8)]
    near = said(9, 3, Kind.REWORK, 6, sheet=7, zone="B2")
    other = said(10, 3, Kind.REWORK, 6, sheet=8, zone="B2")
    found = keys(opposed_maybe([keep, *far, near, other], Rulings()))
    assert found == [(1, 9), (1, 2), (1, 3), (1, 4)]
    assert len(found) == MOST


def test_a_pair_that_stands_already_is_not_suggested_again():
    each = [said(1, 1, Kind.KEEP, 5), said(2, 2, Kind.REWORK, 5)]
    pair = SimpleNamespace(first_id=2, second_id=1)
    assert opposed_maybe(each, Rulings(pairs=(pair,))) == []


@pytest.mark.parametrize(
    ("one", "other", "is_one"),
    [
        ((Kind.ASK, 5, 7, "B2"), (Kind.DRAW, 6, 7, "B2"), True),
        ((Kind.KEEP, 5, 7, "B2"), (Kind.REWORK, 6, 7, "B2"), False),
        ((Kind.REWORK, 5, 7, "B2"), (Kind.HAZARD, 6, 7, "B2"), True),
        ((Kind.ASK, 5, 7, "B2"), (Kind.ASK, 5, 7, "C3"), True),
        ((Kind.ASK, 5, 7, "B2"), (Kind.DRAW, 5, 7, "C3"), False),
        ((Kind.ASK, 5, 7, "B2"), (Kind.ASK, 5, 8, "B2"), False),
        ((Kind.ASK, 5, 7, ""), (Kind.DRAW, 6, 7, ""), False),
    ],
)
def test_what_two_jurors_say_of_a_square_or_of_a_criterion_on_a_sheet_could_be_alike(
    one, other, is_one
):
    each = [said(1, 1, *one), said(2, 2, *other)]
    assert keys(alike_maybe(each, Rulings())) == [(1, 2)] * is_one
    for comment in each:
        comment.jury_sheet.seat_id = 1
    assert alike_maybe(each, Rulings()) == []


def test_what_is_grouped_is_not_suggested_until_another_joins_it():
    each = [said(n, n, Kind.ASK, 5, sheet=7, zone="B2") for n in (1, 2)]
    rulings = Rulings(groups=(Alike(None, {1: 1, 2: 2}),))
    assert alike_maybe(each, rulings) == []
    each.append(said(3, 3, Kind.ASK, 6, sheet=7, zone="B2"))
    assert keys(alike_maybe(each, rulings)) == [(1, 2, 3)]
