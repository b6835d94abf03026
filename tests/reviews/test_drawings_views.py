"""Drawings as a PDF: true to scale by their own paths, within the border, on the reader's paper."""

import re
import zlib
from dataclasses import replace

import pytest

from criteria.drawing.drawing import Drawing
from criteria.drawing.marks import Lettering, Patches, Path, rectangle
from criteria.drawing.pens import Fill
from criteria.units import System
from reviews.drawn.pdf import as_pdf
from tests.factories import IssuedSheetFactory, RevisionFactory, SheetFactory
from tests.prints import sheets_of

WIDE = 171.45
STREAM = re.compile(rb"stream\r?\n(.*?)\r?\nendstream", re.DOTALL)


def paths(pdf: bytes) -> str:
    """What is drawn on the sheets of a PDF: its streams, unpacked (ISO 32000-1, 7.4.4)."""
    found = []
    for packed in STREAM.findall(pdf):
        try:
            found.append(zlib.decompress(packed).decode("latin-1"))
        except zlib.error:
            continue
    return "\n".join(found)


def drawing(high_mm: float = 60) -> Drawing:
    return Drawing(
        title="Plan, day",
        says="",
        width_mm=175,
        height_mm=high_mm,
        scale="1:50",
        marks=(
            Path(points=((0, 0), (WIDE, 0))),
            Path(points=rectangle((0, 10, 20, high_mm)), fill=Fill.CUT, is_closed=True),
            Lettering(words="4 600", at=(60, 30), is_turned=True),
        ),
    )


def lengths_mm(pdf: bytes) -> list[float]:
    """Of each line across: from where a pen is set down to where it goes first."""
    lines = re.findall(r"([\d.]+) ([\d.]+) m\s+([\d.]+) ([\d.]+) l", paths(pdf))
    across = [(float(x), float(to)) for x, y, to, end in lines if y == end]
    return [abs(to - x) * 25.4 / 72 for x, to in across]


def test_the_bar_and_what_is_drawn_measure_what_they_say():
    found = lengths_mm(as_pdf([drawing()], "Room schedule", [("Scheme", "R01 Lee")], System.METRIC))
    assert any(length == pytest.approx(100, abs=0.05) for length in found)
    assert any(length == pytest.approx(WIDE, abs=0.05) for length in found)


def test_patches_are_drawn_as_large_as_they_are():
    patched = replace(drawing(), marks=(Patches(boxes=((0, 0, 37, 5),), fill=Fill.INK),))
    found = lengths_mm(as_pdf([patched], "The year", [("Scheme", "R01 Lee")], System.METRIC))
    assert any(length == pytest.approx(37, abs=0.05) for length in found)


@pytest.mark.parametrize(
    ("system", "high_mm", "size"),
    [
        (System.METRIC, 60, (210, 297)),
        (System.METRIC, 300, (297, 420)),
        (System.US, 60, (215.9, 279.4)),
        (System.US, 230, (279.4, 431.8)),
    ],
)
def test_each_drawing_has_a_sheet_that_holds_it(system, high_mm, size, tmp_path):
    (tmp_path / "a.pdf").write_bytes(
        as_pdf([drawing(high_mm)] * 2, "Rooms", [("Studio", "Ridge"), ("Scheme", "R01")], system)
    )
    sheets = sheets_of(tmp_path / "a.pdf")
    assert len(sheets) == 2
    for n, sheet in enumerate(sheets, start=1):
        assert (sheet.width, sheet.height) == pytest.approx(size, abs=0.1)
        assert all(word.left > 15 and word.right < size[0] - 5 for word in sheet.words)
        assert f"{n} of 2" in sheet.text
        assert {"1", "6", "A", "D", "1:50,", "4"} <= {word.text for word in sheet.words}
        assert sheet.overprinted() == []


def test_without_a_drawing_a_sheet_says_so(cast):
    answer = cast.client(cast.student).get(f"/schemes/{cast.scheme.pk}/schedules/rooms/drawing.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.count(b"/Type /Page\n") == 1


def test_a_check_that_nobody_knows_has_no_sheet(cast):
    address = f"/schemes/{cast.scheme.pk}/checks/T99/drawing.pdf"
    assert cast.client(cast.student).get(address).status_code == 404


@pytest.mark.parametrize("is_issued", [False, True])
def test_the_sheet_list_of_a_package_and_of_a_revision_prints_within_its_border(
    cast, tmp_path, is_issued
):
    revision = RevisionFactory(scheme=cast.scheme, crit=cast.crit)
    said = {"number": "02", "title": "Plan of the loft", "kind": "plan", "scale": "1:50"}
    SheetFactory(package=cast.scheme.package, **said)
    IssuedSheetFactory(revision=revision, **said)
    base = f"/revisions/{revision.pk}" if is_issued else f"/schemes/{cast.scheme.pk}"
    answer = cast.client(cast.student).get(f"{base}/sheets/list.pdf")
    (tmp_path / "list.pdf").write_bytes(answer.content)
    (sheet,) = sheets_of(tmp_path / "list.pdf")
    assert {"02", "Plan", "loft", "1:50", "A" if is_issued else "B"} <= {*sheet.text.split()}
    assert sheet.overprinted() == []
    assert all(word.left > 15 and word.right < sheet.width - 5 for word in sheet.words)
