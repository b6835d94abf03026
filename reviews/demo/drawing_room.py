"""Draw in processes of their own, so that a two-core machine loads and draws at once.

Nothing here touches the database or Django: a drawer starts without either.
"""

from __future__ import annotations

from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pyvips

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import width_mm
from criteria.package import read_package
from criteria.targets.reading import read_targets
from reviews.demo.raster import as_picture
from reviews.demo.sheets import Told, draw_sheets
from reviews.demo.tables import read_csv
from reviews.drawn.pdf import as_pages
from reviews.plain_picture import write_plain
from reviews.reading.sheet_lettering import PageText, Word

Picture = tuple[str, str, str, dict[str, Any]]
"""Number, title, scale and plain picture of a sheet."""


@dataclass(frozen=True)
class DrawingJob:
    """What a drawer is told of one revision.

    only    the sheets wanted; none named is all
    is_set  whether they come as one PDF, whose letters can be read
    """

    told: Told
    records: dict[str, list[dict[str, str]]]
    site: dict[str, str]
    only: tuple[str, ...]
    is_set: bool = False


@dataclass(frozen=True)
class Drawn:
    """The sheets of a revision; of a set, its PDF and the lettering of each page."""

    pictures: list[Picture]
    pdf: str = ""
    lettering: tuple[dict[str, Any], ...] = ()


def draw(job: DrawingJob, folder: str) -> Drawn:
    """Draw a revision's sheets into a folder."""
    package = read_package({**job.records, "site": [job.site]}).package
    told, lines = job.told, read_csv("targets")
    targets = read_targets([row for row in lines if row["cohort"] == told.number[0]]).targets
    pictures, sheets = [], []
    for number, title, scale, sheet in draw_sheets(told, package, job.records, targets, job.only):
        sheets.append(sheet)
        stem = f"{folder}/{told.number}-{told.letter}-{number}"
        paths = (f"{stem}.jpg", f"{stem}-preview.jpg", f"{stem}-small.webp")
        picture = pyvips.Image.new_from_array(as_picture(sheet))
        pictures.append((number, title, scale, write_plain(picture, *paths)))
    if not job.is_set:
        return Drawn(pictures)
    path = Path(folder, f"{told.number} {told.name}, revision {told.letter}.pdf")
    path.write_bytes(as_pages(sheets, f"{told.number} {told.name}"))
    return Drawn(pictures, str(path), tuple(lettering_of(sheet).as_record() for sheet in sheets))


def lettering_of(sheet: Drawing) -> PageText:
    """The words of a sheet by their places, as its page of the PDF has them."""
    wide, high = sheet.width_mm, sheet.height_mm
    words = []
    for letters in sheet.letters:
        left, top, right, foot = letters.box
        x = left
        for text in letters.words.split():
            across = right - left if letters.is_turned else width_mm(text, letters.cap_mm)
            words.append(Word(text, x / wide, top / high, across / wide, (foot - top) / high))
            x += 0.0 if letters.is_turned else across + width_mm(" ", letters.cap_mm)
    return PageText(tuple(words), len(sheet.flat) - len(sheet.letters), width_mm=wide)


def drawers() -> Executor:
    """Return as many drawers as the machine has cores."""
    return ProcessPoolExecutor(mp_context=get_context("spawn"))
