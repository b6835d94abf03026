"""Whatever the commands are given, they end in words and a code, never in a traceback."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from criteria.__main__ import main

LEVELS = "scheme,juror,criterion,level\n" + "".join(
    f"{scheme},{juror},F,{level}\n" for scheme, juror, level in ("AJ3", "AK2", "BJ4", "BK3", "CK3")
)
ENDLESS = "9" * 5_000

FILES = {
    "levels.csv": LEVELS.encode(),
    "long_cell.csv": (LEVELS + f"D,{'x' * 200_000},F,3\n").encode(),
    "not_utf8.csv": b"scheme,juror\xff",
    "deep.json": b"[" * 100_000,
    "endless.json": f'{{"width_m": {ENDLESS}}}'.encode(),
    "infinite.json": b'{"width_m": 1e999}',
    "list.json": b"[]",
    "surrogate.json": b'{"\\ud800": 1}',
    "folder/rooms.csv": f"mark,room,floor_m2\nR1,x,{ENDLESS}\n".encode(),
    "folder/targets.csv": b"id\xff",
}


@pytest.fixture
def here(tmp_path: Path) -> Path:
    for name, content in FILES.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(content)
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "odd\udcff").mkdir()
    return tmp_path


def ran(here: Path, *command: str, **more: object) -> subprocess.CompletedProcess[str]:
    root = Path(__file__).parents[3]
    surroundings = {**os.environ, "PYTHONPATH": str(root), "PYTHONUTF8": "1"}
    surroundings |= more.pop("env", {})  # type: ignore[operator]
    given = [sys.executable, "-m", "criteria", *command]
    how = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "timeout": 60, **more}
    return subprocess.run(given, cwd=here, env=surroundings, text=True, errors="replace", **how)


@pytest.mark.parametrize(
    "command",
    [
        ["check", "a" * 300],
        ["check", "loop"],
        ["check", "folder"],
        ["check", "levels.csv"],
        ["panel", "a" * 300],
        ["panel", "long_cell.csv"],
        ["panel", "not_utf8.csv"],
        ["panel", "levels.csv", "--seed", "-1"],
        ["panel", "levels.csv", "--draws", ENDLESS],
        ["panel", "levels.csv", "--top", "0"],
        ["panel", "levels.csv", "--scale", "1-1e15"],
        ["daylight", "loop"],
        ["daylight", "endless.json"],
        *(["daylight", name] for name in FILES if name.endswith("json")),
        ["daylight", "list.json", "--inset", "nan"],
    ],
    ids=lambda command: " ".join(word[:12] for word in command),
)
def test_bad_input_ends_in_words_and_two(here, command, monkeypatch, capsys):
    monkeypatch.chdir(here)
    try:
        code = main(command)
    except SystemExit as ended:  # the command line itself is refused
        code = ended.code
    assert code == 2
    assert capsys.readouterr().err.strip()


@pytest.mark.parametrize("name", ["odd\udcff", "deep.json", "surrogate.json"])
def test_what_no_console_can_write_ends_alike_in_a_process_of_its_own(here, name):
    answer = ran(here, "daylight" if name.endswith("json") else "check", name)
    assert "Traceback" not in answer.stderr
    assert answer.stderr.strip()
    assert answer.returncode == 2


def test_a_console_of_few_letters_is_written_to(here):
    answer = ran(here, "checks", env={"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"})
    assert (answer.returncode, answer.stderr) == (0, "")


def test_a_full_disk_is_said(here):
    with Path("/dev/full").open("w") as full:
        answer = ran(here, "checks", stdout=full)
    assert (answer.returncode, "Traceback" in answer.stderr) == (2, False)
    assert "No space left on device" in answer.stderr


def test_who_reads_the_first_line_alone_is_left_in_peace(here):
    given = [sys.executable, "-m", "criteria", "checks"]
    root = str(Path(__file__).parents[3])
    how = {"cwd": root, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(given, **how) as begun:
        begun.stdout.close()
        said = begun.stderr.read()
    assert said == b""


# The same two ends within this process, where the branches are counted.
def test_what_cannot_be_read_or_written_is_said_and_two(monkeypatch, capsys):
    def full(options):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("criteria.__main__._schema", full)
    assert main(["schema"]) == 2
    assert "what is printed: read “No space left on device”" in capsys.readouterr().err


def test_a_reader_who_has_enough_is_no_fault(monkeypatch, tmp_path):
    def gone(options):
        raise BrokenPipeError

    monkeypatch.setattr("criteria.__main__._schema", gone)
    with (tmp_path / "out").open("w") as out:
        monkeypatch.setattr("sys.stdout", out)
        assert main(["schema"]) == 0


def test_a_stream_that_is_no_console_is_written_as_it_is(monkeypatch):
    monkeypatch.setattr("sys.stdout", io.StringIO())
    assert main(["schema"]) == 0
    assert sys.stdout.getvalue().startswith("{")
