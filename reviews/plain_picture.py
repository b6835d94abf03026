"""Make a picture plain, apart from the site, by a process of its own.

    python plain_picture.py plain SENT IMAGE PREVIEW SMALL    what was sent, with smaller ones
    python plain_picture.py pages SENT                        how many pages a TIFF has
    python plain_picture.py page SENT N IMAGE PREVIEW SMALL   one of them
    python plain_picture.py tiles IMAGE TILES                 a plain one as tiles
    python plain_picture.py small PREVIEW SMALL               what an earlier version left out

What is shown is never what was sent: the picture is decoded and encoded anew, so that
nothing but the drawing is left (no place, no camera, no words, no script behind the end).
This file imports libvips, which reads strip by strip, and what says where tiles and pages lie; it
knows no setting and is given no secret. Its last line says as JSON what became of the picture. The
bounds on memory and time hold where the system has `setrlimit`; those on pixels hold everywhere.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import sys
import zipfile
from collections.abc import Callable, Iterator
from typing import Any

import pyvips

from reviews import picture_limits as limits
from reviews.picture_limits import NotTaken, bound, require_kind
from reviews.tiff_pages import tiff_pages
from reviews.tiles import TILE_PX, TilePack

AS_JPEG = {"Q": 90, "subsample_mode": "off", "keep": "none"}
"""Colour at full resolution: thin red lines on white don't smear."""
AS_WEBP = {"Q": 85, "effort": 2, "keep": "none"}
"""Half the bytes of a JPEG that looks the same so small; more effort saves 3 % of them."""
AS_TILE = ".jpg[Q=85,subsample_mode=off,keep=none]"

UPRIGHT = 1
"""The orientation of a picture that needs no turning (Exif 2.3, tag 0x0112)."""
PROFILE = "icc-profile-data"

PRINTED_DPI = (100, 1300)
"""A resolution between these [px/in] is one of paper: 72 and 96 are said of any picture."""

LOADERS: dict[str, Callable[..., pyvips.Image]] = {
    limits.JPEG: pyvips.Image.jpegload,
    limits.PNG: pyvips.Image.pngload,
    limits.TIFF: pyvips.Image.tiffload,
    limits.WEBP: pyvips.Image.webpload,
}


def only_what_is_meant() -> None:
    """Let libvips read the four formats alone, whatever else it was built for."""
    pyvips.operation_block_set("VipsForeignLoad", True)
    for name in ("Jpeg", "Png", "Tiff", "Webp"):
        pyvips.operation_block_set(f"VipsForeignLoad{name}", False)
    pyvips.cache_set_max(0)


def pages(sent: str) -> dict[str, Any]:
    """How many pages a TIFF has, as what each is called; nothing where it is one picture."""
    found = tiff_pages(sent)
    return {"labels": [""] * len(found) if len(found) > 1 else []}


def make_page(sent: str, number: str, image: str, preview: str, small: str) -> dict[str, Any]:
    """One page of a TIFF as `make_plain` does, counted from 1."""
    return make_plain(sent, image, preview, small, page=int(number))


def make_plain(sent: str, image: str, preview: str, small: str, *, page: int = 1) -> dict[str, Any]:
    """Read a picture that was sent and write it plain, with smaller ones; return what was made.

    Raises NotTaken.
    """
    kind = require_kind(sent)
    load = LOADERS.get(kind)
    if load is None:
        raise NotTaken("a PDF", "a picture")
    which = {"page": tiff_pages(sent)[page - 1]} if kind == limits.TIFF else {}
    with told_apart():
        opened = load(sent, access="sequential", fail_on="error", **which)
        _require_pixels(opened)
        width_mm = _width_mm(opened)
        return {**write_plain(_plain(opened), image, preview, small), "width_mm": width_mm}


@contextlib.contextmanager
def told_apart() -> Iterator[None]:
    """Say of what can't be read whether it is broken or too much; raises NotTaken."""
    try:
        yield
    except (pyvips.Error, MemoryError) as error:
        said = str(error).casefold()
        if isinstance(error, MemoryError) or "memory" in said or "alloc" in said:
            memory = f"a picture that takes over {limits.MOST_MEMORY_MB} MB to read"
            raise NotTaken(memory, limits.PLAINER) from None
        raise NotTaken("a picture that breaks off or is damaged", limits.WHOLE) from None


def write_plain(image: pyvips.Image, path: str, preview: str, small: str) -> dict[str, Any]:
    """Write an 8-bit sRGB picture and smaller ones; return its size and fingerprint."""
    image.jpegsave(path, **AS_JPEG)
    smaller = _smaller(path, limits.PREVIEW_PX)
    smaller.jpegsave(preview, **AS_JPEG)
    make_small(preview, small)
    made = [_lies_safely(each) for each in (path, preview, small)]
    return {
        "sha256": made[0],
        "width": image.width,
        "height": image.height,
        "image": path,
        "preview": preview,
        "small": small,
    }


def make_small(preview: str, small: str) -> dict[str, Any]:
    """Write the small picture of a preview."""
    _smaller(preview, limits.SMALL_PX).webpsave(small, **AS_WEBP)
    _lies_safely(small)
    return {"small": small}


