"""Buildings studied: how many, how many of them failed, and whether the lesson shows."""

from criteria.checks.check import Check
from criteria.findings import Measured, Step
from criteria.package import Package
from criteria.sources import PRACTICE
from criteria.units import COUNT


def _precedents(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = package.precedents
    failed = [row.mark for row in rows if row.has_failed]
    untraced = [row.mark for row in rows if not row.is_traced]
    traced = Step("without a lesson and a sheet: {}", (", ".join(untraced),))
    notes = (traced,) if untraced else ()
    which = f" ({', '.join(failed)})" if failed else ""
    step = Step("{} rows, of which {} failed{}", (len(rows), len(failed), which))
    return [Measured(values=(len(rows), len(failed)), steps=(step,), notes=notes)]


PRECEDENTS = Check(
    slug="precedents",
    title="Precedents, of which failed",
    topic="Precedents",
    scales=(COUNT, COUNT),
    part_names=("precedents", "of which failed"),
    measure=_precedents,
    schedules=("precedents",),
    formula="n, n_failed",
    meaning="n rows of the precedent schedule; n_failed those whose outcome says that they failed",
    citations=(PRACTICE,),
    limits="Counts rows; whether a lesson was learnt is for the jury.",
    question="Precedents: {values[0]}, of which {values[1]} failed; {targets[0]} and {targets[1]} "
    "are asked. What did failure teach you?",
)
