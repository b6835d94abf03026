"""The site's own server, started by `manage.py serve`: many processes on one listening socket.

Each process gathers requests, head and body, in one loop and into temporary files, and only a
whole request takes a thread: however slowly a hundred sheets arrive, the pages are answered. What
is answered is likewise gathered, so that a slow reader holds no thread either.
"""

import os
import signal
import socket
import sys
import threading
import time
from collections.abc import Callable, Iterable
from types import FrameType
from typing import Any, NoReturn

MIB = 1024 * 1024
CONNECTIONS = 1000
"""Connections that one process holds open; each needs up to three files."""

RECEIVED_AT_ONCE = 256 * 1024
"""Bytes read of a connection in one turn: few turns, since each waits for Python's lock."""

PAUSE_S = 1
"""Before a process that was killed is replaced [s]."""

SILENT_S = 60
"""After how long a connection that says nothing is closed [s]."""


def start(host: str, port: int, processes: int, threads: int) -> NoReturn:
    """Become the server; raise OSError where the address can't be had.

    This process is replaced by a small one that only watches over the others. Their memory is
    bounded by two arenas: by default the C library keeps many heaps, so that each thread finds one
    free, and what a large picture took in each is hardly given back. It reads their number as a
    process starts, never later.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listening = socket.create_server((host, port), family=family, backlog=CONNECTIONS)
    listening.set_inheritable(True)
    here = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    path = os.pathsep.join(filter(None, (here, os.environ.get("PYTHONPATH"))))
    numbers = [str(number) for number in (listening.fileno(), processes, threads)]
    os.execve(
        sys.executable,
        [sys.executable, "-m", "reviews.serving", *numbers],
        {"MALLOC_ARENA_MAX": "2", **os.environ, "PYTHONPATH": path},
    )


def watch(listening: socket.socket, processes: int, threads: int) -> int:
    """Keep so many processes at work; return the exit code once all have ended.

    One that was killed is replaced. One that leaves by itself had a reason, which would hold for
    the next too: then all stop.
    """
    told, line = os.pipe()  # the line breaks when this process ends, however it ends
    working: set[int] = set()
    code = -1

    def stop(number: int = 0, frame: FrameType | None = None) -> None:
        nonlocal code
        if code < 0:
            code = 0
            os.close(line)

    signal.signal(signal.SIGTERM, stop)
    signal.signal(signal.SIGINT, stop)
    while code < 0 or working:
        while code < 0 and len(working) < processes:
            working.add(_fork(listening, threads, told, line))
        pid, status = os.wait()
        if pid not in working:
            continue  # begun by the command that became this process, as what fills the demo is
        working.discard(pid)
        left = os.waitstatus_to_exitcode(status)
        if code < 0 <= left:
            stop()
            code = left
        elif code < 0:
            print(
                f"A process of the server was killed (signal {-left}); another starts", flush=True
            )
            time.sleep(PAUSE_S)
    return code


def _fork(listening: socket.socket, threads: int, told: int, line: int) -> int:
    pid = os.fork()
    if pid:
        return pid
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal tells all; the one that watches acts
    signal.signal(signal.SIGTERM, _leave)
    os.close(line)
    threading.Thread(target=_leave_when_told, args=(told,), daemon=True).start()
    try:
        work(listening, threads)
    except SystemExit as leaving:
        os._exit(leaving.code if isinstance(leaving.code, int) else 1)
    except BaseException:
        sys.excepthook(*sys.exc_info())
        os._exit(1)
    os._exit(0)


def _leave(number: int, frame: FrameType | None) -> None:
    raise SystemExit(0)


def _leave_when_told(told: int) -> None:
    os.read(told, 1)
    os.kill(os.getpid(), signal.SIGTERM)


def work(listening: socket.socket, threads: int) -> None:
    """Answer what comes in on a socket, and do what is queued, until told to leave."""
    import resource

    from django.conf import settings
    from django.db import close_old_connections
    from django.urls import get_resolver
    from waitress.server import create_server

    from reviews.wsgi import application  # isort: split

    from reviews.background import start_worker

    assert get_resolver().url_patterns  # every module is read now, not while the first page waits
    _, most = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(most, 4 * CONNECTIONS), most))
    behind = {"trusted_proxy": "*", "trusted_proxy_headers": "x-forwarded-for x-forwarded-proto"}

    def answered(asked: dict[str, Any], begin: Callable[..., Any]) -> Iterable[bytes]:
        """Let go of the database, as a thread does that leaves a file to the loop to send."""
        answer = application(asked, begin)
        close_old_connections()
        return answer

    server = create_server(
        answered,
        sockets=[listening],
        threads=threads,
        connection_limit=CONNECTIONS,
        asyncore_use_poll=True,
        recv_bytes=RECEIVED_AT_ONCE,
        channel_timeout=SILENT_S,
        cleanup_interval=SILENT_S // 6,
        max_request_header_size=64 * 1024,
        max_request_body_size=settings.MOST_REQUEST_MB * MIB,
        ident=None,
        **behind if settings.IS_HTTPS else {},
    )
    stop_worker = start_worker()
    try:
        server.run()
    finally:
        stop_worker()


def main() -> NoReturn:
    """Serve on the socket that is handed over."""
    descriptor, processes, threads = (int(number) for number in sys.argv[1:])
    sys.exit(watch(socket.socket(fileno=descriptor), processes, threads))


if __name__ == "__main__":
    main()
