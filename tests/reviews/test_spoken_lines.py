"""A scribe's quick line: what is read of it, what is named, and that no word of it is lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.models import Comment
from reviews.reading.spoken_lines import UNKNOWN, initials_of_jurors, read_line

JURORS = ("Hesper Quill", "Pia Norrow", "Marek Ostrey", "Ann Lee", "Bo Lee", "Dee Drake", "Al Day")
SHEETS = ("00", "01", "02", "05", "06", "07", "12", "A-101")


def read(typed):
    return read_line(typed, JURORS, SHEETS)


def parts(line):
    return (line.who, line.place, line.kind, line.words)


def test_initials_are_three_letters_and_those_of_nobody_else_nor_of_a_kind():
    assert initials_of_jurors(JURORS) == ["QUI", "NOR", "OST", "LEEA", "LEEB", "DRAK", "DAY"]


@given(st.lists(st.text(max_size=12), max_size=8))
def test_no_two_jurors_are_called_alike(names):
    short = initials_of_jurors(names)
    assert len(set(short)) == len(names)
    kinds = [kind.upper() for kind in Comment.Kind.values]
    assert not [each for each in short if any(kind.startswith(each) for kind in kinds)]


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("OST 6C2 prove 765kg wet?", ("OST", "06·C2", "Prove", "765kg wet?")),
        ("ost 06 c2 who weighed it?", ("OST", "06·C2", "", "who weighed it?")),
        ("prove OST 6·c2 wet?", ("OST", "06·C2", "Prove", "wet?")),
        ("6C2: ostrey: pro: wet?", ("OST", "06·C2", "Prove", "wet?")),
        ("??? 02 A1 is that a ramp or a wish", (UNKNOWN, "02·A1", "", "is that a ramp or a wish")),
        ("NOR keep the step", ("NOR", "", "Keep", "the step")),
        ("qui sheet 7 day five", ("QUI", "07", "", "day five")),
        ("qui sheet 7 b3 day five", ("QUI", "07·B3", "", "day five")),
        ("QUI 07 day five", ("QUI", "07", "", "day five")),
        ("QUI A-101 B2 door", ("QUI", "A-101·B2", "", "door")),
        ("C4", ("", "C4", "", "")),
        ("", ("", "", "", "")),
        ("765kg wet?", ("", "", "", "765kg wet?")),
        ("QUI 12 people sleep here", ("QUI", "", "", "12 people sleep here")),
        ("QUI a ramp or a wish", ("QUI", "", "", "a ramp or a wish")),
        ("QUI a: a ramp or a wish", ("QUI", "", "Ask", "a ramp or a wish")),
        ("QUI why does day five, see 6C2!", ("QUI", "06·C2", "", "why does day five, see 6C2!")),
        ("day five is missing", ("", "", "", "day five is missing")),
        ("DAY five is missing", ("DAY", "", "", "five is missing")),
        ("LEEB h stair", ("LEEB", "", "Hazard", "stair")),
    ],
)
def test_a_line_is_read_in_any_order_and_with_parts_missing(typed, expected):
    assert parts(read(typed)) == expected


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ("XYZ wet?", "“XYZ” is no juror of this crit"),
        ("lee wet?", "“lee” may be LEEA or LEEB"),
        ("day five", "“day” is read as DAY only in capitals"),
        ("QUI 9C2 wet?", "“9C2” is on no sheet: the sheets shown are 00, 01"),
        ("QUI 6C9 wet?", "“6C9” is no square: they go from A1 to D6"),
        ("QUI E2 wet?", "“E2” is no square"),
        ("QUI sheet 9 wet?", "“sheet” is followed by no sheet"),
        ("QUI 12 people", "“12” may be sheet 12: type it as sheet 12, or with its square"),
        ("QUI re wet?", "“re” may be Rework or Refer"),
    ],
)
def test_what_cannot_be_read_stays_in_the_words_and_is_named(typed, named):
    line = read(typed)
    assert len(line.unread) == 1
    assert line.unread[0].startswith(named)
    assert line.words.startswith(named.split("”")[0].removeprefix("“"))


def test_one_sheet_alone_is_the_one_that_a_square_is_of():
    assert read_line("C4 door", JURORS, ["03"]).place == "03·C4"
    assert read_line("C4 door", JURORS, []).place == "C4"


PIECES = st.one_of(
    st.sampled_from([*initials_of_jurors(JURORS), "???", "6C2", "C2", "06", "prove", "re", "a:"]),
    st.text(max_size=8),
)


@given(st.lists(PIECES, max_size=6).map(" ".join))
def test_no_sign_of_a_line_is_lost(typed):
    """The line stays whole, and its end is the words: what is missing before was read as a part."""
    line = read(typed)
    assert line.typed == typed
    assert typed.strip().endswith(line.words)
    taken = typed.strip().removesuffix(line.words).split()
    read_as = bool(line.who) + bool(line.kind) + 3 * bool(line.place)
    assert len(taken) <= read_as


@given(
    st.sampled_from(initials_of_jurors(JURORS)),
    st.sampled_from(["06", "07", "A-101"]),
    st.sampled_from(["A1", "C2", "D6"]),
    st.sampled_from(Comment.Kind.values),
    st.permutations(range(3)),
    st.sampled_from(["765kg wet?", "the ramp is steep", "", "“6 of them”"]),
)
def test_what_is_shown_as_read_is_read_again_as_the_same(who, sheet, zone, kind, order, words):
    front = (who, f"{sheet} {zone}", kind)
    line = read(" ".join([*(front[n] for n in order), words]))
    assert parts(line) == (who, f"{sheet}·{zone}", kind, words)
    again = read(" ".join(each for each in (line.who, line.place, line.kind, line.words) if each))
    assert parts(again)[:1] + parts(again)[2:] == parts(line)[:1] + parts(line)[2:]
    assert again.place == line.place
