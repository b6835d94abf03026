"""Every address of the site, in the order of the journey."""

from django.urls import path

from reviews.deeds.brief_writing import PARTS
from reviews.views import (
    briefs,
    checks,
    compare,
    crits,
    daylight,
    home,
    jury,
    moderation,
    packages,
    people,
    release,
    results,
    revisions,
    schedules,
    sheets,
    studios,
    targets,
)

urlpatterns = [
    path("", home.show_home, name="home"),
    path("sign-in/", home.sign_in, name="sign-in"),
    path("sign-out/", home.sign_out, name="sign-out"),
    path("you/", home.edit_you, name="you"),
    path("you/password/", home.change_password, name="change-password"),
    path("enter/<uidb64>/<token>/", home.set_password, name="set-password"),
    path("lamp/", home.switch_lamp, name="lamp"),
    path("demo/sign-in/<int:person_id>/", home.demo_sign_in, name="demo-sign-in"),
    path("specimen/", home.show_specimen, name="specimen"),
    path("studios/new/", studios.open_studio, name="open-studio"),
    path("studios/<int:studio_id>/", studios.show_studio, name="show-studio"),
    path("studios/<int:studio_id>/edit/", studios.edit_studio, name="edit-studio"),
    path("studios/<int:studio_id>/people/", people.show_people, name="show-people"),
    path(
        "studios/<int:studio_id>/people/bring-in/",
        people.bring_in_people,
        name="bring-in-people",
    ),
    path("studios/<int:studio_id>/people/undo/", people.undo_people, name="undo-people"),
    path(
        "studios/<int:studio_id>/people/<int:membership_id>/link/",
        people.make_link,
        name="make-link",
    ),
    path(
        "studios/<int:studio_id>/people/<int:membership_id>/remove/",
        people.remove_member,
        name="remove-member",
    ),
    path("studios/<int:studio_id>/brief/", briefs.show_brief, name="show-brief"),
    *(
        path(
            f"studios/<int:studio_id>/brief/{part}/",
            briefs.edit_part,
            {"part": part},
            name=f"edit-{part}",
        )
        for part in briefs.FORMS
    ),
    *(
        path(
            f"studios/<int:studio_id>/brief/{part}/paste/",
            briefs.paste_part,
            {"part": part},
            name=f"paste-{part}",
        )
        for part in briefs.TABLES
    ),
    *(
        path(
            f"studios/<int:studio_id>/brief/{part}.csv",
            briefs.export_part,
            {"part": part},
            name=f"export-{part}",
        )
        for part in briefs.TABLES
    ),
    *(
        path(
            f"studios/<int:studio_id>/brief/{part}/undo/",
            briefs.undo_part,
            {"part": part},
            name=f"undo-{part}",
        )
        for part in PARTS
    ),
    path("studios/<int:studio_id>/brief/issue/", briefs.issue_brief, name="issue-brief"),
    path("studios/<int:studio_id>/brief/addenda/new/", briefs.add_addendum, name="add-addendum"),
    path("studios/<int:studio_id>/brief/targets/", targets.edit_targets, name="edit-targets"),
    path(
        "studios/<int:studio_id>/brief/targets/set/",
        targets.add_published_set,
        name="add-published-set",
    ),
    path(
        "studios/<int:studio_id>/brief/targets/<int:line_id>/",
        targets.save_target,
        name="save-target",
    ),
    path(
        "studios/<int:studio_id>/brief/targets/<int:line_id>/remove/",
        targets.remove_target,
        name="remove-target",
    ),
    path("studios/<int:studio_id>/crits/new/", crits.open_crit, name="open-crit"),
    path("crits/<int:crit_id>/", crits.show_crit, name="show-crit"),
    path("crits/<int:crit_id>/edit/", crits.edit_crit, name="edit-crit"),
    path("crits/<int:crit_id>/criteria/", crits.edit_criteria, name="edit-criteria"),
    path("crits/<int:crit_id>/criteria/start/", crits.start_criteria, name="start-criteria"),
    path("crits/<int:crit_id>/jurors/", crits.edit_jurors, name="edit-jurors"),
    path("crits/<int:crit_id>/jurors/bring-in/", crits.bring_in_jurors, name="bring-in-jurors"),
    path("crits/<int:crit_id>/jurors/undo/", crits.undo_jurors, name="undo-jurors"),
    path("crits/<int:crit_id>/jurors/links/", crits.print_links, name="print-links"),
    path("crits/<int:crit_id>/jurors/<int:seat_id>/new-code/", crits.renew_code, name="renew-code"),
    path("crits/<int:crit_id>/order/", crits.edit_order, name="edit-order"),
    path("crits/<int:crit_id>/close-issuing/", crits.close_issuing, name="close-issuing"),
    path("crits/<int:crit_id>/open-issuing/", crits.open_issuing, name="open-issuing"),
    path("crits/<int:crit_id>/table/", moderation.show_table, name="show-table"),
    path("crits/<int:crit_id>/table.csv", moderation.export_table, name="export-table"),
    path(
        "crits/<int:crit_id>/table/<int:scheme_id>/",
        moderation.moderate_scheme,
        name="moderate-scheme",
    ),
    path("jury-sheets/<int:sheet_id>/reopen/", moderation.reopen_sheet, name="reopen-sheet"),
    path("comments/<int:comment_id>/hold/", moderation.hold_comment, name="hold-comment"),
    path("comments/<int:comment_id>/let-go/", moderation.let_go_comment, name="let-go-comment"),
    path("levels/<int:given_id>/correct/", moderation.correct_level, name="correct-level"),
    path(
        "interests/<int:interest_id>/take-back/",
        moderation.take_interest_back,
        name="take-interest-back",
    ),
    path("crits/<int:crit_id>/release/", release.release_crit, name="release-crit"),
    path("crits/<int:crit_id>/call-back/", release.call_back_crit, name="call-back-crit"),
    path("schemes/<int:scheme_id>/", packages.show_package, name="show-package"),
    path("schemes/<int:scheme_id>/statement/", packages.save_statement, name="save-statement"),
    path("schemes/<int:scheme_id>/issue/", packages.issue_package, name="issue-package"),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/",
        schedules.show_schedule,
        name="show-schedule",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/rows/new/",
        schedules.add_row,
        name="add-row",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/rows/<int:row_id>/",
        schedules.save_row,
        name="save-row",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/rows/<int:row_id>/remove/",
        schedules.remove_row,
        name="remove-row",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/undo/",
        schedules.undo_change,
        name="undo-change",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>/paste/",
        schedules.paste_rows,
        name="paste-rows",
    ),
    path(
        "schemes/<int:scheme_id>/schedules/<slug:slug>.csv",
        schedules.export_schedule,
        name="export-schedule",
    ),
    path("schemes/<int:scheme_id>/sheets/", sheets.edit_sheets, name="edit-sheets"),
    path("schemes/<int:scheme_id>/sheets/<int:sheet_id>/", sheets.edit_sheet, name="edit-sheet"),
    path(
        "schemes/<int:scheme_id>/sheets/<int:sheet_id>/remove/",
        sheets.remove_sheet,
        name="remove-sheet",
    ),
    path(
        "schemes/<int:scheme_id>/sheets/<int:sheet_id>/<str:size>.jpg",
        sheets.send_sheet_image,
        name="sheet-image",
    ),
    path("schemes/<int:scheme_id>/checks/", checks.show_checks, name="show-checks"),
    path("schemes/<int:scheme_id>/checks/<str:key>/", checks.show_check, name="show-check"),
    path(
        "schemes/<int:scheme_id>/checks/<str:key>/set-aside/",
        checks.set_check_aside,
        name="set-check-aside",
    ),
    path(
        "schemes/<int:scheme_id>/set-aside/<int:aside_id>/take-back/",
        checks.take_check_back,
        name="take-check-back",
    ),
    path("schemes/<int:scheme_id>/questions/", checks.show_questions, name="show-questions"),
    path("schemes/<int:scheme_id>/daylight/", daylight.list_daylight, name="list-daylight"),
    path(
        "schemes/<int:scheme_id>/daylight/<str:mark>/",
        daylight.show_daylight,
        name="show-daylight",
    ),
    path(
        "schemes/<int:scheme_id>/daylight/<str:mark>/try/",
        daylight.try_daylight,
        name="try-daylight",
    ),
    path(
        "schemes/<int:scheme_id>/daylight/<str:mark>/adopt/",
        daylight.adopt_daylight,
        name="adopt-daylight",
    ),
    path(
        "schemes/<int:scheme_id>/daylight/<str:mark>/undo/",
        daylight.undo_daylight,
        name="undo-daylight",
    ),
    path(
        "revisions/<int:revision_id>/daylight/",
        daylight.list_issued_daylight,
        name="list-issued-daylight",
    ),
    path(
        "revisions/<int:revision_id>/daylight/<str:mark>/",
        daylight.show_issued_daylight,
        name="show-issued-daylight",
    ),
    path("revisions/<int:revision_id>/", revisions.show_revision, name="show-revision"),
    path(
        "revisions/<int:revision_id>/checks/",
        revisions.show_issued_checks,
        name="show-issued-checks",
    ),
    path(
        "revisions/<int:revision_id>/checks/<str:key>/",
        revisions.show_issued_check,
        name="show-issued-check",
    ),
    path(
        "revisions/<int:revision_id>/schedules/<slug:slug>/",
        revisions.show_issued_schedule,
        name="show-issued-schedule",
    ),
    path(
        "revisions/<int:revision_id>/sheets/<str:number>/",
        revisions.show_issued_sheet,
        name="show-issued-sheet",
    ),
    path(
        "revisions/<int:revision_id>/sheets/<str:number>/<str:size>.jpg",
        revisions.send_issued_sheet_image,
        name="issued-sheet-image",
    ),
    path("j/<str:code>/", jury.enter_jury, name="enter-jury"),
    path("jury/", jury.show_jury, name="show-jury"),
    path("jury/brief/", jury.show_jury_brief, name="show-jury-brief"),
    path("jury/leave/", jury.leave_jury, name="leave-jury"),
    path("jury/<int:scheme_id>/", jury.show_jury_sheet, name="show-jury-sheet"),
    path("jury/<int:scheme_id>/impression/", jury.keep_impression, name="keep-impression"),
    path("jury/<int:scheme_id>/levels/<int:criterion_id>/", jury.keep_level, name="keep-level"),
    path("jury/<int:scheme_id>/comments/", jury.keep_comment, name="keep-comment"),
    path(
        "jury/<int:scheme_id>/comments/<uuid:key>/remove/",
        jury.remove_comment,
        name="remove-comment",
    ),
    path("jury/<int:scheme_id>/revision/", jury.take_up_revision, name="take-up-revision"),
    path("jury/<int:scheme_id>/lock/", jury.lock_sheet, name="lock-sheet"),
    path("jury/<int:scheme_id>/interest/", jury.declare_interest, name="declare-interest"),
    path(
        "jury/<int:scheme_id>/interest/take-back/",
        jury.take_own_interest_back,
        name="take-own-interest-back",
    ),
    path("crits/<int:crit_id>/results/<int:scheme_id>/", results.show_results, name="show-results"),
    path("comments/<int:comment_id>/answer/", results.answer_comment, name="answer-comment"),
    path("studios/<int:studio_id>/compare/", compare.compare_cohorts, name="compare-cohorts"),
]
