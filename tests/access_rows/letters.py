"""Addresses of letters to jurors: what became of their remarks."""

from tests.access_rows.base import POST, Row, a_crit, with_args

NOT_LEADING = "student mate classmate scribe coordinator examiner"

ROWS: dict[str, Row] = {
    "show-letters": Row(a_crit, ok="leader", refused=NOT_LEADING, wrong=""),
    "show-letter": Row(with_args(a_crit, "seat_id"), ok="leader", refused=NOT_LEADING),
    # only once the crit is released, which that of the walk isn't
    "allow-letter": Row(
        with_args(a_crit, "scheme_id"),
        refused="leader " + NOT_LEADING,
        data={"allowed": "yes"},
        **POST,
    ),
}
