"""How many people a building serves: the most for which each target still holds."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from criteria.findings import Finding
from criteria.package import Package
from criteria.schedules.states import PeopleCase
from criteria.targets.reading import Target
from criteria.units import System

MOST_PEOPLE = 500
"""As many as are asked about: more than any small building serves."""


@dataclass(frozen=True)
class People:
    """A people case as the brief has it: how many, on how many days of a year; None is unread."""

    case: str
    people: int | None
    days: int | None
    is_held: bool


def people_of(package: Package) -> tuple[People, ...]:
    """Return the people cases of a package's brief, in its order; what is blank is None."""
    return tuple(
        People(
            row.case,
            row.if_given("people"),
            row.if_given("days"),
            row.if_given("is_held") is not False,
        )
        for row in package.leniently.cases
    )


def person_days(cases: Iterable[People]) -> int | None:
    """Return how many person-days a year comes to, Σ n · d; None where a case doesn't say."""
    total = 0
    for each in cases:
        if each.people is None or each.days is None:
            return None
        total += each.people * each.days
    return total


@dataclass(frozen=True)
class Served:
    """The most people for whom a target holds.

    people   [no.]; 0 where it holds for nobody, None where no number of people breaks it
    least    the fewest for whom it holds, where it is broken by few: water that stands [no.]
    at, beyond   the findings for that many and for one more; None where there is none
    missing  what lacks for an answer
    """

    ref: str
    title: str
    people: int | None = None
    least: int = 1
    at: Finding | None = None
    beyond: Finding | None = None
    missing: tuple[str, ...] = ()

    def write(self, system: System = System.METRIC) -> str:
        """Say what figure decides: “54 days for 3, 40 days for 4”."""
        found = [(self.people, self.at), ((self.people or 0) + 1, self.beyond)]
        return ", ".join(f"{f.write_value(system)} for {n}" for n, f in found if f)


Judge = Callable[[Package, Target], Finding]


def served(package: Package, targets: Iterable[Target], judge: Judge) -> tuple[Served, ...]:
    """Return for each target whose figure changes with people the most for whom it holds."""
    asked = [target for target in targets if target.check and target.check.by_people]
    found = (_served(package, replace(target, in_case=""), judge) for target in asked)
    return tuple(each for each in found if each is not None)


def decides(found: Sequence[Served]) -> Served | None:
    """Return what holds for the fewest, which is the number that a building serves.

    None where some target lacks what it needs, and none yet says nobody.
    """
    known = [each for each in found if each.people is not None]
    least = min(known, key=lambda each: (each.people or 0, each.ref), default=None)
    if any(each.missing for each in found) and (least is None or least.people):
        return None
    return least


def _served(package: Package, target: Target, judge: Judge) -> Served | None:
    asked: dict[int, Finding] = {}

    def of(n: int) -> Finding:
        if n not in asked:
            case = PeopleCase(case=str(n), people=n)
            asked[n] = judge(package.but(cases=(case,)), target)
        return asked[n]

    said = Served(target.ref, target.words)
    first = of(1)
    if first.missing or first.value is None:
        return replace(said, missing=first.missing)
    if first.value == of(MOST_PEOPLE).value:
        return None
    if not first.state.is_met:
        if not of(MOST_PEOPLE).state.is_met:
            return replace(said, people=0, beyond=first)
        least = _turn(lambda n: not of(n).state.is_met)
        return replace(said, least=least + 1)
    if of(MOST_PEOPLE).state.is_met:
        return said
    most = _turn(lambda n: of(n).state.is_met)
    return replace(said, people=most, at=of(most), beyond=of(most + 1))


def _turn(holds: Callable[[int], bool]) -> int:
    """Return the last number of which a thing holds that holds of 1 and not of the most."""
    low, high = 1, 2
    while high < MOST_PEOPLE and holds(high):
        low, high = high, min(2 * high, MOST_PEOPLE)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
