"""Pictures that tests store."""

import io

from PIL import Image


def picture(author):
    """A JPEG with its author in it twice: as Exif and as a comment."""
    out, exif = io.BytesIO(), Image.Exif()
    exif[0x013B] = author
    Image.new("RGB", (60, 40), "white").save(out, "JPEG", exif=exif, comment=author.encode())
    return out.getvalue()
