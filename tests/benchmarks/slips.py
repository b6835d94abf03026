"""How many slips of unit and typing are asked about, and how many honest figures are.

    python -m tests.benchmarks.slips            # the rates, exit 1 where they are not held
    python -m tests.benchmarks.slips --all      # with what passed unseen and what was asked falsely

Every kind of slip of `tests/criteria/odd/data/slips.csv` and every honest variation of
`honest.csv`, in each package of the demo that takes it, and in one of a building that folds; then
in how many honest variations each rule asks. Not collected by pytest.
"""

import sys

from criteria.odd.values import RULES, name_of
from tests.criteria.odd.planted import (
    FOLDING,
    PACKAGES,
    Outcome,
    asked_of,
    outcomes,
    passes,
)

LEAST_SEEN = 0.85
MOST_FALSE = 0.05


def counts(changes: list[Outcome]) -> dict[str, int]:
    """In how many changes each rule asks what it doesn't ask of the package itself."""
    asked = [rule for change in changes for rule in change.rules]
    return {name: asked.count(name) for name in map(name_of, RULES)}


def main(*options: str) -> int:
    slips, honest = list(outcomes("slips")), list(outcomes("honest"))
    seen = [slip for slip in slips if slip.is_seen]
    refused = sum(slip.refused for slip in seen)
    unseen = [slip for slip in slips if not slip.is_seen]
    turned = [slip for slip in unseen if passes(slip.package, slip.change)]
    false = [change for change in honest if change.is_new]
    kinds = len({slip.change.name for slip in slips})
    share, wrong = len(seen) / len(slips), len(false) / len(honest)
    print(f"{kinds} kinds, {len(slips)} slips: {len(seen)} seen ({share:.1%}), ", end="")
    print(f"{refused} of them refused by their column; {len(unseen)} unseen, ", end="")
    print(f"{len(turned)} of which turn a miss into a pass")
    print(f"{len(honest)} honest variations: {len(false)} asked about ({wrong:.1%})")
    for package in (*PACKAGES, FOLDING):
        print(f"{package}: {len(asked_of(package))} places asked about as it stands")
    sees, asks = counts(slips), counts(honest)
    for rule, count in asks.items():
        print(f"{rule}: sees {sees[rule]} slips, asks {count / len(honest):.1%} of what is honest")
    if "--all" in options:
        for slip in unseen:
            print("unseen", slip.package, slip.change.name, sep=" · ")
        for change in false:
            print("false", change.package, change.change.name, sorted(change.asked), sep=" · ")
    loudest = max(asks.values()) / len(honest)
    return int(share < LEAST_SEEN or max(wrong, loudest) > MOST_FALSE)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
