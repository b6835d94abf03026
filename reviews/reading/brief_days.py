"""Days that a text names: what is carried over from another year must not keep that year's."""

from __future__ import annotations

import re

_MONTH = (
    "Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|"
    "Sept?(?:ember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?"
)
_WEEKDAY = r"(?:(?:Mon|Tues?|Wed(?:nes)?|Thu(?:rs)?|Fri|Sat(?:ur)?|Sun)(?:day)?,? )?"
_YEAR = r"(?:,? (?:19|20)\d\d)?"
_DAY = re.compile(
    rf"\b(?:{_WEEKDAY}\d{{1,2}}(?:st|nd|rd|th)? (?:of )?(?:{_MONTH})\b\.?{_YEAR}"
    rf"|{_WEEKDAY}(?:{_MONTH}) \d{{1,2}}(?:st|nd|rd|th)?\b{_YEAR}"
    r"|(?:19|20)\d\d-\d\d-\d\d"
    r"|\d{1,2}[./]\d{1,2}[./](?:19|20)?\d\d\b"
    rf"|(?:{_MONTH}) (?:19|20)\d\d"
    r"|(?:19|20)\d\d)\b"
)


def days_named(text: str) -> list[str]:
    """The days and years that a text names, as it writes them, each once.

    >>> days_named("Pens down Thu 3 Dec 2026, 18:00; interim on 21st of October. Sun on 21 March.")
    ['Thu 3 Dec 2026', '21st of October', '21 March']
    >>> days_named("2026-12-04, 4/12/26 and in May 2027, 2010 mm wide, 1:20")
    ['2026-12-04', '4/12/26', 'May 2027', '2010']
    """
    return list(dict.fromkeys(found.group().strip() for found in _DAY.finditer(text)))
