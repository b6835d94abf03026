"""Serve the site, on this machine alone or behind a school's own front server."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from reviews import serving


class Command(BaseCommand):
    help = "Serve the site with as many processes as are asked for."
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="address that it listens on")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--processes", type=int, default=1)
        parser.add_argument("--threads", type=int, default=8, help="in each process")

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = options["host"], options["port"]
        for name in ("processes", "threads"):
            if not 1 <= options[name] <= 64:
                read = f"--{name}: Read {options[name]}. Expected a whole number from 1 to 64."
                raise CommandError(read, returncode=2)
        self.check(databases=["default"])
        self.stdout.write(f"Open http://{host}:{port}/ (Ctrl-C stops)")
        self.stdout.flush()
        try:
            serving.start(host, port, options["processes"], options["threads"])
        except (OSError, OverflowError) as error:
            read = f"Read {host}, port {port}. Expected an address that can be had: {error}."
            raise CommandError(read, returncode=2) from error
