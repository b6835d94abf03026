"""Draw in processes of their own, so that a two-core machine loads and draws at once.

Nothing here touches the database or Django: a drawer starts without either.
"""

from __future__ import annotations

from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any

import pyvips

from criteria.package import read_package
from criteria.targets.reading import read_targets
from reviews.demo.raster import as_picture
from reviews.demo.sheets import Told, draw_sheets
from reviews.demo.tables import read_csv
from reviews.plain_picture import write_plain

Picture = tuple[str, str, str, dict[str, Any]]
"""Number, title, scale and plain picture of a sheet."""


@dataclass(frozen=True)
class DrawingJob:
    """What a drawer is told of one revision; `only` names the sheets wanted, none is all."""

    told: Told
    records: dict[str, list[dict[str, str]]]
    site: dict[str, str]
    only: tuple[str, ...]


def draw(job: DrawingJob, folder: str) -> list[Picture]:
    """Draw a revision's sheets into a folder: number, title, scale and picture of each."""
    package = read_package({**job.records, "site": [job.site]}).package
    told, lines = job.told, read_csv("targets")
    targets = read_targets([row for row in lines if row["cohort"] == told.number[0]]).targets
    pictures = []
    for number, title, scale, sheet in draw_sheets(told, package, job.records, targets, job.only):
        stem = f"{folder}/{told.number}-{told.letter}-{number}"
        paths = (f"{stem}.jpg", f"{stem}-preview.jpg", f"{stem}-small.webp")
        picture = pyvips.Image.new_from_array(as_picture(sheet))
        pictures.append((number, title, scale, write_plain(picture, *paths)))
    return pictures


def drawers() -> Executor:
    """Return as many drawers as the machine has cores."""
    return ProcessPoolExecutor(mp_context=get_context("spawn"))
