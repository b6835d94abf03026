"""The JSON Schema of a package, and of what is told of it: its check sheet, its results.

JSON Schema 2020-12. The document itself is of typed records by schedule; `$defs` hold the answers
that a site gives to scripts, each of which another can be held to by `#/$defs/…`. Schedules and
targets follow from their column declarations, states and rules from their own enumerations.
"""

from collections.abc import Iterable
from enum import Enum
from typing import Any

from criteria.asking.questions import Trigger
from criteria.check_sheet.claims import ClaimResult
from criteria.findings import Rule, State
from criteria.schedules import BY_SLUG
from criteria.targets.reading import TARGETS
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.units import DecimalSign

Json = dict[str, Any]

VERSION = 1
"""Of the answers. What is only added keeps it; what would break a reader makes the next."""

ASKED_BY = "asked_by"
"""Key of a target's record that says where it comes from: the brief, an addendum."""

TEXT: Json = {"type": "string"}
YES_NO: Json = {"type": "boolean"}
COUNT: Json = {"type": "integer", "minimum": 0}
FIGURE: Json = {"type": "number"}
NOTHING: Json = {"type": "null"}
MOMENT: Json = {**TEXT, "format": "date-time"}
LIBRARY: Json = {**TEXT, "description": "Version of the library that worked it out."}
ADDRESS: Json = {**TEXT, "format": "uri"}


