"""How long pages take while a hundred uploads trickle in and two hundred heads never end.

    python -m tests.benchmarks.slow_clients [--processes 1 …] [--uploads 100] [--heads 200]

A real server on a folder of its own with a few made-up rows. Four readers ask for pages in turn,
each half a second after its last answer, while it is quiet and beside the slow clients by turns, so
that whatever else the machine does falls on both. Prints median, 95th percentile and maximum, and
the ratio of the 95th percentiles. Other words are those of `serve`, such as `--processes 3`; or,
after `-m`, those of another server, with {port} for its port. Not collected by pytest.
"""

import argparse
import statistics
import tempfile
import threading
import time
from pathlib import Path

from tests.served import Site, served, slow_clients

READERS, PAUSE_S, ROUND_S = 4, 0.5, 8


def times_ms(site: Site, seconds: float) -> list[float]:
    """How long pages took to four readers [ms]."""
    found: list[float] = []
    until = time.monotonic() + seconds

    def read(number: int) -> None:
        turn = number
        while time.monotonic() < until:
            start = time.perf_counter()
            status, _, _ = site.get(site.pages[turn % len(site.pages)])
            assert status == 200
            found.append((time.perf_counter() - start) * 1000)
            turn += 1
            time.sleep(PAUSE_S)

    readers = [threading.Thread(target=read, args=(number,)) for number in range(READERS)]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join()
    return found


def line(name: str, times: list[float]) -> float:
    p95 = statistics.quantiles(times, n=20)[-1]
    median = statistics.median(times)
    print(f"{name:<14}{len(times):>7}{median:>9.0f}{p95:>9.0f}{max(times):>9.0f}")
    return p95


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--uploads", type=int, default=100)
    parser.add_argument("--heads", type=int, default=200)
    parser.add_argument("--rounds", type=int, default=6)
    asked, command = parser.parse_known_args()
    quiet: list[float] = []
    slow: list[float] = []
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), command) as site:
        for _ in range(asked.rounds):
            quiet += times_ms(site, ROUND_S)
            with slow_clients(site, asked.uploads, asked.heads):
                slow += times_ms(site, ROUND_S)
    print(f"{'pages [ms]':<14}{'asked':>7}{'median':>9}{'p95':>9}{'most':>9}")
    ratio = 1 / line("quiet", quiet) * line("slow clients", slow)
    print(f"p95 beside slow clients ÷ quiet: {ratio:.2f}")


if __name__ == "__main__":
    main()
