"""Files from outside are read apart; whatever becomes of the process is said in words."""

import io
import json
import sys
from pathlib import Path

import pytest

from criteria.errors import Refused
from reviews.deeds import file_reading
from reviews.deeds.file_reading import kind_that_is_read, read_apart
from reviews.exchange.bounds import LARGEST_FILE_MB

TOLD = {"kind": "table", "made_by": "", "rows": [], "questions": [], "said": ["7"], "about": {}}


@pytest.fixture
def child(monkeypatch, settings, tmp_path):
    """What runs instead of a reader: a line of Python."""
    settings.MEDIA_ROOT = tmp_path
    run = file_reading.run_apart

    def runs(code: str) -> None:
        monkeypatch.setattr(
            file_reading, "run_apart", lambda _, within: run([sys.executable, "-c", code], within)
        )

    return runs


def refused() -> Refused:
    with pytest.raises(Refused) as refusal:
        read_apart("table", "plan.dxf", io.BytesIO(b"x"))
    return refusal.value


def test_a_proposal_comes_back(child):
    child(f"print('noise of a library'); print({json.dumps(json.dumps(TOLD))})")
    assert read_apart("table", "t.csv", io.BytesIO(b"x")).said == ("7",)


def test_a_refusal_comes_back_with_the_name_of_the_file(child):
    child("""print('{"read": "a cut file", "expected": "a whole one"}')""")
    assert (refused().read, refused().expected) == ("plan.dxf: a cut file", "a whole one")


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", "which broke what read it"),
        ("import os, signal; os.kill(os.getpid(), signal.SIGXCPU)", "more than 20 s to read"),
        ("import os, signal; os.kill(os.getpid(), signal.SIGKILL)", "until the system ended it"),
        ("import sys; sys.exit(3)", "which broke what read it"),
        ("print('{')", "can't be read to its end"),
        ("print('[]')", "can't be read to its end"),
        ("""print('{"kind": "table"}')""", "can't be read to its end"),
        ("pass", "can't be read to its end"),
        ("print('x' * 5_000_000)", "tells more than can be looked at"),
    ],
)
def test_whatever_becomes_of_the_process_is_said_in_words(child, code, said):
    child(code)
    assert said in refused().read


def test_one_that_takes_too_long_is_ended(child, monkeypatch):
    monkeypatch.setattr(file_reading, "WITHIN_SECONDS", 0.2)
    child("import time; time.sleep(60)")
    assert "not to its end" in refused().read


def test_one_waits_for_its_turn_and_no_longer(child, monkeypatch):
    from filelock import FileLock

    monkeypatch.setattr(file_reading, "WAITS_S", 0.1)
    child("raise SystemExit('never asked')")
    with FileLock(file_reading.work_folder() / "reading.lock"):
        assert refused().read == "plan.dxf while others were being read"


def test_nothing_of_the_file_is_left_on_the_machine(child, settings):
    child("raise SystemExit(1)")
    refused()
    assert [each.name for each in file_reading.work_folder().iterdir()] == ["reading.lock"]


@pytest.mark.parametrize(
    ("inside", "read"),
    [
        (b"", "an empty file"),
        (b"\x89PNG\r\n\x1a\n", "nothing that is read here"),
        (b"ISO-10303-21;" + b" " * (LARGEST_FILE_MB * 2**20), "40.0 MB"),
        (b"PK\x05\x06" + b"\0" * 18, "nothing that is read here"),
        (b"PK but no archive", "nothing that is read here"),
    ],
)
def test_what_is_no_file_to_read_is_refused_before_a_process_begins(inside, read):
    with pytest.raises(Refused, match=read):
        kind_that_is_read("sent", io.BytesIO(inside))


def test_a_file_is_known_by_what_is_inside():
    assert kind_that_is_read("house.txt", io.BytesIO(b"ISO-10303-21;\n")).name == "model"


def test_a_school_s_roster_never_comes_into_a_package():
    roster = Path(__file__).parent / "exchange" / "data" / "roster.zip"
    with roster.open("rb") as file, pytest.raises(Refused, match="which is a roster"):
        kind_that_is_read("people.zip", file)
