"""Addresses of a package as it is drawn, and of what was issued of it."""

from collections.abc import Callable

from django.http.response import HttpResponseBase

from reviews.views import (
    checks,
    daylight,
    drawings,
    files_in,
    pin_up,
    revisions,
    schedules,
    schedules_taken,
    sheet_pictures,
    sheet_sending,
    sheets,
    year,
    year_trial,
)

View = Callable[..., HttpResponseBase]

TILE = "tiles/<int:level>/<int:column>-<int:row>.jpg"

PACKAGE_ADDRESSES: dict[str, dict[str, View]] = {
    "schemes/<int:scheme_id>/taken/": {
        "schedules.xlsx": schedules_taken.take_workbook,
        "tables.zip": schedules_taken.take_tables,
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
        "origins/": files_in.show_origins,
    },
    "schemes/<int:scheme_id>/files/": {
        "": files_in.show_files,
        "bring/": files_in.bring_file,
        "revision/<int:revision_id>/": files_in.bring_revision,
        "<int:file_id>/": files_in.show_file,
        "<int:file_id>/answer/": files_in.answer_file,
        "<int:file_id>/take/": files_in.take_file,
        "<int:file_id>/aside/": files_in.set_file_aside,
        "<int:file_id>/undo/": files_in.undo_file,
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
    "schemes/<int:scheme_id>/year/": {
        "": year.show_year,
        "hours.csv": year.export_year,
        "sheets.pdf": drawings.print_year,
        "write/": year.write_assumed,
    },
    "schemes/<int:scheme_id>/year/trial/": {
        "": year_trial.show_year_trial,
        "try/": year_trial.try_year,
        "adopt/": year_trial.adopt_year_trial,
        "undo/": year_trial.undo_year_trial,
    },
    "schemes/<int:scheme_id>/year/moves/": {
        "": year_trial.show_year_moves,
    },
    "revisions/<int:revision_id>/year/": {
        "": year.show_issued_year,
        "hours.csv": year.export_issued_year,
        "sheets.pdf": drawings.print_issued_year,
    },
    "revisions/<int:revision_id>/": {
        "daylight/": daylight.list_issued_daylight,
        "daylight/<str:mark>/": daylight.show_issued_daylight,
        "": revisions.show_revision,
        "package.zip": sheet_pictures.download_revision,
        "schedules.xlsx": schedules_taken.take_issued_workbook,
        "tables.zip": schedules_taken.take_issued_tables,
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
}
"""Views by address, as those of `reviews.urls`, which takes them in."""
