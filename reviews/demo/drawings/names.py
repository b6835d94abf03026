"""Find the room that the words of a schedule speak of."""

from collections.abc import Iterable

from criteria.schedules.rooms import Room

LOBBY_WORDS = ("lobby", "passage", "corridor")

USE_WORDS = {
    "circulation": ("porch", "entry", "hall", "lobby"),
    "day": ("day", "common", "deck"),
    "sleep": ("bunk", "cabin", "sleeping", "shelf"),
    "wc": ("toilet", "shower", "wc"),
    "plant": ("plant", "store"),
    "lab": ("lab",),
    "kitchen": ("kitchen",),
}


def speaks_of(place: str | None, words: Iterable[str]) -> bool:
    """Whether a place names one of some words."""
    folded = (place or "").casefold()
    return any(word in folded for word in words)


def mark_named(rooms: Iterable[Room], place: str | None) -> str | None:
    """Return the mark of the room whose name or use a place speaks of most plainly, or None.

    Words that come first weigh more, "Porch, main" is the porch; a letter or number settles
    which of several alike.
    """
    folded = (place or "").casefold()
    for sign in ",()":
        folded = folded.replace(sign, " ")
    words = folded.split()
    best: tuple[float, str] | None = None
    for room in rooms:
        name = (room.name or "").casefold()
        score = 0.0
        for rank, word in enumerate(words):
            if len(word) <= 2:
                score += 0.5 if word in name.split() else 0.0
            elif word.rstrip("s") in name:
                score += 2 + 1 / (rank + 2)
            elif word in USE_WORDS.get(room.use or "", ()):
                score += 1 + 1 / (rank + 2)
        if score >= 1 and (best is None or score > best[0] + 1e-9):
            best = score, room.mark
    return best[1] if best else None
