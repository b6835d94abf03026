"""A school's OpenID Connect server on this machine, written from the standards and no library.

OpenID Connect Core 1.0 (2.; 3.1; 5.3), Discovery 1.0 (4.), RFC 7636 (proof of the code), RFC 7518
(3.3: RS256). It refuses what a careful server refuses, and can be told to lie.
"""

import base64
import hashlib
import hmac
import json
import secrets
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit
from urllib.request import HTTPErrorProcessor, build_opener

from cryptography.hazmat.primitives.asymmetric import padding, rsa
from cryptography.hazmat.primitives.hashes import SHA256

from reviews.env_school import School

CLIENT, SECRET = "muntin at fell", "between the two of us: 0123"
STEF = {"sub": "s-1", "email": "Stef@Example.org", "email_verified": True}


def b64(raw: bytes | dict[str, Any]) -> str:
    text = json.dumps(raw).encode() if isinstance(raw, dict) else raw
    return base64.urlsafe_b64encode(text).rstrip(b"=").decode()


@cache
def _key(name: str) -> rsa.RSAPrivateKey:
    return rsa.generate_private_key(public_exponent=65537, key_size=2048)


def signed(head: dict[str, Any], claims: dict[str, Any], key: str = "school") -> str:
    """A token; unsigned, or by a secret, where its head says so."""
    said = f"{b64(head)}.{b64(claims)}"
    if head["alg"] == "none":
        return f"{said}."
    if head["alg"] == "HS256":
        return f"{said}.{b64(hmac.digest(SECRET.encode(), said.encode(), 'sha256'))}"
    return f"{said}.{b64(_key(key).sign(said.encode(), padding.PKCS1v15(), SHA256()))}"


class _Unled(HTTPErrorProcessor):
    """Leads nowhere by itself."""

    def http_response(self, request: Any, response: Any) -> Any:
        return response


