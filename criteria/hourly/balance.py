"""What a run came to: flows by what brings them, and whether no heat was lost on the way."""

import numpy as np

from criteria.hourly.air import Wind
from criteria.hourly.building import Building
from criteria.hourly.inputs import Inputs
from criteria.hourly.loop import Ran
from criteria.hourly.room import Matrix, Room
from criteria.hourly.weather import HOUR_S, Hours, Weather
from criteria.hourly.year import Run


def run_of(
    room: Room,
    inputs: Inputs,
    building: Building,
    weather: Weather,
    wind: Wind,
    ran: Ran,
) -> Run:
    """Tell a run by its temperatures, flows and closure."""
    parts = len(room.parts)
    outer, inner = ran.faces_k[:parts], ran.faces_k[parts:]
    across = room.in_long_w_k
    radiant = room.spread @ inner
    if across.any():
        radiant += inputs.radiant_w / across.sum()
    to_air, both = room.in_air_w_k[:, np.newaxis], room.in_air_w_k + across
    nets = both[:, np.newaxis] * inner - to_air * ran.air_k - across[:, np.newaxis] * radiant
    flows: dict[str, Hours] = {}
    for n, part in enumerate(room.parts):
        flows[part.name] = flows.get(part.name, 0.0) + nets[n]
    apart = weather.air_k - ran.air_k
    use = building.use
    flows |= {
        "air": (wind.fixed_w_k + ran.fired_w_k) * apart,
        "open windows": ran.opened_w_k * apart,
        "people": use.people_w,
        "loads": use.loads_w,
        "plant": ran.plant_w,
    }
    if inputs.blinds_w.any():
        flows["blinds"] = inputs.blinds_w
    out = np.array([part.out_w_k for part in room.parts])[:, np.newaxis]
    return Run(
        air_k=ran.air_k,
        operative_k=(ran.air_k + radiant) / 2,
        coldest_face_k=inner.min(axis=0),
        heat_w=np.maximum(ran.plant_w, 0.0),
        cool_w=np.maximum(-ran.plant_w, 0.0),
        open_share=ran.open_share,
        opened_m3_s=ran.opened_w_k / wind.air_j_m3k,
        flows_w=flows,
        sun_w=inputs.sun_w,
        closure=_closure(room, ran, inputs, outer * out, flows["air"] + flows["open windows"]),
    )


def _closure(room: Room, ran: Ran, inputs: Inputs, out_w: Matrix, air_w: Hours) -> float:
    """Return what is lost of the heat that passes: of the year, or the worst hour over the mean."""
    parts = len(room.parts)
    kept = ran.kept_j + room.air_j_k * (ran.air_k - ran.air_before_k)
    outwards = inputs.at_faces_w[:parts] - out_w
    inwards = inputs.at_faces_w[parts:].sum(axis=0) + inputs.to_air_w
    came = outwards.sum(axis=0) + inwards + air_w + ran.plant_w
    passed = np.abs(outwards).sum(axis=0) + inwards + np.abs(air_w) + np.abs(ran.plant_w)
    lost = came * HOUR_S - kept
    through = passed.sum() * HOUR_S or 1.0
    return float(max(abs(lost.sum()) / through, np.abs(lost).max() / (through / len(lost))))
