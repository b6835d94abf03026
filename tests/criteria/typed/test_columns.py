import dataclasses
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import Refused
from criteria.schedules import SCHEDULES, SITE
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.targets.reading import TARGETS
from criteria.typed.columns import (
    Column,
    Kind,
    count,
    mark,
    quantity,
    reference,
    text,
    word,
    yes_no,
)
from criteria.typed.rows import Row, schedule
from criteria.units import FINEST_PARTS, LENGTH, ROOM_LENGTH, TEMPERATURE, Notation, System

EVERY = (*SCHEDULES, SITE, TARGETS)
COLUMNS = [column for table in EVERY for column in table.columns]


@schedule("poles", "Pole schedule", mark_prefix="P", purpose="For the tests.")
class Pole(Row):
    mark: str = mark()
    kind: str | None = word("kind", ("Ash", "Larch")).says("Which wood.")
    high_m: float | None = quantity("high", ROOM_LENGTH, "Height", within=(0.5, 4))
    n: int | None = count("n", "No.", within=(1, 20))
    up: bool | None = yes_no("up")
    room: str | None = reference("room", "rooms")
    note: str | None = text("note", longest=10)
    cold_k: float | None = quantity("cold", TEMPERATURE, within=(193.15, None))
    drop_m: float | None = quantity("drop", LENGTH, within=(None, 1))
    free_m: float | None = quantity("free", LENGTH)


POLES = Pole.schedule


def test_a_label_is_the_head_in_words_unless_another_is_given():
    assert text("claim_covers").label == "Claim covers"
    assert POLES.column("high").label == "Height"


def test_a_declaration_says_what_helps_and_what_a_blank_means_last():
    declared = quantity("gap", LENGTH, within=(0, 2), eg="40").says("Blank is none.", blank=0.0)
    assert (declared.least, declared.most, declared.example) == (0, 2, "40")
    assert (declared.help, declared.blank) == ("Blank is none.", 0.0)


@pytest.mark.parametrize(
    ("head", "typed", "value"),
    [
        ("mark", "P1", "P1"),
        ("mark", "P-1.a", "P-1.a"),
        ("kind", "larch", "Larch"),
        ("high", "1200 mm", 1.2),
        ("n", "3", 3),
        ("n", "3.0", 3),
        ("up", "Yes", True),
        ("up", "x", True),
        ("up", "1", True),
        ("up", "no", False),
        ("up", "0", False),
        ("room", "R2", "R2"),
        ("note", "ten signs.", "ten signs."),
        ("cold", "-18", 255.15),
    ],
)
def test_a_cell_is_read_by_its_kind(head, typed, value):
    assert POLES.column(head).read(typed) == value
    assert POLES.column(head).read(f"  {typed} ") == value


@pytest.mark.parametrize("blank", ["", "  ", "-", "–", "—"])
def test_a_blank_is_none_and_never_zero(blank):
    for column in POLES.columns[1:]:
        assert column.read(blank) is None


@pytest.mark.parametrize(("blank", "said"), [("", "read “nothing”"), ("–", "read “–”")])
def test_a_required_cell_may_not_be_blank(blank, said):
    with pytest.raises(Refused, match=f"{said}; expected a mark of letters and digits"):
        POLES.column("mark").read(blank)


