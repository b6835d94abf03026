"""Water uses: what each person draws, fixture by fixture."""

from criteria.typed.columns import mark, quantity, text, word
from criteria.typed.rows import Row, schedule
from criteria.units import LITRES, MINUTES, RATIO, WATER_FLOW

GOES_TO = ("grey", "black", "urine", "nowhere")


@schedule(
    "fixtures",
    "Water uses",
    mark_prefix="F",
    purpose="Every use of water by a person in a day. Use per person-day is counted from it, "
    "beside the brief's.",
)
class Fixture(Row):
    """A use of water.

    uses_a_day      times a person uses it in a day [1/day]
    each_m3         water of one use, where it is drawn by volume [m³]
    flow_m3_s       flow, where it is drawn by time [m³/s]
    run_s           time of one use [s]
    """

    mark: str = mark()
    use: str | None = text("use", "Use", "Shower, wash hands, cook, flush; say waterless.",
                           required=True, example="Wash hands")  # fmt: skip
    uses_a_day: float = quantity(
        "uses_a_day", "Uses a day", RATIO, "Of one person.", least=0, most=50, example="5"
    )
    each_m3: float = quantity(
        "l_each", "L each", LITRES, "Of one use; leave blank where it runs by time.", least=0,
        most=1, example="0.5",
    )  # fmt: skip
    flow_m3_s: float = quantity(
        "flow", "Flow", WATER_FLOW, "From the maker, at the pressure you have.", least=0,
        most=0.01, example="5.7",
    )  # fmt: skip
    run_s: float = quantity(
        "minutes", "Minutes each", MINUTES, "That it runs for one use.", least=0, most=3600,
        example="0.5",
    )  # fmt: skip
    goes_to: str = word("goes_to", "Goes to", GOES_TO, "Which tank it ends in.",
                               example="grey")  # fmt: skip

    @property
    def per_person_day_m3(self) -> float:
        """Water of one person in a day [m³]: by volume, or where that is blank by time."""
        each = self.unless_blank("each_m3")
        one: float = self.flow_m3_s * self.run_s if each is None else each
        return self.uses_a_day * one
