"""Put an archive back into an empty database and store."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from criteria.errors import InputError
from reviews.deeds.site_archive import newest, restore


class Command(BaseCommand):
    help = "Put an archive, or the newest of a folder, into an empty database and store."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("place", type=Path, help="an archive, or the folder of archives")

    def handle(self, *args: Any, place: Path, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        try:
            path = newest(place)
            manifest = restore(path)
        except InputError as refused:
            raise CommandError(str(refused), returncode=2) from None
        except OSError as fault:
            raise CommandError(f"Nothing was put back: {fault}", returncode=2) from None
        rows = sum(entry.size for entry in manifest.tables.values())
        self.stdout.write(f"{path}: {rows} rows and {len(manifest.files)} files put back, alike")
        for name in manifest.missing:
            self.stderr.write(f"The file was missing already: {name}")
