"""Addresses of the register, the map of standards, evidence books and studio archives."""

from tests.access_rows.base import ACCOUNTS, BOTH, POST, Row, a_studio, with_args

KEEP = "leader coordinator"
READ = "leader coordinator examiner"

NO_COORDINATOR = " ".join(role for role in ACCOUNTS.split() if role != "coordinator")
NOT = "student mate classmate scribe"
READS = Row(a_studio, ok=READ, refused=NOT)
KEEPS = {"ok": KEEP, "refused": "student mate classmate scribe examiner"}

ROWS: dict[str, Row] = {
    **dict.fromkeys(
        ("show-evidence", "show-register", "export-register", "show-standards", "export-standards"),
        READS,
    ),
    "take-studio-out": Row(a_studio, ok="leader", refused=f"{NOT} coordinator examiner", **BOTH),
    "bring-studio-in": Row(ok="coordinator", refused=NO_COORDINATOR, **BOTH),
    "make-evidence-book": Row(a_studio, **KEEPS, **BOTH),
    **dict.fromkeys(
        ("show-evidence-book", "show-book-changes"),
        Row(with_args(a_studio, "book_id"), ok=READ, refused=NOT),
    ),
    "show-book-scheme": Row(with_args(a_studio, "book_id", number="R01"), ok=READ, refused=NOT),
    "show-book-picture": Row(with_args(a_studio, "book_id", sha256="b" * 64), ok=READ, refused=NOT),
    "take-evidence-book": Row(with_args(a_studio, "book_id", kind="pdf"), ok=READ, refused=NOT),
    "start-standards": Row(a_studio, **KEEPS, **POST),
    "undo-standards": Row(a_studio, **KEEPS, **POST),
    "edit-standards": Row(a_studio, **KEEPS, **BOTH),
    "bring-in-standards": Row(a_studio, **KEEPS, **BOTH),
}
