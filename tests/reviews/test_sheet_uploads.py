"""Pictures taken in: whole, plain, stored afresh, or refused with the reason."""

import io
import struct
import zlib

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageCms

from criteria.errors import Refused
from reviews.deeds import sheet_uploads
from reviews.models import SheetFile


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


def encoded(image: Image.Image, kind: str = "PNG", **more) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def kept(data: bytes, name: str = "plan.png") -> Image.Image:
    file = sheet_uploads.keep_picture(SimpleUploadedFile(name, data))
    with file.image.open() as stored:
        image = Image.open(stored)
        image.load()
    return image


def near(colour, expected, within=4):
    return all(abs(a - b) <= within for a, b in zip(colour, expected, strict=True))


pytestmark = pytest.mark.django_db


def test_a_picture_is_stored_as_a_fresh_jpeg_with_a_smaller_one_beside_it():
    data = encoded(Image.new("RGB", (3200, 1000), "white"))
    file = sheet_uploads.keep_picture(SimpleUploadedFile("plan.png", data))
    assert (file.width, file.height) == (3200, 1000)
    with file.preview.open() as stored, Image.open(stored) as preview:
        assert (preview.format, preview.size) == ("JPEG", (1600, 500))


def test_the_same_picture_is_stored_once():
    data = encoded(Image.new("RGB", (40, 30), "white"))
    first = sheet_uploads.keep_picture(SimpleUploadedFile("a.png", data))
    assert sheet_uploads.keep_picture(SimpleUploadedFile("b.png", data)) == first
    assert SheetFile.objects.count() == 1


def test_place_camera_and_whatever_hangs_behind_the_end_are_gone():
    exif = Image.Exif()
    exif[0x010F] = "Maker of cameras"
    exif.get_ifd(0x8825)[1] = "N"
    data = (
        encoded(Image.new("RGB", (40, 30), "red"), "JPEG", exif=exif) + b"<script>alert(1)</script>"
    )
    file = sheet_uploads.keep_picture(SimpleUploadedFile("plan.jpg", data))
    with file.image.open() as stored:
        raw = stored.read()
    assert b"Maker" not in raw
    assert b"script" not in raw
    assert not Image.open(io.BytesIO(raw)).getexif()


def test_a_picture_taken_on_its_side_is_turned_upright():
    exif = Image.Exif()
    exif[0x0112] = 6  # the first row stands at the right (Exif 2.3, table of Orientation)
    image = Image.new("RGB", (40, 20), "white")
    image.paste("black", (0, 0, 20, 20))
    turned = kept(encoded(image, "JPEG", exif=exif, quality=95), "plan.jpg")
    assert turned.size == (20, 40)
    assert near(turned.getpixel((10, 5)), (0, 0, 0))
    assert near(turned.getpixel((10, 35)), (255, 255, 255))


def test_what_is_clear_becomes_white_paper():
    image = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    image.paste((255, 0, 0, 255), (0, 0, 20, 40))
    flat = kept(encoded(image))
    assert near(flat.getpixel((35, 20)), (255, 255, 255))
    assert near(flat.getpixel((5, 20)), (254, 0, 0))


def test_a_clear_colour_of_a_palette_becomes_white_too():
    image = Image.new("P", (40, 40), 0)
    image.putpalette([0, 0, 0, 255, 0, 0])
    assert near(kept(encoded(image, transparency=0)).getpixel((20, 20)), (255, 255, 255))


@pytest.mark.parametrize(("sixteen", "eight"), [(0, 0), (32_896, 128), (65_535, 255)])
def test_sixteen_bits_of_grey_become_eight(sixteen, eight):
    """PNG (ISO/IEC 15948) 13.12: rescale by 65535/255 = 257."""
    image = Image.fromarray(np.full((20, 20), sixteen, dtype=np.uint16))
    assert near(kept(encoded(image)).getpixel((10, 10)), (eight,) * 3, within=1)


def linear_profile() -> bytes:
    """A colour profile (ICC.1:2001-04) of the primaries of sRGB without its curve."""

    def fixed(*numbers: float) -> bytes:
        return b"".join(struct.pack(">i", round(n * 65536)) for n in numbers)

    tags = {
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.9642, 1, 0.8249),
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(0.4361, 0.2225, 0.0139),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(0.3851, 0.7169, 0.0971),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(0.1431, 0.0606, 0.7142),
        **dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), b"curv\x00\x00\x00\x00\x00\x00\x00\x00"),
    }
    at, table, body = 128 + 4 + 12 * len(tags), b"", b""
    for name, data in tags.items():
        table += name + struct.pack(">II", at + len(body), len(data))
        body += data
    head = bytes(8) + b"\x02\x20\0\0" + b"mntrRGB XYZ " + bytes(12) + b"acsp"
    head = head.ljust(68, b"\0") + fixed(0.9642, 1, 0.8249)
    rest = head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body
    return struct.pack(">I", len(rest)) + rest[4:]


