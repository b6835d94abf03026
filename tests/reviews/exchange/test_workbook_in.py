"""Workbooks out and in again: every cell as it was typed, and what can't be taken said in words."""

import io
import os
import re
import zipfile
from datetime import datetime

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, SCHEDULES
from criteria.typed.columns import Kind
from criteria.units import DecimalSign, Notation, System
from reviews.deeds.record_typed import brought_back, taken_cells
from reviews.exchange import workbook_in
from reviews.exchange.proposed import How
from reviews.exchange.workbook_schedules import Told, schedules_workbook
from tests.reviews.exchange.nasty import IN_WORKBOOKS, tables_of, told_by

IS_LONG = bool(os.environ.get("MUNTIN_LONG"))
WINDOWS = BY_SLUG["windows"]


@pytest.fixture
def at(tmp_path):
    """Lay bytes down as a file that is read."""

    def laid(content):
        path = tmp_path / "sent"
        path.write_bytes(content)
        return str(path)

    return laid


@pytest.fixture
def made(at):
    """Write a workbook by hand, with a function of it; return what is read of it."""

    def read(fill, name="windows", answers=None):
        out = io.BytesIO()
        book = xlsxwriter.Workbook(out, {"in_memory": True})
        fill(book.add_worksheet(name), book)
        book.close()
        return workbook_in.read(at(out.getvalue()), answers or {})

    return read


def _book(tables, told=None):
    return schedules_workbook(
        [(BY_SLUG[slug], records) for slug, records in tables.items()],
        told or Told(title="Rows"),
    )


def test_every_column_keeps_every_text_and_the_file_has_no_formula(at):
    tables = tables_of(IN_WORKBOOKS)
    content = _book(tables)
    proposal = workbook_in.read(at(content), {})
    assert told_by(proposal) == tables
    assert (proposal.said, proposal.questions) == ((), ())
    assert content == _book(tables)
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        sheets = [name for name in parts.namelist() if name.startswith("xl/worksheets/sheet")]
        assert len(sheets) == len(tables) + 2
        assert not [name for name in sheets if re.search(rb"<f[ >/]", parts.read(name))]


FIGURES = st.one_of(
    st.decimals(allow_nan=False, allow_infinity=False, places=4, min_value=-1e6, max_value=1e6),
    st.integers(-(10**16), 10**16),
).map(str)
TYPED = st.one_of(
    FIGURES,
    FIGURES.map(lambda text: text.replace(".", ",")),
    st.sampled_from(
        ["36 in", "4'-6\"", "1.2 m", "12 1/2", "3/4", "south", "1.200", "-", "86 sq ft"]
    ),
    # a workbook folds line ends, and its reader takes _x005F_ for what it escapes
    st.text(st.characters(codec="utf-8", exclude_characters="\r\x00"), max_size=12).filter(
        lambda text: "_x" not in text
    ),
)


@pytest.mark.parametrize("system", System)
@settings(max_examples=400 if IS_LONG else 15, deadline=None)
@given(data=st.data())
def test_what_is_taken_out_in_either_system_comes_back_as_it_is_kept(
    tmp_path_factory, system, data
):
    schedule = data.draw(st.sampled_from(SCHEDULES))
    signs = data.draw(st.sampled_from(DecimalSign))
    kept = [
        {
            c.head: f"M{n}" if c.kind is Kind.MARK else text
            for c in schedule.columns
            if (text := data.draw(TYPED)).strip() or c.kind is Kind.MARK
        }
        for n in range(2)
    ]
    kept = [record for record in kept if record]
    notation = Notation(system, signs)
    taken = [taken_cells(schedule, record, notation) for record in kept]
    path = tmp_path_factory.mktemp("taken") / "sent"
    path.write_bytes(_book({schedule.slug: taken}, Told(title="Rows", system=system)))
    proposal = workbook_in.read(str(path), {})
    told = told_by(proposal).get(schedule.slug, [])
    if schedule.mark_head or system is System.METRIC:
        back = brought_back(schedule, told, kept, notation) if schedule.mark_head else told
        assert [_filled(record) for record in back] == [_filled(record) for record in kept]
    for record, was in zip(told, kept, strict=True):
        assert _meaning(schedule, record, signs) == _meaning(schedule, was, signs)


