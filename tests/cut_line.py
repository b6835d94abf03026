"""A line between a browser and a server, which can be cut for everything and mended again.

A browser's own switch doesn't reach what its worker asks, nor what a page that goes still sends.
"""

import socket
import threading
from contextlib import suppress


class Line:
    """Hands on whatever comes to a port of its own, as long as it isn't cut."""

    def __init__(self, port: int) -> None:
        self._to = port
        self._open: list[socket.socket] = []
        self._listener: socket.socket | None = None
        self._lock = threading.Lock()
        self.port = 0
        self.mend()

    def mend(self) -> None:
        """Listen, on the same port as before."""
        self._listener = socket.create_server(("127.0.0.1", self.port))
        self.port = self._listener.getsockname()[1]
        threading.Thread(target=self._take, args=(self._listener,), daemon=True).start()

    def cut(self) -> None:
        """Let go of all that is open, and take nothing more."""
        with self._lock:
            ended, self._open = self._open, []
            if self._listener is not None:
                ended.append(self._listener)
                self._listener = None
        for each in ended:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)
            each.close()

    def _take(self, listener: socket.socket) -> None:
        with suppress(OSError):
            while True:
                here, _ = listener.accept()
                try:
                    there = socket.create_connection(("127.0.0.1", self._to))
                except OSError:
                    here.close()
                    raise
                with self._lock:
                    is_cut = self._listener is not listener
                    self._open += [] if is_cut else [here, there]
                if is_cut:  # between the two lines above
                    here.close()
                    there.close()
                    return
                for one, other in ((here, there), (there, here)):
                    threading.Thread(target=self._hand_on, args=(one, other), daemon=True).start()

    def _hand_on(self, one: socket.socket, other: socket.socket) -> None:
        with suppress(OSError):
            while part := one.recv(65536):
                other.sendall(part)
        with suppress(OSError):
            other.shutdown(socket.SHUT_WR)