def test_colours_are_read_by_the_pictures_own_profile():
    """A grey of 55 in linear light, 0.216, is 128 in sRGB (IEC 61966-2-1, its curve)."""
    image = Image.new("RGB", (20, 20), (55, 55, 55))
    data = encoded(image, icc_profile=linear_profile())
    assert near(kept(data).getpixel((9, 9)), (128, 128, 128), within=2)


@pytest.mark.parametrize("profile", [b"no profile at all", b""])
def test_a_broken_profile_is_passed_over(profile):
    image = Image.new("RGB", (20, 20), (200, 30, 60))
    assert near(kept(encoded(image, icc_profile=profile)).getpixel((9, 9)), (200, 30, 60))


def test_a_profile_of_another_mode_is_passed_over():
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    image = Image.new("CMYK", (20, 20), (0, 0, 0, 255))
    black = kept(encoded(image, "JPEG", icc_profile=srgb), "plan.jpg")
    assert near(black.getpixel((9, 9)), (0, 0, 0))


def test_a_drawing_in_print_colours_is_stored_for_the_screen():
    white = kept(encoded(Image.new("CMYK", (20, 20), (0, 0, 0, 0)), "JPEG"), "plan.jpg")
    assert (white.mode, near(white.getpixel((9, 9)), (255, 255, 255))) == ("RGB", True)


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_header(width: int, height: int) -> bytes:
    """A PNG that only claims a size."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", b"")


def refusal(data: bytes, name: str = "plan.png") -> str:
    with pytest.raises(Refused, match=name) as refused:
        sheet_uploads.keep_picture(SimpleUploadedFile(name, data))
    assert not SheetFile.objects.exists()
    return str(refused.value)


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (b"%PDF-1.7 ...", "plan.pdf"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "plan.jpg"),
        (b"<html><script>alert(1)</script>", "plan.png"),
        (encoded(Image.new("RGB", (9, 9)), "GIF"), "plan.gif"),
        (encoded(Image.new("RGB", (9, 9)), "TIFF"), "plan.png"),
    ],
)
def test_what_is_no_jpeg_or_png_inside_is_refused_whatever_it_is_called(data, name):
    assert "neither JPEG nor PNG inside" in refusal(data, name)


def test_an_empty_file_is_refused():
    assert "an empty file" in refusal(b"")


def test_a_file_over_the_limit_is_refused_with_the_limit(settings):
    settings.MOST_UPLOAD_MB = 1
    assert "1.2 MB”; expected a JPEG or PNG picture of at most 1 MB" in refusal(bytes(1_258_291))


def test_a_file_of_just_the_limit_is_looked_into(settings):
    settings.MOST_UPLOAD_MB = 1
    assert "neither JPEG nor PNG" in refusal(bytes(2**20))


def test_half_a_picture_is_refused():
    noise = np.random.default_rng(1).integers(0, 255, (300, 300, 3), dtype=np.uint8)
    for kind in ("JPEG", "PNG"):
        data = encoded(Image.fromarray(noise), kind)
        assert "breaks off or is damaged" in refusal(data[: len(data) // 2])


@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        (20_001, 10, "20,001 × 10 px"),
        (11_403, 11_403, "unfolds without end"),
        (60_000, 60_000, "unfolds without end"),
    ],
)
def test_a_picture_of_too_many_pixels_is_refused_before_it_is_loaded(width, height, said):
    text = refusal(png_header(width, height))
    assert said in text
    assert "at most 20,000 px a side and 130 million px in all" in text


def test_a_picture_of_as_many_pixels_as_may_be_gets_to_be_loaded():
    assert "breaks off" in refusal(png_header(13_000, 10_000))


def test_words_that_unfold_without_end_are_refused():
    """A compressed text chunk of 200 MB."""
    packed = b"Comment\x00\x00" + zlib.compress(bytes(200 * 2**20))
    body = png_header(9, 9) + chunk(b"zTXt", packed) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")
    assert "damaged" in refusal(body)
