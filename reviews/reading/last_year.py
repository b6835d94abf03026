"""Last year's figures beside this year's targets: how many schemes met each, and by how much.

As computed from check sheets as they were issued for last year's final crit. Who had no data, was
not asked or issued nothing is counted as that, in no share and no median.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import median

from criteria.findings import State
from criteria.scoring.levels import shown
from reviews.models import Crit, StoredFinding, Studio
from reviews.reading.crit_sheets import judged_revisions

PLACES = 2

Asked = tuple[str, str, str]
"""What a target is: its check's slug, the uses of rooms it is asked of, and its rule."""


@dataclass(frozen=True)
class TargetFigures:
    """What became of one target in a cohort.

    of        schemes that weren't withdrawn
    states    how many findings ended in each state
    ratios    figure over target, or target over figure for at most, of those that have one
    """

    of: int
    states: Mapping[str, int]
    ratios: tuple[float, ...]

    @property
    def met(self) -> int:
        """How many met it."""
        return sum(n for state, n in self.states.items() if State(state).is_met)

    @property
    def words(self) -> str:
        """In words: 9 of 14 met, 2 without data; median ratio to the target 1.04 of 12."""
        told = [f"{self.met} of {self.of} met"]
        told += [f"{n} {said}" for n, said in self._others if n]
        if self.ratios:
            ratio = shown(median(self.ratios), PLACES)
            told.append(f"median ratio to the target {ratio} of {len(self.ratios)}")
        return ", ".join(told)

    @property
    def _others(self) -> list[tuple[int, str]]:
        nothing = self.of - sum(self.states.values())
        return [
            (self.states.get(State.NO_DATA, 0), "without data"),
            (self.states.get(State.NOT_ASKED, 0), "not asked"),
            (nothing, "issued nothing that it was asked of"),
        ]


@dataclass(frozen=True)
class LastYear:
    """The studio that another follows, its final crit, and its figures by target."""

    studio: Studio
    crit: Crit | None
    by_ref: Mapping[tuple[Asked, str], TargetFigures]

    def of(self, asked: Asked, ref: str) -> TargetFigures | None:
        """Those of the target of the same reference, else of the only one that asks the same."""
        if found := self.by_ref.get((asked, ref)):
            return found
        same = [figures for (each, _), figures in self.by_ref.items() if each == asked]
        return same[0] if len(same) == 1 else None


def last_year(studio: Studio) -> LastYear | None:
    """Read the studio that another follows; None where it follows none."""
    before = studio.follows
    if before is None:
        return None
    crit = before.crits.filter(kind=Crit.Kind.FINAL).order_by("-day", "-pk").first()
    return LastYear(before, crit, _figures(before, crit) if crit else {})


def _figures(studio: Studio, crit: Crit) -> dict[tuple[Asked, str], TargetFigures]:
    of = studio.schemes.standing().count()
    findings = StoredFinding.objects.filter(revision__in=judged_revisions(crit)).exclude(ref="")
    rows = findings.values_list("check_slug", "uses", "rule", "ref", "state", "ratio")
    found: dict[tuple[Asked, str], list[tuple[str, float | None]]] = defaultdict(list)
    for slug, uses, rule, ref, state, ratio in rows:
        found[(slug, uses, rule), ref].append((state, ratio))
    return {key: _counted(of, held) for key, held in found.items()}


def _counted(of: int, held: Iterable[tuple[str, float | None]]) -> TargetFigures:
    held = list(held)
    known = [ratio for state, ratio in held if State(state).is_met or State(state).is_missed]
    ratios = tuple(ratio for ratio in known if ratio is not None)
    return TargetFigures(of, Counter(state for state, _ in held), ratios)
