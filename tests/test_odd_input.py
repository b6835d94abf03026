"""Every address, field and query string with NUL signs and numbers beyond any key: never a 500."""

import os
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from django.db import transaction
from django.test import Client
from django.urls import resolve, reverse

from tests.test_access import ROWS, _args, put_away
from tests.world import World, world

__all__ = ["world"]

ROOT = Path(__file__).parent.parent
IS_LONG = bool(os.environ.get("MUNTIN_LONG"))
BY_TURNS = [[*ROWS], [*ROWS]] if IS_LONG else [[*ROWS][0::2], [*ROWS][1::2]]
"""Addresses: in the build one half has odd parts, one odd query strings; by hand each has both."""
GIANT = "99999999999999999999"
HUGE = "9" * 5_000
NUL = "a\0b"
REFUSED = (302, 400, 403, 404, 405)
ODD = (GIANT, f"-{GIANT}", HUGE, "1e400", NUL)

ASKED = sorted(
    {
        name
        for path in (ROOT / "reviews").rglob("*.py")
        for name in re.findall(r'GET(?:\.get\(|\[|\.getlist\()"(\w+)"', path.read_text("utf-8"))
    }
    | {"other", "rows", "links", "next"}
)
"""Names that a query string may hold."""


class Forms(HTMLParser):
    """The forms of a page: where each is sent, and what it holds."""

    def __init__(self, page: str, text: str) -> None:
        super().__init__()
        self.page, self.found, self.at, self.hidden = page, [], None, set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {key: value or "" for key, value in attrs}
        if tag == "form":
            self.at = {}
            self.found.append((given.get("action") or self.page, given.get("method"), self.at))
        elif "formaction" in given and self.at is not None:
            self.found.append((given["formaction"], "post", self.at))
        is_field = self.at is not None and tag in ("input", "select", "textarea", "button")
        if is_field and (name := given.get("name")):
            self.at.setdefault(name, given.get("value", ""))
            if given.get("type") == "hidden" and name != "csrfmiddlewaretoken":
                self.hidden.add(name)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.at = None


class Sent(NamedTuple):
    """A form as a page shows it: where it goes, who may send it, what it holds."""

    address: str
    client: Client
    fields: dict[str, str]
    hidden: set[str]


def visitor(world: World, name: str) -> Client:
    client = world.cast.client(world.who((ROWS[name].ok or "leader").split()[0]))
    client.raise_request_exception = False
    return client


def answered(client: Client, method: str, address: str, data: dict[str, str] | None = None) -> int:
    """The status of an answer whose deeds are undone."""
    with transaction.atomic():
        answer = getattr(client, method)(address, data or {})
        put_away(answer)
        transaction.set_rollback(True)
    status: int = answer.status_code
    return status


def addresses(name: str, world: World) -> Iterator[tuple[str, str]]:
    """An address with each of its parts made odd in turn."""
    path = reverse(name, kwargs=_args(name, world))
    for part, value in _args(name, world).items():
        for odd in (GIANT, HUGE, "%00", "a%00b"):
            before, _, after = path.rpartition(f"/{value}")
            yield part, f"{before}/{odd}{after}"


def test_an_address_that_nothing_can_have_is_not_there(world: World):
    # whoever has no link is told so; what is taken back is the schedule's, whatever the room
    by_design = {("set-password", 410), ("undo-daylight", 302)}
    broken = []
    for name in BY_TURNS[0]:
        client, row = visitor(world, name), ROWS[name]
        for part, address in addresses(name, world):
            status = answered(client, row.method, address)
            if status != 404 and (name, status) not in by_design:
                broken.append((name, part, address[:80], status))
    assert broken == []


def test_a_query_string_of_anything_is_answered(world: World):
    broken = []
    for name in BY_TURNS[1]:
        client, address = visitor(world, name), reverse(name, kwargs=_args(name, world))
        for odd in ODD:
            status = answered(client, "get", address, dict.fromkeys(ASKED, odd))
            if status >= 500 or (odd == NUL and status not in REFUSED):
                broken.append((name, odd[:24], status))
    assert broken == []


def forms_of(world: World) -> dict[str, Sent]:
    """The largest form of each address's name, as the pages show it to whoever may use it."""
    found: dict[str, Sent] = {}
    for name in ROWS:
        client, page = visitor(world, name), reverse(name, kwargs=_args(name, world))
        answer = client.get(page)
        put_away(answer)
        if answer.status_code != 200 or not answer["Content-Type"].startswith("text/html"):
            continue
        read = Forms(page, answer.content.decode())
        for action, method, fields in read.found:
            address = urlsplit(action).path or page
            to = str(resolve(address).url_name)
            if method == "post" and (to not in found or len(found[to].fields) < len(fields)):
                found[to] = Sent(address, client, fields, read.hidden & fields.keys())
    return found


def sent_oddly(form: Sent, turn: int) -> Iterator[tuple[str, str, dict[str, str]]]:
    """What a form sends with a number beyond any in each hidden field, and in all at once.

    In the build forms take turns at which; by hand each has all.
    """
    beyond, alike = (GIANT, HUGE), ODD
    if not IS_LONG:
        beyond, alike = (beyond[turn % 2],), (NUL, ODD[turn % len(ODD)])
    for name in {re.sub(r"\d+", "0", name): name for name in form.hidden}.values():
        for odd in beyond:
            yield name, odd, {**form.fields, name: odd}
    for odd in alike:
        yield "all", odd, dict.fromkeys(form.fields, odd)


def test_a_field_of_anything_is_answered(world: World):
    broken, forms = [], forms_of(world)
    assert len(forms) > 40
    for turn, (to, form) in enumerate(forms.items()):
        for name, odd, sent in sent_oddly(form, turn):
            status = answered(form.client, "post", form.address, sent)
            if status >= 500 or (odd == NUL and sent and status not in REFUSED):
                broken.append((to, name, odd[:24], status))
    assert broken == []
