"""The room as equations: nodes in its layers, solved exactly for what is held over each hour.

Air and one radiant node stand between the faces (ISO 52016-1:2017); the layers are the schedule's
own, in slices. With what comes in held over the hour, nodes follow exactly:

    C dx/dt = K x + b T_air + B u,   x_next = Φ x + Γ (T_air, u),   x̄ = Ψ x + Θ (T_air, u)

with x̄ the mean of the hour, by the eigenvectors of C^−½ K C^−½, which is symmetric and has no
positive eigenvalue: no step can be too long and no heat is lost on the way.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.hourly import films
from criteria.hourly.building import Building, Element, Outside, Window
from criteria.hourly.slices import Slices, slices_of
from criteria.hourly.weather import HOUR_S, Weather

Matrix = NDArray[np.float64]
SEA_LEVEL_PA = 101_325.0
AIR_J_M3K = 1206.0
"""Heat that a cubic metre of air holds at 20 °C and sea level [J/m³K]."""
NEAR_ZERO = 0.01
"""Under this φ2 is summed as a series."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Part:
    """An element or window among the nodes.

    outer, inner    its first and last node; where its outer face is held, the next to it
    area_m2         [m²]
    out_air_w_k, out_long_w_k  to the outside air, and as long wave [W/K]
    in_air_w_k, in_long_w_k    to the room's air, and to its other faces [W/K]
    held_w_k        to a held outer face, past its first slice [W/K]
    """

    name: str
    thing: Element | Window
    outer: int
    inner: int
    area_m2: float
    out_air_w_k: float
    out_long_w_k: float
    in_air_w_k: float
    in_long_w_k: float
    held_w_k: float

    @property
    def out_w_k(self) -> float:
        """All that leaves its outer node outwards [W/K]."""
        return self.out_air_w_k + self.out_long_w_k + self.held_w_k


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Room:
    """Nodes and what lies between them: n nodes, p parts.

    keeps_j_k   heat of each node [J/K], shape (n,)
    passes_w_k  K: from node to node, films with it [W/K], shape (n, n)
    spread      part of radiant heat that each part's inner face takes [1], shape (p,)
    air_j_k     heat of the air and what follows it [J/K]
    air_j_m3k   heat of a cubic metre of air [J/m³K]
    """

    parts: tuple[Part, ...]
    keeps_j_k: Matrix
    passes_w_k: Matrix
    spread: Matrix
    air_j_k: float
    air_j_m3k: float

    @property
    def faces(self) -> NDArray[np.intp]:
        """Nodes of outer faces by part, then of inner ones."""
        parts = self.parts
        return np.array([part.outer for part in parts] + [part.inner for part in parts])

    @property
    def in_air_w_k(self) -> Matrix:
        """From inner faces to the room's air [W/K], by part."""
        return np.array([part.in_air_w_k for part in self.parts])

    @property
    def in_long_w_k(self) -> Matrix:
        """From inner faces to the other ones [W/K], by part."""
        return np.array([part.in_long_w_k for part in self.parts])


def density_ratio(building: Building, weather: Weather) -> float:
    """Return how dense the air is against sea level [1]."""
    given = building.density_ratio
    return float(weather.pressure_pa.mean()) / SEA_LEVEL_PA if given is None else given


def room_of(building: Building, weather: Weather, *, shut: bool = False) -> Room:
    """Return the equations of a building; `shut` with its shutters closed."""
    wind, mean_k = float(weather.wind_m_s.mean()), float(weather.air_k.mean())
    parts: list[Part] = []
    keeps: list[Matrix] = []
    between: list[Matrix] = []
    things: tuple[Element | Window, ...] = (*building.elements, *building.windows)
    for thing in things:
        cut, held = _slices(thing, shut=shut), _is_held(thing)
        first = sum(map(len, keeps))
        keeps.append(cut.keeps_j_m2k[held:] * thing.area_m2)
        rates = cut.passes_w_m2k * thing.area_m2
        between.append(rates[held:])
        parts.append(_part(thing, first, len(keeps[-1]), rates[0] if held else 0.0, wind, mean_k))
    return Room(
        parts=tuple(parts),
        keeps_j_k=np.concatenate(keeps),
        passes_w_k=_passes(parts, between),
        spread=_spread(parts),
        air_j_k=_air_j_k(building, weather),
        air_j_m3k=AIR_J_M3K * density_ratio(building, weather),
    )


def _air_j_k(building: Building, weather: Weather) -> float:
    return (
        1.2 * density_ratio(building, weather) * 1006 * building.volume_m3 + building.contents_j_k
    )


def _is_held(thing: Element | Window) -> bool:
    return isinstance(thing, Element) and thing.outside is Outside.HELD


def _slices(thing: Element | Window, *, shut: bool) -> Slices:
    if isinstance(thing, Element):
        return slices_of(thing.layers)
    glass = thing.glass
    between = glass.between_m2k_w + (thing.shutter_m2k_w if shut else 0.0)
    half = glass.panes * glass.pane_j_m2k / 2
    return Slices(keeps_j_m2k=np.array((half, half)), passes_w_m2k=np.array((1 / between,)))


