"""The answer, lettered at the head of a drawing: the figure, what it is held to, its state."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from criteria.drawing.drawing import Field, Figure
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Lettering
from criteria.drawing.pens import Tone
from criteria.drawing.picture import Seen
from criteria.findings import Amount, Part, State

SIDE_MM, APART_MM, LINE_MM = 2.0, 3.0, 4.4
HEAD_MM = ANSWER_MM + 3.4
"""What one line of it takes at the head of a drawing [mm]."""


@dataclass(frozen=True)
class Answer:
    """Its letters, its figures, what it says in one line, and how much of the paper it takes."""

    letters: tuple[Lettering, ...]
    figures: tuple[Figure, ...]
    says: str
    height_mm: float


def finer(seen: Seen, amount: Amount, field: Field) -> int:
    """Return how much finer than usual a figure is lettered, to be told from its limits."""
    limit = seen.asked.limit
    part = Part(
        name="",
        scale=amount.scale,
        value=amount.si,
        target=limit.si if limit else None,
        state=seen.asked.state,
    )
    return part.finer(field.system)


def answer(seen: Seen, field: Field) -> Answer:
    """Letter the answer of what is asked; over a schedule that nothing is asked of, its figure."""
    asked, tone = seen.asked, seen.asked.tone
    said = _value(seen, field)
    parts = [(fitted(said, ANSWER_MM, field.width_mm - 2 * SIDE_MM), ANSWER_MM, tone)]
    figures: list[Figure] = []
    if asked.amount is not None:
        figures.append(Figure(what=asked.title, amount=asked.amount, lettered=said))
    more = 0 if asked.amount is None else finer(seen, asked.amount, field)
    for rule, limit in _limits(seen):
        words = f"{rule} {limit.scale.write(limit.si, field.system, more)}"
        figures.append(Figure(what=f"Asked, {rule}", amount=limit, lettered=words))
        parts.append((words, LEAST_MM, Tone.INK))
    if asked.state is not State.NOT_ASKED:
        is_met = asked.state is State.MEETS
        parts.append((asked.state.word, LEAST_MM, Tone.MEETS if is_met else tone))
    letters = tuple(_lines(parts, field))
    says = ", ".join(words for words, _, _ in [(said, 0, 0), *parts[1:]])
    lines = len({letter.at[1] for letter in letters})
    return Answer(letters, tuple(figures), f"{says}.", HEAD_MM + (lines - 1) * LINE_MM)


def _value(seen: Seen, field: Field) -> str:
    asked = seen.asked
    if asked.amount is not None:
        more = finer(seen, asked.amount, field)
        return asked.amount.scale.write(asked.amount.si, field.system, more)
    is_said = asked.measured.values or asked.state is State.NOT_ASKED
    shown = asked.measured.shown if is_said and asked.state is not State.NO_DATA else ""
    return shown or "not known"


def _limits(seen: Seen) -> Iterator[tuple[str, Amount]]:
    """What it is held to, each with the side that is asked for."""
    limit, finding = seen.asked.limit, seen.findings.get(seen.check)
    if limit is None or finding is None:
        return
    yield str(finding.rule), limit
    if finding.not_over is not None:
        yield "not over", Amount(finding.not_over, limit.scale)


def _lines(parts: list[tuple[str, float, Tone]], field: Field) -> Iterator[Lettering]:
    """Set words in a row, and go on in the next line where there is no more room."""
    x, y = SIDE_MM, ANSWER_MM + 0.6
    for words, cap_mm, tone in parts:
        wide = width_mm(words, cap_mm)
        if x > SIDE_MM and x + wide > field.width_mm - SIDE_MM:
            x, y = SIDE_MM, y + LINE_MM
        is_strong = cap_mm == ANSWER_MM
        yield Lettering(words=words, at=(x, y), cap_mm=cap_mm, tone=tone, is_strong=is_strong)
        x += wide + APART_MM
