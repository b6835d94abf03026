"""What a schedule's columns are: one definition for form, import, export, table, schema and help.

Each field of a row (criteria.typed.rows) is declared with one of the functions below, which say
everything that any reader of that column needs:

    sill_m: float = quantity("sill", LENGTH, within=(0, 9), eg="700").says(
        "Finished floor to the underside of the glass."
    )

The label is the head in words where none is given; `within` has the least and the most [SI],
None where it is open; `eg` is what a first row might hold; the rest are fields of Column.
"""

import difflib
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import Enum, StrEnum
from fractions import Fraction
from typing import Any

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.units import (
    COUNT,
    FINEST_PARTS,
    IN,
    PLAIN,
    Notation,
    Scale,
    System,
    feet_and_inches,
    rounded,
)

MOST_LISTED = 20
"""A message lists at most this many words that a column takes."""

LIMIT_SAID_WITHIN = 0.01
"""A limit is said in as few decimals as come this near to it. Relative [1]."""


class Blank(Enum):
    """What a blank cell means where its column doesn't say: nothing is known."""

    ASKED = "asked"


ASKED = Blank.ASKED
"""A blank cell of the column is a gap: whatever asks for it has no data."""


class Kind(StrEnum):
    """How a column's text is read."""

    MARK = "mark"
    TEXT = "text"
    WORD = "word"
    YES_NO = "yes_no"
    REFERENCE = "reference"
    COUNT = "count"
    QUANTITY = "quantity"


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column.

    head        heading in files, and key of a typed record
    label       heading on screen and in print
    scale       unit, places and dimension, for counts and quantities
    least, most limits of what a column can hold [SI], inclusive; None is open
    choices     the words that a WORD column takes
    also        other words that it takes for one of them, as people say them
    named       words that a QUANTITY column takes for a figure, with what they mean [SI]
    refers_to   slug of the schedule whose marks a REFERENCE column takes
    required    whether a blank cell is refused
    is_key      whether it is part of what tells its row from others: its mark, alone or with more
    blank       what a blank cell means; ASKED where it is a gap; a function of the row where
                that follows from its other cells
    help        one sentence for the person who fills it in
    example     what a first row might hold
    """

    head: str
    label: str
    kind: Kind
    help: str = ""
    scale: Scale | None = None
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()
    also: tuple[tuple[str, str], ...] = ()
    named: tuple[tuple[str, float], ...] = ()
    refers_to: str = ""
    required: bool = False
    is_key: bool = False
    blank: Any = ASKED
    example: str = ""
    longest: int = 200
    attribute: str = ""

    def says(self, help: str, **more: Any) -> Any:
        """Return the column with its help and, beside it, what a blank means (`blank=0.0`)."""
        return replace(self, help=help, **more)

    @property
    def is_number(self) -> bool:
        """Whether the column holds a figure (and so stands to the right)."""
        return self.scale is not None

    def unit(self, system: System = System.METRIC) -> str:
        """Return the symbol that stands in the column's head, or nothing."""
        return self.scale.unit(system).symbol if self.scale else ""

    def expected(self, system: System = System.METRIC) -> str:
        """Say in words what the column takes."""
        if self.kind is Kind.WORD:
            return self._one_of()
        if self.kind is Kind.YES_NO:
            return "yes or no"
        if self.kind is Kind.MARK:
            return "a mark of letters and digits, such as W3"
        if self.kind is Kind.REFERENCE:
            return f"a mark of the {self.refers_to} schedule"
        if self.scale is None:
            return f"text of at most {self.longest} characters"
        words = (
            "a whole number"
            if self.kind is Kind.COUNT
            else quantities.expected_words(self.scale, system)
        )
        named = (f"or {word}" for word, _ in self.named)
        return ", ".join((words, *named)) + self._limits(system)

    def _one_of(self, near: str = "") -> str:
        """Name the words it takes; of a long list only those nearest to what was read."""
        if len(self.choices) <= MOST_LISTED:
            return "one of: " + ", ".join(map(self.choice_said, self.choices))
        named = difflib.get_close_matches(near[:80], self.choices, 3) or self.choices[:3]
        return f"one of: {', '.join(named)} (and {len(self.choices) - len(named)} more)"

    def choice_said(self, choice: str) -> str:
        """Write a word that it takes with the others that mean it: side-hung (casement)."""
        others = ", ".join(other for other, meant in self.also if meant == choice)
        return f"{choice} ({others})" if others else choice

    def _limits(self, system: System) -> str:
        write = self._write_limit
        if self.least is not None and self.most is not None:
            return f", from {write(self.least, system, up=True)} to {write(self.most, system)}"
        if self.least is not None:
            return f", {write(self.least, system, up=True)} or more"
        return f", {write(self.most, system)} or less" if self.most is not None else ""

    def _write_limit(self, si: float, system: System, *, up: bool = False) -> str:
        """Write a limit in few figures, rounded inwards: what is said is never refused."""
        assert self.scale is not None
        exact_si, turn = Fraction(f"{si:.12g}"), math.ceil if up else math.floor

        def inwards(exact: Fraction, parts: Fraction) -> Fraction | None:
            said = turn(exact * parts) / parts
            return said if abs(said - exact) <= LIMIT_SAID_WITHIN * abs(exact) else None

        if self.scale.is_drawn(system):
            exact, parts = IN.from_si(exact_si), 1
            while parts < FINEST_PARTS and inwards(exact, Fraction(parts)) is None:
                parts *= 2
            return feet_and_inches(IN.to_si(Fraction(turn(exact * parts), parts)), parts)
        unit, places = self.scale.unit(system), self.scale.decimals(system)
        exact = unit.from_si(exact_si)
        if unit != self.scale.metric and exact:  # what is round in one system isn't in the other
            places = -math.floor(math.log10(abs(exact)))
        while (said := inwards(exact, Fraction(10) ** places)) is None:
            places += 1
        number = rounded(said, max(0, places), system)
        return (
            f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit.symbol}".strip()
        )

    def read(self, text: str, notation: Notation = PLAIN) -> Any:
        """Return the value of a cell in SI, or None where it is blank.

        Raises Refused where the text is not what the column takes.
        """
        text = text.strip()
        if not text or text in ("-", "–", "—"):
            if self.required:
                raise Refused(text or "nothing", self.expected(notation.system))
            return None
        return _READERS[self.kind](self, text, notation)

    def show(self, value: Any, system: System = System.METRIC) -> str:
        """Write a value as people of a system read it: drawn, else without the unit of its head."""
        if value is None:
            return ""
        if self.scale is not None:
            is_drawn = self.scale.is_drawn(system)
            return (self.scale.write if is_drawn else self.scale.number)(value, system)
        if self.kind is Kind.YES_NO:
            return "yes" if value else "no"
        return str(value)


