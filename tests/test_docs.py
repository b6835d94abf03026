"""The two documents for people, held to the code that they describe."""

import re
from pathlib import Path

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.command.report import catalogue_markdown

ROOT = Path(__file__).parent.parent
README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"


def rooms() -> list[str]:
    """Every folder of the two packages that holds modules of ours."""
    found = (
        path.parent for name in ("criteria", "reviews") for path in (ROOT / name).rglob("*.py")
    )
    return sorted(
        {f"{path.relative_to(ROOT).as_posix()}/" for path in found} - {"reviews/migrations/"}
    )


def test_developers_are_told_of_every_folder():
    text = DEVELOPERS.read_text(encoding="utf-8")
    assert len(rooms()) > 20
    assert [room for room in rooms() if f"`{room}`" not in text] == []


def test_developers_are_told_of_every_check_or_where_the_table_of_them_is():
    text = DEVELOPERS.read_text(encoding="utf-8")
    missing = [check.slug for check in CATALOGUE if f"`{check.slug}`" not in text]
    assert not missing or "python -m criteria checks --markdown" in text, missing


def test_the_readme_has_the_table_of_checks_as_the_library_writes_it():
    text = README.read_text(encoding="utf-8")
    table = re.search(r"<!-- checks -->\n(.*?)<!-- /checks -->", text, re.DOTALL)
    assert table, "README.md has no <!-- checks --> … <!-- /checks -->"
    assert table[1].strip() == catalogue_markdown().strip()


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=lambda path: path.name)
def test_a_document_has_no_gap_left_to_fill(document):
    assert re.findall(r"@@\w+@@|TODO|FIXME|XXX", document.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=lambda path: path.name)
def test_a_document_names_only_files_that_are_there(document):
    text = document.read_text(encoding="utf-8")
    named = re.findall(r"`((?:criteria|reviews|templates|tests)/[\w./-]*)`", text)
    assert [name for name in named if not (ROOT / name).exists()] == []
