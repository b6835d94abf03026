"""What cohorts missed, were told again and again, and were judged apart on: counted by cohort.

The next brief starts from it. What isn't known of a target is counted as that, in no share.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from criteria.findings import State
from criteria.scoring.behaviour import Spread, spread_of
from criteria.scoring.cells import Cells
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.panel import Panel
from criteria.scoring.severity import analyse
from reviews.models import AlikeGroup, Comment, Scheme
from reviews.reading.cohort_comparing import paired
from reviews.reading.cohort_records import MOST_RECORDS, Record, Said, Target
from reviews.worked_out import Told, kept

FEWEST_SCHEMES = 2
"""What is said of fewer schemes isn't said again [no.]."""


@dataclass(frozen=True)
class Count:
    """What became of a target in one cohort: how many schemes missed it, met it, and the rest.

    unknown     no data, an odd value, or nothing issued that it was asked of
    not_asked   of these it wasn't asked, or it was set aside
    """

    missed: int
    met: int
    unknown: int
    not_asked: int

    @property
    def known(self) -> int:
        """Of how many schemes it is known."""
        return self.missed + self.met


@dataclass(frozen=True)
class Missed:
    """A target and what became of it, by the place of the cohort."""

    title: str
    counts: dict[int, Count]

    @property
    def missed(self) -> int:
        """In how many schemes of all cohorts it was missed."""
        return sum(each.missed for each in self.counts.values())

    @property
    def known(self) -> int:
        """Of how many it is known."""
        return sum(each.known for each in self.counts.values())

    @property
    def share(self) -> Fraction:
        """Missed of those known [1]; 0 where none is."""
        return Fraction(self.missed, self.known) if self.known else Fraction(0)


def most_missed(records: Sequence[Record]) -> list[Missed]:
    """Every target that a scheme missed or of which something isn't known, most missed first.

    Targets that are the same share a line, as they are compared.
    """
    lines: list[tuple[str, dict[int, Target]]] = []
    of_first = {id(target): n for n, target in enumerate(records[0].targets)}
    lines += [(target.title, {0: target}) for target in records[0].targets]
    alone: dict[tuple[str, ...], int] = {}
    for place, record in enumerate(records[1:], start=1):
        same = {id(theirs): of_first[id(mine)] for mine, theirs in paired(records[0], record)}
        for target in record.targets:
            n = same.get(id(target))
            if n is None:
                n = alone.setdefault((*target.asked, target.words), len(lines))
            if n == len(lines):
                lines.append((target.title, {}))
            if place in lines[n][1]:  # the same words twice in one brief
                n = len(lines)
                lines.append((target.title, {}))
            lines[n][1][place] = target
    found = [
        Missed(title, {place: _count(records[place], each) for place, each in by_place.items()})
        for title, by_place in lines
    ]
    told = [each for each in found if each.missed or any(c.unknown for c in each.counts.values())]
    return sorted(told, key=lambda each: (-each.share, -each.missed))


def _count(record: Record, target: Target) -> Count:
    states = [target.states.get(pk) for pk in record.schemes]
    missed = sum(state is not None and state.is_missed for state in states)
    met = sum(state is not None and state.is_met for state in states)
    not_asked = states.count(State.NOT_ASKED)
    return Count(missed, met, len(states) - missed - met - not_asked, not_asked)


@dataclass(frozen=True)
class Times:
    """How often something was said in a cohort, and of how many schemes."""

    comments: int
    schemes: int


@dataclass(frozen=True)
class Repeated:
    """What was said of several schemes, by the place of the cohort.

    about    criterion, place or target
    kind     of comment; blank where it is of any
    """

    about: str
    kind: str
    times: dict[int, Times]

    @property
    def schemes(self) -> int:
        """Of how many schemes of all cohorts it was said."""
        return sum(each.schemes for each in self.times.values())

    @property
    def comments(self) -> int:
        """How often it was said."""
        return sum(each.comments for each in self.times.values())


def by_criterion(records: Sequence[Record]) -> list[Repeated]:
    """Comments by criterion and kind, those of most schemes first."""
    return _repeated(records, lambda _, said: [(said.criterion, said.kind)])


def by_place(records: Sequence[Record]) -> list[Repeated]:
    """Comments by sheet and square."""
    return _repeated(records, lambda _, said: [(said.place, "")] if said.place else [])


def by_target(records: Sequence[Record]) -> list[Repeated]:
    """Comments by the target that their words name, as that cohort's brief calls it."""
    titles = [{target.ref: target.title for target in record.targets} for record in records]
    return _repeated(
        records, lambda n, said: [(titles[n][ref], "") for ref in said.refs if ref in titles[n]]
    )


def _repeated(
    records: Sequence[Record], keys: Callable[[int, Said], list[tuple[str, str]]]
) -> list[Repeated]:
    found: dict[tuple[str, str], dict[int, list[int]]] = defaultdict(lambda: defaultdict(list))
    for place, record in enumerate(records):
        for said in record.said:
            for key in keys(place, said):
                found[key][place].append(said.scheme)
    told = [
        Repeated(about, kind, {n: Times(len(of), len(set(of))) for n, of in by.items()})
        for (about, kind), by in found.items()
    ]
    often = [each for each in told if each.schemes >= FEWEST_SCHEMES]
    return sorted(often, key=lambda each: (-each.schemes, -each.comments, each.about, each.kind))


