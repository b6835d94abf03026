"""The package in preparation."""

from reviews.models.packages import next_letter


def test_letters_go_on_after_z():
    assert [next_letter(n) for n in (0, 1, 25, 26, 27, 52)] == ["A", "B", "Z", "AA", "AB", "BA"]


def test_the_cast_makes_a_whole_studio(cast):
    assert cast.scheme.package.letter == "A"
    assert cast.scheme.by == "Mira Mate and Stef Student"
    assert cast.studio.brief.is_issued
