"""Envelope: what walls, roof and floor are made of, layer by layer."""

from criteria.typed.columns import ASKED, Blank, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import (
    ANGLE,
    AREA,
    CONDUCTIVITY,
    DENSITY,
    RATIO,
    RESISTANCE,
    SHARE,
    SPECIFIC_HEAT,
    THICKNESS,
)

PARTS = ("wall", "roof", "floor")

FACES = ("north_m2", "east_m2", "south_m2", "west_m2")
"""Where a wall's outermost row says how much of it looks which way, clockwise from north."""
FACES_ADD_UP = 0.01
"""By how much they may miss the gross wall. Relative [1]. Ours."""

CLAIM_KINDS = ("layer alone", "air space included", "evacuated glazing", "reflectance as R")
"""What a claimed resistance covers: only that of a layer alone can be held to its thickness."""


SUN_TAKEN_UP = (("pale", 0.3), ("middle", 0.6), ("dark", 0.9))
"""Part of the sun's heat that an outer face takes up, by word [1]. Common practice."""
DARK = 0.9
"""Taken where nothing is said of an outer face: in summer that errs on the hot side [1]."""


def _no_framing(row: "Layer") -> Blank | None:
    """What a blank conductivity of framing means: nothing where no share is given either."""
    return ASKED if row.unless_blank("bridge_share") else None


def _no_share(row: "Layer") -> Blank | float:
    """What a blank share of framing means: none where no conductivity is given either."""
    return 0.0 if row.unless_blank("bridge_w_mk") is None else ASKED


@schedule(
    "envelope",
    "Envelope layers",
    purpose="The layers of wall, roof and floor, outside to inside. U-values and heat loss are "
    "counted from them.",
)
class Layer(Row):
    """One layer of one part of the envelope."""

    part: str = word("part", PARTS, required=True, eg="wall").says("Which part of the envelope.")
    layer: str | None = text("layer", required=True, eg="Wood-fibre board").says(
        "What it is made of."
    )
    thickness_m: float = quantity("mm", THICKNESS, "Thickness", within=(0.00001, 2), eg="60").says(
        "Thickness of the layer."
    )
    lambda_w_mk: float | None = quantity(
        "lambda", CONDUCTIVITY, "λ", within=(0.001, 400), eg="0.045"
    ).says(
        "Design conductivity; leave blank for a layer outside a vented cavity: it isn't counted.",
        blank=None,
    )
    gross_area_m2: float = quantity(
        "gross_area_m2", AREA, "Gross area of the part", within=(0.1, 2000), eg="112"
    ).says(
        "Whole wall, roof or floor, openings included; the same in each row of the part that "
        "gives it."
    )
    bridge_w_mk: float | None = quantity(
        "bridge_lambda", CONDUCTIVITY, "λ of framing", within=(0.001, 400), eg="0.13"
    ).says(
        "Conductivity of studs or joists that interrupt the layer; blank where nothing does.",
        blank=_no_framing,
    )
    bridge_share: float = quantity(
        "bridge_share", SHARE, "Framing share", within=(0, 1), eg="0.15"
    ).says(
        "Part of the layer's area that is framing: 0.15 to 0.25 is usual in timber walls; blank "
        "is none where no framing is given.",
        blank=_no_share,
    )
    claimed_m2k_w: float | None = quantity(
        "claimed_r", RESISTANCE, "Claimed R", within=(0, 40), eg="1.3"
    ).says("Resistance that the maker claims for this layer; blank is none.", blank=None)
    claim_covers: str = word("claim_covers", CLAIM_KINDS).says(
        "What the claimed R is of; an air space or reflectance isn't the layer's own. Blank is "
        "the layer alone.",
        blank="layer alone",
    )
    absorptance: float = quantity(
        "outside_absorptance", SHARE, "Sun taken up", within=(0, 1), named=SUN_TAKEN_UP, eg="0.6"
    ).says(
        "Of the part's outermost layer: pale 0.3, middle 0.6, dark 0.9, or what its test report "
        "says; blank is dark.",
        blank=DARK,
    )
    sun_share: float = quantity("sun_share", SHARE, "Sun let past", within=(0, 1), eg="1").says(
        "Part of the sun at the hottest hour that trees, a second roof or eaves let reach the "
        "part, in its outermost row; blank is 1, no shade.",
        blank=1.0,
    )
    vapour_factor: float = quantity("mu", RATIO, "μ", within=(1, 1e7), eg="1.3").says(
        "How much less vapour it lets through than still air: 1 to 3 fibre, 10 plasterboard, 50 "
        "to 200 boards and plywood, 1,000,000 metal. Asked for wetting between layers alone."
    )
    density_kg_m3: float | None = quantity("density", DENSITY, within=(0.5, 12_000), eg="160").says(
        "Blank is by the word for what it is made of.", blank=None
    )
    heat_j_kgk: float | None = quantity(
        "specific_heat", SPECIFIC_HEAT, within=(50, 5000), eg="2000"
    ).says(
        "Heat that a kilogram takes up for a degree; blank is by the word for what it is made of.",
        blank=None,
    )
    north_m2: float | None = quantity("faces_n", AREA, "of which N", within=(0, 2000)).says(
        "In the wall's outermost row: how much of it looks north, openings included. Blank is "
        "what the plan's outside walls make of it.",
        blank=None,
    )
    east_m2: float | None = quantity("faces_e", AREA, "of which E", within=(0, 2000)).says(
        "The same to the east; blank is none where another way is given.", blank=None
    )
    south_m2: float | None = quantity("faces_s", AREA, "of which S", within=(0, 2000)).says(
        "The same to the south.", blank=None
    )
    west_m2: float | None = quantity("faces_w", AREA, "of which W", within=(0, 2000)).says(
        "The same to the west.", blank=None
    )
    turned_deg: float | None = quantity("turned", ANGLE, "Turned", within=(-45, 45)).says(
        "How far the walls look clockwise of those four ways, in the same row; blank is 0 or 45, "
        "as most glass does.",
        blank=None,
    )
