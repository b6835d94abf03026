import unicodedata
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from criteria import units
from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.quantities import LONGEST, expected_words, is_bare, plain, read, with_unit
from criteria.units import FT, IN, PLAIN, UNITS, DecimalSign, Notation, Scale, System

_SIGNS = "0123456789.,/-+'\"′″½¾⅛² mftincylgas%°CF"
US, COMMA = Notation(System.US), Notation(decimal=DecimalSign.COMMA)
NOTATIONS = [Notation(system, sign) for system in System for sign in DecimalSign]
SCALES = [value for value in vars(units).values() if isinstance(value, Scale)]


# What people draw in, and what each is by the exact factors of NIST Handbook 44, Appendix C.
@pytest.mark.parametrize(
    ("typed", "scale", "si"),
    [
        ("1200", units.LENGTH, "1.2"),
        ("1,200", units.LENGTH, "1.2"),
        ("1200.", units.LENGTH, "1.2"),
        ("1200 mm", units.LENGTH, "1.2"),
        ("1200mm", units.LENGTH, "1.2"),
        ("120 cm", units.LENGTH, "1.2"),
        ("1.2 m", units.LENGTH, "1.2"),
        (".5 m", units.LENGTH, "0.5"),
        ("2.4", units.ROOM_LENGTH, "2.4"),
        ("4'", units.LENGTH, "1.2192"),
        ("4 ft", units.LENGTH, "1.2192"),
        ("4'-6\"", units.LENGTH, "1.3716"),
        ("4' - 6\"", units.LENGTH, "1.3716"),
        ("4'6\"", units.LENGTH, "1.3716"),
        ("4'-0\"", units.LENGTH, "1.2192"),
        ("4′-6″", units.LENGTH, "1.3716"),
        ("4’–6”", units.LENGTH, "1.3716"),
        ("4' 6 1/2\"", units.LENGTH, "1.3843"),
        ("4'-6½\"", units.LENGTH, "1.3843"),
        ("4 ft 6.5 in", units.LENGTH, "1.3843"),
        ("4 feet 6 1/2 inches", units.LENGTH, "1.3843"),
        ("54 in", units.LENGTH, "1.3716"),
        ('54"', units.LENGTH, "1.3716"),
        ("54''", units.LENGTH, "1.3716"),
        ("½ in", units.LENGTH, "0.0127"),
        ("3/4 in", units.LENGTH, "0.01905"),
        ("3 1/2 in", units.LENGTH, "0.0889"),
        ("12 ft²", units.AREA, "1.11483648"),
        ("86 sq ft", units.AREA, "7.98966144"),
        ("100 sf", units.AREA, "9.290304"),
        ("40 gal", units.LITRES, "0.15141647136"),
        ("1900 L", units.LITRES, "1.9"),
        ("1.9 m³", units.LITRES, "1.9"),
        ("12 L/s", units.AIR_FLOW, "0.012"),
        ("25 cfm", units.AIR_FLOW, "0.01179868608"),
        ("-18", units.TEMPERATURE, "255.15"),
        ("−18 °C", units.TEMPERATURE, "255.15"),
        ("50 °F", units.TEMPERATURE, "283.15"),
        ("75 %", units.SHARE, "0.75"),
        ("0.75", units.SHARE, "0.75"),
        ("12", units.SHARE_PERCENT, "0.12"),
        ("1650 lb", units.MASS, "748.4274105"),
        ("3.5 days", units.DAYS, "302400"),
    ],
)
def test_it_reads_what_people_draw_in(typed, scale, si):
    quantity = read(typed, scale)
    assert quantity.si == Fraction(si)
    assert float(quantity) == float(Fraction(si))
    assert quantity.text == typed


# Texts on which a general unit library answers wrongly or never: each has one meaning or none.
@pytest.mark.parametrize(
    ("typed", "scale"),
    [
        ("'; m", units.LENGTH),
        ("9**9**9**9", units.LENGTH),
        ("R-20", units.U_VALUE),
        ("1e3", units.LENGTH),
        ("inf", units.LENGTH),
        ("nan", units.LENGTH),
        ("NaN mm", units.LENGTH),
        ("0x10", units.LENGTH),
        ("1_000", units.LENGTH),
        ("12²", units.LENGTH),
        ("12³ mm", units.LENGTH),
        ("--5", units.LENGTH),
        ("4 ' '", units.LENGTH),
        ("1/2/3", units.LENGTH),
        ("1/0", units.LENGTH),
        ("4'-6 1/0\"", units.LENGTH),
        ("4'-12\"", units.LENGTH),
        ("4'-13\"", units.LENGTH),
        ("1.5'-6\"", units.LENGTH),
        ("mm", units.LENGTH),
        ("", units.LENGTH),
        ("   ", units.LENGTH),
        ("12 furlongs", units.LENGTH),
        ("1+1", units.LENGTH),
        ("=A1", units.LENGTH),
    ],
)
def test_it_refuses_what_has_no_one_meaning(typed, scale):
    with pytest.raises(Refused, match="expected"):
        read(typed, scale)