def make_tiles(image: str, tiles: str) -> dict[str, Any]:
    """Write the tiles of a plain picture into one file, as `reviews.tiles` lays them."""
    opened = pyvips.Image.jpegload(image, access="sequential", fail_on="error")
    pack, between = TilePack(opened.width, opened.height), f"{tiles}.zip"
    opened.dzsave(
        between,
        container="zip",
        compression=0,
        depth="onetile",
        tile_size=TILE_PX,
        overlap=0,
        suffix=AS_TILE,
        basename="t",
    )
    with zipfile.ZipFile(between) as all_tiles, open(tiles, "wb") as file:
        last = len(pack.levels) - 1
        names = [f"t_files/{last - t.level}/{t.column}_{t.row}.jpg" for t in pack]
        file.write(pack.head(all_tiles.getinfo(name).file_size for name in names))
        for name in names:
            with all_tiles.open(name) as tile:
                shutil.copyfileobj(tile, file)
    os.remove(between)
    _lies_safely(tiles)
    return {"tiles": tiles}


def _smaller(path: str, side_px: int) -> pyvips.Image:
    """A plain picture, no longer than a side."""
    return pyvips.Image.thumbnail(path, side_px, height=side_px, size="down")


def _lies_safely(path: str) -> str:
    """The fingerprint of a file that is on its disk."""
    with open(path, "rb") as written:
        os.fsync(written.fileno())
        return hashlib.file_digest(written, "sha256").hexdigest()


def _require_pixels(image: pyvips.Image) -> None:
    width, height = image.width, image.height
    most = limits.MOST_PIXELS
    if held := _held_a_pixel(image):
        most = min(most, int(limits.MOST_HELD_MB * 2**20 / held))
    if max(width, height) > limits.LONGEST_SIDE_PX or width * height > most:
        whole = " where it must be held whole" if most < limits.MOST_PIXELS else ""
        side = f"at most {limits.LONGEST_SIDE_PX:,} px a side"
        bound = f"{side} and {most // 10**6} million px in all{whole}"
        raise NotTaken(f"{width:,} × {height:,} px", bound)


def _held_a_pixel(image: pyvips.Image) -> float:
    """Bytes a pixel that reading it holds: none of what comes strip by strip.

    A progressive JPEG is held in 16 bits a sample, an interlaced PNG and WebP as they are, and
    what is turned as it shall be shown.
    """
    held = 3.0 if _orientation(image) != UPRIGHT else 0.0
    sample = {"uchar": 1, "ushort": 2}.get(image.format, 4)
    loader = image.get("vips-loader")
    if loader.startswith("webp"):
        return held + 4
    if not image.get_typeof("interlaced"):
        return held
    if not loader.startswith("jpeg"):
        return held + float(sample * image.bands)
    bands: int = image.bands
    is_fine = bands != 3 or image.get("jpeg-chroma-subsample") == "4:4:4"
    return held + 2 * (bands if is_fine else 1.5)


def _orientation(image: pyvips.Image) -> int:
    return int(image.get("orientation")) if image.get_typeof("orientation") else UPRIGHT


def _width_mm(image: pyvips.Image) -> float | None:
    """Width of the paper as it is upright [mm], where the file says a resolution of paper."""
    is_on_its_side = _orientation(image) > 4
    px, an_mm = (image.height, image.yres) if is_on_its_side else (image.width, image.xres)
    least, most = (dpi / 25.4 for dpi in PRINTED_DPI)
    return round(px / an_mm, 1) if least <= an_mm <= most else None


def _plain(image: pyvips.Image) -> pyvips.Image:
    """Return a picture upright, on white, in 8-bit sRGB."""
    shown = _in_srgb(image)
    if shown.hasalpha():
        shown = shown.flatten(background=[255])
    if shown.format != "uchar":
        shown = shown.cast("uchar")
    if shown.bands == 1:
        shown = shown.bandjoin([shown, shown])
    if _orientation(image) != UPRIGHT:
        shown = shown.copy_memory().autorot()
    return shown


def _in_srgb(image: pyvips.Image) -> pyvips.Image:
    """By a picture's own profile; where that is broken or of another mode, by its mode alone."""
    is_print = image.interpretation == "cmyk"
    if is_print or image.get_typeof(PROFILE):
        with contextlib.suppress(pyvips.Error):
            return image.icc_transform(
                "srgb",
                embedded=True,
                input_profile="cmyk" if is_print else "srgb",
                intent="relative",
                black_point_compensation=True,
            )
    return image.colourspace("srgb")


VERBS: dict[str, Callable[..., dict[str, Any]]] = {
    "plain": make_plain,
    "pages": pages,
    "page": make_page,
    "small": make_small,
    "tiles": make_tiles,
}


def main(verbs: dict[str, Callable[..., dict[str, Any]]] = VERBS) -> None:
    """Do one thing with one picture, within the bounds."""
    bound()
    only_what_is_meant()
    verb, *paths = sys.argv[1:]
    try:
        made = verbs[verb](*paths)
    except NotTaken as refused:
        made = dict(zip(("read", "expected"), refused.args, strict=True))
    print(json.dumps(made))


if __name__ == "__main__":
    main()
