"""Make a picture plain, apart from the site: `python plain_picture.py SENT IMAGE PREVIEW SMALL`.

With two paths alone, PREVIEW SMALL, it makes the small one that an earlier version left out.
What is stored is never what was sent: the picture is decoded and encoded anew, so that
nothing but the drawing is left (no place, no camera, no words, no script behind the end).
This file imports Pillow alone, knows no setting and is given no secret. Its last line says
as JSON what became of the picture. The bounds on memory and time hold where the system has
`setrlimit`; those on pixels hold everywhere.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import select
import signal
import stat
import struct
import sys
import zlib
from typing import Any

from PIL import Image, ImageCms, JpegImagePlugin, PngImagePlugin, UnidentifiedImageError

MOST_MEMORY_MB = 600
"""All that the process may ask for: the largest picture, and Python beside it."""
MOST_SECONDS = 20
MOST_PIXELS = 72_000_000
"""Largest picture that is loaded [px]: A1 at 300 px an inch is 70 million."""
HELD_A_PIXEL = 7
"""Bytes a pixel that making it plain takes: a picture, and its three bands beside it."""
LONGEST_SIDE_PX = 20_000
PREVIEW_PX, SMALL_PX = 1600, 800
"""Longest sides of the pictures that stand on a page [px]: of one, and on a telephone."""
AS_JPEG = {"format": "JPEG", "quality": 90, "subsampling": 0}
"""Colour at full resolution: thin red lines on white don't smear."""
AS_WEBP = {"format": "WEBP", "quality": 85, "method": 2}
"""Half the bytes of a JPEG that looks the same so small; slower methods save 3 % of them."""
FORMATS = ("JPEG", "PNG")
STRIP_PX = 256

EXPECTED = "a JPEG or PNG picture"
WHOLE = f"{EXPECTED} that is whole; export it once more"
PLAINER = f"{EXPECTED} of fewer pixels"

UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What turns a picture upright, by its orientation (Exif 2.3, tag 0x0112)."""

BROKEN = (OSError, SyntaxError, ValueError, EOFError, struct.error, zlib.error)
"""What Pillow raises of a picture that isn't whole."""


class NotTaken(Exception):
    """A picture that isn't taken: what was read, and what was expected."""


def make_plain(sent: str, image: str, preview: str, small: str) -> dict[str, Any]:
    """Read a picture that was sent and write it plain, with smaller ones; return what was made.

    Raises NotTaken.
    """
    # the size is looked at here, before anything is loaded
    Image.MAX_IMAGE_PIXELS = None
    PngImagePlugin.MAX_TEXT_CHUNK = PngImagePlugin.MAX_TEXT_MEMORY = 16 * 2**20
    try:
        with Image.open(sent, formats=FORMATS) as opened:
            _require_pixels(opened)
            opened.load()
            return write_plain(_plain(opened), image, preview, small)
    except UnidentifiedImageError:
        raise NotTaken("which is neither JPEG nor PNG inside", EXPECTED) from None
    except MemoryError:
        memory = f"a picture that takes over {MOST_MEMORY_MB} MB to read"
        raise NotTaken(memory, PLAINER) from None
    except BROKEN:
        raise NotTaken("a picture that breaks off or is damaged", WHOLE) from None


def make_small(preview: str, small: str) -> dict[str, Any]:
    """Write the small picture of a preview that was made before there were small ones."""
    with Image.open(preview, formats=FORMATS) as image:
        _write_small(image, small)
    return {"small": small}


def write_plain(image: Image.Image, path: str, preview: str, small: str) -> dict[str, Any]:
    """Write an RGB picture and smaller ones; return its size and fingerprint."""
    image.info.clear()
    _write(image, path)
    width, height = image.size
    image.thumbnail((PREVIEW_PX, PREVIEW_PX), Image.Resampling.LANCZOS, reducing_gap=2)
    _write(image, preview)
    _write_small(image, small)
    with open(path, "rb") as written:
        sha256 = hashlib.file_digest(written, "sha256").hexdigest()
    return {
        "sha256": sha256,
        "width": width,
        "height": height,
        "image": path,
        "preview": preview,
        "small": small,
    }


def _write_small(image: Image.Image, path: str) -> None:
    image.thumbnail((SMALL_PX, SMALL_PX), Image.Resampling.LANCZOS, reducing_gap=2)
    _write(image, path, AS_WEBP)


def _write(image: Image.Image, path: str, how: dict[str, Any] = AS_JPEG) -> None:
    with open(path, "wb") as file:
        image.save(file, **how)
        os.fsync(file.fileno())


