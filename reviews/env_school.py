"""What the environment says of signing in through a school, by OpenID Connect."""

from __future__ import annotations

from ipaddress import ip_address
from typing import NamedTuple
from urllib.parse import urlsplit

from reviews.env import refuse, text

MOST_NAME, MOST_SERVER, MOST_CLIENT = 40, 200, 191
"""Most signs of each; the library's tables hold no more."""

_WELL_KNOWN = "/.well-known/openid-configuration"


class School(NamedTuple):
    """A school whose server says who somebody is; without a server there is none.

    server   its issuer, under which the server's configuration is found
    client   what this site is called there, with its secret
    """

    name: str = ""
    server: str = ""
    client: str = ""
    secret: str = ""


def school(prefix: str) -> School:
    """Return the school that four variables describe, or none; a secret is never repeated."""
    read = {part: text(f"{prefix}_{part}").strip() for part in ("NAME", "URL", "CLIENT", "SECRET")}
    if not any(read.values()):
        return School()
    for part, value in read.items():
        if not value:
            refuse(f"{prefix}_{part}", "", f"a value, as the other {prefix}_… have one, or none")
        if not value.isprintable():
            refuse(f"{prefix}_{part}", "a sign that can't be printed", "one line of text")
    name, server, client, secret = read.values()
    if len(name) > MOST_NAME:
        refuse(f"{prefix}_NAME", f"“{name}”", f"at most {MOST_NAME} signs, for a button")
    if len(client) > MOST_CLIENT:
        refuse(f"{prefix}_CLIENT", f"{len(client)} signs", f"at most {MOST_CLIENT}")
    return School(name, _server(f"{prefix}_URL", server), client, secret)


def _server(name: str, read: str) -> str:
    """Return a server's address: over https, or plain on this machine itself."""
    expected = "the issuer's address, such as https://id.school.example, without a query"
    server = read.removesuffix(_WELL_KNOWN)
    try:
        parts = urlsplit(server)
        host = parts.hostname or ""
        is_fit = parts.port != 0 and bool(host)
    except ValueError:
        refuse(name, "a port or host that is none", expected)
    if parts.username is not None or parts.password is not None:
        refuse(name, "a user or password", expected)
    is_fit = is_fit and not (parts.query or parts.fragment or " " in server)
    is_safe = parts.scheme == "https" or (parts.scheme == "http" and is_loopback(host))
    if not is_fit or not is_safe or len(server) > MOST_SERVER:
        refuse(name, f"“{read}”", expected)
    return server


def is_loopback(host: str) -> bool:
    """Whether a host is this machine itself.

    >>> is_loopback("localhost"), is_loopback("127.0.0.1"), is_loopback("id.school.example")
    (True, True, False)
    """
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"
