"""A case in the explicit form: elements, layers, glass, shades, air and set-points, in one JSON.

The form in which published test cases are put: nothing is assumed that the file doesn't say, so
that any other case is put in the same way. Keys carry their units, lists by hour hold 24 figures of
which the first is the hour from 00:00 to 01:00, null is off; x is east, y north, z up.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from criteria.hourly.building import (
    Air,
    Building,
    Element,
    Glass,
    Layer,
    Outside,
    Point,
    Rectangle,
    Use,
    Window,
)
from criteria.hourly.panes import solar_factor
from criteria.hourly.weather import CELSIUS_K, HOURS, Hours, Place
from criteria.typed.json_file import JsonFile, read_json, shown

Item = Mapping[str, Any]

_RATIO = "air_density_ratio_to_sea_level"
OUTSIDES = {"air": Outside.AIR, "held": Outside.HELD}
KINDS = ("wall", "roof", "floor")
_SITE = ("latitude_deg", "longitude_deg", "time_zone_h", "elevation_m", "ground_reflectance")
_FILMS = ("outer_film_w_m2k", "inner_film_w_m2k")
_LAYER = ("thickness_m", "conductivity_w_mk", "density_kg_m3", "heat_capacity_j_kgk")
_FACES = {
    "solar_absorptance_outside": "absorptance",
    "emissivity_outside": "emissivity_outside",
    "emissivity_inside": "emissivity_inside",
}
_ELEMENT = (
    "name",
    "kind",
    "outside",
    "layers_outside_to_inside",
    "area_m2",
    "tilt_deg",
    "bearing_deg",
    "held_at_c",
)
_GLASS = (
    "pane_thickness_m",
    "pane_conductivity_w_mk",
    "refractive_index",
    "kl_per_pane",
    "emissivity",
)
LIMITS: Mapping[str, tuple[float, float]] = {
    "latitude_deg": (-90, 90),
    "longitude_deg": (-180, 180),
    "time_zone_h": (-14, 14),
    "elevation_m": (-500, 9000),
    "floor_m2": (0.01, 1e5),
    "volume_m3": (0.01, 1e6),
    "gains_w": (-1e6, 1e6),
    "air_density_ratio_to_sea_level": (0.1, 2),
    "area_m2": (1e-4, 1e5),
    "tilt_deg": (0, 180),
    "bearing_deg": (-360, 360),
    "held_at_c": (-100, 100),
    "solar_absorptance_outside": (0, 1),
    "emissivity_outside": (0, 1),
    "emissivity_inside": (0, 1),
    "emissivity": (0, 1),
    "thickness_m": (1e-5, 10),
    "conductivity_w_mk": (1e-4, 1000),
    "density_kg_m3": (0.01, 30_000),
    "heat_capacity_j_kgk": (1, 20_000),
    "resistance_m2k_w": (1e-4, 1000),
    "outer_film_w_m2k": (0.01, 1000),
    "inner_film_w_m2k": (0.01, 1000),
    "pane_thickness_m": (1e-4, 0.1),
    "pane_conductivity_w_mk": (1e-3, 100),
    "refractive_index": (1.01, 4),
    "kl_per_pane": (0, 10),
    "gap_conductance_w_m2k": (0.01, 1000),
    "corner_m": (-1000, 1000),
    "edge_m": (-1000, 1000),
    "edge2_m": (-1000, 1000),
    "outside_air_m3_h_by_hour": (0, 1e6),
    "heat_below_c_by_hour": (-100, 200),
    "cool_above_c_by_hour": (-100, 200),
}
"""What a figure can be, by its key: within these a year runs, and closes."""
_SAME_GLASS = 0.03
"""A solar factor within this of what the panes come to is theirs by other films [1]; one further
off is of coated glass, and is kept."""
_PANE_J_M3K = 2500.0 * 750.0
"""Heat of a cubic metre of glass [J/m³K]. EN 572-1: 2,500 kg/m³; heat from memory."""


@dataclass(frozen=True, kw_only=True)
class Case:
    """A case that was read, where it stands, and the keys of the file that mean nothing here."""

    name: str
    place: Place
    building: Building
    unread: tuple[str, ...]


def read_case(path: Path) -> Case:
    """Read a case. Raises UnreadableFile, naming file, key, what was read and what was expected."""
    return case_of(read_json(path), file=str(path))


def case_of(spec: object, *, file: str = "case") -> Case:
    """Build a case from the object that its file holds; raises as `read_case`."""
    reader = _Reader(file)
    top = reader.mapping(spec, "")
    site = reader.mapping(reader.needed(top, "site", "site"), "site")
    at = reader.numbers(site, _SITE, "site")
    sizes = reader.numbers(top, ("floor_m2", "volume_m3", "gains_w", "gains_radiant_share"), "case")
    ratio = top.get(_RATIO)
    elements = tuple(reader.element(item, path) for path, item in reader.items(top, "elements"))
    windows = tuple(reader.window(item, path) for path, item in reader.items(top, "windows"))
    if not elements:
        raise reader.refuse("elements", "none", "at least one element")
    air = reader.by_hour(top, "outside_air_m3_h_by_hour")
    if np.isnan(air).any():
        raise reader.refuse("outside_air_m3_h_by_hour", "null", "24 flows")
    building = Building(
        elements=elements,
        windows=windows,
        floor_m2=sizes["floor_m2"],
        volume_m3=sizes["volume_m3"],
        air=Air(fixed_m3_s=air / 3600),
        use=Use(
            loads_w=np.full(HOURS, sizes["gains_w"]),
            loads_radiant=reader.share(sizes["gains_radiant_share"], "gains_radiant_share"),
            warm_k=reader.by_hour(top, "heat_below_c_by_hour") + CELSIUS_K,
            cool_k=reader.by_hour(top, "cool_above_c_by_hour") + CELSIUS_K,
            is_operative=reader.one_of(top, "thermostat", ("air", "operative")) == "operative",
        ),
        ground_reflectance=reader.share(at["ground_reflectance"], "site.ground_reflectance"),
        sun_inside=reader.sun_inside(top),
        density_ratio=None if ratio is None else reader.number(ratio, _RATIO),
    )
    place = Place(
        latitude_deg=at["latitude_deg"],
        longitude_deg=at["longitude_deg"],
        zone_h=at["time_zone_h"],
        altitude_m=at["elevation_m"],
    )
    known = {"name", "site", "elements", "windows", "warm_up", "outside_air_m3_h_by_hour",
             "heat_below_c_by_hour", "cool_above_c_by_hour", "thermostat", "solar_share_inside",
             _RATIO, *sizes}  # fmt: skip
    reader.note(top, known)
    return Case(
        name=str(top.get("name", "")), place=place, building=building, unread=tuple(reader.unread)
    )


class _Reader(JsonFile):
    """Reads parts of a case."""

    def number(self, value: object, key: str) -> float:
        number = super().number(value, key)
        low, high = LIMITS.get(key.rpartition(".")[2], (-np.inf, np.inf))
        if not low <= number <= high:
            raise self.refuse(key, shown(value), f"{low:g} to {high:g}")
        return number

    def element(self, item: Item, path: str) -> Element:
        outside = OUTSIDES[self.one_of(item, "outside", tuple(OUTSIDES), path)]
        is_held = outside is Outside.HELD
        faces = ("area_m2", "held_at_c") if is_held else ("area_m2", "tilt_deg", "bearing_deg")
        given = self.numbers(item, faces, path)
        held = given.pop("held_at_c", None)
        given |= {name: self.number(item[key], f"{path}.{key}")
                  for key, name in _FACES.items() if key in item}  # fmt: skip
        layers = tuple(
            self.layer(self.mapping(layer, f"{path}.layer"), f"{path}.layers[{n}]")
            for n, layer in enumerate(self._layers(item, path))
        )
        self.note(item, {*_ELEMENT, *_FACES, *_FILMS}, path)
        kind = self.one_of(item, "kind", KINDS, path)
        return Element(
            name=str(item.get("name", path)),
            kind=kind,  # type: ignore[arg-type]
            layers=layers,
            outside=outside,
            held_k=None if held is None else held + CELSIUS_K,
            **self.films(item, path),
            **given,
        )

    def _layers(self, item: Item, path: str) -> list[Any]:
        key = "layers_outside_to_inside"
        layers = self.listed(self.needed(item, key, f"{path}.{key}"), f"{path}.{key}")
        if not layers:
            raise self.refuse(f"{path}.{key}", "none", "at least one layer")
        return layers

    def layer(self, item: Item, path: str) -> Layer:
        name = str(item.get("what", ""))
        self.note(item, {"what", "resistance_m2k_w", *_LAYER}, path)
        if "resistance_m2k_w" in item:
            key = f"{path}.resistance_m2k_w"
            resists = self.number(item["resistance_m2k_w"], key)
            return Layer(name=name, without_mass_m2k_w=resists)
        thick, passes, dense, heat = self.numbers(item, _LAYER, path).values()
        return Layer(
            name=name, thickness_m=thick, lambda_w_mk=passes, density_kg_m3=dense, heat_j_kgk=heat
        )

    def window(self, item: Item, path: str) -> Window:
        given = self.numbers(item, ("tilt_deg", "bearing_deg"), path)
        pane = self.rectangle(item, path)
        shades = tuple(
            self.rectangle(self.mapping(each, f"{path}.shades[{n}]"), f"{path}.shades[{n}]")
            for n, each in enumerate(self.listed(item.get("shades", []), f"{path}.shades"))
        )
        area = float(np.linalg.norm(np.cross(pane.edge_m, pane.edge2_m)))
        self.over_none(area, f"{path}.edge_m")
        glass = self.mapping(self.needed(item, "glass", f"{path}.glass"), f"{path}.glass")
        self.note(item, {"name", "tilt_deg", "bearing_deg", "corner_m", "edge_m", "edge2_m",
                         "glass", "shades", *_FILMS}, path)  # fmt: skip
        films: Any = self.films(item, path)
        return Window(
            name=str(item.get("name", path)),
            area_m2=area,
            glass_m2=area,
            glass=self.glass(glass, f"{path}.glass"),
            pane=pane,
            shades=shades,
            tilt_deg=given["tilt_deg"],
            bearing_deg=given["bearing_deg"],
            **films,
        )

    def glass(self, item: Item, path: str) -> Glass:
        given = self.numbers(item, _GLASS, path)
        panes = self.number(self.needed(item, "panes", f"{path}.panes"), f"{path}.panes")
        if panes not in (1, 2, 3, 4):
            raise self.refuse(f"{path}.panes", shown(panes), "1, 2, 3 or 4 panes")
        each = given["pane_thickness_m"] / given["pane_conductivity_w_mk"]
        key = f"{path}.gap_conductance_w_m2k"
        gap = 0.0
        if panes > 1:
            passes = self.number(self.needed(item, "gap_conductance_w_m2k", key), key)
            gap = (panes - 1) / passes
        self.note(item, {"panes", "gap_conductance_w_m2k", "solar_factor_normal", *_GLASS}, path)
        plain = Glass(
            panes=int(panes),
            between_m2k_w=gap + panes * each,
            solar_factor=None,
            refractive_index=given["refractive_index"],
            absorbed_kl=given["kl_per_pane"],
            emissivity=given["emissivity"],
            pane_j_m2k=_PANE_J_M3K * given["pane_thickness_m"],
        )
        if "solar_factor_normal" not in item:
            return plain
        key = f"{path}.solar_factor_normal"
        factor = self.share(item["solar_factor_normal"], key)
        is_plain = abs(factor / solar_factor(plain) - 1) <= _SAME_GLASS
        return plain if is_plain else replace(plain, solar_factor=self.over_none(factor, key))

    def rectangle(self, item: Item, path: str) -> Rectangle:
        corner, edge, edge2 = (
            self.point(item, key, path) for key in ("corner_m", "edge_m", "edge2_m")
        )
        return Rectangle(corner_m=corner, edge_m=edge, edge2_m=edge2)

    def point(self, item: Item, key: str, path: str) -> Point:
        at = f"{path}.{key}"
        given = self.listed(self.needed(item, key, at), at)
        if len(given) != 3:
            raise self.refuse(at, shown(given), "three lengths: east, north, up")
        east, north, up = (self.number(value, at) for value in given)
        return east, north, up

    def films(self, item: Item, path: str) -> dict[str, float]:
        names = dict(zip(_FILMS, ("outer_w_m2k", "inner_w_m2k"), strict=True))
        return {
            name: self.number(item[key], f"{path}.{key}")
            for key, name in names.items()
            if key in item
        }

    def by_hour(self, top: Item, key: str) -> Hours:
        """Twenty-four figures of a day as a year's; null is no number."""
        given = self.listed(self.needed(top, key, key), key)
        if len(given) != 24:
            raise self.refuse(key, f"{len(given)} figures", "24, one an hour")
        day = [np.nan if value is None else self.number(value, key) for value in given]
        return np.tile(day, HOURS // 24)

    def sun_inside(self, top: Item) -> dict[str, float] | None:
        if "solar_share_inside" not in top:
            return None
        shares = self.mapping(top["solar_share_inside"], "solar_share_inside")
        read = {
            name: self.share(value, f"solar_share_inside.{name}") for name, value in shares.items()
        }
        read.pop("lost_through_glass", None)  # what the others leave
        return read

    def one_of(self, item: Item, key: str, words: tuple[str, ...], path: str = "") -> str:
        at = f"{path}.{key}" if path else key
        word = self.needed(item, key, at)
        if word not in words:
            raise self.refuse(at, shown(word), " or ".join(words))
        return str(word)

    def over_none(self, value: float, key: str) -> float:
        if value <= 0:
            raise self.refuse(key, shown(value), "more than 0")
        return value

    def share(self, value: object, key: str) -> float:
        number = self.number(value, key)
        if not 0 <= number <= 1:
            raise self.refuse(key, shown(number), "a share from 0 to 1")
        return number