def _filled(record):
    return {head: text for head, text in record.items() if text.strip()}


def _meaning(schedule, record, signs):
    """What a record's cells mean; a figure to ten digits, as it is taken out."""
    row = schedule.parse(record, Notation(decimal=signs))
    values = {c.head: row.typed(c.attribute) for c in schedule.columns}
    return {h: f"{v:.8g}" if isinstance(v, float) else v for h, v in values.items()}


def test_what_a_formula_came_to_is_marked_and_what_nobody_worked_out_is_left_out(made):
    def fill(sheet, book):
        sheet.write_row(0, 0, ["mark", "sill", "glass_w", "n", "frame_w"])
        sheet.write_row(1, 0, ["W1"])
        sheet.write_formula(1, 1, "=2*3", None, 6)
        sheet.write_formula(1, 2, "=A9*2")
        sheet.write_formula(1, 3, "=1/0", None, "#DIV/0!")
        date = book.add_format({"num_format": "yyyy-mm-dd"})
        sheet.write_datetime(1, 4, datetime(2026, 3, 4), date)

    proposal = made(fill)
    (row,) = proposal.rows
    assert set(row.cells) == {"mark", "sill"}
    sill = row.cells["sill"]
    assert (sill.text, sill.how, sill.place) == ("6", How.RECKONED, "windows, B2")
    assert sill.beside == "worked out in the sheet: 6"
    assert row.cells["mark"].how is How.WRITTEN
    assert proposal.said == (
        "Worked out in the sheet, to be looked at: “windows, B2: 6”.",
        "Left out, for no spreadsheet has worked out their formulas: “windows, C2”.",
        "Left out, for they hold an error: “windows, D2”.",
        "Left out: read a date in “windows, E2”; expected it written as text.",
    )


def test_heads_stand_in_any_order_and_what_is_not_known_is_named(made):
    def fill(sheet, book):
        sheet.write_row(0, 0, ["Sill", "Colour", "Mark", "sill_height", ""])
        sheet.write_row(1, 0, [700, "red", "W1", "", "beside"])
        book.add_worksheet("Notes").write(0, 0, "x")

    proposal = made(fill, name="Window schedule")
    assert told_by(proposal) == {"windows": [{"sill": "700", "mark": "W1"}]}
    assert proposal.said == (
        "Left out of the window schedule: “Colour”, “Window schedule, E1”; no column is called so, "
        "or one stands there already.",
        "No schedule is called “Notes”: left out.",
    )
    (asked,) = proposal.questions
    assert asked.chosen == "metric"
    assert dict(asked.choices) == {"metric": "metric: 700 mm", "us": "US units: 700 in"}
    assert told_by(made(fill, answers={"units": "us"}))["windows"][0]["sill"] == "700 in"


def test_units_are_read_of_the_line_below_the_heads(made):
    def fill(sheet, book):
        heads = ["mark", "sill", "glass_w", "glass_h"]
        sheet.write_row(0, 0, heads)
        labels = [WINDOWS.column(head).label for head in heads]
        sheet.write_row(1, 0, [f"{labels[0]} *", *labels[1:3], "As it was called last year"])
        sheet.write_row(2, 0, ["", "inches", "m", "kg"])
        sheet.write_row(3, 0, ["W1", 27.5, 1.2, 900])

    proposal = made(fill)
    assert told_by(proposal) == {"windows": [{"mark": "W1", "sill": "27.5 in", "glass_w": "1.2 m"}]}
    (said,) = proposal.said
    assert said.startswith("windows, D3: read “kg”; expected a unit of length")
    assert proposal.questions == ()


