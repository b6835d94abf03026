"""Carry out each studio's day of retention; fit for a timer of the system's, once a day."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from reviews.deeds.studio_opening import kept_until_words
from reviews.deeds.studio_retention import carry_out, due


class Command(BaseCommand):
    help = "Make the people of studios whose day of retention is over anonymous."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--yes", action="store_true", help="do it: nobody can bring it back")

    def handle(self, *args: Any, yes: bool, **options: Any) -> None:
        studios = due()
        for each in studios:
            done = carry_out(each.studio) if yes else each
            said = f"{each.studio}, kept {kept_until_words(each.studio.kept_until)}: "
            if done.held_back:
                open_ = ", ".join(map(str, done.held_back))
                self.stdout.write(f"{said}waits for the release of {open_}")
            else:
                self.stdout.write(f"{said}{done.words}")
        if not studios:
            self.stdout.write("No studio has anything left to do.")
        elif not yes:
            self.stdout.write("Nothing is done yet: --yes does it, and nobody can bring it back.")