def _require_pixels(image: Image.Image) -> None:
    width, height = image.size
    most = int(MOST_PIXELS * HELD_A_PIXEL / max(HELD_A_PIXEL, _held_a_pixel(image)))
    if max(width, height) > LONGEST_SIDE_PX or width * height > most:
        kind = "" if most == MOST_PIXELS else " of a progressive JPEG"
        bound = f"at most {LONGEST_SIDE_PX:,} px a side and {most // 10**6} million px in all{kind}"
        raise NotTaken(f"{width:,} × {height:,} px", bound)


def _held_a_pixel(image: Image.Image) -> float:
    """Bytes a pixel while it is read: a progressive JPEG is held beside it in 16 bits a sample."""
    if not (isinstance(image, JpegImagePlugin.JpegImageFile) and image.info.get("progressive")):
        return 4
    finest = max(h for _, h, _, _ in image.layer) * max(v for _, _, v, _ in image.layer)
    return 4 + 2 * sum(h * v for _, h, v, _ in image.layer) / finest


def _plain(image: Image.Image) -> Image.Image:
    """Return a picture upright, on white, in 8-bit sRGB; the one that is given is used up.

    Strip by strip into one band a colour: never more than seven bytes a pixel at once.
    """
    turn = _turn(image)
    profile = image.info.get("icc_profile")
    if image.mode == "RGB" and not (turn or profile or image.has_transparency_data):
        return image
    transforms: dict[str, Any] = {}
    bands = [Image.new("L", image.size) for _ in "RGB"]
    for top in range(0, image.height, STRIP_PX):
        strip = image.crop((0, top, image.width, min(top + STRIP_PX, image.height)))
        strip = _on_white(strip)
        if profile:
            if strip.mode not in transforms:
                transforms[strip.mode] = _to_srgb(strip.mode, profile)
            if transform := transforms[strip.mode]:
                strip = ImageCms.applyTransform(strip, transform) or strip
        for band, part in zip(bands, strip.convert("RGB").split(), strict=True):
            band.paste(part, (0, top))
    image.close()
    if turn is not None:
        for n in range(3):
            bands[n] = bands[n].transpose(turn)
    return Image.merge("RGB", bands)


def _turn(image: Image.Image) -> Image.Transpose | None:
    with contextlib.suppress(*BROKEN):  # a broken note beside a whole picture
        return UPRIGHT.get(image.getexif().get(0x0112, 1))
    return None


def _on_white(strip: Image.Image) -> Image.Image:
    """A strip in grey, RGB or CMYK, with nothing clear in it."""
    if strip.mode.startswith("I"):  # 16 bits of grey, of which the upper 8 are seen
        strip = strip.convert("I").point(lambda v: v * (1 / 257)).convert("L")
    if strip.has_transparency_data:
        clear = strip.convert("RGBA")
        strip = Image.new("RGB", clear.size, "white")
        strip.paste(clear, mask=clear.getchannel("A"))
    return strip if strip.mode in ("L", "RGB", "CMYK") else strip.convert("RGB")


def _to_srgb(mode: str, profile: bytes) -> ImageCms.ImageCmsTransform | None:
    """What converts by a picture's own profile; None where that is broken or of another mode."""
    try:
        held = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if held.profile.xcolor_space.strip() != {"L": "GRAY"}.get(mode, mode):
            return None
        return ImageCms.buildTransform(
            held,
            ImageCms.createProfile("sRGB"),
            mode,
            "RGB",
            ImageCms.Intent.RELATIVE_COLORIMETRIC,
            ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None


def bound() -> None:
    """Bound what this process may take, where the system can, and let pages go first.

    What stops the server doesn't stop it half way: it ends soon, by itself.
    """
    for stop in (signal.SIGINT, signal.SIGTERM):
        signal.signal(stop, signal.SIG_IGN)
    with contextlib.suppress(ImportError, AttributeError, OSError, ValueError):
        import resource

        most = MOST_MEMORY_MB * 2**20
        # of the two the first has a signal of its own: what is killed was killed by others
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS + 1))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
    with contextlib.suppress(AttributeError, OSError):
        os.nice(5)
    with contextlib.suppress(ImportError, AttributeError, OSError):
        _end_with_the_line()


def _end_with_the_line() -> None:
    """End when whoever started this does, however: a line from there breaks, which is signalled.

    Else another would be started for the same picture while this one reads it.
    """
    import fcntl

    if stat.S_ISFIFO(os.fstat(0).st_mode):
        fcntl.fcntl(0, fcntl.F_SETOWN, os.getpid())
        fcntl.fcntl(0, fcntl.F_SETFL, os.O_ASYNC)
        if select.select([0], [], [], 0)[0]:
            sys.exit("Whoever started this has ended.")


def main() -> None:
    """Make one picture plain, within the bounds."""
    bound()
    paths = sys.argv[1:]
    try:
        made = make_plain(*paths) if len(paths) > 2 else make_small(*paths)
    except NotTaken as refused:
        made = dict(zip(("read", "expected"), refused.args, strict=True))
    print(json.dumps(made))


if __name__ == "__main__":
    main()
