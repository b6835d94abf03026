"""What an export tells of a scheme's other days: desk crits, options, notes of quiet rounds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reviews.models import QuietNote, Scheme, SheetFile
from reviews.reading.person_relations import plain

Told = dict[str, Any]


def at_the_desk(scheme: Scheme, of_photo: Callable[[SheetFile | None], Told]) -> Told:
    """What a scheme's students may read of it: notes of a quiet round once that is closed."""
    meetings = scheme.desk_crits.select_related("by", "photo").prefetch_related("steps")
    left = QuietNote.objects.standing().filter(scheme=scheme, crit__quiet_closed_at__isnull=False)
    return {
        "desk_crits": [
            {
                "at": plain(note.at),
                "by": str(note.by),
                "words": note.words,
                "next_steps": [
                    {"words": step.words, "done_at": plain(step.done_at)}
                    for step in note.steps.all()
                ],
                **of_photo(note.photo),
            }
            for note in meetings
        ],
        "options": [
            {
                "title": option.title,
                "words": option.words,
                "sheet": option.sheet,
                "chosen_at": plain(option.chosen_at),
                "why": option.why,
            }
            for option in scheme.options.written()
        ],
        "left_in_quiet_rounds": [
            {
                "crit": str(note.crit),
                "kind": note.kind,
                "words": note.words,
                "by": str(note.by),
            }
            for note in left.select_related("crit", "by")
        ],
    }
