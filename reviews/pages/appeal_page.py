"""An appeal as its reader may read it: the trail as it was when made, beside what stands now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from itertools import groupby
from typing import Any

from reviews import access_answers
from reviews.access import Viewer
from reviews.deeds.crit_appealing import decision_seen
from reviews.models import Appeal, AppealWords, Crit, JurySheet, LevelGiven, Person, Seat, Studio
from reviews.models.crits import LEVELS
from reviews.moments import day_words, moment_words, span_words
from reviews.reading.crit_agreed import agreed_of, verdicts_of
from reviews.reading.crit_results import read_results
from reviews.reading.crit_trail import Fact, open_to, trail_of

PARTS = ("presenting", "discussion", "silent writing")
SOMEBODY = "A juror"


@dataclass(frozen=True)
class TrailLine:
    """One fact in words.

    is_since   it came about, or changed, after the appeal was made
    is_gone    it stood so when the appeal was made, and doesn't any more
    is_office  its leaders and coordinators alone read it
    """

    at: datetime | None
    words: str
    reason: str
    is_since: bool
    is_gone: bool
    is_office: bool


@dataclass(frozen=True)
class AppealPage:
    """One appeal.

    put_right   what was corrected with the decision
    """

    appeal: Appeal
    added: list[AppealWords]
    lines: list[TrailLine]
    put_right: list[str]
    has_office: bool
    can_add: bool
    can_withdraw: bool
    can_decide: bool
    why_not: str
    given: list[LevelGiven]
    seen: str

    @property
    def scale(self) -> str:
        """What the figures of levels mean."""
        return ", ".join(f"{n} {word}" for n, word in enumerate(LEVELS, start=1))

    @cached_property
    def differs(self) -> bool:
        """Whether anything is otherwise than when it was made."""
        return any(line.is_since or line.is_gone for line in self.lines)


def appeal_page(viewer: Viewer, appeal: Appeal) -> AppealPage:
    """Read an appeal as far as its reader may."""
    crit, scheme = appeal.crit, appeal.scheme
    has_office = access_answers.has_office(viewer, appeal)
    now = open_to(trail_of(crit, scheme), has_office=has_office)
    then = open_to(appeal.trail.get("facts", []), has_office=has_office)
    say = _Words(crit, _jurors(appeal, has_office=has_office), [*now, *then])
    can_decide = access_answers.can_decide(viewer, appeal)
    return AppealPage(
        appeal=appeal,
        added=list(appeal.added.select_related("by")),
        lines=_lines(then, now, say),
        put_right=_put_right(now, appeal, say),
        has_office=has_office,
        can_add=access_answers.can_add_words(viewer, appeal),
        can_withdraw=access_answers.can_withdraw(viewer, appeal),
        can_decide=can_decide,
        why_not="" if can_decide or not appeal.is_open else who_decides(viewer, appeal),
        given=_given(appeal) if can_decide else [],
        seen=decision_seen(appeal) if can_decide else "",
    )


def who_decides(viewer: Viewer, appeal: Appeal) -> str:
    """Say who decides it, to whoever doesn't."""
    if not access_answers.has_coordinator():
        who = "A studio leader decides it: the site has no coordinator."
    else:
        who = "A coordinator decides it."
    person, has_office = viewer.person, access_answers.has_office(viewer, appeal)
    if person and has_office and access_answers.judged(person, appeal):
        return f"{who} Whoever judged the scheme doesn’t."
    return who


def _given(appeal: Appeal) -> list[LevelGiven]:
    """The jurors' levels that count, by criterion."""
    sheets = JurySheet.objects.of(appeal.crit_id, appeal.scheme_id).counting()
    given = LevelGiven.objects.filter(jury_sheet__in=sheets)
    return list(given.select_related("criterion", "jury_sheet__seat"))


def _jurors(appeal: Appeal, *, has_office: bool) -> Mapping[int, str]:
    """What each juror is called: by name to whoever has the office, else as on the results."""
    if has_office:
        return dict(Seat.objects.filter(crit=appeal.crit).values_list("pk", "name"))
    return read_results(appeal.crit, appeal.scheme).names


