"""A person's data, by an address: taken out as a file, or made anonymous."""

import os
from argparse import ArgumentParser
from pathlib import Path
from shutil import copyfileobj
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from reviews.deeds import person_erasing, school_signing_in
from reviews.deeds.person_erasing import Somebody
from reviews.models import Seat
from reviews.models.briefs import Frozen
from reviews.pages.person_data import export_person


class Command(BaseCommand):
    help = "Take out what is held of a person or juror, or make them anonymous."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("email", help="the address of an account, or of a juror's seat")
        deed = parser.add_mutually_exclusive_group(required=True)
        deed.add_argument("--export", type=Path, metavar="FILE", help="write a zip; never over one")
        deed.add_argument("--erase", action="store_true", help="say what would be done")
        deed.add_argument("--unlink", action="store_true", help="forget whom the school says it is")
        parser.add_argument("--yes", action="store_true", help="do it: nobody can bring it back")
        parser.add_argument(
            "--although-a-crit-is-open", action="store_true", help="erase before a release"
        )

    def handle(self, *args: Any, email: str, **options: Any) -> None:
        whom = person_erasing.find(email)
        if whom is None:
            raise CommandError(
                f"Read “{email}”. Expected the address of an account or of a juror; "
                "nobody has this one, or it was erased.",
                returncode=2,
            )
        if options["export"]:
            self._export(whom, options["export"])
        elif options["unlink"]:
            n = school_signing_in.unlink(whom.person) if whom.person else 0
            self.stdout.write(f"{n} link{'s' * (n != 1)} to a school taken away.")
        else:
            self._erase(whom, options["yes"], options["although_a_crit_is_open"])

    def _export(self, whom: Somebody, path: Path) -> None:
        seats = Seat.objects.filter(pk__in=[seat.pk for seat in whom.seats])
        try:
            # for whoever runs the site alone, and never over another file
            handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
        except OSError as fault:
            raise CommandError(f"No file was written: {fault}", returncode=2) from None
        try:
            with os.fdopen(handle, "wb") as written, export_person(whom.person, seats) as file:
                copyfileobj(file, written)
        except BaseException:
            path.unlink()
            raise
        self.stdout.write(f"{path}: what is held of {whom.person or whom.seats[0]}")

    def _erase(self, whom: Somebody, is_meant: bool, although_open: bool) -> None:
        told = person_erasing.plan(whom)
        for head, lines in (
            ("Goes", told.goes),
            ("Is made anonymous", told.anonymous),
            ("Is kept for an examination, and why", told.stays),
            ("Can't be, as things stand", told.refused),
            ("Waits for a crit", told.held_back),
        ):
            if lines:
                self.stdout.write(f"{head}:")
            for line in lines:
                self.stdout.write(f"  {line}")
        if not is_meant:
            self.stdout.write("Nothing is done yet: --yes does it, and nobody can bring it back.")
            return
        try:
            person_erasing.erase(whom, although_a_crit_is_open=although_open)
        except Frozen as why:
            after = "" if told.refused else "; --although-a-crit-is-open does it all the same"
            raise CommandError(f"Nothing is done: {why}{after}.", returncode=2) from None
        self.stdout.write("Done.")
