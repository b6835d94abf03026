"""Files are known by what is inside."""

import io
import zipfile

import pytest

from reviews.exchange.kinds import KINDS, kind_of


def zipped(*names: str) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name in names:
            archive.writestr(name, "{}")
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("inside", "name"),
    [
        (b"ISO-10303-21;\nHEADER;", "model"),
        (b"\xef\xbb\xbfISO-10303-21;\nHEADER;", "model"),
        (b'<?xml version="1.0"?>\n<gbXML xmlns="http://www.gbxml.org/schema">', "gbxml"),
        ('<?xml version="1.0" encoding="utf-16"?><gbXML>'.encode("utf-16"), "gbxml"),
        (b"<html><body>", ""),
        (b"  0\r\nSECTION\r\n  2\r\nHEADER\r\n", "plan"),
        (b"999\nmade by\n0\nSECTION\n", "plan"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00", "plan"),
        (zipped("xl/workbook.xml"), "workbook"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "workbook"),
        (zipped("datapackage.json"), "data-package"),
        (zipped("else.txt"), ""),
        (b"PK\x03\x04 cut", ""),
        (b"mark,room,floor_m2\nR1,Day room,22.4\n", "table"),
        ("mark;Raum\nR1;Küche\n".encode("cp1252"), "table"),
        ("mark\tRaum\nR1\tKüche\n".encode("utf-16"), "table"),
        (b"%PDF-1.7\n%\xe2\xe3\x00", ""),
        (b"\x89PNG\r\n\x1a\n", ""),
        (b"\x00" * 200, ""),
        (b"   \n", ""),
    ],
)
def test_a_file_is_told_by_what_is_inside(inside, name):
    kind = kind_of(io.BytesIO(inside))
    assert (kind.name if kind else "") == name


def test_a_file_is_left_at_its_beginning():
    file = io.BytesIO(zipped("xl/workbook.xml"))
    kind_of(file)
    assert file.tell() == 0


def test_each_kind_is_read_by_a_module_of_its_own():
    assert len({kind.module for kind in KINDS}) == len({kind.name for kind in KINDS}) == len(KINDS)
    assert all(bool(kind.library) == bool(kind.extra) for kind in KINDS)
