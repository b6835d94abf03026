"""Firefox and WebKit by what each brings: Marionette, and Debian's driver (W3C WebDriver)."""

import base64
import json
import os
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""The name under which a place on a page is told (W3C WebDriver, 6.4)."""
PATIENCE_S = 20.0
FIREFOX = ("firefox-esr", "firefox")
MINI = Path("/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser")


class NotYet(AssertionError):
    """What was waited for did not come."""


class Engine:
    """A browser that is driven: what people do on a page, and what they see."""

    def ask(self, command: str, **sent: Any) -> Any:
        """Have a command of W3C WebDriver carried out."""
        raise NotImplementedError

    def go(self, address: str) -> None:
        self.ask("url", url=address)

    def run(self, script: str) -> Any:
        """What a script of the page gives back."""
        return self.ask("execute/sync", script=script, args=[])

    def see(self, words: str) -> None:
        """Wait until the page shows words."""
        self.wait(f"return document.body.innerText.includes({json.dumps(words)})", words)

    def wait(self, script: str, for_what: str = "") -> None:
        until = time.monotonic() + PATIENCE_S
        while not self.run(script):
            if time.monotonic() > until:
                shown = self.run("return document.body.innerText.slice(0, 1200)")
                raise NotYet(f"{for_what or script}; the page says: {shown}")
            time.sleep(0.1)

    def press(self, css: str) -> None:
        """Press what is there, once it is."""
        self.wait(f"return !!document.querySelector({json.dumps(css)})", css)
        self.run(f"document.querySelector({json.dumps(css)}).scrollIntoView({{block: 'center'}})")
        self.ask("click", id=self._find(css))

    def type(self, css: str, text: str) -> None:
        self.ask("value", id=self._find(css), text=text)

    def become(self, url: str, session: str) -> None:
        """Be whoever a session is of."""
        self.go(f"{url}/healthz")
        self.ask("cookies/delete")
        until = time.monotonic() + PATIENCE_S
        while not self.run(f"return document.cookie.includes('{session}')"):
            if time.monotonic() > until:
                raise NotYet("the cookie of a session")
            # WebKit answers before it has deleted, and may delete this one too
            self.ask("cookie", cookie={"name": "sessionid", "value": session, "path": "/"})
            time.sleep(0.1)

    def end(self) -> None:
        """Let go of it."""

    def _find(self, css: str) -> str:
        found: str = self.ask("element", using="css selector", value=css)[ELEMENT]
        return found


class Gecko(Engine):
    """Firefox, spoken to by Marionette, which it carries itself."""

    NAMES: Mapping[str, str] = {
        "url": "Navigate",
        "execute/sync": "ExecuteScript",
        "element": "FindElement",
        "click": "ElementClick",
        "value": "ElementSendKeys",
        "cookie": "AddCookie",
        "cookies/delete": "DeleteAllCookies",
        "window/rect": "SetWindowRect",
        "print": "Print",
    }

    def __init__(self, port: int) -> None:
        self._line, self._count, self._read = _reached(port), 0, b""
        self._message()
        self._say("WebDriver:NewSession", {})

    def ask(self, command: str, **sent: Any) -> Any:
        answer = self._say(f"WebDriver:{self.NAMES[command]}", sent)
        return answer["value"] if isinstance(answer, dict) and "value" in answer else answer

    def printed(self, to: Path) -> None:
        """Print the page on its own paper, as large as it says."""
        edges = dict.fromkeys(("top", "bottom", "left", "right"), 0)
        sent = {"margin": edges, "background": True, "shrinkToFit": False}
        to.write_bytes(base64.b64decode(self.ask("print", **sent)))

    def end(self) -> None:
        self._line.close()

    def _say(self, name: str, sent: Mapping[str, Any]) -> Any:
        self._count += 1
        message = json.dumps([0, self._count, name, sent]).encode()
        self._line.sendall(b"%d:%s" % (len(message), message))
        _, _, trouble, answer = self._message()
        if trouble:
            raise AssertionError(f"{name}: {trouble}")
        return answer

    def _message(self) -> Any:
        while b":" not in self._read:
            self._read += self._line.recv(65536)
        size, _, rest = self._read.partition(b":")
        while len(rest) < int(size):
            rest += self._line.recv(1 << 20)
        self._read = rest[int(size) :]
        return json.loads(rest[: int(size)])


class WebKit(Engine):
    """WebKitGTK's small browser, by the driver that Debian carries."""

    def __init__(self, port: int) -> None:
        _reached(port).close()
        self._base = f"http://127.0.0.1:{port}/session"
        options = {"binary": str(MINI), "args": ["--automation"]}
        asked = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        answer = self._send("POST", "", {"capabilities": asked})
        self._base += f"/{answer['sessionId']}"

    def ask(self, command: str, **sent: Any) -> Any:
        match command:
            case "click" | "value":
                return self._send("POST", f"/element/{sent.pop('id')}/{command}", sent)
            case "cookies/delete":
                for cookie in self._send("GET", "/cookie", None):
                    self._send("DELETE", f"/cookie/{cookie['name']}", None)
                return self._send("DELETE", "/cookie", None)
        return self._send("POST", f"/{command}", sent)

    def _send(self, method: str, path: str, sent: Mapping[str, Any] | None) -> Any:
        data = None if sent is None else json.dumps(sent).encode()
        asked = Request(self._base + path, data, {"Content-Type": "application/json"})
        asked.method = method
        with urlopen(asked, timeout=60) as answer:
            return json.load(answer)["value"]


def _reached(port: int) -> socket.socket:
    for _ in range(300):
        try:
            return socket.create_connection(("127.0.0.1", port), timeout=120)
        except OSError:
            time.sleep(0.1)
    raise NotYet(f"nobody answers on port {port}")


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port: int = asked.getsockname()[1]
        return port


def missing(name: str) -> str:
    """What isn't installed of an engine; nothing where all is."""
    if name == "firefox":
        return "" if any(map(shutil.which, FIREFOX)) else "firefox-esr"
    there = shutil.which("WebKitWebDriver") and shutil.which("xvfb-run") and MINI.is_file()
    return "" if there else "webkit2gtk-driver xvfb xauth"


@contextmanager
def engine(name: str, folder: Path) -> Iterator[Engine]:
    """Start an engine with nothing kept, and end it."""
    port = _free_port()
    if name == "firefox":
        (folder / "user.js").write_text(f'user_pref("marionette.port", {port});\n')
        binary = next(found for each in FIREFOX if (found := shutil.which(each)))
        command = [binary, "--headless", "--marionette", "--no-remote", "--profile", str(folder)]
    else:
        command = ["xvfb-run", "-a", "WebKitWebDriver", f"--port={port}"]
    surroundings = {**os.environ, "HOME": str(folder)}
    with (folder / "said.log").open("w") as said:
        process = subprocess.Popen(
            command, stdout=said, stderr=said, env=surroundings, start_new_session=True
        )
    try:
        started: Engine = Gecko(port) if name == "firefox" else WebKit(port)
        yield started
        started.end()
    finally:
        os.killpg(process.pid, 15)
        process.wait(timeout=20)
