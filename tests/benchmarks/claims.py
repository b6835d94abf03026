"""How many ordinary claims are judged as an honest reader would.

    python -m tests.benchmarks.claims

Claims in the words and units of students, of `tests/criteria/check_sheet/claims.csv`, with the
verdict of a reader who looks the figure up: sixty written before the words were read, 44 that the
reading had not seen, and 14 that a year by the hour settles. To ask which check is meant is never
wrong, but is counted. Exits 1 where a verdict is wrong. Not collected by pytest.
"""

import csv
import sys
from collections import Counter
from functools import cache
from pathlib import Path

from criteria.check_sheet.claims import ClaimFinding, ClaimResult, hold
from criteria.command.folder import read_folder
from criteria.package import Package
from criteria.schedules.claims import Claim
from criteria.schedules.site import Site

ROOT = Path(__file__).parents[2]
CLAIMS = ROOT / "tests" / "criteria" / "check_sheet" / "claims.csv"


@cache
def package_of(scheme: str, rev: str, units: str) -> Package:
    package = read_folder(ROOT / "reviews/demo/data", scheme=scheme, rev=rev).package
    site = Site.schedule.record(package.site) | {"units": units}
    return package.but(site=Site.schedule.parse(site))


def verdict_of(found: ClaimFinding) -> str:
    return {
        ClaimResult.AGREES: "agrees",
        ClaimResult.DIFFERS: "differs",
        ClaimResult.NOT_COMPARED: "cannot",
        ClaimResult.WHICH_CHECK: "which",
    }[found.result]


def main() -> int:
    counts: Counter[str] = Counter()
    with CLAIMS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        units = "US" if row["system"] == "us" else "metric"
        package = package_of(*row["package"].split(), units)
        claim = Claim(about=row["about"], wording=row["text"], subject=row["subject"] or None)
        found = hold(package, claim)
        verdict = verdict_of(found)
        held = (verdict, found.check, found.subject if row["of"] else "")
        is_right = held == (row["verdict"], row["held_as"], row["of"])
        is_asked = verdict == "which"
        counts["right" if is_right else "which check?" if is_asked else "wrong"] += 1
        if not is_right:
            said = f"{row['package']} {row['system']}: {row['about']}, “{row['text']}”"
            wanted = f"{row['verdict']} as {row['held_as'] or 'nothing'}"
            print(f"{said}: {verdict} as {found.check or 'nothing'} {found.subject}, not {wanted}")
    print(", ".join(f"{n} {word}" for word, n in counts.items()), f"of {len(rows)}")
    return int(counts["wrong"] > 0)


if __name__ == "__main__":
    sys.exit(main())
