import json
import runpy
import subprocess
import sys

import pytest

from criteria.__main__ import main
from criteria.checks.catalogue import CATALOGUE
from criteria.command import report
from criteria.command.schema import package_schema

ROOMS = "scheme,rev,mark,room,floor_m2,clear_height_m,use\nH01,A,R1,Day room,10,2.4,day\n"
WINDOWS = "scheme,rev,mark,room,n,glass_w,glass_h,open_share\nH01,A,W1,R1,1,1000,800,0.5\n"
TARGETS = "id,what,check,rule,value,unit\nT01,Light,daylight_ratio,at least,{},%\n"


@pytest.fixture
def folder(tmp_path):
    def made(target="8", **files):
        texts = {"rooms": ROOMS, "windows": WINDOWS, "targets": TARGETS.format(target), **files}
        for name, text in texts.items():
            (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
        return str(tmp_path)

    return made


# By hand: 1.0 m × 0.8 m of glass to 10.0 m² of floor is 8 %.
@pytest.mark.parametrize(
    ("target", "code", "word"), [("7.9", 0, "Meets"), ("8", 0, "On the line"), ("8.1", 1, "Short")]
)
def test_the_exit_code_says_whether_all_is_met(folder, capsys, target, code, word):
    assert main(["check", folder(target)]) == code
    out, err = capsys.readouterr()
    assert word in out
    assert err == ""


def test_a_check_sheet_can_be_had_as_json(folder, capsys):
    assert main(["check", folder(), "--json", "--scheme", "H01", "--rev", "A"]) == 0
    written = json.loads(capsys.readouterr().out)
    assert written["package"] == "H01 A"
    light = written["findings"][0]
    assert (light["target"], light["value"], light["unit"]) == ("T01", pytest.approx(8.0), "%")


def test_without_a_scheme_a_sheet_is_named_for_its_folder(folder, capsys, tmp_path):
    main(["check", folder()])
    assert capsys.readouterr().out.startswith(f"Check sheet: {tmp_path.name}\n")


def test_a_check_sheet_can_be_had_in_us_units(folder, capsys):
    main(["check", folder(), "--units", "us"])
    assert "Floor area indoors: 107.6 ft²" in capsys.readouterr().out


def test_targets_and_site_may_stand_elsewhere(folder, capsys, tmp_path):
    (tmp_path / "brief").mkdir()
    (tmp_path / "brief/t.csv").write_text("id,check,rule,value\nT9,floor_per_person,at least,2\n")
    (tmp_path / "brief/s.csv").write_text("people\n4\n")
    brief = str(tmp_path / "brief")
    assert main(["check", folder(), "--targets", f"{brief}/t.csv", "--site", f"{brief}/s.csv"]) == 0
    assert "2.50 m²" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({"rooms": ROOMS.replace(",use", ",")}, "rooms.csv, row 1, heads: read “scheme, rev,"),
        ({"rooms": ""}, "rooms.csv, row 1: read nothing; expected heads"),
        (
            {"rooms": ROOMS + "H02,A,R1,Day,9,2,day\n"},
            "read no --scheme and --rev; expected one package among H01 A, H02 A",
        ),
    ],
)
def test_a_file_that_cannot_be_read_is_exit_2_with_what_was_read_and_expected(
    folder, capsys, files, said
):
    assert main(["check", folder(**files)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert "Traceback" not in err
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize(
    ("files", "said"),
    [
        (
            {"windows": WINDOWS.replace("1000", "1000 kg")},
            "windows.csv, row 2 (W1), column Glass w: read “1000 kg”; expected a length",
        ),
        (
            {"windows": WINDOWS.replace("R1", "R7")},
            "windows.csv, row 2 (W1), column Room: read “R7”; expected a mark of the rooms",
        ),
        (
            {"rooms": ROOMS + "H01,A,R1,Bunks,9,2,sleep\n"},
            "rooms.csv, row 3 (R1), column Mark: read “R1”; expected a mark that no row above has",
        ),
        (
            {"targets": TARGETS.format("much")},
            "targets.csv, row 2 (T01), column Value: read “much”; expected a number",
        ),
    ],
)
def test_a_cell_that_cannot_be_read_is_no_data_and_exit_1(folder, capsys, files, said):
    assert main(["check", folder(**files)]) == 1
    out, err = capsys.readouterr()
    assert "No data" in out
    assert said in err
    assert "Traceback" not in err


# By hand: 1.25 m × 0.8 m of glass to 12.5 m² of floor is 8 %.
def test_a_folder_with_decimal_commas_is_read_and_refused_where_it_could_be_either(folder, capsys):
    def tables(width):
        return {
            "rooms": ROOMS.replace(",", ";").replace(";10;2.4;", ";12,5;2,4;"),
            "windows": WINDOWS.replace(",", ";").replace(";1000;", f";{width};"),
            "targets": TARGETS.format("7,9").replace(",", ";").replace("7;9", "7,9"),
        }

    for sign in ("point", "comma"):
        assert main(["check", folder(**tables("1,25 m")), "--decimal", sign]) == 0
        assert "8.0 %" in capsys.readouterr().out
    assert main(["check", folder(**tables("1,250 m")), "--decimal", "comma"]) == 1
    said = "windows.csv, row 2 (W1), column Glass w: read “1,250 m”; expected 1,25 or 1250"
    assert said in capsys.readouterr().err


def test_a_target_of_two_readings_is_refused_where_the_sign_is_a_comma(folder, capsys):
    assert main(["check", folder('"1,200"')]) == 1
    assert main(["check", folder('"1,200"'), "--decimal", "comma"]) == 1
    assert "column Value: read “1,200”; expected 1,2 or 1200" in capsys.readouterr().err


def test_a_file_that_is_not_utf_8_is_exit_2(folder, capsys, tmp_path):
    path = folder()
    (tmp_path / "rooms.csv").write_bytes(ROOMS.encode() + b"H01,A,R2,Caf\xe9,9,2,day\n")
    assert main(["check", path]) == 2
    assert "rooms.csv, row 3: read byte 0xe9; expected text in UTF-8" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--scheme", "H09"], "read H09; expected one package among H01 A"),
        (["--targets", "none.csv"], "none.csv: read no file; expected a CSV of targets"),
        (["--site", "none.csv"], "none.csv: read no file; expected a CSV of the site sheet"),
    ],
)
def test_what_is_not_there_is_exit_2(folder, capsys, options, said):
    assert main(["check", folder(), *options]) == 2
    assert said in capsys.readouterr().err


