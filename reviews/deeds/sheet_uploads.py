"""Take a picture in: look before loading, load whole, make it plain, store it afresh.

What is stored is never what was sent: the picture is decoded and encoded anew, so that
nothing but the drawing is left (no place, no camera, no script behind the end).
"""

from __future__ import annotations

import hashlib
import io
import struct
import warnings
import zlib
from typing import IO

from django.conf import settings
from django.core.files.base import ContentFile
from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from criteria.errors import Refused
from reviews.models import SheetFile

MOST_PIXELS = 130_000_000
"""Largest picture that is loaded [px]: A1 at 300 px an inch is 70 million."""
LONGEST_SIDE_PX = 20_000
PREVIEW_PX = 1600
"""Longest side of the picture that stands on a page [px]."""
QUALITY = 90
FORMATS = ("JPEG", "PNG")
EXPECTED = "a JPEG or PNG picture"

Image.MAX_IMAGE_PIXELS = MOST_PIXELS
# a picture that unfolds into more than that is refused, not warned of
warnings.filterwarnings("error", category=Image.DecompressionBombWarning)


def keep_picture(file: IO[bytes]) -> SheetFile:
    """Verify a picture, encode it afresh with a preview, and store both under their fingerprint.

    The same picture is stored once. Raises Refused with what was read and what was expected.
    """
    name = getattr(file, "name", "") or "the file"
    _require_size(name, file)
    plain = _loaded(name, file)
    image = _encoded(plain)
    sha256 = hashlib.sha256(image).hexdigest()
    if held := SheetFile.objects.filter(sha256=sha256).first():
        return held
    preview = plain.copy()
    preview.thumbnail((PREVIEW_PX, PREVIEW_PX), Image.Resampling.LANCZOS, reducing_gap=2)
    stored = f"{sha256}.jpg"
    return SheetFile.objects.create(
        sha256=sha256,
        image=ContentFile(image, stored),
        preview=ContentFile(_encoded(preview), stored),
    )


def _require_size(name: str, file: IO[bytes]) -> None:
    file.seek(0, io.SEEK_END)
    size_mb = file.tell() / 2**20
    file.seek(0)
    if not size_mb:
        raise Refused(f"{name}, an empty file", EXPECTED)
    if size_mb > settings.MOST_UPLOAD_MB:
        most = f"{EXPECTED} of at most {settings.MOST_UPLOAD_MB} MB"
        raise Refused(f"{name}, {size_mb:.1f} MB", most)


def _loaded(name: str, file: IO[bytes]) -> Image.Image:
    try:
        with Image.open(file, formats=FORMATS) as opened:
            _require_pixels(name, *opened.size)
            opened.load()
            return _plain(opened)
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise Refused(f"{name}, a picture that unfolds without end", _most_pixels()) from None
    except UnidentifiedImageError:
        raise Refused(f"{name}, which is neither JPEG nor PNG inside", EXPECTED) from None
    except Refused:
        raise
    except (OSError, SyntaxError, ValueError, EOFError, struct.error, zlib.error):
        broken = f"{name}, a picture that breaks off or is damaged"
        raise Refused(broken, f"{EXPECTED} that is whole; export it once more") from None


def _most_pixels() -> str:
    most = f"{MOST_PIXELS // 10**6} million px in all"
    return f"at most {LONGEST_SIDE_PX:,} px a side and {most}"


def _require_pixels(name: str, width: int, height: int) -> None:
    if max(width, height) > LONGEST_SIDE_PX or width * height > MOST_PIXELS:
        raise Refused(f"{name}, {width:,} × {height:,} px", _most_pixels())


def _plain(image: Image.Image) -> Image.Image:
    """Turn a picture upright, on white, in 8-bit sRGB."""
    profile = image.info.get("icc_profile")
    upright = ImageOps.exif_transpose(image)
    if upright.mode.startswith("I"):  # 16 bits of grey, of which the upper 8 are seen
        upright = upright.convert("I").point(lambda v: v * (1 / 257)).convert("L")
    if upright.has_transparency_data:
        clear = upright.convert("RGBA")
        upright = Image.new("RGB", clear.size, "white")
        upright.paste(clear, mask=clear.getchannel("A"))
    if profile and (converted := _to_srgb(upright, profile)):
        return converted
    return upright if upright.mode == "RGB" else upright.convert("RGB")


def _to_srgb(image: Image.Image, profile: bytes) -> Image.Image | None:
    """Convert by the picture's own profile; None where it is broken or of another mode."""
    try:
        held = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        space = {"RGB": "RGB", "CMYK": "CMYK", "L": "GRAY"}.get(image.mode)
        if held.profile.xcolor_space.strip() != space:
            return None
        return ImageCms.profileToProfile(
            image,
            held,
            ImageCms.createProfile("sRGB"),
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None


def _encoded(image: Image.Image) -> bytes:
    out = io.BytesIO()
    # colour at full resolution: thin red lines on white don't smear
    image.save(out, "JPEG", quality=QUALITY, subsampling=0, progressive=True)
    return out.getvalue()
