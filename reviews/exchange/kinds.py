"""The kinds of file that are read, each with the module that reads it: known by what is inside.

Knows no library that reads one: pages ask this, and never what decodes.
"""

from __future__ import annotations

import zipfile
from dataclasses import dataclass
from typing import BinaryIO

HEAD = 4096
"""So many bytes of a file say what it is, where it is no ZIP."""
OLE = b"\xd0\xcf\x11\xe0"
"""How workbooks of before 2007 begin, and those with a password: refused in words of their own."""


@dataclass(frozen=True, kw_only=True)
class FileKind:
    """A kind of file.

    name      by which the reader is asked for it
    called    in words, with its article
    ends      how names of such files end
    module    that reads it: has read(path, answers) -> Proposal
    library   that the module needs beside the base install; nothing where it needs none
    extra     which extra brings that library
    gives     which schedules may get cells of it, in words
    """

    name: str
    called: str
    ends: tuple[str, ...]
    module: str
    library: str = ""
    extra: str = ""
    gives: str = ""


KINDS: tuple[FileKind, ...] = (
    FileKind(
        name="workbook",
        called="a workbook (XLSX)",
        ends=(".xlsx",),
        module="reviews.exchange.workbook_in",
        gives="any schedule",
    ),
    FileKind(
        name="data-package",
        called="a ZIP of CSV tables with datapackage.json",
        ends=(".zip",),
        module="reviews.exchange.data_package_in",
        gives="any schedule",
    ),
    FileKind(
        name="model",
        called="a building model (IFC)",
        ends=(".ifc",),
        module="reviews.exchange.model",
        library="ifcopenshell",
        extra="models",
        gives="rooms, windows, doors, build-ups and furniture",
    ),
    FileKind(
        name="gbxml",
        called="an energy model (gbXML)",
        ends=(".xml", ".gbxml"),
        module="reviews.exchange.gbxml",
        gives="rooms, windows, doors and build-ups",
    ),
    FileKind(
        name="plan",
        called="a plan drawing (DXF)",
        ends=(".dxf",),
        module="reviews.exchange.plan_drawing",
        library="ezdxf",
        extra="dxf",
        gives="rooms, windows and doors",
    ),
    FileKind(
        name="table",
        called="a table (CSV)",
        ends=(".csv", ".tsv", ".txt"),
        module="reviews.exchange.table_in",
        gives="one schedule",
    ),
)
"""Of a package, each in the order in which a page names them."""
ROSTER = FileKind(
    name="roster",
    called="a roster (OneRoster CSV in a ZIP)",
    ends=(".zip",),
    module="reviews.exchange.roster",
    gives="the people of a studio",
)
BY_NAME = {kind.name: kind for kind in (*KINDS, ROSTER)}


def kind_of(file: BinaryIO) -> FileKind | None:
    """What a file is, by what is inside, whatever its name says; None of what nobody reads.

    >>> import io
    >>> kind_of(io.BytesIO(b"ISO-10303-21;")).name, kind_of(io.BytesIO(b"\\x89PNG\\x1a"))
    ('model', None)
    """
    head = file.read(HEAD)
    file.seek(0)
    if head.startswith(OLE):
        return BY_NAME["workbook"]
    if head.startswith(b"PK"):
        return BY_NAME.get(_kind_of_zip(file))
    return BY_NAME.get(_kind_of_head(head))


def _kind_of_zip(file: BinaryIO) -> str:
    try:
        names = set(zipfile.ZipFile(file).namelist())
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        return ""
    finally:
        file.seek(0)
    if "xl/workbook.xml" in names:
        return "workbook"
    if "datapackage.json" in names:
        return "data-package"
    return "roster" if {"users.csv", "enrollments.csv"} <= {n.split("/")[-1] for n in names} else ""


def _kind_of_head(head: bytes) -> str:
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = head.decode("utf-16", errors="ignore")
    else:
        text = head.decode("utf-8-sig", errors="ignore")
    begins = text.lstrip()
    if begins.startswith("ISO-10303-21"):
        return "model"
    if begins.startswith("<"):
        return "gbxml" if "<gbXML" in text or ":gbXML" in text else ""
    lines = [line.strip() for line in text.splitlines()[:40]]
    if head.startswith(b"AutoCAD Binary DXF") or ("SECTION" in lines[:20] and "0" in lines[:20]):
        return "plan"
    return "table" if begins and not any(sign < " " and not sign.isspace() for sign in text) else ""
