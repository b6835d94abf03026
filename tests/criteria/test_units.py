import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from criteria import units
from criteria.units import THOUSANDS, UNITS, DecimalSign, Notation, Scale, System, Unit, rounded

SCALES = [value for value in vars(units).values() if isinstance(value, Scale)]


# NIST Handbook 44 (2024), Appendix C: the exact factors (figures from memory).
@pytest.mark.parametrize(
    ("unit", "si"),
    [
        (units.IN, "0.0254"),
        (units.FT, "0.3048"),
        (units.FT2, "0.09290304"),
        (units.FT3, "0.028316846592"),
        (units.GAL, "0.003785411784"),
        (units.LB, "0.45359237"),
        (units.MPH, "0.44704"),
    ],
)
def test_us_units_have_their_exact_published_factors(unit, si):
    assert unit.factor == Fraction(si)


# EPAct 1992 (10 CFR 430) fixture flows in gpm and L/min, as LEED v4 prints them: one decimal.
@pytest.mark.parametrize(
    ("gpm", "litres_a_minute"), [("2.5", "9.5"), ("2.2", "8.3"), ("0.5", "1.9")]
)
def test_gallons_a_minute_agree_with_the_printed_fixture_table(gpm, litres_a_minute):
    si = units.GPM.to_si(Fraction(gpm))
    assert rounded(units.L_MIN.from_si(si), 1) == litres_a_minute


# NIST SP 811 (2008), Appendix B.8, to the places shown (figures from memory).
@pytest.mark.parametrize(
    ("unit", "other", "printed", "places"),
    [
        (units.CFM, units.L_S, "0.471947", 6),
        (units.FOOTCANDLE, units.LUX, "10.7639", 4),
        (units.BTU_H, units.WATT, "0.29307", 5),
        (units.BTU_U, units.W_M2K, "5.67826", 5),
        (units.BTU_IN, units.W_MK, "0.14423", 5),
        (units.R_US, units.M2K_W, "0.17611", 5),
    ],
)
def test_factors_agree_with_the_printed_table_after_rounding(unit, other, printed, places):
    assert rounded(other.from_si(unit.to_si(Fraction(1))), places) == printed


# The two fixed points of the scales, and where they meet: definition of the degree Fahrenheit.
@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (-40, -40)])
def test_temperatures_keep_their_zero(celsius, fahrenheit):
    assert units.CELSIUS.to_si(Fraction(celsius)) == units.FAHRENHEIT.to_si(Fraction(fahrenheit))


def test_a_clause_that_prints_both_systems_rounds_to_what_it_prints():
    # IRC 2021 R304.1: 70 square feet (6.5 m²); R305.1: 7 feet (2134 mm)
    assert units.FLOOR.write(units.FT2.to_si(Fraction(70))) == "6.5 m²"
    assert units.LENGTH.write(units.FT.to_si(Fraction(7))) == "2\u202f134 mm"


def test_every_spelling_names_one_unit():
    names = [(name.lower(), u) for u in UNITS for name in {u.symbol, *u.spellings}]
    owners = {}
    for name, unit in names:
        assert owners.setdefault(name, unit) is unit, name


def test_both_units_of_a_scale_measure_the_same_thing():
    for scale in SCALES:
        assert scale.metric.dimension == scale.us.dimension == scale.dimension


@given(st.sampled_from(UNITS), st.fractions(max_denominator=10**6))
def test_to_si_and_back_is_exact(unit: Unit, number: Fraction):
    assert unit.from_si(unit.to_si(number)) == number


@pytest.mark.parametrize(
    ("number", "places", "written"),
    [
        (0.5, 0, "1"),
        (0.49999999, 0, "0"),
        (1.5, 0, "2"),
        (2.5, 0, "3"),
        (-2.5, 0, "-3"),
        (0.285, 2, "0.29"),
        (1.005, 2, "1.01"),
        (0.1 + 0.2, 1, "0.3"),
        (1234567.891, 2, "1,234,567.89"),
        (999.95, 1, "1,000.0"),
        (0, 2, "0.00"),
    ],
)
def test_halves_round_away_from_zero(number, places, written):
    assert rounded(number, places, System.US) == written
    assert rounded(number, places) == written.replace(",", "\u202f")


