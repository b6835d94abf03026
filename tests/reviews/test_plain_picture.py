"""Pictures made plain: what is kept of a drawing, what isn't, and within which bounds."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, ImageCms, PngImagePlugin

from reviews import picture_limits
from reviews.picture_limits import NotTaken
from reviews.plain_picture import make_plain

pytestmark = pytest.mark.apart


def encoded(image: Image.Image, kind: str = "PNG", **more) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


@pytest.fixture
def made(tmp_path):
    """Make a picture plain in this process."""

    def make(data: bytes) -> dict:
        (tmp_path / "sent").write_bytes(data)
        return make_plain(*(str(tmp_path / name) for name in ("sent", "image", "preview", "small")))

    return make


@pytest.fixture
def kept(made):
    def read(data: bytes) -> Image.Image:
        with Image.open(made(data)["image"]) as image:
            image.load()
        return image

    return read


def near(colour, expected, within=4):
    return all(abs(a - b) <= within for a, b in zip(colour, expected, strict=True))


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_header(width: int, height: int) -> bytes:
    """A PNG that only claims a size."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", b"")


def with_chunks(*chunks: bytes) -> bytes:
    """A whole PNG with more chunks before its pixels."""
    whole = encoded(Image.new("RGB", (9, 9), "red"))
    return whole[:33] + b"".join(chunks) + whole[33:]


def noise(width: int, height: int) -> Image.Image:
    pixels = np.random.default_rng(1).integers(0, 255, (height, width, 3), dtype=np.uint8)
    return Image.fromarray(pixels)


def test_a_picture_becomes_a_jpeg_with_smaller_ones_beside_it(made):
    plain = made(encoded(Image.new("RGB", (3200, 1000), "white")))
    assert (plain["width"], plain["height"]) == (3200, 1000)
    for name, kind, size in (
        ("image", "JPEG", (3200, 1000)),
        ("preview", "JPEG", (1600, 500)),
        ("small", "WEBP", (800, 250)),
    ):
        with Image.open(plain[name]) as image:
            assert (image.format, image.mode, image.size) == (kind, "RGB", size)
            assert "progressive" not in image.info


MARK = b"HouseOfTheArchitect"


def marked(kind: str) -> bytes:
    """A picture that carries words wherever one can."""
    exif = Image.Exif()
    exif[0x010F] = MARK.decode()
    exif.get_ifd(0x8825)[1] = "N"
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    said = {"exif": exif, "icc_profile": profile.replace(b"built-in", MARK[:8])}
    image = Image.new("RGB", (40, 30), "red")
    if kind == "JPEG":
        return encoded(image, kind, **said, comment=MARK, xmp=b"<x>" + MARK + b"</x>") + MARK
    if kind == "WEBP":
        return encoded(image, kind, **said, xmp=b"<x>" + MARK + b"</x>") + MARK
    if kind == "TIFF":
        return encoded(image, kind, exif=exif, tiffinfo={270: MARK.decode(), 305: MARK.decode()})
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", MARK.decode())
    words.add_text("comment", MARK.decode(), zip=True)
    words.add_itxt("XML:com.adobe.xmp", MARK.decode())
    return encoded(image, kind, **said, pnginfo=words) + MARK


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_place_camera_words_and_whatever_hangs_behind_the_end_are_gone(made, kind):
    sent = marked(kind)
    assert sent.count(MARK) >= 2
    plain = made(sent)
    for name in ("image", "preview", "small"):
        with open(plain[name], "rb") as file:
            raw = file.read()
        assert MARK[:8] not in raw
        with Image.open(io.BytesIO(raw)) as image:
            assert not image.getexif()
            assert {"comment", "exif", "xmp", "icc_profile"}.isdisjoint(image.info)


