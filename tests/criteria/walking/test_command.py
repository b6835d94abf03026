"""`python -m criteria walk`: figures as they are scripted against, every fault named."""

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest

from criteria.__main__ import main
from criteria.typed.json_file import UnreadableFile
from criteria.walking.bodies import Plan, rectangle
from criteria.walking.command import as_text, walked
from criteria.walking.plan_file import MOST_TARGETS, MOST_THINGS, PlanFile, plan_from_spec
from criteria.walking.widest import widest_ways

NIGHT = {
    "room_m": [6, 2.4],
    "door_m": [1.0, 1.9],
    "things": [["rect", 4, 6, 0, 1], ["rect", 4, 5, 1.6, 2.4]],
    "to_m": [[5.6, 1.7], [3.5, 1.2], [4.5, 2.0]],
}


@pytest.fixture
def plan(tmp_path):
    path = tmp_path / "PLAN.json"
    path.write_text(json.dumps(NIGHT))
    return path


def test_widths_room_and_narrow_places_as_json(plan, capsys):
    assert main(["walk", str(plan), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["widest_m"] == [pytest.approx(0.6), pytest.approx(0.9), None]
    assert told["room_to_stand_m"] == pytest.approx([0.8, 2 * (0.5**2 + 0.2**2) ** 0.5, 0])
    assert told["narrowest"] == [[[4, 1], [4, 1.6]], [[1, 0], [1.9, 0]], None]
    far, near, nowhere = told["travel_m"]
    assert near == pytest.approx(math.dist((3.5, 1.2), (1.45, -1)), abs=0.25)
    assert near + 2.1 < far < near + 2.5
    assert nowhere is None
    assert told["circle_m"] == pytest.approx(2.4, abs=0.002)
    assert (told["circle_reached_m"], told["way_m"]) == (None, 0.915)


def test_a_narrower_walker_reaches_the_circle(plan, capsys):
    assert main(["walk", str(plan), "--json", "--way", "0.89"]) == 0
    assert json.loads(capsys.readouterr().out)["circle_reached_m"] == pytest.approx(2.4, abs=0.002)


@pytest.mark.parametrize("way", ["0", "-1", "wide", "nan", "inf", "1e9"])
def test_a_way_of_no_width_is_refused(plan, way, capsys):
    with pytest.raises(SystemExit) as left:
        main(["walk", str(plan), f"--way={way}"])
    assert left.value.code == 2
    assert "expected metres over 0, such as 0.9" in capsys.readouterr().err


def test_the_same_in_words(plan, capsys):
    assert main(["walk", str(plan)]) == 0
    bed, table, inside, circles = capsys.readouterr().out.splitlines()
    assert bed.startswith("to 5.6, 1.7: 600 mm wide, narrowest between things[0] at 4.000, 1.000")
    assert "things[1] at 4.000, 1.600; a disc of 800 mm stands there; " in bed
    assert bed.endswith(" m to outside")
    assert inside == (
        "to 4.5, 2: no data, the place or the start lies in something that stands there; "
        "no way to outside"
    )
    assert circles == "largest clear circle 2\u202f400 mm; reached by a way of 915 mm: none"
    assert "900 mm wide, narrowest between lower wall" in table


def test_widths_are_rounded_down_to_five_millimetres(plan, capsys):
    plan.write_text(json.dumps(NIGHT | {"door_m": [1.0, 1.8999], "things": [], "to_m": [[3, 1]]}))
    main(["walk", str(plan)])
    assert "895 mm wide" in capsys.readouterr().out


def test_a_key_that_means_nothing_is_named(plan, capsys):
    plan.write_text(json.dumps(NIGHT | {"tables": []}))
    assert main(["walk", str(plan), "--json"]) == 0
    assert "tables: not read, nothing here is called that" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"room_m": None}, "room_m: read null; expected a list […]"),
        ({"room_m": [6]}, "room_m: read [6]; expected two numbers"),
        ({"room_m": [6, 0]}, "room_m: read [6.0, 0.0]; expected two sides up to 1000 m"),
        ({"room_m": [6, True]}, "room_m[1]: read true; expected a number"),
        ({"room_m": [6, 10**400]}, "expected a number that has an end"),
        ({"door_m": [1, 7]}, "door_m: read [1.0, 7.0]; expected from, to, within 0 to 6"),
        ({"door_m": [2, 2]}, "door_m: read [2.0, 2.0]; expected from, to, within 0 to 6"),
        ({"things": [["oval", 1, 2, 3]]}, 'things[0]: read ["oval", 1, 2, 3]; expected ["rect"'),
        ({"things": [[]]}, "things[0]: read []; expected"),
        ({"things": [["rect", 1, 1, 0, 2]]}, "things[0]: read"),
        ({"things": [["disc", 1, 1, 0]]}, "things[0]: read"),
        ({"things": [["disc", 1, 1e9, 1]]}, "things[0]: read 1e+09; expected numbers up to 1000"),
        ({"things": [["rect", 0, 1, 0, 1]] * (MOST_THINGS + 1)}, "things: read 201 of them"),
        ({"to_m": [[1, 1]] * (MOST_TARGETS + 1)}, "to_m: read 501 of them; expected at most 500"),
        ({"to_m": [[6, 1]]}, "to_m[0]: read [6, 1]; expected a place in the room, 6 by 2.4 m"),
        ({"to_m": {}}, "to_m: read {}; expected a list […]"),
    ],
)
def test_every_fault_is_named_with_its_key(change, told):
    with pytest.raises(UnreadableFile) as caught:
        plan_from_spec(NIGHT | change)
    assert told in str(caught.value)


