"""Letters in tests: a mail server of our own that takes or refuses, and queues worked off."""

from __future__ import annotations

import socket
from contextlib import contextmanager
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default

from aiosmtpd.controller import Controller

from reviews.deeds.mail_sending import send_due
from reviews.models import Mail


class Letterbox:
    """Takes letters over SMTP; answers a recipient with what is set."""

    def __init__(self) -> None:
        self.letters: list[EmailMessage] = []
        self.answer = "250 OK"

    async def handle_RCPT(self, server, session, envelope, address, options):
        if self.answer.startswith("250"):
            envelope.rcpt_tos.append(address)
        return self.answer

    async def handle_DATA(self, server, session, envelope):
        self.letters.append(message_from_bytes(envelope.content, policy=default))
        return "250 Taken"


def free_port() -> int:
    """A port on which nobody listens."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@contextmanager
def mail_server(settings):
    """A server that listens on this machine, and settings that send to it."""
    box = Letterbox()
    controller = Controller(box, hostname="127.0.0.1", port=free_port())
    controller.start()
    try:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", controller.port
        settings.EMAIL_USE_TLS = settings.EMAIL_USE_SSL = False
        yield box
    finally:
        controller.stop()


def due_now() -> None:
    """Let all letters that wait be due."""
    Mail.objects.filter(state=Mail.State.QUEUED).update(due_at="2020-01-01T00:00:00Z")


def send() -> None:
    """Do the job, whatever queue it would have come from."""
    send_due.call()


def states() -> list[str]:
    """The states of all letters, in the order in which they were queued."""
    return list(Mail.objects.values_list("state", flat=True))
