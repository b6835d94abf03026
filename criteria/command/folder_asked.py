"""Which package of a folder, or of a file, a command asks for, held to whose targets."""

import argparse
from pathlib import Path

from criteria.command.folder import FolderReading, Unreadable, read_folder
from criteria.command.package_file import read_package_file
from criteria.units import DecimalSign, Notation, System

OF_FOLDERS = ("targets", "site", "cohort")
"""Options that say what one JSON file says itself."""


def add_folder(parser: argparse.ArgumentParser) -> None:
    """Give a parser the folder and what else says which package is meant."""
    parser.add_argument(
        "folder", metavar="FOLDER", help="schedule CSVs; or one package as JSON, with all of that"
    )
    parser.add_argument(
        "--targets", metavar="FILE", help="CSV of targets; default FOLDER/targets.csv"
    )
    parser.add_argument(
        "--site", metavar="FILE", help="CSV of the site sheet; default FOLDER/site.csv"
    )
    parser.add_argument("--scheme", default="", help="which scheme, where the files hold several")
    parser.add_argument("--rev", default="", help="which revision")
    parser.add_argument("--cohort", default="", help="which cohort's targets")
    parser.add_argument("--units", choices=[str(s) for s in System], default=System.METRIC)
    parser.add_argument(
        "--decimal",
        choices=[str(s) for s in DecimalSign],
        default=DecimalSign.POINT,
        help="decimal sign of the files; with a comma, 1,200 and 1.200 are refused",
    )


def read_asked(options: argparse.Namespace) -> FolderReading:
    """Read the package that is asked for. Raises Unreadable with all that can't be read."""
    path = Path(options.folder)
    if path.is_file():
        if given := [name for name in OF_FOLDERS if getattr(options, name)]:
            said = f"read --{given[0]}; expected a folder: a package as JSON holds its own"
            raise Unreadable([f"{path.name}: {said}"])
        return read_package_file(path, scheme=options.scheme, rev=options.rev)
    return read_folder(
        path,
        targets_file=Path(options.targets) if options.targets else None,
        site_file=Path(options.site) if options.site else None,
        scheme=options.scheme,
        rev=options.rev,
        cohort=options.cohort,
        notation=Notation(decimal=DecimalSign(options.decimal)),
    )


def name_asked(options: argparse.Namespace) -> str:
    """Return what the package is called: its scheme and revision, else its folder."""
    asked = f"{options.scheme} {options.rev}".strip()
    return asked or Path(options.folder).resolve().name