def test_a_file_with_a_fault_ends_with_two(plan, capsys):
    plan.write_text(json.dumps(NIGHT | {"door_m": 1}))
    assert main(["walk", str(plan)]) == 2
    printed = capsys.readouterr()
    assert (printed.out, printed.err) == ("", f"{plan}: door_m: read 1; expected a list […]\n")


def test_a_key_that_stands_twice_is_refused(plan, capsys):
    plan.write_text('{"room_m": [6, 2.4], "room_m": [4, 2], "door_m": [1, 1.9], "to_m": []}')
    assert main(["walk", str(plan)]) == 2
    assert "room_m: read the key twice; expected each key once" in capsys.readouterr().err


def test_what_nothing_narrows_says_so():
    plan = Plan([rectangle((1, 2), (1, 2))])
    reading = PlanFile(plan, plan, (0, 0), (6, 6), ((5, 5),), ())
    told = as_text(reading, walked(reading, 0.9))
    way = "to 5, 5: nothing narrows the way; a disc of 8\u202f485 mm stands there"
    assert told.startswith(f"{way}; 7.3 m to outside\n")


def test_a_missing_key_is_named():
    with pytest.raises(UnreadableFile, match="plan: to_m: read nothing; expected this key"):
        plan_from_spec({key: value for key, value in NIGHT.items() if key != "to_m"})


def test_a_file_that_is_none_ends_with_two_and_a_line(tmp_path):
    for text in ("", "[1, 2", "[" * 100_000, '{"room_m": 1}'):
        path = tmp_path / "odd.json"
        path.write_text(text)
        done = subprocess.run(
            [sys.executable, "-m", "criteria", "walk", str(path)],
            cwd=Path(__file__).parents[3],
            env={**os.environ, "PYTHONWARNINGS": "error"},
            capture_output=True,
            text=True,
            check=False,
        )
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr.startswith(str(path))
        assert len(done.stderr.splitlines()) == 1


def test_a_round_table_and_a_turned_one_are_read():
    turned = [["disc", 3, 1.2, 0.5], ["rect", 2.5, 3.5, 0.7, 1.7, 45]]
    for things, width in zip(([turned[0]], [turned[1]]), (0.7, 1.2 - 0.5**0.5), strict=True):
        spec = NIGHT | {"door_m": [0.2, 1.4], "things": things, "to_m": [[5, 1.2]]}
        reading = plan_from_spec(spec)
        (way,) = widest_ways(reading.plan, reading.start, reading.targets)
        assert way.width_m == pytest.approx(width)
