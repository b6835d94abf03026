"""A school's roster: who is in a class and as what, out of OneRoster 1.2 CSV.

1EdTech OneRoster 1.2, CSV binding: a ZIP of manifest.csv, users.csv, classes.csv, enrollments.csv
and more. Heads are matched by name, for programs differ by columns. Only what a studio needs is
taken: id, name, e-mail, role in the class; whatever else a file holds of a person isn't looked at.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from criteria.errors import Refused
from reviews.exchange.proposed import How, Proposal, ProposedCell, ProposedRow, Question
from reviews.exchange.zip_parts import parts_of

CLASS = "class"
"""Name of the question which class is brought in."""
ROLES = {"student": "student", "teacher": "leader"}
"""Roles in a class, and the place in a studio that each means."""
VERSION = "1.2"
HEADS = {
    "classes.csv": ("sourcedId", "title"),
    "enrollments.csv": ("classSourcedId", "userSourcedId", "role"),
    "users.csv": ("sourcedId", "givenName", "familyName", "email"),
}
"""Heads without which a part can't be read."""

Line = dict[str, str]


@dataclass(frozen=True)
class _Place:
    """What an enrollment says: who, as what."""

    user: str
    role: str
    ends: str


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Propose the people of one class, each with the id that the school knows them by.

    Of several classes the one that is answered to the question CLASS; none before that. `about`
    says by `is_whole` whether whoever isn't in the file has left. Raises Refused.
    """
    with parts_of(path) as held:
        manifest = {line["propertyname"]: line["value"] for line in _lines(held, "manifest.csv")}
        _hold_to_manifest(manifest)
        places = _places_by_class(held)
        question = _which_class(held, places, answers.get(CLASS, ""))
        said = _said_of(manifest)
        rows: tuple[ProposedRow, ...] = ()
        if question.chosen:
            rows, more = _people(held, places.get(question.chosen, []))
            said += more
    return Proposal(
        kind="roster",
        rows=rows,
        questions=(question,),
        said=tuple(said),
        about={"is_whole": manifest.get("file.enrollments", "bulk") == "bulk"},
    )


def _hold_to_manifest(manifest: Mapping[str, str]) -> None:
    for part in HEADS:
        if manifest.get(f"file.{part.removesuffix('.csv')}") == "absent":
            raise Refused(f"a manifest that says {part} is absent", f"a roster with {part}")


def _said_of(manifest: Mapping[str, str]) -> list[str]:
    if not manifest:
        return ["The ZIP has no manifest.csv: it is read as OneRoster 1.2."]
    said = []
    version = manifest.get("oneroster.version", "")
    if version != VERSION:
        named = f"OneRoster {version}" if version else "no version"
        said.append(f"The manifest names {named}; it is read as {VERSION}, by its heads.")
    if manifest.get("file.enrollments", "bulk") != "bulk":
        said.append("The file holds changes alone: whoever isn’t in it hasn’t left for that.")
    return said


def _places_by_class(held: zipfile.ZipFile) -> dict[str, list[_Place]]:
    """Who is enrolled in which class; what is to be deleted is left out."""
    places: dict[str, dict[_Place, None]] = {}
    for line in _lines(held, "enrollments.csv"):
        if _stands(line):
            place = _Place(line["usersourcedid"], line["role"].casefold(), line.get("enddate", ""))
            places.setdefault(line["classsourcedid"], {})[place] = None
    return {of: list(them) for of, them in places.items()}


def _which_class(
    held: zipfile.ZipFile, places: Mapping[str, list[_Place]], answer: str
) -> Question:
    """Ask which class; of one there is nothing to choose."""
    choices = {}
    for line in _lines(held, "classes.csv"):
        if _stands(line):
            n = len({place.user for place in places.get(line["sourcedid"], [])})
            code = line.get("classcode", "")
            named = " ".join(filter(None, (line["title"] or line["sourcedid"], code)))
            choices[line["sourcedid"]] = f"{named}: {n} {'person' if n == 1 else 'people'}"
    if not choices:
        raise Refused("classes.csv without a class that stands", "one class at least")
    if answer and answer not in choices:
        raise Refused(answer, "a class of this file")
    chosen = answer or (next(iter(choices)) if len(choices) == 1 else "")
    return Question(
        name=CLASS, asked="Which class is this studio?", choices=(*choices.items(),), chosen=chosen
    )


def _people(
    held: zipfile.ZipFile, places: list[_Place]
) -> tuple[tuple[ProposedRow, ...], list[str]]:
    """The people of a class, and whom of it the file leaves out and why."""
    asked = {place.user for place in places}
    users = {
        line["sourcedid"]: line for line in _lines(held, "users.csv") if line["sourcedid"] in asked
    }
    rows: dict[tuple[str, str], ProposedRow] = {}
    said: dict[str, None] = {}
    for place in places:
        user = users.get(place.user)
        if why := _why_out(place, user):
            said[why] = None
        elif user is not None:
            row = _row(place, user)
            rows[place.user, place.role] = row
            if place.ends:
                said[
                    f"The file ends the time of {_name_of(user)} in the class on {place.ends}."
                ] = None
    return tuple(rows.values()), list(said)


def _why_out(place: _Place, user: Line | None) -> str:
    if user is None:
        return f"{place.user} is enrolled but isn’t in users.csv, and is left out."
    name = _name_of(user) or place.user
    if not _stands(user):
        return f"{name} is to be deleted by the file, and is left out."
    if user.get("enableduser", "").casefold() == "false":
        return f"{name} isn’t enabled in the file, and is left out."
    if place.role not in ROLES:
        role = place.role or "nothing"
        return f"{name} is in the class as {role}, for which a studio has no place: left out."
    return ""


def _row(place: _Place, user: Line) -> ProposedRow:
    """One person; what the file doesn't give is no cell, and is asked."""
    where = f"users.csv, {user['sourcedid']}"
    cells = {
        "name": (_name_of(user), where),
        "email": (user["email"], where),
        "role": (ROLES[place.role], "enrollments.csv, role"),
    }
    return ProposedRow(
        schedule="people",
        source=user["sourcedid"],
        cells={
            head: ProposedCell(text=text, how=How.WRITTEN, place=at)
            for head, (text, at) in cells.items()
            if text
        },
    )


