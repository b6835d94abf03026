"""Fresh air at night, from the vent schedule."""

from criteria.checks.check import Check, blank
from criteria.findings import Amount, Measured, Step
from criteria.measures import air
from criteria.package import Package
from criteria.schedules.air import Vent
from criteria.schedules.rooms import Room
from criteria.sources import PRACTICE
from criteria.units import AIR_FLOW


def _night_air(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return [_of_room(package, room) for room in package.rooms_used_for(("sleep",)) if _sleeps(room)]


def _sleeps(room: Room) -> bool:
    return room.sleepers is None or room.sleepers > 0


def _of_room(package: Package, room: Room) -> Measured:
    about = {"subject": room.mark, "name": room.name, "use": room.use or ""}
    vents = [vent for vent in package.vents if vent.room == room.mark]
    missing = blank(Room.schedule, room, "sleepers")
    if not package.vents:
        missing = ("rows of the vent schedule", *missing)
    for vent in vents:
        missing += blank(Vent.schedule, vent, "n", "l_s_each")
    if missing:
        return Measured(missing=missing, **about)
    steps, total = [], 0.0
    for vent in vents:
        assert vent.n is not None and vent.flow_m3_s is not None
        flow = vent.n * vent.flow_m3_s
        total += flow
        amounts = (vent.mark, vent.n, Amount(vent.flow_m3_s, AIR_FLOW), Amount(flow, AIR_FLOW))
        steps.append(Step("{}: {} × {} = {}", amounts))
    value = air.air_per_sleeper(total, room.sleepers or 0)
    last = (Amount(total, AIR_FLOW), room.sleepers or 0, Amount(value, AIR_FLOW))
    steps.append(Step("{} ÷ {} sleepers = {}", last))
    notes = () if vents else (f"no row for {room.mark} in the vent schedule",)
    return Measured(values=(value,), steps=tuple(steps), notes=notes, **about)


NIGHT_AIR = Check(
    slug="night_air",
    title="Night fresh air per sleeper",
    topic="Air",
    scales=(AIR_FLOW,),
    measure=_night_air,
    schedules=("rooms", "vents"),
    formula="q = Σ(n · q_vent) ÷ n_s",
    meaning="n vents alike; q_vent fresh air of each as it is left in a storm [L/s]; n_s sleepers "
    "in the room",
    citations=(PRACTICE,),
    limits="Openings that can be left in a storm; windows are not counted. The worst sleeping "
    "room decides, a warden's included; a room without a row counts as 0.",
    question="People asleep in {name}, door shut, gale outside: {value} each against {target}. "
    "What is open?",
    caution="Where anything burns indoors it needs air of its own and a carbon monoxide alarm; "
    "a licensed installer decides.",
)
