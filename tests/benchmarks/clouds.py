"""How many made-up changes between two scans of a sheet are found, and how many are false.

    python -m tests.benchmarks.clouds [HOW MANY]

Thirty pairs first, as `tests/sheet_pairs.py` makes them: a moved window, a new wall, a removed
dimension, changed lettering (a name or a figure), each scanned moved by up to 4 mm, turned by up to
0.5°, up to 0.5 % larger or smaller, with noise, a grey cast and a quality of its own. Then as many
more as are asked for, 200 unless told, a fifth of them scans of an unchanged sheet. Bounds in
`picture_changes.py` were tuned on seeds 0 to 39 and 100 to 339; these begin at 2,000 and 5,000.
Last the largest picture: time and memory of the process that compares it with itself. Not
collected by pytest.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from PIL import Image

from reviews.picture_changes import find_changes
from tests.sheet_pairs import KINDS, UNCHANGED, made_pair, made_up, sheet, told_apart


def judge(seeds: range, kinds: tuple[str, ...], folder: Path) -> None:
    """Print what is found of pairs."""
    asked, found, false, took = Counter(), Counter(), [], []
    paths = folder / "former", folder / "present"
    for seed in seeds:
        pair = made_pair(seed, kinds[seed % len(kinds)])
        for path, picture in zip(paths, (pair.former, pair.present), strict=True):
            path.write_bytes(picture)
        start = time.process_time()
        told = find_changes(*map(str, paths))
        took.append(time.process_time() - start)
        is_found, others = told_apart(told["clouds"], pair.where)
        is_laid = bool(told["lies"]) and not told["is_anew"]
        right = is_laid and (others == 0 if pair.kind == UNCHANGED else is_found)
        asked[pair.kind] += 1
        found[pair.kind] += right
        false.append(others)
    for kind, many in asked.items():
        word = "no false alarm" if kind == UNCHANGED else "found"
        print(f"  {kind:18} {word} {found[kind]} of {many}")
    print(f"  false clouds {sum(false)} in {len(false)} pairs, at most {max(false)} in one")
    print(f"  {sorted(took)[len(took) // 2]:.1f} s of processor time a pair (median)")


def largest(folder: Path) -> None:
    """Print what comparing the largest picture takes."""
    picture = sheet(made_up(Random(1))).resize((10_800, 7_200), Image.Resampling.BICUBIC)
    path = folder / "large"
    picture.save(path, "JPEG", quality=85)
    alone = {"PYTHONPATH": os.getcwd(), "OPENBLAS_NUM_THREADS": "1", "MALLOC_ARENA_MAX": "1"}
    program = str(Path("reviews", "picture_changes.py"))
    command = [sys.executable, "-P", program, str(path), str(path)]
    done = subprocess.run(command, env=os.environ | alone, capture_output=True, check=True)
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(f"  10,800 × 7,200 px: {used.ru_utime + used.ru_stime:.1f} s of processor time, ", end="")
    print(f"{used.ru_maxrss // 1024} MB, {len(json.loads(done.stdout)['clouds'])} clouds")


if __name__ == "__main__":
    many = int(sys.argv[1]) if sys.argv[1:] else 200
    with tempfile.TemporaryDirectory() as where:
        largest(Path(where))
        print("30 pairs, each changed:")
        judge(range(2000, 2030), KINDS, Path(where))
        print(f"{many} more, a fifth unchanged:")
        judge(range(5000, 5000 + many), (*KINDS, UNCHANGED), Path(where))
