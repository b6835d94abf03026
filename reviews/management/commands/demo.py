"""Load the demo's two studios and serve them, with nothing to set up."""

import os
import subprocess
import sys
from argparse import SUPPRESS, ArgumentParser
from datetime import date
from time import monotonic
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone

from reviews import demo_mark, serving
from reviews.demo import ground, load

REST_IS_NICER = 10
"""What fills the demo beside its server, and draws, gives way to its pages by so much."""


class Command(BaseCommand):
    help = "Load two invented studios and serve them on this machine."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="stop after loading")
        parser.add_argument(
            "--fresh", action="store_true", help="start over, keeping nothing of the demo"
        )
        parser.add_argument("--port", type=int, default=8000, choices=range(1, 65_536), metavar="N")
        parser.add_argument("--rest-of", type=date.fromisoformat, help=SUPPRESS)

    def handle(self, *args: Any, **options: Any) -> None:
        if not settings.IS_LOADING_DEMO:
            raise CommandError("The demo loads only by its own command, into its own folder.")
        if options["rest_of"]:
            return self._go_on(options["rest_of"], server=os.getppid())
        begun, today = monotonic(), timezone.localdate()
        ground.claim()
        with ground.alone(self.say):
            is_whole = self._begin(today, is_fresh=options["fresh"])
        if not is_whole and options["no_serve"]:
            self._go_on(today)
        self.say("Collecting static files")
        call_command("collectstatic", interactive=False, verbosity=0)
        self.say(f"Ready after {monotonic() - begun:.0f} s")
        if not options["no_serve"]:
            self._serve(options["port"], None if is_whole else today)
        return None

    def say(self, words: str) -> None:
        """Say how far it is."""
        self.stdout.write(words)
        self.stdout.flush()

    def _begin(self, today: date, *, is_fresh: bool) -> bool:
        """Set the database up and load what is looked at first; tell whether all is there."""
        ground.require_own_ground()
        is_half = (settings.DATA_DIR / demo_mark.STILL).exists()
        if is_half:
            self.say("The demo was stopped while it was filled; it starts over")
        if is_fresh or is_half:
            ground.clear()
        self.say("Setting up the database")
        ground.make_tables()
        if load.is_loaded():
            ground.fill("")
            self.say("The demo is loaded already; --fresh starts over")
            load.set_clock()
            return True
        ground.fill("everything")
        load.begin(today, self.say)
        load.set_clock(anew=True)
        ground.fill("most packages, all levels and comments")
        return False

    def _go_on(self, today: date, server: int = 0) -> None:
        """Load the rest; beside a server, as long as that is there."""

        def tell(words: str) -> None:
            if server and os.getppid() != server:
                raise CommandError("The server has ended; the next demo starts over.")
            ground.fill(words)
            if not server:
                self.say(f"Still to come: {words}")

        if server:
            os.nice(REST_IS_NICER)
        with ground.alone(self.say):
            load.go_on(today, tell)
            load.set_clock(anew=True)
            ground.fill("")
        self.say("The demo is whole")

    def _serve(self, port: int, today: date | None) -> None:
        self.say("The demo made its own secret key. Keep it off networks.")
        self.say(f"Open http://127.0.0.1:{port}/ (Ctrl-C stops)")
        if today:
            self.say("Most packages, all levels and comments are loaded meanwhile; pages say so")
        connection.close()
        os.environ["MUNTIN_SECRET_KEY"] = settings.SECRET_KEY
        os.environ["MUNTIN_ADDRESS"] = f"http://127.0.0.1:{port}"
        os.environ["MUNTIN_DATA_DIR"] = str(settings.DATA_DIR)
        if today:
            words = [sys.executable, "-m", "reviews", "demo", "--rest-of", today.isoformat()]
            # out of reach of Ctrl-C, which stops the server: it ends by itself after that
            subprocess.Popen(words, cwd=settings.BASE_DIR, start_new_session=True)
        serving.start("127.0.0.1", port, processes=1, threads=8)
