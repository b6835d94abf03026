"""A small check of JSON by a schema (JSON Schema 2020-12): the keywords that ours uses, no others.

A keyword that isn't known here is a fault of the check, never passed over.
"""

import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any

KINDS = {
    "object": dict,
    "array": list,
    "string": str,
    "boolean": bool,
    "integer": int,
    "number": (int, float),
    "null": type(None),
}
SAID = {"$schema", "$defs", "title", "description", "examples"}
"""Keywords that say something and hold nobody to it."""


def _is_moment(text: str) -> bool:
    return datetime.fromisoformat(text).tzinfo is not None


FORMATS = {
    "date-time": _is_moment,
    "date": lambda text: bool(date.fromisoformat(text)),
    "uri": lambda text: re.match(r"https?://[^\s]+$", text) is not None,
}


def is_kind(value: Any, kind: str) -> bool:
    """Whether a value is of a JSON type; yes and no are no numbers."""
    return isinstance(value, KINDS[kind]) and (kind == "boolean" or not isinstance(value, bool))


def broken(value: Any, schema: dict[str, Any], at: str = "") -> Iterator[str]:
    """Everything in which a value isn't as a schema says, each with where."""
    for keyword, asked in schema.items():
        if keyword in SAID:
            continue
        yield from (f"{at or '/'}: {said}" for said in _breaks(value, keyword, asked, schema))
    if isinstance(value, dict):
        for name, held in value.items():
            of = schema.get("properties", {}).get(name, schema.get("additionalProperties", True))
            if of is False:
                yield f"{at}/{name}: not foreseen"
            elif isinstance(of, dict):
                yield from broken(held, of, f"{at}/{name}")
    if isinstance(value, list) and "items" in schema:
        for n, held in enumerate(value):
            yield from broken(held, schema["items"], f"{at}/{n}")


def _breaks(value: Any, keyword: str, asked: Any, schema: dict[str, Any]) -> Iterator[str]:
    is_figure = is_kind(value, "number")
    holds = {
        "type": lambda: is_kind(value, asked),
        "const": lambda: value == asked,
        "enum": lambda: value in asked,
        "anyOf": lambda: any(not list(broken(value, each)) for each in asked),
        "format": lambda: not isinstance(value, str) or FORMATS[asked](value),
        "required": lambda: not isinstance(value, dict) or set(asked) <= value.keys(),
        "minItems": lambda: not isinstance(value, list) or len(value) >= asked,
        "maxItems": lambda: not isinstance(value, list) or len(value) <= asked,
        "minimum": lambda: not is_figure or value >= asked,
        "maximum": lambda: not is_figure or value <= asked,
        **dict.fromkeys(("properties", "additionalProperties", "items"), lambda: True),
    }
    if not holds[keyword]():
        yield f"{keyword} {asked!r:.80}, read {value!r:.80}"
