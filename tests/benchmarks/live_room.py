"""What a hundred devices that ask for a room's clock cost, beside a bare page.

    python -m tests.benchmarks.live_room [--devices 100] [--seconds 30] [--processes 1 …]

A real server on a folder of its own. Devices ask every three seconds, jittered, each with what it
has, as js/room_clock.js does; every ten seconds somebody presses the clock. Prints how many were
answered 304, median and 99th percentile of both kinds, and the same of a page that reads nothing,
asked at the same pace before. Other words are those of `serve`. Not collected by pytest.
"""

import argparse
import http.client
import random
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from tests.served import ROOT, Site, served, surroundings

EVERY_S, JITTER_S, PRESS_S = 3.0, 0.6, 10.0

ROOM = """
import django; django.setup()
from tests import factories
crit = factories.CritFactory()
for n in range(14):
    scheme = factories.SchemeFactory(studio=crit.studio)
    factories.SlotFactory(crit=crit, scheme=scheme, room="AB"[n % 2])
print(crit.room_links.create(room="A").code)
"""

PRESS = """
import django; django.setup()
from reviews.deeds.crit_timekeeping import Deed, Press, press
from reviews.models import RoomLink
crit = RoomLink.objects.get().crit
slot = crit.slots.filter(room="A").first()
deeds = [Deed.STARTED, *(deed for _ in range(99) for deed in (Deed.PAUSED, Deed.WENT_ON))]
press(slot, Press(deeds[slot.clock.count()]), crit.studio.opened_by)
"""


def run(folder: Path, code: str) -> str:
    own = surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings")
    words = [sys.executable, "-c", code]
    return subprocess.run(
        words, cwd=ROOT, env=own, capture_output=True, text=True, check=True
    ).stdout


def ask(site: Site, path: str, devices: int, seconds: float) -> list[tuple[int, float]]:
    """Status and milliseconds of each answer that so many devices get."""
    found: list[tuple[int, float]] = []
    until = time.monotonic() + seconds

    def device(number: int) -> None:
        rest = random.Random(number)
        time.sleep(rest.random() * EVERY_S)
        etag, line = "", http.client.HTTPConnection("127.0.0.1", site.port, timeout=30)
        while time.monotonic() < until:
            headers = {"X-Forwarded-Proto": "https"} | ({"If-None-Match": etag} if etag else {})
            start = time.perf_counter()
            line.request("GET", path, headers=headers)
            answer = line.getresponse()
            answer.read()
            found.append((answer.status, (time.perf_counter() - start) * 1000))
            etag = answer.headers.get("ETag") or etag
            time.sleep(EVERY_S + rest.uniform(-JITTER_S, JITTER_S))

    threads = [threading.Thread(target=device, args=(n,)) for n in range(devices)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def tell(name: str, times: list[float]) -> None:
    if len(times) < 2:
        print(f"{name:<22}{len(times):>7}")
        return
    p99 = statistics.quantiles(times, n=100)[-1]
    print(f"{name:<22}{len(times):>7}{statistics.median(times):>9.1f}{p99:>9.1f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--devices", type=int, default=100)
    parser.add_argument("--seconds", type=float, default=30)
    asked, command = parser.parse_known_args()
    with tempfile.TemporaryDirectory() as name, served(Path(name), command) as site:
        live = f"/rooms/{run(Path(name), ROOM).strip()}/live/"
        bare = ask(site, "/healthz", asked.devices, asked.seconds)
        over = threading.Event()

        def press() -> None:
            while not over.wait(PRESS_S):
                run(Path(name), PRESS)

        presser = threading.Thread(target=press)
        presser.start()
        polled = ask(site, live, asked.devices, asked.seconds)
        over.set()
        presser.join()
    print(f"{'':<22}{'asked':>7}{'p50 ms':>9}{'p99 ms':>9}")
    tell("bare page", [ms for _, ms in bare])
    tell("nothing new (304)", [ms for status, ms in polled if status == 304])
    tell("the part anew (200)", [ms for status, ms in polled if status == 200])
    share = sum(status == 304 for status, _ in polled) / len(polled)
    odd = sorted({status for status, _ in polled} - {200, 304})
    print(f"answered 304: {share:.1%}; other answers: {odd or 'none'}")


if __name__ == "__main__":
    main()
