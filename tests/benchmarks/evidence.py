"""What evidence books and studio archives take: time, size, memory; each studio out, in, and out.

    python -m tests.benchmarks.evidence FOLDER [--schemes 28]

FOLDER holds a whole demo (`manage.py demo` makes it); a copy of it is worked on. Of the studio with
the most released crits a book is made, with names and without, of so many schemes: its own are
repeated until there are as many. Prints seconds, megabytes and the peak memory of this process.
Then each studio goes out, comes in beside itself as a copy, and goes out again: prints in what both
archives differ, the keys of devices apart. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import csv
import io
import json
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any
from zipfile import ZipFile


def memory_mb() -> int:
    """The peak of this process [MB]."""
    with open("/proc/self/status") as status:
        return next(int(line.split()[1]) // 1024 for line in status if line.startswith("VmHWM"))


def timed(what: str, deed: Callable[[], Any]) -> Any:
    """Do it and print what it took."""
    start = time.perf_counter()
    found = deed()
    print(f"{what:44} {time.perf_counter() - start:7.1f} s  peak {memory_mb():5} MB", flush=True)
    return found


def books(schemes: int) -> None:
    """Make both books of the studio that has most to show."""
    from copy import deepcopy

    from reviews.deeds.evidence_files import write_book
    from reviews.models import EvidenceBook, Studio
    from reviews.reading.evidence_contents import gathered

    kept = EvidenceBook.objects.count()
    studio = max(Studio.objects.all(), key=lambda each: each.crits.released().count())
    own = list(studio.schemes.prefetch_related("members").order_by("number"))
    for is_anonymous in (False, True):
        said = "names nobody" if is_anonymous else "with names"
        told = timed(
            f"gather {len(own)} schemes, {said}",
            lambda: gathered(studio, own, is_anonymous=is_anonymous),  # noqa: B023
        )
        made = told["schemes"]
        while len(made) < schemes:
            made += [
                deepcopy(each) | {"number": f"{each['number']}{len(made)}"}
                for each in made[: schemes - len(made)]
            ]
        # copies have the pictures of their own: schedules are found by the number
        told |= {"format": 1, "title": "Book", "is_anonymous": is_anonymous, "choice": "all"}
        told |= {"drawn_from": {}, "frozen": "now", "by": "", "teaching": "", "formers": []}
        zipped, drawn = io.BytesIO(), io.BytesIO()
        timed(
            f"write {len(made)} schemes, {said}",
            lambda: write_book(told, studio, zipped, drawn, lambda n: None),  # noqa: B023
        )
        sheets = sum(len(r["sheets"]) for scheme in made for r in scheme["revisions"])
        size = f"ZIP {zipped.tell() / 1e6:.1f} MB, PDF {drawn.tell() / 1e6:.1f} MB"
        print(f"  {sheets} sheets: {size}; contents {len(json.dumps(told)) / 1e6:.1f} MB")
    assert EvidenceBook.objects.count() == kept


def there_and_back() -> bool:
    """Each studio out, in as a copy, and out again."""
    from reviews.deeds.studio_archive_bringing import bring_studio
    from reviews.deeds.studio_archive_reading import StudioArchive
    from reviews.deeds.studio_archive_writing import write_studio
    from reviews.models import Person, Studio

    by, is_same = Person.objects.filter(is_coordinator=True)[0], True
    for studio in list(Studio.objects.all()):
        first, second = io.BytesIO(), io.BytesIO()
        timed(f"{studio.title}, out", lambda: _out(write_studio, studio, first, by))  # noqa: B023
        told = timed(
            f"{studio.title}, in",
            lambda: bring_studio(StudioArchive(first), by, is_copy=True),  # noqa: B023
        )
        _out(write_studio, told.brought, second, by)
        apart = sorted(name for name in _held(first) ^ _held(second))
        print(f"  {first.tell() / 1e6:.1f} MB, {sum(told.rows.values())} rows; apart: {apart}")
        is_same &= not apart
    return is_same


def _out(write: Any, studio: Any, out: io.BytesIO, by: Any) -> None:
    write(studio, out, by, with_addresses=True)


def _held(raw: io.BytesIO) -> set[tuple[str, str]]:
    """Every member with its contents; of rows, less the keys that a copy has of its own."""
    found = set()
    with ZipFile(raw) as archive:
        for name in archive.namelist():
            if name.startswith("tables/"):
                rows = list(csv.DictReader(io.StringIO(archive.read(name).decode(), newline="")))
                for row in rows:
                    for head in ("key", "is_invited", "called"):
                        row.pop(head, None)
                found.add((name, json.dumps(rows)))
            elif name.startswith("files/"):
                found.add((name, ""))
    return found


def main() -> int:
    """Work on a copy of a demo."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folder", type=Path)
    options.add_argument("--schemes", type=int, default=28)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as own:
        shutil.copytree(asked.folder, own, dirs_exist_ok=True)
        os.environ |= {
            "MUNTIN_DATA_DIR": own,
            "MUNTIN_SECRET_KEY": "for a measurement alone, as long as one of life: 0123456789",
            "DJANGO_SETTINGS_MODULE": "tests.settings",
        }
        import django

        django.setup()
        books(asked.schemes)
        return 0 if there_and_back() else 1


if __name__ == "__main__":
    sys.exit(main())
