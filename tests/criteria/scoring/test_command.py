import argparse
import json
from pathlib import Path

import pytest

from criteria.scoring.command import add_arguments, run

DEMO = Path(__file__).parents[3] / "reviews" / "demo" / "data" / "levels_long.csv"
PUBLISHED = Path(__file__).parent / "published"

WEIGHTS = "criterion,weight\n" + "".join(
    f"{name},{weight}\n"
    for name, weight in zip(
        [*(f"F{n}" for n in range(1, 9)), *(f"I{n}" for n in range(1, 7))],
        [15, 10, 15, 20, 10, 10, 10, 10, 20, 20, 20, 15, 10, 15],
        strict=True,
    )
)


@pytest.fixture
def weights(tmp_path):
    path = tmp_path / "weights.csv"
    path.write_text(WEIGHTS, encoding="utf-8")
    return str(path)


def panel(*arguments: str) -> int:
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return run(parser.parse_args(list(arguments)))


def test_the_page_reads_aloud(weights, capsys):
    assert panel(str(DEMO), "--weights", weights, "--crit", "final", "--draws", "150") == 0
    out = capsys.readouterr().out
    for line in (
        "The jury's numbers: E final",
        "14 schemes, 4 jurors, 8 criteria; 54 complete jury sheets of 54.",
        "One juror alone: poor to moderate; this panel's mean: poor to excellent (Koo and Li",
        "Adjusting would move 2 schemes by at most 0.03 and change no place.",
        "Cass Ferro: leftover scatter 0.80, 2.5 times the others': orders the schemes otherwise",
        "Can't be told apart: E04, E14, E01, E08, E10, E03, E05, E02, E11, E12.",
        "Once severity is out, jurors lie furthest apart on F6: two levels or more in 4 of 14",
        "Valid only if the order was drawn by lot.",
    ):
        assert line in out
    assert max(map(len, out.splitlines())) <= 110


def test_each_crit_is_analysed_apart(weights, capsys):
    assert panel(str(DEMO), "--weights", weights, "--draws", "60") == 0
    out = capsys.readouterr().out
    names = [line for line in out.splitlines() if line.startswith("The jury's numbers")]
    assert names == [
        "The jury's numbers: E final",
        "The jury's numbers: H interim room A",
        "The jury's numbers: H interim room B",
    ]


def test_json_has_the_keys_that_stay_and_numbers_not_rounded(capsys):
    assert panel(str(PUBLISHED / "shrout_fleiss_1979.csv"), "--json", "--draws", "500") == 0
    tree = json.loads(capsys.readouterr().out)
    assert {
        "icc", "alpha", "kendall_w", "components", "jurors", "schemes", "adjust", "connected",
    } <= set(tree)  # fmt: skip
    assert set(tree["icc"]) == {"A1", "Ak", "C1", "Ck", "one_way_1", "one_way_k"}
    assert {"value", "low", "high"} <= set(tree["icc"]["A1"])
    # O-1, Shrout and Fleiss 1979
    assert tree["icc"]["A1"]["value"] == pytest.approx(0.289764, abs=5e-7)
    assert tree["icc"]["A1"]["high"] == pytest.approx(0.761084, abs=1e-6)
    assert tree["components"] == pytest.approx(
        {"scheme": 2.555556, "juror": 5.244444, "residual": 1.019444}, abs=5e-7
    )
    assert set(tree["alpha"]) == {"level", "totals"}
    assert {"nominal", "ordinal", "interval", "ratio"} <= set(tree["alpha"]["totals"])
    assert {"severity", "se", "agreement", "scatter", "flatness", "drift"} <= set(
        tree["jurors"]["A"]
    )
    assert {"raw", "adjusted", "se", "rank_low", "rank_high", "p_top"} <= set(tree["schemes"]["T1"])
    assert tree["adjust"]["decision"] == "do not adjust"
    assert tree["connected"] is True
    assert tree["not_available"]["jurors.A.drift"] == "the file gives no position"
    assert sum(s["p_top"] for s in tree["schemes"].values()) == pytest.approx(tree["top"])


