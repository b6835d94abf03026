"""Addresses of the journey: studios, brief, packages, the jury, what comes after."""

from uuid import UUID, uuid4

from tests.access_rows.base import (
    A_SHEET,
    A_TILE,
    ACCOUNTS,
    BOTH,
    EVERYONE,
    JURY,
    POST,
    READERS,
    REVISION,
    STOP,
    STUDIO,
    Row,
    a_crit,
    a_draft_studio,
    a_revision,
    a_room,
    a_schedule,
    a_scheme,
    a_studio,
    with_args,
)

ROWS: dict[str, Row] = {
    "home": Row(ok=ACCOUNTS),
    "sign-in": Row(ok=EVERYONE, public=True, **BOTH),
    "sign-out": Row(ok=ACCOUNTS, **POST),
    "answer-invitation": Row(
        lambda w: {"membership_id": w.ids["invitation_id"]}, ok="other_student", **POST
    ),
    **dict.fromkeys(("you", "change-password"), Row(ok=ACCOUNTS, **BOTH)),
    "keep-passkeys": Row(ok=ACCOUNTS, **BOTH),
    "remove-passkey": Row(lambda w: {"passkey_id": w.ids["passkey_id"]}, ok="student", **POST),
    "sign-in-by-passkey": Row(ok=EVERYONE, public=True, **POST),
    "export-you": Row(ok=ACCOUNTS, **POST),
    "set-password": Row(
        lambda w: {"uidb64": "MQ", "token": "x-y"}, ok=EVERYONE, public=True, **BOTH
    ),
    "stop-mail": Row(lambda w: {"token": STOP}, ok=EVERYONE, public=True, **BOTH),
    "lamp": Row(ok=EVERYONE, public=True, data={"lamp": "off", "next": "/"}, **POST),
    "units": Row(ok=EVERYONE, public=True, data={"units": "us", "next": "/"}, **POST),
    # no school signs anybody in here; where one does, tests/reviews/test_school_views.py
    "go-to-school": Row(public=True, **POST),
    "come-from-school": Row(public=True),
    "demo-sign-in": Row(lambda w: {"person_id": w.cast.leader.pk}, public=True, **POST),
    "move-demo-clock": Row(public=True, **POST),
    "healthz": Row(ok=EVERYONE, public=True),
    "specimen": Row(public=True),
    "show-status": Row(ok="coordinator", refused=ACCOUNTS),
    # studios
    "open-studio": Row(ok="leader coordinator", refused=ACCOUNTS, **BOTH),
    "show-studio": Row(a_studio, ok=STUDIO),
    "edit-studio": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    **dict.fromkeys(("show-audit", "export-audit"), Row(a_studio, ok="leader", refused=STUDIO)),
    "show-pin-up": Row(a_studio, ok=STUDIO),
    "show-people": Row(a_studio, ok="leader coordinator", refused=STUDIO),
    "bring-in-people": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "undo-people": Row(a_studio, ok="leader", refused=STUDIO, **POST),
    "make-link": Row(with_args(a_studio, "membership_id"), ok="leader", refused=STUDIO, **POST),
    "remove-member": Row(with_args(a_studio, "membership_id"), ok="leader", refused=STUDIO, **POST),
    # brief
    "show-brief": Row(a_studio, ok=STUDIO),
    "edit-text": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "edit-site": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "edit-climate": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "edit-states": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "paste-climate": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "export-climate": Row(a_studio, ok=STUDIO),
    "edit-hand-in": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    **{
        f"undo-{part}": Row(a_draft_studio, ok="leader", refused=STUDIO, **POST)
        for part in ("text", "site", "climate", "weather", "states", "hand-in", "targets")
    },
    "issue-brief": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "add-addendum": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "edit-targets": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "paste-targets": Row(a_draft_studio, ok="leader", refused=STUDIO, **BOTH),
    "add-published-set": Row(a_draft_studio, ok="leader", refused=STUDIO, **POST),
    "save-target": Row(with_args(a_draft_studio, "line_id"), ok="leader", refused=STUDIO, **POST),
    "remove-target": Row(with_args(a_draft_studio, "line_id"), ok="leader", refused=STUDIO, **POST),
    "export-targets": Row(a_studio, ok=STUDIO),
    # crits
    "open-crit": Row(a_studio, ok="leader", refused=STUDIO, **BOTH),
    "show-crit": Row(a_crit, ok=STUDIO),
    "edit-crit": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "edit-criteria": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "close-issuing": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "open-issuing": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "start-criteria": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "edit-jurors": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "bring-in-jurors": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    "undo-jurors": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "send-links": Row(a_crit, ok="leader", refused=STUDIO, **POST),
    "print-links": Row(a_crit, ok="leader", refused=STUDIO),
    "renew-code": Row(with_args(a_crit, "seat_id"), ok="leader", refused=STUDIO, **POST),
    "edit-order": Row(a_crit, ok="leader", refused=STUDIO, **BOTH),
    # moderation
    "show-table": Row(a_crit, ok="leader"),
    "export-table": Row(a_crit, ok="leader"),
    "moderate-scheme": Row(with_args(a_crit, "scheme_id"), ok="leader"),
    "correct-level": Row(with_args(lambda w: {}, "given_id"), ok="leader", **BOTH),
    "take-interest-back": Row(with_args(lambda w: {}, "interest_id"), ok="leader", **POST),
    "reopen-sheet": Row(with_args(lambda w: {}, "sheet_id"), ok="leader", **BOTH),
    "hold-comment": Row(with_args(lambda w: {}, "comment_id"), ok="leader", **BOTH),
    "let-go-comment": Row(with_args(lambda w: {}, "comment_id"), ok="leader", **POST),
    "release-crit": Row(a_crit, ok="leader", **BOTH),
    "call-back-crit": Row(a_crit, ok="leader", **POST),
    # package
    "show-package": Row(a_scheme, ok=READERS),
    "save-statement": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "issue-package": Row(a_scheme, ok="student mate", refused=READERS, **BOTH),
    "show-schedule": Row(a_schedule, ok=READERS),
    "choose-columns": Row(a_schedule, ok=READERS, **POST),
    "add-row": Row(a_schedule, ok="student mate", refused=READERS, **POST),
    "save-row": Row(with_args(a_schedule, "row_id"), ok="student mate", refused=READERS, **POST),
    "remove-row": Row(with_args(a_schedule, "row_id"), ok="student mate", refused=READERS, **POST),
    "undo-change": Row(a_schedule, ok="student mate", refused=READERS, **POST),
    "paste-rows": Row(a_schedule, ok="student mate", refused=READERS, **BOTH),
    "export-schedule": Row(a_schedule, ok=READERS),
    "edit-sheets": Row(a_scheme, ok="student mate", refused=READERS, **BOTH),
    "answer-marks": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "begin-sending": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "send-piece": Row(
        with_args(a_scheme, key=UUID(int=7)),
        ok="student mate",
        refused=READERS,
        method="head",
        wrong="post",
    ),
    "confirm-sheets": Row(a_scheme, ok="student mate", refused=READERS, **POST),
    "edit-sheet": Row(A_SHEET, ok="student mate", refused=READERS, **BOTH),
    "remove-sheet": Row(A_SHEET, ok="student mate", refused=READERS, **POST),
    "download-package": Row(a_scheme, ok="student mate leader", refused=READERS),
    "show-sheet": Row(A_SHEET, ok=READERS),
    "sheet-image": Row(with_args(a_scheme, "sheet_id", size="preview"), ok=READERS),
    "sheet-tile": Row(with_args(A_SHEET, **A_TILE), ok=READERS),
    "sheet-original": Row(A_SHEET, ok="student mate leader", refused=READERS),
    "show-checks": Row(a_scheme, ok=READERS),
    "print-schedule-drawing": Row(a_schedule, ok=READERS),
    "print-sheet-list": Row(a_scheme, ok=READERS),
    "print-issued-sheet-list": Row(a_revision, ok=f"{REVISION} classmate", public=True),
    "print-check-drawing": Row(with_args(a_scheme, key="T01"), ok=READERS),
    "print-issued-check-drawing": Row(
        with_args(a_revision, key="T01"), ok=REVISION, refused="classmate", public=True
    ),
    "show-check": Row(with_args(a_scheme, key="T01"), ok=READERS),
    "set-check-aside": Row(with_args(a_scheme, key="T01"), ok="leader", refused=READERS, **POST),
    "take-check-back": Row(with_args(a_scheme, "aside_id"), ok="leader", refused=READERS, **POST),
    "show-questions": Row(a_scheme, ok="student mate leader", refused=READERS),
    # issued
    "show-revision": Row(a_revision, ok=f"{REVISION} classmate", public=True),
    "show-issued-checks": Row(a_revision, ok=REVISION, refused="classmate", public=True),
    "show-issued-check": Row(
        with_args(a_revision, key="T01"), ok=REVISION, refused="classmate", public=True
    ),
    "list-daylight": Row(a_scheme, ok=READERS),
    "show-daylight": Row(a_room, ok=READERS),
    "try-daylight": Row(a_room, ok=READERS, **POST),
    "adopt-daylight": Row(a_room, ok="student mate", refused=READERS, **POST),
    "undo-daylight": Row(a_room, ok="student mate", refused=READERS, **POST),
    "list-issued-daylight": Row(a_revision, ok=REVISION, refused="classmate", public=True),
    "show-issued-daylight": Row(
        with_args(a_revision, mark="R1"), ok=REVISION, refused="classmate", public=True
    ),
    "show-issued-schedule": Row(
        with_args(a_revision, slug="rooms"), ok=REVISION, refused="classmate", public=True
    ),
    "show-changes": Row(a_revision, ok=f"{REVISION} classmate", public=True),
    **dict.fromkeys(
        ("show-issued-sheet", "show-sheet-change"),
        Row(with_args(a_revision, number="02"), ok=f"{REVISION} classmate", public=True),
    ),
    "issued-sheet-image": Row(
        with_args(a_revision, number="02", size="preview"), ok=f"{REVISION} classmate", public=True
    ),
    "show-slide": Row(with_args(a_revision, number="02"), ok=f"{REVISION} classmate", public=True),
    "download-revision": Row(
        a_revision, ok="student mate leader", refused=f"{REVISION} classmate", public=True
    ),
    "issued-sheet-tile": Row(
        with_args(a_revision, number="02", **A_TILE), ok=f"{REVISION} classmate", public=True
    ),
    "issued-sheet-original": Row(
        with_args(a_revision, number="02"),
        ok="student mate leader",
        refused=f"{REVISION} classmate",
        public=True,
    ),
    # jury
    "enter-jury": Row(lambda w: {"code": w.cast.seat.code}, ok=EVERYONE, public=True),
    "enter-code": Row(ok=EVERYONE, public=True, **BOTH),
    "show-jury": Row(ok="juror other_juror", public=True),
    "show-jury-brief": Row(ok="juror other_juror", public=True),
    "leave-jury": Row(ok="juror other_juror", **JURY),
    "show-jury-sheet": Row(a_scheme, ok="juror", public=True),
    "keep-impression": Row(
        a_scheme, ok="juror", data={"level": "3", "seen": "0", "key": str(uuid4())}, **JURY
    ),
    "keep-level": Row(
        with_args(a_scheme, "criterion_id"),
        ok="juror",
        data={"level": "3", "seen": "0", "key": str(uuid4())},
        **JURY,
    ),
    "keep-comment": Row(
        a_scheme,
        ok="juror",
        data={"key": str(uuid4()), "kind": "Keep", "words": "Good.", "seen": "0"},
        **JURY,
    ),
    "remove-comment": Row(with_args(a_scheme, key=uuid4()), ok="", **JURY),
    "take-up-revision": Row(a_scheme, ok="juror", **JURY),
    "lock-sheet": Row(a_scheme, ok="juror", **JURY),
    "declare-interest": Row(a_scheme, ok="juror", public=True, **BOTH),
    "take-own-interest-back": Row(
        lambda w: {"scheme_id": w.cast.other_scheme.pk}, ok="juror", **JURY
    ),
    # afterwards
    "show-results": Row(with_args(a_crit, "scheme_id"), ok="leader"),
    "export-annotations": Row(with_args(a_crit, "scheme_id"), ok="", refused="leader"),
    "answer-comment": Row(with_args(lambda w: {}, "comment_id"), ok="", **BOTH),
}
