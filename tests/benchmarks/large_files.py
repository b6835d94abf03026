"""What large files take: time, memory and tiles, beside libvips' own tiles in the same run.

    python -m tests.benchmarks.large_files

A set made here: 10,800 × 7,200 px as JPEG in print colours with their profile, as 16-bit PNG and as
TIFF; a telephone's picture on its side; a PDF of 20 pages of A1. Each is read by the processes that
the site starts, with their limits. Prints seconds of the processor and by the clock, the peak
memory, the tiles, and how their time stands to `dzsave` alone. Not collected by pytest.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pyvips
from fpdf import FPDF

from reviews import picture_limits as limits
from reviews.tiles import TilePack
from tests.served import ROOT

A1_PX = (10_800, 7_200)
BARE = """
import sys, pyvips
pyvips.Image.jpegload(sys.argv[1], access="sequential").dzsave(
    sys.argv[2], tile_size=512, overlap=0, depth="onetile", suffix=".jpg[Q=85]"
)
"""
PEAK = """
import runpy, sys
sys.argv = sys.argv[1:]
try:
    runpy.run_path(sys.argv[0], run_name="__main__")
finally:
    with open("/proc/self/status") as status:
        print(next(int(line.split()[1]) // 1024 for line in status if line.startswith("VmHWM")))
"""


def drawn() -> pyvips.Image:
    """Lines on white and a noisy photograph."""
    width, height = A1_PX
    pixels = np.full((height, width, 3), 255, np.uint8)
    pixels[::37], pixels[:, ::53] = 0, (200, 30, 30)
    noise = np.random.default_rng(1).integers(0, 255, (2000, 3000, 3), dtype=np.uint8)
    pixels[500:2500, 500:3500] = noise
    return pyvips.Image.new_from_array(pixels).copy(interpretation="srgb", xres=300 / 25.4)


def files(folder: Path) -> Iterator[Path]:
    """The set."""
    image = drawn()
    inks = image.icc_export(output_profile="cmyk", intent="relative")
    inks.jpegsave(str(folder / "print colours.jpg"), Q=92)
    yield folder / "print colours.jpg"
    sixteen = (image.cast("ushort") * 257).cast("ushort").copy(interpretation="rgb16")
    sixteen.pngsave(str(folder / "16 bits.png"), compression=1, bitdepth=16)
    yield folder / "16 bits.png"
    image.tiffsave(str(folder / "strips.tif"), compression="lzw")
    yield folder / "strips.tif"
    phone = image.crop(0, 0, 4032, 3024).copy()
    phone.set_type(pyvips.GValue.gint_type, "orientation", 6)
    phone.jpegsave(str(folder / "telephone.jpg"), Q=85)
    yield folder / "telephone.jpg"
    draw, pdf = np.random.default_rng(2), FPDF(unit="mm", format=(841, 594))
    for n in range(20):
        pdf.add_page()
        pdf.set_font("Helvetica", size=12)
        for x, y, across, down in draw.uniform(20, 560, (2000, 4)):
            pdf.line(x, y, across, down)
        pdf.text(700, 560, f"A-{n:02} Plan 1:50")
    pdf.output(str(folder / "20 pages of A1.pdf"))
    yield folder / "20 pages of A1.pdf"


def child(*command: str) -> tuple[str, float, float]:
    """What a process says, and what it took: of the processor and by the clock [s]."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE_"))}
    alone = {"MALLOC_ARENA_MAX": "1", "VIPS_CONCURRENCY": "1", "PYTHONPATH": str(ROOT)}
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-P", "-c", *command],
        env={**kept, **alone},
        capture_output=True,
        text=True,
    )
    now = resource.getrusage(resource.RUSAGE_CHILDREN)
    took = now.ru_utime + now.ru_stime - before.ru_utime - before.ru_stime
    return done.stdout or done.stderr[-300:], took, time.perf_counter() - start


def read(reader: str, *asked: str) -> tuple[dict, int, float, float]:
    """What one process of the site's makes, its peak memory [MB] and what it took [s]."""
    said, took, clock = child(PEAK, str(ROOT / "reviews" / reader), *asked)
    told, peak = said.strip().splitlines()
    return json.loads(told), int(peak), took, clock


def main(folder: Path) -> None:
    """Print the table."""
    made = [str(folder / name) for name in ("image", "preview", "small")]
    print(f"limits: {limits.MOST_SECONDS} s, {limits.MOST_MEMORY_MB} MB")
    print(
        f"{'':22}{'cpu s':>7}{'clock':>7}{'MB':>6}  {'tiles':>6}{'cpu s':>7}{'MB':>6}{'÷ bare':>8}"
    )
    for path in files(folder):
        pages = 1
        if path.suffix == ".pdf":
            told, *_ = read("plain_pdf.py", "pages", str(path))
            pages = len(told["labels"])
        most, cpu, clock = 0, 0.0, 0.0
        for n in range(1, pages + 1):
            which = ("page", str(path), str(n)) if pages > 1 else ("plain", str(path))
            reader = "plain_pdf.py" if pages > 1 else "plain_picture.py"
            told, peak, took, waited = read(reader, *which, *made)
            most, cpu, clock = max(most, peak), cpu + took, clock + waited
        _, peak, took, _ = read("plain_picture.py", "tiles", made[0], str(folder / "tiles"))
        _, bare, _ = child(BARE, made[0], str(folder / f"bare {path.stem}"))
        tiles = len(TilePack(told["width"], told["height"]))
        print(
            f"{path.name:22}{cpu:7.2f}{clock:7.1f}{most:6}  "
            f"{tiles:6}{took:7.2f}{peak:6}{took / bare:8.2f}",
            flush=True,
        )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        main(Path(folder))
