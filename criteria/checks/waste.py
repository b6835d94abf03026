"""Waste: how long a full house takes to fill each kind of tank."""

from functools import partial

from criteria.checks.check import Check, blank
from criteria.checks.water import usable
from criteria.findings import Amount, Measured, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.site import Site
from criteria.sources import EXCRETA, PRACTICE, Citation
from criteria.units import DAYS, LITRES, LITRES_A_DAY

USUAL_URINE_M3_PD = 0.0012
"""Urine of one person and day in a temperate climate [m³/day]. WHO 1992, chapter 5."""
USUAL_SOLIDS_M3_PD = 0.00025
"""Solids with paper and cover, of one person and day [m³/day]. Common practice."""

_CAUTION = "Waste is handled and emptied as local health rules ask."


def _days(
    holds: str, head: str, attribute: str, usual: float, package: Package, uses: tuple[str, ...]
) -> list[Measured]:
    total, steps, missing = usable(package, holds)
    site = package.site
    notes: tuple[Step, ...] = ()
    rate = getattr(site, attribute)
    if rate is None and usual:
        rate = usual
        words = "{} each taken as usual: the site sheet says none"
        notes = (Step(words, (Amount(usual, LITRES_A_DAY),)),)
    heads = ("people",) if rate is not None else ("people", head)
    missing = (*missing, *blank(Site.schedule, site, *heads))
    if missing:
        return [Measured(steps=steps, missing=missing, notes=notes)]
    if not rate:
        return []
    people = site.people or 0
    value = water.waste_days(total, people, rate)
    amounts = (Amount(total, LITRES), people, Amount(rate, LITRES_A_DAY), Amount(value, DAYS))
    last = Step("{} ÷ ({} people × {}) = {}", amounts)
    return [Measured(values=(value,), steps=(*steps, last), notes=notes)]


def _check(holds: str, title: str, question: str, citation: Citation, usual: float = 0.0) -> Check:
    return Check(
        slug=f"{holds}_days",
        title=title,
        topic="Water and waste",
        scales=(DAYS,),
        measure=partial(_days, holds, f"{holds}_l_pd", f"{holds}_m3_pd", usual),
        schedules=("tanks", "site"),
        formula="t = Σ(V · s) ÷ (n · q)",
        meaning=f"V nominal volume of a {holds} tank [L]; s usable share [1]; n people in the "
        f"brief; q {holds} of each person and day [L/day]",
        citations=(citation,),
        limits="Full house every day. Nothing is emptied, evaporates or soaks away.",
        question=question,
        caution=_CAUTION,
    )


GREY_DAYS = _check(
    "grey",
    "Grey tank days",
    "The grey tank fills in {value}, against {target}. Where does the next litre go on frozen "
    "ground?",
    PRACTICE,
)
URINE_DAYS = _check(
    "urine",
    "Urine tank days",
    "The urine tank fills in {value}, against {target}. Who takes it away, and how?",
    EXCRETA,
    USUAL_URINE_M3_PD,
)
SOLIDS_DAYS = _check(
    "solids",
    "Solids days",
    "The solids tank fills in {value}, against {target}. Who carries it out, how far, in what?",
    PRACTICE,
    USUAL_SOLIDS_M3_PD,
)
