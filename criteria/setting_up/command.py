"""`python -m criteria steps STEPS.csv --people N`: how soon so many people set up."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from criteria.schedules.setting_up import MOST_HANDS
from criteria.setting_up.crew import CannotBeDone, SetUp, person_minutes, set_up
from criteria.setting_up.network import Network
from criteria.setting_up.steps_file import UnreadableSteps, read_steps

EXIT_UNREADABLE = 2


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Give a parser the arguments of the steps command."""
    parser.add_argument(
        "steps",
        metavar="STEPS.csv",
        type=Path,
        help="columns step, minutes, people, after (marks parted by spaces), tool (parted by "
        "commas), or the schedule of set-up steps as it is exported",
    )
    parser.add_argument("--people", type=_people, required=True, metavar="N", help="the crew")
    parser.add_argument("--json", action="store_true", help="all figures")


def run(options: argparse.Namespace) -> int:
    """Print a set-up; return 0, or 2 where the input can't be read."""
    try:
        reading = read_steps(options.steps)
    except UnreadableSteps as unreadable:
        print(unreadable, file=sys.stderr)
        return EXIT_UNREADABLE
    for head in reading.unread:
        print(f"{options.steps}: {head}: not read, nothing here is called that", file=sys.stderr)
    found = set_up(reading.network, options.people)
    if options.json:
        print(json.dumps(as_json(reading.network, found), ensure_ascii=False, indent=2))
    else:
        print(as_text(reading.network, found, options.people), end="")
    return 0


def as_json(network: Network, found: SetUp | CannotBeDone) -> dict[str, Any]:
    """Return a set-up's figures as they are scripted against, in minutes.

    `least_min` is the shortest that was found, null with `why` where the steps can't be done; it is
    the least where `proved`, and no plan beats `at_least_min`.
    """
    told: dict[str, Any] = {
        "least_min": None,
        "proved": False,
        "at_least_min": None,
        "critical_min": network.length,
        "critical_path": network.critical_path(),
        "person_minutes": person_minutes(network),
        "most_at_once": None,
        "starts": None,
    }
    if isinstance(found, CannotBeDone):
        return told | {"why": found.why}
    return told | {
        "least_min": found.minutes,
        "proved": found.is_proved,
        "at_least_min": found.at_least,
        "most_at_once": found.most_at_once,
        "starts": dict(found.starts),
    }


def as_text(network: Network, found: SetUp | CannotBeDone, people: int) -> str:
    """Return a set-up as a page of text: how long, what decides it, when each step starts."""
    crew = f"{people} {'person' if people == 1 else 'people'}"
    work = f"{person_minutes(network) / 60:.1f} person-hours"
    if isinstance(found, CannotBeDone):
        return f"{crew}: can't be done, {found.why}; {work}\n"
    least = "least, proved" if found.is_proved else f"at most; no plan beats {found.at_least} min"
    starts = sorted(network.steps, key=lambda step: (found.starts[step.mark], step.mark))
    lines = [
        f"{crew}: {found.minutes} min ({least}), {found.most_at_once} at work at once, {work}",
        f"longest chain {network.length} min: {' '.join(network.critical_path())}",
        *(
            f"{found.starts[step.mark]:>6} to {found.starts[step.mark] + step.minutes:>6} min  "
            f"{step.mark}, {step.people}"
            for step in starts
        ),
    ]
    return "\n".join(lines) + "\n"


def _people(read: str) -> int:
    if not (read.isdecimal() and len(read) < 9 and 0 < int(read) <= MOST_HANDS):
        raise argparse.ArgumentTypeError(
            f"read {read!r}; expected a whole number from 1 to {MOST_HANDS:,}"
        )
    return int(read)
