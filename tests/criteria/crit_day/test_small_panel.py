"""A re-crit's panel: small, one original juror and one new. Common practice."""

import pytest

from criteria.crit_day.small_panel import small_panel_words

BEFORE = {"Ann", "Bo", "Cy"}


@pytest.mark.parametrize(
    ("panel", "said"),
    [
        (["Ann", "Di"], []),
        (["Ann", "Bo", "Di"], []),
        (["Ann"], ["1 juror would sit there", "Everybody judged it before"]),
        (["Ann", "Bo"], ["Everybody judged it before"]),
        (["Di", "Ed"], ["Nobody of those who judged it before: Ann, Bo or Cy."]),
        (["Ann", "Di", "Ed", "Flo"], ["4 jurors would sit there"]),
        ([], ["Nobody is seated yet."]),
    ],
)
def test_what_is_unusual_is_said(panel, said):
    found = small_panel_words(panel, BEFORE)
    assert len(found) == len(said)
    assert all(words.startswith(start) for words, start in zip(found, said, strict=True))


def test_where_nobody_judged_it_before_no_original_is_missed():
    assert small_panel_words(["Di", "Ed"], set()) == ()