def package_schema() -> Json:
    """Return the JSON Schema of a package as typed records by schedule, and of the answers."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Package",
        "type": "object",
        "additionalProperties": False,
        "properties": {schedule.slug: _table(schedule) for schedule in BY_SLUG.values()},
        "$defs": {
            "start": _start(),
            "list": _list(),
            "package": _answer("A package as typed", **_package()),
            "check_sheet": _answer("A check sheet", library=LIBRARY, check_sheet=_check_sheet()),
            "results": _answer("Results after release", results=_results()),
            "problem": _problem(),
        },
    }


def _table(schedule: Schedule, *, as_typed: bool = False, **more: Json) -> Json:
    """A schedule's rows; `as_typed` where a draft may hold what isn't read, or lack its mark."""
    required = [] if as_typed else [column.head for column in schedule.columns if column.required]
    cells = {column.head: _cell(column, as_typed=as_typed) for column in schedule.columns}
    row = {
        "type": "object",
        "additionalProperties": False,
        "required": required,
        "properties": {**cells, **more},
    }
    most = {"maxItems": 1} if schedule.is_single else {}
    return {
        "type": "array",
        "title": schedule.title,
        "description": schedule.purpose,
        "items": row,
        **most,
    }


def _cell(column: Column, *, as_typed: bool) -> Json:
    unit = f" A bare number is in {column.unit()}." if column.unit() else ""
    cell: Json = {
        "type": "string",
        "title": column.label,
        "description": f"{column.help} Takes {column.expected()}.{unit}".strip(),
    }
    if column.kind is Kind.WORD:
        said = [*column.choices, *(other for other, _ in column.also)]
        cell |= (
            {"examples": said} if as_typed else {"enum": said if column.required else [*said, ""]}
        )
    return cell


def _object(title: str = "", /, **properties: Json) -> Json:
    """An object of just these, each of them there."""
    return {
        **({"title": title} if title else {}),
        "type": "object",
        "additionalProperties": False,
        "required": list(properties),
        "properties": properties,
    }


def _each(items: Json) -> Json:
    return {"type": "array", "items": items}


def _maybe(what: Json) -> Json:
    return {"anyOf": [what, NOTHING]}


def _among(words: Iterable[Any]) -> Json:
    return {**TEXT, "enum": [str(each) if isinstance(each, Enum) else each for each in words]}


def _says(what: Json, words: str) -> Json:
    return {**what, "description": words}


def _answer(title: str, /, **parts: Json) -> Json:
    return _object(title, version={"const": VERSION}, about=_about(), **parts)


def _about() -> Json:
    """Whose an answer is, and which revision."""
    return _object(
        studio=TEXT,
        cohort=TEXT,
        scheme=_says(TEXT, "The scheme's number."),
        name=TEXT,
        is_withdrawn=YES_NO,
        crit=_says(_maybe(TEXT), "For which it was issued, or which released it."),
        revision=_says(_maybe(TEXT), "Its letter; null of a package in preparation."),
        issued_at=_maybe(MOMENT),
        receipt=_says(_maybe(TEXT), "SHA-256 of what was issued."),
        addresses={"type": "object", "additionalProperties": ADDRESS},
    )


def _start() -> Json:
    return _object(
        "What may be read",
        version={"const": VERSION},
        reads_as=_says(TEXT, "Whose rights are read by."),
        token=_says(_maybe(TEXT), "What its owner calls the token; null without one."),
        addresses={"type": "object", "additionalProperties": ADDRESS},
    )


def _list() -> Json:
    """Packages, revisions or results, a page of them."""
    return _object(
        "What may be read of one kind",
        version={"const": VERSION},
        count=_says(COUNT, "Of all pages."),
        next=_says(_maybe(ADDRESS), "The page after this one."),
        items=_each(_about()),
    )


def _package() -> Json:
    schedules = {schedule.slug: _table(schedule, as_typed=True) for schedule in BY_SLUG.values()}
    cell = _object(schedule=TEXT, row=COUNT, mark=TEXT, column=TEXT, read=TEXT, expected=TEXT)
    return {
        "decimal": _says(_among(DecimalSign), "The decimal sign in which figures are typed."),
        "statement": TEXT,
        "schedules": {
            "type": "object",
            "additionalProperties": False,
            "properties": schedules,
            "description": "Cells as typed, blank ones left out. Where nothing is refused, each "
            "column takes what this document's own properties say.",
        },
        "targets": _table(TARGETS, as_typed=True, **{ASKED_BY: TEXT}),
        "weather": _maybe(
            _object(name=TEXT, digest=TEXT, year=_says(TEXT, "The hourly year itself, packed."))
        ),
        "sheets": _each({"type": "object"}),
        "refused": _says(_each(cell), "Cells that can't be read: they stand as typed."),
    }


def _check_sheet() -> Json:
    return _object(
        package=TEXT,
        findings=_each(_finding()),
        odd_values=_each(
            _object(
                schedule=TEXT, mark=TEXT, column=TEXT, read=TEXT, question=TEXT,
                suggestion=_maybe(TEXT), row=_maybe(COUNT),
            )
        ),
        claims=_each(_claim()),
        questions=_says(
            _maybe(
                _each(
                    _object(
                        question=TEXT, why=_among(each.word for each in Trigger), hazard=YES_NO,
                        target=_maybe(TEXT), check=_maybe(TEXT), answered_by=TEXT,
                    )
                )
            ),
            "Likely questions; null where they aren't whoever reads'.",
        ),
        figures_from_words={"type": "object", "additionalProperties": TEXT},
    )  # fmt: skip


def _finding() -> Json:
    figures = [FIGURE, TEXT, _each({"anyOf": [FIGURE, NOTHING]}), NOTHING]
    return _object(
        target=_maybe(TEXT), check=_maybe(TEXT), title=TEXT, subject=_maybe(TEXT),
        state_of_building=_maybe(TEXT), case=_maybe(TEXT), name=_maybe(TEXT),
        value=_says({"anyOf": figures}, "In `unit`, not rounded; null where it isn't known."),
        unit=TEXT, at_best=YES_NO, rule=_among(Rule),
        target_value=_says({"anyOf": figures}, "In `unit`."),
        not_over=_maybe(FIGURE), margin=_maybe(FIGURE), state=_among(State),
        working=TEXT, source=TEXT, asked_by=_maybe(TEXT), limits=TEXT, caution=_maybe(TEXT),
        missing=_each(TEXT), notes=_each(TEXT), question=_maybe(TEXT),
    )  # fmt: skip


def _claim() -> Json:
    return _object(
        about=TEXT, claim=TEXT, sheet=_maybe(TEXT), check=_maybe(TEXT), check_is_proposed=YES_NO,
        subject=_maybe(TEXT), name=_maybe(TEXT),
        claimed=_says(_maybe(FIGURE), "In `unit`."), computed=_says(_maybe(FIGURE), "In `unit`."),
        unit=TEXT, state=_among(ClaimResult), notes=_each(TEXT),
    )  # fmt: skip


def _results() -> Json:
    level = {"type": "integer", "minimum": 1, "maximum": 5}
    dated = {"at": MOMENT, "reason": TEXT}
    return _object(
        crit=TEXT, day={**TEXT, "format": "date"}, released_at=MOMENT,
        words=_says(TEXT, "The leader's first words to these students."),
        verdict=_maybe(
            _object(
                kind=TEXT, title=TEXT, words=TEXT, at=MOMENT,
                stays_open=_says(_each(TEXT), "Codes of the criteria that stay open."),
            )
        ),
        revisions=_says(_each(TEXT), "Letters of those that levels and comments stand on."),
        criteria=_each(
            _object(
                code=TEXT, name=TEXT, agreed=_maybe(level),
                agreed_since=_says(
                    _each(_object(was=TEXT, now=_maybe(level), **dated)),
                    "Decisions after the release.",
                ),
                levels=_each(
                    _object(
                        juror=TEXT, level=_says(_maybe(level), "From 1 to 5."), word=TEXT,
                        revision=_maybe(TEXT),
                        corrected=_each(_object(was=TEXT, now=TEXT, **dated)),
                    )
                ),
            )
        ),
        comments=_each(_comment()),
        spoken=_says(
            _maybe(_each(_said())), "Said aloud, unconfirmed; null where it isn't for this reader."
        ),
    )  # fmt: skip


def _said(**more: Json) -> Json:
    """What was said, and where; of what is held since the release, its place alone."""
    part = {"type": "number", "minimum": 0, "maximum": 1}
    return _object(
        number=TEXT, id=TEXT, kind=TEXT, words=TEXT, juror=TEXT, revision=_maybe(TEXT),
        is_held=YES_NO, sheet=_maybe(TEXT), square=_maybe(TEXT),
        point=_says(
            _maybe({**_each(part), "minItems": 2, "maxItems": 2}),
            "Parts of the sheet's width and height from the upper left.",
        ),
        **more,
    )  # fmt: skip


def _comment() -> Json:
    answer = _object(kind=TEXT, words=TEXT, place_now=TEXT, by=TEXT, at=MOMENT)
    return _said(
        criterion=_maybe(TEXT), is_reworded=YES_NO, answer=_maybe(answer), is_closed=YES_NO,
        opposed=_says(
            _each(_object(number=TEXT, ruling=TEXT)), "Comments that oppose it, and the ruling."
        ),
        alike=_says(_each(TEXT), "Numbers of those that say the same."),
    )  # fmt: skip


def _problem() -> Json:
    """RFC 9457: what went wrong, in words."""
    return _object("A problem", type=TEXT, title=TEXT, status=COUNT, detail=TEXT)
