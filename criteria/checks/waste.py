"""Waste: how long a full house takes to fill each kind of tank."""

from functools import partial

from criteria.checks.check import Check
from criteria.checks.water import own_fixtures, usable, used_by_fixtures
from criteria.findings import Amount, Measured, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.water import Tank
from criteria.sources import EXCRETA, PRACTICE, Citation
from criteria.units import DAYS, LITRES, LITRES_A_DAY

USUAL_URINE_M3_PD = 0.0012
"""Urine of one person and day in a temperate climate [m³/day]. WHO 1992, chapter 5."""
USUAL_SOLIDS_M3_PD = 0.00025
"""Solids with paper and cover, of one person and day [m³/day]. Common practice."""

_CAUTION = "Waste is handled and emptied as local health rules ask."


def _rate(package: Package, holds: str, usual: float) -> tuple[float, tuple[Step, ...]]:
    """Return what each person gives in a day [m³/s] and where that comes from."""
    if holds == "black":
        made = used_by_fixtures(package, "black")
        return made.values[0], made.steps
    typed = package.site.unless_blank(f"{holds}_m3_pd")
    if typed is None and usual:
        words = "{} each taken as usual: the site sheet says none"
        return usual, (Step(words, (Amount(usual, LITRES_A_DAY),)),)
    return getattr(package.site, f"{holds}_m3_pd"), ()


def _days(holds: str, usual: float, package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if holds == "black" and not any(tank.holds == "black" for tank in package.rows_of(Tank)):
        return []
    rate, notes = _rate(package, holds, usual)
    if not rate:
        return []
    total, steps = usable(package, holds)
    people = package.people
    value = water.waste_days(total, people, rate)
    amounts = (Amount(total, LITRES), people, Amount(rate, LITRES_A_DAY), Amount(value, DAYS))
    last = Step("{} ÷ ({} people × {}) = {}", amounts)
    own = own_fixtures(package, holds, total, rate) if holds == "grey" else ()
    return [Measured(values=(value,), steps=(*steps, last), notes=(*notes, *own))]


def _check(holds: str, title: str, question: str, citation: Citation, usual: float = 0.0) -> Check:
    source = "the fixture schedule" if holds == "black" else "the brief"
    return Check(
        slug=f"{holds}_days",
        title=title,
        topic="Water and waste",
        scales=(DAYS,),
        measure=partial(_days, holds, usual),
        schedules=("tanks", "site", *(("fixtures",) if holds in ("grey", "black") else ())),
        is_monotone=True,
        by_people=True,
        formula="t = Σ(V · s) ÷ (n · q)",
        meaning=f"V nominal volume of a {holds} tank [L]; s usable share [1]; n people in the "
        f"brief; q {holds} of each person and day, by {source} [L/day]",
        citations=(citation,),
        limits="Full house every day. Nothing is emptied, evaporates or soaks away.",
        question=question,
        caution=_CAUTION,
    )


WASTE_CHECKS = (
    _check(
        "grey",
        "Grey tank days",
        "The grey tank fills in {value}, against {target}. Where does the next litre go?",
        PRACTICE,
    ),
    _check(
        "urine",
        "Urine tank days",
        "The urine tank fills in {value}, against {target}. Who takes it away, and how?",
        EXCRETA,
        USUAL_URINE_M3_PD,
    ),
    _check(
        "solids",
        "Solids days",
        "The solids tank fills in {value}, against {target}. Who carries it out, how far, in what?",
        PRACTICE,
        USUAL_SOLIDS_M3_PD,
    ),
    _check(
        "black",
        "Black tank days",
        "The black tank fills in {value}, against {target}. Where is it emptied, and by whom?",
        PRACTICE,
    ),
)