@pytest.mark.parametrize("gap", ["1 /2", "1/ 2", "1 / 2", "1/2"])
def test_spaces_about_the_stroke_change_nothing(gap):
    assert read(f"{gap} in", units.LENGTH).si == IN.to_si(Fraction(1, 2))
    assert read(f"3 {gap} in", units.LENGTH).si == IN.to_si(Fraction(7, 2))
    assert read(f"4'-6 {gap}\"", units.LENGTH).si == IN.to_si(Fraction(109, 2))


def test_every_unit_is_read_by_its_symbol_and_by_every_spelling():
    for unit in UNITS:
        for name in (unit.symbol, *unit.spellings):
            scale = Scale(unit, unit)
            assert read(f"7 {name}", scale).unit is unit, name
            assert read(f"7 {name.upper()}", scale).si == unit.to_si(Fraction(7)), name


@given(st.integers(0, 200), st.integers(0, 11), st.integers(0, 15))
def test_feet_inches_and_sixteenths_are_exact(feet, inches, sixteenths):
    typed = f"{feet}'-{inches} {sixteenths}/16\"" if sixteenths else f"{feet}'-{inches}\""
    si = read(typed, units.LENGTH).si
    assert si == feet * FT.factor + (inches + Fraction(sixteenths, 16)) * IN.factor
    back = IN.from_si(si)
    assert divmod(back, 12) == (feet, inches + Fraction(sixteenths, 16))


def test_a_sign_before_feet_counts_for_the_inches_too():
    assert read("-4'-6\"", units.ROOM_LENGTH).si == Fraction("-1.3716")


def test_a_bare_number_takes_the_unit_of_the_system():
    assert read("36", units.LENGTH, US).si == 36 * IN.factor
    assert read("36", units.LENGTH).si == Fraction("0.036")
    assert read("36 mm", units.LENGTH, US).si == Fraction("0.036")


@pytest.mark.parametrize(
    ("typed", "scale", "said"),
    [
        ("12 kg", units.LENGTH, r"read “12 kg”; expected a length, .* \(kg is a mass\)"),
        ("12 m²", units.LENGTH, r"expected a length, .* \(m² is an area\)"),
        ("12", units.LENGTH, None),
        ("1.6 L", units.AREA, r"expected an area, .* \(L is a volume\)"),
        ("12 L", units.LITRES_A_DAY, r"expected a daily volume, .* \(L is a volume\)"),
        ("25 lx", units.AIR_FLOW, r"expected an air or water flow, .* \(lx is an illuminance\)"),
    ],
)
def test_a_unit_of_another_dimension_is_named(typed, scale, said):
    if said is None:
        assert read(typed, scale).unit is scale.metric
        return
    with pytest.raises(Refused, match=said):
        read(typed, scale)


# What a figure says whatever the decimal sign: it has one reading.
@pytest.mark.parametrize("notation", [PLAIN, COMMA])
@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("22,4", "22.4"), ("0,045", "0.045"), ("0.045", "0.045"), (",5", "0.5"), (".5", "0.5"),
        ("1,2", "1.2"), ("1,20", "1.2"), ("1,2000", "1.2"), ("1.2000", "1.2"), ("1200", "1200"),
        ("1200,0", "1200"), ("1234,567", "1234.567"), ("1234.567", "1234.567"),
        ("1,200.5", "1200.5"), ("1.200,5", "1200.5"), ("1,200,000", "1200000"),
        ("1.200.000", "1200000"), ("00,200", "0.2"), ("-22,4", "-22.4"), ("0,200", "0.2"),
    ],
)  # fmt: skip
def test_a_figure_of_one_reading_is_read_whatever_the_decimal_sign(typed, number, notation):
    assert read(typed, units.RATIO, notation).si == Fraction(number)
    assert read(f"{typed} m", units.LENGTH, notation).si == Fraction(number)


