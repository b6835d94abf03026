"""A PostgreSQL of a test's own, on a folder and a port of its own, that may be killed."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.served import free_port

BIN = max(Path("/usr/lib/postgresql").glob("*/bin"), default=Path("/nowhere"))
OWNER = "postgres"
UP_WITHIN_S = 60


@dataclass
class Cluster:
    """A server on a folder; who runs it can't be root."""

    folder: Path
    port: int
    process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"postgresql://{OWNER}@127.0.0.1:{self.port}/{OWNER}"

    def program(self, name: str, *words: str) -> list[str]:
        """The command that runs a program of PostgreSQL as the owner."""
        as_owner = ["setpriv", f"--reuid={OWNER}", f"--regid={OWNER}", "--clear-groups"]
        found = str(BIN / name if (BIN / name).exists() else shutil.which(name))
        return [*(as_owner if os.getuid() == 0 else []), found, *words]

    def run(self, name: str, *words: str, check: bool = True) -> subprocess.CompletedProcess[str]:
        """Run such a program to its end."""
        return subprocess.run(
            self.program(name, *words),
            cwd="/",
            check=check,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )

    def start(self) -> None:
        """Start, again and again until what was killed is quite gone; one that runs is left so."""
        words = ["-D", f"{self.folder / 'data'}", "-p", f"{self.port}", "-k", f"{self.folder}"]
        ends = time.monotonic() + UP_WITHIN_S
        while not self.answers():
            assert time.monotonic() < ends, self.log[-3000:]
            if self.process is None or self.process.poll() is not None:
                with (self.folder / "log").open("a") as log:
                    command = self.program("postgres", *words, "-c", "listen_addresses=127.0.0.1")
                    self.process = subprocess.Popen(command, cwd="/", stdout=log, stderr=log)
            time.sleep(0.1)

    def answers(self) -> bool:
        """Whether it takes connections."""
        asked = ["-h", "127.0.0.1", "-p", f"{self.port}", "-q"]
        return self.run("pg_isready", *asked, check=False).returncode == 0

    @property
    def log(self) -> str:
        return (self.folder / "log").read_text(encoding="utf-8")

    def kill(self) -> None:
        """End the process that all others hang on, without a word."""
        assert self.process
        self.process.kill()
        self.process.wait()

    def stop(self) -> None:
        """End it and all of its connections."""
        if self.process:
            self.process.send_signal(signal.SIGINT)
            self.process.wait(30)

    def wrong(self) -> list[str]:
        """What the database finds wrong in itself: heaps, and each index against its table."""
        told = ["-h", "127.0.0.1", "-p", f"{self.port}", "-U", OWNER]
        done = self.run("pg_amcheck", *told, "--install-missing", "--heapallindexed", check=False)
        return [] if done.returncode == 0 else done.stdout.splitlines()[:20]


@contextmanager
def cluster(folder: Path) -> Iterator[Cluster]:
    """A running, empty server; it keeps what it says it kept, as in life."""
    folder.mkdir()
    made = Cluster(folder, free_port())
    if os.getuid() == 0:
        shutil.chown(folder, OWNER, OWNER)
    data = str(folder / "data")
    made.run("initdb", "-D", data, "-A", "trust", "-U", OWNER, "--no-locale", "-E", "UTF8")
    try:
        made.start()
        yield made
    finally:
        made.stop()
