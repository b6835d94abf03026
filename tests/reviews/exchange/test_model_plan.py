"""Where rooms and furniture lie on the plan, held to where a package's own plan puts them."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("ifcopenshell")

from criteria.package import read_package
from criteria.walking.of_package import storeys_of
from reviews.exchange import model
from reviews.exchange.proposed import How, Proposal
from tests.reviews.exchange.written_models import Model, cabin, window


def read(made: Model, tmp_path: Path) -> Proposal:
    return model.read(made.save(tmp_path / "made.ifc"), {})


def rows(proposal: Proposal, schedule: str) -> dict[str, dict[str, str]]:
    key = "item" if schedule == "furniture" else "room"
    return {
        row.cells[key].text: {head: cell.text for head, cell in row.cells.items()}
        for row in proposal.rows
        if row.schedule == schedule
    }


def two_rooms(north: tuple[float, float] = (0.0, 1.0)) -> Model:
    """The cabin, and a store of 2 × 3 m without a window to its east; a table and a shelf."""
    made = cabin(north=north)
    made.room("Store", (2, 3, 2.5), (5.3, 0.5, 0))
    made.thing("IfcFurniture", "Table", [made.box((1.6, 0.7, 0.74))], (1, 1, 0))
    up = (0.6, 0.8, 0.0)
    made.thing("IfcFurniture", "Shelf", [made.box((1.0, 0.5, 0.4))], (3, 1, 1.2), up)
    return made


@pytest.mark.parametrize(
    ("north", "at", "table", "turned"),
    [
        ((0.0, 1.0), ("5.3", "0.5"), ("1800", "1350"), ("0", "53.1")),
        ((1.0, 0.0), ("0.5", "5.3"), ("2650", "1800"), ("90", "143.1")),  # north is along x
        ((0.5, 0.866), ("0.5", "5.3"), ("2650", "1800"), ("90", "143.1")),  # x looks north-east
    ],
)
def test_rooms_and_furniture_lie_as_their_windows_look(
    north: tuple[float, float],
    at: tuple[str, str],
    table: tuple[str, str],
    turned: tuple[str, str],
    tmp_path: Path,
):
    """Places by hand: the day room is 5 × 4 m, all is measured from the lower left corner."""
    proposal = read(two_rooms(north), tmp_path)
    store, found = rows(proposal, "rooms")["Store"], rows(proposal, "furniture")
    assert (store["at_x"], store["at_y"]) == at
    assert "level" not in store
    assert (found["Table"]["plan_x"], found["Table"]["plan_y"]) == table
    assert (found["Table"]["turn"], found["Shelf"]["turn"]) == turned
    assert "under_mm" not in found["Table"]
    assert found["Shelf"]["under_mm"] == "1200"
    assert all(
        row.cells[head].how is How.MEASURED
        for row in proposal.rows
        for head in ("at_x", "plan_x", "turn")
        if head in row.cells
    )
    _walk(proposal, found)


def _walk(proposal: Proposal, found: dict[str, dict[str, str]]) -> None:
    """Hold it to the package's own plan: each piece stands whole in the room that it is in."""
    typed = {"furniture": {"kind": "other"}, "doors": {"clear_w": "800"}}
    tables: dict[str, list[dict[str, str]]] = {}
    for row in proposal.rows:
        cells = {head: cell.text for head, cell in row.cells.items()}
        tables.setdefault(row.schedule, []).append({**typed.get(row.schedule, {}), **cells})
    storeys = storeys_of(read_package(tables).package)
    day = storeys.of("R1")
    assert {place.row for place in day.places} == {"R1", "R2"}
    place = next(each for each in day.places if each.row == found["Table"]["room"])
    for thing in day.things:
        for x, y in thing.corners:
            assert place.low[0] <= x <= place.high[0]
            assert place.low[1] <= y <= place.high[1]
    assert len(day.things) == 2


def test_a_floor_above_is_a_level_where_an_outside_door_says_which_is_the_first(tmp_path: Path):
    made = two_rooms()
    made.storey("Loft", 2.8)
    made.room("Loft", (5, 4, 2), (0, 0, 2.8))
    proposal = read(made, tmp_path)
    assert "at_x" not in rows(proposal, "rooms")["Store"]
    assert any("which of 2 floors is the one by the door" in said for said in proposal.said)
    made.properties(made.parts["door"], "Pset_DoorCommon", IsExternal=True)
    found = rows(read(made, tmp_path), "rooms")
    assert [found[name]["level"] for name in ("Day room", "Store", "Loft")] == ["0", "0", "1"]
    assert (found["Loft"]["at_x"], found["Loft"]["depth_m"]) == ("0", "4")


def test_a_room_that_is_no_rectangle_keeps_all_places_blank_but_furniture_has_its_own(
    tmp_path: Path,
):
    made = two_rooms()
    made.thing("IfcSpace", "Angled", [made.box((2, 2, 2.5)), made.box((1, 4, 2.5))], (9, 0, 0))
    proposal = read(made, tmp_path)
    assert not any("at_x" in room for room in rows(proposal, "rooms").values())
    assert rows(proposal, "furniture")["Table"]["plan_x"] == "1800"
    assert any("for R2 can't be drawn as one rectangle" in said for said in proposal.said)


def test_windows_that_look_several_ways_or_nowhere_leave_the_plan_open(tmp_path: Path):
    made = two_rooms()
    made.room("Bay", (3, 3, 2.5), (20, 0, 0))
    window(made, (21.5, -0.2, 0.8), (0.9, 0.436, 0))
    proposal = read(made, tmp_path)
    assert any("Windows look several ways" in said for said in proposal.said)
    bare = read(cabin(north=None), tmp_path)
    for each in (proposal, bare):
        assert not any({"at_x", "plan_x"} & row.cells.keys() for row in each.rows)