def _read_mark(column: Column, text: str, notation: Notation) -> str:
    if not text.replace(".", "").replace("-", "").isalnum() or len(text) > 12:
        raise Refused(text, column.expected(notation.system))
    return text


def _read_text(column: Column, text: str, notation: Notation) -> str:
    if len(text) > column.longest:
        raise Refused(text, column.expected(notation.system))
    return text


def _read_word(column: Column, text: str, notation: Notation) -> str:
    folded = text.casefold()
    for said, choice in (*((each, each) for each in column.choices), *column.also):
        if said.casefold() == folded:
            return choice
    raise Refused(text, column._one_of(text))


def _read_yes_no(column: Column, text: str, notation: Notation) -> bool:
    folded = text.casefold()
    if folded in ("yes", "y", "true", "1", "x"):
        return True
    if folded in ("no", "n", "false", "0"):
        return False
    raise Refused(text, column.expected(notation.system))


def _read_count(column: Column, text: str, notation: Notation) -> int:
    try:
        quantity = quantities.read(text, COUNT, notation)
    except Refused:
        raise Refused(text, column.expected(notation.system)) from None
    if quantity.unit != COUNT.metric or quantity.si.denominator != 1:
        raise Refused(text, column.expected(notation.system))
    return int(_within(column, text, quantity.si, notation))


def _read_quantity(column: Column, text: str, notation: Notation) -> float:
    assert column.scale is not None
    named = {word.casefold(): means for word, means in column.named}
    if (word := text.casefold()) in named:
        return named[word]
    try:
        quantity = quantities.read(text, column.scale, notation)
    except Refused as refusal:
        raise Refused(text, column.expected(notation.system)) if named else refusal from None
    return float(_within(column, text, quantity.si, notation))


def _within(column: Column, text: str, si: Any, notation: Notation) -> Any:
    low = column.least is not None and float(si) < column.least
    high = column.most is not None and float(si) > column.most
    if low or high:
        raise Refused(text, column.expected(notation.system))
    return si


_READERS: Mapping[Kind, Callable[[Column, str, Notation], Any]] = {
    Kind.MARK: _read_mark,
    Kind.REFERENCE: _read_mark,
    Kind.TEXT: _read_text,
    Kind.WORD: _read_word,
    Kind.YES_NO: _read_yes_no,
    Kind.COUNT: _read_count,
    Kind.QUANTITY: _read_quantity,
}


def _column(kind: Kind, head: str, label: str, **more: Any) -> Any:
    label = label or head.replace("_", " ").capitalize()
    least, most = more.pop("within", (None, None))
    example = more.pop("eg", "")
    return Column(
        kind=kind, head=head, label=label, least=least, most=most, example=example, **more
    )


def mark(head: str = "mark", label: str = "Mark") -> Any:
    """Declare the row's own mark."""
    return _column(Kind.MARK, head, label, required=True, is_key=True, longest=12).says(
        "Short code of this row, unique in the schedule; use it on the plan."
    )


def key(head: str, to: str, label: str = "", **more: Any) -> Any:
    """Declare a mark of another schedule by which, with others such, the row is told."""
    return reference(head, to, label, required=True, is_key=True, **more)


def text(head: str, label: str = "", **more: Any) -> Any:
    """Declare a column of free words; nothing is computed of them, so that a blank is no gap."""
    return _column(Kind.TEXT, head, label, **{"blank": None, **more})


def word(head: str, choices: Iterable[str], label: str = "", **more: Any) -> Any:
    """Declare a column that takes one of a few words."""
    return _column(Kind.WORD, head, label, choices=tuple(choices), **more)


def yes_no(head: str, label: str = "", **more: Any) -> Any:
    """Declare a column of yes or no."""
    return _column(Kind.YES_NO, head, label, **more)


def reference(head: str, to: str, label: str = "", **more: Any) -> Any:
    """Declare a column that takes a mark of another schedule, by that one's slug."""
    return _column(Kind.REFERENCE, head, label, refers_to=to, **more)


def count(head: str, label: str = "", **more: Any) -> Any:
    """Declare a column of whole numbers."""
    return _column(Kind.COUNT, head, label, scale=COUNT, **{"within": (0, 999), **more})


def quantity(head: str, scale: Scale, label: str = "", **more: Any) -> Any:
    """Declare a column of figures with a unit."""
    return _column(Kind.QUANTITY, head, label, scale=scale, **more)
