"""Which drawing shows a check, and which stands over a schedule: what each is made of."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.pens import Tone
from criteria.findings import Amount, Finding, Measured, State
from criteria.package import Package


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What a drawing is made for: a figure, how it stands, and what it is held to.

    title       what it is of: "Way to each bed, U3"; empty of rows alone
    measured    as its check has it
    amount      its figure; None where it is no number
    limit       that it is held to; None without one
    state       of the figure; Not asked where it is held to nothing
    situation   in which state of the building
    """

    title: str
    measured: Measured
    amount: Amount | None = None
    limit: Amount | None = None
    state: State = State.NOT_ASKED
    situation: str = ""

    @property
    def tone(self) -> Tone:
        """The colour in which its figure stands."""
        if self.state.is_missed:
            return Tone.SHORT
        return Tone.NEAR if self.state is State.ON_THE_LINE else Tone.INK


@dataclass(frozen=True, kw_only=True)
class Seen:
    """What a drawing is made of.

    package    the rows, as they are in the state that is drawn
    check      the slug of the check that is drawn; empty where a schedule is
    asked      the figure that is picked out
    findings   those of the sheet, by the slug of their check: what a drawing letters of others
    """

    package: Package
    check: str
    asked: Asked
    findings: Mapping[str, Finding] = field(default_factory=dict)


@dataclass(frozen=True)
class Ready:
    """A drawing that is ready to be laid out for a field.

    says   the lines beside it, where they aren't the working of its figure
    """

    of: Callable[[Field], Drawing]
    says: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A kind of drawing.

    ready       makes it ready; None where the rows give nothing to draw
    checks      slugs of the checks that it shows
    schedules   slugs of the schedules that it stands over
    main        of the checks, the one drawn over a schedule where a brief asks for none of them;
                none of what is drawn of rows alone
    wants       what the rows must have before anything is drawn
    """

    ready: Callable[[Seen], Ready | None]
    wants: str
    checks: tuple[str, ...] = ()
    schedules: tuple[str, ...] = ()
    main: str = ""
