"""Read a studio's archive before anything of it is believed: its shape, sizes, digests and rows.

It may come from anywhere. Names in it are never paths: a member is one of three kinds or the
archive is refused. Nothing is unpacked; what is read is counted, and ends where it is more than was
said.
"""

from __future__ import annotations

import csv
import hashlib
import json
import re
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any
from zipfile import BadZipFile, ZipFile, ZipInfo

from criteria.errors import InputError
from criteria.typed.csv_cells import as_typed
from reviews.deeds.studio_archive_form import (
    FORMAT,
    MANIFEST,
    Model,
    Record,
    archived_models,
    label_of,
    told_fields,
)
from reviews.deeds.studio_archive_tables import LINE, LONG, LONG_HEADS, path_of, record_of
from reviews.deeds.studio_archive_writing import Manifest
from reviews.exchange.described import DESCRIBED, DESCRIBED_FOR_WEB

BLOCK = 1 << 20
MOST_MEMBERS = 100_000
MOST_MANIFEST_BYTES = 20 << 20
MOST_TABLE_BYTES = 256 << 20
"""Of one table, unpacked: a studio of thirty schemes takes some twenty megabytes in all."""
MOST_FILE_BYTES = 1 << 30
MOST_BYTES = 20 << 30
MOST_LINE = 32 << 20
JSON_LINES = 1
"""The format whose tables were lines of JSON."""
_MEMBER = re.compile(
    rf"{MANIFEST}|{DESCRIBED}|{DESCRIBED_FOR_WEB}|tables/[a-z]+\.(?:csv|jsonl)|files/[0-9a-f]{{64}}"
)


class StudioArchive:
    """An archive, open to be read."""

    def __init__(self, source: Path | IO[bytes]) -> None:
        try:
            self._zip = ZipFile(source)
        except (BadZipFile, OSError, ValueError, NotImplementedError) as fault:
            raise InputError(f"Read a file that is no whole ZIP ({fault}).") from None
        self._infos = _members(self._zip)
        self._found: dict[str, Any] = {}
        raw = b"".join(self._blocks(MANIFEST, MOST_MANIFEST_BYTES))
        self.receipt = hashlib.sha256(raw).hexdigest()
        self.manifest = _manifest(raw)
        self._require_all_there()
        self._long = {(of, line, name): digest for of, line, name, digest in self._long_cells()}

    def lines(self, model: Model) -> Iterator[tuple[int, Record]]:
        """Each row of a table with its line. Raises InputError with the place of what is wrong."""
        label, number = label_of(model), 0
        if label not in self.manifest.tables:
            return
        if self.manifest.format == JSON_LINES:
            read = _of_json(label, self._raw_lines(f"tables/{label}.jsonl", label), model)
        else:
            read = self._of_csv(label, model)
        for number, row in enumerate(read, start=1):
            yield number, row
        self._require_rows(label, number)

    def _of_csv(self, label: str, model: Model) -> Iterator[Record]:
        for number, cells in enumerate(self._csv(label), start=1):
            place = f"{label}, line {number}"
            if cells.pop(LINE, "") != str(number):
                raise InputError(f"{place}: Expected rows in the order of their lines.")
            for name in cells:
                if digest := self._long.get((label, str(number), name)):
                    cells[name] = b"".join(self.file(digest, MOST_LINE)).decode()
            yield record_of(model, cells, place)

    def _long_cells(self) -> Iterator[list[str]]:
        """Cells that lie as files: table, line, field and SHA-256 of each."""
        if LONG not in self.manifest.tables:
            return
        rows = list(self._csv(LONG))
        self._require_rows(LONG, len(rows))
        for cells in rows:
            if {*cells} != {*LONG_HEADS}:
                raise InputError(f"{LONG}: Expected the heads {', '.join(LONG_HEADS)}.")
            yield [cells[head] for head in LONG_HEADS]

    def _csv(self, label: str) -> Iterator[dict[str, str]]:
        """The rows of a table by head."""
        lines = self._raw_lines(path_of(label), label)
        grid = csv.reader((line.decode() for line in lines), strict=True)
        try:
            heads = next(grid, [])
            for number, line in enumerate(grid, start=1):
                if len(line) != len(heads) or len({*heads}) != len(heads):
                    raise InputError(f"{label}, line {number}: Expected a cell under each head.")
                yield dict(zip(heads, map(as_typed, line), strict=True))
        except (csv.Error, UnicodeDecodeError) as fault:
            raise InputError(f"{label} can’t be read: {fault}.") from None

    def _raw_lines(self, path: str, label: str) -> Iterator[bytes]:
        """Lines of a table with their ends; what was read is digested."""
        found = self._found[label] = hashlib.sha256()
        left, number = b"", 0
        for block in self._blocks(path, MOST_TABLE_BYTES):
            found.update(block)
            *whole, left = (left + block).split(b"\n")
            if len(left) > MOST_LINE:
                raise InputError(f"{label}, line {number + 1}: Expected at most {MOST_LINE} bytes.")
            for line in whole:
                number += 1
                yield line + b"\n"
        if left:
            yield left

    def _require_rows(self, label: str, number: int) -> None:
        digest, rows = self.manifest.tables[label]
        if number != rows or self._found[label].hexdigest() != digest:
            raise InputError(f"{label}: the table isn’t as the list of the archive says.")

    def file(self, digest: str, most: int = MOST_FILE_BYTES) -> Iterator[bytes]:
        """A file's bytes. Raises InputError where they aren't those of its name."""
        found = hashlib.sha256()
        for block in self._blocks(f"files/{digest}", most):
            found.update(block)
            yield block
        if found.hexdigest() != digest:
            raise InputError(f"File {digest[:12]}… isn’t as it was written.")

    def _blocks(self, name: str, most: int) -> Iterator[bytes]:
        info = self._infos.get(name)
        if info is None:
            raise InputError(f"The archive has no {name}.")
        read = 0
        try:
            with self._zip.open(info) as member:
                while block := member.read(BLOCK):
                    read += len(block)
                    if read > most or read > info.file_size:
                        raise InputError(f"{name}: more than {most} bytes, or than it says.")
                    yield block
        except (BadZipFile, OSError, ValueError, RuntimeError, zlib.error) as fault:
            raise InputError(f"{name} can’t be read: {fault}.") from None

    def _require_all_there(self) -> None:
        there = {name for name in self._infos if name != MANIFEST}
        is_json = self.manifest.format == JSON_LINES
        listed = {
            f"tables/{label}.jsonl" if is_json else path_of(label) for label in self.manifest.tables
        }
        listed |= {f"files/{digest}" for digest in self.manifest.files}
        listed |= self.manifest.described.keys()
        if apart := sorted(there ^ listed):
            raise InputError(f"The list of the archive and what lies in it differ: {apart[0]}.")
        labels = {LONG, *(label_of(model) for model in archived_models())}
        if unknown := sorted(self.manifest.tables.keys() - labels):
            raise InputError(f"Read a table {unknown[0]}, which isn’t known here.")
        for path, digest in self.manifest.described.items():
            raw = b"".join(self._blocks(path, MOST_TABLE_BYTES))
            if hashlib.sha256(raw).hexdigest() != digest:
                raise InputError(f"{path} isn’t as it was written.")


