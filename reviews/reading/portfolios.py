"""What a portfolio may show: issued sheets, released remarks, jurors who allow their name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reviews.models import (
    Answer,
    Comment,
    Consent,
    IssuedSheet,
    Person,
    Portfolio,
    Revision,
    Scheme,
    Seat,
)
from reviews.models.revisions import plain_number
from reviews.reading.comment_rulings import as_they_go_out

A_JUROR = "a juror"
"""What a juror is called who doesn't allow their name, or whom the crit doesn't name."""


def sheets_to_show(scheme: Scheme) -> list[IssuedSheet]:
    """Every sheet that the scheme issued, the latest revision first."""
    sheets = IssuedSheet.objects.filter(revision__scheme=scheme).select_related("revision", "file")
    return list(sheets.order_by("-revision_id", "number", "pk"))


def remarks_of(scheme: Scheme) -> list[Comment]:
    """What was released of a scheme and nobody holds, in the words that went out."""
    said = Comment.objects.released().not_held().filter(jury_sheet__scheme=scheme)
    return as_they_go_out(
        said.exclude(words="").select_related(
            "jury_sheet__seat__crit",
            "criterion",
            "answer",
            "issued_sheet__revision",
            "issued_sheet__file",
            "revision",
        )
    )


def seats_of(scheme: Scheme) -> list[Seat]:
    """Every juror of the crits that saw a scheme, or could have: whose names ask for consent."""
    seats = Seat.objects.filter(crit__studio=scheme.studio_id).select_related("crit")
    return list(seats.order_by("crit__day", "name", "pk"))


def named_seats(scheme: Scheme) -> set[int]:
    """The seats whose jurors may be named in a scheme's portfolio, and are still called so.

    Where a crit was announced without jurors' names nobody is named, whatever was consented.
    """
    given = Consent.objects.filter(
        kind=Consent.Kind.NAME,
        scheme=scheme,
        ended_at=None,
        seat__erased_at=None,
        seat__crit__names_jurors=True,
    )
    return {seat for seat in given.values_list("seat_id", flat=True) if seat}


def names_withheld(scheme: Scheme) -> dict[str, str]:
    """Each juror's name that may not stand, with what stands in its place."""
    named = named_seats(scheme)
    seats = seats_of(scheme)
    allowed = {seat.name.casefold() for seat in seats if seat.pk in named}
    return {seat.name: A_JUROR for seat in seats if seat.name.casefold() not in allowed}


@dataclass(frozen=True)
class Credit:
    """Whose work a scheme is: those who are named, and how many are not."""

    named: tuple[str, ...]
    others: int

    @property
    def words(self) -> str:
        """As it stands under a title: Ada Merrowby and 1 other."""
        told = [*self.named]
        if self.others:
            more = f"{self.others} other{'s' * (self.others > 1)}"
            told.append(more if told else f"{self.others} student{'s' * (self.others > 1)}")
        return " and ".join((", ".join(told[:-1]), told[-1])) if len(told) > 1 else "".join(told)


def credit_of(scheme: Scheme, portfolio: Portfolio | None) -> Credit:
    """Every student of a scheme, now or when it was issued, unless they ask not to be named."""
    students = {person.pk: person for person in scheme.members.all()}
    issued = Person.objects.filter(issued__scheme=scheme)
    students |= {person.pk: person for person in issued}
    unnamed = set(portfolio.unnamed.values_list("pk", flat=True)) if portfolio else set()
    named = [
        person.name for pk, person in students.items() if pk not in unnamed and not person.erased_at
    ]
    return Credit(tuple(sorted(named)), len(students) - len(named))


def unnamed_names(portfolio: Portfolio | None) -> dict[str, str]:
    """The names of students who ask not to be named, with what stands in their place."""
    if portfolio is None:
        return {}
    return dict.fromkeys(portfolio.unnamed.values_list("name", flat=True), "a student")


@dataclass(frozen=True)
class Proposal:
    """A remark that changed a sheet: the sheet as it was said of, and as it is now."""

    comment: Comment
    before: IssuedSheet
    after: IssuedSheet


def proposals(
    remarks: Iterable[Comment], sheets: Iterable[IssuedSheet], taken: Iterable[int]
) -> list[Proposal]:
    """The remarks that were taken up and whose sheet was issued anew, less those taken already.

    sheets   as `sheets_to_show` gives them: the latest first
    """
    latest: dict[str, IssuedSheet] = {}
    for sheet in sheets:
        latest.setdefault(plain_number(sheet.number), sheet)
    found = []
    for comment in remarks:
        before, answer = comment.issued_sheet, getattr(comment, "answer", None)
        if before is None or comment.pk in {*taken} or answer is None:
            continue
        if answer.kind in (Answer.Kind.NOT_TAKEN, Answer.Kind.TALK):
            continue
        number = _number_in(answer.place_now) or before.number
        after = latest.get(plain_number(number)) or latest.get(plain_number(before.number))
        if after and after.revision_id > before.revision_id:
            found.append(Proposal(comment, before, after))
    return found


def _number_in(place: str) -> str:
    """The sheet of a place as it is typed: 02 B4, 02·B4."""
    return place.replace("·", " ").split()[0] if place.strip() else ""


def revision_of(portfolio: Portfolio | None, scheme: Scheme) -> Revision | None:
    """The revision whose schedules fill the project data: as chosen, else the last issued."""
    if portfolio and portfolio.revision:
        return portfolio.revision
    return scheme.revisions.select_related("scheme__studio").order_by("pk").last()
