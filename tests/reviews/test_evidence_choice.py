"""Which schemes a book of evidence is made of: by bands, by who passed, by a lot told to all."""

import hashlib
from fractions import Fraction

from reviews.models import Verdict
from reviews.reading.evidence_choice import Candidate, drawn, in_bands
from tests import factories


def candidate(number, figure, kind=""):
    verdict = Verdict(kind=kind) if kind else None
    scheme = factories.SchemeFactory.build(number=number, pk=int(number[1:]), studio=None)
    return Candidate(scheme, None if figure is None else Fraction(figure), "mean", verdict)


def test_bands_are_low_middle_and_high_and_what_has_no_figure_is_in_none():
    found = [candidate(f"H{n}", n) for n in (5, 1, 4, 2, 3)] + [candidate("H9", None)]
    assert in_bands(found, 1) == {1: "low", 3: "middle", 5: "high"}
    assert in_bands(found, 2) == {1: "low", 2: "low", 3: "middle", 4: "high", 5: "high"}
    assert in_bands(found[:1], 3) == {5: "low"}
    assert in_bands([], 1) == {}


def test_what_is_not_known_has_not_passed():
    assert not candidate("H1", 4).has_passed(None)
    assert not candidate("H1", 4, "again").has_passed(None)
    assert candidate("H1", 1, "corrections").has_passed(None)
    assert candidate("H1", 2, "again").has_passed(Fraction(2))
    assert not candidate("H1", None, "go-on").has_passed(Fraction(1))


def test_a_lot_is_told_and_drawn_again_by_anybody():
    numbers = [f"H{n:02}" for n in range(1, 15)]
    tickets = {n: hashlib.sha256(f"412 {n}".encode()).hexdigest() for n in numbers}
    assert drawn(reversed(numbers), 412, 4) == sorted(sorted(numbers, key=tickets.get)[:4])
    assert drawn(numbers, 412, 4) != drawn(numbers, 413, 4)
    assert drawn(numbers, 412, 99) == numbers
