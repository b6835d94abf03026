"""Which package of a folder a command asks for, held to whose targets and in whose units."""

import argparse
from pathlib import Path

from criteria.command.folder import FolderReading, read_folder
from criteria.units import DecimalSign, Notation, System


def add_folder(parser: argparse.ArgumentParser) -> None:
    """Give a parser the folder and what else says which package is meant."""
    parser.add_argument("folder", metavar="FOLDER")
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
    return read_folder(
        Path(options.folder),
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
