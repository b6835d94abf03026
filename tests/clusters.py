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


def is_installed() -> bool:
    return (BIN / "initdb").exists() or shutil.which("initdb") is not None


@dataclass(frozen=True)
class Cluster:
    """A server on a folder; who runs it can't be root."""

    folder: Path
    port: int

    @property
    def url(self) -> str:
        return f"postgresql://{OWNER}@127.0.0.1:{self.port}/{OWNER}"

    def run(self, name: str, *words: str, check: bool = True) -> subprocess.CompletedProcess[str]:
        """Run a program of PostgreSQL as the owner."""
        as_owner = ["setpriv", f"--reuid={OWNER}", f"--regid={OWNER}", "--clear-groups"]
        program = str(BIN / name if (BIN / name).exists() else shutil.which(name))
        return subprocess.run(
            [*(as_owner if os.getuid() == 0 else []), program, *words],
            cwd="/",
            check=check,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )

    def start(self) -> None:
        """Start, once what was killed is quite gone; one that runs is left so."""
        data, log = str(self.folder / "data"), str(self.folder / "log")
        own = f"-p {self.port} -k {self.folder} -c listen_addresses=127.0.0.1"
        for _ in range(100):
            if self.run("pg_ctl", "-D", data, "status", check=False).returncode == 0:
                return
            started = self.run(
                "pg_ctl", "-D", data, "-l", log, "-w", "-o", own, "start", check=False
            )
            if started.returncode == 0:
                return
            time.sleep(0.2)
        raise AssertionError((self.folder / "log").read_text(encoding="utf-8")[-3000:])

    def kill(self) -> None:
        """End the process that all others hang on, without a word."""
        pid = int((self.folder / "data" / "postmaster.pid").read_text().split()[0])
        os.kill(pid, signal.SIGKILL)

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
    made.start()
    try:
        yield made
    finally:
        made.run("pg_ctl", "-D", data, "-m", "immediate", "stop", check=False)
