"""What a check is."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from criteria.checks.reading import measured
from criteria.findings import ON_THE_LINE, Measured, Rule
from criteria.package import Package
from criteria.situations import measured_in
from criteria.sources import Citation
from criteria.units import COUNT, SLOPE, Scale

Measure = Callable[[Package, tuple[str, ...]], Sequence[Measured]]
"""Measures each subject of a package, for rooms of some uses (none named: the check's own)."""


@dataclass(frozen=True, kw_only=True)
class Check:
    """One line of the catalogue.

    slug        its name in files and addresses
    title       its name on screen
    topic       which part of the building it is about
    scales      how its figures are shown, one for each part; counts where it doesn't say
    part_names  a name for each part, where there is more than one
    schedules   slugs of the schedules it reads
    uses        uses of the rooms it looks at where a target names none; () is every room
    rule        the side that is usually asked for, which decides the worst subject
    is_monotone whether each of its figures only rises or only falls with each cell that it asks
                for: where the ends of what a blank cell may hold all miss a target, so does
                everything between
    near        how near its target a figure is on the line, as a share of it [1]; 0 where a share
                means nothing, as of a temperature
    formula     the formula in the symbols of `meaning`
    meaning     what the symbols mean, with units
    limits      what the method leaves out
    question    what a juror may ask; takes {name}, {value} and {target}, and where there are
                several parts {values[0]}, {targets[0]} and so on; of "all", {value} names
                those that don't hold
    question_over  the same, of a figure over an upper bound beside an at-least target
    caution     the safety caution, where the subject can hurt someone
    kinds       kinds of state in which it is asked; () is the building as built
    by_people   whether it is asked for each people case of the brief
    is_yearly   whether it runs a year by the hour: measured where a brief asks for it, and on the
                year's own page
    is_untried  whether nobody has held its figures to buildings yet: they are shown, and judge
                nothing
    """

    slug: str
    title: str
    topic: str
    measure: Measure
    schedules: tuple[str, ...]
    formula: str
    meaning: str
    citations: tuple[Citation, ...]
    limits: str
    question: str
    scales: tuple[Scale, ...] = (COUNT,)
    part_names: tuple[str, ...] = ("",)
    uses: tuple[str, ...] = ()
    rule: Rule = Rule.AT_LEAST
    near: float = ON_THE_LINE
    is_monotone: bool = False
    question_over: str = ""
    caution: str = ""
    kinds: tuple[str, ...] = ()
    by_people: bool = False
    is_yearly: bool = False
    is_untried: bool = False

    @property
    def is_count(self) -> bool:
        """Whether to equal a target is to meet it: of whole numbers, and of the slope of a ramp."""
        return self.scales[0] in (COUNT, SLOPE)

    @property
    def takes_rooms(self) -> bool:
        """Whether a target for it may name uses of rooms."""
        return bool(self.uses)

    def of(self, package: Package, uses: tuple[str, ...] = (), in_case: str = "") -> list[Measured]:
        """Measure each subject in every situation it is asked in; what lacks a cell says which."""

        def figure(there: Package) -> list[Measured]:
            return measured(lambda: self.measure(there, uses))

        return measured_in(package, self.kinds, self.by_people, figure, in_case)
