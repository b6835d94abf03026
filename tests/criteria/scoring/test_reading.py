from fractions import Fraction
from pathlib import Path

import pytest

from criteria.scoring.levels import NOT_MINE
from criteria.scoring.reading import FileRefused, read_levels, read_names, read_weights

HEADER = "scheme,juror,criterion,level"


@pytest.fixture
def file(tmp_path):
    def write(text: str, name: str = "levels.csv") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_levels_are_exact_and_gaps_and_not_mine_to_judge_are_told_apart(file):
    path = file(
        f"# a note\n{HEADER},position\n"
        "S1,A,plan,3,1\n S1 ,A, light ,4.5,1\n\nS1,A,water,,1\nS1,B,plan,Not mine to judge,\n"
    )
    (panel,) = read_levels(path)
    assert panel.levels == {
        ("S1", "A", "plan"): Fraction(3),
        ("S1", "A", "light"): Fraction(9, 2),
        ("S1", "B", "plan"): NOT_MINE,
    }
    assert panel.positions == {("S1", "A"): 1.0}
    assert panel.name == "the crit"


@pytest.mark.parametrize(
    ("text", "value"),
    [("-2", -2), ("+.5", Fraction(1, 2)), ("1545", 1545), ("2.5e-3", Fraction(1, 400))],
)
def test_levels_may_be_any_numbers(file, text, value):
    (panel,) = read_levels(file(f"{HEADER}\nS1,A,plan,{text}\n"))
    assert panel.levels["S1", "A", "plan"] == value


def test_without_weights_criteria_count_alike(file):
    (panel,) = read_levels(file(f"{HEADER}\nS1,A,plan,3\nS1,A,light,4\n"))
    assert panel.sheets["S1", "A"].value == Fraction(7, 2)


def test_crits_are_kept_apart_unless_asked_to_be_taken_together(file):
    path = file(
        f"cohort,crit,{HEADER}\nH,room A,S1,A,plan,3\nH,room B,S1,B,plan,4\nE,final,S1,A,plan,5\n"
    )
    assert [panel.name for panel in read_levels(path)] == ["H room A", "H room B", "E final"]
    (rooms,) = read_levels(path, only={"cohort": "H"}, together=True)
    assert rooms.jurors == ("A", "B")
    (final,) = read_levels(path, only={"crit": "final"})
    assert final.name == "E final"


def test_a_byte_order_mark_and_other_columns_do_no_harm(file):
    path = file(f"\ufeffScheme,Juror,Criterion,Level,Remark\nS1,A,plan,3,{'x' * 9}\n")
    assert len(read_levels(path)[0].levels) == 1


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "levels.csv, row 1, column scheme: read “an empty file”; expected columns scheme"),
        (f"{HEADER}\n", "row 2, column scheme: read “no row”; expected a row for each level"),
        (
            "scheme,juror,level\nS1,A,3\n",
            "row 1, column criterion: read “scheme, juror, level”; expected column criterion once",
        ),
        ("scheme,juror,criterion,level,level\n", "row 1, column level: read “scheme, juror,"),
        (
            f"{HEADER}\nS1,A,plan,three\n",
            "row 2, column level: read “three”; expected a number, “not mine to judge”, or nothing",
        ),
        (f"{HEADER}\nS1,A,plan,nan\n", "row 2, column level: read “nan”; expected a number"),
        (f"{HEADER}\nS1,A,plan,1e999\n", "row 2, column level: read “1e999”; expected a number"),
        (f'{HEADER}\nS1,A,plan,"3,5"\n', "row 2, column level: read “3,5”; expected a number"),
        (
            f"{HEADER}\nS1,A,plan,3\n\nS1,A,plan,3\n",
            "row 4, column level: read “3”; expected one level for S1, A, plan, which row 2 gives",
        ),
        (f"{HEADER}\n,A,plan,3\n", "row 2, column scheme: read “”; expected the name of a scheme"),
        (f"{HEADER}\nS1,,plan,3\n", "row 2, column juror: read “”; expected the name of a juror"),
        (f"{HEADER}\nS1,A,totals,3\n", "column criterion: read “totals”; expected another name"),
        (
            f"{HEADER}\nS1,A,plan,3,4\n",
            "row 2, column 5: read “4”; expected 4 cells, as in the header",
        ),
        (
            f"{HEADER},position\nS1,A,plan,3,first\n",
            "row 2, column position: read “first”; expected a place in the order of the day",
        ),
        (
            f"{HEADER},position\nS1,A,plan,3,1\nS1,A,light,3,2\n",
            "row 3, column position: read “2”; expected 1, as for this sheet's other criteria",
        ),
        (f"{HEADER}\nS1,A,plan,\n", "row 2, column level: read “no level in the crit”"),
        (f'{HEADER}\nS1,A,"plan,3\n', "expected cells between commas, quotes closed"),
    ],
)
def test_what_cannot_be_read_is_named_by_row_and_column(file, text, message):
    with pytest.raises(FileRefused) as refusal:
        read_levels(file(text))
    assert message in str(refusal.value)
    assert refusal.value.file == "levels.csv"


