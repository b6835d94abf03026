"""Closed-form moments against the integrals that they stand for."""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad

from criteria.daylight.moments import corner_first, corner_second, over_rectangles

COSINE = {"n": lambda D, a, b: D, "a": lambda D, a, b: a, "b": lambda D, a, b: b}


def by_quadrature(D, edges, axes):
    """Integrate the product of cosines along `axes` over the rectangle's directions."""
    a0, a1, b0, b1 = edges

    def integrand(b, a):
        R = math.sqrt(D * D + a * a + b * b)
        cosines = math.prod(COSINE[axis](D, a, b) / R for axis in axes)
        return cosines * D / R**3  # the last two factors: solid angle of dA at distance R

    return dblquad(integrand, a0, a1, b0, b1, epsabs=1e-12, epsrel=1e-10)[0]


def closed(corner, D, edges):
    a0, a1, b0, b1 = edges
    a, b = np.array([[a0], [a1]]), np.array([[b0, b1]])
    return float(over_rectangles(corner(D, a, b))[0, 0])


RECTANGLES = [
    (0.7, (-0.4, 1.1, 0.05, 1.2)),
    (2.3, (0.3, 2.0, -0.8, 0.6)),
    (0.05, (-1.0, 1.0, 0.2, 0.9)),
]


@pytest.mark.parametrize(("D", "edges"), RECTANGLES)
@pytest.mark.parametrize("axis", ["n", "a", "b"])
def test_first_moment_is_its_integral(D, edges, axis):
    exact = by_quadrature(D, edges, axis)
    ours = closed(lambda *at: corner_first(axis, *at), D, edges)
    assert ours == pytest.approx(exact, rel=1e-7, abs=1e-10)


@pytest.mark.parametrize(("D", "edges"), RECTANGLES)
@pytest.mark.parametrize(
    ("axis", "up"), [("n", "n"), ("a", "n"), ("b", "n"), ("n", "b"), ("a", "b"), ("b", "b")]
)
def test_second_moment_is_its_integral(D, edges, axis, up):
    exact = by_quadrature(D, edges, axis + up)
    ours = closed(lambda *at: corner_second(axis, up, *at), D, edges)
    assert ours == pytest.approx(exact, rel=1e-7, abs=1e-10)


def test_the_whole_half_space_has_its_textbook_moments():
    edges = (-1e7, 1e7, -1e7, 1e7)
    assert closed(lambda *at: corner_first("n", *at), 1.0, edges) == pytest.approx(math.pi)
    second = closed(lambda *at: corner_second("n", "n", *at), 1.0, edges)
    assert second == pytest.approx(2 * math.pi / 3)


def test_a_square_facing_a_point_has_the_printed_configuration_factor():
    # Configuration factor of a rectangle from below its corner, sides a = b = D:
    # F = (1/2π) 2 (1/√2) atan(1/√2) = 0.1385 (Howell, catalogue of configuration factors, B-3;
    # formula from memory, evaluated by hand)
    factor = closed(lambda *at: corner_first("n", *at), 1.0, (0.0, 1.0, 0.0, 1.0)) / math.pi
    assert factor == pytest.approx(0.1385, abs=5e-5)
