"""One picture as square tiles of every size, packed into one file: where each lies.

Level 0 is the whole picture, level n that halved n times, until it fits into one tile. Tiles
don't overlap; those of the last column and row are narrower. An address names level, column and
row, each from 0, columns from the left and rows from the top. A pack is a mark, the width and the
height of the picture, where each tile begins in the file and where the last ends, all 32 bits,
the high first, and then the tiles as JPEG: whole first, row by row. So whoever knows a picture's
size reads its head once and then each tile alone.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import IO, NamedTuple

MARK = b"tiles\0\0\1"
TILE_PX = 512
WORTH_PX = 2500
"""Longest side over which a picture is worth tiles [px]."""


class Level(NamedTuple):
    """One size of the picture [px], and how many tiles it is."""

    width: int
    height: int

    @property
    def columns(self) -> int:
        """Tiles side by side."""
        return -(-self.width // TILE_PX)

    @property
    def rows(self) -> int:
        """Tiles one under the other."""
        return -(-self.height // TILE_PX)


class Tile(NamedTuple):
    """One tile's address, and its size [px]."""

    level: int
    column: int
    row: int
    width: int
    height: int


@dataclass(frozen=True)
class TilePack:
    """How the tiles of a picture of so many pixels lie in their file.

    >>> pack = TilePack(10_800, 7_200)
    >>> pack.levels[0].columns, pack.levels[-1], len(pack)
    (22, Level(width=338, height=225), 451)
    """

    width: int
    height: int

    @property
    def is_worth_it(self) -> bool:
        """Whether the picture is larger than what a page shows of it at once."""
        return max(self.width, self.height) > WORTH_PX

    @cached_property
    def levels(self) -> list[Level]:
        """The whole picture first; each next is half as wide and high, rounded up."""
        found = [Level(self.width, self.height)]
        while max(found[-1]) > TILE_PX:
            found.append(Level(*(-(-side // 2) for side in found[-1])))
        return found

    @cached_property
    def _first(self) -> list[int]:
        """How many tiles lie before each level, and how many there are."""
        return list(accumulate((of.columns * of.rows for of in self.levels), initial=0))

    def __len__(self) -> int:
        return self._first[-1]

    def __iter__(self) -> Iterator[Tile]:
        """Every tile in the order in which they lie."""
        for n, level in enumerate(self.levels):
            for row in range(level.rows):
                for column in range(level.columns):
                    left, top = column * TILE_PX, row * TILE_PX
                    size = min(TILE_PX, level.width - left), min(TILE_PX, level.height - top)
                    yield Tile(n, column, row, *size)

    def place(self, level: int, column: int, row: int) -> int:
        """Which tile of the pack this is, from 0; raises IndexError where there is none."""
        if not 0 <= level < len(self.levels):
            raise IndexError(f"No level {level} of {len(self.levels)}")
        of = self.levels[level]
        if not (0 <= column < of.columns and 0 <= row < of.rows):
            raise IndexError(f"No tile {column}, {row} of {of.columns} × {of.rows}")
        return self._first[level] + row * of.columns + column

    @property
    def _head(self) -> bytes:
        return MARK + struct.pack(">2I", self.width, self.height)

    def head(self, lengths: Iterable[int]) -> bytes:
        """What stands before tiles of so many bytes each, in the order in which they lie."""
        begins = len(self._head) + 4 * (len(self) + 1)
        at = list(accumulate(lengths, initial=begins))
        return self._head + struct.pack(f">{len(self) + 1}I", *at)

    @property
    def head_bytes(self) -> int:
        """How long what stands before the tiles is [bytes]."""
        return len(self._head) + 4 * (len(self) + 1)

    def span(self, head: bytes, level: int, column: int, row: int) -> tuple[int, int]:
        """Where a tile begins and ends in the file, by what stands before the tiles.

        Raises as `read` does.
        """
        place = self.place(level, column, row)
        if not head.startswith(self._head):
            raise ValueError("A pack of another picture")
        if len(head) < self.head_bytes:
            raise ValueError("A pack that breaks off")
        begin, end = struct.unpack_from(">2I", head, len(self._head) + 4 * place)
        return begin, end

    def read(self, file: IO[bytes], level: int, column: int, row: int) -> bytes:
        """One tile as JPEG.

        Raises IndexError where the picture has no such tile, ValueError where the file is of
        another picture or breaks off.
        """
        file.seek(0)
        begin, end = self.span(file.read(self.head_bytes), level, column, row)
        file.seek(begin)
        if len(tile := file.read(end - begin)) < end - begin:
            raise ValueError("A pack that breaks off")
        return tile
