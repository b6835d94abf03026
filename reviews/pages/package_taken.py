"""A package to take away whole: its sheets, schedules, statement and check sheet as plain files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from django.db.models.fields.files import FieldFile
from django.template.loader import render_to_string

from criteria.check_sheet.sheet import CheckSheet
from criteria.command.report import as_text
from criteria.schedules import SCHEDULES
from criteria.typed.csv_cells import csv_of
from criteria.typed.tables import write_csv
from criteria.units import Notation, System
from reviews.deeds.record_typed import taken_cells
from reviews.models import IssuedSheet, Package, Revision, Sheet
from reviews.pages.schedules_taken import Taken, as_data
from reviews.reading.package_checking import draft, issued_sheet
from reviews.reading.zip_streaming import AT_ONCE, Filed, plain_name, zipped

Records = Mapping[str, Iterable[Mapping[str, str]]]

SAID = ("number", "title", "kind", "state", "scale", "drawn_by", "checked_by", "width_mm")
"""What the list of sheets holds of each title block."""


def taken_package(package: Package, system: System) -> Iterator[bytes]:
    """A package in preparation, as it stands, in a reader's units."""
    sheets = list(package.sheets.select_related("file", "original"))
    said = f"{package.scheme}, in preparation"
    notation, records = package.notation.read_in(system), package.records()
    checks = _checks(draft(package).sheet, said, notation)
    tables = [*_tables(records, notation), *_data(Taken.of_package(package))]
    files = [*_pictures(sheets), *tables, *_words(package.statement, checks)]
    return zipped(files, partial(_index, said))


def taken_revision(revision: Revision, system: System) -> Iterator[bytes]:
    """A revision as it was issued."""
    sheets = list(revision.sheets.select_related("file", "original"))
    said = str(revision)
    notation, held = revision.notation.read_in(system), revision.contents
    checks = _checks(issued_sheet(revision), said, notation)
    tables = [*_tables(held["schedules"], notation), *_data(Taken.of_revision(revision))]
    files = [*_pictures(sheets), *tables, *_words(held["statement"], checks)]
    return zipped(files, partial(_index, said))


def _tables(records: Records, notation: Notation) -> Iterator[Filed]:
    for schedule in SCHEDULES:
        rows = [taken_cells(schedule, row, notation) for row in records.get(schedule.slug, ())]
        if rows:
            table = write_csv(schedule, rows, notation.system)
            yield _text(f"schedules/{schedule.slug}.csv", schedule.title, f"\ufeff{table}")


def _data(taken: Taken) -> Iterator[Filed]:
    """The same for programs: so the whole is a data package, and comes in again elsewhere."""
    return (_text(part.path, part.words, part.text) for part in as_data(taken))


def _words(statement: str, checks: str) -> Iterator[Filed]:
    if statement:
        yield _text("statement.txt", "The statement", statement)
    yield _text("check-sheet.txt", "The check sheet", checks)


def _checks(sheet: CheckSheet, said: str, notation: Notation) -> str:
    return as_text(sheet, said, {}, notation.system, ())


def _pictures(sheets: Sequence[Sheet] | Sequence[IssuedSheet]) -> Iterator[Filed]:
    """Each sheet's picture, the list of them, and each file that they came from, once."""
    sent = set()
    for sheet in sheets:
        path = f"sheets/{plain_name(str(sheet))}.jpg"
        yield Filed(path, f"Sheet {sheet}", partial(_bytes, sheet.file.image))
    yield _text("sheets.csv", "The list of sheets", _sheet_list(sheets))
    for sheet in sheets:
        if sheet.original and sheet.original.pk not in sent:
            sent.add(sheet.original.pk)
            name = plain_name(sheet.original_name or sheet.original.sha256[:12])
            path = f"as-sent/{plain_name(sheet.number)} {name}"
            yield Filed(path, f"As it was sent: {name}", partial(_bytes, sheet.original.file))


def _sheet_list(sheets: Sequence[Sheet] | Sequence[IssuedSheet]) -> str:
    lines = ([str(getattr(sheet, name) or "") for name in SAID] for sheet in sheets)
    return "\ufeff" + csv_of([SAID, *lines])


def _text(path: str, words: str, text: str) -> Filed:
    return Filed(path, words, lambda: iter([text.encode()]))


def _bytes(stored: FieldFile) -> Iterator[bytes]:
    with stored.storage.open(str(stored)) as file:
        while part := file.read(AT_ONCE):
            yield part


def _index(said: str, there: list[Filed], missing: list[Filed]) -> Filed:
    context = {"said": said, "there": there, "missing": missing}
    return _text("index.html", "", render_to_string("packages/taken_index.html", context))
