"""What may still name somebody in a book that names nobody: found, and read before it is frozen."""

import pytest
from django.urls import reverse

from reviews.models import EvidenceBook
from reviews.reading.evidence_left import names_left
from reviews.reading.evidence_names import Masks, masks_of
from tests import factories


@pytest.fixture
def masks():
    whole = {"Zoë Čapek": "Student 1", "Ann Ex": "Student 2", "Mira Mate": "Student 3"}
    return Masks(whole, {"Zoë": "Student 1", "Čapek": "Student 1", "Mira": "Student 3"})


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("ask zoe capek", "ask Student 1"),
        ("Zoe’s plan", "Student 1’s plan"),
        ("Zoe\u0308 drew", "Student 1 drew"),
        ("plan_Mira_2.pdf", "plan_Student 3_2.pdf"),
        ("mira_mate", "Student 3"),
        ("MiraMate2", "Student 32"),
        ("the annex", "the annex"),
        ("Admiration, Miramar", "Admiration, Miramar"),
    ],
)
def test_a_name_is_masked_however_it_is_written(masks, written, read):
    assert masks.text(written) == read


def test_a_jurors_code_is_masked(cast):
    assert cast.seat.code not in masks_of(cast.studio).text(f"come by {cast.seat.code}")


@pytest.fixture
def told(cast):
    """A studio whose statement may name somebody in words that no mask takes for a name."""
    contents = {
        "statement": "The stefs drew it, mira2 checked it. Stef Student agrees; so do steps.",
        "schedules": {"rooms": [{"mark": "R1", "room": "skye’s den", "floor_m2": "20"}]},
        "site": {},
        "targets": [],
        "sheets": [],
    }
    revision = factories.RevisionFactory(scheme=cast.scheme, contents=contents)
    factories.IssuedSheetFactory(revision=revision, number="03", drawn_by="Stef Student")
    factories.IssuedSheetFactory(revision=revision, number="04")


def test_what_may_be_a_name_is_named_with_its_place(cast, told):
    left = names_left(cast.studio)
    assert [(each.word, each.where) for each in left.words] == [
        ("mira", "R01 revision A"),
        ("skye", "R01 revision A, schedules"),
        ("stefs", "R01 revision A"),
    ]
    assert left.pictures == ("R01 revision A: 03",)


def test_a_book_is_made_once_what_is_left_was_read_as_it_stands(cast, told):
    address = reverse("make-evidence-book", args=[cast.studio.pk])
    leader = cast.client(cast.leader)
    sent = {"title": "Visit", "choice": "all", "is_anonymous": "on"}
    page = leader.post(address, sent)
    assert not EvidenceBook.objects.exists()
    words = page.content.decode()
    for said in ("stefs", "R01 revision A, schedules", "R01 revision A: 03", 'value="Visit"'):
        assert said in words, said
    mark = page.context["left"].mark
    later = factories.RevisionFactory(scheme=cast.scheme, letter="B")
    factories.IssuedSheetFactory(revision=later, number="05", checked_by="Mira")
    again = leader.post(address, sent | {"left_read": mark})
    assert "R01 revision B: 05" in again.content.decode()
    assert not EvidenceBook.objects.exists()
    leader.post(address, sent | {"left_read": again.context["left"].mark})
    assert EvidenceBook.objects.get().is_anonymous


def test_a_book_with_names_asks_nothing(cast, told):
    address = reverse("make-evidence-book", args=[cast.studio.pk])
    cast.client(cast.leader).post(address, {"title": "Visit", "choice": "all"})
    assert EvidenceBook.objects.exists()
