"""What cohorts missed, heard and were judged apart on, as tables: of a page, and to take out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar
from urllib.parse import urlencode

from django.db.models import QuerySet

from criteria.scoring.behaviour import Spread
from criteria.scoring.cohorts import Comparison, Summary
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from reviews.models import Revision
from reviews.reading.cohort_comparing import Beside, Cohort
from reviews.reading.cohort_counting import (
    Missed,
    Repeated,
    SaidAlike,
    Widest,
    by_criterion,
    by_place,
    by_target,
    most_missed,
    said_alike,
    widest,
)
from reviews.reading.cohort_failures import Failure, failures
from reviews.reading.cohort_records import Record
from reviews.worked_out import Told

OPEN = 8
"""Lines of a table that stand open; the rest are folded."""

Line = list[str | int | float | None]


@dataclass(frozen=True)
class CountLine:
    """One line: what it is of, the whole, a cell for each cohort, and where its comments stand."""

    name: str
    whole: str
    cells: tuple[str, ...]
    query: str = ""


@dataclass(frozen=True)
class CountTable:
    """A table with a column for each cohort.

    says    how it is counted
    heads   of the columns before the cohorts'
    """

    title: str
    says: str
    heads: tuple[str, str]
    lines: Sequence[CountLine]
    cohorts: Sequence[Cohort]

    @property
    def open(self) -> Sequence[CountLine]:
        """Those that stand open."""
        return self.lines[:OPEN]

    @property
    def folded(self) -> Sequence[CountLine]:
        """The rest."""
        return self.lines[OPEN:]


def missed_table(beside: Beside) -> CountTable:
    """Targets that schemes missed, by share of those of which it is known."""
    records = [cohort.record for cohort in beside.cohorts]
    lines = [
        CountLine(each.title, f"{each.missed} of {each.known}", _cells(beside, each, _missed))
        for each in most_missed(records)
    ]
    says = (
        "Schemes that missed it, of those of which it is known; short or over, as computed on the "
        "revision that was judged. What isn’t known is in no share; –: not in that brief."
    )
    heads = "Target", "Missed"
    return CountTable("Targets most often missed", says, heads, lines, beside.cohorts)


T = TypeVar("T")


def _cells(beside: Beside, line: T, write: Callable[[T, int], str]) -> tuple[str, ...]:
    return tuple(write(line, place) for place in range(len(beside.cohorts)))


def _missed(line: Missed, place: int) -> str:
    """Of a cohort: 9 of 12, 2 not known."""
    count = line.counts.get(place)
    if count is None:
        return "–"
    told = [f"{count.missed} of {count.known}"] if count.known else []
    told += [f"{count.unknown} not known"] if count.unknown else []
    told += [f"{count.not_asked} not asked"] if count.not_asked else []
    return ", ".join(told)


def said_tables(beside: Beside) -> list[CountTable]:
    """Comments said again and again: by criterion and kind, by square, by target named."""
    records = [cohort.record for cohort in beside.cohorts]
    told = (
        ("Comments most often repeated", "Criterion and kind", "criterion", by_criterion(records)),
        ("On the same square", "Sheet and square", "place", by_place(records)),
        ("Naming the same target", "Target", "target", by_target(records)),
    )
    return [
        CountTable(
            title,
            "Of how many schemes it was said, and how often where that is oftener; comments that "
            "are released and held by nobody, of two schemes or more. Each leads to their words.",
            (head, "Schemes"),
            [_said_line(beside, each, key) for each in lines],
            beside.cohorts,
        )
        for title, head, key, lines in told
    ]


def _said_line(beside: Beside, each: Repeated, key: str) -> CountLine:
    about = each.about or "No criterion named"
    query = urlencode({key: each.about} | ({"of_kind": each.kind} if each.kind else {}))
    name = f"{about}: {each.kind}" if each.kind else about
    return CountLine(name, str(each.schemes), _cells(beside, each, _times), query)


def _times(line: Repeated, place: int) -> str:
    times = line.times.get(place)
    if times is None:
        return "–"
    more = f" ({times.comments})" if times.comments > times.schemes else ""
    return f"{times.schemes}{more}"


def alike_table(beside: Beside) -> CountTable:
    """What leaders grouped as said alike, under their headings."""
    lines = [
        CountLine(
            each.heading,
            str(each.jurors),
            _cells(beside, each, _alike),
            urlencode({"alike": each.heading}),
        )
        for each in said_alike([cohort.record for cohort in beside.cohorts])
    ]
    says = (
        "How many jurors’ comments a leader grouped as saying the same, under the same heading, "
        "and of how many schemes."
    )
    heads = "Said alike, as its leader headed it", "Jurors"
    return CountTable("Said alike by several jurors", says, heads, lines, beside.cohorts)


def _alike(line: SaidAlike, place: int) -> str:
    if place not in line.times:
        return "–"
    jurors, schemes = line.times[place]
    return f"{jurors} ({schemes})"


def spread_table(beside: Beside, records: Sequence[Told[Record]]) -> CountTable:
    """Criteria on which jurors lie widest apart, their own severity taken out."""
    lines = [
        CountLine(each.name, shown(each.mean, 2), _cells(beside, each, _spread))
        for each in widest(records)
    ]
    says = (
        "Highest less lowest level of a scheme’s jurors, each juror’s own severity taken out, so "
        "that one severe juror doesn’t widen them all; mean over the schemes that two or more "
        "judged, and in how many of them it is two levels or more. Where it is wide, the words of "
        "the levels want another look. As given: severity couldn’t be told from the schemes. "
        "–: the criterion isn’t there in the same words."
    )
    heads = "Criterion", "Mean spread (level)"
    title = "Criteria with the widest spread of jurors"
    return CountTable(title, says, heads, lines, beside.cohorts)


def _spread(line: Widest, place: int) -> str:
    spread = line.spreads.get(place)
    if spread is None:
        return "–"
    if isinstance(spread, NotAvailable):
        return spread.reason
    raw = ", as given" if line.is_raw[place] else ""
    return f"{shown(spread.mean, 2)} ({spread.apart} of {spread.of}){raw}"


def tables_out(
    beside: Beside, records: Sequence[Told[Record]], seen: QuerySet[Revision]
) -> dict[str, list[Line]]:
    """Everything as long tables, a line for each cohort, with heads; figures aren't rounded."""
    plain = [cohort.record for cohort in beside.cohorts]
    return {
        "differences": [*_differences(beside)],
        "targets": [*_targets_out(beside, most_missed(plain))],
        "comments": [*_comments_out(beside)],
        "spread": [*_spread_out(beside, widest(records))],
        "failures": [*failures_out(beside, seen)],
    }


