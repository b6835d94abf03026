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
    """A use of water."""

    mark: str = mark()
    use: str | None = text("use", required=True, eg="Wash hands").says(
        "Shower, wash hands, cook, flush; say waterless."
    )
    uses_a_day: float = quantity("uses_a_day", RATIO, within=(0, 50), eg="5").says("Of one person.")
    each_m3: float = quantity("l_each", LITRES, "Water each", within=(0, 1), eg="0.5").says(
        "Of one use; leave blank where it runs by time."
    )
    flow_m3_s: float = quantity("flow", WATER_FLOW, within=(0, 0.01), eg="5.7").says(
        "From the maker, at the pressure you have."
    )
    run_s: float = quantity("minutes", MINUTES, "Minutes each", within=(0, 3600), eg="0.5").says(
        "That it runs for one use."
    )
    goes_to: str = word("goes_to", GOES_TO, eg="grey").says("Which tank it ends in.")

    @property
    def per_person_day_m3(self) -> float:
        """Water of one person in a day [m³]: by volume, or where that is blank by time."""
        each = self.unless_blank("each_m3")
        one: float = self.flow_m3_s * self.run_s if each is None else each
        return self.uses_a_day * one
