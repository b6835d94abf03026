"""Light, view and air: questions 1 to 13."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.findings import NOT_ALL
from criteria.units import LENGTH

LIGHT, AIR = "Light and view", "Air"


def _lying(facts: Facts) -> Words | None:
    rooms = [room for room in facts.package.rooms if room.sleepers]
    windows = [w for room in rooms for w in facts.package.windows_of(room) if not w.is_rooflight]
    sills = [window.sill_m for window in windows if window.sill_m is not None]
    return {"sill": facts.write(min(sills), LENGTH)} if sills else None


def _key_view(facts: Facts) -> Words | None:
    windows = [w for w in facts.package.windows if w.glass_w_m and w.glass_h_m]
    largest = max(windows, key=lambda w: (w.glass_w_m * w.glass_h_m, w.mark), default=None)
    return {"mark": largest.mark} if largest else None


def _under_drift(facts: Facts) -> Words | None:
    drift = facts.package.site.drift_m
    if not drift:
        return None
    side, rise = facts.package.site.drift_side or "", facts.package.ramp.rise_m or 0.0
    low = [
        window.mark
        for window in facts.package.windows
        if not window.is_rooflight
        and window.sill_m is not None
        and window.sill_m + rise < drift
        and (not side or side in (window.faces or ""))
    ]
    return {"drift": facts.write(drift, LENGTH), "marks": ", ".join(low)} if low else None


def _burns(facts: Facts) -> Words | None:
    plant = facts.package.plant
    return {} if plant.burns and not plant.fire_air else None


def _no_extract(facts: Facts) -> Words | None:
    found = next((f for f in facts.sheet.findings if f.check == "wet_extract"), None)
    return {"rooms": found.shown.removeprefix(NOT_ALL)} if found and found.value else None


QUESTIONS: tuple[Template, ...] = (
    Template(
        number=1, topic=LIGHT, trigger=Trigger.MISSED, check="daylight_ratio",
        datum="window schedule, glass; room schedule, floor",
    ),
    Template(
        number=2, topic=LIGHT, trigger=Trigger.CLAIM, check="daylight_ratio",
        words="The sheet says {claim}; the schedules give {computed}. Is that the frame, or the "
        "glass?",
        datum="window schedule, frame and glass",
    ),
    Template(
        number=3, topic=LIGHT, trigger=Trigger.MISSED, check="daylight_ratio", is_beyond=True,
        datum="window schedule, glass and U",
    ),
    Template(
        number=4, topic=LIGHT, trigger=Trigger.MISSED, check="lowest_sill",
        datum="window schedule, sill",
    ),
    Template(
        number=5, topic=LIGHT, trigger=Trigger.ALWAYS, check="lowest_sill", when=_lying,
        words="The lowest sill of the sleeping rooms is {sill}. Lying down, what can be seen?",
        datum="window schedule, sill; section through a bunk",
    ),
    Template(
        number=6, topic=LIGHT, trigger=Trigger.ALWAYS, when=_key_view,
        words="{mark} is the largest glass. Is it the view that people will remember, and did you "
        "place it?",
        datum="key view on the plan",
    ),
    Template(
        number=7, topic=LIGHT, trigger=Trigger.ALWAYS, when=_under_drift, check="lowest_sill",
        words="Snow drifts to {drift}. {marks}: which of them are buried, and on which side?",
        datum="window schedule, sill and faces; site sheet, drift",
    ),
    Template(
        number=8, topic=AIR, trigger=Trigger.MISSED, check="night_air",
        datum="vent schedule",
    ),
    Template(
        number=9, topic=AIR, trigger=Trigger.MISMATCH, check="openable_ratio",
        cells=(("windows", "open_share"),), datum="window schedule, opens and open share",
    ),
    Template(
        number=10, topic=AIR, trigger=Trigger.MISSED, check="openable_ratio",
        datum="window schedule, open share and sill",
    ),
    Template(
        number=11, topic=AIR, trigger=Trigger.BLANK, check="wet_extract", when=_no_extract,
        words="No vent is scheduled for {rooms}. Where does the air of wet coats and pans go?",
        datum="vent schedule",
    ),
    Template(
        number=12, topic=AIR, trigger=Trigger.BLANK, check="combustion_air", when=_burns,
        words="Something burns indoors, and nothing says where its air comes from. Where?",
        datum="heat and air plant, combustion air", is_hazard=True,
    ),
    Template(
        number=13, topic=AIR, trigger=Trigger.ODD, check="heat_loss",
        cells=(("plant", "hrv_as_typed"),), datum="heat and air plant, heat recovery",
    ),
)  # fmt: skip
