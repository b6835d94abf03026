"""A real server on a folder of its own with a few made-up rows, and clients that are slow to it."""

import asyncio
import atexit
import http.client
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parent.parent
KEY = "a key for tests alone, as long as one of life: 0123456789"
TOKEN = "a" * 32  # so that the body is read, to find the same in it
BLOCK = 3_000
TOTAL = 20_000_000
"""Bytes that a slow upload says it will send: more than it gets to."""
SERVE = ("serve", "--port", "{port}")

SEED = """
import django; django.setup()
from django.test import Client
from tests import factories
person = factories.PersonFactory(name="Stef", email="stef@example.org")
brief = factories.BriefFactory()
factories.MembershipFactory(studio=brief.studio, person=person, role="student")
scheme = factories.SchemeFactory(studio=brief.studio, members=[person])
for number in range(20):
    cells = {"mark": f"R{number}", "room": "Day room", "floor_m2": "12", "use": "day"}
    factories.RowFactory(
        package=scheme.package, changed_by=person, cells=cells, position=number
    )
client = Client()
client.force_login(person)
print(scheme.pk, client.cookies["sessionid"].value)
"""


def surroundings(folder: Path, **more: str) -> dict[str, str]:
    """The environment of a site of its own: nothing of ours gets in."""
    ours = ("MUNTIN_", "DATABASE_URL", "PYTEST", "DJANGO", "COV_")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(ours)}
    return {**kept, "MUNTIN_DATA_DIR": str(folder), "MUNTIN_SECRET_KEY": KEY, **more}


def manage(*words: str, cwd: Path = ROOT, **of: str) -> subprocess.CompletedProcess[str]:
    """Run a command of the site to its end, in an environment."""
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), *words],
        cwd=cwd,
        env=of,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,  # the whole demo, on a machine that does other things
    )


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
    return port


@dataclass(frozen=True)
class Site:
    """A server that answers, and someone who is signed in."""

    process: subprocess.Popen[bytes]
    port: int
    scheme: int
    session: str

    @property
    def pages(self) -> tuple[str, ...]:
        return (
            "/",
            f"/schemes/{self.scheme}/",
            f"/schemes/{self.scheme}/schedules/rooms/",
            f"/schemes/{self.scheme}/checks/",
        )

    def get(self, path: str, **headers: str) -> tuple[int, dict[str, str], bytes]:
        """Ask for a page as whoever is signed in, as a front server would that has https."""
        own = {"Cookie": f"sessionid={self.session}", "X-Forwarded-Proto": "https"}
        asked = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            asked.request("GET", path, headers={**own, **headers})
            answer = asked.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()
        finally:
            asked.close()


@cache
def _prepared() -> tuple[Path, int, str]:
    """A folder made once, copied for each site: its scheme, and the session of whoever is in."""
    folder = Path(tempfile.mkdtemp())
    atexit.register(shutil.rmtree, folder)
    own = surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings")
    for words in (["migrate", "-v0"], ["collectstatic", "--no-input", "-v0"]):
        done = manage(*words, **own)
        assert done.returncode == 0, done.stderr
    seeded = subprocess.run(
        [sys.executable, "-c", SEED], cwd=ROOT, env=own, capture_output=True, text=True, check=True
    )
    scheme, session = seeded.stdout.split()
    return folder, int(scheme), session


@contextmanager
def served(folder: Path, command: Sequence[str] = [], **more: str) -> Iterator[Site]:
    """A site in a folder, served by `serve` with what is added, or by another command."""
    prepared, scheme, session = _prepared()
    shutil.copytree(prepared, folder, dirs_exist_ok=True)
    port = free_port()
    ours = [] if command[:1] in (["-m"], ["-c"]) else [str(ROOT / "manage.py"), *SERVE]
    words = [word.replace("{port}", str(port)) for word in [*ours, *command]]
    process = subprocess.Popen(
        [sys.executable, *words], cwd=ROOT, env=surroundings(folder, **more), start_new_session=True
    )
    site = Site(process, port, scheme, session)
    try:
        for path in site.pages:
            _wait_for(site, path)
        yield site
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(20)


def _wait_for(site: Site, path: str) -> None:
    until = time.monotonic() + 120  # a machine that does other things starts slowly
    while time.monotonic() < until:
        assert site.process.poll() is None, "the server has left"
        try:
            status, _, _ = site.get(path)
        except OSError:
            time.sleep(0.1)
        else:
            assert status == 200, (path, status)
            return
    raise AssertionError("the server doesn't answer")


@contextmanager
def slow_clients(site: Site, uploads: int, heads: int, bytes_s: int = 30_000) -> Iterator[None]:
    """So many uploads that trickle and heads that never end, from a process of their own."""
    words = [str(word) for word in (site.port, site.scheme, site.session, uploads, heads, bytes_s)]
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.served", *words], cwd=ROOT, stdout=subprocess.PIPE
    )
    try:
        assert process.stdout
        assert process.stdout.readline() == b"all are connected\n"
        yield
        assert process.poll() is None, "the slow clients have left"
    finally:
        process.kill()
        process.communicate()


async def _trickle(port: int, head: str, block: bytes, pause_s: float) -> None:
    _, out = await asyncio.open_connection("127.0.0.1", port)
    out.write(head.encode())
    await out.drain()
    asyncio.get_running_loop().create_task(_go_on(out, block, pause_s))


async def _go_on(out: asyncio.StreamWriter, block: bytes, pause_s: float) -> None:
    while True:
        await asyncio.sleep(pause_s)
        out.write(block)
        await out.drain()


async def _be_slow(
    port: int, scheme: int, session: str, uploads: int, heads: int, bytes_s: int
) -> None:
    lines = f"Host: 127.0.0.1:{port}\r\nCookie: sessionid={session}; csrftoken={TOKEN}\r\n"
    upload = (
        f"POST /schemes/{scheme}/sheets/ HTTP/1.1\r\n{lines}Content-Length: {TOTAL}\r\n"
        "Content-Type: multipart/form-data; boundary=b\r\n\r\n"
        '--b\r\nContent-Disposition: form-data; name="files"; filename="one.jpg"\r\n\r\n'
    )
    for _ in range(uploads):
        await _trickle(port, upload, b"x" * BLOCK, BLOCK / bytes_s)
    for _ in range(heads):
        await _trickle(port, f"GET / HTTP/1.1\r\n{lines}X-Slow: ", b"x", 5)
    print("all are connected", flush=True)
    await asyncio.sleep(3_600)


if __name__ == "__main__":
    _port, _scheme, _session, *_numbers = sys.argv[1:]
    _uploads, _heads, _bytes_s = (int(number) for number in _numbers)
    asyncio.run(_be_slow(int(_port), int(_scheme), _session, _uploads, _heads, _bytes_s))
