"""How long a room's daylight field takes, and beside ray tracing where that is installed.

    python -m tests.benchmarks.daylight_field [--rays 4096]

Rooms of the demo's sizes with its windows' glass, placed by us. Prints the median of some runs
and exits 1 where one is over the 100 ms that a room may take. With the pyradiance wheel
importable every room is ray-traced too, with one transmittance for every direction, and both the
ratio of the times and the difference of the means are printed. Not collected by pytest.
"""

import argparse
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from criteria.daylight import Field, Rooflight, Room, Window, daylight_field, view_field
from criteria.daylight.direct import apertures
from criteria.daylight.mesh import mesh_of
from criteria.daylight.reflected import solved
from criteria.daylight.sky import ZENITH

ALLOWED_MS = 100
RUNS = 15


def window(wall: str, offset_m: float, sill_m: float, width_m: float, height_m: float) -> Window:
    return Window(wall=wall, offset_m=offset_m, sill_m=sill_m, width_m=width_m, height_m=height_m)


WALLS = {"wall_thickness_m": 0.25, "roof_thickness_m": 0.30}
ROOMS = {
    "day room, 22.4 m²": Room(
        length_m=5.6,
        width_m=4.0,
        height_m=2.5,
        **WALLS,
        windows=[
            window("south", 0.8, 0.78, 1.24, 1.04),
            window("south", 3.2, 0.78, 1.24, 1.04),
            window("east", 1.5, 0.78, 0.74, 1.04),
        ],
    ),
    "bunk room, 16.0 m²": Room(
        length_m=5.0,
        width_m=3.2,
        height_m=2.6,
        **WALLS,
        windows=[window("north", x, 1.33, 0.74, 0.54) for x in (0.5, 1.6, 2.7, 3.8)],
    ),
    "hearth room, 28.3 m²": Room(
        length_m=6.15,
        width_m=4.6,
        height_m=2.7,
        **WALLS,
        windows=[
            window("south", 1.9, 0.53, 2.24, 1.64),
            window("west", 0.7, 0.88, 0.74, 1.04),
            window("west", 2.9, 0.88, 0.74, 1.04),
        ],
    ),
    "loft, 15.2 m²": Room(
        length_m=4.75,
        width_m=3.2,
        height_m=2.2,
        **WALLS,
        rooflights=[
            Rooflight(x_m=1.0, y_m=1.2, size_x_m=0.45, size_y_m=0.68),
            Rooflight(x_m=3.2, y_m=1.2, size_x_m=0.45, size_y_m=0.68),
        ],
    ),
    "common room, 24.0 m²": Room(
        length_m=6.0,
        width_m=4.0,
        height_m=2.7,
        **WALLS,
        windows=[window("south", 0.7, 0.73, 1.34, 1.14), window("south", 3.6, 0.73, 1.34, 1.14)],
    ),
    "cabin, 8.4 m²": Room(
        length_m=3.5,
        width_m=2.4,
        height_m=2.5,
        **WALLS,
        windows=[window("east", 0.8, 0.98, 0.64, 0.84)],
    ),
}


def median_ms(work, runs: int = RUNS) -> float:
    work()
    times = []
    for _ in range(runs):
        solved.cache_clear()
        start = time.process_time()
        work()
        times.append(1000 * (time.process_time() - start))
    return statistics.median(times)


def scene(room: Room) -> str:
    """Describe a room to the ray tracer: a bare opening, so that glass is a factor afterwards."""
    cells = mesh_of(room, glass=False).cells
    lines = [
        "void brightfunc overcast\n2 bright sky.cal\n0\n0\n"
        "overcast glow outside\n0\n0\n4 1 1 1 0\n"
        "outside source everywhere\n0\n0\n4 0 0 1 360\n"
    ]
    for value in np.unique(cells.reflectance):
        lines.append(f"void plastic m{value:g}\n0\n0\n5 {value} {value} {value} 0 0\n")
    for n in range(len(cells)):
        u, v, c = cells.half_u[n], cells.half_v[n], cells.centres[n]
        corners = np.array([c - u - v, c + u - v, c + u + v, c - u + v])
        numbers = " ".join(f"{x:.6f}" for x in corners.ravel())
        lines.append(f"m{cells.reflectance[n]:g} polygon p{n}\n0\n0\n12 {numbers}\n")
    return "\n".join(lines)


def traced_mean(pyradiance, room: Room, field: Field, rays: int) -> tuple[float, float]:
    """Return the ray-traced mean daylight factor [%] and the seconds that tracing took."""
    ground = room.ground_reflectance / np.pi
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        # by absolute name: the ray tracer looks for functions beside itself
        (place / "sky.cal").write_text(
            f"bright = if(Dz, {ZENITH / 3} * (1 + 2 * Dz), {ground});\n", encoding="ascii"
        )
        text = scene(room).replace("sky.cal", str(place / "sky.cal"))
        (place / "room.rad").write_text(text, encoding="ascii")
        (place / "room.oct").write_bytes(pyradiance.oconv(str(place / "room.rad")))
        xs, ys = np.meshgrid(field.x_m, field.y_m)
        points = "\n".join(
            f"{x} {y} {field.plane_height_m} 0 0 1"
            for x, y in zip(xs.ravel(), ys.ravel(), strict=True)
        )
        options = f"-ab 12 -aa 0 -ad {rays} -as 0 -lr -30 -lw {0.5 / rays}".split()
        start = time.perf_counter()
        out = pyradiance.rtrace(
            points.encode(), str(place / "room.oct"), header=False, irradiance=True, params=options
        )
        seconds = time.perf_counter() - start
    values = np.array(out.split(), dtype=float).reshape(-1, 3)[:, 0]
    (transmittance,) = {opening.transmittance for opening in apertures(room)}
    return 100 * transmittance * float(values.mean()), seconds


def main() -> int:
    """Print the table; return 1 where a room takes too long."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--rays", type=int, default=4096, help="rays a point of the ray tracer")
    options = parser.parse_args()
    try:
        import pyradiance
    except ImportError:
        pyradiance = None
        print("pyradiance is not installed: times only")
    print(
        f"{'room':<22}{'cells':>6}{'points':>7}{'constant':>10}{'angular':>10}{'view':>8}"
        f"{'traced':>10}{'ratio':>8}{'mean':>9}{'traced':>9}{'differs':>9}"
    )
    slowest = 0.0
    for name, room in ROOMS.items():
        field = daylight_field(room)
        constant = median_ms(lambda room=room: daylight_field(room))
        angular = median_ms(lambda room=room: daylight_field(room, glass="angular"))
        view = median_ms(lambda room=room: view_field(room))
        slowest = max(slowest, constant, angular)
        row = (
            f"{name:<22}{len(mesh_of(room, glass=False).cells):>6}{field.df_pct.size:>7}"
            f"{constant:>7.0f} ms{angular:>7.0f} ms{view:>5.0f} ms"
        )
        if pyradiance is not None:
            mean, seconds = traced_mean(pyradiance, room, field, options.rays)
            row += (
                f"{seconds:>8.1f} s{1000 * seconds / constant:>7.0f}×{field.mean_pct:>7.3f} %"
                f"{mean:>7.3f} %{100 * (field.mean_pct / mean - 1):>+7.2f} %"
            )
        print(row, flush=True)
    print(f"slowest median {slowest:.0f} ms, {ALLOWED_MS} ms allowed")
    return int(slowest > ALLOWED_MS)


if __name__ == "__main__":
    sys.exit(main())
