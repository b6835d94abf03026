"""Answer with a table as a CSV file, or with several as a spreadsheet or a ZIP."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils.http import content_disposition_header


def csv_answer(table: str, name: str) -> HttpResponse:
    """Send a table to be kept as a file, with the mark by which spreadsheets know UTF-8."""
    return HttpResponse(
        f"\ufeff{table}",
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": content_disposition_header(True, f"{name}.csv")},
    )


def workbook_answer(content: bytes, name: str) -> HttpResponse:
    """Send a spreadsheet to be kept as a file."""
    return HttpResponse(
        content,
        content_type="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        headers={"Content-Disposition": content_disposition_header(True, f"{name}.xlsx")},
    )


def zip_answer(content: bytes, name: str) -> HttpResponse:
    """Send a small ZIP to be kept as a file."""
    return HttpResponse(
        content,
        content_type="application/zip",
        headers={"Content-Disposition": content_disposition_header(True, f"{name}.zip")},
    )
