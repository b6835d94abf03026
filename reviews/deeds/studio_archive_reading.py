"""Read a studio's archive before anything of it is believed: its shape, sizes, digests and rows.

It may come from anywhere. Names in it are never paths: a member is one of three kinds or the
archive is refused. Nothing is unpacked; what is read is counted, and ends where it is more than was
said.
"""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any
from zipfile import BadZipFile, ZipFile, ZipInfo

from criteria.errors import InputError
from reviews.deeds.studio_archive_form import (
    FORMAT,
    MANIFEST,
    Model,
    archived_models,
    label_of,
    told_fields,
)
from reviews.deeds.studio_archive_writing import Manifest

BLOCK = 1 << 20
MOST_MEMBERS = 100_000
MOST_MANIFEST_BYTES = 20 << 20
MOST_TABLE_BYTES = 256 << 20
"""Of one table, unpacked: a studio of thirty schemes takes some twenty megabytes in all."""
MOST_FILE_BYTES = 1 << 30
MOST_BYTES = 20 << 30
MOST_LINE = 32 << 20
_MEMBER = re.compile(r"manifest\.json|tables/[a-z]+\.jsonl|files/[0-9a-f]{64}")


class StudioArchive:
    """An archive, open to be read."""

    def __init__(self, source: Path | IO[bytes]) -> None:
        try:
            self._zip = ZipFile(source)
        except (BadZipFile, OSError, ValueError, NotImplementedError) as fault:
            raise InputError(f"Read a file that is no whole ZIP ({fault}).") from None
        self._infos = _members(self._zip)
        raw = b"".join(self._blocks(MANIFEST, MOST_MANIFEST_BYTES))
        self.receipt = hashlib.sha256(raw).hexdigest()
        self.manifest = _manifest(raw)
        self._require_all_there()

    def lines(self, model: Model) -> Iterator[tuple[int, dict[str, Any]]]:
        """Each row of a table with its line. Raises InputError with the place of what is wrong."""
        label = label_of(model)
        if label not in self.manifest.tables:
            return
        digest, rows = self.manifest.tables[label]
        found, left, number = hashlib.sha256(), b"", 0
        known = {field.name for field in told_fields(model)}
        for block in self._blocks(f"tables/{label}.jsonl", MOST_TABLE_BYTES):
            found.update(block)
            *whole, left = (left + block).split(b"\n")
            if len(left) > MOST_LINE:
                raise InputError(f"{label}, line {number + 1}: Expected at most {MOST_LINE} bytes.")
            for line in whole:
                number += 1
                yield number, _row(label, number, line, known)
        if left or number != rows or found.hexdigest() != digest:
            raise InputError(f"{label}: the table isn’t as the list of the archive says.")

    def file(self, digest: str) -> Iterator[bytes]:
        """A file's bytes. Raises InputError where they aren't those of its name."""
        found = hashlib.sha256()
        for block in self._blocks(f"files/{digest}", MOST_FILE_BYTES):
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
        listed = {f"tables/{label}.jsonl" for label in self.manifest.tables}
        listed |= {f"files/{digest}" for digest in self.manifest.files}
        if apart := sorted(there ^ listed):
            raise InputError(f"The list of the archive and what lies in it differ: {apart[0]}.")
        labels = {label_of(model) for model in archived_models()}
        if unknown := sorted(self.manifest.tables.keys() - labels):
            raise InputError(f"Read a table {unknown[0]}, which isn’t known here.")


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
        manifest = Manifest(**told)
        tables = {label: (str(kind), int(n)) for label, (kind, n) in manifest.tables.items()}
        files = {str(digest): int(size) for digest, size in manifest.files.items()}
        words = str(manifest.key), str(manifest.studio), bool(manifest.with_addresses)
    except InputError:
        raise
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as fault:
        raise InputError(f"The list of the archive can’t be read: {fault}.") from None
    return Manifest(
        **told
        | {"tables": tables, "files": files}
        | dict(zip(("key", "studio", "with_addresses"), words, strict=True))
    )


def _row(label: str, number: int, line: bytes, known: set[str]) -> dict[str, Any]:
    place = f"{label}, line {number}"
    try:
        row = json.loads(line)
    except (ValueError, RecursionError) as fault:
        raise InputError(f"{place}: no row can be read ({fault}).") from None
    if not isinstance(row, dict):
        raise InputError(f"{place}: Read no row.")
    if unknown := sorted(row.keys() - known):
        raise InputError(f"{place}: Read a field “{unknown[0][:40]}”, which isn’t known here.")
    return row
