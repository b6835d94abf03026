"""The process that reads pictures: what it takes, and what stops it."""

import os
import subprocess
import sys

import pytest
from PIL import Image

from reviews import plain_picture
from reviews.picture_limits import MOST_MEMORY_MB
from tests.reviews.test_plain_picture import encoded, near, noise
from tests.served import ROOT

pytestmark = pytest.mark.apart


def child(*asked: str, code: str = "", **more) -> subprocess.CompletedProcess:
    """Start the process as the site does."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE_"))}
    alone = {"MALLOC_ARENA_MAX": "1", "VIPS_CONCURRENCY": "1", "PYTHONPATH": str(ROOT)}
    program = ["-c", code, plain_picture.__file__] if code else [plain_picture.__file__]
    command = [sys.executable, "-P", *program, *asked]
    return subprocess.run(command, env={**kept, **alone, **more}, capture_output=True, check=True)


def test_an_earlier_preview_is_given_its_small_one(tmp_path):
    (tmp_path / "preview").write_bytes(encoded(Image.new("RGB", (1600, 500), "red"), "JPEG"))
    paths = [str(tmp_path / name) for name in ("preview", "small")]
    assert b"small" in child("small", *paths).stdout
    with Image.open(paths[1]) as image:
        assert (image.format, image.size) == ("WEBP", (800, 250))
        assert near(image.convert("RGB").getpixel((9, 9)), (255, 0, 0))


MEASURED = """
import runpy, sys
sys.argv = sys.argv[1:]
runpy.run_path(sys.argv[0], run_name="__main__")
with open("/proc/self/status") as status:
    print(next(int(line.split()[1]) // 1024 for line in status if line.startswith("VmHWM")))
"""
"""The process as it is started, and then the most memory that it ever held [MB]."""

needs_linux = pytest.mark.skipif(
    not os.path.exists("/proc/self/status"), reason="measured by what Linux says of a process"
)


def measured(folder, data: bytes, code: str = MEASURED) -> tuple[str, int]:
    """What the process said, and its peak memory [MB]."""
    (folder / "sent").write_bytes(data)
    paths = [str(folder / name) for name in ("sent", "image", "preview", "small")]
    told, peak = child("plain", *paths, code=code).stdout.decode().splitlines()
    return told, int(peak)


def palette_bomb() -> bytes:
    """A palette with a clear colour, 139 million px in a few KB: A0 at 300 px an inch."""
    image = Image.new("P", (14_043, 9_933))
    image.putpalette([0, 0, 0, 255, 255, 255])
    return encoded(image, optimize=True, transparency=bytes([0, 128]))


@needs_linux
def test_the_largest_picture_that_packs_small_stays_within_its_memory(tmp_path):
    data = palette_bomb()
    assert len(data) < 32_768
    told, peak = measured(tmp_path, data)
    assert '"width": 14043' in told
    assert peak < MOST_MEMORY_MB / 4


@needs_linux
@pytest.mark.parametrize(
    ("data", "said", "most_mb"),
    [
        (lambda: encoded(noise(4000, 3000), compress_level=1), '"width": 4000', 150),
        (lambda: encoded(noise(4000, 3000))[:20_000_000], "breaks off or is damaged", 150),
        (lambda: encoded(Image.new("RGB", (60_000, 1))), "20,000 px a side", 60),
        (lambda: encoded(Image.new("CMYK", (5000, 4000)), "JPEG"), '"width": 5000', 250),
        (lambda: encoded(Image.new("I;16", (5000, 4000))), '"width": 5000', 250),
    ],
    ids=["noise", "cut off", "one pixel high", "print colours", "sixteen bits of grey"],
)
def test_a_picture_takes_the_memory_that_its_pixels_do(tmp_path, data, said, most_mb):
    told, peak = measured(tmp_path, data())
    assert said in told
    assert peak < most_mb


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no such signals")
def test_what_stops_the_server_does_not_stop_a_picture_half_way(tmp_path):
    stopped = """
import os, signal, sys
from reviews import plain_picture
def bound(real=plain_picture.bound):
    real()
    for number in (signal.SIGINT, signal.SIGTERM):
        os.kill(os.getpid(), number)
plain_picture.bound = bound
sys.argv = sys.argv[1:]
plain_picture.main()
print(0)
"""
    told, _ = measured(tmp_path, encoded(Image.new("RGB", (9, 9))), stopped)
    assert '"width": 9' in told


@needs_linux
@pytest.mark.parametrize(
    ("kind", "more"), [("WEBP", {"quality": 0}), ("JPEG", {"progressive": True, "subsampling": 0})]
)
def test_a_process_that_asks_for_more_than_its_memory_says_so(tmp_path, kind, more):
    first = "from reviews import picture_limits as limits\nlimits.MOST_MEMORY_MB = 120\n"
    little = first + MEASURED
    told, peak = measured(tmp_path, encoded(Image.new("RGB", (6000, 5000)), kind, **more), little)
    assert "a picture that takes over 120 MB to read" in told
    assert peak < 120
