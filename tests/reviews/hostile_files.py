"""Files that mean harm, or were made by a slip: what each is, and what must become of it.

REFUSED are told why; PLAIN are drawn, and what was hidden in them isn't.
"""

import gzip
import io
import struct
import zipfile
import zlib
from collections.abc import Callable

from fpdf import FPDF
from fpdf.encryption import EncryptionMethod
from PIL import Image, ImageCms, PngImagePlugin

from tests.reviews.test_plain_picture import chunk, encoded, noise, png_header, with_chunks

HIDDEN = b"HiddenPlaceOfTheStudio"
SCRIPT = b"<script>HiddenPlaceOfTheStudio()</script>"
KINDS = ("JPEG", "PNG", "TIFF", "WEBP")
RED = Image.new("RGB", (90, 60), "red")


def bomb(kind: bytes, before: bytes, mb: int = 60) -> bytes:
    """A chunk of a PNG that grows by a thousand."""
    return with_chunks(chunk(kind, before + zlib.compress(bytes(mb * 2**20), 9)))


def tiff(*tags: tuple[int, int, int, int], after: int = 0, tail: bytes = b"") -> bytes:
    """A TIFF of one directory: tag, type, count and value of each, and where the next lies."""
    entries = b"".join(struct.pack("<HHII", *tag) for tag in sorted(tags))
    count = struct.pack("<H", len(tags))
    return b"II*\0\x08\0\0\0" + count + entries + struct.pack("<I", after) + tail


def tiff_of(width: int, height: int, *more: tuple[int, int, int, int], after: int = 0) -> bytes:
    """A TIFF in grey whose one strip lies behind its directory."""
    tags = {
        256: (256, 4, 1, width),
        257: (257, 4, 1, height),
        258: (258, 3, 1, 8),
        259: (259, 3, 1, 1),
        262: (262, 3, 1, 1),
        273: (273, 4, 1, 200),
        277: (277, 3, 1, 1),
        278: (278, 4, 1, height),
        279: (279, 4, 1, min(width * height, 2**32 - 1)),
    }
    tags |= {tag[0]: tag for tag in more}
    made = tiff(*tags.values(), after=after)
    return made.ljust(200, b"\0") + bytes(min(width * height, 10_000))


def pdf(*objects: bytes, trailer: bytes = b"") -> bytes:
    """A PDF of objects, the first of which is its catalogue."""
    body, at = b"%PDF-1.7\n", []
    for n, each in enumerate(objects, 1):
        at.append(len(body))
        body += b"%d 0 obj\n%s\nendobj\n" % (n, each)
    table = b"".join(b"%010d 00000 n \n" % each for each in at)
    head = b"xref\n0 %d\n0000000000 65535 f \n" % (len(at) + 1)
    root = b"trailer\n<</Root 1 0 R/Size %d%s>>\n" % (len(at) + 1, trailer)
    return body + head + table + root + b"startxref\n%d\n%%%%EOF" % len(body)


PAGES = b"<</Type/Pages/Kids[3 0 R]/Count 1>>"
CATALOGUE = b"<</Type/Catalog/Pages 2 0 R%s>>"


def page(
    content: bytes = b"", box: bytes = b"0 0 300 200", more: bytes = b"", *objects: bytes, **how
) -> bytes:
    """A PDF of one page with some content."""
    sheet = b"<</Type/Page/Parent 2 0 R/MediaBox[%s]/Contents 4 0 R%s>>" % (box, more)
    stream = b"<</Length %d>>\nstream\n%s\nendstream" % (len(content), content)
    first = CATALOGUE % how.get("catalogue", b"")
    return pdf(first, PAGES, sheet, stream, *objects)


def stream(head: bytes, content: bytes) -> bytes:
    """An object of a PDF that holds bytes."""
    return b"<<%s/Length %d>>\nstream\n%s\nendstream" % (head, len(content), content)


def locked(user: str) -> bytes:
    """A PDF that asks for a password, or only says what may be done with it."""
    made = FPDF()
    made.add_page()
    made.set_encryption("owner", user, encryption_method=EncryptionMethod.RC4)
    return bytes(made.output())


def many_pages(count: int) -> bytes:
    """A PDF of so many pages, all of them one object."""
    kids = b"3 0 R " * count
    listed = b"<</Type/Pages/Kids[%s]/Count %d>>" % (kids, count)
    return pdf(CATALOGUE % b"", listed, b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 200]>>")


