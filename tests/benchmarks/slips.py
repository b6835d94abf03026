"""How many slips of unit and typing are asked about, and how many honest figures are.

    python -m tests.benchmarks.slips            # the rates, exit 1 where they are not held
    python -m tests.benchmarks.slips --all      # with what passed unseen and what was asked falsely

Every kind of slip of `tests/criteria/odd/data/slips.csv` and every honest variation of
`honest.csv`, in each package of the demo that takes it. Not collected by pytest.
"""

import sys

from tests.criteria.odd.planted import PACKAGES, asked_of, outcomes, passes

LEAST_SEEN = 0.85
MOST_FALSE = 0.05


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
    for package in PACKAGES:
        print(f"{package}: {len(asked_of(package))} places asked about as it stands")
    if "--all" in options:
        for slip in unseen:
            print("unseen", slip.package, slip.change.name, sep=" · ")
        for change in false:
            print("false", change.package, change.change.name, sorted(change.asked), sep=" · ")
    return int(share < LEAST_SEEN or wrong > MOST_FALSE)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