def _lines(then: list[Fact], now: list[Fact], say: _Words) -> list[TrailLine]:
    gone = [fact for fact in then if fact not in now]
    marked = [(fact, fact not in then, fact in gone) for fact in sorted([*now, *gone], key=_order)]
    return [
        TrailLine(
            at=datetime.fromisoformat(facts[0]["at"]) if facts[0]["at"] else None,
            words=say.levels(facts) if len(facts) > 1 else say(facts[0]),
            reason=say.reason(facts[0]),
            is_since=is_since,
            is_gone=is_gone,
            is_office=bool(facts[0].get("office")),
        )
        for facts, is_since, is_gone in _together(marked)
    ]


def _order(fact: Fact) -> tuple[object, ...]:
    return fact["at"], fact["what"], fact.get("seat", 0), fact.get("criterion", ""), str(fact)


def _together(
    marked: Iterable[tuple[Fact, bool, bool]],
) -> Iterable[tuple[list[Fact], bool, bool]]:
    """Levels that one juror set at one moment on one revision, in one line."""

    def alike(each: tuple[Fact, bool, bool]) -> tuple[object, ...]:
        fact = each[0]
        if fact["what"] != "level":
            return (id(fact),)
        names = ("at", "seat", "letter", "arrived", "office")
        return (*(fact.get(name) for name in names), *each[1:])

    for _, group in groupby(marked, key=alike):
        held = list(group)
        yield [fact for fact, _, _ in held], held[0][1], held[0][2]


def _put_right(now: list[Fact], appeal: Appeal, say: _Words) -> list[str]:
    return [say(fact) for fact in now if fact.get("appeal") == appeal.pk]


class _Words:
    """Says facts in words, with names looked up by their keys."""

    def __init__(self, crit: Crit, jurors: Mapping[int, str], facts: Iterable[Fact]) -> None:
        self.crit, self.jurors = crit, jurors
        keys = {fact["person"] for fact in facts if "person" in fact}
        self.people = dict(Person.objects.filter(pk__in=keys).values_list("pk", "name"))

    def __call__(self, fact: Fact) -> str:
        return _SAYS[fact["what"]](self, fact)

    def levels(self, facts: list[Fact]) -> str:
        """Several levels of one juror, by their figures."""
        set_ = ", ".join(f"{fact['criterion']} {fact.get('now') or 'no level'}" for fact in facts)
        return f"{self.juror(facts[0])}: {set_}{_on(facts[0])}{self.late(facts[0])}"

    def reason(self, fact: Fact) -> str:
        """The words that stand with it."""
        return str(fact.get("words", ""))

    def juror(self, fact: Fact) -> str:
        return self.jurors.get(fact.get("seat", 0), SOMEBODY)

    def by(self, fact: Fact) -> str:
        name = self.people.get(fact.get("person", 0))
        return f", {name}" if name else ""

    def late(self, fact: Fact) -> str:
        arrived = fact.get("arrived")
        if not arrived:
            return ""
        return f"; waited on the device until {moment_words(datetime.fromisoformat(arrived))}"


def _level(text: Any) -> str:
    sent = str(text or "")
    return f"{sent} {LEVELS[int(sent) - 1]}" if sent.isdigit() else sent or "no level"


def _on(fact: Fact) -> str:
    return f" on revision {fact['letter']}" if fact.get("letter") else ""


def _issued(say: _Words, fact: Fact) -> str:
    late = fact.get("minutes")
    issued = f"Revision {fact['letter']} issued{say.by(fact)}"
    return f"{issued}; late issue, by {span_words(late)}" if late else issued


def _placed(say: _Words, fact: Fact) -> str:
    parts = [f"position {fact['position']}", fact.get("hour", ""), fact.get("room", "")]
    room = [f"room {parts[2]}"] if parts[2] else []
    return "In the running order: " + ", ".join([*filter(None, parts[:2]), *room])


def _given_minutes(say: _Words, fact: Fact) -> str:
    given, planned = fact["given_s"], fact["planned_s"]
    words = [
        f"{part} {_clock(is_given)} of {_clock(was)}"
        for part, is_given, was in zip(PARTS, given, planned, strict=True)
        if is_given or was
    ]
    return f"Minutes given [min:s]: {', '.join(words)}; in all {_clock(sum(given))}"


