"""Colour: a chart in print colours comes back as the colours that it was made of.

The profile is the one of print colours that libvips ships; the chart is converted by another
library (Pillow's), and the difference is measured by CIEDE2000 as written here, held to the 34
pairs that Sharma, Wu and Dalal published with it (Color Research & Application 30, 2005, table 1).
"""

import io
from math import atan2, cos, degrees, exp, hypot, radians, sin

import numpy as np
import pytest
import pyvips
from PIL import Image, ImageCms

from reviews.plain_picture import make_plain

pytestmark = pytest.mark.apart

Lab = tuple[float, float, float]

PAIRS = """
50 2.6772 -79.7751 50 0 -82.7485 2.0425
50 3.1571 -77.2803 50 0 -82.7485 2.8615
50 2.8361 -74.0200 50 0 -82.7485 3.4412
50 -1.3802 -84.2814 50 0 -82.7485 1.0000
50 -1.1848 -84.8006 50 0 -82.7485 1.0000
50 -0.9009 -85.5211 50 0 -82.7485 1.0000
50 0 0 50 -1 2 2.3669
50 -1 2 50 0 0 2.3669
50 2.4900 -0.0010 50 -2.4900 0.0009 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0010 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0011 7.2195
50 2.4900 -0.0010 50 -2.4900 0.0012 7.2195
50 -0.0010 2.4900 50 0.0009 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0010 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0011 -2.4900 4.7461
50 2.5 0 50 0 -2.5 4.3065
50 2.5 0 73 25 -18 27.1492
50 2.5 0 61 -5 29 22.8977
50 2.5 0 56 -27 -3 31.9030
50 2.5 0 58 24 15 19.4535
50 2.5 0 50 3.1736 0.5854 1.0000
50 2.5 0 50 3.2972 0 1.0000
50 2.5 0 50 1.8634 0.5757 1.0000
50 2.5 0 50 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082
"""


def difference(one: Lab, other: Lab) -> float:
    """CIEDE2000 of two colours (CIE 142-2001), by the formulas of Sharma and others."""
    mean_c = (hypot(*one[1:]) + hypot(*other[1:])) / 2
    g = 0.5 * (1 - (mean_c**7 / (mean_c**7 + 25**7)) ** 0.5)
    (l1, c1, h1), (l2, c2, h2) = (
        (light, hypot((1 + g) * a, b), degrees(atan2(b, (1 + g) * a)) % 360)
        for light, a, b in (one, other)
    )
    turn = h2 - h1 - 360 * round((h2 - h1) / 360) if c1 * c2 else 0
    if abs(h2 - h1) == 180:
        turn = h2 - h1
    hue = h1 + turn / 2 if c1 * c2 else h1 + h2
    dl, dc, dh = l2 - l1, c2 - c1, 2 * (c1 * c2) ** 0.5 * sin(radians(turn / 2))
    light, chroma = (l1 + l2) / 2, (c1 + c2) / 2
    t = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    sl = 1 + 0.015 * (light - 50) ** 2 / (20 + (light - 50) ** 2) ** 0.5
    sc, sh = 1 + 0.045 * chroma, 1 + 0.015 * chroma * t
    wave = 30 * exp(-((((hue % 360) - 275) / 25) ** 2))
    rt = -2 * (chroma**7 / (chroma**7 + 25**7)) ** 0.5 * sin(radians(2 * wave))
    parts = dl / sl, dc / sc, dh / sh
    return (sum(part**2 for part in parts) + rt * parts[1] * parts[2]) ** 0.5


@pytest.mark.parametrize("line", PAIRS.split("\n")[1:-1])
def test_the_difference_is_the_published_one(line):
    *two, published = map(float, line.split())
    assert difference(tuple(two[:3]), tuple(two[3:])) == pytest.approx(published, abs=6e-5)


def lab_of(rgb: np.ndarray) -> np.ndarray:
    """sRGB as CIELAB of D65 (IEC 61966-2-1)."""
    part = rgb / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    )
    ratio = linear @ to_xyz.T / np.array([0.9505, 1.0, 1.089])
    root = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    x, y, z = root.T
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=1)


def differences(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """CIEDE2000 of colours in sRGB, one by one."""
    pairs = zip(lab_of(one.astype(float)), lab_of(other.astype(float)), strict=True)
    return np.array([difference(tuple(a), tuple(b)) for a, b in pairs])


def middles(chart: Image.Image) -> np.ndarray:
    """The colour in the middle of each patch."""
    return np.asarray(chart)[8, 8::16]


def test_a_chart_in_print_colours_comes_back_as_it_was(tmp_path):
    """125 patches, each 16 px square; of those that these inks can be, by the other library."""
    levels = (70, 108, 146, 184, 222)
    colours = np.array([(r, g, b) for r in levels for g in levels for b in levels], np.uint8)
    patches = Image.fromarray(colours.reshape(1, 125, 3)).resize((125 * 16, 16), 0)
    profile = bytes(pyvips.Operation.call("profile_load", "cmyk"))
    srgb, inks = ImageCms.createProfile("sRGB"), ImageCms.ImageCmsProfile(io.BytesIO(profile))
    how = {"renderingIntent": 1, "flags": ImageCms.Flags.BLACKPOINTCOMPENSATION}
    printed = ImageCms.profileToProfile(patches, srgb, inks, outputMode="CMYK", **how)
    seen = ImageCms.profileToProfile(printed, inks, srgb, outputMode="RGB", **how)
    can_be = differences(colours, middles(seen)) < 3
    assert can_be.sum() > 80

    paths = [str(tmp_path / name) for name in ("sent", "image", "preview", "small")]
    printed.save(paths[0], "JPEG", quality=95, icc_profile=profile)
    make_plain(*paths)
    with Image.open(paths[1]) as image:
        apart = differences(colours, middles(image.convert("RGB")))
    assert np.mean(apart[can_be]) < 3

    bare = differences(colours, middles(printed.convert("RGB")))
    assert np.mean(bare[can_be]) > 6  # what it would be without the profile
