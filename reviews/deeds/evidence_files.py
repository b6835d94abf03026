"""Write a book of evidence as plain files: a ZIP that opens anywhere, and one PDF.

All of it follows from the contents and from what revisions hold for good, so that a book can be
made again. `contents.json` names every other file with its SHA-256; its own is the receipt number.
Index, pages and PDF show the receipt and repeat what stands in it.
"""

from __future__ import annotations

import hashlib
import io
import json
import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import IO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from django.template.loader import render_to_string
from django.utils import timezone
from PIL import Image

from criteria.command.report import as_text
from criteria.schedules import SCHEDULES
from criteria.typed.csv_cells import csv_of
from criteria.units import System
from reviews.drawn.evidence_pdf import Shown, draw_book
from reviews.exchange.data_package import Told as DataTold
from reviews.exchange.data_package import data_package
from reviews.exchange.described import APOSTROPHES, Whole, descriptions
from reviews.exchange.plain_jpeg import without_words
from reviews.models import IssuedSheet, Original, Revision, SheetFile, Studio
from reviews.reading.evidence_contents import Told
from reviews.reading.evidence_lines import schedules_path
from reviews.reading.evidence_names import Masks, masks_of
from reviews.reading.evidence_tables import Filled, described, table_of_files, tables_of
from reviews.reading.zip_streaming import plain_name

CONTENTS, INDEX, PDF, STYLE = "contents.json", "index.html", "book.pdf", "book.css"
MOST_ORIGINAL_BYTES = 2_000_000
"""Files as they were sent go along up to this size, each; larger ones stay where they are."""
SHOWN_PX = 700
"""Across a sheet's picture in the PDF: 200 dots an inch at 88 mm [px]."""
AT_ONCE = 1 << 20

LOG = logging.getLogger(__name__)
NOBODY = Masks({}, {})


@dataclass
class _Shelf:
    """The ZIP as it is written, with what lies in it and what couldn't be read."""

    archive: ZipFile
    files: list[Told] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)

    def put(self, path: str, parts: Iterable[bytes], words: str = "") -> None:
        """Write a file; with words, it is one that the contents name."""
        info = ZipInfo(path, timezone.localtime().timetuple()[:6])
        is_picture = path.endswith(".jpg") or "/as-sent/" in path
        info.compress_type = ZIP_STORED if is_picture else ZIP_DEFLATED
        info.external_attr = 0o644 << 16
        digest, size = hashlib.sha256(), 0
        with self.archive.open(info, "w", force_zip64=True) as written:
            for part in parts:
                digest.update(part)
                size += len(part)
                written.write(part)
        if words:
            told = {"path": path, "sha256": digest.hexdigest(), "bytes": size, "words": words}
            self.files.append(told)

    def text(self, path: str, text: str, words: str) -> None:
        """Write a text; a table with the mark by which spreadsheets know UTF-8."""
        mark = "\ufeff" if path.endswith(".csv") else ""
        self.put(path, [f"{mark}{text}".encode()], words)

    def table(self, filled: Filled) -> None:
        """Write a table as CSV."""
        heads = [head.name for head in filled.table.heads]
        self.text(filled.table.path, csv_of([heads, *filled.lines]), filled.table.title)


def write_book(
    contents: Told,
    studio: Studio,
    zip_out: IO[bytes],
    pdf_out: IO[bytes],
    on_scheme: Callable[[int], None],
) -> str:
    """Write both; return the receipt. What the files are is added to the contents."""
    masks = masks_of(studio) if contents["is_anonymous"] else NOBODY
    shown: dict[str, list[Shown]] = {}
    with ZipFile(zip_out, "w") as archive:
        shelf = _Shelf(archive)
        shelf.text("studio/brief.txt", contents["studio"]["brief"]["text"], "The brief")
        for n, scheme in enumerate(contents["schemes"], start=1):
            shown[scheme["number"]] = _scheme_files(shelf, scheme, studio, contents, masks)
            on_scheme(n)
        contents["files"], contents["missing"] = shelf.files, shelf.missing
        _described_tables(shelf, contents)
        raw = as_written(contents)
        receipt = hashlib.sha256(raw).hexdigest()
        shelf.put(CONTENTS, [raw])
        drawn = draw_book(contents, shown, receipt)
        pdf_out.write(drawn)
        shelf.put(PDF, [drawn])
        shelf.put(STYLE, [render_to_string("evidence/book.css").encode()])
        _pages(shelf, contents, receipt)
    return receipt


def as_written(contents: Told) -> bytes:
    """The contents as the book holds them, byte for byte."""
    return json.dumps(contents, ensure_ascii=False, sort_keys=True, indent=1).encode()


def folder_of(number: str) -> str:
    """Where a scheme's files lie in the book.

    >>> folder_of("H03"), folder_of("../x")
    ('schemes/H03', 'schemes/_x')
    """
    return f"schemes/{plain_name(number)}"


def _pages(shelf: _Shelf, contents: Told, receipt: str) -> None:
    around = {"book": contents, "receipt": receipt, "is_file": True}
    index = render_to_string("evidence/book_index.html", around | {"root": ""})
    shelf.put(INDEX, [index.encode()])
    for scheme in contents["schemes"]:
        of_it = around | {"scheme": scheme, "root": "../../"}
        page = render_to_string("evidence/book_scheme.html", of_it)
        shelf.put(f"{folder_of(scheme['number'])}/{INDEX}", [page.encode()])