class SchoolServer:
    """What the school knows, and how it lies.

    person     who signs in there: claims of the token, and of the page about them
    page       claims of that page where they are other ones; the token then has the subject alone
    lies       claims of the token that aren't so
    head       of the token
    key        that signs
    says       of its own configuration that isn't so
    denies     what it answers instead of a code
    asks       whether it shows a page, at another name of this machine, before it sends back
    is_broken  whether everything but its configuration fails
    """

    def __init__(self) -> None:
        self.person: dict[str, Any] = dict(STEF)
        self.page: dict[str, Any] | None = None
        self.lies: dict[str, Any] = {}
        self.head: dict[str, Any] = {"alg": "RS256", "kid": "1"}
        self.key = "school"
        self.says: dict[str, Any] = {}
        self.denies = ""
        self.asks = self.is_broken = False
        self.secret = SECRET
        self.codes: dict[str, dict[str, str]] = {}
        self.asked: list[str] = []
        self.url = ""

    @property
    def school(self) -> School:
        """The settings of a site that trusts it."""
        return School("Fell School", self.url, CLIENT, SECRET)

    def visit(self, url: str) -> str:
        """Go where the site sends a browser; whither the school sends it back."""
        answer = build_opener(_Unled).open(url, timeout=5)
        with answer:
            assert answer.status == 302, answer.read()
            return str(answer.headers["Location"])

    def configuration(self) -> dict[str, Any]:
        ends = {"authorization_endpoint": "authorize", "token_endpoint": "token"}
        ends |= {"jwks_uri": "keys", "userinfo_endpoint": "person"}
        said = {"issuer": self.url} | {head: f"{self.url}/{end}" for head, end in ends.items()}
        return said | self.says

    def keys(self) -> dict[str, Any]:
        of = _key("school").public_key().public_numbers()
        n, e = (b64(v.to_bytes((v.bit_length() + 7) // 8)) for v in (of.n, of.e))
        return {"keys": [{"kty": "RSA", "use": "sig", "alg": "RS256", "kid": "1", "n": n, "e": e}]}

    def back(self, sent: dict[str, str]) -> str:
        """Where a browser is sent back to, with a code that is good once."""
        given = {"state": sent["state"]}
        if self.denies:
            given["error"] = self.denies
        else:
            given["code"] = secrets.token_urlsafe(12)
            self.codes[given["code"]] = sent
        return f"{sent['redirect_uri']}?{urlencode(given)}"

    def token(self, sent: dict[str, str]) -> dict[str, Any] | None:
        """What a code is changed for, where all that goes with it is right."""
        begun = self.codes.pop(sent.get("code", ""), None)
        proof = b64(hashlib.sha256(sent.get("code_verifier", "").encode()).digest())
        if (
            begun is None
            or (sent.get("client_id"), sent.get("client_secret")) != (CLIENT, self.secret)
            or begun["code_challenge"] != proof
            or begun["redirect_uri"] != sent.get("redirect_uri")
        ):
            return None
        now = int(time.time())
        told = {"sub": self.person["sub"]} if self.page is not None else self.person
        claims = {"iss": self.url, "aud": CLIENT, "iat": now, "exp": now + 300, **told}
        claims = {**claims, "nonce": begun["nonce"], **self.lies}
        claims = {name: value for name, value in claims.items() if value is not None}
        token = signed(self.head, claims, self.key)
        return {"access_token": "for the page", "token_type": "Bearer", "id_token": token}


NEEDED = {"client_id", "redirect_uri", "state", "nonce", "code_challenge"}


def _handler(school: SchoolServer) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked = urlsplit(self.path)
            sent = dict(parse_qsl(asked.query))
            school.asked.append(asked.path)
            if asked.path == "/.well-known/openid-configuration":
                self.say(200, school.configuration())
            elif school.is_broken:
                self.say(500, {})
            elif asked.path == "/keys":
                self.say(200, school.keys())
            elif asked.path == "/person":
                known = self.headers["Authorization"] == "Bearer for the page"
                self.say(200 if known else 401, school.page or school.person)
            elif asked.path == "/authorize":
                fit = set(sent) >= NEEDED and sent["code_challenge_method"] == "S256"
                assert fit, sent
                assert (sent["response_type"], sent["client_id"]) == ("code", CLIENT), sent
                assert "openid" in sent["scope"].split(), sent
                there = f"http://localhost:{self.server.server_address[1]}/ask?{asked.query}"
                self.lead(there if school.asks else school.back(sent))
            elif asked.path == "/ask":
                self.show(f"<a href='/agreed?{asked.query.replace('&', '&amp;')}'>It is me</a>")
            elif asked.path == "/agreed":
                self.lead(school.back(sent))
            else:
                self.say(404, {})

        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"])).decode()
            school.asked.append(self.path)
            sent = dict(parse_qsl(body))
            if basic := self.headers.get("Authorization", "").removeprefix("Basic "):
                who, _, secret = base64.b64decode(basic).decode().partition(":")
                sent |= {"client_id": who, "client_secret": secret}
            given = None if school.is_broken else school.token(sent)
            self.say(200 if given else 400, given or {"error": "invalid_client"})

        def say(self, status: int, said: dict[str, Any]) -> None:
            self.send(status, "application/json", json.dumps(said).encode())

        def show(self, html: str) -> None:
            self.send(200, "text/html", f"<!doctype html><title>Fell</title>{html}".encode())

        def lead(self, where: str) -> None:
            self.send_response(302)
            self.send_header("Location", where)
            self.end_headers()

        def send(self, status: int, kind: str, body: bytes) -> None:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *args: object) -> None:
            """Say nothing."""

    return Handler


@contextmanager
def school_server() -> Iterator[SchoolServer]:
    """A school that answers, on a port of its own."""
    school = SchoolServer()
    with ThreadingHTTPServer(("127.0.0.1", 0), _handler(school)) as server:
        school.url = f"http://127.0.0.1:{server.server_address[1]}"
        thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
        thread.start()
        try:
            yield school
        finally:
            server.shutdown()
            thread.join()