def test_json_of_several_crits_is_a_list(weights, capsys):
    assert panel(str(DEMO), "--weights", weights, "--cohort", "H", "--json", "--draws", "60") == 0
    tree = json.loads(capsys.readouterr().out)
    assert [crit["crit"] for crit in tree["crits"]] == ["H interim room A", "H interim room B"]


def test_the_same_file_gives_the_same_page(weights, capsys):
    pages = []
    for _ in range(2):
        panel(str(DEMO), "--weights", weights, "--cohort", "E", "--json", "--draws", "40")
        pages.append(capsys.readouterr().out)
    assert pages[0] == pages[1]


def test_three_schemes_say_why_the_order_is_not_tested(tmp_path, capsys):
    path = tmp_path / "levels.csv"
    rows = [
        f"S{n},{juror},F1,{level},{n}"
        for juror, levels in (("Ada", (2, 3, 5)), ("Bo", (1, 4, 4)))
        for n, level in enumerate(levels, 1)
    ]
    path.write_text("scheme,juror,criterion,level,position\n" + "\n".join(rows), encoding="utf-8")
    assert panel(str(path), "--draws", "60") == 0
    assert "Not tested: fewer than 4 schemes." in capsys.readouterr().out


def test_a_figure_without_an_interval_says_why_below_its_table(tmp_path, capsys):
    # of two schemes without a difference inside either, half of all draws hold one alone
    path = tmp_path / "levels.csv"
    rows = [f"S{level},{juror},F1,{level}" for level in (3, 4) for juror in ("Ada", "Bo")]
    path.write_text("scheme,juror,criterion,level\n" + "\n".join(rows), encoding="utf-8")
    assert panel(str(path), "--draws", "1000", "--seed", "2") == 0
    out = capsys.readouterr().out
    assert "1.00 (no interval)" in out
    assert "–: too few schemes differ for the draws." in out


def test_two_rooms_taken_together(weights, capsys):
    options = ["--weights", weights, "--cohort", "H", "--together", "--draws", "60"]
    assert panel(str(DEMO), *options, "--announced") == 0
    out = capsys.readouterr().out
    assert "It is a hint, not a\n           correction." in out
    assert "Whether the rule was announced" not in out


def test_a_rule_that_was_not_announced(weights, capsys):
    options = ["--weights", weights, "--cohort", "E", "--not-announced", "--draws", "60"]
    assert panel(str(DEMO), *options) == 0
    assert "The rule was not announced before scoring began." in capsys.readouterr().out


def test_input_that_cannot_be_read_is_2_and_says_where(tmp_path, capsys):
    path = tmp_path / "levels.csv"
    path.write_text("scheme,juror,criterion,level\nS1,A,plan,6\n", encoding="utf-8")
    assert panel(str(path), "--scale", "1-5") == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err == (
        "levels.csv, row 2, column level: read “6”; expected a level from 1 to 5, "
        "“not mine to judge”, or nothing\n"
    )
    schemes = tmp_path / "schemes.csv"
    schemes.write_text("scheme\nS7\n", encoding="utf-8")
    assert panel(str(path), "--schemes", str(schemes)) == 2
    assert "row 2, column scheme: read “S1”; expected a scheme of the list (S7)" in (
        capsys.readouterr().err
    )


@pytest.mark.parametrize("scale", ["five", "5-1", "1-5-9"])
def test_a_scale_that_is_none_is_refused(scale, capsys):
    with pytest.raises(SystemExit, match="2"):
        panel("levels.csv", "--scale", scale)
    assert f"read “{scale}”; expected" in capsys.readouterr().err


@pytest.mark.parametrize("scale", ["5-1", "1-1", "1-9999"])
def test_a_scale_whose_ends_are_no_scale_is_refused(scale, capsys):
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    with pytest.raises(SystemExit):
        parser.parse_args(["levels.csv", "--scale", scale])
    assert "expected the lowest level first" in capsys.readouterr().err


@pytest.mark.parametrize("seed", ["-1", "one", "9" * 40])
def test_a_seed_that_is_no_whole_number_is_refused(seed, capsys):
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    with pytest.raises(SystemExit):
        parser.parse_args(["levels.csv", f"--seed={seed}"])
    assert "expected a whole number from" in capsys.readouterr().err
