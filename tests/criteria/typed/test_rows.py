"""A row says what it holds, and raises where it is asked for what it doesn't."""

import pytest

from criteria.errors import Refused
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.typed.cells import Lacking, lacking, standing_in
from criteria.typed.columns import count, mark, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import LENGTH


@schedule("poles", "Pole schedule", mark_prefix="P", purpose="For the tests.")
class Pole(Row):
    mark: str = mark()
    kind: str = word("kind", ("ash", "larch"), required=True)
    high_m: float = quantity("high", LENGTH, "Height", within=(0.5, 4))
    n: int = count("n", "No.", blank=1)
    gap_m: float | None = quantity("gap", LENGTH, blank=None)
    note: str | None = text("note")


def read(**cells):
    return Pole.schedule.parse(cells, number=3)


def test_a_cell_with_a_value_is_an_attribute_in_si():
    assert read(mark="P1", kind="ash", high="1200").high_m == 1.2


def test_asking_for_a_blank_cell_names_it():
    with pytest.raises(Lacking, match=r"^P1, Height \(pole schedule\)$") as lacking:
        read(mark="P1", kind="ash").high_m  # noqa: B018
    (cell,) = lacking.value.cells
    assert (cell.schedule, cell.mark, cell.head, cell.refusal) == ("poles", "P1", "high", None)


def test_asking_for_a_refused_cell_says_what_was_read_and_expected():
    with pytest.raises(Lacking, match=r"^P1, Height \(pole schedule\): read “tall”; expected a "):
        read(mark="P1", kind="ash", high="tall").high_m  # noqa: B018


@pytest.mark.parametrize("attribute", ["n", "gap_m", "note"])
def test_a_blank_that_means_something_is_no_gap_but_a_refusal_always_is(attribute):
    assert (
        getattr(read(mark="P1", kind="ash"), attribute)
        == Pole.schedule.column({"n": "n", "gap_m": "gap", "note": "note"}[attribute]).blank
    )
    refused = read(mark="P1", kind="ash", n="many", gap="wide", note="x" * 300)
    with pytest.raises(Lacking, match="read “"):
        getattr(refused, attribute)


def test_a_required_cell_is_refused_where_it_is_blank():
    with pytest.raises(Lacking, match=r"Kind \(pole schedule\): read “nothing”; expected one of"):
        read(mark="P1").kind  # noqa: B018


def test_nothing_that_swallows_attribute_errors_swallows_a_gap():
    with pytest.raises(Lacking):
        getattr(read(mark="P1", kind="ash"), "high_m", None)
    with pytest.raises(Lacking):
        hasattr(read(mark="P1", kind="ash"), "high_m")
    with pytest.raises(AttributeError, match="Pole has no width"):
        read(mark="P1").width  # noqa: B018


def test_a_fallback_may_follow_a_blank_and_never_a_refusal():
    assert read(mark="P1", kind="ash").unless_blank("high_m") is None
    with pytest.raises(Lacking):
        read(mark="P1", kind="ash", high="tall").unless_blank("high_m")


def test_prose_may_ask_without_raising():
    row = read(mark="P1", kind="oak", high="tall")
    assert (row.if_given("kind"), row.if_given("high_m"), row.if_given("n")) == (None, None, 1)
    assert row.leniently.high_m is None
    assert row.leniently.n == 1


@pytest.mark.parametrize(
    ("cells", "title"),
    [({"mark": "P7", "kind": "ash"}, "P7"), ({"kind": "ash"}, "ash"), ({}, "row 3")],
)
def test_a_row_is_called_by_its_mark_its_words_or_its_place(cells, title):
    assert read(**cells).title == title


def test_a_sheet_of_one_row_needs_no_name():
    with pytest.raises(Lacking, match=r"^People in the brief \(site sheet\)$"):
        Site().people  # noqa: B018


def test_what_stands_in_is_gone_afterwards():
    row = read(mark="P1", kind="ash")
    with standing_in({(id(row), "high_m"): 2.0}):
        assert row.high_m == 2.0
    with pytest.raises(Lacking):
        row.high_m  # noqa: B018


def test_a_row_is_the_same_as_one_that_says_the_same():
    assert read(mark="P1", kind="ash") == Pole(mark="P1", kind="ash")
    assert read(mark="P1", kind="ash") != read(mark="P1", kind="ash", high="1")
    assert read(mark="P1", kind="ash") != read(mark="P1", kind="ash", high="tall")
    assert len({read(mark="P1", kind="ash"), Pole(mark="P1", kind="ash")}) == 1
    assert repr(Pole(mark="P1", kind="ash")).startswith("Pole(mark='P1', kind='ash'")


def test_a_row_with_other_values_forgets_what_was_refused_there():
    row = read(mark="P1", kind="oak", high="tall").but(high_m=1.5)
    assert row.high_m == 1.5
    assert list(row.refused) == ["kind"]
    assert list(row.refusing("n", Refused("x", "a number")).refused) == ["kind", "n"]


def test_a_thing_that_is_no_cell_may_lack_too():
    assert str(lacking("an outside door (door schedule)")) == "an outside door (door schedule)"


@pytest.mark.parametrize(("use", "sleepers"), [("day", 0), ("store", 0)])
def test_a_room_where_nobody_is_said_to_sleep_has_no_sleepers(use, sleepers):
    assert Room(mark="R1", name="Room", use=use).sleepers == sleepers


def test_a_bedroom_that_says_no_sleepers_has_a_gap():
    with pytest.raises(Lacking, match="Sleepers"):
        Room(mark="R1", name="Bunks", use="sleep").sleepers  # noqa: B018
    with pytest.raises(Lacking, match="Use"):
        Room(mark="R1", name="Bunks").sleepers  # noqa: B018