@dataclass(frozen=True)
class SaidAlike:
    """What a leader grouped as said alike under one heading, by the place of the cohort.

    jurors   how many said it of how many schemes
    """

    heading: str
    times: dict[int, tuple[int, int]]

    @property
    def jurors(self) -> int:
        """How many jurors said it, a juror of two schemes twice."""
        return sum(jurors for jurors, _ in self.times.values())


def said_alike(records: Sequence[Record]) -> list[SaidAlike]:
    """Groups of alike comments under the same heading, those of most jurors first; one query.

    Read whenever a page is: a leader may take a group apart, or hold a comment.
    """
    place_of = {record.crit_id: place for place, record in enumerate(records)}
    standing = Scheme.objects.standing()
    groups = AlikeGroup.objects.standing().filter(crit__in=place_of, scheme__in=standing)
    told = Comment.objects.released().not_held()
    members = AlikeGroup.comments.through.objects.filter(
        alikegroup__in=groups.exclude(heading=""), comment__in=told
    ).values_list(
        "alikegroup__heading", "alikegroup__crit_id", "alikegroup__scheme_id",
        "comment__jury_sheet_id",
    )  # fmt: skip
    called: dict[str, str] = {}
    found: dict[str, dict[int, tuple[set[int], set[int]]]] = {}
    for heading, crit, scheme, sheet in members.order_by("pk"):
        key = _heading(heading)
        called.setdefault(key, heading)
        sheets, schemes = found.setdefault(key, {}).setdefault(place_of[crit], (set(), set()))
        sheets.add(sheet)
        schemes.add(scheme)
    lines = [
        SaidAlike(called[key], {n: (len(of), len(schemes)) for n, (of, schemes) in by.items()})
        for key, by in found.items()
    ]
    return sorted(lines, key=lambda each: (-each.jurors, each.heading))


def headed(crits: Collection[int], heading: str) -> list[AlikeGroup]:
    """The groups that stand of some crits under a heading, however it is spaced."""
    groups = AlikeGroup.objects.standing().filter(crit__in=crits)
    return [group for group in groups if _heading(group.heading) == _heading(heading)]


def _heading(words: str) -> str:
    return " ".join(words.casefold().split())


@dataclass(frozen=True)
class Widest:
    """How far jurors lie apart on one criterion, by the place of the cohort.

    is_raw   of these, whether each juror's own severity couldn't be taken out
    """

    name: str
    spreads: dict[int, Spread | NotAvailable]
    is_raw: dict[int, bool]

    @property
    def apart(self) -> int:
        """In how many schemes of all cohorts jurors lie two levels apart or more."""
        return sum(each.apart for each in self._known)

    @property
    def of(self) -> int:
        """How many schemes two jurors or more judged."""
        return sum(each.of for each in self._known)

    @property
    def mean(self) -> float:
        """Mean spread over all of them [level]; 0 where there is none."""
        return sum(each.mean * each.of for each in self._known) / self.of if self.of else 0.0

    @property
    def _known(self) -> list[Spread]:
        return [each for each in self.spreads.values() if isinstance(each, Spread)]


def widest(records: Sequence[Told[Record]]) -> list[Widest]:
    """The first cohort's criteria by mean spread of their jurors, with each one's severity out.

    Of another cohort, where the criterion has the same words there.
    """
    spreads = [_spreads(record) for record in records]
    first = records[0].holds.criteria
    found = []
    for code, wording in first.items():
        same = [
            place
            for place, record in enumerate(records)
            if (theirs := record.holds.criteria.get(code)) and wording.is_same(theirs)
        ]
        told = {place: spreads[place].get(code, NOT_JUDGED) for place in same}
        found.append(
            Widest(
                str(wording),
                {place: spread for place, (spread, _) in told.items()},
                {place: is_raw for place, (_, is_raw) in told.items()},
            )
        )
    return sorted((each for each in found if each.of), key=lambda each: -each.mean)


NOT_JUDGED = NotAvailable("no scheme was judged"), True


@kept(MOST_RECORDS)
def _spreads(told: Told[Record]) -> dict[str, tuple[Spread | NotAvailable, bool]]:
    """The spread on each criterion, and whether it is raw."""
    record = told.holds
    weights = {code: wording.weight for code, wording in record.criteria.items()}
    if not record.given or not any(weights.values()):
        return {}
    panel = Panel(record.crit, dict(_levels(record)), weights)
    effects = _effects(panel)
    return {
        code: (spread_of(table, effects), effects is None)
        for code in weights
        if isinstance(table := panel.criterion(code), Cells)
    }


def _levels(record: Record) -> Iterator[tuple[tuple[str, str, str], Fraction]]:
    for (scheme, juror, code), level in record.given.items():
        yield (str(scheme), juror, code), Fraction(level)


def _effects(panel: Panel) -> dict[str, float] | None:
    """How each juror leans [level], or None where that can't be told from their schemes."""
    if isinstance(panel.totals, NotAvailable):
        return None
    severity = analyse(panel.totals)
    if isinstance(severity.components, NotAvailable):
        return None
    leans = severity.least_squares.jurors.tolist()
    return dict(zip(severity.cells.jurors, leans, strict=True))
