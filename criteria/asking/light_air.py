"""Light, view and air: questions 1 to 13."""

from criteria.asking.facts import Facts
from criteria.asking.template import Template, Trigger, Words
from criteria.findings import NOT_ALL
from criteria.schedules.plant import BURNING, FED_FROM_OUTSIDE, FROM_THE_ROOM
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
    does_burn = plant.burns or plant.heater in BURNING
    if not does_burn or plant.fire_air in FED_FROM_OUTSIDE:
        return None
    is_said = plant.fire_air == FROM_THE_ROOM
    air = "its air comes from the room" if is_said else "nothing says where its air comes from"
    return {"what": (plant.heater or "what burns indoors").capitalize(), "air": air}


def _no_extract(facts: Facts) -> Words | None:
    found = next((f for f in facts.sheet.findings if f.check == "wet_extract"), None)
    return {"rooms": found.shown.removeprefix(NOT_ALL)} if found and found.value else None


QUESTIONS: tuple[Template, ...] = (
    Template(1, LIGHT, Trigger.MISSED, "daylight_ratio").found_in(
        "window schedule, glass; room schedule, floor"
    ),
    Template(2, LIGHT, Trigger.CLAIM, "daylight_ratio")
    .asks("The sheet says {claim}; the schedules give {computed}. Is that the frame, or the glass?")
    .found_in("window schedule, frame and glass"),
    Template(3, LIGHT, Trigger.MISSED, "daylight_ratio", is_beyond=True).found_in(
        "window schedule, glass and U"
    ),
    Template(4, LIGHT, Trigger.MISSED, "lowest_sill").found_in("window schedule, sill"),
    Template(5, LIGHT, Trigger.ALWAYS, "lowest_sill")
    .asks("The lowest sill of the sleeping rooms is {sill}. Lying down, what can be seen?", _lying)
    .found_in("window schedule, sill; section through a bunk"),
    Template(6, LIGHT, Trigger.ALWAYS)
    .asks(
        "{mark} is the largest glass. Is it the view that people will remember, and did you place "
        "it?",
        _key_view,
    )
    .found_in("key view on the plan"),
    Template(7, LIGHT, Trigger.ALWAYS, "lowest_sill")
    .asks(
        "Snow drifts to {drift}. {marks}: which of them are buried, and on which side?",
        _under_drift,
    )
    .found_in("window schedule, sill and faces; site sheet, drift"),
    Template(8, AIR, Trigger.MISSED, "night_air").found_in("vent schedule"),
    Template(
        9, AIR, Trigger.MISMATCH, "openable_ratio", cells=(("windows", "open_share"),)
    ).found_in("window schedule, opens and open share"),
    Template(10, AIR, Trigger.MISSED, "openable_ratio").found_in(
        "window schedule, open share and sill"
    ),
    Template(11, AIR, Trigger.BLANK, "wet_extract")
    .asks(
        "No vent is scheduled for {rooms}. Where does the air of wet coats and pans go?",
        _no_extract,
    )
    .found_in("vent schedule"),
    Template(12, AIR, Trigger.BLANK, "combustion_air", is_hazard=True)
    .asks("{what}: {air}. From where, doors shut, and who sweeps its flue?", _burns)
    .found_in("heat and air plant, combustion air"),
    Template(13, AIR, Trigger.ODD, "heat_loss", cells=(("plant", "hrv_as_typed"),)).found_in(
        "heat and air plant, heat recovery"
    ),
)
