"""Send the letters that are due: each is claimed before it is sent, so that none is sent twice."""

from __future__ import annotations

import logging
from datetime import datetime, timedelta
from email.utils import parseaddr
from smtplib import (
    SMTPException,
    SMTPNotSupportedError,
    SMTPRecipientsRefused,
    SMTPResponseException,
    SMTPServerDisconnected,
)
from typing import Any

from django.conf import settings
from django.core.mail import EmailMultiAlternatives, get_connection
from django.db.models import Q
from django.template.loader import render_to_string
from django.utils import timezone

from reviews.deeds.mail_bounces import MARK, mark_of
from reviews.deeds.mail_choosing import wanted
from reviews.deeds.mail_words import one_line
from reviews.deeds.mail_writing import Letter, letter_of
from reviews.jobs import DELAYS, job
from reviews.models import Mail
from reviews.models.mails import SWITCHABLE

LOG = logging.getLogger(__name__)
State = Mail.State

CUT_OFF_AFTER = timedelta(minutes=15)
"""When a letter that is being sent has been left by a process that ended."""

KEPT = timedelta(days=180)
"""How long the rows of letters are kept that wait for nothing."""


@job
def send_due() -> None:
    """Send all letters that are due; none while the mail server isn't reached."""
    for due in Mail.objects.due(timezone.now()):
        connection = get_connection()
        try:
            connection.open()
        except (OSError, SMTPException) as error:
            for waits in Mail.objects.due(timezone.now()):
                if mail := Mail.objects.claim(waits.pk, timezone.now()):
                    _put_off(mail, f"The mail server was not reached ({_words(error)})")
            return
        try:
            if mail := Mail.objects.claim(due.pk, timezone.now()):
                _send(mail, connection)
        finally:
            _close(connection)


def _close(connection: Any) -> None:
    try:
        connection.close()
    except (OSError, SMTPException):
        LOG.info("The mail server closed the connection first")


def _send(mail: Mail, connection: Any) -> None:
    """Send a claimed letter and keep what became of it."""
    try:
        letter = None if _is_unwanted(mail) else letter_of(mail)
        message = _message(mail, letter, connection) if letter else None
    except Exception as fault:
        LOG.exception("The letter %d could not be written", mail.pk)
        return _keep(mail, State.FAILED, f"It could not be written ({type(fault).__name__})")
    if message is None:
        return _keep(mail, State.DROPPED)
    mail.subject = str(message.subject)
    try:
        message.send()
    except SMTPRecipientsRefused as refused:
        code, words = next(iter(refused.recipients.values()))
        _refused(mail, code, words)
    except SMTPResponseException as refused:
        _refused(mail, refused.smtp_code, refused.smtp_error)
    except SMTPServerDisconnected as cut:
        _keep(mail, State.UNKNOWN, _words(cut))
    except (SMTPNotSupportedError, ValueError) as refused:  # an address or head that can't be sent
        _keep(mail, State.FAILED, _words(refused))
    except OSError as cut:
        _keep(mail, State.UNKNOWN, _words(cut))
    else:
        mail.sent_at = timezone.now()
        _keep(mail, State.SENT)
    return None


def _is_unwanted(mail: Mail) -> bool:
    return mail.kind in dict(SWITCHABLE) and mail.kind not in wanted(mail.address)


def _message(mail: Mail, letter: Letter, connection: Any) -> EmailMultiAlternatives:
    domain = parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2]
    # RFC 3834 keeps answering machines still; RFC 8058 lets a mail program switch a kind off
    headers = {"Message-ID": f"<letter-{mail.pk}@{domain}>", "Auto-Submitted": "auto-generated"}
    headers[MARK] = mark_of(mail)
    if letter.stop:
        headers["List-Unsubscribe"] = f"<{letter.stop}>"
        headers["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"
    context = {"letter": letter, "site": settings.SITE_ADDRESS}
    message = EmailMultiAlternatives(
        letter.subject,
        render_to_string("mail/letter.txt", context),
        to=[mail.address],
        headers=headers,
        connection=connection,
    )
    message.attach_alternative(render_to_string("mail/letter.html", context), "text/html")
    return message


def _refused(mail: Mail, code: int, words: bytes | str) -> None:
    """Keep a refusal: for good by 5xx, to be tried again by 4xx (RFC 5321, 4.2.1)."""
    said = words.decode(errors="replace") if isinstance(words, bytes) else words
    if code >= 500:
        _keep(mail, State.FAILED, f"{code} {said}")
    else:
        _put_off(mail, f"{code} {said}")


def _words(error: BaseException) -> str:
    return str(error) or type(error).__name__


def _keep(mail: Mail, state: str, said: str = "") -> None:
    """Keep what became of a letter."""
    mail.state, mail.said = state, one_line(said)[:300]
    mail.save(update_fields=["state", "said", "subject", "tries", "due_at", "sent_at"])
    if mail.is_in_trouble:
        LOG.warning("The letter %d: %s", mail.pk, mail.get_state_display())  # no address


def _put_off(mail: Mail, said: str) -> None:
    """Let a letter wait, longer each time; after the last it could not be delivered."""
    if mail.tries == len(DELAYS):
        return _keep(mail, State.FAILED, said)
    mail.due_at = timezone.now() + DELAYS[mail.tries]
    mail.tries += 1
    return _keep(mail, State.QUEUED, said)


def tidy(at: datetime) -> None:
    """Say of letters whose sender ended that nobody knows; delete old rows; send what is due.

    One that began well after now was begun before the clock was set back.
    """
    is_left = Q(begun_at__lt=at - CUT_OFF_AFTER) | Q(begun_at__gt=at + CUT_OFF_AFTER)
    Mail.objects.filter(is_left, state=State.SENDING).update(state=State.UNKNOWN)
    waits = (State.QUEUED, State.SENDING)
    Mail.objects.exclude(state__in=waits).filter(queued_at__lt=at - KEPT).delete()
    if Mail.objects.due(at).exists():
        send_due.enqueue()
