"""The parts of a workbook, looked at before anything decodes it: size, macros, formulas, errors.

A formula that no spreadsheet has worked out reads as 0 to whoever asks for values, so the sheets'
own XML is asked (ISO/IEC 29500-1, 18.3: c, f and v).
"""

from __future__ import annotations

import posixpath
import re
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from xml.parsers import expat

from criteria.errors import Refused

MOST_UNFOLDED_MB = 60
MOST_PARTS = 2000

XLSX = "a workbook of tables (XLSX), as any spreadsheet saves it"

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How a binary workbook of old begins, and one that is locked by a password."""

_AT_ONCE = 1 << 16
_PERCENT_FORMATS = ("9", "10")
"""Formats of percentages that need no declaration (ISO/IEC 29500-1, 18.8.30)."""
_QUOTED = re.compile(r'"[^"]*"|\\.')
"""What a number format shows as it stands, and reads no meaning into."""
_CELL = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})", re.ASCII)
_ROW = re.compile(r"[1-9]\d{0,6}", re.ASCII)


@dataclass
class Sheet:
    """What the XML of one sheet says of its cells, each by row and column counted from 0.

    worked_out   cells whose value follows from a formula
    unworked     of them, those for which the file holds no value
    errors       cells that hold an error, such as #REF!
    percent      cells whose figure is shown a hundredfold, with a percent sign
    last         the furthest row and column that hold anything
    """

    worked_out: set[tuple[int, int]] = field(default_factory=set)
    unworked: set[tuple[int, int]] = field(default_factory=set)
    errors: set[tuple[int, int]] = field(default_factory=set)
    percent: set[tuple[int, int]] = field(default_factory=set)
    last: tuple[int, int] = (0, 0)


class Parts:
    """A workbook's parts. Raises Refused where it isn't one that is read here."""

    def __init__(self, path: str) -> None:
        with open(path, "rb") as file:
            if file.read(len(_OLE)) == _OLE:
                raise Refused("an old binary workbook, or one locked by a password", XLSX)
        try:
            self.archive = zipfile.ZipFile(path)
        except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
            raise Refused("a file that is no workbook", XLSX) from None
        there = self.archive.infolist()
        unfolded = sum(part.file_size for part in there) / 2**20
        if unfolded > MOST_UNFOLDED_MB:
            expected = f"at most {MOST_UNFOLDED_MB} MB"
            raise Refused(f"a workbook of {unfolded:,.0f} MB once it is unfolded", expected)
        if len(there) > MOST_PARTS:
            raise Refused(f"a workbook of {len(there):,} parts", f"at most {MOST_PARTS:,} parts")
        names = {part.filename for part in there}
        if any(map(_is_macro, names)):
            raise Refused("a workbook with macros", "one without: save it as XLSX")
        if "xl/workbook.xml" not in names:
            raise Refused("a file that is no workbook of tables", XLSX)
        self.names = names
        self.paths, self.is_to_be_worked_out = self._sheets()
        self.percent_styles = self._percent_styles()

    def sheet(self, name: str) -> Sheet:
        """What a sheet says of its cells."""
        found = _Cells(self.percent_styles)
        if (path := self.paths.get(name)) in self.names:
            self._parse(str(path), start=found.start, end=found.end, data=found.data)
        return found.sheet

    def _sheets(self) -> tuple[Mapping[str, str], bool]:
        """The part of each sheet by its name; and whether values are due when it is opened."""
        ids: dict[str, str] = {}
        targets: dict[str, str] = {}
        is_due = False

        def in_book(tag: str, attributes: Mapping[str, str]) -> None:
            nonlocal is_due
            if tag == "sheet":
                key = next((v for k, v in attributes.items() if k.endswith(" id")), "")
                ids[attributes.get("name", "")] = key
            elif tag == "calcPr":
                is_due = attributes.get("fullCalcOnLoad") in ("1", "true")

        def in_relations(tag: str, attributes: Mapping[str, str]) -> None:
            if tag == "Relationship":
                target = attributes.get("Target", "")
                path = target[1:] if target.startswith("/") else f"xl/{target}"
                targets[attributes.get("Id", "")] = posixpath.normpath(path)

        self._parse("xl/workbook.xml", start=in_book)
        if "xl/_rels/workbook.xml.rels" in self.names:
            self._parse("xl/_rels/workbook.xml.rels", start=in_relations)
        return {name: targets.get(key, "") for name, key in ids.items()}, is_due

    def _percent_styles(self) -> frozenset[str]:
        """The cell styles whose number format shows a percentage, by their numbers."""
        formats, styles = set(_PERCENT_FORMATS), list[str]()
        is_within = False

        def start(tag: str, attributes: Mapping[str, str]) -> None:
            nonlocal is_within
            if tag == "numFmt" and "%" in _QUOTED.sub("", attributes.get("formatCode", "")):
                formats.add(attributes.get("numFmtId", ""))
            elif tag == "cellXfs":
                is_within = True
            elif tag == "xf" and is_within:
                styles.append(attributes.get("numFmtId", ""))

        def end(tag: str) -> None:
            nonlocal is_within
            is_within = is_within and tag != "cellXfs"

        if "xl/styles.xml" in self.names:
            self._parse("xl/styles.xml", start=start, end=end)
        return frozenset(str(n) for n, number in enumerate(styles) if number in formats)

    def _parse(self, part: str, *, start: Any, end: Any = None, data: Any = None) -> None:
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartElementHandler = lambda tag, attributes: start(_local(tag), attributes)
        if end:
            parser.EndElementHandler = lambda tag: end(_local(tag))
        parser.CharacterDataHandler = data
        parser.StartDoctypeDeclHandler = _refuse_doctype
        try:
            with self.archive.open(part) as file:
                while some := file.read(_AT_ONCE):
                    parser.Parse(some)
            parser.Parse(b"", True)
        except (expat.ExpatError, zipfile.BadZipFile, OSError, RuntimeError, EOFError, zlib.error):
            raise Refused(f"a workbook whose part {part} can’t be read", XLSX) from None
        except NotImplementedError:
            raise Refused(f"a workbook whose part {part} is packed otherwise", XLSX) from None


def _is_macro(name: str) -> bool:
    return name.casefold().endswith("vbaproject.bin") or "/macrosheets/" in name


def _local(tag: str) -> str:
    return tag.rpartition(" ")[2]


def _refuse_doctype(*_: Any) -> None:
    raise Refused("a workbook with a document type of its own", XLSX)


class _Cells:
    """Reads the cells of a sheet's XML as they come."""

    def __init__(self, percent_styles: frozenset[str]) -> None:
        self.sheet, self.percent_styles = Sheet(), percent_styles
        self.row = self.column = -1
        self.type, self.of, self.length, self.style = "", "", 0, "0"
        self.is_value = self.is_formula = False

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "row":
            number = attributes.get("r", "")
            self.row = int(number) - 1 if _ROW.fullmatch(number) else self.row + 1
            self.column = -1
        elif tag == "c":
            at = _at(attributes.get("r", ""))
            self.row, self.column = at or (max(self.row, 0), self.column + 1)
            self.type, self.of, self.length = attributes.get("t", ""), "", 0
            self.style = attributes.get("s", "0")
            self.is_formula = False
        elif tag == "f":
            self.is_formula = True
            is_wide = attributes.get("t") in ("array", "dataTable")
            self.of = attributes.get("ref", "") if is_wide else ""
        elif tag in ("v", "t"):
            self.is_value = True

    def data(self, text: str) -> None:
        if self.is_value:
            self.length += len(text)

    def end(self, tag: str) -> None:
        if tag in ("v", "t"):
            self.is_value = False
        elif tag == "c":
            self._close((self.row, self.column))

    def _close(self, at: tuple[int, int]) -> None:
        if self.is_formula:
            self.sheet.worked_out |= {at, *_within(self.of)}
            # a formula may well come to an empty text
            if not self.length and self.type != "str":
                self.sheet.unworked.add(at)
        if self.type == "e":
            self.sheet.errors.add(at)
        if self.length and self.type in ("", "n") and self.style in self.percent_styles:
            self.sheet.percent.add(at)
        if self.length or self.is_formula:
            self.sheet.last = (max(self.sheet.last[0], at[0]), max(self.sheet.last[1], at[1]))


def _at(place: str) -> tuple[int, int] | None:
    if not (match := _CELL.fullmatch(place)):
        return None
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(match[2]) - 1, column - 1


def _within(area: str) -> set[tuple[int, int]]:
    """The cells of an area such as A1:B3; of one that is too large to be a schedule's, none."""
    first, _, last = area.partition(":")
    top, bottom = _at(first), _at(last or first)
    if not top or not bottom or (bottom[0] - top[0]) * (bottom[1] - top[1]) > 100_000:
        return set()
    rows, columns = range(top[0], bottom[0] + 1), range(top[1], bottom[1] + 1)
    return {(row, column) for row in rows for column in columns}
