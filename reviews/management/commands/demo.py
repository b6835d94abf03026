"""Load the demo's two studios and serve them, with nothing to set up."""

import os
from argparse import ArgumentParser
from time import monotonic
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone

from reviews import serving
from reviews.demo import ground, load


class Command(BaseCommand):
    help = "Load two invented studios and serve them on this machine."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="stop after loading")
        parser.add_argument(
            "--fresh", action="store_true", help="start over, keeping nothing of the demo"
        )
        parser.add_argument("--port", type=int, default=8000, choices=range(1, 65_536), metavar="N")

    def handle(self, *args: Any, **options: Any) -> None:
        if not settings.IS_LOADING_DEMO:
            raise CommandError("The demo loads only by its own command, into its own folder.")
        begun = monotonic()
        ground.claim()
        if options["fresh"]:
            ground.clear()
        self.say("Setting up the database")
        call_command("migrate", verbosity=0)
        if load.is_loaded():
            self.say("The demo is loaded already; --fresh starts over")
            load.move_to(timezone.localdate())
        else:
            load.load(timezone.localdate(), self.say)
        self.say("Collecting static files")
        call_command("collectstatic", interactive=False, verbosity=0)
        self.say(f"Ready after {monotonic() - begun:.0f} s")
        if not options["no_serve"]:
            self._serve(options["port"])

    def say(self, words: str) -> None:
        """Say how far it is."""
        self.stdout.write(words)
        self.stdout.flush()

    def _serve(self, port: int) -> None:
        self.say("The demo made its own secret key. Keep it off networks.")
        self.say(f"Open http://127.0.0.1:{port}/ (Ctrl-C stops)")
        connection.close()
        os.environ["MUNTIN_SECRET_KEY"] = settings.SECRET_KEY
        os.environ["MUNTIN_ADDRESS"] = f"http://127.0.0.1:{port}"
        os.environ["MUNTIN_DATA_DIR"] = str(settings.DATA_DIR)
        serving.start("127.0.0.1", port, processes=1, threads=8)
