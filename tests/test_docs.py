"""The two documents for people, held to the code that they describe."""

import re
from pathlib import Path

import pytest

from criteria.catalogue import CATALOGUE
from criteria.report import catalogue_markdown

ROOT = Path(__file__).parent.parent
README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"


def modules() -> list[Path]:
    found = (path for folder in ("criteria", "reviews") for path in (ROOT / folder).rglob("*.py"))
    return sorted(
        path.relative_to(ROOT)
        for path in found
        if path.stem != "__init__" and "migrations" not in path.parts
    )


def unnamed(text: str, paths: list[Path]) -> list[str]:
    """The modules that a text doesn't name: folder and module, on one line or the lines under it.

    A folder is named with a stroke behind it (`measures/`), a module with or without its ending.
    """
    words = set(re.findall(r"[\w/.]+", text))
    stems = {word.rstrip(".").rsplit("/", 1)[-1].removesuffix(".py") for word in words}
    folders = {part for word in words for part in word.split("/")[:-1]}
    return [
        path.as_posix()
        for path in paths
        if path.stem not in stems or not set(path.parent.parts) <= folders
    ]


def test_a_module_that_a_text_forgets_is_found():
    paths = [Path("criteria/units.py"), Path("criteria/odd/value.py")]
    assert unnamed("criteria/ units.py odd/ value.py", paths) == []
    assert unnamed("criteria/units.py and criteria/odd/value.py", paths) == []
    assert unnamed("criteria/ units.py value.py", paths) == ["criteria/odd/value.py"]
    assert unnamed("criteria/ odd/value.py", paths) == ["criteria/units.py"]


def test_developers_are_told_of_every_module():
    assert unnamed(DEVELOPERS.read_text(encoding="utf-8"), modules()) == []


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
