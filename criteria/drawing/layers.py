"""Wall, roof and floor as they are drawn: layers from outside in, and what a limit lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from operator import itemgetter

from criteria.checks.envelope import part_resistance
from criteria.drawing.marks import Gap
from criteria.drawing.picture import Seen
from criteria.errors import InputError
from criteria.findings import Amount, Finding, State
from criteria.measures.envelope import missing_thickness
from criteria.package import Package
from criteria.schedules.envelope import PARTS, Layer
from criteria.typed.cells import Lacking

ASSUMED_M = 0.02
"""How thick a layer is drawn that says no thickness [m]; it is dashed."""
MOST_LAYERS = 12
"""Layers of a part that are drawn; more are named."""


@dataclass(frozen=True, kw_only=True)
class Skin:
    """One layer as it is drawn: [m], [W/mK], [m²K/W]; None where it isn't given or not counted."""

    name: str
    thick_m: float | None
    conducts: float | None
    resistance: float | None
    framing: float
    gap: Gap | None


@dataclass(frozen=True, kw_only=True)
class BuildUp:
    """A part of the envelope: its layers from outside in, and how its U-value stands.

    missing_m   how much more the limit wants of the layer that conducts least, which is named
    enough_m    how much of that layer the limit wants, where it is met with some to spare
    over        how many layers aren't drawn
    """

    part: str
    skins: tuple[Skin, ...]
    finding: Finding | None
    missing_m: float
    enough_m: float
    missing_of: str
    over: int

    @property
    def thick_m(self) -> float:
        """How thick it is drawn, with what is missing [m]."""
        return self.missing_m + sum(skin.thick_m or ASSUMED_M for skin in self.skins)


def build_ups(seen: Seen) -> tuple[BuildUp, ...]:
    """Return the parts that have layers. Raises Lacking where rows can't be told from others."""
    rows = seen.package.rows_of(Layer)
    found = []
    for name in PARTS:
        own = [row for row in rows if row.if_given("part") == name]
        if own:
            found.append(_build_up(seen, name, own))
    return tuple(found)


def _build_up(seen: Seen, name: str, rows: Sequence[Layer]) -> BuildUp:
    finding = seen.findings.get(f"{name}_u")
    resistances = _resistances(seen.package, name, rows)
    skins = [_skin(row, resistances.get(id(row))) for row in rows]
    counted = [(skin.conducts, skin.name, skin.thick_m) for skin in skins if skin.conducts]
    best, called, thick = min(counted, key=itemgetter(0), default=(0.0, "", None))
    missing = enough = 0.0
    is_plain = not any(skin.framing for skin in skins)
    if is_plain and finding and finding.value and finding.target:
        more = missing_thickness(1 / finding.value, finding.target, best)
        missing = more if finding.state is State.OVER else 0.0
        enough = thick + more if thick and finding.state is State.MEETS else 0.0
    return BuildUp(
        part=name,
        skins=tuple(skins[:MOST_LAYERS]),
        finding=finding,
        missing_m=missing,
        enough_m=max(0.0, enough),
        missing_of=called,
        over=max(0, len(skins) - MOST_LAYERS),
    )


def _resistances(package: Package, name: str, rows: Sequence[Layer]) -> dict[int, float]:
    """The resistance of each layer that counts, as the working of its U-value has it."""
    try:
        steps = part_resistance(package, name).steps
    except (Lacking, InputError):
        return {}
    counted = [row for row in rows if row.typed("lambda_w_mk") is not None]
    amounts = [step.amounts[3] for step in steps[: len(counted)]]
    known = zip(counted, amounts, strict=True)
    return {id(row): each.si for row, each in known if isinstance(each, Amount)}


def _skin(row: Layer, resistance: float | None) -> Skin:
    name, thick = str(row.if_given("layer") or "layer"), row.typed("thickness_m")
    gap = None
    if thick is None:
        says = f"{row.part}, {name}: thickness not given"
        gap = Gap(schedule="envelope", mark="", column="mm", says=says)
    return Skin(
        name=name,
        thick_m=thick,
        conducts=row.typed("lambda_w_mk"),
        resistance=resistance,
        framing=row.typed("bridge_share") or 0.0,
        gap=gap,
    )
