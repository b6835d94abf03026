"""Ask a process of its own what a file proposes, and say in words why it can't be read."""

from __future__ import annotations

import json
import logging
import signal
import subprocess
import sys
from collections.abc import Mapping
from typing import IO

from filelock import FileLock, Timeout

from criteria.errors import Refused
from reviews.deeds.processes_apart import KILLED, run_apart
from reviews.deeds.sheet_uploads import at_hand, work_folder
from reviews.exchange.bounds import LARGEST_ANSWER_MB, LARGEST_FILE_MB, MOST_SECONDS, WITHIN_SECONDS
from reviews.exchange.kinds import KINDS, FileKind, kind_of
from reviews.exchange.proposed import Proposal
from reviews.exchange.table_in import FILE_NAME

WAITS_S = 5.0
"""So long a file waits for its turn: one is read at a time, for each may take much memory [s].

No longer, for meanwhile it holds one of those who serve pages.
"""

MOST_SAID = 2 * LARGEST_ANSWER_MB * 2**20
"""Most that is taken of what a process says [bytes]: its answer, and what libraries say before."""
LESS = "the part of it that is this building, exported alone"

LOG = logging.getLogger(__name__)


def kind_that_is_read(name: str, file: IO[bytes]) -> FileKind:
    """What a package's file is; raises Refused where it is empty, too large or of no such kind.

    A roster is none: people of a school never come into a package.
    """
    size = file.seek(0, 2)
    file.seek(0)
    if not size:
        raise Refused(f"{name}, an empty file", _any_kind())
    if size > LARGEST_FILE_MB * 2**20:
        raise Refused(f"{name}, {size / 2**20:.1f} MB", f"at most {LARGEST_FILE_MB} MB")
    kind = kind_of(file)  # type: ignore[arg-type]
    if kind not in KINDS:
        called = kind.called if kind else "nothing that is read here"
        raise Refused(f"{name}, which is {called}", _any_kind())
    return kind


def read_apart(
    kind: str, name: str, file: IO[bytes], answers: Mapping[str, str] | None = None
) -> Proposal:
    """What a file proposes, read within bounds by a process that ends with this one.

    Raises Refused with what was read and what was expected, whatever became of the process.
    """
    turn = FileLock(work_folder() / "reading.lock", timeout=WAITS_S)
    try:
        with turn, at_hand(file, name) as sent:
            answered = [kind, str(sent.path), json.dumps({FILE_NAME: name, **(answers or {})})]
            command = [sys.executable, "-P", "-m", "reviews.exchange.read", *answered]
            done = run_apart(command, WITHIN_SECONDS)
    except Timeout:
        raise Refused(f"{name} while others were being read", "another try in a minute") from None
    except subprocess.TimeoutExpired:
        raise Refused(f"{name}, for {WITHIN_SECONDS} seconds and not to its end", LESS) from None
    return _told(name, done)


def _told(name: str, done: subprocess.CompletedProcess[bytes]) -> Proposal:
    if done.returncode == KILLED:
        raise Refused(f"{name} until the system ended it", "another try in a minute")
    if done.returncode:
        LOG.warning("Reading a file ended with %s: %s", done.returncode, done.stderr[-2000:])
        if done.returncode == -signal.SIGXCPU:
            raise Refused(f"{name}, which takes more than {MOST_SECONDS} s to read", LESS)
        raise Refused(f"{name}, which broke what read it", f"{LESS}, or exported afresh")
    if len(done.stdout) > MOST_SAID:
        raise Refused(f"{name}, which tells more than can be looked at", LESS)
    try:
        # before their answer libraries may say what they like
        told = json.loads(done.stdout.splitlines()[-1])
        told = told if "read" in told else Proposal.of_json(told)
    except (LookupError, TypeError, AttributeError, ValueError):
        LOG.warning("Reading a file said what isn't a proposal: %s", done.stdout[:2000])
        raise Refused(f"{name}, which can't be read to its end", LESS) from None
    if isinstance(told, Proposal):
        return told
    raise Refused(f"{name}: {told['read']}", str(told.get("expected")))


def _any_kind() -> str:
    first, *more = (kind.called for kind in reversed(KINDS))
    return f"{', '.join(reversed(more))} or {first}"
