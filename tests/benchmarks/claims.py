"""How many ordinary claims are judged as an honest reader would.

    python -m tests.benchmarks.claims

Sixty claims in the words and units of students, of `tests/criteria/check_sheet/claims.csv`, with
the verdict of a reader who looks the figure up. To ask which check is meant is never wrong, but
is counted. Exits 1 where a verdict is wrong. Not collected by pytest.
"""

import csv
import sys
from collections import Counter
from pathlib import Path

from criteria.check_sheet.claims import ClaimFinding, ClaimResult, hold
from criteria.command.folder import read_folder
from criteria.schedules.claims import Claim

ROOT = Path(__file__).parents[2]
CLAIMS = ROOT / "tests" / "criteria" / "check_sheet" / "claims.csv"


def verdict_of(found: ClaimFinding) -> str:
    if found.result is ClaimResult.NOT_COMPARED:
        return "cannot" if found.check else "which"
    return "differs" if found.differs else "agrees"


def main() -> int:
    counts: Counter[str] = Counter()
    with CLAIMS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        scheme, rev = row["package"].split()
        package = read_folder(ROOT / "reviews/demo/data", scheme=scheme, rev=rev).package
        found = hold(package, Claim(about=row["about"], wording=row["text"]))
        verdict = verdict_of(found)
        is_right = (verdict, found.check) == (row["verdict"], row["held_as"])
        is_asked = verdict == "which"
        counts["right" if is_right else "which check?" if is_asked else "wrong"] += 1
        if not is_right:
            said = f"{row['package']} {row['system']}: {row['about']}, “{row['text']}”"
            wanted = f"{row['verdict']} as {row['held_as'] or 'nothing'}"
            print(f"{said}: {verdict} as {found.check or 'nothing'}, not {wanted}")
    print(", ".join(f"{n} {word}" for word, n in counts.items()), f"of {len(rows)}")
    return int(counts["wrong"] > 0)


if __name__ == "__main__":
    sys.exit(main())
