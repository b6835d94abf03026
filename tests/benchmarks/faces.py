"""Make the lettering's files: faces cut down to what is lettered, with the signs that they lack.

    python -m tests.benchmarks.faces FOLDER

The folder holds the whole files of Barlow Semi Condensed 1.408 (400, 500, 600), of Faustina 5.3.0
(variable, Latin and Latin Extended, upright and italic) and the Greek of Sofia Sans Semi Condensed
5.3.0 (400, 500, 600): under the SIL Open Font License 1.1, without reserved names. It takes
fontTools and brotli, writes the files and the advances that drawings are measured by.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from fontTools.pens.recordingPen import DecomposingRecordingPen  # type: ignore[import-untyped]
from fontTools.pens.transformPen import TransformPen  # type: ignore[import-untyped]
from fontTools.pens.ttGlyphPen import TTGlyphPen  # type: ignore[import-untyped]
from fontTools.subset import Options, Subsetter  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from fontTools.varLib.instancer import instantiateVariableFont  # type: ignore[import-untyped]

ROOT = Path(__file__).parents[2]
FACES = ROOT / "reviews" / "static" / "reviews" / "fonts"
ADVANCES = ROOT / "criteria" / "drawing" / "advances.csv"
WEIGHTS = {"Regular": 400, "Medium": 500, "SemiBold": 600}
MADE = {0x2009, 0x202F, 0x2011, 0x2080, 0x2081, 0x2082, 0x2070, 0x207B, 0x208A, 0x208B}
DRAWN = {0x2190, 0x2192, 0x2308, 0x2309, 0x25BD}
LATIN = {*range(0x20, 0x7F), *range(0xA0, 0x100), *range(0x2010, 0x2027)} | {
    *(
        0x131,
        0x152,
        0x153,
        0x2030,
        0x2032,
        0x2033,
        0x2044,
        0x20AC,
        0x2212,
        0x221A,
        0x222B,
        0x2248,
        0x2260,
    ),
    *(0x2264, 0x2265, 0x215B, 0x215C, 0x215D, 0x215E, 0x394, 0x3BC, 0x3C0),
}
EXTENDED = {*range(0x100, 0x180), 0x233}
GREEK = {*range(0x391, 0x3CA)}
CAP = 700
"""Height of capitals, to which Greek is brought [1/1000 em]."""
FEATURES = ["kern", "liga", "ccmp", "locl", "mark", "mkmk", "frac", "numr", "dnom", "sups"]
Points = Sequence[tuple[float, float]]


def cut(font: TTFont, signs: Iterable[int], name: str) -> None:
    """Keep these signs and write the file."""
    options = Options()
    options.layout_features, options.flavor, options.hinting = FEATURES, "woff2", False
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=signs)
    subsetter.subset(font)
    if "fvar" in font:
        instantiateVariableFont(font, {"wght": (400, 400, 600)}, inplace=True)
    font.flavor = "woff2"
    font.save(FACES / name)


def even_figures(font: TTFont) -> None:
    """Let all ten figures have one width, for whoever asks for no feature too."""
    names = font.getBestCmap()
    lookups = font["GSUB"].table
    wanted = next(f for f in lookups.FeatureList.FeatureRecord if f.FeatureTag == "tnum")
    for index in wanted.Feature.LookupListIndex:
        for table in lookups.LookupList.Lookup[index].SubTable:
            mapping = getattr(table, "ExtSubTable", table).mapping
            for part in font["cmap"].tables:
                for sign in range(0x30, 0x3A):
                    if part.isUnicode() and names[sign] in mapping:
                        part.cmap[sign] = mapping[names[sign]]


def add(font: TTFont, sign: int, glyph: Any, advance: int) -> None:
    """Give a face one sign more."""
    name = f"uni{sign:04X}"
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = glyph
    font["hmtx"][name] = (advance, getattr(glyph, "xMin", 0) or 0)
    for part in font["cmap"].tables:
        if part.isUnicode():
            part.cmap[sign] = name


def of_glyph(font: TTFont, source: int, scale: float = 1.0, up: float = 0.0) -> tuple[Any, int]:
    """A sign of the face made smaller and moved up, as an outline of its own."""
    glyphs, name, pen = font.getGlyphSet(), font.getBestCmap()[source], TTGlyphPen(None)
    whole = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(whole)
    whole.replay(TransformPen(pen, (scale, 0, 0, scale, 0, up)))
    return pen.glyph(), round(font["hmtx"][name][0] * scale)


def of_points(*outlines: Points) -> Any:
    """Straight outlines, clockwise what is filled."""
    pen = TTGlyphPen(None)
    for first, *rest in outlines:
        pen.moveTo(first)
        for point in rest:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


def add_signs(font: TTFont, line: float) -> None:
    """Add what the face lacks: thin spaces, lowered and raised figures, arrows, corners, a level.

    line   thickness of what is drawn [1/1000 em]
    """
    for space in (0x2009, 0x202F):
        add(font, space, of_points(), 120)
    add(font, 0x2011, *of_glyph(font, 0x2D))
    small = 0.62
    for sign, source, up in (
        *((0x2080 + n, 0x30 + n, -140) for n in range(3)),
        *((0x208A, 0x2B, -140), (0x208B, 0x2212, -140), (0x2070, 0x30, 300), (0x207B, 0x2212, 300)),
    ):
        add(font, sign, *of_glyph(font, source, small, up))
    half, mid = line / 2, 330
    right = [(40, mid + half), (470, mid + half), (470, mid + 130), (700, mid), (470, mid - 130),
             (470, mid - half), (40, mid - half)]  # fmt: skip
    add(font, 0x2192, of_points(right), 740)
    add(font, 0x2190, of_points([(740 - x, y) for x, y in reversed(right)]), 740)
    corner = [(70, 740), (300, 740), (300, 740 - line), (70 + line, 740 - line), (70 + line, -100),
              (70, -100)]  # fmt: skip
    add(font, 0x2308, of_points(corner), 330)
    add(font, 0x2309, of_points([(330 - x, y) for x, y in reversed(corner)]), 330)
    outer, k = [(40, 620), (660, 620), (350, 60)], line
    inner = [(350, 60 + 2.1 * k), (660 - 1.85 * k, 620 - k), (40 + 1.85 * k, 620 - k)]
    add(font, 0x25BD, of_points(outer, inner), 700)


def advances(fonts: Iterable[TTFont]) -> dict[int, float]:
    """How far each sign moves on, the widest of all faces that draw it [em]; figures are even."""
    widest: dict[int, float] = {}
    for font in fonts:
        for sign, name in font.getBestCmap().items():
            em = font["hmtx"][name][0] / font["head"].unitsPerEm
            widest[sign] = max(widest.get(sign, 0.0), em)
    return widest | dict.fromkeys(range(0x30, 0x3A), max(widest[n] for n in range(0x30, 0x3A)))


def main(folder: Path) -> None:
    found = {path.name: path for path in folder.rglob("*") if path.suffix in (".ttf", ".woff2")}
    for name, weight in WEIGHTS.items():
        font = TTFont(found[f"BarlowSemiCondensed-{name}.ttf"])
        even_figures(font)
        add_signs(font, {400: 70, 500: 86, 600: 104}[weight])
        greek = TTFont(found[f"sofia-sans-semi-condensed-greek-{weight}-normal.woff2"])
        there = greek.getBestCmap().keys() & GREEK
        for sign in sorted(there - font.getBestCmap().keys()):
            add(font, sign, *of_glyph(greek, sign, CAP / greek["OS/2"].sCapHeight))
        cut(font, LATIN | EXTENDED | MADE | DRAWN | there, f"BarlowSemiCondensed-{name}.woff2")
    for slope in ("normal", "italic"):
        for part, signs in (("latin", LATIN), ("latin-ext", EXTENDED)):
            font = TTFont(found[f"faustina-{part}-wght-{slope}.woff2"])
            if part == "latin":
                even_figures(font)
            cut(font, signs, f"Faustina-{part}-{slope}.woff2")
    drawn = [TTFont(path) for path in FACES.glob("Barlow*.woff2")]
    for path in FACES.glob("atkinson*normal.woff2"):
        drawn += [instantiateVariableFont(TTFont(path), {"wght": weight}) for weight in (400, 600)]
    wide = advances(drawn)
    with ADVANCES.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["sign", "em"])
        rows.writerows([f"{sign:04X}", f"{em:.3f}"] for sign, em in sorted(wide.items()))
    for path in sorted(FACES.glob("*.woff2")):
        print(f"{path.stat().st_size / 1000:6.1f} KB  {path.name}")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
