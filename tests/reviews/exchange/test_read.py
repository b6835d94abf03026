"""The process that reads: what it prints, and what it says where a library lacks."""

import json
import sys
from types import SimpleNamespace

import pytest

from criteria.errors import Refused
from reviews.exchange import read
from reviews.exchange.proposed import Proposal, ProposedCell, ProposedRow


@pytest.fixture
def reader(monkeypatch):
    """Stands in for the reader of plans."""

    def reads(made) -> None:
        module = SimpleNamespace(read=made)
        monkeypatch.setattr(read.importlib, "import_module", lambda name: module)

    return reads


def printed(capsys, *arguments: str) -> dict:
    read.main(arguments)
    return json.loads(capsys.readouterr().out)


@pytest.fixture(autouse=True)
def unbound(monkeypatch):
    """This process isn't bounded: the tests go on in it."""
    monkeypatch.setattr(read, "bound", lambda: None)


def test_what_is_proposed_is_printed_and_answers_go_along(reader, capsys):
    reader(lambda path, answers: Proposal(kind="plan", said=(f"{path} in {answers['unit']}.",)))
    assert printed(capsys, "plan", "a.dxf", '{"unit": "mm"}')["said"] == ["a.dxf in mm."]
    reader(lambda path, answers: Proposal(kind="plan", said=(str(answers),)))
    assert printed(capsys, "plan", "a.dxf")["said"] == ["{}"]


def test_a_refusal_is_printed(reader, capsys):
    def refuses(path, answers):
        raise Refused("a cut file", "a whole one")

    reader(refuses)
    assert printed(capsys, "plan", "a.dxf") == {"read": "a cut file", "expected": "a whole one"}


def test_too_little_memory_is_said(reader, capsys):
    def runs_out(path, answers):
        raise MemoryError

    reader(runs_out)
    assert printed(capsys, "plan", "a.dxf")["read"] == "more than fits in memory here"


def test_an_answer_that_is_too_long_is_refused(reader, capsys):
    row = ProposedRow(schedule="rooms", cells={"room": ProposedCell(text="x" * 32_000)})
    reader(lambda path, answers: Proposal(kind="plan", rows=(row,) * 80))
    assert printed(capsys, "plan", "a.dxf")["read"] == "rows of 2.4 MB"


def test_a_library_that_lacks_is_said_with_the_way_to_it(monkeypatch, capsys):
    for name in ("ezdxf", "reviews.exchange.plan_drawing"):
        monkeypatch.setitem(sys.modules, name, None)

    def lacks(name):
        raise ModuleNotFoundError(name="ezdxf")

    monkeypatch.setattr(read.importlib, "import_module", lacks)
    told = printed(capsys, "plan", "a.dxf")
    assert "muntin[dxf]" in told["expected"]
    with pytest.raises(ModuleNotFoundError):  # one of the base install is our own fault
        read.read("workbook", "a.xlsx", {})
