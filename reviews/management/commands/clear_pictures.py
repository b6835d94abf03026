"""Clear the pictures that nothing refers to; fit for a timer of the system's, once a day."""

from argparse import ArgumentParser
from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from reviews.deeds.file_bringing import clear_waiting
from reviews.deeds.sheet_clearing import clear_pictures


class Command(BaseCommand):
    help = "Delete pictures that hang nowhere and files that nothing names; never an issued one."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--days", type=int, default=7, help="how long they must have stood so")
        parser.add_argument("--trial", action="store_true", help="name them, delete nothing")

    def handle(self, *args: Any, **options: Any) -> None:
        days, is_trial = options["days"], options["trial"]
        if not 1 <= days <= 3650:
            read = f"--days: Read {days}. Expected a whole number from 1 to 3650."
            raise CommandError(read, returncode=2)
        if not is_trial:
            clear_waiting()
        names = clear_pictures(timedelta(days=days), is_trial=is_trial)
        for name in names:
            self.stdout.write(name)
        self.stdout.write(f"{len(names)} files {'would be' if is_trial else 'are'} cleared")
