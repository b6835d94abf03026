"""What the environment says of e-mail: the server, the sender, and where links lead."""

from __future__ import annotations

from typing import NamedTuple
from urllib.parse import parse_qs, unquote, urlsplit

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from reviews.env import refuse, text

_SERVER = "{0}://USER:PASSWORD@HOST:PORT?tls=yes or {0}s://USER:PASSWORD@HOST:PORT"
_USUAL = {"smtp": (25, 587, 465), "imap": (143, 143, 993)}
"""Ports of each protocol: in the open, where a connection turns to TLS, and in TLS alone."""


class MailServer(NamedTuple):
    """A mail server that takes letters or holds a mailbox; without a host there is none."""

    host: str = ""
    port: int = 25
    user: str = ""
    password: str = ""
    starts_tls: bool = False
    is_tls: bool = False


def mail_server(name: str, protocol: str = "smtp") -> MailServer:
    """Return the server of a URL; a password is never repeated in what is refused.

    The connection is encrypted unless `tls=no` says otherwise. A mailbox is somebody's.
    """
    url, expected = text(name).strip(), _SERVER.format(protocol)
    if not url:
        return MailServer()
    try:
        parts = urlsplit(url)
        port, host = parts.port, parts.hostname
    except ValueError:
        refuse(name, "a port or host that is none", expected)
    if parts.scheme not in (protocol, f"{protocol}s"):
        refuse(name, f"“{parts.scheme}:”", expected)
    if not host or parts.path.strip("/") or bool(parts.username) != bool(parts.password):
        refuse(name, "no host, a path, or a user without a password", expected)
    if protocol == "imap" and not parts.username:
        refuse(name, "no user", expected)
    asked = parse_qs(parts.query, keep_blank_values=True)
    tls = asked.pop("tls", ["yes"])[-1].lower()
    if asked or tls not in ("yes", "no") or (parts.scheme != protocol and tls == "no"):
        refuse(name, "something else behind “?”", expected)
    is_tls = parts.scheme != protocol
    starts_tls = not is_tls and tls == "yes"
    usual = _USUAL[protocol][2 if is_tls else starts_tls]
    user, password = unquote(parts.username or ""), unquote(parts.password or "")
    return MailServer(host, port or usual, user, password, starts_tls, is_tls)


def sender(name: str, *, is_needed: bool) -> str:
    """Return the address that letters come from: bare, or “Muntin <muntin@example.org>”."""
    read = text(name).strip()
    if not read and not is_needed:
        return "Muntin <muntin@localhost>"
    shown, opens, rest = read.partition("<")
    address = rest.removesuffix(">") if opens else shown
    try:
        validate_email(address.strip())
        if not read.isprintable() or any(sign in shown for sign in ',;:"@' * bool(opens)):
            raise ValidationError("a head that isn't one")
    except ValidationError:
        refuse(name, read and f"“{read}”", "an address, “Muntin <name@example.org>”")
    return read


def site_address(name: str, hosts: list[str], *, is_https: bool) -> str:
    """Return the beginning of the site's addresses; of the first host where none is named."""
    read = text(name).strip().rstrip("/")
    if not read:
        host = next((host for host in hosts if "*" not in host), "localhost").lstrip(".")
        return f"{'https' if is_https else 'http'}://{host}"
    parts = urlsplit(read)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.path or parts.query:
        refuse(name, f"“{read}”", "the site's address, such as https://muntin.example.org")
    return read
