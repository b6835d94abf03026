"""What a row says of an address, and what its path takes of the world."""

from collections.abc import Callable
from dataclasses import dataclass, field

from reviews.deeds.mail_choosing import token_for
from tests.world import World

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


def a_studio(world: World) -> dict[str, object]:
    return {"studio_id": world.cast.studio.pk}


def a_draft_studio(world: World) -> dict[str, object]:
    return {"studio_id": world.ids["draft_studio"]}


def a_scheme(world: World) -> dict[str, object]:
    return {"scheme_id": world.cast.scheme.pk}


def a_schedule(world: World) -> dict[str, object]:
    return {**a_scheme(world), "slug": "rooms"}


def a_room(world: World) -> dict[str, object]:
    return {**a_scheme(world), "mark": "R1"}


def a_revision(world: World) -> dict[str, object]:
    return {"revision_id": world.ids["revision"]}


def a_crit(world: World) -> dict[str, object]:
    return {"crit_id": world.cast.crit.pk}


def with_args(base: Callable[[World], dict[str, object]], *names: str, **fixed: object):
    return lambda world: {**base(world), **{n: world.ids[n] for n in names}, **fixed}


A_SHEET = with_args(a_scheme, "sheet_id")
A_TILE = {"level": 0, "column": 0, "row": 0}
JURY = {"wrong": "get", "method": "post", "public": True}
POST = {"wrong": "get", "method": "post"}
BOTH = {"wrong": ""}
STOP = token_for("jo@example.org", "answers")
