"""The heart of the year: December's hours and then the year's, one after the other, in floats.

All that doesn't depend on the room's own temperature is reckoned before, in arrays; here an hour is
a handful of scalars.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.blas import ddot

from criteria.hourly.blocks import LONGEST, Blocks, Walls
from criteria.hourly.response import Response
from criteria.hourly.room import Matrix
from criteria.hourly.weather import Hours, floats

START_K = 291.15
STEPS = range(LONGEST)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Ran:
    """The year as it ran.

    faces_k     means of outer faces by part, then of inner ones, shape (2p, 8760) [K]
    kept_j      what all nodes took up in each hour [J]
    air_k       [K], and of the hour before each
    plant_w     heat given, negative where it is taken [W]
    opened_w_k  what open windows passed [W/K]; open_share how far they stood open [1]
    fired_w_k   what a fire drew out of the room [W/K]
    """

    faces_k: Matrix
    kept_j: Hours
    air_k: Hours
    air_before_k: Hours
    plant_w: Hours
    opened_w_k: Hours
    open_share: Hours
    fired_w_k: Hours


def through(blocks: Blocks, response: Response) -> Ran:
    """Run the hours of December and then of the year.

    Air: C (T − T⁻)/Δt = Σ H_c (T̄_i − T) + H_v (T_e − T) + Q. What flows from the faces is known but
    for the part that follows the air of the hour itself, so that T is one division.
    """
    walls, t, count = Walls(blocks, START_K), START_K, len(blocks.ends)
    air, temps, heat, cool = walls.air, floats(walls.air), response.heat, response.cool
    limits = np.stack((blocks.whole_w_k, response.warm_k, response.hot_k))
    feels, back = blocks.feels, floats(blocks.back)
    for span in (range(blocks.from_december, count), range(count)):
        before_k = t
        response.begin(blocks.ends[span[0]][0])
        for number in span:
            first, last = blocks.ends[number]
            reads = walls.reads.tolist()
            follows, radiant_follows = blocks.follows(number)
            for at, flow_w, radiant, whole_w_k, warm, hot in zip(
                STEPS, reads, reads[-LONGEST:], *limits[:, first:last].tolist(), strict=False
            ):
                # the air of the block's hours until now, as far as each is felt in this one
                t = (flow_w + ddot(follows, air, at + 1, LONGEST - at)) / whole_w_k
                if feels:
                    radiant += ddot(radiant_follows, air, at + 1, LONGEST - at)
                    both = 1 + back[first + at]
                    warm, hot = (2 * warm - radiant) / both, (2 * hot - radiant) / both
                if t < warm:
                    t = heat(first + at, t, warm, whole_w_k)
                elif t > hot:
                    t = cool(first + at, t, radiant, whole_w_k)
                temps[at] = t
            walls.pass_on(number)
        response.end()
    told, air_k = blocks.by_hour(walls.held)
    plant_w, opened_w_k, open_share, fired_w_k = response.done
    return Ran(
        faces_k=told[:-1],
        kept_j=told[-1],
        air_k=air_k,
        air_before_k=np.append(before_k, air_k[:-1]),
        plant_w=plant_w,
        opened_w_k=opened_w_k,
        open_share=open_share,
        fired_w_k=fired_w_k,
    )
