"""Every address as every role, with the right method and the wrong one.

A row says who is let in (`ok`) and who sees the thing but may not do this to it (`refused`,
403). Everyone else gets what is told to strangers: 404 if they are signed in, the way to the
sign-in page if they aren't. An address without a row fails the test.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from uuid import UUID, uuid4

import pytest
from django.db import transaction
from django.http import HttpResponse
from django.urls import URLPattern, get_resolver, reverse

from reviews.deeds.mail_choosing import token_for
from tests.world import World, shared_world

__all__ = ["shared_world"]  # the fixture is asked for by name

pytestmark = pytest.mark.django_db

ROLES = (
    "student", "mate", "classmate", "other_student", "juror", "other_juror", "scribe",
    "leader", "other_leader", "coordinator", "examiner", "nobody",
)  # fmt: skip
WITHOUT_ACCOUNT = ("juror", "other_juror", "nobody")
EVERYONE = " ".join(ROLES)
ACCOUNTS = " ".join(role for role in ROLES if role not in WITHOUT_ACCOUNT)
STUDIO = "student mate classmate scribe leader coordinator examiner"
READERS = "student mate leader coordinator"
REVISION = "student mate juror scribe leader coordinator"
"""Who may read a revision with its schedules before any release."""


@dataclass(frozen=True)
class Row:
    """One address.

    args      what its path takes, from the world
    ok        roles let in
    refused   roles that get 403
    method    the right method; the wrong one must change nothing
    data      what a right POST sends
    wrong     a wrong method, or "" where both are right
    public    whether it can be reached without an account (what else happens is its own rule)
    """

    args: Callable[[World], dict[str, object]] = lambda world: {}
    ok: str = ""
    refused: str = ""
    method: str = "get"
    data: dict[str, object] = field(default_factory=dict)
    wrong: str = "post"
    public: bool = False


def _studio(world: World) -> dict[str, object]:
    return {"studio_id": world.cast.studio.pk}


def _draft_studio(world: World) -> dict[str, object]:
    return {"studio_id": world.ids["draft_studio"]}


def _scheme(world: World) -> dict[str, object]:
    return {"scheme_id": world.cast.scheme.pk}


def _schedule(world: World) -> dict[str, object]:
    return {**_scheme(world), "slug": "rooms"}


def _room(world: World) -> dict[str, object]:
    return {**_scheme(world), "mark": "R1"}


def _revision(world: World) -> dict[str, object]:
    return {"revision_id": world.ids["revision"]}


def _crit(world: World) -> dict[str, object]:
    return {"crit_id": world.cast.crit.pk}


def _with(base: Callable[[World], dict[str, object]], *names: str, **fixed: object):
    return lambda world: {**base(world), **{n: world.ids[n] for n in names}, **fixed}


_SHEET = _with(_scheme, "sheet_id")
_TILE = {"level": 0, "column": 0, "row": 0}
_JURY = {"wrong": "get", "method": "post", "public": True}
_POST = {"wrong": "get", "method": "post"}
_BOTH = {"wrong": ""}
_STOP = token_for("jo@example.org", "answers")

ROWS: dict[str, Row] = {
    "home": Row(ok=ACCOUNTS),
    "sign-in": Row(ok=EVERYONE, public=True, **_BOTH),
    "sign-out": Row(ok=ACCOUNTS, **_POST),
    "answer-invitation": Row(
        lambda w: {"membership_id": w.ids["invitation_id"]}, ok="other_student", **_POST
    ),
    **dict.fromkeys(("you", "change-password"), Row(ok=ACCOUNTS, **_BOTH)),
    "keep-passkeys": Row(ok=ACCOUNTS, **_BOTH),
    "remove-passkey": Row(lambda w: {"passkey_id": w.ids["passkey_id"]}, ok="student", **_POST),
    "sign-in-by-passkey": Row(ok=EVERYONE, public=True, **_POST),
    "export-you": Row(ok=ACCOUNTS, **_POST),
    "set-password": Row(
        lambda w: {"uidb64": "MQ", "token": "x-y"}, ok=EVERYONE, public=True, **_BOTH
    ),
    "stop-mail": Row(lambda w: {"token": _STOP}, ok=EVERYONE, public=True, **_BOTH),
    "lamp": Row(ok=EVERYONE, public=True, data={"lamp": "off", "next": "/"}, **_POST),
    "units": Row(ok=EVERYONE, public=True, data={"units": "us", "next": "/"}, **_POST),
    # no school signs anybody in here; where one does, tests/reviews/test_school_views.py
    "go-to-school": Row(public=True, **_POST),
    "come-from-school": Row(public=True),
    "demo-sign-in": Row(lambda w: {"person_id": w.cast.leader.pk}, public=True, **_POST),
    "healthz": Row(ok=EVERYONE, public=True),
    "specimen": Row(public=True),
    "show-status": Row(ok="coordinator", refused=ACCOUNTS),
    # studios
    "open-studio": Row(ok="leader coordinator", refused=ACCOUNTS, **_BOTH),
    "show-studio": Row(_studio, ok=STUDIO),
    "edit-studio": Row(_studio, ok="leader", refused=STUDIO, **_BOTH),
    **dict.fromkeys(("show-audit", "export-audit"), Row(_studio, ok="leader", refused=STUDIO)),
    "show-pin-up": Row(_studio, ok=STUDIO),
    "show-people": Row(_studio, ok="leader coordinator", refused=STUDIO),
    "bring-in-people": Row(_studio, ok="leader", refused=STUDIO, **_BOTH),
    "undo-people": Row(_studio, ok="leader", refused=STUDIO, **_POST),
    "make-link": Row(_with(_studio, "membership_id"), ok="leader", refused=STUDIO, **_POST),
    "remove-member": Row(_with(_studio, "membership_id"), ok="leader", refused=STUDIO, **_POST),
    # brief
    "show-brief": Row(_studio, ok=STUDIO),
    "edit-text": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "edit-site": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "edit-climate": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "edit-states": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "paste-climate": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "export-climate": Row(_studio, ok=STUDIO),
    "edit-hand-in": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    **{
        f"undo-{part}": Row(_draft_studio, ok="leader", refused=STUDIO, **_POST)
        for part in ("text", "site", "climate", "states", "hand-in", "targets")
    },
    "issue-brief": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "add-addendum": Row(_studio, ok="leader", refused=STUDIO, **_BOTH),
    "edit-targets": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "paste-targets": Row(_draft_studio, ok="leader", refused=STUDIO, **_BOTH),
    "add-published-set": Row(_draft_studio, ok="leader", refused=STUDIO, **_POST),
    "save-target": Row(_with(_draft_studio, "line_id"), ok="leader", refused=STUDIO, **_POST),
    "remove-target": Row(_with(_draft_studio, "line_id"), ok="leader", refused=STUDIO, **_POST),
    "export-targets": Row(_studio, ok=STUDIO),
    # crits
    "open-crit": Row(_studio, ok="leader", refused=STUDIO, **_BOTH),
    "show-crit": Row(_crit, ok=STUDIO),
    "edit-crit": Row(_crit, ok="leader", refused=STUDIO, **_BOTH),
    "edit-criteria": Row(_crit, ok="leader", refused=STUDIO, **_BOTH),
    "close-issuing": Row(_crit, ok="leader", refused=STUDIO, **_POST),
    "open-issuing": Row(_crit, ok="leader", refused=STUDIO, **_POST),
    "start-criteria": Row(_crit, ok="leader", refused=STUDIO, **_POST),
    "edit-jurors": Row(_crit, ok="leader", refused=STUDIO, **_BOTH),
    "bring-in-jurors": Row(_crit, ok="leader", refused=STUDIO, **_BOTH),
    "undo-jurors": Row(_crit, ok="leader", refused=STUDIO, **_POST),
    "send-links": Row(_crit, ok="leader", refused=STUDIO, **_POST),
    "print-links": Row(_crit, ok="leader", refused=STUDIO),
    "renew-code": Row(_with(_crit, "seat_id"), ok="leader", refused=STUDIO, **_POST),
    "edit-order": Row(_crit, ok="leader", refused=STUDIO, **_BOTH),
    # moderation
    "show-table": Row(_crit, ok="leader"),
    "export-table": Row(_crit, ok="leader"),
    "moderate-scheme": Row(_with(_crit, "scheme_id"), ok="leader"),
    "correct-level": Row(_with(lambda w: {}, "given_id"), ok="leader", **_BOTH),
    "take-interest-back": Row(_with(lambda w: {}, "interest_id"), ok="leader", **_POST),
    "reopen-sheet": Row(_with(lambda w: {}, "sheet_id"), ok="leader", **_BOTH),
    "hold-comment": Row(_with(lambda w: {}, "comment_id"), ok="leader", **_BOTH),
    "let-go-comment": Row(_with(lambda w: {}, "comment_id"), ok="leader", **_POST),
    "release-crit": Row(_crit, ok="leader", **_BOTH),
    "call-back-crit": Row(_crit, ok="leader", **_POST),
    # package
    "show-package": Row(_scheme, ok=READERS),
    "save-statement": Row(_scheme, ok="student mate", refused=READERS, **_POST),
    "issue-package": Row(_scheme, ok="student mate", refused=READERS, **_BOTH),
    "show-schedule": Row(_schedule, ok=READERS),
    "choose-columns": Row(_schedule, ok=READERS, **_POST),
    "add-row": Row(_schedule, ok="student mate", refused=READERS, **_POST),
    "save-row": Row(_with(_schedule, "row_id"), ok="student mate", refused=READERS, **_POST),
    "remove-row": Row(_with(_schedule, "row_id"), ok="student mate", refused=READERS, **_POST),
    "undo-change": Row(_schedule, ok="student mate", refused=READERS, **_POST),
    "paste-rows": Row(_schedule, ok="student mate", refused=READERS, **_BOTH),
    "export-schedule": Row(_schedule, ok=READERS),
    "edit-sheets": Row(_scheme, ok="student mate", refused=READERS, **_BOTH),
    "answer-marks": Row(_scheme, ok="student mate", refused=READERS, **_POST),
    "begin-sending": Row(_scheme, ok="student mate", refused=READERS, **_POST),
    "send-piece": Row(
        _with(_scheme, key=UUID(int=7)),
        ok="student mate",
        refused=READERS,
        method="head",
        wrong="post",
    ),
    "confirm-sheets": Row(_scheme, ok="student mate", refused=READERS, **_POST),
    "edit-sheet": Row(_SHEET, ok="student mate", refused=READERS, **_BOTH),
    "remove-sheet": Row(_SHEET, ok="student mate", refused=READERS, **_POST),
    "download-package": Row(_scheme, ok="student mate leader", refused=READERS),
    "show-sheet": Row(_SHEET, ok=READERS),
    "sheet-image": Row(_with(_scheme, "sheet_id", size="preview"), ok=READERS),
    "sheet-tile": Row(_with(_SHEET, **_TILE), ok=READERS),
    "sheet-original": Row(_SHEET, ok="student mate leader", refused=READERS),
    "show-checks": Row(_scheme, ok=READERS),
    "print-schedule-drawing": Row(_schedule, ok=READERS),
    "print-sheet-list": Row(_scheme, ok=READERS),
    "print-issued-sheet-list": Row(_revision, ok=f"{REVISION} classmate", public=True),
    "print-check-drawing": Row(_with(_scheme, key="T01"), ok=READERS),
    "print-issued-check-drawing": Row(
        _with(_revision, key="T01"), ok=REVISION, refused="classmate", public=True
    ),
    "show-check": Row(_with(_scheme, key="T01"), ok=READERS),
    "set-check-aside": Row(_with(_scheme, key="T01"), ok="leader", refused=READERS, **_POST),
    "take-check-back": Row(_with(_scheme, "aside_id"), ok="leader", refused=READERS, **_POST),
    "show-questions": Row(_scheme, ok="student mate leader", refused=READERS),
    # issued
    "show-revision": Row(_revision, ok=f"{REVISION} classmate", public=True),
    "show-issued-checks": Row(_revision, ok=REVISION, refused="classmate", public=True),
    "show-issued-check": Row(
        _with(_revision, key="T01"), ok=REVISION, refused="classmate", public=True
    ),
    "list-daylight": Row(_scheme, ok=READERS),
    "show-daylight": Row(_room, ok=READERS),
    "try-daylight": Row(_room, ok=READERS, **_POST),
    "adopt-daylight": Row(_room, ok="student mate", refused=READERS, **_POST),
    "undo-daylight": Row(_room, ok="student mate", refused=READERS, **_POST),
    "list-issued-daylight": Row(_revision, ok=REVISION, refused="classmate", public=True),
    "show-issued-daylight": Row(
        _with(_revision, mark="R1"), ok=REVISION, refused="classmate", public=True
    ),
    "show-issued-schedule": Row(
        _with(_revision, slug="rooms"), ok=REVISION, refused="classmate", public=True
    ),
    "show-changes": Row(_revision, ok=f"{REVISION} classmate", public=True),
    **dict.fromkeys(
        ("show-issued-sheet", "show-sheet-change"),
        Row(_with(_revision, number="02"), ok=f"{REVISION} classmate", public=True),
    ),
    "issued-sheet-image": Row(
        _with(_revision, number="02", size="preview"), ok=f"{REVISION} classmate", public=True
    ),
    "show-slide": Row(_with(_revision, number="02"), ok=f"{REVISION} classmate", public=True),
    "download-revision": Row(
        _revision, ok="student mate leader", refused=f"{REVISION} classmate", public=True
    ),
    "issued-sheet-tile": Row(
        _with(_revision, number="02", **_TILE), ok=f"{REVISION} classmate", public=True
    ),
    "issued-sheet-original": Row(
        _with(_revision, number="02"),
        ok="student mate leader",
        refused=f"{REVISION} classmate",
        public=True,
    ),
    # jury
    "enter-jury": Row(lambda w: {"code": w.cast.seat.code}, ok=EVERYONE, public=True),
    "enter-code": Row(ok=EVERYONE, public=True, **_BOTH),
    "show-jury": Row(ok="juror other_juror", public=True),
    "show-jury-brief": Row(ok="juror other_juror", public=True),
    "leave-jury": Row(ok="juror other_juror", **_JURY),
    "show-jury-sheet": Row(_scheme, ok="juror", public=True),
    "keep-impression": Row(
        _scheme, ok="juror", data={"level": "3", "seen": "0", "key": str(uuid4())}, **_JURY
    ),
    "keep-level": Row(
        _with(_scheme, "criterion_id"),
        ok="juror",
        data={"level": "3", "seen": "0", "key": str(uuid4())},
        **_JURY,
    ),
    "keep-comment": Row(
        _scheme,
        ok="juror",
        data={"key": str(uuid4()), "kind": "Keep", "words": "Good.", "seen": "0"},
        **_JURY,
    ),
    "remove-comment": Row(_with(_scheme, key=uuid4()), ok="", **_JURY),
    "take-up-revision": Row(_scheme, ok="juror", **_JURY),
    "lock-sheet": Row(_scheme, ok="juror", **_JURY),
    "declare-interest": Row(_scheme, ok="juror", public=True, **_BOTH),
    "take-own-interest-back": Row(
        lambda w: {"scheme_id": w.cast.other_scheme.pk}, ok="juror", **_JURY
    ),
    # afterwards
    "show-results": Row(_with(_crit, "scheme_id"), ok="leader"),
    "export-annotations": Row(_with(_crit, "scheme_id"), ok="", refused="leader"),
    "answer-comment": Row(_with(lambda w: {}, "comment_id"), ok="", **_BOTH),
    "compare-cohorts": Row(_studio, ok="leader", refused=""),
}


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
    names = {403: "refused", 404: "not there", 405: "wrong method"}
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
