"""The register of a studio: every package issued, when, for which crit, and at which it was judged.

A scheme that issued nothing has a line that says so: without it the register would read as whole.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, QuerySet

from reviews.models import Crit, JurySheet, Revision, Scheme, Studio
from reviews.moments import moment_words

HEADS = (
    *("scheme", "name", "revision", "issued", "for which crit", "late by", "sheets"),
    *("judged at", "drawn by", "withdrawn", "receipt number"),
)
NOTHING = "nothing issued"


@dataclass(frozen=True)
class RegisterLine:
    """A revision as it was issued; of a scheme that issued none, what it is called.

    judged_at   the crits whose locked jury sheets stand on it
    sheets      how many; None where nothing was issued
    """

    scheme: Scheme
    revision: Revision | None = None
    crit: Crit | None = None
    judged_at: tuple[Crit, ...] = ()
    sheets: int | None = None
    by: str = ""

    @property
    def cells(self) -> list[str]:
        """The line as a table is written."""
        scheme, issued = self.scheme, self.revision
        withdrawn = moment_words(scheme.withdrawn_at) if scheme.withdrawn_at else ""
        if issued is None:
            return [scheme.number, scheme.name, NOTHING, *[""] * 5, self.by, withdrawn, ""]
        return [
            *(scheme.number, scheme.name, issued.letter, moment_words(issued.issued_at)),
            str(self.crit) if self.crit else "no crit",
            *(issued.late_words, str(self.sheets)),
            *("; ".join(map(str, self.judged_at)), self.by, withdrawn, issued.fingerprint),
        ]


def register_of(studio: Studio, open_to: QuerySet[Revision]) -> list[RegisterLine]:
    """Every scheme's revisions as far as they are open to whoever reads, by number and issue."""
    issued = open_to.filter(scheme__studio=studio).select_related("crit")
    issued = issued.annotate(hung=Count("sheets")).prefetch_related("students").order_by("pk")
    judged = _judged(studio)
    of_scheme: dict[int, list[RegisterLine]] = defaultdict(list)
    schemes = list(studio.schemes.prefetch_related("members").order_by("number", "pk"))
    known = {scheme.pk: scheme for scheme in schemes}
    for revision in issued:
        line = RegisterLine(
            known[revision.scheme_id],
            revision,
            revision.crit,
            tuple(judged[revision.pk]),
            revision.hung,
            revision.by,
        )
        of_scheme[revision.scheme_id].append(line)
    lines: list[RegisterLine] = []
    for scheme in schemes:
        lines += of_scheme[scheme.pk] or [RegisterLine(scheme, by=scheme.by)]
    return lines


def _judged(studio: Studio) -> dict[int, list[Crit]]:
    """The crits at which each revision was judged, by its key: levels stand on it, or a sheet."""
    locked = JurySheet.objects.read().filter(scheme__studio=studio)
    stood = locked.values_list("seat__crit", "revision", "levels__revision").distinct()
    crits = {crit.pk: crit for crit in studio.crits.all()}
    found: dict[int, dict[int, Crit]] = defaultdict(dict)
    for crit, of_sheet, of_level in stood:
        for pk in (of_level, None if of_level else of_sheet):
            if pk:
                found[pk][crit] = crits[crit]
    in_order: dict[int, list[Crit]] = defaultdict(list)
    in_order |= {pk: sorted(held.values(), key=_day) for pk, held in found.items()}
    return in_order


def _day(crit: Crit) -> tuple[object, int]:
    return crit.day, crit.pk


def counted(lines: Iterable[RegisterLine]) -> tuple[int, int, int]:
    """How many revisions, how many of them late, how many schemes without any."""
    lines = list(lines)
    issued = [line.revision for line in lines if line.revision]
    late = sum(bool(revision.minutes_late) for revision in issued)
    return len(issued), late, len(lines) - len(issued)
