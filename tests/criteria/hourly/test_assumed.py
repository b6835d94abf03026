"""What was taken can be read, and written into its cells."""

import pytest

from criteria.hourly.assumed import Taking
from criteria.schedules import BY_SLUG
from criteria.typed.cells import Lacking
from criteria.units import System
from tests.criteria.hourly.hut import hut


def test_what_is_given_is_handed_out_and_nothing_is_kept():
    taking = Taking()
    assert taking.of(hut().windows[0], "solar_factor", 0.6, "{}: {}", "ours") == 0.5
    assert taking.found == ()


def test_what_is_taken_is_kept_once_with_its_sentence_and_text():
    taking = Taking()
    plant = hut().plant
    for _ in range(2):
        assert taking.of(plant, "leaks_50_s", 6 / 3600, "{}: leaks {}", "a rule") == 6 / 3600
    (one,) = taking.found
    (cell,) = one.cells
    assert (one.schedule, one.mark, one.row, one.source) == ("plant", "", 0, "a rule")
    assert (cell.head, cell.label, cell.value) == ("n50", "Leaks at 50 Pa", "6 1/h")
    assert one.write() == "Heat and air plant: leaks 6.00 1/h"


def test_a_row_without_a_mark_is_known_by_its_number():
    taking, layer = Taking(), hut().envelope[1]
    values = {"density_kg_m3": 500, "heat_j_kgk": 1600}
    taking.take(layer, values, "{} is {}: {} and {}", "a table", "timber")
    (one,) = taking.found
    assert one.row == 2
    assert one.write(System.US) == (
        "wall, Solid timber panel is timber: 31.2 lb/ft³ and 0.382 Btu/lb·°F"
    )


def test_every_text_means_the_same_when_it_is_typed_in_any_notation():
    from criteria.units import DecimalSign, Notation

    taking, package = Taking(), hut()
    taking.take(package.envelope[0], {"north_m2": 1234.567}, "{}: {}", "ours")
    taking.take(package.power, {"tracks": True, "battery_kind": "lead"}, "{}: {}, {}", "ours")
    taking.take(package.supports, {"roof_faces": "E and W"}, "{}: {}", "ours")
    for one in taking.found:
        for cell in one.cells:
            column = BY_SLUG[one.schedule].column(cell.head)
            for system in System:
                read = column.read(cell.value, Notation(system, DecimalSign.COMMA))
                assert read in (pytest.approx(1234.57), True, "lead", "E and W")


def test_what_cant_be_read_is_never_taken_for_blank():
    with pytest.raises(Lacking):
        Taking().of(hut(plant={"n50": "tight"}).plant, "leaks_50_s", 1.0, "{}: {}", "ours")
