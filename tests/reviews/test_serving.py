"""The site's own server, run as it is: many processes, slow clients, whole requests alone."""

import os
import signal
import socket
import subprocess
import time
from pathlib import Path

import pytest

from tests.served import Site, free_port, manage, served, slow_clients, surroundings

pytestmark = pytest.mark.apart

PROCESSES = 2


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    with served(tmp_path_factory.mktemp("site"), ["--processes", f"{PROCESSES}"]) as site:
        yield site


def workers(site: Site) -> set[int]:
    found = subprocess.run(
        ["ps", "-o", "pid=", "--ppid", str(site.process.pid)],
        capture_output=True,
        text=True,
        check=True,
    )
    return {int(pid) for pid in found.stdout.split()}


def ask(site: Site, words: bytes) -> bytes:
    """What comes back on a connection of its own, until the server ends it."""
    with socket.create_connection(("127.0.0.1", site.port), timeout=30) as line:
        line.sendall(words)
        found = b""
        while block := line.recv(65_536):
            found += block
    return found


def test_pages_answer_beside_slow_uploads_and_heads_that_never_end(site):
    """Before, each of them held a thread: 24 stopped every page."""
    with slow_clients(site, uploads=10, heads=30):
        for path in (*site.pages, *site.pages):
            assert site.get(path)[0] == 200


def test_there_are_as_many_processes_as_asked_for_each_with_bounded_arenas(site):
    assert len(workers(site)) == PROCESSES
    for pid in workers(site):
        held = Path(f"/proc/{pid}/environ").read_bytes().split(b"\0")
        assert b"MALLOC_ARENA_MAX=2" in held


def test_a_process_that_is_killed_is_replaced(site):
    before = workers(site)
    os.kill(min(before), signal.SIGKILL)
    until = time.monotonic() + 30
    while len(workers(site) - before) == 0 and time.monotonic() < until:
        assert site.get("/healthz")[0] == 200
        time.sleep(0.2)
    assert len(workers(site)) == PROCESSES


def test_a_request_over_the_limit_is_refused_before_it_is_taken(site):
    head = b"POST /sign-in/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5000000000\r\n\r\n"
    assert ask(site, head).startswith(b"HTTP/1.1 413 ")


def test_a_head_that_has_no_end_is_refused(site):
    head = b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Long: " + b"x" * 70_000
    assert ask(site, head).startswith(b"HTTP/1.0 431 ")


def test_what_a_visitor_says_of_a_front_server_is_passed_over(site):
    status, _, _ = site.get("/you/", **{"X-Forwarded-Host": "elsewhere.example"})
    assert status == 200


def test_a_whole_large_upload_arrives(site):
    """Over what is held in memory: it goes through a temporary file, and form's token is missed."""
    head = (
        f"POST /schemes/{site.scheme}/sheets/ HTTP/1.1\r\nHost: localhost\r\n"
        f"Cookie: sessionid={site.session}\r\nConnection: close\r\n"
        "Content-Type: multipart/form-data; boundary=b\r\nContent-Length: 3000000\r\n\r\n"
    )
    assert ask(site, head.encode() + b"x" * 3_000_000).startswith(b"HTTP/1.1 403 ")


def test_behind_a_front_server_its_word_on_https_is_taken(tmp_path):
    with served(tmp_path, MUNTIN_HTTPS="yes") as site:
        assert site.get("/you/")[0] == 200  # which says so
        assert site.get("/you/", **{"X-Forwarded-Proto": "http"})[0] == 301
        assert site.get("/healthz", **{"X-Forwarded-Proto": "http"})[0] == 200


def test_it_leaves_when_told_and_its_processes_with_it(tmp_path):
    with served(tmp_path, ["--processes", "2"]) as site:
        those = workers(site)
        site.process.send_signal(signal.SIGTERM)
        assert site.process.wait(20) == 0
        assert not any(Path(f"/proc/{pid}").exists() for pid in those)


BESIDE = """
import subprocess, sys
from reviews import serving
subprocess.Popen([sys.executable, "-c", "pass"])
serving.start("127.0.0.1", {port}, 1, 2)
"""


def test_what_was_begun_before_it_may_end_without_it(tmp_path):
    with served(tmp_path, ["-c", BESIDE], DJANGO_SETTINGS_MODULE="reviews.settings") as site:
        time.sleep(0.5)
        assert site.process.poll() is None
        assert site.get("/")[0] == 200


def test_its_processes_leave_although_it_was_killed(tmp_path):
    with served(tmp_path, ["--processes", "2"]) as site:
        those = workers(site)
        site.process.kill()
        site.process.wait(20)
        until = time.monotonic() + 20
        while any(Path(f"/proc/{pid}").exists() for pid in those) and time.monotonic() < until:
            time.sleep(0.1)
        assert not any(Path(f"/proc/{pid}").exists() for pid in those)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--processes", "0"), "--processes: Read 0. Expected a whole number from 1 to 64."),
        (("--threads", "65"), "--threads: Read 65. Expected a whole number from 1 to 64."),
        (("--port", "99999"), "Read 127.0.0.1, port 99999. Expected an address that can be had"),
        (("--host", "nowhere.invalid"), "Read nowhere.invalid, port 8000. Expected an address"),
    ],
)
def test_what_it_cannot_serve_on_is_said_in_words(tmp_path, words, said):
    done = manage("serve", *words, **surroundings(tmp_path))
    assert done.returncode == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_a_port_that_is_taken_is_said_in_words(tmp_path):
    port = free_port()
    with socket.create_server(("127.0.0.1", port)):
        done = manage("serve", "--port", f"{port}", **surroundings(tmp_path))
    assert done.returncode == 2
    assert f"Read 127.0.0.1, port {port}. Expected an address that can be had" in done.stderr


IMPATIENT = """
import socket; from reviews import serving
serving.SILENT_S = 1
serving.work(socket.create_server(("127.0.0.1", {port})), threads=1)
"""


def test_a_connection_that_says_nothing_more_is_closed(tmp_path):
    with (
        served(tmp_path, ["-c", IMPATIENT]) as site,
        socket.create_connection(("127.0.0.1", site.port), timeout=20) as line,
    ):
        line.sendall(b"GET / HTTP/1.1\r\nX-Slow: ")
        assert line.recv(1) == b""
