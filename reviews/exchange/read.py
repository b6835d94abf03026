"""Read one file from outside, in a process of its own with bounds, and say what it proposes.

    python -m reviews.exchange.read KIND FILE [ANSWERS]

KIND is one of reviews.exchange.kinds, ANSWERS a JSON object of answers to a reader's questions.
One line of JSON is printed: the proposal, or {"read": …, "expected": …} where the file is refused.
"""

from __future__ import annotations

import importlib
import json
import sys
from collections.abc import Mapping, Sequence
from typing import Any

from criteria.errors import Refused
from reviews.exchange.bounds import LARGEST_ANSWER_MB, bound
from reviews.exchange.kinds import BY_NAME


def read(kind: str, path: str, answers: Mapping[str, str]) -> dict[str, Any]:
    """What a file proposes, or why it is refused, as JSON."""
    known = BY_NAME[kind]
    try:
        reader = importlib.import_module(known.module)
    except ModuleNotFoundError as missing:
        if not known.library or (missing.name or "").split(".")[0] != known.library:
            raise
        return refusal(
            f"{known.called}, for which a library is missing here",
            f"whoever runs the server to install muntin[{known.extra}]",
        )
    try:
        told: dict[str, Any] = reader.read(path, answers).as_json()
    except Refused as refused:
        return refusal(refused.read, refused.expected)
    except MemoryError:
        return refusal("more than fits in memory here", "a smaller file, of this building alone")
    return told


def refusal(read: str, expected: str) -> dict[str, Any]:
    """Say that a file is refused."""
    return {"read": read, "expected": expected}


def main(arguments: Sequence[str]) -> None:
    """Read a file and print what it proposes."""
    bound()
    kind, path, *answers = arguments
    told = json.dumps(read(kind, path, json.loads(answers[0]) if answers else {}))
    if len(told) > LARGEST_ANSWER_MB * 2**20:
        few = f"a file of this building alone, of at most {LARGEST_ANSWER_MB} MB of rows"
        told = json.dumps(refusal(f"rows of {len(told) / 2**20:.1f} MB", few))
    print(told)


if __name__ == "__main__":
    main(sys.argv[1:])
