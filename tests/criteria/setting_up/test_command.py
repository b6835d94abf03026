"""`python -m criteria steps`: figures as they are scripted against, every fault named."""

import json

import pytest

from criteria.__main__ import main
from criteria.schedules.setting_up import SetUpStep
from criteria.setting_up.steps_file import MOST_STEPS
from criteria.typed.tables import write_csv

SIX = "step,minutes,people,after\nA,10,2,\nB,10,2,\nC,20,1,A\nD,10,3,B C\nE,15,1,B\nF,5,2,D E\n"


@pytest.fixture
def steps(tmp_path):
    path = tmp_path / "STEPS.csv"
    path.write_text(SIX)
    return path


def told(path, people, capsys):
    assert main(["steps", str(path), "--people", str(people), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_figures_as_json(steps, capsys):
    found = told(steps, 3, capsys)
    assert {name: found[name] for name in ("least_min", "proved", "at_least_min")} == {
        "least_min": 50,
        "proved": True,
        "at_least_min": 50,
    }
    assert (found["critical_min"], found["critical_path"]) == (45, ["A", "C", "D", "F"])
    assert (found["person_minutes"], found["most_at_once"]) == (20 + 20 + 20 + 30 + 15 + 10, 3)
    assert found["starts"]["F"] == 45
    assert "why" not in found


def test_a_tool_is_used_by_one_step_at_once(steps, capsys):
    # by hand: B waits for A's winch
    steps.write_text("step,minutes,people,tool\nA,10,1,winch\nB,10,1,Winch\nC,5,1,\n")
    assert told(steps, 3, capsys)["least_min"] == 20
    steps.write_text("step,minutes,people,tool\nA,10,1,winch\nB,10,1,winch × 2\nC,5,1,winch\n")
    assert told(steps, 3, capsys)["least_min"] == 20  # A and C at once, beside neither B


def test_what_cannot_be_done_has_no_figure_and_says_why(steps, capsys):
    found = told(steps, 2, capsys)
    assert (found["least_min"], found["proved"], found["at_least_min"]) == (None, False, None)
    assert found["why"] == "step D takes 3 people at once"


def test_the_same_in_words(steps, capsys):
    main(["steps", str(steps), "--people", "3"])
    first, second, *rest = capsys.readouterr().out.splitlines()
    assert first == "3 people: 50 min (least, proved), 3 at work at once, 1.9 person-hours"
    assert second == "longest chain 45 min: A C D F"
    assert rest[-1].split() == ["45", "to", "50", "min", "F,", "2"]
    main(["steps", str(steps), "--people", "1"])
    assert capsys.readouterr().out.startswith("1 person: can't be done, step A takes 2 people")


def test_a_plan_that_is_not_proved_says_what_no_plan_beats(steps, capsys):
    rows = [f"s{n},{5 + 7 * n % 11},{1 + n % 3},{f's{n - 5}' if n > 4 else ''}" for n in range(30)]
    steps.write_text("\n".join(["step,minutes,people,after", *rows]))
    found = told(steps, 4, capsys)
    assert found["at_least_min"] <= found["least_min"]
    assert found["proved"] == (found["at_least_min"] == found["least_min"])
    if not found["proved"]:
        main(["steps", str(steps), "--people", "4"])
        beats = f"{found['least_min']} min (at most; no plan beats {found['at_least_min']} min)"
        assert beats in capsys.readouterr().out


def test_a_column_that_means_nothing_is_named(steps, capsys):
    steps.write_text("step,minutes,people,colour\nA,1,1,red\n")
    assert main(["steps", str(steps), "--people", "1"]) == 0
    assert "colour: not read, nothing here is called that" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", ", row 1: read no heads; expected the head step"),
        ("step,minutes\nA,1\n", ", row 1: read step, minutes; expected the head people"),
        ("step,minutes,people\nA,,1\n", ", row 2, minutes: read nothing; expected a whole number"),
        ("step,minutes,people\nA,1.5,1\n", ", row 2, minutes: read “1.5”; expected a whole number"),
        ("step,minutes,people\nA,0,1\n", ", row 2, minutes: read “0”; expected a whole number"),
        ("step,minutes,people\nA,1,-2\n", ", row 2, people: read “-2”; expected a whole number"),
        ("step,minutes,people\nA,1,1001\n", "expected a whole number from 1 to 1\u202f000"),
        ("step,minutes,people\nA,²,1\n", ", row 2, minutes: read “²”; expected a whole number"),
        ("step,minutes,people\n,1,1\n", ", row 2, step: read nothing; expected a mark in one word"),
        ("step,minutes,people\nA B,1,1\n", ", row 2, step: read “A B”; expected a mark"),
        ("step,minutes,people,after\nA,1,1,B\n", "read step A comes after B, which is no step"),
        ("step,minutes,people,after\nA,1,1,A\n", "read steps go round in a circle: A after A"),
        ("step,minutes,people,minutes\nA,1,1,9\n", ", row 1: read the head minutes twice"),
        (
            "step,minutes,people\nA,1,1,B\n",
            ", row 2: read 4 cells; expected at most 3, as in row 1",
        ),
        ('step,minutes,people\n"A,1,1\n', "expected a CSV of steps"),
        (
            "step,minutes,people\n" + "".join(f"s{n},1,1\n" for n in range(MOST_STEPS + 1)),
            ": read 201 rows; expected at most 200",
        ),
    ],
)
def test_every_fault_is_named_with_its_row(steps, capsys, text, said):
    steps.write_text(text)
    assert main(["steps", str(steps), "--people", "2"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith(str(steps))
    assert said in printed.err


def test_an_endless_file_is_refused(steps, capsys):
    steps.write_text(SIX + "\n" * 2**20)
    assert main(["steps", str(steps), "--people", "2"]) == 2
    assert "read over 1,048,576 bytes; expected a CSV of steps" in capsys.readouterr().err


def test_a_file_that_is_no_text_or_not_there(steps, tmp_path, capsys):
    steps.write_bytes(b"step,minutes,people\n\xff,1,1\n")
    assert main(["steps", str(steps), "--people", "2"]) == 2
    assert "byte 20, no UTF-8; expected UTF-8 text" in capsys.readouterr().err
    assert main(["steps", str(tmp_path / "none.csv"), "--people", "2"]) == 2
    assert "expected a CSV of steps" in capsys.readouterr().err


@pytest.mark.parametrize("people", ["0", "-1", "many", "1001", "9" * 5000])
def test_a_crew_of_no_number_is_refused(steps, people, capsys):
    with pytest.raises(SystemExit) as left:
        main(["steps", str(steps), "--people", people])
    assert left.value.code == 2
    assert "expected a whole number from 1 to 1,000" in capsys.readouterr().err


def test_the_schedule_of_steps_is_read_as_it_is_exported(steps, capsys):
    rows = [
        {"mark": mark, "step": f"Do {mark}", "minutes": minutes, "people": people, "after": after}
        for mark, minutes, people, after in (("Q1", "10", "2", ""), ("Q2", "20", "1", "Q1"))
    ]
    steps.write_text(write_csv(SetUpStep.schedule, rows))
    assert main(["steps", str(steps), "--people", "2", "--json"]) == 0
    printed = capsys.readouterr()
    assert json.loads(printed.out)["starts"] == {"Q1": 0, "Q2": 10}
    assert "from: not read" in printed.err
    steps.write_text(write_csv(SetUpStep.schedule, [rows[0] | {"mark": "", "minutes": "0"}]))
    assert main(["steps", str(steps), "--people", "2"]) == 2
    assert ", row 2, mark: read nothing; expected a mark in one word" in capsys.readouterr().err