@pytest.mark.parametrize(
    ("head", "typed", "expected"),
    [
        ("mark", "P 1", "a mark of letters and digits, such as W3"),
        ("mark", "P1234567890ab", "a mark of letters and digits, such as W3"),
        ("mark", "-", "a mark of letters and digits, such as W3"),
        ("kind", "oak", "one of: Ash, Larch"),
        ("high", "12 kg", r"a length, such as .* \(kg is a mass\)"),
        ("high", "4.001", "a length, such as .*, from 0.5 m to 4 m"),
        ("high", "0.499", "a length, such as .*, from 0.5 m to 4 m"),
        ("n", "two", "a whole number, from 1 to 20"),
        ("n", "2.5", "a whole number, from 1 to 20"),
        ("n", "300 %", "a whole number, from 1 to 20"),
        ("n", "9 people", "a whole number, from 1 to 20"),
        ("n", "0", "a whole number, from 1 to 20"),
        ("n", "21", "a whole number, from 1 to 20"),
        ("up", "maybe", "yes or no"),
        ("up", "2", "yes or no"),
        ("room", "R/2", "a mark of the rooms schedule"),
        ("note", "eleven sign", "text of at most 10 characters"),
        ("cold", "-80.1", "a temperature, such as .*, -80 °C or more"),
        ("drop", "1001", "a length, such as .*, 1\u202f000 mm or less"),
        ("free", "far", "a length, such as"),
    ],
)
def test_a_refused_cell_says_what_its_place_takes(head, typed, expected):
    with pytest.raises(Refused, match=f"expected {expected}"):
        POLES.column(head).read(typed)


@pytest.mark.parametrize("typed", ["0.5", "4", "500 mm", "4000 mm"])
def test_the_limits_of_a_column_are_inside_it(typed):
    assert POLES.column("high").read(typed) in (0.5, 4.0)


def test_the_limits_are_said_in_the_readers_units():
    # 0.5 m is 19.685 in and 4 m is 157.48 in: inwards, so that both are taken
    assert "from 1'-7 3/4\" to 13'-1\"" in POLES.column("high").expected(System.US)
    assert POLES.column("cold").expected(System.US).endswith("-112 °F or more")


@pytest.mark.parametrize("column", COLUMNS, ids=lambda c: f"{c.attribute}")
def test_the_limits_that_a_column_says_are_limits_that_it_reads(column: Column):
    if column.scale is None:
        return
    for system in System:
        said = re.search(
            r", (?:from (?P<least>.+) to (?P<most>.+)|(?P<lower>\S+ ?\S*) or more"
            r"|(?P<upper>\S+ ?\S*) or less)$",
            column.expected(system),
        )
        assert bool(said) is not (column.least is None and column.most is None)
        for side, typed in (said.groupdict() if said else {}).items():
            if typed is None:
                continue
            limit = column.least if side in ("least", "lower") else column.most
            unit = column.scale.unit(system)
            read = column.read(typed, Notation(system))
            near = float(unit.from_si(Fraction(str(limit))))
            tape = 1 / FINEST_PARTS if column.scale.is_drawn(system) else 1e-9
            assert float(unit.from_si(read)) == pytest.approx(near, rel=0.011, abs=tape)


@pytest.mark.parametrize("column", COLUMNS, ids=lambda c: f"{c.attribute}")
def test_every_example_is_one_that_its_column_takes(column: Column):
    if column.example:
        assert column.read(column.example) is not None


@pytest.mark.parametrize("table", EVERY, ids=lambda t: t.slug)
def test_every_column_has_its_own_head_label_and_field(table):
    for names in (
        [c.head for c in table.columns],
        [c.label for c in table.columns],
        [c.attribute for c in table.columns],
    ):
        assert len(set(names)) == len(names)
    assert [c.attribute for c in table.columns] == [f.name for f in dataclasses.fields(table.row)]


@given(st.text(max_size=300), st.sampled_from(COLUMNS), st.sampled_from(System))
def test_any_text_in_any_cell_is_read_or_refused(typed, column, system):
    try:
        value = column.read(typed, Notation(system))
    except Refused:
        return
    if column.is_number and value is not None:
        assert column.least is None or value >= column.least
        assert column.most is None or value <= column.most


def test_a_huge_text_in_any_cell_is_refused_in_a_short_message():
    for column in COLUMNS:
        with pytest.raises(Refused, match="200,000 characters") as refused:
            column.read("Z" * 200_000)
        assert len(str(refused.value)) < 1500


@pytest.mark.parametrize(
    ("head", "value", "metric", "us"),
    [
        ("mark", "P1", "P1", "P1"),
        ("high", 1.2192, "1.22", "4'-0\""),
        ("n", 3, "3", "3"),
        ("up", True, "yes", "yes"),
        ("up", False, "no", "no"),
        ("high", None, "", ""),
    ],
)
def test_a_value_is_shown_without_its_unit(head, value, metric, us):
    column = POLES.column(head)
    assert (column.show(value), column.show(value, System.US)) == (metric, us)