def _members(archive: ZipFile) -> dict[str, ZipInfo]:
    infos = archive.infolist()
    if len(infos) > MOST_MEMBERS:
        raise InputError(f"Read {len(infos)} files. Expected at most {MOST_MEMBERS}.")
    for info in infos:
        if not _MEMBER.fullmatch(info.filename):
            raise InputError(f"Read a file “{info.filename[:80]}”, which no studio’s archive has.")
        if info.flag_bits & 1:
            raise InputError("Read an archive under a password. Expected one without.")
    if sum(info.file_size for info in infos) > MOST_BYTES:
        raise InputError(f"Read more than {MOST_BYTES >> 30} GB unpacked. Expected less.")
    found = {info.filename: info for info in infos}
    if len(found) != len(infos):
        raise InputError("Two files of the archive have one name.")
    return found


def _manifest(raw: bytes) -> Manifest:
    try:
        told: dict[str, Any] = json.loads(raw)
        form = told["format"]
        if isinstance(form, int) and form > FORMAT:
            raise InputError(
                f"Read format {form}, made by Muntin {told.get('version')}. Expected {FORMAT} or "
                "less: bring it in with that version or a later one."
            )
        told.setdefault("described", {})
        manifest = Manifest(**told)
        tables = {label: (str(kind), int(n)) for label, (kind, n) in manifest.tables.items()}
        files = {str(digest): int(size) for digest, size in manifest.files.items()}
        described = {str(path): str(digest) for path, digest in manifest.described.items()}
        words = str(manifest.key), str(manifest.studio), bool(manifest.with_addresses)
    except InputError:
        raise
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as fault:
        raise InputError(f"The list of the archive can’t be read: {fault}.") from None
    return Manifest(
        **told
        | {"tables": tables, "files": files, "described": described}
        | dict(zip(("key", "studio", "with_addresses"), words, strict=True))
    )


def _of_json(label: str, lines: Iterator[bytes], model: Model) -> Iterator[Record]:
    known = {field.name for field in told_fields(model)}
    for number, line in enumerate(lines, start=1):
        place = f"{label}, line {number}"
        try:
            row = json.loads(line)
        except (ValueError, RecursionError) as fault:
            raise InputError(f"{place}: no row can be read ({fault}).") from None
        if not isinstance(row, dict):
            raise InputError(f"{place}: Read no row.")
        if unknown := sorted(row.keys() - known):
            raise InputError(f"{place}: Read a field “{unknown[0][:40]}”, which isn’t known here.")
        yield row
