"""The demo's packages, whole: every check that finds something is kept and read as it was."""

import json
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

import reviews
from criteria.check_sheet.record import as_record, read_record
from criteria.check_sheet.sheet import check_sheet
from criteria.command.folder import read_folder
from criteria.units import System
from reviews.pages.check_sheet_page import sheet_page
from reviews.worked_out import Told

DATA = Path(reviews.__file__).parent / "demo" / "data"


@pytest.mark.parametrize(
    ("scheme", "rev"), [("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C")]
)
def test_every_page_of_a_kept_check_sheet_is_as_it_was(scheme, rev):
    folder = read_folder(DATA, scheme=scheme, rev=rev)
    sheet = check_sheet(folder.package, folder.targets)
    again = read_record(json.loads(json.dumps(as_record(sheet), allow_nan=False)))
    assert len(again.asked) > 20
    assert again == sheet
    for system in System:
        pages = [sheet_page(Told("one", of), folder.package, system) for of in (again, sheet)]
        assert pages[0] == pages[1]
    assert all(type(found) is not dict for found in _all_of(again))


def _all_of(value):
    yield value
    if is_dataclass(value):
        value = tuple(getattr(value, field.name) for field in fields(value))
    if isinstance(value, tuple):
        for each in value:
            yield from _all_of(each)
