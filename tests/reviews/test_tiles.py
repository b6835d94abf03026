"""Tiles of a picture: how many, how large, and where each lies in its pack."""

import io
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.tiles import TILE_PX, Level, TilePack

sides = st.integers(1, 20_000)


def packed(pack: TilePack) -> io.BytesIO:
    """A pack whose tiles say which they are."""
    tiles = [f"{t.level}/{t.column}/{t.row}".encode() for t in pack]
    return io.BytesIO(pack.head(map(len, tiles)) + b"".join(tiles))


def test_a_sheet_of_a1_has_as_many_tiles_as_by_hand():
    """10,800 × 7,200 px: 22 × 15, 11 × 8, 6 × 4, 3 × 2, 2 × 1, 1 × 1 tiles of 512 px."""
    pack = TilePack(10_800, 7_200)
    by_hand = [(22, 15), (11, 8), (6, 4), (3, 2), (2, 1), (1, 1)]
    assert [(of.columns, of.rows) for of in pack.levels] == by_hand
    assert len(pack) == 330 + 88 + 24 + 6 + 2 + 1


@given(sides, sides)
def test_tiles_of_a_level_cover_it_once(width, height):
    pack = TilePack(width, height)
    covered = dict.fromkeys(range(len(pack.levels)), 0)
    for tile in pack:
        assert 0 < tile.width <= TILE_PX
        assert 0 < tile.height <= TILE_PX
        covered[tile.level] += tile.width * tile.height
    assert covered == {n: of.width * of.height for n, of in enumerate(pack.levels)}


@given(sides, sides)
def test_each_level_is_half_of_the_one_before_and_the_last_is_one_tile(width, height):
    levels = TilePack(width, height).levels
    assert levels[0] == (width, height)
    for larger, smaller in pairwise(levels):
        assert larger.columns * larger.rows > 1
        assert smaller == Level(-(-larger.width // 2), -(-larger.height // 2))
    assert (levels[-1].columns, levels[-1].rows) == (1, 1)


@pytest.mark.parametrize("size", [(1, 1), (512, 513), (3000, 2000), (20_000, 700)])
def test_every_tile_is_read_by_its_address(size):
    pack = TilePack(*size)
    file = packed(pack)
    for n, tile in enumerate(pack):
        assert pack.place(tile.level, tile.column, tile.row) == n
        said = f"{tile.level}/{tile.column}/{tile.row}".encode()
        assert pack.read(file, tile.level, tile.column, tile.row) == said


@pytest.mark.parametrize("address", [(-1, 0, 0), (3, 0, 0), (0, 4, 0), (0, 0, 3), (0, -1, 0)])
def test_what_is_no_address_is_an_index_error(address):
    pack = TilePack(2000, 1500)
    with pytest.raises(IndexError, match="No"):
        pack.read(packed(pack), *address)


def test_a_pack_of_another_picture_or_one_that_breaks_off_is_no_tile():
    pack = TilePack(2000, 1500)
    with pytest.raises(ValueError, match="another"):
        TilePack(1500, 2000).read(packed(pack), 0, 0, 0)
    for length in (10, 20, len(packed(pack).getvalue()) - 1):
        with pytest.raises(ValueError, match=r"another|breaks off"):
            pack.read(io.BytesIO(packed(pack).getvalue()[:length]), len(pack.levels) - 1, 0, 0)


def test_only_what_is_larger_than_a_page_shows_is_worth_tiles():
    sizes = [(2500, 2500), (2501, 9), (9, 2501)]
    assert [TilePack(*size).is_worth_it for size in sizes] == [False, True, True]