TABLES = ("differences", "targets", "comments", "spread", "failures")


def _differences(beside: Beside) -> Iterator[Line]:
    yield [
        "of", "what", "cohort", "beside", "schemes", "median", "lower_quartile", "upper_quartile",
        "difference", "low", "high", "g", "g_low", "g_high", "delta", "delta_low", "delta_high",
        "in_words",
    ]  # fmt: skip
    for of, sides in (("check", beside.checks), ("criterion", beside.criteria)):
        for side in sides:
            yield [of, side.name, beside.this.label, "", *_summed(side.this.summary)]
            for place, each in side.others.items():
                told = _compared(each.compared) if each.compared else []
                label = beside.others[place].label
                yield [of, side.name, label, beside.this.label, *_summed(each.summary), *told]


def _summed(group: Summary | NotAvailable) -> Line:
    if isinstance(group, NotAvailable):
        return [0, None, None, None]
    return [group.n, group.median, group.lower_quartile, group.upper_quartile]


def _compared(compared: Comparison) -> Line:
    found: Line = []
    for estimate in (compared.difference, compared.g, compared.delta):
        if isinstance(estimate, Estimate):
            found += [estimate.value, estimate.low, estimate.high]
        else:
            found += [None, None, None]
    return [*found, compared.words]


def _targets_out(beside: Beside, lines: Sequence[Missed]) -> Iterator[Line]:
    yield ["target", "cohort", "schemes", "missed", "met", "not_known", "not_asked"]
    for line in lines:
        for place, each in line.counts.items():
            cohort = beside.cohorts[place]
            counts = [each.missed, each.met, each.unknown, each.not_asked]
            yield [line.title, cohort.label, len(cohort.record.schemes), *counts]


def _comments_out(beside: Beside) -> Iterator[Line]:
    yield ["by", "about", "kind", "cohort", "comments", "schemes"]
    records = [cohort.record for cohort in beside.cohorts]
    for by, lines in (
        ("criterion", by_criterion(records)),
        ("square", by_place(records)),
        ("target", by_target(records)),
    ):
        for line in lines:
            for place, each in line.times.items():
                label = beside.cohorts[place].label
                yield [by, line.about, line.kind, label, each.comments, each.schemes]


def _spread_out(beside: Beside, lines: Sequence[Widest]) -> Iterator[Line]:
    yield [
        "criterion",
        "cohort",
        "mean_spread",
        "two_levels_apart",
        "schemes",
        "severity_taken_out",
    ]
    for line in lines:
        for place, spread in line.spreads.items():
            if isinstance(spread, Spread):
                is_out = "no" if line.is_raw[place] else "yes"
                label = beside.cohorts[place].label
                yield [line.name, label, spread.mean, spread.apart, spread.of, is_out]


def failures_out(beside: Beside, seen: QuerySet[Revision]) -> Iterator[Line]:
    """The failures drawer, whole."""
    yield ["kind", "cohort", "scheme", "what", "why", "became", "sheet", "revision"]
    drawer = failures([cohort.record for cohort in beside.cohorts], seen)
    for kind, held in drawer.kinds.items():
        for each in held:
            yield [kind, beside.cohorts[each.place].label, *_failure(each)]


def _failure(each: Failure) -> Line:
    letter = each.revision[1] if each.revision else ""
    return [each.scheme, each.what, each.why, each.became, each.sheet, letter]
