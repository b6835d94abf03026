"""Addresses for scripts, here as a browser that is signed in reads them; by a token it is the same.

tests/reviews/test_scripts_views.py walks them by tokens.
"""

from tests.access_rows.base import (
    ACCOUNTS,
    BOTH,
    EVERYONE,
    POST,
    READERS,
    Row,
    a_crit,
    a_revision,
    a_scheme,
    with_args,
)

WHOLE = "student mate scribe leader coordinator"
"""Who reads a revision whole before any release, of those with an account."""

ROWS: dict[str, Row] = {
    "keep-tokens": Row(ok=ACCOUNTS, **BOTH),
    "end-token": Row(lambda w: {"token_id": w.ids["token_id"]}, ok="student", **POST),
    "tell-schema": Row(ok=EVERYONE, public=True),
    **dict.fromkeys(
        ("tell-start", "tell-packages", "tell-revisions", "tell-all-results"), Row(ok=ACCOUNTS)
    ),
    **dict.fromkeys(("tell-package", "tell-checks"), Row(a_scheme, ok=READERS)),
    **dict.fromkeys(
        ("tell-issued-package", "tell-issued-checks"),
        Row(a_revision, ok=WHOLE, refused="classmate"),
    ),
    "tell-results": Row(with_args(a_crit, "scheme_id")),
}
