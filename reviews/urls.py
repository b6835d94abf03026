"""Every address of the site, in the order of the journey."""

from collections.abc import Callable, Iterable

from django.http.response import HttpResponseBase
from django.urls import path, register_converter

from reviews.deeds.brief_writing import PARTS
from reviews.views import (
    adjustments,
    audit,
    briefs,
    calendars,
    checks,
    compare,
    crits,
    day,
    daylight,
    demo,
    drawings,
    evening,
    health,
    home,
    jury,
    mail,
    moderation,
    packages,
    panels,
    paper,
    passkeys,
    people,
    pin_up,
    planning,
    release,
    results,
    revisions,
    room,
    schedules,
    school,
    sheet_pictures,
    sheet_sending,
    sheets,
    studios,
    targets,
)
from reviews.views.room_address import RoomInAddress

register_converter(RoomInAddress, "room")

View = Callable[..., HttpResponseBase]

TILE = "tiles/<int:level>/<int:column>-<int:row>.jpg"

ADDRESSES: dict[str, dict[str, View]] = {
    "": {
        "sign-in/": home.sign_in,
        "sign-out/": home.sign_out,
        "sign-in/passkey/": passkeys.sign_in_by_passkey,
        "you/passkeys/": passkeys.keep_passkeys,
        "you/passkeys/<int:passkey_id>/remove/": passkeys.remove_passkey,
        "school/": school.go_to_school,
        "school/back/": school.come_from_school,
        "invitations/<int:membership_id>/": home.answer_invitation,
        "you/password/": home.change_password,
        "you/export/": home.export_you,
        "you/calendar/": calendars.own_calendar,
        "you/calendar.ics": calendars.take_own_calendar,
        "calendars/<str:code>.ics": calendars.follow_calendar,
        "enter/<uidb64>/<token>/": home.set_password,
        "demo/sign-in/<int:person_id>/": demo.demo_sign_in,
        "demo/clock/": demo.move_demo_clock,
        "studios/new/": studios.open_studio,
        "jury-sheets/<int:sheet_id>/reopen/": moderation.reopen_sheet,
        "levels/<int:given_id>/correct/": moderation.correct_level,
        "interests/<int:interest_id>/take-back/": moderation.take_interest_back,
        "crossings/<int:crossing_id>/take-back/": panels.take_crossing_back,
        "j/<str:code>/": jury.enter_jury,
        "enter/": jury.enter_code,
        "worker.js": day.send_worker,
        "device/": day.show_device,
        "letters/<str:token>/": mail.stop_mail,
        "status/": health.show_status,
    },
    "studios/<int:studio_id>/": {
        "": studios.show_studio,
        "edit/": studios.edit_studio,
        "crits/new/": crits.open_crit,
        "pin-up/": pin_up.show_pin_up,
        "compare/": compare.compare_cohorts,
        "audit/": audit.show_audit,
        "audit.csv": audit.export_audit,
    },
    "studios/<int:studio_id>/people/": {
        "": people.show_people,
        "bring-in/": people.bring_in_people,
        "undo/": people.undo_people,
        "<int:membership_id>/link/": people.make_link,
        "<int:membership_id>/remove/": people.remove_member,
    },
    "studios/<int:studio_id>/brief/": {
        "": briefs.show_brief,
        "issue/": briefs.issue_brief,
        "addenda/new/": briefs.add_addendum,
        "targets/": targets.edit_targets,
        "targets/set/": targets.add_published_set,
        "targets/<int:line_id>/": targets.save_target,
        "targets/<int:line_id>/remove/": targets.remove_target,
    },
    "crits/<int:crit_id>/": {
        "": crits.show_crit,
        "edit/": crits.edit_crit,
        "criteria/": crits.edit_criteria,
        "criteria/start/": crits.start_criteria,
        "jurors/": crits.edit_jurors,
        "jurors/bring-in/": crits.bring_in_jurors,
        "jurors/undo/": crits.undo_jurors,
        "jurors/links/": crits.print_links,
        "jurors/links/send/": crits.send_links,
        "jurors/<int:seat_id>/new-code/": crits.renew_code,
        "plan/": planning.plan_day,
        "draw/": planning.draw_order,
        "order/": planning.edit_order,
        "order/sheet/": planning.show_order,
        "panels/": panels.show_panels,
        "panels/cross/": panels.keep_crossing,
        "panels/take-up/": panels.take_up_proposal,
        "duties/": panels.edit_duties,
        "close-issuing/": crits.close_issuing,
        "open-issuing/": crits.open_issuing,
        "table/": moderation.show_table,
        "table.csv": moderation.export_table,
        "table/<int:scheme_id>/": moderation.moderate_scheme,
        "evening/": evening.show_evening,
        "evening/ask/": evening.ask_jurors,
        "paper/": paper.show_paper,
        "paper/sheets.pdf": paper.download_paper,
        "paper/<int:seat_id>/<int:scheme_id>/": paper.type_sheet,
        "release/": release.release_crit,
        "call-back/": release.call_back_crit,
        "results/<int:scheme_id>/": results.show_results,
        "results/<int:scheme_id>/annotations/": results.export_annotations,
    },
    "crits/<int:crit_id>/day/": {
        "": room.show_day,
        "live/": room.day_live,
        "jurors/<int:seat_id>/": room.keep_attendance,
    },
    "crits/<int:crit_id>/rooms/<room:room>/": {
        "clock/": room.keep_time,
        "clock/live/": room.clock_live,
        "clock/press/": room.press_clock,
        "clock/take-back/": room.take_press_back,
        "projector/": room.open_projector,
    },
    "rooms/<str:code>/": {
        "": room.show_room,
        "live/": room.room_live,
    },
    "comments/<int:comment_id>/": {
        "hold/": moderation.hold_comment,
        "let-go/": moderation.let_go_comment,
        "answer/": results.answer_comment,
        "decide/": evening.decide_comment,
    },
    "spoken/<int:note_id>/": {
        "decide/": evening.decide_spoken,
    },
    "schemes/<int:scheme_id>/": {
        "": packages.show_package,
        "package.zip": sheet_pictures.download_package,
        "statement/": packages.save_statement,
        "issue/": packages.issue_package,
        "issue-for/": packages.issue_for_students,
        "adjustments/": adjustments.show_adjustments,
        "adjustments/set/": adjustments.set_adjustment,
        "adjustments/<int:adjustment_id>/end/": adjustments.end_adjustment,
        "pause/": adjustments.pause_own_slot,
        "schedules/<slug:slug>.csv": schedules.export_schedule,
        "set-aside/<int:aside_id>/take-back/": checks.take_check_back,
        "questions/": checks.show_questions,
        "daylight/": daylight.list_daylight,
    },
    "schemes/<int:scheme_id>/schedules/<slug:slug>/": {
        "": schedules.show_schedule,
        "columns/": schedules.choose_columns,
        "rows/new/": schedules.add_row,
        "rows/<int:row_id>/": schedules.save_row,
        "rows/<int:row_id>/remove/": schedules.remove_row,
        "undo/": schedules.undo_change,
        "paste/": schedules.paste_rows,
        "drawing.pdf": drawings.print_schedule_drawing,
    },
    "schemes/<int:scheme_id>/sheets/": {
        "list.pdf": drawings.print_sheet_list,
        "": sheets.edit_sheets,
        "sending/": sheet_sending.begin_sending,
        "sending/<uuid:key>/": sheet_sending.send_piece,
        "confirm/": sheets.confirm_sheets,
        "marks/": sheets.answer_marks,
        "<int:sheet_id>/": sheets.edit_sheet,
        "<int:sheet_id>/remove/": sheets.remove_sheet,
        "<int:sheet_id>/close/": sheet_pictures.show_sheet,
        "<int:sheet_id>/original/": sheet_pictures.sheet_original,
        "<int:sheet_id>/<str:size>.jpg": sheet_pictures.sheet_image,
        f"<int:sheet_id>/{TILE}": sheet_pictures.sheet_tile,
    },
    "schemes/<int:scheme_id>/checks/": {
        "": checks.show_checks,
        "<str:key>/": checks.show_check,
        "<str:key>/set-aside/": checks.set_check_aside,
        "<str:key>/drawing.pdf": drawings.print_check_drawing,
    },
    "schemes/<int:scheme_id>/daylight/<str:mark>/": {
        "": daylight.show_daylight,
        "try/": daylight.try_daylight,
        "adopt/": daylight.adopt_daylight,
        "undo/": daylight.undo_daylight,
    },
    "revisions/<int:revision_id>/": {
        "daylight/": daylight.list_issued_daylight,
        "daylight/<str:mark>/": daylight.show_issued_daylight,
        "": revisions.show_revision,
        "package.zip": sheet_pictures.download_revision,
        "slides/<str:number>/": pin_up.show_slide,
        "changes/": revisions.show_changes,
        "changes/<str:number>/": revisions.show_sheet_change,
        "checks/": revisions.show_issued_checks,
        "checks/<str:key>/": revisions.show_issued_check,
        "checks/<str:key>/drawing.pdf": drawings.print_issued_check_drawing,
        "schedules/<slug:slug>/": revisions.show_issued_schedule,
        "sheets/list.pdf": drawings.print_issued_sheet_list,
        "sheets/<str:number>/": sheet_pictures.show_issued_sheet,
        "sheets/<str:number>/original/": sheet_pictures.issued_sheet_original,
        "sheets/<str:number>/<str:size>.jpg": sheet_pictures.issued_sheet_image,
        f"sheets/<str:number>/{TILE}": sheet_pictures.issued_sheet_tile,
    },
    "jury/": {
        "": jury.show_jury,
        "brief/": jury.show_jury_brief,
        "leave/": jury.leave_jury,
        "calendar/": calendars.jury_calendar,
        "calendar.ics": calendars.take_jury_calendar,
        "live/": room.jury_live,
        "day/": day.list_jury_day,
    },
    "jury/<int:scheme_id>/": {
        "": jury.show_jury_sheet,
        "impression/": jury.keep_impression,
        "levels/<int:criterion_id>/": jury.keep_level,
        "comments/": jury.keep_comment,
        "comments/<uuid:key>/remove/": jury.remove_comment,
        "revision/": jury.take_up_revision,
        "lock/": jury.lock_sheet,
        "interest/": jury.declare_interest,
        "interest/take-back/": jury.take_own_interest_back,
    },
}
"""Views by address, under the beginning that they share; each is named like its view."""

