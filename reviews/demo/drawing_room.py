"""Draw in processes of their own, so that a two-core machine loads and draws at once.

Nothing here touches the database or Django: a drawer starts without either.
"""

from __future__ import annotations

from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any

from criteria.package import read_package
from reviews.demo.drawings.page import TitleBlock
from reviews.demo.drawings.sheets import draw_sheets
from reviews.plain_picture import write_plain

Picture = tuple[str, str, str, dict[str, Any]]
"""Number, title, scale and plain picture of a sheet."""


@dataclass(frozen=True)
class DrawingJob:
    """What a drawer is told of one revision; `only` names the sheets wanted, none is all."""

    block: TitleBlock
    records: dict[str, list[dict[str, str]]]
    site: dict[str, str]
    only: tuple[str, ...]


def draw(job: DrawingJob, folder: str) -> list[Picture]:
    """Draw a revision's sheets into a folder: number, title, scale and picture of each."""
    package = read_package({**job.records, "site": [job.site]}).package
    pictures = []
    for sheet in draw_sheets(job.block, package, job.records, job.only):
        stem = f"{folder}/{job.block.number}-{job.block.letter}-{sheet.number}"
        paths = (f"{stem}.jpg", f"{stem}-preview.jpg", f"{stem}-small.webp")
        plain = write_plain(sheet.image, *paths)
        pictures.append((sheet.number, sheet.title, sheet.scale, plain))
    return pictures


def drawers() -> Executor:
    """Return as many drawers as the machine has cores."""
    return ProcessPoolExecutor(mp_context=get_context("spawn"))
