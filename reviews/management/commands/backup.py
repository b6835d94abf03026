"""Write the whole site, rows and files of one moment, into one verified archive."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from reviews.deeds.site_archive import write_archive


class Command(BaseCommand):
    help = "Write every row and every file into one verified archive, while people work."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, help="where archives are kept; made if it isn't")

    def handle(self, *args: Any, folder: Path, **options: Any) -> None:
        try:
            path, manifest = write_archive(folder)
        except OSError as fault:
            raise CommandError(f"No archive was written: {fault}", returncode=2) from None
        rows = sum(entry.size for entry in manifest.tables.values())
        self.stdout.write(f"{path}: {rows} rows, {len(manifest.files)} files, read again whole")
        for name in manifest.missing:
            self.stderr.write(f"The file is missing: {name}")
