"""A title block proposed from lettering, file name and brief: what each field was read from."""

import pytest

from reviews.reading.sheet_lettering import PageText, Word
from reviews.reading.sheet_proposals import proposals
from reviews.reading.title_block import Asked, AskedSheet

ASKED = Asked(
    {
        "00": AskedSheet("Title and statement"),
        "01": AskedSheet("Site and section"),
        "02": AskedSheet("Plan", "plan", "day"),
        "03": AskedSheet("Sections"),
        "04": AskedSheet("Inside views"),
    },
    ("packed", "day", "night"),
)
LETTER = 0.008


def block(*lines: tuple[str, float, float, float]) -> PageText:
    """A page with lines of words: each text, its left and top, and how tall its letters are."""
    words, wide = [], 0.6 * LETTER
    for text, x, y, tall in lines:
        for word in text.split():
            words.append(Word(word, x, y, wide * len(word) * tall / LETTER, tall))
            x += wide * (len(word) + 1) * tall / LETTER
    return PageText(tuple(words), paths=40, width_mm=841.0)


BARE = PageText()


def read(name: str, page: PageText = BARE, taken=(), asked=ASKED):
    return proposals(name, page, asked, taken, "Kit")


def test_a_labelled_title_block_is_read():
    page = block(
        ("Scheme", 0.6, 0.86, LETTER),
        ("H07 Lantern", 0.6, 0.88, 0.016),
        ("Revision", 0.8, 0.86, LETTER),
        ("B", 0.8, 0.88, 0.016),
        ("Sheet", 0.9, 0.86, LETTER),
        ("03 of 8", 0.9, 0.88, 0.016),
        ("Title", 0.6, 0.91, LETTER),
        ("Section A–A, night", 0.6, 0.93, LETTER),
        ("Scale", 0.8, 0.91, LETTER),
        ("1 : 50", 0.8, 0.93, LETTER),
    )
    said, read_from = read("set.pdf", page)
    assert (said.number, said.title, said.scale) == ("03", "Section A–A, night", "1:50")
    assert (said.kind, said.state, said.width_mm) == ("section", "night", 841.0)
    assert {read_from[name] for name in ("number", "title", "scale")} == {"title block"}
    assert (read_from["state"], read_from["width_mm"]) == ("title", "page size")
    assert (said.drawn_by, "drawn_by" in read_from) == ("Kit", False)


@pytest.mark.parametrize(
    ("written", "scale"),
    [("1:100", "1:100"), ('1/4" = 1\'-0"', '1/4" = 1\'-0"'), ("NTS", "NTS"), ("3 m", "")],
)
def test_a_block_without_labels_is_read_by_place_and_size(written, scale):
    page = block(
        ("W1", 0.6, 0.8, 0.012),
        ("Inside views", 0.83, 0.94, 0.012),
        (written, 0.83, 0.955, LETTER),
        ("Rev B", 0.83, 0.965, LETTER),
        ("04", 0.83, 0.975, 0.02),
    )
    said, read_from = read("whole set.pdf", page)
    assert (said.number, said.title, said.scale) == ("04", "Inside views", scale)
    assert read_from["number"] == "title block"


def test_marks_and_sizes_in_the_corner_are_no_number_of_a_sheet():
    page = block(("W4", 0.8, 0.9, 0.02), ("900", 0.7, 0.9, LETTER), ("M12 bolt", 0.7, 0.8, LETTER))
    said, read_from = read("x.pdf", page)
    assert (said.number, read_from["number"]) == ("00", "next on the hand-in list")


@pytest.mark.parametrize(
    ("name", "taken", "number", "title", "source"),
    [
        ("plan.png", (), "02", "Plan", "file name"),  # and not the next on the list
        ("PLAN.png", ("02",), "02", "Plan", "file name"),  # refused where it hangs, and so said
        ("plans.png", ("02",), "00", "Title and statement", "next on the hand-in list"),
        ("3 whatever.png", (), "03", "Sections", "file name"),
        ("20261129.png", ("00",), "01", "Site and section", "next on the hand-in list"),
        ("17 Knots.png", (), "17", "Knots", "file name"),
    ],
)
def test_a_picture_is_called_as_its_file_is_or_as_the_list_goes_on(
    name, taken, number, title, source
):
    said, read_from = read(name, taken=taken)
    assert (said.number, said.title, read_from["number"]) == (number, title, source)


def test_the_name_of_a_set_does_not_speak_for_each_of_its_pages():
    page = block(("Sheet: 02", 0.8, 0.9, LETTER), ("Scale: 1:20", 0.8, 0.92, LETTER))
    said, _ = read("07 All sheets 1-50.pdf", page)
    assert (said.number, said.title, said.scale) == ("02", "Plan", "1:20")


def test_a_page_label_numbers_a_sheet_and_a_count_of_pages_does_not():
    assert read("set.pdf", PageText(label="A-04"), asked=Asked({}))[0].number == "A-04"
    said, read_from = read("set.pdf", PageText(label="4"))
    assert (said.number, read_from["number"]) == ("00", "next on the hand-in list")
