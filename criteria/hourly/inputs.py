"""What comes into the room each hour: sun on its faces and through its glass, people, loads."""

from dataclasses import dataclass

import numpy as np

from criteria.hourly import shade
from criteria.hourly.building import Building, Element, Outside, Window
from criteria.hourly.films import STEFAN_BOLTZMANN
from criteria.hourly.panes import panes_of
from criteria.hourly.room import Matrix, Room
from criteria.hourly.sky import Sky
from criteria.hourly.sun import normal
from criteria.hourly.weather import HOURS, Flags, Hours, Weather

ON_FLOORS, LOST = 0.642, 0.035
"""Of the sun through glass: on the floor, and out again [1]; the rest on walls and ceiling by area.

Standard 140-2020, informative annex on its distribution, inside faces taking up 0.6."""
BLIND_SUN_W_M2 = 200.0
"""Sun on the glass at which a blind is drawn [W/m²]. Common practice."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Inputs:
    """Heat that enters, hour by hour.

    at_faces_w  at outer faces by part, then at inner ones, shape (2p, 8760) [W]; at outer faces
                what the air, the sky and a held temperature would give them at 0 K is in it
    to_air_w    straight to the air [W]
    sun_w       sun that came in by glass and stayed [W]
    radiant_w   of people and loads, long wave [W]
    blinds_w    of `to_air_w`, sun that blinds inside give it [W]
    sunny       hours in which blinds would be drawn if it were hot
    """

    at_faces_w: Matrix
    to_air_w: Hours
    sun_w: Hours
    radiant_w: Hours
    blinds_w: Hours
    sunny: Flags


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class GlassSun:
    """Sun at one window, all of its glass [W]: let in, and taken up at its outer and inner face."""

    through_w: Hours
    outer_w: Hours
    inner_w: Hours
    direct_w_m2: Hours


def inputs_of(
    building: Building, room: Room, weather: Weather, sky: Sky, drawn: Flags | None = None
) -> Inputs:
    """Return what enters a building; `drawn` are hours in which blinds are."""
    count = len(room.parts)
    faces = np.zeros((2 * count, HOURS))
    faces[:count] = _of_air_and_sky(room, weather)
    falls = _falls(building, room)
    blinds, sunny, sun = np.zeros(HOURS), np.zeros(HOURS, dtype=np.bool_), np.zeros(HOURS)
    fell = np.zeros(HOURS)
    for n, part in enumerate(room.parts):
        thing = part.thing
        if isinstance(thing, Window):
            light = glass_sun(thing, sky)
            let: Hours | float = 1.0
            if thing.blind_share < 1:
                sunny |= light.direct_w_m2 > BLIND_SUN_W_M2
                let = 1.0 if drawn is None else np.where(drawn, thing.blind_share, 1.0)
            into, on_glass = light.through_w * let, let
            if thing.blind_is_inside:
                # the glass has the sun still; what comes past it warms the air, not the faces
                caught = into * (let < 1.0)
                blinds, into, on_glass = blinds + caught, into - caught, 1.0
            faces[n] += light.outer_w * on_glass
            faces[count + n] += light.inner_w * on_glass
            fell += into
            sun += into * falls.sum() + light.inner_w * on_glass
        elif thing.outside is Outside.HELD:
            faces[n] += part.held_w_k * (0.0 if thing.held_k is None else thing.held_k)
        elif thing.outside is Outside.AIR and thing.absorptance * thing.sun_share:
            plane = sky.on_plane(thing.tilt_deg, thing.bearing_deg)
            taken = part.area_m2 * thing.absorptance * thing.sun_share
            faces[n] += taken * plane.total_w_m2
    use = building.use
    radiant = use.people_radiant * use.people_w + use.loads_radiant * use.loads_w
    faces[count:] += np.stack((falls, room.spread), axis=1) @ np.stack((fell, radiant))
    return Inputs(
        at_faces_w=faces,
        to_air_w=use.people_w + use.loads_w - radiant + blinds,
        sun_w=sun + blinds,
        radiant_w=radiant,
        blinds_w=blinds,
        sunny=sunny,
    )


def _of_air_and_sky(room: Room, weather: Weather) -> Matrix:
    """Return what the air and the sky outside would give outer faces at 0 K: shape (p, 8760)."""
    sky_k = np.sqrt(np.sqrt(weather.long_wave_w_m2 / STEFAN_BOLTZMANN))
    sky = np.array([part.out_long_w_k * _sky_seen(part.thing) for part in room.parts])
    air = np.array([part.out_air_w_k + part.out_long_w_k for part in room.parts]) - sky
    gives: Matrix = np.stack((air, sky), axis=1) @ np.stack((weather.air_k, sky_k))
    return gives


def _sky_seen(thing: Element | Window) -> float:
    """Return the part of what an outer face sees that is sky."""
    if isinstance(thing, Element) and thing.outside is not Outside.AIR:
        return 0.0
    free = thing.sky_share if isinstance(thing, Element) else _free(thing)
    return float(1 + np.cos(np.radians(thing.tilt_deg))) / 2 * free


def _free(window: Window) -> float:
    return shade.sky_left(window.tilt_deg, window.sky_deg)


def _falls(building: Building, room: Room) -> Hours:
    """Return the part of the sun through glass that falls on each part inside."""
    said = building.sun_inside
    things = [part.thing for part in room.parts]
    opaque = [isinstance(each, Element) and each.kind != "mass" for each in things]
    area = np.array([part.area_m2 for part in room.parts]) * opaque
    if said is not None:
        of_name = {
            name: sum(a for a, p in zip(area, room.parts, strict=True) if p.name == name)
            for name in said
        }
        return np.array(
            [
                said.get(p.name, 0.0) * a / of_name[p.name] if of_name.get(p.name) else 0.0
                for a, p in zip(area, room.parts, strict=True)
            ]
        )
    floors = area * [isinstance(each, Element) and each.kind == "floor" for each in things]
    others = area - floors
    both = floors.any() and others.any()
    shares: Hours = area * (1 - LOST) / area.sum()
    if both:
        shares = floors * ON_FLOORS / floors.sum()
        shares = shares + others * (1 - LOST - ON_FLOORS) / others.sum()
    return shares


def glass_sun(window: Window, sky: Sky) -> GlassSun:
    """Return what becomes of the sun at a window: past neighbours, shades and glass."""
    tilt, bearing, sun = window.tilt_deg, window.bearing_deg, sky.sun
    plane, panes = sky.on_plane(tilt, bearing), panes_of(window.glass)
    clear = shade.past_neighbours(sun, tilt, bearing, window.sky_deg)
    blocked = 1 - _free(window) if tilt == 90.0 else 0.0
    of_sky, of_ground = 1.0, 1.0
    if window.pane is not None and window.shades:
        looks = normal(tilt, bearing)
        reached = shade.beam_share(sun, plane.cos_incidence, window.pane, window.shades)
        clear = clear * reached
        east, north, up = map(float, looks)
        of_sky, of_ground = shade.even_shares(window.pane, window.shades, (east, north, up))
    thrown = shade.THROWN_BACK * blocked * sky.level_w_m2 / 2
    even = plane.diffuse_w_m2 * _free(window) * of_sky + thrown + plane.ground_w_m2 * of_ground
    direct = plane.direct_w_m2 * clear
    through, outer, inner = panes.at(plane.cos_incidence)
    area = window.glass_m2 * window.sun_share
    return GlassSun(
        through_w=area * (direct * through + even * panes.through_diffuse),
        outer_w=area * (direct * outer + even * panes.outer_diffuse),
        inner_w=area * (direct * inner + even * panes.inner_diffuse),
        direct_w_m2=direct * window.sun_share,
    )
