"""Addresses of a studio's evidence: register, map of standards, books, archive."""

from reviews.package_urls import View
from reviews.views import evidence, evidence_books, standards, studio_archives

EVIDENCE_ADDRESSES: dict[str, dict[str, View]] = {
    "studios/<int:studio_id>/evidence/": {
        "": evidence.show_evidence,
        "register/": evidence.show_register,
        "register.csv": evidence.export_register,
        "standards/": standards.show_standards,
        "standards.csv": standards.export_standards,
        "standards/start/": standards.start_standards,
        "standards/edit/": standards.edit_standards,
        "standards/bring-in/": standards.bring_in_standards,
        "standards/undo/": standards.undo_standards,
        "archive/": studio_archives.take_studio_out,
        "books/new/": evidence_books.make_evidence_book,
        "books/<int:book_id>/": evidence_books.show_evidence_book,
        "books/<int:book_id>/changes/": evidence_books.show_book_changes,
        "books/<int:book_id>/schemes/<str:number>/": evidence_books.show_book_scheme,
        "books/<int:book_id>/sheets/<str:sha256>.jpg": evidence_books.show_book_picture,
        "books/<int:book_id>/book.<str:kind>": evidence_books.take_evidence_book,
    },
}
