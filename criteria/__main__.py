"""The library from a command line: `python -m criteria check FOLDER` and its siblings."""

import argparse
import importlib
import io
import json
import os
import sys
from collections.abc import Sequence

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.command import report
from criteria.command.folder import Unreadable
from criteria.command.folder_asked import add_folder, name_asked, read_asked
from criteria.command.schema import package_schema
from criteria.units import System


def _check(options: argparse.Namespace) -> int:
    try:
        reading = read_asked(options)
    except Unreadable as unreadable:
        print(*unreadable.problems, sep="\n", file=sys.stderr)
        return report.EXIT_UNREADABLE
    print(*reading.refused, sep="\n", end="\n" if reading.refused else "", file=sys.stderr)
    sheet = check_sheet(reading.package, reading.targets)
    system = System(options.units)
    questions = likely_questions(sheet, reading.package, system)
    name = name_asked(options)
    if options.json:
        _print_json(report.as_json(sheet, name, reading.figures, questions))
    else:
        print(report.as_text(sheet, name, reading.figures, system, questions), end="")
    return report.exit_code(sheet, reading.refused)


def _checks(options: argparse.Namespace) -> int:
    if options.json:
        _print_json(report.catalogue_json())
    elif options.markdown:
        print(report.catalogue_markdown(), end="")
    else:
        print(report.catalogue_text(), end="")
    return 0


def _schema(options: argparse.Namespace) -> int:
    _print_json(package_schema())
    return 0


ELSEWHERE = {
    "daylight": ("criteria.daylight.command", "the daylight of one room, point by point"),
    "panel": (
        "criteria.scoring.command",
        "how far a jury agrees, who was severe, which schemes can't be told apart",
    ),
    "steps": ("criteria.setting_up.command", "how soon a crew sets up, or packs"),
    "walk": ("criteria.walking.command", "the widest way to each place of a plan"),
    "year": ("criteria.hourly.command", "the year of a package, hour by hour"),
}
"""Commands that bring numpy and scipy with them: each is imported only when it is asked for."""


def _print_json(value: object) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=2))


def parser(asked: str = "") -> argparse.ArgumentParser:
    """Return the command line's grammar, that of a command of ELSEWHERE only where it is asked."""
    top = argparse.ArgumentParser(prog="python -m criteria", description=__doc__)
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    check = commands.add_parser("check", help="hold a folder of CSVs, or a JSON, to targets")
    add_folder(check)
    check.add_argument("--json", action="store_true")
    check.set_defaults(run=_check)
    checks = commands.add_parser("checks", help="list every check with formula and source")
    written = checks.add_mutually_exclusive_group()
    written.add_argument("--json", action="store_true")
    written.add_argument("--markdown", action="store_true", help="the table of the README")
    checks.set_defaults(run=_checks)
    schema = commands.add_parser("schema", help="print the JSON Schema of a package and answers")
    schema.set_defaults(run=_schema)
    for name, (module, summary) in ELSEWHERE.items():
        own = commands.add_parser(name, help=summary)
        if name == asked:
            command = importlib.import_module(module)
            command.add_arguments(own)
            own.set_defaults(run=command.run)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    given = sys.argv[1:] if arguments is None else list(arguments)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a console may know no ≥
    options = parser(given[0] if given else "").parse_args(given)
    try:
        run: int = options.run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # who reads has enough
        return 0
    except OSError as error:
        where = error.filename or "what is printed"
        print(
            f"{where}: read “{error.strerror}”; expected a place that can be read or written",
            file=sys.stderr,
        )
        return report.EXIT_UNREADABLE
    return run


if __name__ == "__main__":
    sys.exit(main())
