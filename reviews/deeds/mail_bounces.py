"""Read the refusals that come back later as letters, and keep them with the letters refused.

A mail server reports by RFC 3464: a part for machines, and beside it the returned letter or its
head. Which letter of ours it was stands there in a head of its own, signed: whoever can write to
the mailbox can say nothing of letters that they never had, and a server on the way may rename it.
What isn't such a report is left unread, for somebody to read.
"""

from __future__ import annotations

import logging
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from email import message_from_bytes
from email.message import Message
from imaplib import IMAP4, IMAP4_SSL

from django.conf import settings
from django.core.signing import Signer
from django_tasks_db.models import DBTaskResult

from reviews.deeds.mail_words import one_line
from reviews.jobs import job
from reviews.models import Mail

LOG = logging.getLogger(__name__)

EVERY = timedelta(minutes=5)
MOST_REPORTS, MOST_BYTES = 100, 262_144
"""Most reports of one look, and most of each that is read [bytes]."""
TIMEOUT_S = 20

MARK = "X-Muntin-Letter"
_SIGNER = Signer(sep=".", salt="reviews.deeds.mail_bounces")


def mark_of(mail: Mail) -> str:
    """By what a letter is known again when it comes back."""
    return _SIGNER.sign(str(mail.pk))


def look(at: datetime) -> None:
    """Have the mailbox looked into, where there is one and nobody did of late."""
    looks = DBTaskResult.objects.filter(task_path=read_mailbox.module_path)
    if settings.MAILBOX.host and not looks.filter(enqueued_at__gt=at - EVERY).exists():
        read_mailbox.enqueue()


@job
def read_mailbox() -> None:
    """Read the reports that nobody has read; each is marked as read once it is kept."""
    try:
        _read_all()
    except (OSError, IMAP4.error) as fault:  # somebody looks again before long
        LOG.warning("The mailbox of refusals was not reached: %s", fault)


def _read_all() -> None:
    with _mailbox() as box:
        _, found = box.search(None, "UNSEEN", "HEADER", "Content-Type", "delivery-status")
        for number in found[0].split()[:MOST_REPORTS]:
            _, given = box.fetch(number.decode(), f"(BODY.PEEK[]<0.{MOST_BYTES}>)")
            keep_report(next((part[1] for part in given if isinstance(part, tuple)), b""))
            box.store(number.decode(), "+FLAGS", r"(\Seen)")


@contextmanager
def _mailbox() -> Iterator[IMAP4]:
    server, trusted = settings.MAILBOX, ssl.create_default_context()
    if server.is_tls:
        box: IMAP4 = IMAP4_SSL(server.host, server.port, ssl_context=trusted, timeout=TIMEOUT_S)
    else:
        box = IMAP4(server.host, server.port, timeout=TIMEOUT_S)
    with box:
        if server.starts_tls:
            box.starttls(trusted)
        box.login(server.user, server.password)
        box.select("INBOX")
        yield box


def keep_report(report: bytes) -> None:
    """Keep that a letter came back, and why; what can't be read is passed over, with a line."""
    try:
        letter, why = _letter_and_reason(list(message_from_bytes(report).walk()))
    except Exception as fault:  # whatever somebody sent must not hold up what lies behind it
        LOG.warning("A report in the mailbox could not be read (%s)", type(fault).__name__)
        return
    if letter and why:
        said = one_line(f"It came back: {why}")[:300]
        if Mail.objects.sent(letter).update(state=Mail.State.FAILED, said=said):
            LOG.warning("The letter %s came back", letter)


def _letter_and_reason(parts: list[Message]) -> tuple[int | None, str]:
    """Which letter a report is about, if it is ours, and why it can't be delivered, if it can't."""
    letter, why = None, ""
    for part in parts:
        if part.get_content_type() == "text/rfc822-headers":
            part = message_from_bytes(bytes(part.get_payload(decode=True) or b""))
        if letter is None and MARK in part:
            letter = int(_SIGNER.unsign(str(part[MARK]).strip()))
        if str(part.get("Action", "")).strip().lower() == "failed" and not why:
            said = str(part.get("Diagnostic-Code", "")).partition(";")[2]  # behind its type
            why = said or str(part.get("Status") or "no reason given")
    return letter, why