def _part(
    thing: Element | Window, first: int, count: int, held_w_k: float, wind: float, mean_k: float
) -> Part:
    """Put films at both faces of a part."""
    if isinstance(thing, Element):
        kind: films.Face = thing.kind
        outside, emissivity_inside = thing.outside, thing.emissivity_inside
        emissivity_outside = thing.emissivity_outside
    else:
        kind, outside = "window", Outside.AIR
        emissivity_inside = emissivity_outside = thing.glass.emissivity
    air = {
        Outside.AIR: films.air_outside_w_m2k(wind),
        Outside.VENTED: films.VENTED_W_M2K,
        Outside.UNDER: films.air_outside_w_m2k(wind, films.UNDER_FLOORS),
    }.get(outside, 0.0)
    has_sky = outside in (Outside.AIR, Outside.UNDER)
    long_wave = films.long_wave_w_m2k(emissivity_outside, mean_k) if has_sky else 0.0
    if thing.outer_w_m2k is not None:
        air, long_wave = thing.outer_w_m2k, 0.0
    inner, across = (
        films.AIR_INSIDE_W_M2K[kind],
        films.long_wave_w_m2k(emissivity_inside, films.INSIDE_K),
    )
    if thing.inner_w_m2k is not None:
        inner, across = thing.inner_w_m2k, 0.0
    return Part(
        name=thing.name,
        thing=thing,
        outer=first,
        inner=first + count - 1,
        area_m2=thing.area_m2,
        out_air_w_k=air * thing.area_m2,
        out_long_w_k=long_wave * thing.area_m2,
        in_air_w_k=inner * thing.area_m2,
        in_long_w_k=across * thing.area_m2,
        held_w_k=held_w_k,
    )


def _passes(parts: list[Part], between: list[Matrix]) -> Matrix:
    """Return K of parts whose nodes lie one after the other, of what passes between them."""
    rates = np.concatenate([np.append(each, 0.0) for each in between])
    leaves = rates + np.roll(rates, 1)
    for part in parts:
        leaves[part.outer] += part.out_w_k
        leaves[part.inner] += part.in_air_w_k + part.in_long_w_k
    k = np.diag(rates[:-1], 1) + np.diag(rates[:-1], -1) - np.diag(leaves)
    across = np.array([part.in_long_w_k for part in parts])
    if across.any():
        inner = [part.inner for part in parts]
        k[np.ix_(inner, inner)] += np.outer(across, across) / across.sum()
    return k


def _spread(parts: list[Part]) -> Matrix:
    """By long wave; over all faces alike where films are fixed and none is said."""
    across = np.array([part.in_long_w_k for part in parts])
    by = across if across.any() else np.array([part.area_m2 for part in parts])
    shares: Matrix = by / by.sum()
    return shares


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Steps:
    """How a room goes from hour to hour, in the modes in which it decays; n of them, p parts.

    decays      what an hour leaves of each mode, shape (n,) [1]
    nodes, modes  temperatures of nodes by modes, and modes by nodes, shape (n, n)
    by_air, by_watts  what the room's air [K], and a watt at outer and inner faces, add to modes in
                an hour, shapes (n,) and (n, 2p)
    mean_of, mean_by_air, mean_by_watts  the mean at outer and inner faces [K], of modes as an hour
                begins, of the air, and of watts at faces; shapes (2p, n), (2p,), (2p, 2p)
    """

    room: Room
    decays: Matrix
    nodes: Matrix
    modes: Matrix
    by_air: Matrix
    by_watts: Matrix
    mean_of: Matrix
    mean_by_air: Matrix
    mean_by_watts: Matrix


def steps_of(room: Room) -> Steps:
    """Solve a room's equations for one hour."""
    root = np.sqrt(room.keeps_j_k)
    rates, vectors = np.linalg.eigh(room.passes_w_k / np.outer(root, root) * HOUR_S)
    faces, inner = room.faces, room.faces[len(room.parts) :]
    nodes = vectors / root[:, np.newaxis]
    taken_up = HOUR_S * nodes[faces].T
    by_air = HOUR_S * nodes[inner].T @ room.in_air_w_k
    once, twice = _phi1(rates), _phi2(rates)
    mean = nodes[faces] * twice
    return Steps(
        room=room,
        decays=np.exp(rates),
        nodes=nodes,
        modes=vectors.T * root,
        by_air=once * by_air,
        by_watts=once[:, np.newaxis] * taken_up,
        mean_of=nodes[faces] * once,
        mean_by_air=mean @ by_air,
        mean_by_watts=mean @ taken_up,
    )


def _phi1(rates: Matrix) -> Matrix:
    """(e^λ − 1) ÷ λ."""
    still = np.abs(rates) < 1e-12
    safe = np.where(still, 1.0, rates)
    return np.where(still, 1.0, np.expm1(safe) / safe)


def _phi2(rates: Matrix) -> Matrix:
    """(e^λ − 1 − λ) ÷ λ², near nothing by its series."""
    near = np.abs(rates) < NEAR_ZERO
    safe = np.where(near, 1.0, rates)
    series = 1 / 2 + rates / 6 + rates**2 / 24 + rates**3 / 120 + rates**4 / 720
    return np.where(near, series, (np.expm1(safe) - safe) / safe**2)
