"""A package made into what its hourly year is reckoned of; what that took for blank cells is said.

Whatever a row must say and doesn't raises Lacking, as everywhere. What has a stated default is
taken, listed, and can be written into its cells.
"""

from dataclasses import dataclass

from criteria.checks.reading import gathered
from criteria.findings import Step
from criteria.hourly.assumed import Assumed, Taking
from criteria.hourly.building import Building, Element
from criteria.hourly.facing import Opening
from criteria.hourly.of_air import air_of
from criteria.hourly.of_envelope import (
    door_element,
    floor,
    heavy_inside,
    outside_doors,
    walls_and_roof,
)
from criteria.hourly.of_openings import window
from criteria.hourly.of_use import InUse, in_use, loads, unsaid, wanted
from criteria.hourly.people_hours import Spread
from criteria.hourly.weather import Weather
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.openings import Window as WindowRow

SEA_AIR_J_M3K = 1206.0
"""Heat that air holds at 101,325 Pa and 20 °C [J/m³K]: 1.2 kg/m³ times 1,005 J/kgK."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Assembled:
    """A package as its year is reckoned.

    use       who is there, and in which months
    unsaid    marks of loads that don't say when they run: a verdict may depend on it
    assumed   what was taken for blank cells
    said      what else to know of it
    """

    building: Building
    use: InUse
    unsaid: tuple[str, ...]
    assumed: tuple[Assumed, ...]
    said: tuple[Step, ...]


def building(package: Package, weather: Weather, spread: Spread = Spread.AWAKE) -> Assembled:
    """Return a package as the year reckons it. Raises Lacking with cells that it can't do without.

    spread   when loads run that don't say it
    """
    taking = Taking()
    floor_m2 = sum(gathered(package.rooms, lambda room: room.floor_m2))
    volume = sum(gathered(package.rooms, lambda room: room.floor_m2 * room.clear_height_m))
    windows = tuple(gathered(package.windows, lambda row: window(package, row, taking)))
    south = (package.site.unless_blank("latitude_deg") or 0) < 0
    doors = gathered(outside_doors(package), lambda row: _door(row, "NS"[south], taking))
    cut = [
        *(
            Opening(
                tilt_deg=each.tilt_deg,
                bearing_deg=each.bearing_deg,
                area_m2=each.area_m2,
                is_in_roof=row.is_rooflight,
            )
            for row, each in zip(package.windows, windows, strict=True)
        ),
        *(
            Opening(tilt_deg=90.0, bearing_deg=each.bearing_deg, area_m2=each.area_m2)
            for each in doors
        ),
    ]
    heavy, contents = heavy_inside(package, floor_m2, taking)
    below, of_floor = floor(package, weather, taking)
    shell = (*walls_and_roof(package, cut, taking), *below)
    use = in_use(package, taking)
    wants = wanted(package, use, loads(package, use, spread, by_need=False))
    air, said = air_of(package, weather, volume, use.people, wants.warm_k, taking)
    given = package.site.air_heat_j_m3k
    made = Building(
        elements=(*shell, *doors, *heavy),
        windows=windows,
        floor_m2=floor_m2,
        volume_m3=volume,
        air=air,
        use=wants,
        contents_j_k=contents,
        skyline_deg=package.site.skyline_deg,
        density_ratio=None if given is None else given / SEA_AIR_J_M3K,
    )
    return Assembled(
        building=made,
        use=use,
        unsaid=unsaid(package),
        assumed=taking.found,
        said=(*said, *of_floor, *_drawn_shade(package.windows)),
    )


def _door(row: Door, shady: str, taking: Taking) -> Element:
    words = "{} is taken to look {}, away from the sun"
    faces = taking.of(row, "faces", shady, words, "ours")
    return door_element(row, float(BEARINGS_DEG[faces]))


def _drawn_shade(rows: tuple[WindowRow, ...]) -> tuple[Step, ...]:
    """Say where a share of sun is typed that drawn eaves, fins or reveals stand for."""
    both = [
        row.mark
        for row in rows
        if row.unless_blank("sun_share") is not None
        and max(row.overhang_m, row.fins_m, row.reveal_m) > 0
    ]
    words = "{}: eaves, fins and reveals are followed as drawn, in place of the share let past"
    return (Step(words, (", ".join(both),)),) if both else ()
