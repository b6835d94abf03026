"""A scribe's quick line, read: `OST 6C2 prove 765kg wet?`.

Juror, place and kind stand before the words, in any order, and any of them may be missing. The
words are the rest, as typed. What has the form of one of them and can't be read as it stays in the
words and is named; nothing is guessed:

    juror   the initials that the page shows big, the surname or its beginning; ??? is unknown
    place   6C2, 06·C2, 06 C2, sheet 6, C2; a number alone only with its leading nought, 06
    kind    its word or the letters it alone begins with; a and as, which are words, with a colon
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count

from reviews.models import Comment
from reviews.models.revisions import plain_number

UNKNOWN = "???"
"""Who, where the scribe doesn't know it."""

SHORTEST = 3
"""Letters of a surname that say who."""

_KINDS: tuple[str, ...] = tuple(Comment.Kind.values)
_WORDS_TOO = {"a", "as"}
"""Beginnings of a kind that are words: they need a colon behind them."""

_COMMON = """
    the and but not you who how why all can her his has had was are for one two six ten day may
    see now new old our out say she any few get got let lot low put set too use way yes
"""
"""Words that are initials only in capitals."""

_TOKEN = re.compile(r"\S+")
_BOTH = re.compile(r"(?P<sheet>[A-Za-z]?-?[0-9]{1,4})[·./,-]?(?P<zone>[A-Za-z][0-9]{1,2})")
_ZONE = re.compile(r"[A-Da-d][1-6]")
_LIKE_A_ZONE = re.compile(r"[A-Ha-h][0-9]")
_SHEET = ("sheet", "sh")


@dataclass(frozen=True)
class LineRead:
    """What was read of a line.

    typed     the line as it was typed
    who       the juror's initials as the page shows them, UNKNOWN, or blank where nobody is named
    sheet     the number as it was issued; blank where none was read
    words     what is left, as typed
    unread    what looks like a part and couldn't be read, with why
    """

    typed: str
    who: str = ""
    sheet: str = ""
    zone: str = ""
    kind: str = ""
    words: str = ""
    unread: tuple[str, ...] = ()

    @property
    def place(self) -> str:
        """Sheet and zone, as it is said."""
        return "·".join(part for part in (self.sheet, self.zone) if part)


def initials_of_jurors(names: Sequence[str]) -> list[str]:
    """The initials of each juror: three letters of the surname, more where two would share them.

    None of them begins a kind or is part of another's.

    >>> initials_of_jurors(["Marek Ostrey", "Ann Quill", "Ben Quinn", "Dee Drawer", "Bo Ask"])
    ['OST', 'QUIL', 'QUIN', 'DRAWE', 'ASKB']
    >>> initials_of_jurors(["Ann Lee", "Bo Lee", "Cy Lee", "Cas Lee", "Åse Ø", ""])
    ['LEEA', 'LEEB', 'LEECY', 'LEECA', 'ØA', 'J6']
    """
    letters = [(_letters(_surname(name)), _letters(name)) for name in names]
    ways = [
        [each for each in _ways(surname, whole) if not _begins_a_kind(each)]
        for surname, whole in letters
    ]
    shared = Counter(way for own in ways for way in set(own))
    taken: set[str] = set()
    found = []
    for number, own in enumerate(ways, start=1):
        free = (way for way in own if shared[way] == 1 and way not in taken)
        made = (f"J{n}" for n in count(number))
        short = next(free, None) or next(way for way in made if way not in taken)
        taken.add(short)
        found.append(short)
    return found


def _surname(name: str) -> str:
    words = [word for word in name.split() if _letters(word)]
    return words[-1] if words else ""


def _letters(text: str) -> str:
    """Its letters in capitals, less accents."""
    plain = unicodedata.normalize("NFKD", text)
    return "".join(letter for letter in plain if letter.isalpha()).upper()


def _ways(surname: str, whole: str) -> Iterator[str]:
    """What a juror could be called, the shortest first; the first name's letters come last."""
    first = whole.removesuffix(surname)
    begun = surname[:SHORTEST]
    if len(begun) == SHORTEST or not first:
        yield from (surname[:n] for n in range(SHORTEST, len(surname) + 1) if len(surname) >= n)
    yield from (begun + first[:n] for n in range(1, len(first) + 1))


def _begins_a_kind(text: str) -> bool:
    return any(kind.upper().startswith(text) for kind in _KINDS)


def read_line(typed: str, names: Sequence[str], sheets: Iterable[str]) -> LineRead:
    """Read a line, given the jurors' names and the numbers of the sheets that are shown."""
    return _Reading(typed, names, list(sheets)).read()