def test_a_picture_taken_on_its_side_is_turned_upright(kept):
    exif = Image.Exif()
    exif[0x0112] = 6  # the first row stands at the right (Exif 2.3, table of Orientation)
    image = Image.new("RGB", (40, 20), "white")
    image.paste("black", (0, 0, 20, 20))
    turned = kept(encoded(image, "JPEG", exif=exif, quality=95))
    assert turned.size == (20, 40)
    assert near(turned.getpixel((10, 5)), (0, 0, 0))
    assert near(turned.getpixel((10, 35)), (255, 255, 255))


def test_what_is_clear_becomes_white_paper(kept):
    image = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    image.paste((255, 0, 0, 255), (0, 0, 20, 40))
    flat = kept(encoded(image))
    assert near(flat.getpixel((35, 20)), (255, 255, 255))
    assert near(flat.getpixel((5, 20)), (254, 0, 0))


def test_a_clear_colour_of_a_palette_becomes_white_too(kept):
    image = Image.new("P", (40, 40), 0)
    image.putpalette([0, 0, 0, 255, 0, 0])
    assert near(kept(encoded(image, transparency=0)).getpixel((20, 20)), (255, 255, 255))


@pytest.mark.parametrize(("sixteen", "eight"), [(0, 0), (32_896, 128), (65_535, 255)])
def test_sixteen_bits_of_grey_become_eight(kept, sixteen, eight):
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


def test_colours_are_read_by_the_pictures_own_profile(kept):
    """A grey of 55 in linear light, 0.216, is 128 in sRGB (IEC 61966-2-1, its curve)."""
    image = Image.new("RGB", (20, 20), (55, 55, 55))
    data = encoded(image, icc_profile=linear_profile())
    assert near(kept(data).getpixel((9, 9)), (128, 128, 128), within=2)


@pytest.mark.parametrize("profile", [b"no profile at all", b""])
def test_a_broken_profile_is_passed_over(kept, profile):
    image = Image.new("RGB", (20, 20), (200, 30, 60))
    assert near(kept(encoded(image, icc_profile=profile)).getpixel((9, 9)), (200, 30, 60))


def test_a_profile_of_another_mode_is_passed_over(kept):
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    image = Image.new("CMYK", (20, 20), (0, 0, 0, 255))
    black = kept(encoded(image, "JPEG", icc_profile=srgb))
    assert near(black.getpixel((9, 9)), (0, 0, 0), within=20)  # black ink alone isn't quite black


def test_a_drawing_in_print_colours_is_stored_for_the_screen(kept):
    white = kept(encoded(Image.new("CMYK", (20, 20), (0, 0, 0, 0)), "JPEG"))
    assert (white.mode, near(white.getpixel((9, 9)), (255, 255, 255))) == ("RGB", True)


def test_a_picture_is_turned_whatever_its_bands(kept):
    """Each of the eight orientations of Exif 2.3 as Pillow's own turning has it."""
    from PIL import ImageOps

    image = noise(60, 40).resize((120, 80)).convert("L")
    for orientation in range(1, 9):
        exif = Image.Exif()
        exif[0x0112] = orientation
        data = encoded(image, "PNG", exif=exif)
        expected = ImageOps.exif_transpose(Image.open(io.BytesIO(data))).convert("RGB")
        turned = kept(data)
        assert turned.size == expected.size
        apart = np.abs(np.asarray(turned, dtype=int) - np.asarray(expected, dtype=int))
        assert apart.mean() < 4


def test_a_picture_higher_than_a_strip_is_whole(kept):
    image = noise(40, 30).resize((400, 900)).convert("RGBA")
    plain = np.asarray(kept(encoded(image)), dtype=int)
    assert np.abs(plain - np.asarray(image.convert("RGB"), dtype=int)).mean() < 3


def test_a_broken_note_beside_a_whole_picture_is_passed_over(kept):
    data = encoded(Image.new("RGB", (20, 20), "red"), "JPEG", exif=b"Exif\0\0MM\0*\xff\xff")
    assert near(kept(data).getpixel((9, 9)), (254, 0, 0))


def test_an_animated_picture_is_its_first(kept):
    frames = [Image.new("RGB", (20, 20), colour) for colour in ("red", "blue")]
    data = encoded(frames[0], save_all=True, append_images=frames[1:], duration=50)
    assert near(kept(data).getpixel((9, 9)), (254, 0, 0))


