"""The faces that are shipped hold every sign that is written, as wide as drawings take it to be."""

import csv
from importlib.resources import files
from pathlib import Path

import pytest
from PIL import ImageFont

import criteria
import reviews

FONTS = Path(reviews.__file__).parent / "static" / "reviews" / "fonts"
ROOT = Path(reviews.__file__).parents[1]
READ_ALONE = {*"＝＋－＠ʹʺ‑ȳ", "\u0304"}
"""Signs that are read, or stand in a docstring, and are never written."""
CONTROLS = {*"\n\t\x7f", "\u2028", "\u2029", "\ufeff", "\x85"}


def advances() -> dict[str, float]:
    text = files("criteria.drawing").joinpath("advances.csv").read_text(encoding="utf-8")
    return {chr(int(row["sign"], 16)): float(row["em"]) for row in csv.DictReader(text.split())}


def face(name: str) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(FONTS / name, 1000, layout_engine=ImageFont.Layout.BASIC)


def test_no_page_and_no_drawing_writes_a_sign_that_no_face_holds():
    shipped = advances().keys() | READ_ALONE | CONTROLS
    sources = [
        *Path(criteria.__file__).parent.rglob("*.py"),
        *(path for path in Path(reviews.__file__).parent.rglob("*.py") if "demo" not in path.parts),
        *(ROOT / "templates").rglob("*.html"),
        *Path(reviews.__file__).parent.rglob("data/*.csv"),
    ]
    missing = {
        f"{sign} U+{ord(sign):04X} in {path.name}"
        for path in sources
        for sign in {*path.read_text(encoding="utf-8")} - shipped
    }
    assert missing == set()


LABELS = sorted(path.name for path in FONTS.glob("Barlow*.woff2"))


@pytest.mark.parametrize(
    "name", [*LABELS, *sorted(p.name for p in FONTS.glob("Faustina-latin-[!e]*"))]
)
def test_all_ten_figures_have_one_width(name):
    assert len({face(name).getlength(figure) for figure in "0123456789"}) == 1


@pytest.mark.parametrize("name", LABELS)
def test_words_are_no_wider_than_drawings_take_them_to_be(name):
    drawn = face(name)
    missing = drawn.getlength("\uffff")  # the plain set holds a few more
    for sign, em in advances().items():
        if sign.isprintable() and drawn.getlength(sign) != missing:
            assert drawn.getlength(sign) <= 1000 * em + 1.0, f"U+{ord(sign):04X}"


def test_the_faces_of_a_page_are_light():
    """Three weights of labels and the running text, upright and italic: what is loaded at first."""
    first = [*LABELS, "Faustina-latin-normal.woff2", "Faustina-latin-italic.woff2"]
    assert len(LABELS) == 3
    assert sum((FONTS / name).stat().st_size for name in first) < 120_000
