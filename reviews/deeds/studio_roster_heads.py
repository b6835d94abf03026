"""Tables of people as other programs lay them out, laid out as a roster is."""

from __future__ import annotations

from reviews.deeds.table_bringing import Grid, folded

GIVEN = ("preferredgivenname", "givenname", "firstname", "forename")
FAMILY = ("preferredfamilyname", "familyname", "lastname", "surname")
"""Heads of parts of a name, folded; what its bearer prefers comes first."""
ENABLED, STATUS = "enableduser", "status"
"""Heads of OneRoster's users.csv that say who isn't there any more."""


def one_name_a_line(grid: Grid) -> list[list[str]]:
    """Lay out a table that parts names by given and family name: a name a line, first.

    Whoever isn't enabled, or is to be deleted, has those words for a role, which are refused.
    Any other table comes back as it is.

    >>> one_name_a_line([["Surname", "First name", "E-mail"], ["Lantry", "Bea", "b@example.org"]])
    [['name', 'E-mail'], ['Bea Lantry', 'b@example.org']]
    """
    lines = [list(line) for line in grid if any(cell.strip() for cell in line)]
    heads = [folded(head) for head in lines[0]] if lines else []
    if not (set(heads) & set(GIVEN) and set(heads) & set(FAMILY)) or "name" in heads:
        return lines
    parts = set(GIVEN) | set(FAMILY) | {ENABLED, STATUS, "role"}
    others = [at for at, head in enumerate(heads) if head not in parts]
    said = [_role(dict(zip(heads, line, strict=False))) for line in lines[1:]]
    laid = [["name", *(lines[0][at] for at in others), *["role"] * any(said)]]
    for line, role in zip(lines[1:], said, strict=True):
        cells = dict(zip(heads, line, strict=False))
        kept = [line[at] if at < len(line) else "" for at in others]
        laid.append([_name(cells), *kept, *[role] * any(said)])
    return laid


def _name(cells: dict[str, str]) -> str:
    parts = (next((cells[h].strip() for h in of if cells.get(h, "").strip()), "") for of in _NAME)
    return " ".join(filter(None, parts))


_NAME = (GIVEN, FAMILY)


def _role(cells: dict[str, str]) -> str:
    if cells.get(ENABLED, "").strip().casefold() == "false":
        return "not enabled"
    if cells.get(STATUS, "").strip().casefold() == "tobedeleted":
        return "to be deleted"
    return cells.get("role", "").strip()
