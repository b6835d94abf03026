"""A file of JSON, read with every fault named: the file, the key, what was read, what expected."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any


class UnreadableFile(ValueError):
    """A file of JSON that can't be read: the file, the key, what was read and what was expected."""

    def __init__(self, *, file: str, key: str, read: str, expected: str) -> None:
        place = f"{file}: {key}" if key else file
        super().__init__(f"{place}: read {read}; expected {expected}")
        self.file = file
        self.key = key
        self.read = read
        self.expected = expected


class JsonFile:
    """Takes values out of nested JSON, knows where it stands and what was left."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.unread: list[str] = []

    def refuse(self, key: str, read: str, expected: str) -> UnreadableFile:
        """The error that names a key, what was read there and what was expected."""
        return UnreadableFile(file=self.file, key=key, read=read, expected=expected)

    def mapping(self, value: object, key: str) -> Mapping[str, Any]:
        """An object, or the error that says it is none."""
        if not isinstance(value, Mapping):
            raise self.refuse(key, shown(value), "an object {…}")
        return value

    def listed(self, value: object, key: str) -> list[Any]:
        """A list, or the error that says it is none."""
        if not isinstance(value, list):
            raise self.refuse(key, shown(value), "a list […]")
        return value

    def items(self, spec: Mapping[str, Any], key: str) -> list[tuple[str, Mapping[str, Any]]]:
        """The objects of a list, each with its place; none where the key is missing."""
        value = self.listed(spec.get(key, []), key)
        return [(f"{key}[{n}]", self.mapping(item, f"{key}[{n}]")) for n, item in enumerate(value)]

    def number(self, value: object, key: str) -> float:
        """A number, neither endless nor none."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.refuse(key, shown(value), "a number")
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            raise self.refuse(key, shown(value), "a number that has an end")
        return number

    def needed(self, spec: Mapping[str, Any], key: str, path: str) -> object:
        """What a key holds, or the error that it is missing."""
        if key not in spec:
            raise self.refuse(path, "nothing", "this key")
        return spec[key]

    def numbers(self, spec: Mapping[str, Any], keys: Sequence[str], path: str) -> dict[str, Any]:
        """The numbers of several keys, all needed."""
        paths = {key: f"{path}.{key}" for key in keys}
        return {key: self.number(self.needed(spec, key, at), at) for key, at in paths.items()}

    def note(self, spec: Mapping[str, Any], known: set[str], path: str = "") -> None:
        """Note the keys that mean nothing here."""
        self.unread += [f"{path}.{key}" if path else key for key in spec if key not in known]


def shown(value: object) -> str:
    """A value as JSON, shortened for a message."""
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 40 else f"{text[:39]}…"


def read_json(path: Path) -> object:
    """Return what a file of JSON holds. Raises UnreadableFile."""
    file = JsonFile(str(path))
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise file.refuse("", error.strerror or "no file", "a file of JSON") from error
    except UnicodeDecodeError as error:
        odd = f"byte {error.start} that is no UTF-8"
        raise file.refuse("", odd, "UTF-8 text") from error

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        held = dict(pairs)
        if len(held) < len(pairs):
            twice = next(key for n, (key, _) in enumerate(pairs) if key in dict(pairs[:n]))
            raise file.refuse(twice, "the key twice", "each key once")
        return held

    try:
        return json.loads(text, object_pairs_hook=once)
    except UnreadableFile:
        raise
    except (ValueError, RecursionError) as error:
        where = (
            "deep nesting" if isinstance(error, RecursionError) else "a number of endless digits"
        )
        if isinstance(error, json.JSONDecodeError):
            where = f"line {error.lineno}, {error.msg}"
        raise file.refuse("", where, "JSON") from error
