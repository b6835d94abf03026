"""Addresses of cohorts beside one: leaders and examiners of the studio, and coordinators."""

from tests.access_rows.base import Row, a_studio, with_args

WHO = "leader coordinator examiner"

ROWS: dict[str, Row] = {
    **dict.fromkeys(
        ("compare-cohorts", "show-failures", "show-remarks", "export-cohort-tables"),
        Row(a_studio, ok=WHO),
    ),
    "export-cohorts": Row(with_args(a_studio, table="targets"), ok=WHO),
}
