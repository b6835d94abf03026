"""Every address as every role, with the right method and the wrong one.

A row says who is let in (`ok`) and who sees the thing but may not do this to it (`refused`,
403). Everyone else gets what is told to strangers: 404 if they are signed in, the way to the
sign-in page if they aren't. An address without a row fails the test.
"""

import pytest
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from reviews.deeds import token_keeping
from tests.access_rows import ROWS
from tests.access_rows.base import ROLES, WITHOUT_ACCOUNT
from tests.world import World, shared_world

__all__ = ["shared_world"]  # the fixture is asked for by name

pytestmark = pytest.mark.django_db


def _patterns() -> dict[str, URLPattern]:
    found = get_resolver("reviews.urls").url_patterns
    return {str(pattern.name): pattern for pattern in found if isinstance(pattern, URLPattern)}


def _args(name: str, world: World) -> dict[str, object]:
    args = ROWS[name].args(world)
    if name == "reopen-sheet":
        args["sheet_id"] = world.ids["jury_sheet_id"]
    return args


def put_away(answer: HttpResponse) -> None:
    """Close the file that an answer sends; the end of a request would end the transaction too."""
    for close in answer._resource_closers:
        close()


def _answer(world: World, name: str, role: str, method: str) -> tuple[int, str]:
    client = world.cast.client(world.who(role))
    address = reverse(name, kwargs=_args(name, world))
    data = ROWS[name].data if method == "post" else {}
    with transaction.atomic():
        response = getattr(client, method)(address, data)
        put_away(response)
        transaction.set_rollback(True)
    return response.status_code, response.headers.get("Location", "")


def _expected(name: str, role: str) -> str:
    row = ROWS[name]
    if role in row.ok.split():
        return "let in"
    if role in row.refused.split():
        return "refused"
    if row.public:
        return "not there"
    return "to sign in" if role in WITHOUT_ACCOUNT else "not there"


def _what(status: int, location: str) -> str:
    if status == 302 and location.startswith(reverse("sign-in")):
        return "to sign in"
    names = {401: "to sign in", 403: "refused", 404: "not there", 405: "wrong method"}
    return names.get(status, "let in" if status < 500 else f"broken ({status})")


def test_every_address_has_a_row_and_no_row_is_left_over():
    assert set(ROWS) == set(_patterns())


def _answer_alone(world: World, name: str, role: str) -> str:
    """What a role is answered in a world in which no other has asked yet, nor will have."""
    answer = _what(*_answer(world, name, role, ROWS[name].method))
    # signing in and out, and opening a juror's link, lead back to the sign-in page by design
    by_design = {"sign-out", "set-password", "enter-jury", "leave-jury", "lamp", "units"}
    if name in by_design and answer in ("to sign in", "let in"):
        return _expected(name, role)
    return answer


@pytest.mark.each_case_asks
@pytest.mark.parametrize("name", ROWS)
def test_who_is_let_in(shared_world: World, name: str):
    answers = {role: _answer_alone(shared_world, name, role) for role in ROLES}
    assert answers == {role: _expected(name, role) for role in ROLES}


def test_a_token_opens_what_its_owners_session_opens_and_no_page(shared_world: World):
    """JSON as by the session of each role; any page, as to somebody unknown."""
    odd = []
    with transaction.atomic():
        for role in (role for role in ROLES if role not in WITHOUT_ACCOUNT):
            person = shared_world.who(role)
            session = shared_world.cast.client(person)
            head = {"Authorization": f"Bearer {token_keeping.make(person, 'walk')}"}
            for name, row in ROWS.items():
                is_told = name.startswith("tell-")
                if row.method != "get" or (role != "leader" and not is_told):
                    continue
                address = reverse(name, kwargs=_args(name, shared_world))
                asked = Client().get(address, headers=head)
                like = (session if is_told else Client()).get(address)
                both = [_what(each.status_code, each.get("Location", "")) for each in (asked, like)]
                odd += [(role, name, *both)] if both[0] != both[1] else []
                put_away(asked)
                put_away(like)
        transaction.set_rollback(True)
    assert odd == []


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row.wrong])
def test_the_wrong_method_is_refused(shared_world: World, name: str):
    row = ROWS[name]
    role = (row.ok or "leader").split()[0]
    if role == "student" and "juror" in row.ok and row.public:
        role = "juror"
    status, _ = _answer(shared_world, name, role, row.wrong)
    assert status in (404, 405) if not row.ok else status == 405


@pytest.mark.parametrize("name", [name for name, row in ROWS.items() if row.wrong == ""])
def test_other_methods_are_refused(shared_world: World, name: str):
    role = (ROWS[name].ok or "leader").split()[0]
    status, _ = _answer(shared_world, name, role, "put")
    assert status in (404, 405) if not ROWS[name].ok else status == 405
