"""Columns of the tables of a book of evidence, and which of them name a line of another table."""

from __future__ import annotations

from reviews.exchange.described import Head, Leads, Type
from reviews.models.crits import LEVELS

LEVEL, LEVEL_UNIT = range(1, len(LEVELS) + 1), "level"

CRIT = Head(name="crit", label="Crit", is_required=True)
SCHEME = Head(name="scheme", label="Scheme", is_required=True)
REVISION = Head(name="revision", label="Revision", is_required=True)
CODE = Head(name="code", label="Code of the criterion")
JUROR = Head(name="juror", label="Juror")
COMMENT = Head(name="comment", label="Comment", help="Its place in the list.", type=Type.WHOLE)


def texts(*names: str) -> tuple[Head, ...]:
    """Columns of words, each named for its label."""
    return tuple(Head(name=name.replace(" ", "_"), label=name.capitalize()) for name in names)


def whole(name: str, label: str, unit: str = "", least: float | None = 0) -> Head:
    """A column of counts."""
    return Head(name=name, label=label, type=Type.WHOLE, unit=unit, least=least)


def figure(name: str, label: str, unit: str = "", help_: str = "") -> Head:
    """A column of figures."""
    return Head(name=name, label=label, type=Type.FIGURE, unit=unit, help=help_)


GIVEN = Head(
    name="level",
    label="Level",
    help="Blank where there is none; the word says why.",
    type=Type.WHOLE,
    unit=LEVEL_UNIT,
    least=LEVEL[0],
    most=LEVEL[-1],
)
DESCRIPTORS = tuple(Head(name=f"level_{n}", label=f"Level {n}") for n in LEVEL)
COUNTS = tuple(
    whole(f"level_{n}", f"Level {n}, {word}") for n, word in zip(LEVEL, LEVELS, strict=True)
)

OF_CRIT = Leads(heads=["crit"], to="crits", by=["crit"])
OF_CODE = Leads(heads=["crit", "code"], to="criteria", by=["crit", "code"])
OF_SCHEME = Leads(heads=["scheme"], to="schemes", by=["scheme"])
OF_REVISION = Leads(heads=["scheme", "revision"], to="revisions", by=["scheme", "revision"])
OF_COMMENT = Leads(
    heads=["crit", "scheme", "comment"], to="comments", by=["crit", "scheme", "comment"]
)
IN_FILE = Leads(heads=["path"], to="files", by=["path"])
