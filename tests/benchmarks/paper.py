"""How long paper sheets take to draw and how large they are: 14 schemes by 6 jurors, 8 sheets each.

    python -m tests.benchmarks.paper [FILE]

Prints seconds, megabytes and pages; FILE keeps what was drawn, to be looked at.
"""

from __future__ import annotations

import io
import random
import sys
from pathlib import Path
from time import perf_counter

from PIL import Image, ImageDraw

from reviews.drawn.paper_sheets import Hung, PaperSheet, draw_paper

SCHEMES, JURORS, SHEETS = 14, 6, 8
NAMES = (
    "Site and approach", "Plans", "Sections", "Bunk room", "Furniture", "Order of building",
    "Schedules", "Details",
)  # fmt: skip
CRITERIA = (
    "Idea and place", "Daylight and view", "Plan and movement", "Furniture and stowage",
    "Making and order of building", "Water, heat and air", "Drawing", "Argument",
)  # fmt: skip


def picture(lot: random.Random) -> bytes:
    """A line drawing as small as it stands on paper."""
    image = Image.new("RGB", (520, 368), "white")
    pen = ImageDraw.Draw(image)
    for _ in range(120):
        x, y = lot.randrange(520), lot.randrange(368)
        pen.line((x, y, x + lot.randrange(-90, 90), y), fill="black")
        pen.line((x, y, x, y + lot.randrange(-60, 60)), fill=(60, 60, 60))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=70)
    return out.getvalue()


def sheets() -> list[PaperSheet]:
    """All of a crit's."""
    lot = random.Random(7)
    levels = tuple((f"F{n}", name) for n, name in enumerate(CRITERIA, start=1))
    found = []
    hung = [
        tuple(Hung(f"{n:02}", name, picture(lot), 520, 368) for n, name in enumerate(NAMES))
        for _ in range(SCHEMES)
    ]
    for juror in range(JURORS):
        for scheme in range(SCHEMES):
            found.append(
                PaperSheet(
                    scheme=f"H{scheme + 1:02} Scheme {scheme + 1}",
                    juror=f"Juror {juror + 1}, visiting juror",
                    place="Room A, 10:47, Fri 4 Dec 2026",
                    crit="Final crit, Twelve Bunks",
                    revision="Revision B, issued Thu 3 Dec 2026, 17:20",
                    code=f"{juror + 1}-H{scheme + 1:02}",
                    link=f"https://muntin.example.org/crits/4/paper/{juror}/{scheme}/",
                    levels=levels,
                    sheets=hung[scheme],
                )
            )
    return found


def main() -> None:
    """Draw, time and weigh them."""
    ready = sheets()
    begin = perf_counter()
    drawn = draw_paper(ready, "Jury sheets")
    print(f"{perf_counter() - begin:.1f} s, {len(drawn) / 1e6:.1f} MB, {2 * len(ready)} pages")
    if len(sys.argv) > 1:
        Path(sys.argv[1]).write_bytes(drawn)


if __name__ == "__main__":
    main()
