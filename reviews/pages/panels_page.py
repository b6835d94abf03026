"""Who sits before which scheme, whose panel is small, and who could cross rooms to fill it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from criteria.crit_day.crossing import Proposal
from criteria.crit_day.panels import LEAST_PANEL
from reviews import access
from reviews.access import Viewer
from reviews.deeds.crit_crossing import Move
from reviews.models import Crit, Crossing, Slot
from reviews.reading.crit_panels import CritPanels, panels_of

MOST_OFFERS = 3
"""Proposals that are shown for one scheme."""


@dataclass(frozen=True)
class Offer:
    """One way to fill a panel, and what comes of it."""

    key: str
    words: str
    comes_of_it: str


@dataclass(frozen=True)
class PanelRow:
    """A scheme's panel: who sets levels, who sits there and only comments."""

    slot: Slot
    sets_levels: str
    only_comments: str
    count: int
    is_short: bool
    offers: list[Offer]


def panels_page(viewer: Viewer, crit: Crit) -> dict[str, Any]:
    """What the page of panels shows; what changes something is a leader's alone."""
    read = panels_of(crit)
    leads = access.can_lead(viewer, crit.studio_id)
    crossings = Crossing.objects.standing().filter(seat__crit=crit)
    return {
        "crit": crit,
        "rows": [_row(read, slot) for slot in read.slots],
        "least": LEAST_PANEL,
        "sentence": read.design.sentence if read.seats and read.slots else "",
        "crossings": list(crossings.select_related("seat", "slot__scheme", "by")),
        "warned": read.warned if read.slots else (),
        "can_lead": leads and not crit.is_released,
    }


def _row(read: CritPanels, slot: Slot) -> PanelRow:
    panel = read.sees.panel(slot.scheme.number)
    comment = [name for name in panel.present if name not in panel.levels]
    offers = read.proposals(slot)[:MOST_OFFERS] if panel.is_short else ()
    return PanelRow(
        slot,
        ", ".join(panel.levels),
        ", ".join(comment),
        len(panel.levels),
        panel.is_short,
        [_offer(each) for each in offers],
    )


def key_of(proposal: Proposal) -> str:
    """What tells a proposal from the others of a crit as it stands."""
    return f"{proposal.number}|{proposal.comes}|{proposal.goes or ''}"


def _offer(proposal: Proposal) -> Offer:
    words = proposal.words[:1].upper() + proposal.words[1:]
    then = f"{proposal.comes} then sees {proposal.load} schemes"
    short = "" if proposal.fills else f"; the panel stays under {LEAST_PANEL}"
    return Offer(key_of(proposal), words, f"{then}{short}.")


def moves_of(crit: Crit, key: str) -> list[Move]:
    """The crossings of a proposal that still stands; none where it doesn't."""
    read = panels_of(crit)
    seats = {seat.name: seat for seat in read.seats}
    slots = {slot.scheme.number: slot for slot in read.slots}
    slot = slots.get(key.partition("|")[0])
    offered = read.proposals(slot) if slot else ()
    found = next((each for each in offered if key_of(each) == key), None)
    return [
        Move(seats[each.juror], slots[each.number], each.comes)
        for each in (found.crossings if found else ())
    ]
