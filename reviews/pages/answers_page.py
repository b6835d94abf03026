"""The leader's one list of answers: who hasn't, what is open, what conflicts, what is to close."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from criteria.typed.csv_cells import csv_of
from reviews import clock
from reviews.models import Answer, Crit, Scheme
from reviews.moments import moment_words
from reviews.reading.crit_answers import Answered, AnswerList, Stage, answer_list

NO_ANSWER = "none"
ANSWERS = [(NO_ANSWER, "Not answered"), *Answer.Kind.choices]
STAGES = [(stage.value, stage.value.capitalize()) for stage in Stage]


@dataclass(frozen=True)
class Choice:
    """One choice of a filter."""

    value: str
    words: str
    is_chosen: bool


@dataclass(frozen=True)
class Filter:
    """One filter: its name in the address, its label, what can be chosen."""

    name: str
    label: str
    choices: list[Choice]

    @property
    def chosen(self) -> str:
        return next((each.value for each in self.choices if each.is_chosen and each.value), "")


@dataclass(frozen=True)
class AnswersPage:
    """The list of one crit, or of all of a studio, as far as its filters let it be seen.

    names_crit   whether each comment says of which crit it is
    """

    told: AnswerList
    filters: list[Filter]
    crits: list[Crit]
    can_close: bool
    names_crit: bool = False

    @property
    def is_filtered(self) -> bool:
        return any(each.chosen for each in self.filters)

    @property
    def shown(self) -> list[Answered]:
        """The rows that the filters let through."""
        chosen = {each.name: each.chosen for each in self.filters}
        return [row for row in self.told.rows if _passes(row, chosen)]

    @property
    def groups(self) -> list[tuple[Scheme, list[Answered]]]:
        """The same, scheme by scheme."""
        found: dict[Scheme, list[Answered]] = {}
        for row in self.shown:
            found.setdefault(row.scheme, []).append(row)
        return list(found.items())

    @property
    def counts(self) -> list[tuple[str, int]]:
        """How many comments stand how."""
        return [(stage.value, self.told.count(stage)) for stage in Stage]


def _passes(row: Answered, chosen: Mapping[str, str]) -> bool:
    kind = row.answer.kind if row.answer else NO_ANSWER
    asked = {"scheme": row.scheme.number, "answer": kind, "stage": row.stage.value}
    return all(not chosen[name] or chosen[name] == value for name, value in asked.items())


def answers_page(
    crits: list[Crit], asked: Mapping[str, str], *, can_close: bool, names_crit: bool = False
) -> AnswersPage:
    """Read the list; an unknown choice filters nothing."""
    told = answer_list(crits, clock.today())
    schemes = sorted({(row.scheme.number, str(row.scheme)) for row in told.rows})
    filters = [
        _filter("scheme", "Scheme", schemes, asked),
        _filter("answer", "Answer", ANSWERS, asked),
        _filter("stage", "Stands", STAGES, asked),
    ]
    return AnswersPage(told, filters, crits, can_close, names_crit)


def _filter(
    name: str, label: str, choices: Iterable[tuple[str, str]], asked: Mapping[str, str]
) -> Filter:
    held = [("", "All"), *choices]
    value = asked.get(name, "")
    chosen = value if value in dict(held) else ""
    return Filter(name, label, [Choice(v, words, v == chosen) for v, words in held])


HEAD = (
    "crit", "scheme", "name", "juror", "kind", "place", "criterion", "words", "answer",
    "answer_words", "place_now", "answered_by", "answered_at", "stands", "closing_words",
    "closed_by", "closed_at",
)  # fmt: skip


def answers_csv(rows: Iterable[Answered]) -> str:
    """The list as CSV: a row for each released comment."""
    return csv_of([list(HEAD), *(_cells(row) for row in rows)])


def _cells(row: Answered) -> list[str]:
    comment, answer, closing = row.comment, row.answer, row.closing
    criterion = comment.criterion.code if comment.criterion else ""
    said = [comment.jury_sheet.seat.name, comment.kind, comment.place, criterion, comment.words]
    answered = ["", "", "", "", ""]
    if answer:
        answered = [answer.kind, answer.words, answer.place_now, str(answer.answered_by)]
        answered.append(moment_words(answer.answered_at))
    closed = ["", "", ""]
    if closing:
        closed = [closing.words, str(closing.by), moment_words(closing.at)]
    head = [str(row.crit), row.scheme.number, row.scheme.name]
    return [*head, *said, *answered, row.stage.value, *closed]