def test_the_head_has_the_unit_of_the_system():
    assert POLES.column("high").unit() == "m"
    assert POLES.column("high").unit(System.US) == "ft"
    assert POLES.column("note").unit() == ""


def test_only_figures_stand_to_the_right():
    assert [c.head for c in POLES.columns if c.is_number] == ["high", "n", "cold", "drop", "free"]


def test_a_column_that_is_not_there_is_a_key_error():
    with pytest.raises(KeyError, match="width"):
        POLES.column("width")


def test_a_schedule_knows_the_head_of_its_marks():
    assert Room.schedule.mark_head == "mark"
    assert TARGETS.mark_head == "id"
    assert SITE.mark_head == ""


def test_a_refused_cell_is_remembered_and_the_rest_is_used():
    row = Window.schedule.parse({"mark": "W1", "room": "R1", "glass_w": "x", "sill": "0"})
    assert row.sill_m == 0.0
    assert list(row.refused) == ["glass_w_m"]
    assert row.refused["glass_w_m"].read == "x"


def test_a_required_cell_that_is_blank_is_refused():
    assert list(Window.schedule.parse({"mark": "W1"}).refused) == ["room"]


def test_a_row_is_frozen():
    pole = Pole(mark="P1")
    with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign"):
        pole.mark = "P2"


def _filled(column: Column) -> st.SearchStrategy:
    if column.kind in (Kind.MARK, Kind.REFERENCE):
        return st.from_regex(r"[A-Z]\d{1,3}", fullmatch=True)
    if column.kind is Kind.WORD:
        return st.sampled_from(column.choices)
    if column.kind is Kind.YES_NO:
        return st.booleans()
    if column.kind is Kind.TEXT:
        letters = st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=10)
        return letters.filter(str.strip)
    low = -1e3 if column.least is None else column.least
    high = 1e4 if column.most is None else column.most
    if column.kind is Kind.COUNT:
        return st.integers(int(low), int(high))
    return st.floats(low, high).map(lambda si: min(max(round(si, 9), low), high))


@given(st.data(), st.sampled_from([table.row for table in (*SCHEDULES, SITE)]))
def test_a_row_written_as_a_record_is_read_back(data, cls):
    columns = cls.schedule.columns
    row = cls(**{c.attribute: data.draw(_filled(c)) for c in columns})
    again = cls.schedule.parse(cls.schedule.record(row))
    refused = again.refused
    limits = {c.attribute for c in columns if c.is_number}
    assert set(refused) <= limits  # ten digits of a figure at its limit may stand just beyond it
    for column in columns:
        if column.attribute in refused:
            edge = getattr(row, column.attribute)
            assert pytest.approx(edge, rel=1e-8) in (column.least, column.most)
        elif column.is_number:
            want = getattr(row, column.attribute)
            assert getattr(again, column.attribute) == pytest.approx(want, rel=1e-9, abs=1e-9)
        else:
            assert getattr(again, column.attribute) == getattr(row, column.attribute)


def test_a_record_has_blanks_for_what_is_not_known():
    assert set(Pole.schedule.record(Pole(mark="P1")).values()) == {"P1", ""}


def test_a_small_figure_is_written_without_an_exponent():
    assert POLES.record(Pole(mark="P1", free_m=1e-8))["free"] == "0.00001"


def test_a_word_is_taken_as_people_say_it_and_each_is_named():
    opens = Window.schedule.column("opens")
    assert [opens.read(each) for each in ("Casement", "awning", "double-hung", "pivot")] == [
        "side-hung",
        "top-hung",
        "sliding",
        "pivot",
    ]
    assert "side-hung (casement), tilt-and-turn, top-hung (awning)" in opens.expected()
    assert {meant for _, meant in opens.also} <= set(opens.choices)
    assert not {said for said, _ in opens.also} & set(opens.choices)