def _name_of(user: Line) -> str:
    """Given and family name, of each the one that its bearer prefers."""
    names = (
        user.get("preferredgivenname") or user["givenname"],
        user.get("preferredfamilyname") or user["familyname"],
    )
    return " ".join(filter(None, names))


def _stands(line: Line) -> bool:
    """Whether a line isn't one that is to be deleted; in a whole file status is blank."""
    return line.get("status", "").casefold() in ("", "active")


def _lines(held: zipfile.ZipFile, part: str) -> Iterator[Line]:
    """The lines of a part by their heads in small letters, blanks at the ends of cells gone."""
    found = [name for name in held.namelist() if name.casefold().split("/")[-1] == part]
    if len(found) > 1:
        raise Refused(f"a ZIP with {len(found)} parts {part}", "one of each")
    if not found:
        if part not in HEADS:
            return
        raise Refused(f"a ZIP without {part}", f"a roster with {', '.join(HEADS)}")
    needed = HEADS.get(part, ("propertyName", "value"))
    try:
        with held.open(found[0]) as raw:
            yield from _of_text(part, needed, io.TextIOWrapper(raw, "utf-8-sig", newline=""))
    except UnicodeDecodeError as wrong:
        raise Refused(f"{part} in letters that can't be told", "UTF-8") from wrong
    except csv.Error as wrong:
        raise Refused(f"{part}: {wrong}", "lines of commas (CSV)") from wrong


def _of_text(part: str, needed: tuple[str, ...], text: io.TextIOWrapper) -> Iterator[Line]:
    grid = csv.reader(text)
    heads = [head.strip().casefold() for head in next(grid, [])]
    if lacking := [head for head in needed if head.casefold() not in heads]:
        raise Refused(f"{part} without {', '.join(lacking)}", "heads as OneRoster 1.2 names them")
    for cells in grid:
        if any(cells):
            # a line that is cut short has blanks at its end
            padded = cells + [""] * (len(heads) - len(cells))
            yield {head: " ".join(cell.split()) for head, cell in zip(heads, padded, strict=False)}