def with_place(kind: str) -> bytes:
    """A picture that says where it was taken."""
    exif = Image.Exif()
    exif[0x010E] = HIDDEN.decode()
    exif.get_ifd(0x8825)[1] = "N"
    return encoded(RED, kind, exif=exif)


def zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        made.writestr("../../up.png", HIDDEN)
    return out.getvalue()


def srgb() -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def words(text: bytes) -> bytes:
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", text.decode())
    return encoded(RED, pnginfo=info)


JPEG, PNG = encoded(RED, "JPEG"), encoded(RED)
LOOP = b"<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2>>"
SELF = b"/Resources<</XObject<</X 5 0 R>>>>"
FORM = b"/Type/XObject/Subtype/Form/BBox[0 0 300 200]" + SELF
GLYPH = stream(b"", b"100 0 d0 BT /F 9 Tf (a) Tj ET")
FONT = (
    b"<</Type/Font/Subtype/Type3/FontBBox[0 0 9 9]/FontMatrix[1 0 0 1 0 0]/FirstChar 97"
    b"/LastChar 97/Widths[9]/Encoding<</Differences[97/a]>>/CharProcs<</a 6 0 R>>"
    b"/Resources<</Font<</F 5 0 R>>>>>>"
)
PICTURE = b"/Type/XObject/Subtype/Image/Width %d/Height %d/ColorSpace/DeviceGray/BitsPerComponent 8"
LETTERS = b"/Resources<</Font<</F 5 0 R>>>>"

OTHERS = {
    "gif": encoded(RED, "GIF"),
    "bmp": encoded(RED, "BMP"),
    "ico": encoded(RED, "ICO"),
    "ppm": encoded(RED, "PPM"),
    "jpeg 2000": encoded(RED, "JPEG2000"),
    "svg with script": b"<svg xmlns='http://www.w3.org/2000/svg'>" + SCRIPT + b"</svg>",
    "page with script": b"<!doctype html>" + SCRIPT,
    "xml that grows": b"<!DOCTYPE a [<!ENTITY b 'bb'><!ENTITY c '&b;&b;'>]><a>&c;</a>",
    "archive": zipped(),
    "gzip": gzip.compress(SCRIPT),
    "program": b"MZ" + bytes(200),
    "other program": b"\x7fELF" + bytes(200),
    "postscript": b"%!PS-Adobe-3.0\n(%stdout) (w) file",
    "text": HIDDEN,
    "high range": b"#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 9 +X 9\n",
    "layers": b"8BPS\0\1" + bytes(60),
    "film": b"\0\0\0\x20ftypisom\0\0\2\0isomiso2avc1mp41",
    "avif": b"\0\0\0\x1cftypavif\0\0\0\0avifmiaf",
    "heic": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic",
    "noughts": bytes(5000),
}

