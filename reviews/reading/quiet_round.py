"""The quiet round of a pin-up: which schemes a classmate is offered, and who has fewest notes.

The rule: the schemes stand in a ring, shuffled by the crit's number. A student is offered the two
with fewest notes, of equals the nearest behind their own; what they began stays theirs. So while a
scheme has no note, the student before it in the ring is offered it first, and the one before that
first or second, whoever else writes meanwhile and however old their pages are: if all take part
nobody is left without. Whoever has done both is offered one more, again one with fewest.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from reviews import clock
from reviews.models import Crit, QuietNote, Scheme

OFFERED = 2


def ring_of(schemes: Iterable[int], seed: int) -> list[int]:
    """The schemes in the order of the ring: the same for everybody, another at each pin-up."""
    ring = sorted(schemes)
    random.Random(seed).shuffle(ring)
    return ring


def offered(
    ring: Sequence[int],
    counts: Mapping[int, int],
    own: Collection[int],
    begun: Mapping[int, int],
    *,
    behind: int = 0,
) -> list[int]:
    """The schemes that a student is offered, those begun first.

    ring     schemes, as `ring_of` gives them
    counts   notes that stand on each
    own      the student's own schemes, never offered
    begun    how many of the two notes the student left, of each scheme with one
    behind   from which place of the ring somebody without a scheme counts
    """
    place = next((n for n, pk in enumerate(ring) if pk in own), behind % len(ring) if ring else 0)
    turned = [*ring[place:], *ring[:place]]
    stays = [pk for pk in turned if pk in begun]
    free = [pk for pk in turned if pk not in own and pk not in begun]
    is_done = len(stays) >= OFFERED and all(begun[pk] == len(QuietNote.Kind) for pk in stays)
    wanted = len(stays) + 1 if is_done else OFFERED
    free.sort(key=lambda pk: counts.get(pk, 0))  # of equals the nearer stays first
    return [*stays, *free][: max(wanted, len(stays))]


def taking_part(crit: Crit) -> list[Scheme]:
    """The schemes that hang at a pin-up: those that are drawn."""
    schemes = crit.studio.schemes.standing().prefetch_related("members")
    return list(schemes.order_by("number"))


def counted(notes: Iterable[QuietNote]) -> Counter[int]:
    """How many notes each scheme has."""
    return Counter(note.scheme_id for note in notes)


def is_open(crit: Crit) -> bool:
    """Whether notes can be left: from the pin-up's day on, until the leader closes the round."""
    return crit.quiet_closed_at is None and clock.today() >= crit.day
