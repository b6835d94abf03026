"""Glass by the angle of the sun: Fresnel and Bouguer, both polarisations."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.building import Glass
from criteria.hourly.panes import between_m2k_w, panes_of, solar_factor

CLEAR_PAIR = Glass(
    panes=2, between_m2k_w=0.1785, solar_factor=None, refractive_index=1.5207, absorbed_kl=0.09582
)


def test_a_clear_pair_lets_through_what_its_pane_figures_say():
    """Standard 140's pane: 0.834 through and 0.075 thrown back at right angles."""
    panes = panes_of(CLEAR_PAIR)
    angles = np.radians([0, 20, 40, 50, 60, 70, 80])
    through, outer, inner = panes.at(np.cos(angles))
    assert through == pytest.approx([0.6995, 0.696, 0.677, 0.652, 0.595, 0.462, 0.214], abs=2e-3)
    assert outer[:2] == pytest.approx([0.0967, 0.0991], abs=2e-4)
    assert inner[:2] == pytest.approx([0.0763, 0.078], abs=2e-4)
    assert panes.through_diffuse == pytest.approx(0.6105, abs=1e-3)
    assert panes.outer_diffuse == pytest.approx(0.1112, abs=1e-3)
    assert panes.inner_diffuse == pytest.approx(0.0794, abs=1e-3)


def test_one_pane_lets_through_what_its_own_figure_says():
    one = panes_of(replace(CLEAR_PAIR, panes=1, between_m2k_w=0.003))
    assert one.through[-1] == pytest.approx(0.834, abs=1e-3)
    kept = 1 - 0.834 - 0.075
    assert one.outer[-1] == one.inner[-1] == pytest.approx(kept / 2, abs=1e-3)


@pytest.mark.parametrize("panes", [1, 2, 3, 4])
def test_a_solar_factor_holds_at_right_angles_whatever_the_panes(panes):
    glass = Glass(panes=panes, between_m2k_w=0.4, solar_factor=0.5)
    assert solar_factor(glass) == pytest.approx(0.5)
    parts = panes_of(glass)
    assert (np.diff(parts.through) >= -1e-12).all()
    assert parts.through[0] == parts.outer[0] == parts.inner[0] == 0


def test_what_panes_take_up_counts_by_where_it_is_kept():
    pair = panes_of(CLEAR_PAIR)
    whole = 0.04 + 0.1785 + 0.13
    by_hand = pair.through[-1] + 0.04 / whole * pair.outer[-1] + 0.2185 / whole * pair.inner[-1]
    assert solar_factor(CLEAR_PAIR) == pytest.approx(by_hand)


def test_a_window_s_u_leaves_what_is_between_its_faces():
    assert between_m2k_w(1.0) == pytest.approx(0.83)
    assert between_m2k_w(7.0) == 0.005
