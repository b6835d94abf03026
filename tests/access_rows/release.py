"""Addresses of the release: its proofs, its minute, and results on paper."""

from tests.access_rows.base import BOTH, POST, Row, a_crit, with_args

A_SCHEME = with_args(a_crit, "scheme_id")

ROWS: dict[str, Row] = {
    "unset-release": Row(a_crit, ok="leader", **POST),
    "proof-scheme": Row(A_SCHEME, ok="leader", **BOTH),
    "download-results": Row(A_SCHEME, ok="leader"),
    "ask-result-papers": Row(a_crit, ok="leader", **POST),
    "download-result-papers": Row(a_crit),
}
