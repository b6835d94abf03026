"""Claims against values: the demo's table, then the two per cent, then what can't be read."""

from pathlib import Path

import pytest

from criteria.check_sheet.claims import (
    ClaimResult,
    figure_of,
    hold,
    hold_claims,
    is_more_favourable,
)
from criteria.checks.catalogue import CHECKS
from criteria.command.folder import read_folder
from criteria.findings import Rule
from criteria.package import Package
from criteria.schedules.claims import Claim
from criteria.schedules.moving import Piece

DATA = Path(__file__).parents[3] / "reviews" / "demo" / "data"

# The demo scenario's own table of claims, written before this code.
AGREES, DIFFERS, APART = ClaimResult.AGREES, ClaimResult.DIFFERS, ClaimResult.NOT_COMPARED
EXPECTED = {
    ("H03", "B"): (
        ("Water", "11.2 days", DIFFERS),
        ("Kitchen glass", "7.0 %", DIFFERS),
        ("Battery", "2.9 days", DIFFERS),
        ("Heat", "3,498 W", AGREES),
    ),
    ("H07", "A"): (
        ("Water", "0.0 days", DIFFERS),
        ("Wall", "0.578 W/m²K", DIFFERS),
        ("Battery", "2.4 days", DIFFERS),
        ("Warm-up", "", APART),
    ),
    ("H07", "B"): (
        ("Water", "9.4 days", AGREES),
        ("Wall", "0.161 W/m²K", AGREES),
        ("Battery", "3.0 days", AGREES),
        ("Warm-up", "", APART),
    ),
    ("E11", "C"): (
        ("Water", "10.2 days", DIFFERS),
        ("Cabin glass", "6.4 %", DIFFERS),
        ("Ramp", "0.80", DIFFERS),
        ("Crossings", "16", AGREES),
    ),
}


@pytest.mark.parametrize(("key", "expected"), EXPECTED.items())
def test_claims_of_the_demo(key, expected):
    package = read_folder(DATA, scheme=key[0], rev=key[1]).package
    found = [(c.about, c.write_computed(), c.result) for c in hold_claims(package)]
    assert found == list(expected)


@pytest.mark.parametrize(
    ("claimed", "rule", "differs"),
    [
        (10.2, Rule.AT_LEAST, False),
        (10.21, Rule.AT_LEAST, True),
        (9.0, Rule.AT_LEAST, False),
        (9.8, Rule.AT_MOST, False),
        (9.79, Rule.AT_MOST, True),
        (12.0, Rule.AT_MOST, False),
    ],
)
def test_two_per_cent_on_the_favourable_side_and_no_limit_on_the_other(claimed, rule, differs):
    assert is_more_favourable(claimed, 10.0, rule) is differs


@pytest.mark.parametrize(
    ("wording", "check", "figure"),
    [
        ("13 days at full house", "water_days", 13 * 86400),
        ("10.6 % of floor", "daylight_ratio", 0.106),
        ("under 3.5 kW", "heat_loss", 3500.0),
        ("U 0.16", "wall_u", 0.16),
        ("1,650 lb each", "piece_mass", 748.427),
        ("16", "lifts", 16.0),
        ("1 in 12, fits the deck", "ramp_length", 1.0),
    ],
)
def test_figures_as_sheets_write_them(wording, check, figure):
    assert figure_of(wording, CHECKS[check]) == pytest.approx(figure, rel=1e-5)


@pytest.mark.parametrize(
    ("wording", "check"),
    [("plenty", "water_days"), ("30 kg", "water_days"), ("long enough", "ramp_length")],
)
def test_a_figure_of_another_kind_is_not_guessed(wording, check):
    assert figure_of(wording, CHECKS[check]) is None


def test_what_is_blank_is_named_and_not_compared():
    package = Package(pieces=(Piece(mark="M1", n=1),))
    found = hold(package, Claim(about="Heaviest piece", wording="700 kg"))
    assert found.result is ClaimResult.NOT_COMPARED
    assert found.write_why() == ("still needs M1, kg each (piece schedule)",)
    assert found.claimed == 700


def test_a_claim_without_a_figure_says_what_could_not_be_read():
    package = Package(pieces=(Piece(mark="M1", n=1, mass_kg=700),))
    found = hold(package, Claim(about="Heaviest piece", wording="light enough"))
    assert found.result.word == "Can't be compared"
    assert found.write_why() == ("no figure that reads as heaviest piece",)