def test_a_folder_that_is_not_there_is_exit_2(capsys, tmp_path):
    assert main(["check", str(tmp_path / "none")]) == 2
    assert "read no folder; expected a folder of schedule CSVs" in capsys.readouterr().err


def test_every_check_is_listed(capsys):
    assert main(["checks"]) == 0
    assert capsys.readouterr().out == report.catalogue_text()
    assert main(["checks", "--markdown"]) == 0
    assert capsys.readouterr().out == report.catalogue_markdown()
    assert main(["checks", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [check["check"] for check in listed] == [check.slug for check in CATALOGUE]


def test_the_schema_is_printed(capsys):
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == package_schema()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "COMMAND"),
        (["draw"], "invalid choice: 'draw'"),
        (["check"], "FOLDER"),
        (["check", ".", "--units", "cubits"], "choose from 'metric', 'us'"),
    ],
)
def test_a_command_that_is_none_is_exit_2(capsys, arguments, said):
    with pytest.raises(SystemExit, match="2"):
        main(arguments)
    assert said in capsys.readouterr().err


def test_the_library_runs_as_a_module(monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["criteria", "schema"])
    monkeypatch.delitem(sys.modules, "criteria.__main__")
    with pytest.raises(SystemExit, match="0"):
        runpy.run_module("criteria", run_name="__main__")
    assert '"title": "Package"' in capsys.readouterr().out


def test_daylight_is_asked_by_its_own_module(tmp_path, capsys):
    room = {
        "room": {"length_m": 3.6, "width_m": 3.0, "height_m": 2.4},
        "windows": [
            {"wall": "south", "offset_m": 0.9, "sill_m": 0.9, "width_m": 1.8, "height_m": 1.2}
        ],
    }
    (tmp_path / "room.json").write_text(json.dumps(room), encoding="utf-8")
    assert main(["daylight", str(tmp_path / "room.json"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["glazing_to_floor_pct"] == pytest.approx(20.0)
    assert main(["daylight", str(tmp_path / "none.json")]) == 2
    assert "none.json: read No such file" in capsys.readouterr().err


def test_panel_is_asked_by_its_own_module(tmp_path, capsys):
    lines = [f"S{s},J{j},C1,{1 + (s + j) % 5}" for s in range(4) for j in range(3)]
    (tmp_path / "levels.csv").write_text(
        "scheme,juror,criterion,level\n" + "\n".join(lines), encoding="utf-8"
    )
    assert main(["panel", str(tmp_path / "levels.csv"), "--json", "--draws", "10"]) == 0
    assert '"kendall_w"' in capsys.readouterr().out


def test_a_quick_command_brings_no_heavy_module():
    code = (
        "import sys\nfrom criteria.__main__ import parser\nparser('schema')\n"
        "sys.exit('criteria.scoring.command' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
