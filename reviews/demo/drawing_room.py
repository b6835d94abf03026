"""Draw in processes of their own, so that a two-core machine loads and draws at once.

Nothing here touches the database or Django: a drawer starts without either.
"""

from __future__ import annotations

import io
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context

from criteria.package import read_package
from reviews.demo.drawings.page import TitleBlock
from reviews.demo.drawings.sheets import draw_sheets

Picture = tuple[str, str, str, bytes]
"""Number, title, scale and PNG of a sheet."""


@dataclass(frozen=True)
class DrawingJob:
    """What a drawer is told of one revision; `only` names the sheets wanted, none is all."""

    block: TitleBlock
    records: dict[str, list[dict[str, str]]]
    site: dict[str, str]
    only: tuple[str, ...]


def draw(job: DrawingJob) -> list[Picture]:
    """Draw a revision's sheets: number, title, scale and picture of each."""
    package = read_package({**job.records, "site": [job.site]}).package
    drawn = draw_sheets(job.block, package, job.records, job.only)
    pictures = []
    for sheet in drawn:
        picture = io.BytesIO()
        sheet.image.save(picture, "PNG", compress_level=1)
        pictures.append((sheet.number, sheet.title, sheet.scale, picture.getvalue()))
    return pictures


def drawers() -> Executor:
    """Return as many drawers as the machine has cores."""
    return ProcessPoolExecutor(mp_context=get_context("spawn"))
