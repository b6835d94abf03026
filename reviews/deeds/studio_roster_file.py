"""A school's roster as a table of people: with the numbers that a studio has, and who has left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import IO

from criteria.typed.csv_cells import csv_of
from reviews.deeds.file_reading import read_apart
from reviews.deeds.studio_roster_known import Known, Sought
from reviews.exchange.kinds import ROSTER
from reviews.exchange.proposed import Proposal, ProposedRow, Question
from reviews.exchange.roster import CLASS
from reviews.models import Membership, Person, Studio

Role = Membership.Role

HEADS = ("Name", "E-mail", "Scheme number", "Scheme name", "Role", "School id")
OF_A_SCHOOL = (Role.STUDENT, Role.LEADER)
"""Places that a school's roster tells of."""


@dataclass(frozen=True)
class RosterFile:
    """A roster as read.

    table     its people, under HEADS; nothing while it is open which class
    question  which class it is
    said      what has to be known beside the table, each a sentence
    """

    table: str
    question: Question
    said: tuple[str, ...]


def read_roster_file(
    studio: Studio, name: str, file: IO[bytes], which: str, by: Person
) -> RosterFile:
    """Read the ZIP of a school's roster, of a class if one is named. Raises Refused."""
    told = read_apart(ROSTER.name, name, file, {CLASS: which} if which else {})
    (question,) = told.questions
    if not question.chosen:
        return RosterFile("", question, told.said)
    known = Known(studio, by)
    numbers = _numbers(studio, known.places)
    lines = [_line(row, known, numbers) for row in told.rows]
    said = (*told.said, *_beside(told, known, lines, by))
    return RosterFile(csv_of([HEADS, *lines]) if lines else "", question, said)


def _numbers(studio: Studio, places: Iterable[Membership]) -> dict[str, str]:
    """Which scheme each student draws, or is invited to draw, by e-mail."""
    schemes = studio.schemes.standing().prefetch_related("members")
    drawn = {member.email: scheme.number for scheme in schemes for member in scheme.members.all()}
    invited = {place.person.email: place.scheme.number for place in places if place.scheme}
    return drawn | invited


def _line(row: ProposedRow, known: Known, numbers: dict[str, str]) -> tuple[str, ...]:
    """A line under HEADS; whoever is known by id alone has the address that stands here."""
    name, email, role = (
        row.cells[head].text if head in row.cells else "" for head in ("name", "email", "role")
    )
    here = known.address(Sought(name, email.lower(), row.source))
    number = numbers.get(here, "") if role == Role.STUDENT else ""
    return (name, email or here, number, "", role, row.source)


def _beside(told: Proposal, known: Known, lines: Sequence[Sequence[str]], by: Person) -> list[str]:
    """What a leader is asked of the studio beside the file."""
    said = []
    unnumbered = sum(role == Role.STUDENT and not number for _, _, number, _, role, _ in lines)
    if unnumbered:
        who = "1 student has" if unnumbered == 1 else f"{unnumbered} students have"
        said.append(
            f"{who} no scheme number. Type it in the box, with a name where the scheme is new; or "
            "bring it in later."
        )
    here = {(place.person.email, place.role) for place in known.places}
    in_file, new = set(), set()
    moved: dict[str, None] = {}
    for name, email, _, _, role, school_id in lines:
        sought = Sought(name, email.lower(), school_id)
        before = known.address(sought)
        in_file.add((before, role))
        if email and (before, role) not in here:
            new.add(name)
        if before != sought.email:
            moved[f"{name}, {before} → {sought.email}"] = None
    if moved:
        said.append(f"The school has another address now: {'; '.join(moved)}.")
    may_leave = [p for p in known.places if p.role in OF_A_SCHOOL and p.person_id != by.pk]
    gone = [
        place
        for place in may_leave
        if not place.person.erased_at and (place.person.email, place.role) not in in_file
    ]
    for place in gone:
        if place.name in new:
            said.append(f"{place.name} is here by {place.person.email} and new by another address.")
    left = [f"{p.name}, {p.get_role_display().lower()}" for p in gone if p.name not in new]
    if left and told.about.get("is_whole"):
        said.append(
            f"Here, and not in the class: {'; '.join(left)}. Nobody is taken out by a file: take "
            "out whoever has left on the page of people."
        )
    return said
