import pytest

from criteria.findings import State


def rows(*outcomes, **cells):
    return [
        {"mark": f"P{n}", "building": "A hut", "outcome": outcome, "lesson": "A door",
         "sheet": "03", **cells}
        for n, outcome in enumerate(outcomes, start=1)
    ]  # fmt: skip


# Common practice: a count of four, one of which failed; equal is enough.
@pytest.mark.parametrize(
    ("outcomes", "state", "written"),
    [
        (("in use", "in use", "in use", "failed: porch drifted shut"), State.MEETS, "4 / 1"),
        (("in use", "in use", "failed: drift"), State.SHORT, "3 / 1"),
        (("in use",) * 4, State.SHORT, "4 / 0"),
        (("failed",) * 5, State.MEETS, "5 / 5"),
        (("in use", "", "removed", "Collapsed in snow"), State.MEETS, "4 / 1"),
        (("in use", "it has not failed", "unbuilt", "altered"), State.SHORT, "4 / 0"),
    ],
)
def test_four_of_which_one_failed(package, hold, outcomes, state, written):
    finding = hold(package(precedents=rows(*outcomes)), "precedents", "4 / 1")
    assert (finding.state, finding.write_value()) == (state, written)
    assert finding.write_target() == "4 / 1"


def test_those_that_failed_are_named(package, hold):
    finding = hold(package(precedents=rows("in use", "failed", "closed")), "precedents", "4 / 1")
    assert finding.steps[0].write() == "3 rows, of which 2 failed (P2, P3)"


def test_a_row_without_lesson_or_sheet_is_named(package, hold):
    finding = hold(package(precedents=rows("failed", lesson="")), "precedents", "1 / 1")
    assert finding.write_notes() == ("without a lesson and a sheet: P1",)
    assert hold(package(precedents=rows("failed", sheet="")), "precedents", "1 / 1").write_notes()
    assert hold(package(precedents=rows("failed")), "precedents", "1 / 1").write_notes() == ()


def test_without_rows_there_are_no_data(package, hold):
    finding = hold(package(), "precedents", "4 / 1")
    assert (finding.state, finding.missing) == (State.NO_DATA, ("rows of the precedent schedule",))


def test_the_question_gives_both_counts(package, hold):
    finding = hold(package(precedents=rows("in use", "in use")), "precedents", "4 / 1")
    assert finding.question == (
        "Precedents: 2, of which 0 failed; 4 and 1 are asked. What did failure teach you?"
    )
