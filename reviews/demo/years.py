"""What the demo's studio of the year before leaves: standards, a book, examples, the next year."""

from __future__ import annotations

from datetime import timedelta

from reviews.deeds.evidence_making import Wish, ask_for_book
from reviews.deeds.example_allowing import allow_example
from reviews.deeds.juror_letters import allow_letter
from reviews.deeds.standards_mapping import start_standards
from reviews.deeds.studio_carrying import PARTS, carry_over
from reviews.demo.scenario import STATION, StudioStory
from reviews.demo.studios import leader
from reviews.models import EvidenceBook, Person, Studio

BOOK = "For the board’s visit"
NEXT = {"title": "Low Water 2027", "cohort": "Cohort J, spring 2027"}
"""No crit is set in it: the demo's clock follows the last crit that is to come."""
EXAMPLES = ("E04", "E11")
LETTERS = ("E11", "E12", "E13")
"""Whose students let their jurors read what became of their remarks."""
OPENED = timedelta(days=60)
"""After the last release: when the next year's studio was opened."""


def leave(studio: Studio, story: StudioStory) -> None:
    """Map the standards, allow examples, open the next year's, and have a book made."""
    if story is not STATION:
        return
    start_standards(studio, leader())
    for scheme in studio.schemes.filter(number__in=EXAMPLES):
        for student in scheme.members.all():
            allow_example(scheme, student, is_allowed=True)
    released = studio.crits.released().order_by("day").last()
    if released is None or released.released_at is None:
        return
    for scheme in studio.schemes.filter(number__in=LETTERS):
        allow_letter(released, scheme, scheme.members.all()[0], is_allowed=True)
    named = {**NEXT, "year_line": studio.year_line}
    after = carry_over(studio, leader(), named, parts=[*PARTS], crits={})
    Studio.objects.filter(pk=after.pk).update(opened_at=released.released_at + OPENED)
    by = Person.objects.filter(is_coordinator=True).order_by("pk")[0]
    ask_for_book(studio, Wish(BOOK, EvidenceBook.Choice.BANDS), by)
