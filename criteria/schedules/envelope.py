"""Envelope: what walls, roof and floor are made of, layer by layer."""

from criteria.typed.columns import Row, quantity, schedule, text, word
from criteria.units import AREA, CONDUCTIVITY, LENGTH, RESISTANCE, SHARE

PARTS = ("wall", "roof", "floor")

CLAIM_KINDS = ("layer alone", "air space included", "evacuated glazing", "reflectance as R")
"""What a claimed resistance covers: only that of a layer alone can be held to its thickness."""


@schedule(
    "envelope",
    "Envelope layers",
    purpose="The layers of wall, roof and floor, outside to inside. U-values and heat loss are "
    "counted from them.",
)
class Layer(Row):
    """One layer of one part of the envelope.

    thickness_m      [m]
    lambda_w_mk      design conductivity; blank is not counted, as behind a vented cavity [W/mK]
    gross_area_m2    area of the whole part, openings included [m²]
    bridge_w_mk      conductivity of what interrupts the layer, such as studs [W/mK]
    bridge_share     part of the layer's area that it takes [1]
    claimed_m2k_w    resistance that a maker claims for the layer [m²K/W]
    """

    part: str = word("part", "Part", PARTS, "Which part of the envelope.", required=True,
                            example="wall")  # fmt: skip
    layer: str | None = text("layer", "Layer", "What it is made of.", required=True,
                             example="Wood-fibre board")  # fmt: skip
    thickness_m: float = quantity(
        "mm", "Thickness", LENGTH, "Thickness of the layer.", least=0.00001, most=2, example="60"
    )
    lambda_w_mk: float = quantity(
        "lambda", "λ", CONDUCTIVITY,
        "Design conductivity; leave blank for a layer outside a vented cavity: it isn't counted.",
        least=0.001, most=400, example="0.045",
    )  # fmt: skip
    gross_area_m2: float = quantity(
        "gross_area_m2", "Gross area of the part", AREA,
        "Whole wall, roof or floor, openings included; the same in each row of the part.",
        least=0.1, most=2000, example="112",
    )  # fmt: skip
    bridge_w_mk: float = quantity(
        "bridge_lambda", "λ of framing", CONDUCTIVITY,
        "Conductivity of studs or joists that interrupt the layer; blank where nothing does.",
        least=0.001, most=400, example="0.13",
    )  # fmt: skip
    bridge_share: float = quantity(
        "bridge_share", "Framing share", SHARE,
        "Part of the layer's area that is framing: 0.15 to 0.25 is usual in timber walls.",
        least=0, most=1, example="0.15",
    )  # fmt: skip
    claimed_m2k_w: float = quantity(
        "claimed_r", "Claimed R", RESISTANCE,
        "Resistance that the maker claims for this layer, if one is claimed.",
        least=0, most=40, example="1.3",
    )  # fmt: skip
    claim_covers: str = word(
        "claim_covers", "Claim covers", CLAIM_KINDS,
        "What the claimed R is of; an air space or reflectance isn't the layer's own.",
    )  # fmt: skip

    @property
    def counts(self) -> bool:
        """Whether the layer is counted: its conductivity is known."""
        return self.lambda_w_mk is not None