def _described_tables(shelf: _Shelf, contents: Told) -> None:
    """The contents as tables, a list of the files among them, and what describes them."""
    tables = tables_of(contents)
    for filled in tables:
        shelf.table(filled)
    files = table_of_files(shelf.files)
    shelf.table(files)
    tables_told = described([*tables, files])
    words = f"Frozen {contents['frozen']}. {contents['teaching']} {APOSTROPHES}"
    whole = Whole(name=contents["title"], title=contents["title"], words=words)
    for path, said, text in descriptions(tables_told, whole):
        shelf.text(path, text, said)


def _scheme_files(
    shelf: _Shelf, scheme: Told, studio: Studio, contents: Told, masks: Masks
) -> list[Shown]:
    """Tables, check sheets and pictures of every revision; return what the PDF shows of them."""
    issued = Revision.objects.filter(scheme__studio=studio, scheme__number=scheme["number"])
    found = {each.letter: each for each in issued.select_related("scheme")}
    shown: list[Shown] = []
    for told in scheme["revisions"]:
        folder = f"{folder_of(scheme['number'])}/{plain_name(told['letter'])}"
        of = f"{scheme['number']} revision {told['letter']}"
        told["folder"] = folder
        revision = found.get(told["letter"])
        if told["statement"]:
            shelf.text(f"{folder}/statement.txt", told["statement"], f"{of}, statement")
        if revision is None:
            shelf.missing.append(f"{of}, schedules and check sheet")
        else:
            _tables(shelf, folder, of, revision, masks)
        shown += _pictures(shelf, folder, of, told)
        if revision is not None and not contents["is_anonymous"]:
            _as_sent(shelf, folder, of, revision)
    return shown


def _tables(shelf: _Shelf, folder: str, of: str, revision: Revision, masks: Masks) -> None:
    held: Mapping[str, Sequence[Mapping[str, str]]] = revision.contents["schedules"]
    tables = [(each, masks.all([*held.get(each.slug, ())])) for each in SCHEDULES]
    title = masks.text(str(revision))
    notation, at = revision.notation, revision.issued_at
    told = DataTold(name=plain_name(of), title=title, notation=notation, made_at=at)
    for part in data_package(tables, told):
        shelf.text(schedules_path(folder, part.path), part.text, f"{of}, {part.words}")
    sheet = revision.issued_checks.holds
    checks = masks.text(as_text(sheet, str(revision), {}, System.METRIC, ()))
    shelf.text(f"{folder}/check-sheet.txt", checks, f"{of}, check sheet as issued")


def _pictures(shelf: _Shelf, folder: str, of: str, told: Told) -> list[Shown]:
    """Each sheet's picture without what was written beside it."""
    hashes = [sheet["sha256"] for sheet in told["sheets"]]
    files = {each.sha256: each for each in SheetFile.objects.filter(sha256__in=hashes)}
    shown = []
    for sheet in told["sheets"]:
        sheet.pop("path", None)
        path = f"{folder}/sheets/{plain_name(sheet['number'])}.jpg"
        words = f"{of}, sheet {sheet['number']} {sheet['title']}"
        try:
            file = files[sheet["sha256"]]
            with file.image.storage.open(str(file.image)) as stored:
                picture = without_words(stored.read())
            small = _small(file)
        except (KeyError, OSError, ValueError) as why:
            LOG.warning("%s is left out of a book: %s", words, why)
            shelf.missing.append(words)
            continue
        sheet["path"] = path
        shelf.put(path, [picture], words)
        shown.append(Shown(told["letter"], f"{sheet['number']} {sheet['title']}", small))
    return shown


def _small(file: SheetFile) -> bytes:
    with file.preview.storage.open(str(file.preview)) as stored, Image.open(stored) as picture:
        picture.draft("RGB", (SHOWN_PX, SHOWN_PX))
        small = picture.convert("RGB")
        small.thumbnail((SHOWN_PX, SHOWN_PX))
        out = io.BytesIO()
        small.save(out, "JPEG", quality=60)
    return out.getvalue()


def _as_sent(shelf: _Shelf, folder: str, of: str, revision: Revision) -> None:
    """The files as they were sent, where they are small, each once."""
    sheets = IssuedSheet.objects.filter(revision=revision).exclude(original=None)
    seen: set[int] = set()
    for sheet in sheets.select_related("original").order_by("number", "pk"):
        original = sheet.original
        if original is None or original.pk in seen or original.bytes > MOST_ORIGINAL_BYTES:
            continue
        seen.add(original.pk)
        name = plain_name(sheet.original_name or original.sha256[:12])
        words = f"{of}, as it was sent: {name}"
        try:
            raw = _bytes(original)
        except OSError:
            shelf.missing.append(words)
            continue
        shelf.put(f"{folder}/as-sent/{plain_name(sheet.number)} {name}", [raw], words)


def _bytes(original: Original) -> bytes:
    with original.file.storage.open(str(original.file)) as stored:
        raw: bytes = stored.read()
    return raw