def test_a_whole_picture_that_is_noise_alone_is_kept(made):
    plain = made(encoded(noise(1000, 700)))
    assert (plain["width"], plain["height"]) == (1000, 700)


def refusal(made, data: bytes) -> str:
    with pytest.raises(NotTaken) as refused:
        made(data)
    read, expected = refused.value.args
    return f"{read}; expected {expected}"


@pytest.mark.parametrize(
    "data",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"<html><script>alert(1)</script>",
        encoded(Image.new("RGB", (9, 9)), "GIF"),
        b"\0\0\0\x20ftypavif\0\0\0\0avifmif1".replace(b"mif1", b""),
    ],
)
def test_what_is_no_picture_inside_is_refused(made, data):
    assert "neither a picture that is read nor a PDF inside" in refusal(made, data)


@pytest.mark.parametrize("brands", [b"heic\0\0\0\0mif1heic", b"mif1\0\0\0\0mif1heic", b"heix"])
def test_what_telephones_keep_is_refused_with_how_they_send_another(made, brands):
    said = refusal(made, b"\0\0\0\x24ftyp" + brands)
    assert "HEIC inside, as telephones keep pictures" in said
    assert "A telephone sends JPEG where its camera is set to JPEG" in said


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_half_a_picture_is_refused(made, kind):
    data = encoded(noise(300, 300), kind)
    assert "breaks off or is damaged" in refusal(made, data[: len(data) // 2])


@pytest.mark.parametrize(
    ("width", "height"), [(20_001, 10), (60_000, 1), (12_248, 12_248), (60_000, 60_000)]
)
def test_a_picture_of_too_many_pixels_is_refused_before_it_is_loaded(made, width, height):
    text = refusal(made, png_header(width, height))
    assert f"{width:,} × {height:,} px; expected at most 20,000 px a side" in text
    assert text.endswith("and 150 million px in all")


@pytest.mark.parametrize(("width", "height"), [(15_000, 10_000), (20_000, 7_500)])
def test_a_picture_of_as_many_pixels_as_may_be_gets_to_be_loaded(made, width, height):
    assert "breaks off" in refusal(made, png_header(width, height))


@pytest.mark.parametrize(
    ("mode", "kind", "more", "most"),
    [
        ("RGB", "JPEG", {"progressive": True, "subsampling": 0}, 400 / 6),
        ("RGB", "JPEG", {"progressive": True, "subsampling": 2}, 400 / 3),
        ("CMYK", "JPEG", {"progressive": True}, 400 / 8),
        ("RGB", "WEBP", {}, 100),
    ],
)
def test_what_must_be_held_whole_may_have_as_many_pixels_as_its_memory_holds(
    made, monkeypatch, mode, kind, more, most
):
    """Two bytes a sample of a progressive JPEG, four a pixel of WebP."""
    data = encoded(Image.new(mode, (1024, 1024)), kind, **more)
    monkeypatch.setattr(picture_limits, "MOST_HELD_MB", 400 / most)
    made(data)
    monkeypatch.setattr(picture_limits, "MOST_HELD_MB", 400 / most * 0.9)
    assert "where it must be held whole" in refusal(made, data)


def test_what_comes_strip_by_strip_is_held_by_nothing_but_its_pixels(made, monkeypatch):
    monkeypatch.setattr(picture_limits, "MOST_HELD_MB", 0)
    for kind in ("JPEG", "PNG", "TIFF"):
        assert made(encoded(Image.new("RGB", (600, 400)), kind))["width"] == 600


def test_long_words_beside_a_picture_are_left_and_endless_ones_cut_short(made):
    def words(size: int) -> bytes:
        return chunk(b"zTXt", b"Comment\x00\x00" + zlib.compress(bytes(size)))

    for mb in (8, 200):
        assert made(with_chunks(words(mb * 2**20)))["width"] == 9
