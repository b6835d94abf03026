"""The sheet that drawings hang on: ISO 5457 and ISO 7200, from memory."""

import pytest

from criteria.drawing.border import (
    A3_MM,
    TitleBlock,
    block_of,
    border,
    frame_of,
    hung,
    title_block,
    zone_lines,
)
from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.marks import (
    Disc,
    Lettering,
    Patches,
    Path,
    Ribbon,
    Strokes,
    box_of,
    meet,
    moved,
    rectangle,
)
from criteria.drawing.pens import Fill, Pen

BLOCK = TitleBlock(
    owner="H07 Hearthbox",
    title="Plan",
    creator="Noor Tavish and Kit Amberley",
    site="Saddle",
    day="Thursday 3 December 2026",
    scale="1:50",
    number="02",
    of=8,
    revision="B",
)


def within(box, frame) -> bool:
    return all(low <= at for low, at in zip(frame[:2], box[:2], strict=True)) and all(
        at <= high for at, high in zip(box[2:], frame[2:], strict=True)
    )


def test_the_frame_of_a3_leaves_390_by_277():
    left, top, right, bottom = frame_of()
    assert (left, right - left, bottom - top) == (20.0, 390.0, 277.0)
    frames = [mark for mark in border() if isinstance(mark, Path) and mark.pen is Pen.CUT]
    assert frames[0].points == rectangle(frame_of())
    assert len(frames) == 1 + 4


def test_each_zone_is_named_on_both_sides_and_between_its_ticks():
    letters = [mark for mark in border() if isinstance(mark, Lettering)]
    assert sorted(mark.words for mark in letters) == sorted("ABCD" * 2 + "123456" * 2)
    across, down = zone_lines()
    two = [mark for mark in letters if mark.words == "2"]
    bees = [mark for mark in letters if mark.words == "B"]
    assert all(across[0] < mark.box[0] and mark.box[2] < across[1] for mark in two)
    assert all(down[0] < mark.box[1] and mark.box[3] < down[1] for mark in bees)


def test_a_title_block_stands_in_its_corner_and_is_180_wide():
    box = block_of()
    assert box[2:] == frame_of()[2:]
    assert box[2] - box[0] == 180.0
    assert all(within(box_of(mark), box) for mark in title_block(BLOCK))


@pytest.mark.parametrize("times", [1, 8])
def test_words_of_a_title_block_fit_and_never_meet(times):
    long = {name: str(value) * times for name, value in vars(BLOCK).items() if name != "of"}
    letters = [
        mark for mark in title_block(TitleBlock(**long, of=8)) if isinstance(mark, Lettering)
    ]
    boxes = [mark.box for mark in letters]
    assert min(mark.cap_mm for mark in letters) == LEAST_MM
    assert not any(meet(a, b) for n, a in enumerate(boxes) for b in boxes[n + 1 :])
    assert all(within(box, block_of()) for box in boxes)


def test_a_hung_drawing_is_moved_whole():
    marks = (
        Path(points=((0, 0), (10, 5))),
        Strokes(segments=(((1, 1), (2, 2)),)),
        Patches(boxes=((1, 1, 2, 3), (4, 0, 5, 2)), fill=Fill.INK),
        Disc(middle=(5, 5), radius_mm=3),
        Ribbon(points=((0, 0), (10, 0)), width_mm=2),
        Lettering(words="W1", at=(3, 4)),
    )
    drawing = Drawing(title="A", says="It is.", width_mm=20, height_mm=10, marks=marks)
    sheet = hung(BLOCK, [(drawing, (30.0, 40.0))])
    assert (sheet.width_mm, sheet.height_mm, sheet.says) == (*A3_MM, "It is.")
    for mark, there in zip(marks, sheet.marks, strict=False):
        shift = [b - a for a, b in zip(box_of(mark), box_of(there), strict=True)]
        assert shift == pytest.approx([30, 40, 30, 40])
        assert moved(there, -30, -40) == mark