REFUSED: dict[str, Callable[[], bytes]] = {
    **{f"{name}, as a picture": (lambda data=data: data) for name, data in OTHERS.items()},
    **{
        f"{kind}, {part} % of it": lambda kind=kind, part=part: (
            whole := encoded(noise(200, 200), kind)
        )[: len(whole) * part // 100]
        for kind in KINDS
        for part in (10, 60)
    },
    "JPEG, its mark alone": lambda: b"\xff\xd8\xff",
    "PNG, its mark alone": lambda: b"\x89PNG\r\n\x1a\n",
    "TIFF, its mark alone": lambda: b"II*\0",
    "WebP, its mark alone": lambda: b"RIFF\x10\0\0\0WEBPVP8 ",
    "a PNG of 60,000 px a side": lambda: png_header(60_000, 60_000),
    "a PNG of 1 × 100,000 px": lambda: png_header(1, 100_000),
    "a PNG of 100,000 × 1 px": lambda: png_header(100_000, 1),
    "a PNG of no width": lambda: png_header(0, 10),
    "a palette of 900 million px": lambda: png_header(30_000, 30_000)[:24] + b"\1\3\0\0\0" + PNG,
    "a TIFF of 50,000 px a side": lambda: tiff_of(50_000, 50_000),
    "a TIFF whose strip lies outside": lambda: tiff_of(90, 60, (273, 4, 1, 2**31)),
    "a TIFF of 60,000 bands": lambda: tiff_of(90, 60, (277, 3, 1, 60_000)),
    "a JPEG of 65,000 px a side": lambda: JPEG.replace(
        b"\0\x3c\0\x5a", struct.pack(">HH", 65_000, 65_000), 1
    ),
    "a JPEG of no height": lambda: JPEG.replace(b"\0\x3c\0\x5a", b"\0\0\0\0", 1),
    "a PNG with a wrong sum": lambda: PNG[:-20] + b"\x77" + PNG[-19:],
    "a PDF, its mark alone": lambda: b"%PDF-1.7",
    "half a PDF": lambda: page(b"0 0 9 9 re f" * 99)[:300],
    "a PDF that asks for a password": lambda: locked("user"),
    "a PDF whose pages hold themselves": lambda: pdf(CATALOGUE % b"", LOOP),
    "a PDF of 10,000 pages": lambda: many_pages(10_000),
    "a PDF that says it has 1,000,000 pages": lambda: page().replace(b"Count 1", b"Count 1000000"),
    "a page of 200,000 pt": lambda: page(box=b"0 0 200000 200000"),
    "a page of 144,000 × 1 pt": lambda: page(box=b"0 0 144000 1"),
    "a PDF without a catalogue": lambda: pdf(b"<<>>"),
    "a PDF of arrays in arrays": lambda: pdf(b"[" * 100_000),
    "a JPEG that is a PDF further on": lambda: b"\0" * 90 + page()[:120],
}

PLAIN: dict[str, Callable[[], bytes]] = {
    "a JPEG with an archive behind it": lambda: JPEG + zipped(),
    "a PNG with a script behind it": lambda: PNG + SCRIPT,
    "a PNG with a script in its words": lambda: words(SCRIPT),
    "a JPEG with a PDF in its comment": lambda: encoded(RED, "JPEG", comment=b"%PDF-1.7" + HIDDEN),
    **{f"a {kind} that says where": lambda kind=kind: with_place(kind) for kind in KINDS},
    "words that grow by a thousand": lambda: bomb(b"zTXt", b"Comment\0\0"),
    "a profile that grows by a thousand": lambda: bomb(b"iCCP", b"profile\0\0"),
    "a profile that is none": lambda: encoded(RED, "JPEG", icc_profile=HIDDEN),
    "a profile of other colours": lambda: encoded(
        RED.convert("CMYK"), "JPEG", icc_profile=srgb().replace(b"built-in", HIDDEN[:8])
    ),
    "an orientation that there isn't": lambda: encoded(
        RED, "JPEG", exif=b"Exif\0\0MM\0*\0\0\0\x08\0\1\1\x12\0\3\0\0\0\1\0\x63\0\0\0\0\0\0"
    ),
    "a TIFF whose directory leads to itself": lambda: tiff_of(90, 60, after=8),
    "a TIFF whose strip is said to be short": lambda: tiff_of(90, 60, (279, 4, 1, 7)),
    "more pixels than it says": lambda: (
        png_header(9, 9)[:33]
        + chunk(b"IDAT", zlib.compress(bytes(60 * 2**20), 9))
        + chunk(b"IEND", b"")
    ),
    "a PDF with a script": lambda: page(
        catalogue=b"/OpenAction<</S/JavaScript/JS(app.alert\\(1\\))>>"
    ),
    "a PDF that starts a program": lambda: page(catalogue=b"/OpenAction<</S/Launch/F(/bin/sh)>>"),
    "a PDF that may not be changed": lambda: locked(""),
    "a drawing that draws itself": lambda: page(
        b"/X Do", b"0 0 300 200", SELF, stream(FORM, b"/X Do")
    ),
    "letters that draw themselves": lambda: page(
        b"BT /F 9 Tf (aaa) Tj ET", b"0 0 300 200", LETTERS, FONT, GLYPH
    ),
    "a picture of 40,000 px a side in a PDF": lambda: page(
        b"300 0 0 200 0 0 cm /X Do",
        b"0 0 300 200",
        SELF,
        stream(PICTURE % (40_000, 40_000) + b"/Filter/FlateDecode", zlib.compress(bytes(10**6))),
    ),
    "a page upside down": lambda: page(box=b"300 200 0 0"),
    "a graphics state that is never closed": lambda: page(b"q " * 50_000),
    "a PDF that names itself as the former": lambda: page().replace(b"/Size 5", b"/Size 5/Prev 9"),
}