def test_a_first_row_is_never_taken_for_the_line_of_units(made):
    def fill(sheet, book):
        sheet.write_row(0, 0, ["mark", "sill"])
        sheet.write_row(1, 0, ["W1", "27 in"])
        sheet.write_row(2, 0, ["W2", "in"])

    told = told_by(made(fill))["windows"]
    assert told == [{"mark": "W1", "sill": "27 in"}, {"mark": "W2", "sill": "in"}]


def test_a_number_reads_alike_whatever_the_decimal_sign(made):
    def fill(sheet, book):
        sheet.write_row(0, 0, ["mark", "sill [m]", "private"])
        sheet.write_row(1, 0, ["W1", 1.234])
        sheet.write_row(2, 0, ["W2", 0.1 + 0.2])
        sheet.write_boolean(2, 2, True)

    first, second = told_by(made(fill, name="windows"))["windows"]
    assert (first["sill"], second["sill"]) == ("1.2340 m", "0.3 m")
    assert WINDOWS.parse(first, Notation(decimal=DecimalSign.COMMA)).sill_m == 1.234


def test_a_percentage_is_what_the_sheet_shows_and_not_a_hundredth_of_it(made):
    """Typed as 75 % into a cell of no format, a spreadsheet keeps 0.75 and shows 75 %."""

    def fill(sheet, book):
        percent, fine = (book.add_format({"num_format": each}) for each in ("0%", "0.00 %"))
        word = book.add_format({"num_format": '0 "% of all"'})
        sheet.write_row(0, 0, ["mark", "transmittance", "solar_factor", "open_share"])
        sheet.write_row(1, 0, ["W1"])
        sheet.write_number(1, 1, 0.75, percent)
        sheet.write_number(1, 2, 0.123, fine)
        sheet.write_number(1, 3, 0.5, word)

    (row,) = told_by(made(fill))["windows"]
    assert list(row.values())[1:] == ["75 %", "12.3 %", "0.5"]
    window = WINDOWS.parse(row)
    assert (window.transmittance, window.solar_factor) == (0.75, 0.123)


def _changed(content, part, was, becomes):
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as held, zipfile.ZipFile(out, "w") as made:
        for name in held.namelist():
            told = held.read(name)
            made.writestr(name, told.replace(was, becomes) if name == part else told)
    return out.getvalue()


def _with(content, name, held=b""):
    out = io.BytesIO(content)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as made:
        made.writestr(name, held)
    return out.getvalue()


SHEET = "xl/worksheets/sheet2.xml"
BOOK = schedules_workbook([(WINDOWS, [{"mark": "W1", "sill": "700"}])], Told(title="Rows"))
FAR = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
ENTITY = b'<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]><worksheet'
HOSTILE = {
    "macros": (_with(BOOK, "xl/vbaProject.bin"), "a workbook with macros"),
    "binary": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(99), "an old binary workbook"),
    "noise": (bytes(range(256)) * 9, "a file that is no workbook"),
    "cut": (BOOK[:-200], "a file that is no workbook"),
    "other": (
        BOOK.replace(b"xl/workbook.xml", b"xl/workbook.xmk"),
        "a file that is no workbook of",
    ),
    "broken": (_changed(BOOK, SHEET, b"</sheetData>", b""), "a workbook whose part"),
    "entity": (_changed(BOOK, SHEET, b"<worksheet", ENTITY), "a workbook with a document type"),
    "far": (_changed(BOOK, SHEET, b"</sheetData>", FAR), "windows, a cell as far as XFD1048576"),
    "bomb": (_with(BOOK, "xl/media/x.bin", bytes(61 * 2**20)), "a workbook of 61 MB"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_means_harm_is_refused_in_words(at, name):
    content, read = HOSTILE[name]
    with pytest.raises(Refused) as refused:
        workbook_in.read(at(content), {})
    assert refused.value.read.startswith(read)


def test_a_formula_without_a_value_is_never_nothing(at):
    without = b"<f>1+1</f></c>"
    content = _changed(BOOK, SHEET, b"<v>700</v></c>", without)
    proposal = workbook_in.read(at(content), {})
    assert told_by(proposal) == {"windows": [{"mark": "W1"}]}
    assert "worked out their formulas" in proposal.said[0]
