"""Addresses of what is agreed, and of marks as files."""

from tests.access_rows.base import POST, Row, a_crit, with_args

SEES = "student mate classmate scribe coordinator examiner"
"""Who may know of a crit and not lead it."""

ROWS: dict[str, Row] = {
    "agree-means": Row(a_crit, ok="leader", refused=SEES, **POST),
    "export-marks": Row(a_crit, ok="leader"),
    "export-workbook": Row(a_crit, ok="leader"),
    "agree-scheme": Row(with_args(a_crit, "scheme_id"), ok="leader", **POST),
}
