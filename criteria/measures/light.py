"""Window ratios: how much clear glass, and how much of it opens, for a floor."""

from criteria.errors import require_fraction, require_not_negative, require_positive


def clear_glass(n: int, width_m: float, height_m: float) -> float:
    """Return the clear glass of n windows alike [m²].

        A_g = n · w · h

    Clear glass lies between beads: frames and bars are left out.

    >>> round(clear_glass(2, 1.24, 1.04), 4)
    2.5792
    """
    require_positive("number of windows", n, "no.")
    require_positive("glass width", width_m, "m")
    require_positive("glass height", height_m, "m")
    return n * width_m * height_m


def opening_area(glass_m2: float, open_share: float) -> float:
    """Return the clear opening of a window [m²]: its glass times the share that opens [1]."""
    require_not_negative("clear glass", glass_m2, "m²")
    return glass_m2 * require_fraction("open share", open_share)


def daylight_ratio(glass_m2: float, floor_m2: float) -> float:
    """Return clear glass over floor [1].

        r = A_g / A_f

        A_g  clear glass of the room                 [m²]
        A_f  whole floor, low parts included         [m²]

    Applies to: one room lit from outside. Says nothing of orientation, obstruction,
        depth or glass kind.
    Source: the ratio that IRC 2021 R303.1 limits; worked case D2 of the tests.

    >>> daylight_ratio(0.80, 10.00)
    0.08
    """
    require_not_negative("clear glass", glass_m2, "m²")
    return glass_m2 / require_positive("floor", floor_m2, "m²")


def openable_ratio(opening_m2: float, floor_m2: float) -> float:
    """Return clear opening over floor [1].

        r = A_o / A_f

        A_o  clear opening to outside     [m²]
        A_f  floor of the room            [m²]

    Source: the ratio that IRC 2021 R303.1 limits.
    """
    require_not_negative("clear opening", opening_m2, "m²")
    return opening_m2 / require_positive("floor", floor_m2, "m²")
