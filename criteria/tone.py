"""Words about the person where words about the work would do: found, each with the reason.

A soft note to whoever writes, never a verdict: it blocks nothing, and what it doesn't know it
doesn't name. Words of several readings are left out unless what stands beside them decides: a child
who could fall through a rail is no insult. `python -m tests.benchmarks.tone` tries it on hard
sentences about the work; a rule that names more than one in twenty of these stays out.

Source: common practice of studio teaching, that criticism is of the work. The list is our own.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

_NOT = r"(?:did ?n[o']t|did not|do ?n[o']t|do not|have ?n[o']t|have not|can ?n[o']t|could ?n[o']t)"
_SURELY = r"(?:(?:obviously|clearly|simply|just|really|evidently|still|so|too|very) )*"
_MAKERS = r"(?:designer|architect|student|engineer|professional|maker|draughtsman|draftsman)s?"
_DRAWN = r"(?:do|done|draw|drawn|make|made|design|designed) (?:this|that|it|better|a better)"
_CHILD = r"(?:child|kid|son|daughter|niece|nephew|grandson|granddaughter|grandmother|dog|toddler)"

_MIND = "It says what somebody knows or meant; say what the drawing shows."
_CARE = "It judges effort, which nobody in the room can see; say what is missing."
_KIND = "It measures the person; measure the work against the brief."
_CHARACTER = "It names a trait of the person; name the trait of the drawing."
_SCORN = "It mocks whoever is asked; ask the question alone."
_PLACE = "It says who belongs here; say what the scheme needs next."

_RULES: tuple[tuple[str, str], ...] = (
    (rf"you (?:so )?obviously {_NOT}", _MIND),
    (rf"you {_SURELY}{_NOT} (?:understand|know|grasp) (?:anything|the first thing|design)", _MIND),
    (rf"you {_SURELY}{_NOT} know what you(?:'re| are) (?:doing|talking)", _MIND),
    (
        rf"you(?:'ve| {_SURELY}ha(?:ve|d)) (?:got )?no (?:clue|talent|taste|idea (?:what|how))",
        _MIND,
    ),
    (r"(?:i (?:doubt|wonder (?:if|whether)) you (?:ever|even))", _MIND),
    (rf"you {_SURELY}{_NOT} (?:think|think at all|think it through)(?= ?[.!?,;]| ?$)", _MIND),
    (r"what (?:on earth |the hell )?were you thinking(?= ?[.!?,;]| ?$)", _SCORN),
    (r"(?:did|do|have|can|could|are|were) you even(?! (?:out|up|off))", _SCORN),
    (r"(?:are|were) you (?:serious|joking|kidding|asleep|awake|drunk|blind)", _SCORN),
    (r"how (?:could|can) you (?:think|believe|possibly|dare)", _SCORN),
    (r"is (?:this|that|it) (?:meant to be |supposed to be )?a joke", _SCORN),
    (r"wrong with you", _SCORN),
    (r"(?:wast(?:e|ed|ing)) (?:of )?(?:my|our|everyone's|everybody's|the jury's) time", _SCORN),
    (r"(?:i am|i'm|we are|we're) (?:insulted|appalled|disgusted)", _SCORN),
    (r"la[sz]y(?! susan)|lazily|laziness", _CARE),
    (rf"you(?:'ve| have| had)? {_SURELY}(?:gave|given) up", _CARE),
    (rf"{_NOT} (?:even )?(?:be )?bother(?:ed)?", _CARE),
    (rf"you {_SURELY}{_NOT} (?:even )?care", _CARE),
    (r"you(?:'re| are| were) (?:clearly |obviously )?not (?:even )?trying", _CARE),
    (r"(?:you (?:made|put in) no|zero|lack of) effort", _CARE),
    (r"you (?:never|always) (?:listen|learn|make excuses|do this)", _CARE),
    (
        r"you (?:obviously |clearly )?(?:did|drew|made|threw|knocked) (?:this|it|these|that) "
        r"(?:together |up |out )*(?:last night|the night before|this morning|on the (?:bus|train))",
        _CARE,
    ),
    (
        rf"(?:a|any|every|no) (?:real|proper|true|serious|good|decent|competent) {_MAKERS} "
        r"(?:would|wouldn't|does|doesn't|knows|could|ever)",
        _KIND,
    ),
    (r"my (?:[a-z]+|\d{1,2})[- ]year[- ]old", _KIND),
    (rf"(?:my|a|any) {_CHILD} (?:could|can|would)(?: have)? {_DRAWN}", _KIND),
    (r"any (?:fool|idiot|first[- ]year) (?:could|can|would|knows|sees)", _KIND),
    (r"(?:better|more|much more) (?:of|from) you", _KIND),
    (r"disappointed (?:in|by|with) you", _KIND),
    (
        rf"you(?:'re| are| were) {_SURELY}(?:a |an )?(?:careless|sloppy|hopeless|clueless|arrogant|"
        r"naive|naïve|ignorant|useless|immature|childish|spoilt|spoiled)",
        _CHARACTER,
    ),
    (
        r"stupid(?:ity)?|idiot(?:ic|s)?|moron(?:ic|s)?|imbecile|pathetic|incompeten(?:t|ce)",
        _CHARACTER,
    ),
    (r"amateurish|talentless|untalented", _CHARACTER),
    (r"(?:be|feel) (?:ashamed|embarrassed)(?: of|(?= ?[.!?,;]| ?$))|shame on you", _CHARACTER),
    (r"your (?:attitude|laziness|ego|excuses|accent(?! colou?r)|english)", _CHARACTER),
    (r"(?:my dear|sweetheart|young lady|missy)", _CHARACTER),
    (r"typical (?:of you|student|girl|boy|woman|man)", _CHARACTER),
    (
        r"(?:you|about|try|for|on) (?:\w+ )?(?:another|a different|the wrong|some other) "
        r"(?:course|profession|career)(?! of)",
        _PLACE,
    ),
    (r"you (?:do not|don't) belong", _PLACE),
    (r"(?:not|never) cut out for", _PLACE),
    (rf"you(?:'ll| will) never (?:be|become|make) (?:a|an) (?:\w+ )?{_MAKERS}", _PLACE),
)


def _whole(pattern: str) -> str:
    return rf"(?<![\w'-])(?:{pattern})(?![\w-])"


PATTERNS = tuple((_whole(pattern), why) for pattern, why in _RULES)
"""Each as a regular expression over plain words, of signs that browsers read alike, and why."""

_COMPILED = tuple((re.compile(pattern), why) for pattern, why in PATTERNS)
_ALIKE = str.maketrans({"’": "'", "‘": "'", "\u02bc": "'", "´": "'", "`": "'", "“": '"', "”": '"'})
_ALIKE |= str.maketrans({"‐": "-", "‑": "-", "–": "-", "\N{NO-BREAK SPACE}": " "})


@dataclass(frozen=True)
class Found:
    """Words about the person, as they were typed, why, and the rule that names them.

    >>> tone_of("Did you  EVEN read it?")[0].words
    'Did you EVEN'
    """

    words: str
    why: str
    rule: str


def plain(words: str) -> str:
    """Words with one kind of apostrophe, quote, hyphen and gap between them, case as typed."""
    return " ".join(words.translate(_ALIKE).split())


@lru_cache(maxsize=4096)
def tone_of(words: str) -> tuple[Found, ...]:
    """What of some words is about the person, in the order in which it stands; mostly nothing.

    >>> tone_of("A child could fall through this rail. The plan is careless.")
    ()
    """
    typed = plain(words)
    # what lower-case letters are longer than their capitals would move every place behind them
    low = "".join(c.lower() if len(c.lower()) == 1 else c for c in typed)
    found = [(match, why) for rule, why in _COMPILED for match in rule.finditer(low)]
    found.sort(key=lambda each: (each[0].start(), -each[0].end()))
    named: list[Found] = []
    end = 0
    for match, why in found:
        if match.start() >= end:
            named.append(Found(typed[match.start() : match.end()], why, match.re.pattern))
            end = match.end()
    return tuple(named)
