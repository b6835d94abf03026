"""Words about the person: named whole, whatever the case and the quotes; the work may be hard."""

from pathlib import Path

import pytest

from criteria.tone import PATTERNS, plain, tone_of

LISTS = Path(__file__).parent / "tone"
MOST_FALSE = 0.05


def share_named(name):
    lines = (LISTS / f"{name}.txt").read_text(encoding="utf-8").splitlines()
    assert len(lines) >= 60
    return sum(bool(tone_of(words)) for words in lines) / len(lines)


def test_hard_words_about_the_work_are_left_alone():
    assert share_named("plain") <= MOST_FALSE


def test_most_words_about_the_person_are_named():
    assert share_named("personal") > 0.8


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("You obviously didn’t read it.", "You obviously didn't"),
        ("YOU OBVIOUSLY DID NOT READ IT.", "YOU OBVIOUSLY DID NOT"),
        ("So  lazy ,\nthis.", "lazy"),
        ("“A real designer would” know.", "A real designer would"),
        ("My eight‑year‑old draws better.", "My eight-year-old"),
        ("İ İ did you even look", "did you even"),
        ("Did you even bother? You gave up.", "Did you even"),
    ],
)
def test_words_are_named_as_typed(words, named):
    found = tone_of(words)
    assert found[0].words == named
    assert found[0].why.endswith(".")


@pytest.mark.parametrize(
    "words",
    ["", "   ", "lazyness aside", "unlazy", "A lazy-susan", "Do you evenly load it?", "x" * 999],
)
def test_parts_of_words_are_not_named(words):
    assert tone_of(words) == ()


def test_one_place_is_named_once_and_all_places_in_order():
    found = tone_of("You couldn't be bothered, and it is lazy, and did you even look?")
    assert [each.words for each in found] == ["couldn't be bothered", "lazy", "did you even"]


def test_words_of_two_rules_are_named_by_the_first():
    found = tone_of("You obviously didn't bother.")
    assert [each.words for each in found] == ["You obviously didn't"]


def test_every_rule_is_said_in_signs_that_a_browser_reads_alike():
    assert all(rule == rule.lower() and "(?P" not in rule for rule, _ in PATTERNS)
    assert plain("a\N{NO-BREAK SPACE}“b”  ‘c’") == "a \"b\" 'c'"