@pytest.mark.parametrize(
    ("typed", "by_point", "said"),
    [
        ("1,200", "1200", "1,2 or 1200"),
        ("1.200", "1.2", "1,2 or 1200"),
        ("12,345", "12345", "12,3450 or 12345"),
        ("999.001", "999.001", "999,0010 or 999001"),
    ],
)
def test_a_figure_of_two_readings_is_refused_where_the_sign_is_a_comma(typed, by_point, said):
    assert read(typed, units.RATIO).si == Fraction(by_point)
    with pytest.raises(Refused, match=f"^read “{typed} m”; expected {said}: it could be either$"):
        read(f"{typed} m", units.LENGTH, COMMA)
    for one in said.split(" or "):
        read(one, units.RATIO, COMMA)


@pytest.mark.parametrize("notation", [PLAIN, COMMA])
@pytest.mark.parametrize(
    "typed",
    ["1,20,000", "1,2,3", "1.2.3", "1.200.5", "1,200,5", "12,", "1,,2", "1,.2", "0,200,000",
     "1200,000,0", "1.200.00", ",", "1, 2", "1.2,345.6"],
)  # fmt: skip
def test_what_has_no_reading_at_all_is_refused(typed, notation):
    with pytest.raises(Refused, match="expected a number"):
        read(typed, units.RATIO, notation)
    with pytest.raises(Refused, match="expected a length"):
        read(f"{typed} m", units.LENGTH, notation)


def _readings(text, thousands, decimal):
    """Read a number the long way: groups of three behind a figure that isn't 0, one decimal."""
    whole, sign, decimals = text.partition(decimal)
    groups = whole.split(thousands)
    fits = len(groups) == 1 or (
        1 <= len(groups[0]) <= 3
        and not groups[0].startswith("0")
        and all(len(group) == 3 for group in groups[1:])
    )
    digits = "".join(groups)
    if not fits or not (digits + decimals) or not (digits + decimals + "0").isdecimal():
        return set()
    if (sign and not decimals and decimal == ",") or (not digits and len(groups) > 1):
        return set()
    return {Fraction(int(digits + decimals), 10 ** len(decimals))}


@settings(max_examples=500)
@given(st.text("0123456789.,", min_size=1, max_size=11), st.sampled_from(DecimalSign))
@example("1,200", DecimalSign.COMMA)
@example("10.000", DecimalSign.COMMA)
@example("100,000.", DecimalSign.POINT)
def test_a_number_is_never_read_as_another_than_one_of_its_honest_readings(text, sign):
    by_point, by_comma = _readings(text, ",", "."), _readings(text, ".", ",")
    honest, notation = by_point | by_comma, Notation(decimal=sign)
    if not honest:
        with pytest.raises(Refused, match="expected a number"):
            read(text, units.RATIO, notation)
    elif len(honest) == 2 and sign is DecimalSign.COMMA:
        with pytest.raises(Refused, match="it could be either"):
            read(text, units.RATIO, notation)
    else:
        assert {read(text, units.RATIO, notation).si} == (by_point or by_comma)


@given(st.text(_SIGNS, max_size=14), st.sampled_from(SCALES), st.sampled_from(System))
@example("1.200 m", units.LENGTH, System.METRIC)
def test_another_decimal_sign_never_makes_another_figure_of_a_text(text, scale, system):
    read_by = {}
    for sign in DecimalSign:
        try:
            read_by[sign] = read(text, scale, Notation(system, sign)).si
        except Refused:
            continue
    assert len(set(read_by.values())) < 2
    assert DecimalSign.COMMA not in read_by or DecimalSign.POINT in read_by


@given(st.integers(-(10**9), 10**9), st.integers(0, 5))
def test_what_the_library_writes_is_read_alike_by_either_sign(digits, places):
    written = f"{digits / 10**places:.{places}f}"
    values = {read(plain(written), units.RATIO, Notation(decimal=sign)).si for sign in DecimalSign}
    assert values == {Fraction(written)}


@pytest.mark.parametrize(
    ("typed", "si"),
    [("4'-6,5\"", "1.3843"), ("4 ft 6,5 in", "1.3843"), ("0'-0,75\"", "0.01905")],
)
def test_feet_and_inches_take_a_decimal_comma(typed, si):
    for notation in NOTATIONS:
        assert read(typed, units.LENGTH, notation).si == Fraction(si)


