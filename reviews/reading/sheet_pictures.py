"""Send a sheet's picture, its tiles and its original to whoever may have them. The caller asks who.

Each answer is private and tells what it is an answer of, so that a browser that has it gets no
bytes. A sheet in preparation is asked for anew each time; an issued one never changes, and stands
in its reader's browser for an hour, so that what was shown there once needs no network.
"""

from __future__ import annotations

import logging
from contextlib import suppress

from django.db.models.fields.files import FieldFile
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from reviews.models import Original, SheetFile
from reviews.reading.file_sending import Sent, opened_at, send_file
from reviews.tiles import TilePack

FULL, PREVIEW, SMALL = "full", "preview", "small"
JPEG = b"\xff\xd8"
PACKS_KNOWN = 200
"""Packs of tiles of which a process knows where each tile lies."""

IN_PLACE = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 420 297" role="img">
<title>{said}</title>
<rect width="420" height="297" fill="#fff" stroke="#000" stroke-dasharray="6 4"/>
<g font-family="sans-serif" font-size="20" text-anchor="middle">
<text x="210" y="135">{said}.</text>
<text x="210" y="175">{mended_by}.</text>
</g></svg>"""
"""Stands where a picture would, and says what mends it."""

LOG = logging.getLogger(__name__)


def send_picture(
    request: HttpRequest, file: SheetFile, size: str, name: str, *, is_fixed: bool = False
) -> HttpResponseBase:
    """Answer with a picture in one of its sizes.

    is_fixed   whether the address will always be that of this picture
    """
    kept = {FULL: file.image, PREVIEW: file.preview, SMALL: file.small or file.preview}
    if size not in kept:
        raise Http404(f"No picture of size {size}.")
    stored = kept[size]
    kind = "webp" if str(stored).endswith(".webp") else "jpeg"
    shown = f"{name}.{kind.replace('jpeg', 'jpg')}"
    sent = Sent(f"{file.sha256}-{size}", file.kept_at, f"image/{kind}", shown, is_fixed)
    try:
        return send_file(request, stored, sent)
    except FileNotFoundError:
        return _in_place(404, "The file is missing", "Hang the same picture again")
    except OSError as error:
        LOG.error("Sending a picture: %s", error)
        return _in_place(503, "The store doesn’t answer", "Look again in a minute")


def send_tile(
    request: HttpRequest,
    file: SheetFile,
    level: int,
    column: int,
    row: int,
    *,
    is_fixed: bool = False,
) -> HttpResponseBase:
    """Answer with one tile of a picture, by one read of its bytes from the pack."""
    if not file.tiles:
        raise Http404("No tiles are made of the picture.")
    pack = TilePack(file.width, file.height)
    try:
        pack.place(level, column, row)
    except IndexError as none:
        raise Http404(str(none)) from none
    sent = Sent(f"{file.sha256}-{level}-{column}-{row}", file.kept_at, "image/jpeg", "", is_fixed)
    if (unchanged := sent.unchanged(request)) is not None:
        return unchanged
    try:
        tile = _tile(file.tiles, pack, level, column, row)
    except FileNotFoundError:
        return _in_place(404, "The tiles are missing", "The whole picture is there")
    except (OSError, ValueError) as error:
        LOG.error("Sending a tile: %s", error)
        return _in_place(503, "The tile can’t be read", "Look again in a minute")
    return sent.headed(HttpResponse(tile, content_type=sent.kind))


_heads: dict[str, bytes] = {}
"""Where the tiles lie, by the pack's name, read of each once."""


def _tile(stored: FieldFile, pack: TilePack, level: int, column: int, row: int) -> bytes:
    """One tile; where they lie is read anew where it isn't there: a lost pack was made again."""
    name = str(stored)
    if head := _heads.pop(name, b""):
        with suppress(ValueError):
            tile = _jpeg(stored, pack.span(head, level, column, row))
            _heads[name] = head
            return tile
    with opened_at(stored, 0, pack.head_bytes) as opened:
        head = opened.read(pack.head_bytes)
    tile = _jpeg(stored, pack.span(head, level, column, row))
    if len(_heads) >= PACKS_KNOWN:
        _heads.clear()
    _heads[name] = head
    return tile


def _jpeg(stored: FieldFile, span: tuple[int, int]) -> bytes:
    begin, end = span
    with opened_at(stored, begin, end - begin) as opened:
        tile = opened.read(end - begin)
    if not tile.startswith(JPEG):
        raise ValueError("A tile that is no picture")
    return tile


def send_original(request: HttpRequest, original: Original | None, name: str) -> HttpResponseBase:
    """Answer with a file as it was sent: to be kept, never shown, for nobody looked into it."""
    if original is None:
        raise Http404("The file as it was sent isn’t kept.")
    sent = Sent(
        original.sha256,
        original.kept_at,
        "application/octet-stream",
        name or f"{original.sha256[:12]}",
        is_attachment=True,
    )
    try:
        return send_file(request, original.file, sent)
    except FileNotFoundError:
        raise Http404("The file as it was sent is missing.") from None


def _in_place(status: int, said: str, mended_by: str) -> HttpResponse:
    """Answer in words, drawn where the picture would be."""
    drawn = IN_PLACE.format(said=said, mended_by=mended_by)
    answer = HttpResponse(drawn, content_type="image/svg+xml", status=status)
    answer["Cache-Control"] = "no-store"
    return answer