class _Reading:
    """One line while it is read, token by token."""

    def __init__(self, typed: str, names: Sequence[str], sheets: list[str]) -> None:
        self.typed = typed
        self.sheets = sheets
        self.called = dict(zip(initials_of_jurors(names), names, strict=True))
        self.tokens = list(_TOKEN.finditer(typed))
        self.at = 0
        self.who = self.sheet = self.zone = self.kind = ""
        self.unread: list[str] = []

    def read(self) -> LineRead:
        """Take parts from the front until a token is none."""
        while self.at < len(self.tokens) and self._take():
            pass
        rest = self.tokens[self.at :]
        if rest:
            self._name(self._token(self.at))
        if not (self.sheet or self.zone):
            self._look_for_a_place(rest)
        words = self.typed[rest[0].start() :].strip() if rest else ""
        return LineRead(
            self.typed, self.who, self.sheet, self.zone, self.kind, words, tuple(self.unread)
        )

    def _token(self, at: int) -> str:
        return self.tokens[at][0] if at < len(self.tokens) else ""

    def _take(self) -> bool:
        """Read the next token, or two, as a part that isn't there yet; tell whether it was one."""
        token = self._token(self.at)
        bare = token.rstrip(":;,.")
        if not self.who and (who := self._juror(bare)):
            self.who = who
            self.at += 1
            return True
        if not (self.sheet or self.zone) and (taken := self._place(bare)):
            self.at += taken
            return True
        if not self.kind and (kind := _kind(token, bare)):
            self.kind = kind
            self.at += 1
            return True
        return False

    # who

    def _juror(self, bare: str) -> str:
        if bare and not bare.strip("?"):
            return UNKNOWN
        if not bare.isalpha() or (bare.casefold() in _COMMON.split() and not bare.isupper()):
            return ""
        found = self._meant(bare)
        return found[0] if len(found) == 1 else ""

    def _meant(self, bare: str) -> list[str]:
        """The initials of whom it may mean."""
        sent = _letters(bare)
        if sent in self.called:
            return [sent]
        if len(sent) < SHORTEST or _begins_a_kind(sent):
            return []
        return [
            short
            for short, name in self.called.items()
            if _letters(_surname(name)).startswith(sent)
        ]

    # where

    def _place(self, bare: str) -> int:
        """Take a place; return how many tokens it took."""
        if _ZONE.fullmatch(bare):
            self.zone = bare.upper()
            self.sheet = self.sheets[0] if len(self.sheets) == 1 else ""
            return 1
        if both := _BOTH.fullmatch(bare):
            return self._take_place(both["sheet"], both["zone"], 1)
        after = self._token(self.at + 1).rstrip(":;,.")
        if bare.casefold() in _SHEET:
            beyond = self._token(self.at + 2).rstrip(":;,.")
            if both := _BOTH.fullmatch(after):
                return self._take_place(both["sheet"], both["zone"], 2)
            if _ZONE.fullmatch(beyond):
                return self._take_place(after, beyond, 3)
            return self._take_place(after, "", 2)
        if _ZONE.fullmatch(after) and (taken := self._take_place(bare, after, 2)):
            return taken
        is_marked = bare.startswith("0") or not bare.isdigit()
        return self._take_place(bare, "", 1) if is_marked and bare in self.sheets else 0

    def _take_place(self, number: str, zone: str, tokens: int) -> int:
        sheet = self._sheet(number)
        if not sheet or (zone and not _ZONE.fullmatch(zone)):
            return 0
        self.sheet, self.zone = sheet, zone.upper()
        return tokens

    def _sheet(self, number: str) -> str:
        """The number as it was issued of what people mean by one: 6 is 06."""
        meant = (sheet for sheet in self.sheets if plain_number(sheet) == plain_number(number))
        return next(meant, "") if number else ""

    def _look_for_a_place(self, rest: list[re.Match[str]]) -> None:
        """A sheet with a square in mid-sentence is one too; the sentence stays whole."""
        for token in rest:
            both = _BOTH.fullmatch(token[0].strip("()[]“”\"'?!:;,."))
            if both and self._take_place(both["sheet"], both["zone"], 1):
                return

    # what looks like a part and is none

    def _name(self, token: str) -> None:
        bare = token.rstrip(":;,.")
        said = [] if self.who else self._name_juror(bare)
        if not (self.sheet or self.zone):
            said += self._name_place(bare)
        if not self.kind and not said:
            said += _name_kind(bare)
        self.unread += [f"“{bare}” {why}" for why in said]

    def _name_juror(self, bare: str) -> list[str]:
        if bare.isalpha() and len(found := self._meant(bare)) > 1:
            return [f"may be {' or '.join(found)}"]
        if bare.casefold() in _COMMON.split() and _letters(bare) in self.called:
            return [f"is read as {_letters(bare)} only in capitals"]
        if bare.isalpha() and bare.isupper() and len(bare) == SHORTEST and not _kind(bare, bare):
            return ["is no juror of this crit"]
        return []

    def _name_place(self, bare: str) -> list[str]:
        shown = ", ".join(self.sheets)
        known = f"the sheets shown are {shown}" if shown else "no sheet is shown"
        if both := _BOTH.fullmatch(bare):
            if not self._sheet(both["sheet"]):
                return [f"is on no sheet: {known}"]
            return ["is no square: they go from A1 to D6"]
        if _LIKE_A_ZONE.fullmatch(bare):
            return ["is no square: they go from A1 to D6"]
        if bare.casefold() in _SHEET and self._token(self.at + 1):
            return [f"is followed by no sheet: {known}"]
        if bare.isdigit() and (sheet := self._sheet(bare)):
            return [f"may be sheet {sheet}: type it as sheet {bare}, or with its square"]
        return []


def _kind(token: str, bare: str) -> str:
    """The kind that a token alone begins."""
    sent = bare.casefold()
    if not sent or (sent in _WORDS_TOO and not token.endswith(":")):
        return ""
    begun = [kind for kind in _KINDS if kind.casefold().startswith(sent)]
    return begun[0] if len(begun) == 1 else ""


def _name_kind(bare: str) -> list[str]:
    sent = bare.casefold()
    begun = [kind for kind in _KINDS if kind.casefold().startswith(sent)] if sent else []
    return [f"may be {' or '.join(begun)}"] if len(begun) > 1 else []