def _clock(seconds: int) -> str:
    return f"{seconds // 60}:{seconds % 60:02}"


def _locked(say: _Words, fact: Fact) -> str:
    typed = f", typed in from paper{say.by(fact)}" if fact.get("person") else ""
    levels = f": {fact['levels']}" if fact.get("levels") else ""
    return f"{say.juror(fact)} locked the sheet{typed}{levels}"


def _interest(say: _Words, fact: Fact) -> str:
    how = "comments, sets no level" if fact.get("comments") else "stepped aside"
    back = "; taken back" if fact.get("taken_back") else ""
    return f"{say.juror(fact)} declared an interest: {how}{back}"


def _moved(what: str) -> Callable[[_Words, Fact], str]:
    def words(say: _Words, fact: Fact) -> str:
        return (
            f"{say.juror(fact)}, {fact['criterion']}: {_level(fact.get('was'))} → "
            f"{_level(fact.get('now'))}, {what}{say.by(fact)}"
        )

    return words


def _verdict(say: _Words, fact: Fact) -> str:
    codes = f", {fact['codes']} stay open" if fact.get("codes") else ""
    return f"Verdict: {fact['now']}{codes}{say.by(fact)}"


def _agreed(say: _Words, fact: Fact) -> str:
    if not fact.get("now"):
        return f"Agreed level of {fact['criterion']} taken back{say.by(fact)}"
    return f"Agreed on {fact['criterion']}: {_level(fact['now'])}{say.by(fact)}"


def _spoken(say: _Words, fact: Fact) -> str:
    who = say.juror(fact) if fact.get("seat") else "Speaker unknown"
    said = f"“{fact['said']}”" if fact.get("said") else "the scribe missed something here"
    return f"Spoken, unconfirmed: {who}, {said}"


def _held(say: _Words, fact: Fact) -> str:
    said = f": “{fact['said']}”" if fact.get("said") else ""
    return f"Comment held, {say.juror(fact)}, {fact['of']}{said}{say.by(fact)}"


_SAYS: dict[str, Callable[[_Words, Fact], str]] = {
    "issued": _issued,
    "chosen": lambda say, fact: f"The panel chose to judge revision {fact['letter']}",
    "placed": _placed,
    "given": _given_minutes,
    "stood-down": lambda say, fact: f"Stood down{say.by(fact)}",
    "in-part": lambda say, fact: f"{say.juror(fact)} saw in part: comments count, levels don’t",
    "interest": _interest,
    "level": lambda say, fact: (
        f"{say.juror(fact)}, {fact['criterion']}: {_level(fact.get('now'))}"
        f"{_on(fact)}{say.late(fact)}"
    ),
    "changed": _moved("changed by its juror after the discussion"),
    "corrected": _moved("corrected after the release"),
    "locked": _locked,
    "reopened": lambda say, fact: f"The sheet of {say.juror(fact)} opened again{say.by(fact)}",
    "comment": lambda say, fact: f"{say.juror(fact)}, {fact['of']}{say.late(fact)}",
    "held": _held,
    "spoken": _spoken,
    "agreed": _agreed,
    "verdict": _verdict,
    "sent": lambda say, fact: f"Comments sent without levels{say.by(fact)}",
    "released": lambda say, fact: f"Results released{say.by(fact)}",
    "talked": lambda say, fact: (
        f"A talk of {day_words(date.fromisoformat(fact['day']))} was written down{say.by(fact)}"
    ),
}
"""Each kind of fact in words."""


def standing(appeal: Appeal) -> tuple[dict[int, int | None], str]:
    """The agreed levels by criterion and the verdict that stand now, for whoever decides."""
    agreed = agreed_of(appeal.crit, [appeal.scheme_id])[appeal.scheme_id]
    verdict = verdicts_of(appeal.crit, [appeal.scheme_id]).get(appeal.scheme_id)
    levels = {pk: row.level for pk, row in agreed.items()}
    return levels, verdict.get_kind_display() if verdict else ""


def appeals_of(studio: Studio) -> list[Appeal]:
    """Every appeal of a studio, open ones first, then the latest."""
    rows = Appeal.objects.filter(crit__studio=studio).select_related("crit", "scheme", "by")
    return sorted(rows, key=lambda each: (not each.is_open, -each.pk))
