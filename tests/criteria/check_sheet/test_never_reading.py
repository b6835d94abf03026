"""Words of never and always: what asserts that nothing lacks, and what only sounds like it."""

import pytest

from criteria.check_sheet.never_reading import By, nevers_named
from criteria.checks.catalogue import CHECKS


@pytest.mark.parametrize(
    ("about", "wording", "slugs"),
    [
        ("Heating", "Our panels run the heating", ["hours_not_held"]),
        ("Heating", "runs on the panels", ["hours_not_held"]),
        ("Energy", "Our 2.4 kWp panels power the heaters", ["hours_not_held"]),
        ("Panels", "run the heating and the cooling", ["hours_not_held", "hot_not_held"]),
        ("Cooling", "runs on the sun", ["hot_not_held"]),
        ("Power", "Our panels power all lamps", ["dark_hours"]),
        ("Panels", "enough", ["dark_hours"]),
        ("Energy", "The panels are enough for everything!", ["dark_hours"]),
        ("Light", "lamps never go out", ["dark_hours"]),
        ("Battery", "never empty", ["dark_hours"]),
        ("Comfort", "never in the dark", ["dark_hours"]),
        ("Heating", "the stove alone is enough.", ["hours_not_held"]),
        ("Stove", "keeps the hut warm all winter", ["hours_not_held"]),
        ("Heat", "the wood stove heats the whole hut", ["hours_not_held"]),
        ("Summer", "it stays cool by itself", ["hot_hours"]),
        ("Summer", "needs no cooling", ["hot_hours"]),
        ("Comfort", "it never overheats", ["hot_hours"]),
        ("Winter", "stays warm without a heater", ["cold_hours"]),
        ("Heat", "no need for a stove", ["cold_hours"]),
        ("Water", "the rain fills the tank", ["rain_days"]),
        ("Rain water", "enough", ["rain_days"]),
        ("Water tank", "never runs dry", ["rain_days"]),
    ],
)
def test_what_is_said_never_to_lack(about, wording, slugs):
    found = nevers_named(about, wording)
    assert [each.slug for each in found] == slugs
    assert all(CHECKS[each.slug].is_yearly for each in found)


@pytest.mark.parametrize(
    ("wording", "by"),
    [("panels run the heating", By.PANELS), ("the stove is enough", By.STOVE)],
)
def test_by_what_is_said(wording, by):
    assert [each.by for each in nevers_named("Heat", wording)] == [by]


@pytest.mark.parametrize(
    ("about", "wording"),
    [
        ("Heating", "the stove isn't enough"),
        ("Heating", "the stove is not enough"),
        ("Heating", "our panels run most of the heating"),
        ("Heating", "our panels run the heating by day"),
        ("Heating", "our panels run the heating in October"),
        ("Heating", "our panels run 60 % of the heating"),
        ("Heating", "our panels run the heating for 9 days"),
        ("Heating", "the stove keeps it warm at 20 °C"),
        ("Heating", "the panels could run the heating"),
        ("Summer", "the stove heats it"),
        ("Winter", "it never gets too warm"),
        ("Stove", "set far enough from the wall"),
        ("Wall panels", "enough"),
        ("Pieces", "timber panels carry the heating pipes"),
        ("Hot water", "panels heat the hot water"),
        ("Fire", "fire exits are enough"),
        ("Rain screen", "enough"),
        ("Rain", "a gutter leads rain to a tank"),
        ("Passive", "sun warms the floor"),
        ("Spirit", "calm and generous"),
        ("", ""),
    ],
)
def test_what_hedges_says_a_figure_or_means_another_thing_asserts_nothing(about, wording):
    assert nevers_named(about, wording) == ()


def test_no_words_take_long():
    assert nevers_named("panels " * 11, "runs heating cooling panels " * 40) != ()
    assert nevers_named("rain " * 16, "fills the stove never " * 40) == ()
