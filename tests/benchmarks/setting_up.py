"""How long the search for the least time of a set-up takes, and how near to proved it comes.

    python -m tests.benchmarks.setting_up            # 20 networks of each kind
    python -m tests.benchmarks.setting_up 160        # as many as are asked for

Random networks, which are harder than a real set-up: that is nearly a chain. Prints of each kind
the processor's median and worst time, how many least times were proved, and by how much what was
found is over what no plan beats. Not collected by pytest.
"""

import random
import statistics
import sys
import time
from collections.abc import Sequence

from criteria.setting_up.crew import CannotBeDone, set_up
from criteria.setting_up.network import Network, Step

KINDS = (
    (12, 4, 2),
    (25, 4, 2),
    (25, 12, 2),
    (40, 4, 2),
    (40, 12, 2),
    (100, 12, 2),
    (200, 12, 2),
    (200, 12, 1),
)
"""Steps, people of the crew, and most forerunners of a step."""
TOOLS = (("winch", 0.2), ("ladder", 0.2))
ALLOWED_S = 1.0


def drawn(seed: int, count: int, most_before: int, *, with_tools: bool = False) -> Network:
    """Return a network of random steps for at most four people each."""
    rng = random.Random(seed)
    steps = []
    for n in range(count):
        before = rng.sample(range(n), min(n, rng.randint(0, most_before)))
        tools = {tool: 1 for tool, share in TOOLS if with_tools and rng.random() < share}
        after = tuple(f"s{k:03}" for k in before)
        steps.append(Step(f"s{n:03}", rng.randint(1, 30), rng.randint(1, 4), after, tools))
    return Network(steps)


def measured(networks: Sequence[Network], people: int) -> str:
    """Search each, and return what it took and what it came to in words."""
    times, over, proved = [], [], 0
    for network in networks:
        start = time.process_time()
        found = set_up(network, people)
        times.append(time.process_time() - start)
        assert not isinstance(found, CannotBeDone)
        proved += found.is_proved
        over.append(found.minutes / found.at_least - 1)
    took = f"median {statistics.median(times):.3f} s, worst {max(times):.3f} s"
    return f"{took}; {proved} of {len(networks)} proved, {statistics.mean(over):.2%} over the bound"


def main(count: int = 20) -> int:
    worst = 0.0
    for steps, people, before in KINDS:
        for with_tools in (False, True):
            networks = [drawn(seed, steps, before, with_tools=with_tools) for seed in range(count)]
            start = time.process_time()
            said = measured(networks, people)
            worst = max(worst, (time.process_time() - start) / count)
            tools = ", two tools" if with_tools else ""
            print(f"{steps} steps, {people} people{tools}, {before} before: {said}", flush=True)
    return int(worst > ALLOWED_S)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