PART_ADDRESSES: dict[tuple[str, str], tuple[View, Iterable[str]]] = {
    ("edit", "/"): (briefs.edit_part, briefs.FORMS),
    ("paste", "/paste/"): (briefs.paste_part, briefs.TABLES),
    ("export", ".csv"): (briefs.export_part, briefs.TABLES),
    ("undo", "/undo/"): (briefs.undo_part, PARTS),
}
"""Of each part of a brief: what is done, its address behind the part's, its view, which parts."""

handler400 = "reviews.outages.answer_unread"
handler500 = "reviews.outages.answer_stopped"

urlpatterns = [
    path("", home.show_home, name="home"),
    path("you/", home.edit_you, name="you"),
    path("lamp/", home.switch_lamp, name="lamp"),
    path("units/", home.switch_units, name="units"),
    path("healthz", health.show_health, name="healthz"),
    path("specimen/", home.show_specimen, name="specimen"),
    *(
        path(start + rest, view, name=view.__name__.replace("_", "-"))
        for start, views in ADDRESSES.items()
        for rest, view in views.items()
    ),
    *(
        path(
            f"studios/<int:studio_id>/brief/{part}{rest}",
            view,
            {"part": part},
            name=f"{deed}-{part}",
        )
        for (deed, rest), (view, parts) in PART_ADDRESSES.items()
        for part in parts
    ),
]