def test_feet_of_two_readings_are_refused_where_the_sign_is_a_comma():
    assert read("1,200'-6\"", units.ROOM_LENGTH).si == 1200 * FT.factor + 6 * IN.factor
    with pytest.raises(Refused, match="1,2 or 1200: it could be either"):
        read("1,200'-6\"", units.ROOM_LENGTH, COMMA)
    with pytest.raises(Refused, match="expected a length"):
        read("1.200'-6\"", units.ROOM_LENGTH)


def test_digits_of_another_script_are_digits():
    assert read("١٬٢٠٠".replace("٬", ","), units.RATIO).si == 1200
    assert read("٠,٢٠٠", units.RATIO).si == Fraction("0.2")


def test_the_longest_text_is_read_and_one_more_sign_is_not():
    assert read("1" * LONGEST, units.LENGTH).si == Fraction("1" * LONGEST) / 1000
    with pytest.raises(Refused, match="expected a length"):
        read("1" * (LONGEST + 1), units.LENGTH)


def test_a_huge_text_is_refused_in_a_short_message():
    with pytest.raises(Refused, match=r"100,000 characters") as refused:
        read("9" * 100_000, units.LENGTH)
    assert len(str(refused.value)) < 300


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("system", System)
def test_each_example_of_a_message_is_itself_read(scale, system):
    _, _, listed = expected_words(scale, system).partition("such as ")
    examples = listed.replace(" or ", ", ").split(", ")
    assert len(examples) >= 2
    for typed in examples:
        assert read(typed, scale, Notation(system)).unit.dimension == scale.dimension
    assert read(examples[0], scale, Notation(system)).unit is scale.unit(system)


@pytest.mark.parametrize("scale", SCALES)
def test_the_article_fits_the_word(scale):
    words = expected_words(scale)
    assert words.startswith(("a ", "an "))
    assert words.startswith("an ") == (words.split()[1][0] in "aeio")


@given(st.text(max_size=60), st.sampled_from(SCALES), st.sampled_from(NOTATIONS))
@example("6↉", units.LENGTH, PLAIN)
@example("1 ٣/٤ in", units.LENGTH, PLAIN)
@example("ﷺﷺﷺ", units.LENGTH, US)
def test_any_text_is_read_or_refused_and_nothing_else(text, scale, notation):
    try:
        quantity = read(text, scale, notation)
    except Refused:
        return
    assert isinstance(quantity.si, Fraction)
    assert quantity.unit.dimension == scale.dimension


@given(st.text(_SIGNS, max_size=14), st.sampled_from(SCALES), st.sampled_from(NOTATIONS))
def test_any_row_of_likely_signs_is_read_or_refused(text, scale, notation):
    try:
        quantity = read(text, scale, notation)
    except Refused:
        return
    assert read(f"  {text} ", scale, notation).si == quantity.si


@given(st.characters().filter(lambda sign: not sign.isdigit() and sign not in ".,/"))
def test_a_sign_behind_a_number_never_becomes_another_digit(sign):
    try:
        got = read(f"12{sign}", units.LENGTH).si
    except Refused:
        return
    vulgar = unicodedata.numeric(sign, 0)
    # one sign may be a whole unit: ", ', m, ㎝, ㎞
    by_unit = {unit.to_si(Fraction(12)) for unit in units.UNITS if unit.dimension == "length"}
    assert got in by_unit or abs(float(got) * 1000 - 12 - vulgar) < 1e-9


@pytest.mark.parametrize(("text", "bare"), [
    ("1200", True), ("1 1/2", True), ("6½", True), ("-18", True), (" 12 ", True),
    ("1200 mm", False), ("4'", False), ("", False), ("about 12", False),
])  # fmt: skip
def test_a_bare_number_is_told_from_one_with_a_unit(text, bare):
    assert is_bare(text) is bare


@given(st.integers(1, 10**6), st.sampled_from(SCALES))
def test_a_number_typed_in_us_units_means_the_same_to_a_metric_reader(steps, scale):
    typed = f"{steps / 10**scale.us_places:.{scale.us_places}f}"
    kept = with_unit(typed, scale, System.US)
    assert read(kept, scale).si == read(typed, scale, US).si


def test_words_and_units_are_kept_as_typed():
    assert with_unit("4'-6\"", units.LENGTH, System.US) == "4'-6\""
    assert with_unit("unknown", units.LENGTH, System.US) == "unknown"
    assert with_unit("36", units.LENGTH, System.METRIC) == "36 mm"
    assert with_unit("4", units.COUNT, System.US) == "4"


def test_the_module_reads_no_unit_that_the_list_has_not():
    assert set(quantities._BY_SPELLING.values()) == set(UNITS)
