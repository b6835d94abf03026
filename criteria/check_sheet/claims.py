"""Claims: what a sheet says, held against what the schedules give.

A claim differs where it is more favourable than the computed figure by more than two per
cent. One that is less favourable agrees: an honest shortfall is not a mistake.
"""

import re
from dataclasses import dataclass
from enum import StrEnum

from criteria.checks.catalogue import CHECKS
from criteria.checks.check import Check
from criteria.errors import Refused
from criteria.findings import SAME, Amount, Measured, Rule, State, Step
from criteria.package import Package
from criteria.schedules.claims import Claim
from criteria.targets.words import uses_in
from criteria.typed import quantities
from criteria.units import Scale, System

LEEWAY = 0.02
"""A claim this much better than the computed figure still agrees. Relative [1]."""


class ClaimResult(StrEnum):
    """What became of a claim."""

    AGREES = "agrees"
    DIFFERS = "claim_differs"
    NOT_COMPARED = "no_data"

    @property
    def word(self) -> str:
        """The result as it is said and printed."""
        return {
            ClaimResult.AGREES: "Agrees",
            ClaimResult.DIFFERS: State.CLAIM_DIFFERS.word,
            ClaimResult.NOT_COMPARED: "Can't be compared",
        }[self]


@dataclass(frozen=True, kw_only=True)
class ClaimFinding:
    """One claim beside what the schedules give.

    claimed, computed   figures, where both could be read [SI]
    name                the room or row that decides, where there is one
    why                 why it can't be compared, or what to know of the computed figure
    """

    about: str
    text: str
    sheet: str
    result: ClaimResult
    check: str = ""
    name: str = ""
    scale: Scale | None = None
    claimed: float | None = None
    computed: float | None = None
    why: tuple[Step, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether it is more favourable than what the schedules give."""
        return self.result is ClaimResult.DIFFERS

    def write_computed(self, system: System = System.METRIC) -> str:
        """Write what the schedules give, with its unit, or nothing."""
        if self.scale is None or self.computed is None:
            return ""
        return Amount(self.computed, self.scale).write(system)

    def write_why(self, system: System = System.METRIC) -> tuple[str, ...]:
        """Write why it can't be compared, or what to know of the computed figure."""
        return tuple(step.write(system) for step in self.why)


CLAIM_WORDS: tuple[tuple[str, str], ...] = (
    (r"\bgr[ea]y\b", "grey_days"),
    (r"\burine\b", "urine_days"),
    (r"\bsolids?\b", "solids_days"),
    (r"\bwater\b", "water_days"),
    (r"\bopenable\b|\bopening\b", "openable_ratio"),
    (r"\bglass\b|\bdaylight\b|\blight\b", "daylight_ratio"),
    (r"\bnight air\b|\bfresh air\b", "night_air"),
    (r"\bwarm(?:ing)?[- ]?up\b", "warm_up"),
    (r"\bwall\b", "wall_u"),
    (r"\broof\b", "roof_u"),
    (r"\bfloor u\b|\bfloor: u\b", "floor_u"),
    (r"\bheat\b", "heat_loss"),
    (r"\bbattery\b", "battery_days"),
    (r"\bpower\b", "power_ratio"),
    (r"\bramp\b", "ramp_length"),
    (r"\bdoors?\b", "step_free_doors"),
    (r"\bways? out\b", "ways_out"),
    (r"\bcrossings\b|\blifts\b", "lifts"),
    (r"\bheaviest\b|\bweight\b|\bmass\b", "piece_mass"),
    (r"\bstowage\b", "stowage_per_guest"),
    (r"\bchange\b", "change_of_use"),
    (r"\bprecedents\b", "precedents"),
    (r"\bper person\b", "floor_per_person"),
    (r"\bper sleeper\b", "floor_per_sleeper"),
    (r"\bfloor\b", "floor_area"),
)
"""Words of what a claim is about, and the check that it is about; the first found is taken."""

_NUMBER = re.compile(r"(?<![\w.])(\d[\d,]*(?:\.\d+)?|\.\d+)\s*([^\s\d,;.]+)?")
_ENOUGH = re.compile(r"\bfits\b|\b1\s*(?:in|:)\s*\d+\b", re.IGNORECASE)


def check_of(claim: Claim) -> Check | None:
    """Return the check that a claim is about, where the words name one."""
    words = f"{claim.about}: {claim.wording}".casefold()
    about = (claim.about or "").casefold()
    for text in (about, words):
        for pattern, slug in CLAIM_WORDS:
            if re.search(pattern, text):
                return CHECKS.get(slug)
    return None


def figure_of(wording: str, check: Check) -> float | None:
    """Return the figure that a claim asserts [SI], or None where none can be read.

    >>> figure_of("under 3.5 kW", CHECKS["heat_loss"])
    3500.0
    >>> figure_of("U 0.16", CHECKS["wall_u"])
    0.16
    """
    if check.slug == "ramp_length" and _ENOUGH.search(wording):
        return 1.0  # to say that it is 1 in 12 and fits is to say that it is long enough
    for number, unit in _NUMBER.findall(wording):
        for typed in (f"{number} {unit}", number):
            try:
                return float(quantities.read(typed.strip(), check.scales[0]).si)
            except Refused as refusal:
                if " is a" in refusal.expected.rpartition("(")[2]:
                    break  # a unit of another dimension: the bare number would mislead
    return None


def _worst(check: Check, measured: list[Measured]) -> Measured | None:
    known = [m for m in measured if m.values]
    sign = 1 if check.rule is Rule.AT_LEAST else -1
    return min(known, key=lambda m: sign * m.values[0], default=None)


def hold(package: Package, claim: Claim) -> ClaimFinding:
    """Hold one claim against what the schedules give."""
    said = {"about": claim.about or "", "text": claim.wording or "", "sheet": claim.sheet or ""}
    apart = ClaimResult.NOT_COMPARED
    check = check_of(claim)
    if check is None:
        return ClaimFinding(result=apart, why=(Step("no check computes it"),), **said)
    claimed = figure_of(claim.wording or "", check)
    uses = uses_in(claim.about or "") if check.takes_rooms else ()
    measured = check.of(package, uses)
    worst = _worst(check, measured)
    known = {"check": check.slug, "scale": check.scales[0], "claimed": claimed}
    if worst is None:
        cells = ", ".join(dict.fromkeys(cell for m in measured for cell in m.missing))
        why = Step("still needs {}", (cells,)) if cells else Step("no row to compare")
        return ClaimFinding(result=apart, why=(why,), **known, **said)
    computed = worst.values[0]
    found = {**known, "computed": computed, "name": worst.name, "why": worst.notes, **said}
    if claimed is None:
        found["why"] = (Step("no figure that reads as {}", (check.title.lower(),)),)
        return ClaimFinding(result=apart, **found)
    differs = is_more_favourable(claimed, computed, check.rule)
    return ClaimFinding(result=ClaimResult.DIFFERS if differs else ClaimResult.AGREES, **found)


def is_more_favourable(claimed: float, computed: float, rule: Rule) -> bool:
    """Tell whether a claim is better than a computed figure by more than two per cent.

    >>> is_more_favourable(1.02, 1.00, Rule.AT_LEAST), is_more_favourable(1.021, 1, Rule.AT_LEAST)
    (False, True)
    """
    better = claimed - computed if rule is Rule.AT_LEAST else computed - claimed
    return better > (LEEWAY + SAME) * abs(computed)


def hold_claims(package: Package) -> tuple[ClaimFinding, ...]:
    """Hold every claim of a package against its schedules."""
    return tuple(hold(package, claim) for claim in package.leniently.claims)
