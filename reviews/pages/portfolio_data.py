"""The project data of a portfolio: figures of one revision as issued, each with its unit.

What isn't known stands as itself. What a brief asks stands beside the figure, and no level does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, State
from criteria.units import System
from reviews.models import Revision
from reviews.pages.check_page import check_line
from reviews.reading.package_checking import issued_sheet

GROUPS: dict[str, tuple[str, ...]] = {
    "Room": (
        "floor_area",
        "floor_per_person",
        "floor_per_sleeper",
        "sleeping_places",
        "day_seats",
        "clear_height",
        "stowage_per_guest",
    ),
    "Light and air": ("daylight_ratio", "average_daylight_factor", "openable_ratio", "night_air"),
    "Envelope": ("wall_u", "roof_u", "floor_u", "heat_loss"),
    "Water": ("water_days", "grey_days", "rain_catch"),
    "Power": ("power_ratio", "battery_days"),
    "Pieces": ("piece_mass", "lifts", "setup_time", "least_crew"),
    "Getting in and out": ("ramp_slope", "step_free_doors", "ways_out"),
}
"""What somebody who knows nothing of the studio asks of a small building, in the trade's order."""

ALWAYS = ("floor_area", "water_days", "battery_days", "wall_u", "roof_u", "floor_u", "piece_mass")
"""Shown whether or not the brief asks for it: where it isn't known, that is said."""

WHERE_ASKED = ("sleeping_places", "day_seats", "lifts", "least_crew", "ways_out")
"""Counts that say something beside what is asked alone."""

CAUTION = "Teaching checks, not a code approval. Local codes and licensed practice decide."


@dataclass(frozen=True)
class Figure:
    """One line of the project data.

    value   with its unit, or what it lacks
    asked   what the brief asks; blank where it asks nothing
    state   in words: whether what is asked is met; blank where nothing is asked
    about   where and for whom it was decided
    """

    name: str
    value: str
    asked: str = ""
    state: str = ""
    about: str = ""


@dataclass(frozen=True)
class Data:
    """Groups of figures, and the revision and library that they are of."""

    groups: tuple[tuple[str, tuple[Figure, ...]], ...]
    source: str


def project_data(revision: Revision, system: System) -> Data:
    """Read a revision as it was issued, less what is set aside, in a reader's units."""
    sheet = issued_sheet(revision)
    people = tuple(_people(revision, sheet))
    found = [
        ("People", people),
        *((n, tuple(_figures(sheet, s, system))) for n, s in GROUPS.items()),
    ]
    source = f"Revision {revision.letter} as issued; checks of library {revision.library}"
    return Data(tuple((name, lines) for name, lines in found if lines), source)


def _people(revision: Revision, sheet: CheckSheet) -> Iterator[Figure]:
    """The people cases of the brief, or where it names none the people that it asks for."""
    for case in sheet.cases:
        days = f"{case.days} days a year" if case.days is not None else "days not said"
        yield Figure(case.case, _known(case.people), about=days)
    if not sheet.cases:
        site = revision.contents["site"]
        yield Figure("People in the brief", site.get("people", "").strip() or "Not known")


def _known(number: int | None) -> str:
    return "Not known" if number is None else str(number)


def _figures(sheet: CheckSheet, slugs: tuple[str, ...], system: System) -> Iterator[Figure]:
    for slug in slugs:
        of_check = [finding for finding in sheet.findings if finding.check == slug]
        asked = [finding for finding in of_check if finding.ref]
        for finding in asked or of_check:
            is_known = finding.value is not None and slug not in WHERE_ASKED
            if finding.ref or is_known or slug in ALWAYS:
                yield _figure(finding, system)


def _figure(finding: Finding, system: System) -> Figure:
    line = check_line(finding, system)
    is_asked = bool(finding.ref) and finding.state is not State.NOT_ASKED
    return Figure(
        name=finding.title,
        value=finding.write_value(system) or _unknown(finding),
        asked=line.target_text if is_asked else "",
        state=finding.state.word if is_asked else "",
        about=line.subject,
    )


def _unknown(finding: Finding) -> str:
    """Why there is no figure: what it lacks, or that nothing is there that it is asked of."""
    if finding.missing:
        more = f" and {len(finding.missing) - 1} more" if len(finding.missing) > 1 else ""
        return f"Not known without {finding.missing[0]}{more}"
    return "Not known" if finding.state is State.NO_DATA else "Does not apply"
