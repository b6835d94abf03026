"""Sentences of ours drawn for readers of US units: figures, ranges, legends, quotations."""

import re

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.own_words import column_in, in_si, in_units
from criteria.schedules import CLIMATE, SCHEDULES, SITE
from criteria.typed.columns import Column
from criteria.units import System
from tests.criteria.test_reader_units import METRIC


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        ("60 in long: 1,524 mm", "60 in long: 5'-0\""),
        ("at 0.85 m, in by 0.5 m", "at 2'-9 1/2\", in by 1'-7 11/16\""),
        ("up to 37 m² (400 ft²)", "up to 400 ft²"),
        ("20 cfm (10 L/s) always", "20 cfm always"),
        ("at 25, 15.6, 4.4, −3.9 °C", "at 77, 60.1, 39.9, 25.0 °F"),
        ("across 34 K, 0.0 m²", "across 61 °F, 0 ft²"),
        ("16,000 lx", "1,490 fc"),
        ("−18 °C", "0 °F"),
        ("read “12 kg”; 12 kg", "read “12 kg”; 26 lb"),
        ("V volume [L]; U, A [W/m²K, m²]", "V volume [gal]; U, A [Btu/h·ft²·°F, ft²]"),
        ("1 kg/L, W3 m, 40 g/h", "1 kg/L, W3 m, 40 g/h"),
    ],
)
def test_a_sentence_is_drawn_for_its_reader(metric, us):
    assert in_units(metric, System.US) == us
    assert in_units(metric, System.METRIC) == re.sub(r",(?=\d{3})", "\u202f", metric)


@pytest.mark.parametrize("check", CATALOGUE, ids=lambda check: check.slug)
def test_no_check_says_of_itself_what_a_us_reader_must_convert(check):
    said = (check.formula, check.limits, check.caution, check.meaning)
    written = [in_units(words, System.US) for words in said[:3]]
    written.append(in_si(check.formula, check.meaning, System.US))
    found = [words for words in written if METRIC.search(words)]
    assert [words for words in found if not words.endswith(", in SI units")] == []


COLUMNS = [column for schedule in (*SCHEDULES, SITE, CLIMATE) for column in schedule.columns]


@pytest.mark.parametrize("column", COLUMNS, ids=lambda column: column.attribute)
def test_no_column_says_what_a_us_reader_must_convert(column: Column):
    us = column_in(column, System.US)
    assert METRIC.search(f"{us.label}. {us.help} Takes {us.expected(System.US)}.") is None
    assert column_in(column, System.METRIC) is column
