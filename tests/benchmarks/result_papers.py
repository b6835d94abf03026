"""How long 60 students' results take as PDFs, how large they are, and what they say of themselves.

    python -m tests.benchmarks.result_papers [--keep FOLDER] [--data FOLDER]

Draws the results of the demo's released crits, by turns until there are 60, as the job does. Prints
seconds of the processor, megabytes, pages, the most memory, and of how many a reader is told title,
language and tags. --keep leaves the PDFs in a folder, to be looked at page by page; --data reads a
demo's folder that is whole already. Not collected by pytest.
"""

from __future__ import annotations

import argparse
import os
import resource
import tempfile
import time
from itertools import cycle, islice
from pathlib import Path

from tests.served import manage, surroundings

STUDENTS = 60


def main() -> None:
    """Load the demo where it isn't yet, draw, time and weigh."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", type=Path)
    parser.add_argument("--data", type=Path)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as made:
        folder = asked.data or Path(made)
        if asked.data is None:
            done = manage("demo", "--no-serve", **surroundings(folder))
            assert done.returncode == 0, done.stderr
        os.environ |= surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings")
        _draw(asked.keep)


def _draw(keep: Path | None) -> None:
    import django

    django.setup()

    import pypdfium2

    from reviews.deeds.result_papers_making import paper_of
    from reviews.drawn.result_papers import draw_results
    from reviews.models import Crit

    due = [
        (crit, scheme)
        for crit in Crit.objects.released().select_related("studio__brief")
        for scheme in crit.studio.schemes.standing()
    ]
    begun, drawn = time.process_time(), []
    for crit, scheme in islice(cycle(due), STUDENTS):
        drawn.append((scheme.number, draw_results(paper_of(crit, scheme))))
    took = time.process_time() - begun
    pages = 0
    for n, (number, pdf) in enumerate(drawn):
        pages += len(pypdfium2.PdfDocument(pdf))
        if keep:
            keep.mkdir(parents=True, exist_ok=True)
            (keep / f"{n:02}-{number}.pdf").write_bytes(pdf)
    told = {
        what: sum(key in pdf for _, pdf in drawn)
        for what, key in (("title", b"/Title"), ("language", b"/Lang"), ("tags", b"/MarkInfo"))
    }
    weight = sum(len(pdf) for _, pdf in drawn) / 1e6
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{len(drawn)} PDFs of {len(due)} results: {took:.1f} s, {weight:.1f} MB, {pages} pages")
    print(f"most memory {most:.0f} MB; " + ", ".join(f"{what} in {n}" for what, n in told.items()))


if __name__ == "__main__":
    main()
