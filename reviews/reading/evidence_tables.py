"""A book of evidence as tables that scripts read: levels, comments, what was issued, the cohort.

They are made of the book's own contents, which its pages show, and hold no word more. A level that
isn't one has its cell blank and the word beside it. Keys between tables are told where every line
keeps them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from reviews.exchange.data_package import TABLES
from reviews.exchange.described import Head, Leads, Table
from reviews.reading import evidence_lines as lines_of
from reviews.reading.evidence_heads import (
    CODE,
    COMMENT,
    COUNTS,
    CRIT,
    DESCRIPTORS,
    GIVEN,
    IN_FILE,
    JUROR,
    LEVEL_UNIT,
    OF_CODE,
    OF_COMMENT,
    OF_CRIT,
    OF_REVISION,
    OF_SCHEME,
    REVISION,
    SCHEME,
    figure,
    texts,
    whole,
)
from reviews.reading.evidence_lines import Lines, Told


@dataclass(frozen=True)
class Filled:
    """A table and its lines, cell by cell under its heads."""

    table: Table
    lines: Sequence[Sequence[str]]

    def held(self, heads: Sequence[str]) -> list[tuple[str, ...]]:
        """What each line has under some heads."""
        names = [head.name for head in self.table.heads]
        places = [names.index(head) for head in heads]
        return [tuple(line[n] for n in places) for line in self.lines]


@dataclass(frozen=True, kw_only=True)
class _Kind:
    """A table of every book: `lines` reads them of its contents."""

    name: str
    title: str
    heads: Sequence[Head]
    lines: Callable[[Told], Lines]
    keys: Sequence[str] = ()
    leads: Sequence[Leads] = field(default=())

    def filled(self, contents: Told) -> Filled:
        path = f"{TABLES}/{self.name}.csv"
        lines = [[_cell(value) for value in line] for line in self.lines(contents)]
        told = Table(name=self.name, path=path, title=self.title, heads=self.heads)
        return Filled(replace(told, keys=self.keys, leads=self.leads), lines)


def tables_of(contents: Told) -> list[Filled]:
    """Every table of a book but the list of its files; `contents` says where these lie."""
    return [kind.filled(contents) for kind in KINDS]


def table_of_files(files: Sequence[Told]) -> Filled:
    """What files the book holds, tables among them."""
    return FILES.filled({"files": files})


def described(tables: Sequence[Filled]) -> list[Table]:
    """The tables, with those keys alone that every line keeps."""
    by_name = {each.table.name: each for each in tables}
    return [
        replace(
            each.table,
            keys=each.table.keys if _are_keys(each) else (),
            leads=[
                replace(leads, is_filled=all(map(all, each.held(leads.heads))))
                for leads in each.table.leads
                if _lead(each, leads, by_name)
            ],
        )
        for each in tables
    ]


def _are_keys(filled: Filled) -> bool:
    held = filled.held(filled.table.keys)
    return len({*held}) == len(held) and all(map(all, held))


def _lead(filled: Filled, leads: Leads, by_name: Mapping[str, Filled]) -> bool:
    """Whether each line names one line there, or leaves all of it blank."""
    there = by_name[leads.to].held(leads.by)
    named = {key for key in filled.held(leads.heads) if any(key)}
    return named <= {*there} and len({*there}) == len(there)


def _cell(value: Any) -> str:
    if isinstance(value, list):
        return "; ".join(map(str, value))
    return "" if value is None else str(value)


KINDS = (
    _Kind(
        name="crits",
        title="Crits that are released",
        lines=lines_of.crits,
        heads=(CRIT, *texts("day", "released", "words")),
        keys=["crit"],
    ),
    _Kind(
        name="criteria",
        title="Criteria sheets",
        lines=lines_of.criteria,
        heads=(
            CRIT,
            CODE,
            *texts("name"),
            figure("weight", "Weight"),
            *texts("evidence"),
            *DESCRIPTORS,
        ),
        keys=["crit", "code"],
        leads=[OF_CRIT],
    ),
    _Kind(
        name="targets",
        title="Targets",
        lines=lines_of.targets,
        heads=texts("id", "what", "rule", "value", "unit", "asked by"),
    ),
    _Kind(
        name="standards",
        title="Standards",
        lines=lines_of.standards,
        heads=texts("whose", "edition", "code", "title", "criteria", "note"),
    ),
    _Kind(
        name="cohort",
        title="Figures of the cohort",
        lines=lines_of.cohort,
        heads=(
            CRIT,
            CODE,
            *texts("criterion"),
            whole("levels", "Levels given"),
            figure("mean", "Mean", LEVEL_UNIT),
            *COUNTS,
        ),
        keys=["crit", "criterion"],
        leads=[OF_CRIT, OF_CODE],
    ),
    _Kind(
        name="jurors",
        title="Summary of the jurors",
        lines=lines_of.jurors,
        heads=(
            CRIT,
            JUROR,
            whole("sheets", "Complete sheets"),
            figure("lean", "Lean", LEVEL_UNIT, "Above 0 is generous; not a verdict on anybody."),
            *(figure(end, f"Interval, {end}", LEVEL_UNIT, "At 95 %.") for end in ("from", "to")),
            *texts("not known"),
        ),
        leads=[OF_CRIT],
    ),
    _Kind(
        name="schemes",
        title="Schemes of the book",
        lines=lines_of.of_schemes,
        heads=(SCHEME, *texts("name", "drawn by", "withdrawn")),
        keys=["scheme"],
    ),
    _Kind(
        name="revisions",
        title="What was issued",
        lines=lines_of.issued,
        heads=(SCHEME, REVISION, *texts("issued", "for", "late", "drawn by", "lacks", "receipt")),
        keys=["scheme", "revision"],
        leads=[OF_SCHEME],
    ),
    _Kind(
        name="schedules",
        title="Schedules as issued",
        lines=lines_of.schedules,
        heads=(SCHEME, REVISION, *texts("schedule"), whole("rows", "Rows"), *texts("path")),
        keys=["scheme", "revision", "schedule"],
        leads=[OF_REVISION, IN_FILE],
    ),
    _Kind(
        name="checks",
        title="Check sheets as issued",
        lines=lines_of.checks,
        heads=(
            SCHEME,
            REVISION,
            *texts("reference", "title", "value", "asked", "state", "situation"),
        ),
        leads=[OF_REVISION],
    ),
    _Kind(
        name="sheets",
        title="Sheets as issued",
        lines=lines_of.sheets,
        heads=(
            SCHEME,
            REVISION,
            *texts("sheet", "title", "scale", "drawn by", "checked by"),
            *(
                whole(way, f"{way.capitalize()} of the picture", "px", 1)
                for way in ("width", "height")
            ),
            *texts("sha256", "path"),
        ),
        leads=[OF_REVISION, IN_FILE],
    ),
    _Kind(
        name="verdicts",
        title="Verdicts",
        lines=lines_of.verdicts,
        heads=(CRIT, SCHEME, *texts("verdict", "words", "criteria", "by", "at")),
        keys=["crit", "scheme"],
        leads=[OF_CRIT, OF_SCHEME],
    ),
    _Kind(
        name="agreed",
        title="Agreed levels",
        lines=lines_of.agreed,
        heads=(CRIT, SCHEME, CODE, GIVEN, *texts("word", "reason")),
        keys=["crit", "scheme", "code"],
        leads=[OF_CODE, OF_SCHEME],
    ),
    _Kind(
        name="levels",
        title="Jurors’ levels",
        lines=lines_of.given,
        heads=(CRIT, SCHEME, CODE, JUROR, GIVEN, *texts("word", "revision")),
        keys=["crit", "scheme", "code", "juror"],
        leads=[OF_CODE, OF_SCHEME],
    ),
    _Kind(
        name="corrections",
        title="Levels put right",
        lines=lines_of.corrections,
        heads=(CRIT, SCHEME, CODE, JUROR, *texts("was", "now", "reason", "by", "at", "appeal")),
        leads=[OF_CODE, OF_SCHEME],
    ),
    _Kind(
        name="again",
        title="Before and after a re-crit",
        lines=lines_of.again,
        heads=(CRIT, SCHEME, *texts("criterion", "before", "after", "why")),
        leads=[OF_CRIT, OF_SCHEME],
    ),
    _Kind(
        name="comments",
        title="Comments with their answers",
        lines=lines_of.comments,
        heads=(
            CRIT,
            SCHEME,
            COMMENT,
            *texts(
                "place",
                "revision",
                "juror",
                "kind",
                "code",
                "words",
                "reworded",
                "held",
                "answer",
                "answer words",
                "answer place",
                "answered by",
                "answered at",
                "said by",
                "heading",
                "also in",
            ),
        ),
        keys=["crit", "scheme", "comment"],
        leads=[OF_CRIT, OF_SCHEME],
    ),
    _Kind(
        name="opposed",
        title="Comments that oppose each other",
        lines=lines_of.opposed,
        heads=(
            CRIT,
            SCHEME,
            COMMENT,
            whole("other", "The other comment", least=1),
            *texts("ruling", "argue by"),
        ),
        leads=[OF_COMMENT],
    ),
    _Kind(
        name="closings",
        title="Comments closed and opened",
        lines=lines_of.closings,
        heads=(CRIT, SCHEME, COMMENT, *texts("state", "words", "by", "at")),
        leads=[OF_COMMENT],
    ),
    _Kind(
        name="spoken",
        title="Spoken, not confirmed",
        lines=lines_of.under("spoken", "place", "juror", "kind", "words"),
        heads=(CRIT, SCHEME, *texts("place", "juror", "kind", "words")),
        leads=[OF_CRIT, OF_SCHEME],
    ),
    _Kind(
        name="appeals",
        title="Appeals",
        lines=lines_of.under("appeals", "ground", "made", "outcome", "decision"),
        heads=(CRIT, SCHEME, *texts("ground", "made", "outcome", "decision")),
        leads=[OF_CRIT, OF_SCHEME],
    ),
    _Kind(
        name="register",
        title="Register",
        lines=lines_of.register,
        heads=(
            *texts(
                "scheme",
                "name",
                "revision",
                "issued",
                "for",
                "late",
                "sheets",
                "judged at",
                "drawn by",
                "withdrawn",
                "receipt",
            ),
        ),
    ),
    _Kind(
        name="chosen-from",
        title="What was chosen from",
        lines=lines_of.chosen_from,
        heads=(
            SCHEME,
            *texts("name"),
            figure("weighted", "Weighted level", LEVEL_UNIT),
            *texts("of", "verdict", "chosen"),
        ),
        keys=["scheme"],
    ),
    _Kind(
        name="missing",
        title="What couldn’t be read",
        lines=lines_of.missing,
        heads=texts("what"),
    ),
)

FILES = _Kind(
    name="files",
    title="Files of the book",
    lines=lines_of.files,
    heads=(*texts("path", "words"), whole("bytes", "Size", "byte"), *texts("sha256")),
    keys=["path"],
)
