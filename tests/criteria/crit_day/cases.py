"""The demo's final as practice plans it: fourteen schemes, six jurors, two rooms."""

from datetime import time

from criteria.crit_day.panels import Interest, Juror, Sees
from criteria.crit_day.timetable import USUAL, Plan, lay_out

FINAL = Plan(rooms=("A", "B"), opening=2, first=time(9, 15), parts=USUAL["final"])

ORDER = (
    *("H12", "H06", "H14", "H11", "H03", "H08", "H02", "H13"),
    *("H07", "H01", "H05", "H04", "H10", "H09"),
)

JURORS = (
    Juror("Hesper Quill", "A", "visiting"),
    Juror("Pia Norrow", "A", "visiting"),
    Juror("Marek Ostrey", "A", "industry"),
    Juror("Bea Lantry", "B", "in-house"),
    Juror("Odell Brannick", "B", "in-house"),
    Juror("Cass Ferro", "B", "visiting"),
)

BRANNICK = Interest("Odell Brannick", "H04")


def the_day(*interests: Interest, jurors: tuple[Juror, ...] = JURORS, **beside: object) -> Sees:
    """Who sees what of it."""
    return Sees(jurors, lay_out(ORDER, FINAL).placed, interests, **beside)