def test_a_level_outside_the_scale_is_named(file):
    path = file(f"{HEADER}\nS1,A,plan,5\nS1,A,light,6\n")
    with pytest.raises(FileRefused, match="row 3, column level: read “6”; expected a level from 1"):
        read_levels(path, scale=(Fraction(1), Fraction(5)))


def test_an_unknown_scheme_or_criterion_is_named(file):
    path = file(f"{HEADER}\nS1,A,plan,5\nS9,A,light,3\n")
    with pytest.raises(FileRefused, match="row 3, column scheme: read “S9”; expected a scheme of"):
        read_levels(path, schemes={"S1"})
    with pytest.raises(FileRefused, match="row 3, column criterion: read “light”; expected a crit"):
        read_levels(path, weights={"plan": Fraction(1)})


def test_a_crit_that_is_not_there_is_named(file):
    path = file(f"crit,{HEADER}\nfinal,S1,A,plan,5\n")
    with pytest.raises(FileRefused, match="column crit: read “final”; expected crit interim"):
        read_levels(path, only={"crit": "interim"})
    with pytest.raises(FileRefused, match=r"row 1, column cohort: .* expected column cohort"):
        read_levels(path, only={"cohort": "H"})


def test_a_file_that_is_not_there_or_not_text(tmp_path):
    with pytest.raises(FileRefused, match=r"none\.csv, row 1, .*; expected a file that can"):
        read_levels(tmp_path / "none.csv")
    path = tmp_path / "odd.csv"
    path.write_bytes(f"{HEADER}\nS1,A,plan,".encode() + b"\xff\n")
    with pytest.raises(FileRefused, match=r"odd\.csv, row 2, .* read “byte ff”; expected text"):
        read_levels(path)


def test_weights(file):
    path = file("criterion,weight\nplan,15\nlight,7.5\nnote,0\n", "weights.csv")
    assert read_weights(path) == {"plan": 15, "light": Fraction(15, 2), "note": 0}


@pytest.mark.parametrize(
    ("rows", "message"),
    [
        ("plan,-1", "row 2, column weight: read “-1”; expected a number of 0 or more"),
        ("plan,much", "row 2, column weight: read “much”; expected a number of 0 or more"),
        ("plan,1\nplan,2", "row 3, column criterion: read “plan”; expected a criterion given once"),
        (",1", "row 2, column criterion: read “”; expected a criterion"),
        ("plan,0", "row 2, column weight: read “0 in all”; expected a weight above 0"),
    ],
)
def test_weights_that_cannot_be_read(file, rows, message):
    with pytest.raises(FileRefused) as refusal:
        read_weights(file(f"criterion,weight\n{rows}\n"))
    assert message in str(refusal.value)


def test_names(file):
    assert read_names(file("scheme,name\nS1,Fold\nS2,Bend\n\nS1,Fold\n,none\n")) == ("S1", "S2")
