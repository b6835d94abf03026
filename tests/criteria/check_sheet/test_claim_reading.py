"""What the words of a claim mean: check and figure, as sheets write them."""

import pytest

from criteria.check_sheet.claim_reading import CLAIM_WORDS, checks_named, figure_of
from criteria.checks.catalogue import CHECKS
from criteria.units import DecimalSign, Notation, System


@pytest.mark.parametrize(
    ("wording", "check", "figure"),
    [
        ("13 days at full house", "water_days", 13 * 86400),
        ("lasts eleven days", "water_days", 11 * 86400),
        ("two weeks", "urine_days", 14 * 86400),
        ("3 days, day and night", "battery_days", 3 * 86400),
        ("10.6 % of floor", "daylight_ratio", 0.106),
        ("under 3.5 kW", "heat_loss", 3500.0),
        ("3.5 kW (3\u202f500 W)", "heat_loss", 3500.0),
        ("U 0.16", "wall_u", 0.16),
        ("1,650 lb each", "piece_mass", 748.427),
        ("16", "lifts", 16.0),
        ("1 in 12, fits the deck", "ramp_length", 1.0),
        ("1:16", "ramp_slope", 1 / 16),
        ("8'-6\"", "clear_height", 2.5908),
        ("8′-6″ in the bunk rooms", "clear_height", 2.5908),
        ("4, one of which failed", "precedents", 4),
        ("10 L per person and day", "water_per_person_day", 0.01),
        ("20 % more than it uses", "power_ratio", 1.2),
        ("120 % of what it uses", "power_ratio", 1.2),
        ("13-day supply", "water_days", 13 * 86400),
        ("every bed", "lying_view", 0),
        ("U 0,16", "wall_u", 0.16),
        ("9,5 % of floor", "daylight_ratio", 0.095),
    ],
)
def test_figures_as_sheets_write_them(wording, check, figure):
    assert figure_of(wording, CHECKS[check]) == pytest.approx(figure, rel=1e-5)


def test_a_share_is_no_count():
    assert figure_of("50 % of the pieces", CHECKS["lifts"]) is None


@pytest.mark.parametrize(
    ("wording", "check"),
    [
        ("plenty", "water_days"),
        ("30 kg", "water_days"),
        ("long enough", "ramp_length"),
        ("9 to 10", "water_days"),
        ("10 days in summer, 8 days in winter", "water_days"),
        ("13 for 12 people", "water_days"),
        ("R 0", "wall_u"),
        ("1 in 0", "ramp_slope"),
        ("none of all", "lying_view"),
        ("as far as the lake", "lying_view"),
        ("", "water_days"),
        ("9" * 400, "water_days"),
    ],
)
def test_a_figure_of_another_kind_or_one_of_two_is_not_guessed(wording, check):
    assert figure_of(wording, CHECKS[check]) is None


@pytest.mark.parametrize(
    ("wording", "check", "figure"),
    [
        ("32", "step_free_doors", 0.8128),
        ("7,000", "heat_loss", 2051.5),
        ("0.03", "wall_u", 0.17035),
        ("30", "stowage_per_guest", 0.113562),
        ("815 mm", "step_free_doors", 0.815),
    ],
)
def test_a_bare_number_takes_the_studios_unit(wording, check, figure):
    assert figure_of(wording, CHECKS[check], Notation(System.US)) == pytest.approx(figure, rel=1e-4)


def test_a_figure_with_two_readings_in_the_studios_notation_is_not_guessed():
    comma = Notation(decimal=DecimalSign.COMMA)
    assert figure_of("1.200 kg", CHECKS["piece_mass"]) == pytest.approx(1.2)
    assert figure_of("1.200 kg", CHECKS["piece_mass"], comma) is None


@pytest.mark.parametrize(
    ("about", "wording", "slugs"),
    [
        ("Floor", "U 0.18", ["floor_u"]),
        ("Floor", "70 m²", ["floor_area"]),
        ("Water", "1,900 litres", ["water_days"]),
        ("Walls and roof", "U 0.15", ["wall_u", "roof_u"]),
        ("Loft", "12 m²", ["room_floor"]),
        ("Loft", "2 m² each", []),
        ("Attic", "12 m²", []),
        ("Loft", "nice", []),
        ("", "", []),
    ],
)
def test_checks_that_words_name(about, wording, slugs):
    assert [check.slug for check in checks_named(about, wording, ["Loft"])] == slugs


def test_every_line_of_words_names_a_check():
    assert {slug for _, _, slug in CLAIM_WORDS} <= set(CHECKS)