def test_what_rounds_to_nothing_has_no_sign():
    assert rounded(-0.001, 1) == "0.0"
    assert rounded(-0.05, 1) == "-0.1"


@given(st.decimals("-99999", "99999", places=4), st.integers(0, 4))
def test_rounding_agrees_with_decimal_arithmetic(number: Decimal, places: int):
    wanted = number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    written = rounded(float(number), places, None)
    assert Decimal(written) == wanted
    assert len(written.partition(".")[2]) == places


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_rounding_moves_a_figure_by_half_a_place_at_most(number: float, places: int):
    moved = abs(Fraction(rounded(number, places, None)) - Fraction(number))
    assert moved <= Fraction(1, 2 * 10**places) + Fraction(abs(number)) / 10**11


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_what_is_no_number_is_never_written(number):
    with pytest.raises(ValueError, match="only a finite number can be shown"):
        rounded(number, 1)


def test_a_scale_writes_either_system():
    assert units.LENGTH.write(1.3716) == "1\u202f372 mm"
    assert units.LENGTH.write(1.3716, System.US) == "4'-6\""
    assert units.DAYS.write(86_400 * 11.24, System.US) == "11.2 days"
    assert units.TEMPERATURE.write(255.15, System.US) == "-0.4 °F"


def test_a_degree_and_a_bare_number_stand_without_a_gap():
    assert units.ANGLE.write(46.7) == "47°"
    assert units.COUNT.write(4) == "4"


@given(st.sampled_from(SCALES), st.integers(-(10**6), 10**6), st.sampled_from(System))
def test_what_is_typed_at_the_scales_places_is_shown_as_typed(scale, steps, system):
    unit, places = scale.unit(system), scale.decimals(system)
    typed = Fraction(steps, 10**places)
    si = float(unit.to_si(typed))
    assert Fraction(scale.number(si, system).replace(THOUSANDS[system], "")) == typed


def test_a_reader_has_units_of_their_own_and_the_studios_decimal_sign():
    studios = Notation(decimal=DecimalSign.COMMA)
    readers = studios.read_in(System.US)
    assert (readers.system, readers.decimal) == (System.US, DecimalSign.COMMA)
    assert readers.kept == studios


@given(
    st.sampled_from(SCALES),
    st.floats(-1e5, 1e5),
    st.sampled_from((0.004, 0.02, 0.1)),
    st.sampled_from(System),
)
@example(units.CONDUCTIVITY, 0.0003, 0.02, System.METRIC)  # read 0.000 W/mK against 0.014
@example(units.DAYS, 9.96 * 86400, 0.004, System.METRIC)
def test_figures_that_differ_are_written_so_that_they_do(scale, si, apart, system):
    least = float(scale.unit(system).factor) / 10 ** scale.decimals(system)
    other = si + max(abs(si) * apart, 0.02 * least)
    more = units.told_apart(scale, (si, other), system)
    assert scale.write(si, system, more) != scale.write(other, system, more)
    # nor is what is something written as nothing
    digits = re.sub(r"[^1-9]", "", scale.number(si, system))
    assert digits or abs(si) < 0.001 * least or scale.unit(system).offset


def test_figures_that_are_one_are_written_as_usual():
    assert units.told_apart(units.DAYS, (86400.0, 86400.0 * (1 + 1e-12)), System.METRIC) == 0
    assert units.told_apart(units.DAYS, (), System.METRIC) == 0


def test_a_hair_is_drawn_finer_than_a_sixteenth():
    assert units.LENGTH.write(0.0004, System.US) == '1/32"'
    assert units.LENGTH.write(0.0, System.US) == '0"'
