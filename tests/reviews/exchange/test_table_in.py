"""One table as a file: which schedule it is, and what it says."""

import pytest

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, SCHEDULES
from criteria.typed.tables import write_csv
from reviews.exchange import table_in
from tests.reviews.exchange.nasty import told_by

ROW = {"mark": "W1", "room": "R1", "sill": "4'-6\"", "glass_w": "1240"}


@pytest.fixture
def read(tmp_path):
    """Read these bytes as a file of a name."""

    def laid(content, name="sent", answers=None):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return table_in.read(str(path), answers or {})

    return laid


@pytest.mark.parametrize("name", ["windows.csv", "H07-windows.csv", "H07-windows (2).csv"])
def test_a_file_is_of_the_schedule_that_it_is_named_for(read, name):
    proposal = read(write_csv(BY_SLUG["windows"], [ROW]), name)
    assert told_by(proposal) == {"windows": [ROW]}
    assert proposal.rows[0].cells["sill"].place == "line 2, sill"


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.slug)
def test_a_schedule_taken_out_is_known_by_its_heads_or_asked_for(read, schedule):
    cells = {column.head: "1" for column in schedule.columns}
    proposal = read(write_csv(schedule, [cells]))
    asked = next((q for q in proposal.questions if q.name == table_in.SCHEDULE_ASKED), None)
    if asked and not asked.chosen:
        assert schedule.slug in dict(asked.choices)
        assert proposal.rows == ()
        proposal = read(write_csv(schedule, [cells]), answers={"schedule": schedule.slug})
    assert {row.schedule for row in proposal.rows} == {schedule.slug}


def test_heads_that_several_schedules_know_are_asked_about(read):
    proposal = read("mark;state\nW1;night\n")
    (asked,) = proposal.questions
    assert (asked.chosen, proposal.rows) == ("", ())
    assert {"openings_by_state", "pieces_by_state"} <= {slug for slug, _ in asked.choices}
    (row,) = read("mark;state\nW1;night\n", answers={"schedule": "openings_by_state"}).rows
    assert row.cells["state"].text == "night"


def test_bare_figures_without_a_unit_are_asked_about_and_units_in_heads_are_not(read):
    bare = read("mark\tsill\tleft\nW1\t700\t12\n", "windows.tsv")
    (asked,) = bare.questions
    assert dict(asked.choices)["us"] == "US units: 700 in"
    assert asked.asked.startswith("No unit stands over Sill and 1 more.")
    answered = read("mark\tsill\nW1\t700\n", "windows.tsv", {"units": "us"})
    assert told_by(answered) == {"windows": [{"mark": "W1", "sill": "700 in"}]}
    named = read("mark\tsill [in]\nW1\t27\n", "windows.tsv")
    assert told_by(named) == {"windows": [{"mark": "W1", "sill": "27 in"}]}
    assert named.questions == ()


def test_letters_of_an_old_machine_are_read_and_said(read):
    table = "mark;room;colour\nR1;Küche;é\n"
    proposal = read(table.encode("cp1252"), "rooms.csv")
    assert proposal.rows[0].cells["room"].text == "Küche"
    assert proposal.said[0].startswith("Read as Windows-1252")
    assert "colour" in proposal.said[1]
    assert read(table.encode("utf-16"), "rooms.csv").rows[0].cells["room"].text == "Küche"


def test_a_long_paste_without_heads_or_with_endless_rows_is_said_not_guessed(read):
    assert "expected heads" in read("1,2\n3,4\n", "windows.csv").said[0]
    rows = "".join(f"W{n},R1\n" for n in range(1001))
    proposal = read(f"mark,room\n{rows}", "windows.csv")
    assert proposal.rows == ()
    assert "1,001 rows; expected at most 1,000" in proposal.said[0]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "an empty table"),
        (b"mark\x00room", "a file that is no text"),
        (b"\xff\xfe\x00", "a file that is no text to its end"),
        (b"mark," + b"a" * 200_000, "a table with a cell that doesn’t end"),
    ],
)
def test_what_is_no_table_is_refused(read, content, said):
    with pytest.raises(Refused) as refused:
        read(content)
    assert refused.value.read == said
