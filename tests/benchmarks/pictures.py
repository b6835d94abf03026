"""How long hanging a sheet stops everybody else, and what memory it takes.

    python -m tests.benchmarks.pictures

Thirteen A1 sheets at 150 px an inch are kept one after another, each by a thread of its own as a
server does, while another thread asks for a page. Prints the longest and the median answer beside
the same with nothing else going on, and the peak memory of this process and of its children.
Not collected by pytest.
"""

import os
import statistics
import tempfile
import threading
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from tests.reviews.test_picture_limits import measured

SHEETS = 13
A1_AT_150 = (4967, 3508)


def drawn(number: int, folder: str) -> str:
    """The path of a drawing: lines on white and a noisy photograph; no two alike."""
    from PIL import Image

    draw = np.random.default_rng(number)
    width, height = A1_AT_150
    pixels = np.full((height, width, 3), 255, np.uint8)
    pixels[::37], pixels[:, ::53] = 0, (200, 30, 30)
    pixels[500:1500, 500:2500] = draw.integers(0, 255, (1000, 2000, 3))
    path = f"{folder}/{number:02}.png"
    Image.fromarray(pixels).save(path, "PNG", compress_level=1)
    return path


def memory_mb(which: str) -> int:
    """VmRSS or VmHWM of this process [MB]."""
    with open("/proc/self/status") as status:
        return next(int(line.split()[1]) // 1024 for line in status if line.startswith(which))


def asked(until: threading.Event) -> list[float]:
    """Ask for a page again and again; return how long each answer took [ms]."""
    from django.test import Client

    client, took = Client(), []
    while not until.is_set():
        start = time.perf_counter()
        assert client.get("/sign-in/").status_code == 200
        took.append(1000 * (time.perf_counter() - start))
        time.sleep(0.005)
    return took


def beside(work: list[threading.Thread]) -> list[float]:
    """What a page took while threads work one after another [ms]."""
    done, took = threading.Event(), []
    asking = threading.Thread(target=lambda: took.extend(asked(done)))
    asking.start()
    for thread in work:
        thread.start()
        thread.join()
    done.set()
    asking.join()
    return took


def keep(path: str) -> None:
    """Keep the picture of a path."""
    from reviews.deeds.sheet_uploads import at_hand, keep_picture

    with open(path, "rb") as file, at_hand(file, path) as sent:
        keep_picture(sent)


def main(folder: str) -> None:
    """Print the table."""

    beside([threading.Thread(target=time.sleep, args=(1,))])
    quiet = beside([threading.Thread(target=time.sleep, args=(5,))])
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as drawers:
        sheets = list(drawers.map(drawn, range(SHEETS), [folder] * SHEETS))
    before = memory_mb("VmRSS")
    start = time.perf_counter()
    busy = beside([threading.Thread(target=keep, args=(path,)) for path in sheets])
    each = (time.perf_counter() - start) / SHEETS
    print(f"{'a page':12}{'median':>10}{'longest':>10}")
    for name, took in (("quiet", quiet), ("hanging", busy)):
        print(f"{name:12}{statistics.median(took):>7.1f} ms{max(took):>7.0f} ms")
    print(f"one sheet {each:.2f} s")
    after, most = memory_mb("VmRSS"), memory_mb("VmHWM")
    print(f"this process {before} MB before, {after} MB after, {most} MB at most")
    with open(sheets[0], "rb") as file:
        _, peak = measured(Path(folder), file.read())
    print(f"the process that reads one {peak} MB at most")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {
            "MUNTIN_DATA_DIR": folder,
            "MUNTIN_SECRET_KEY": "for this run alone, as long as one of life: 0123456789",
            "DJANGO_SETTINGS_MODULE": "reviews.settings",
            "MUNTIN_DEBUG": "yes",
            "DATABASE_URL": "",
        }
        import django
        from django.core.management import call_command

        django.setup()
        from django.conf import settings

        settings.ALLOWED_HOSTS.append("testserver")
        call_command("migrate", verbosity=0)
        main(folder)
