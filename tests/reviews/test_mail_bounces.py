"""Refusals that come back as letters: read once, of our letters alone, whatever else lies there.

The reports are written after RFC 3464 (2.1 to 2.3, and the examples of its appendix D).
"""

import re
import socket
import socketserver
import ssl
import threading
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.x509.oid import NameOID
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from reviews import background
from reviews.deeds import mail_bounces, mail_queueing
from reviews.deeds.mail_bounces import MARK, keep_report, mark_of, read_mailbox
from reviews.env_mail import MailServer
from reviews.models import Mail
from reviews.reading.mail_deliveries import undelivered_to_jurors
from tests.reviews.mail_steps import free_port, mail_server, send

State = Mail.State


@pytest.fixture
def sent(cast) -> Mail:
    """A juror's link that went out."""
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    mail_queueing.hand_links(cast.crit)
    send()
    mail = Mail.objects.get()
    assert mail.state == State.SENT
    return mail


def report(mark: str, action: str = "failed", *, whole: bool = True, code: str = "") -> bytes:
    """What a mail server writes of a letter, with the letter whole or its head alone."""
    code = code or "Diagnostic-Code: smtp; 550 5.1.1 No such\r\n mailbox here\r\n"
    head = f"From: muntin@example.org\r\nTo: jo@example.org\r\n{MARK}: {mark}\r\nSubject: Link\r\n"
    kind = "message/rfc822" if whole else "text/rfc822-headers"
    body = f"{head}\r\nThe way in.\r\n" if whole else head
    return (
        "From: Mail Delivery <MAILER-DAEMON@mx.example.org>\r\nTo: muntin@example.org\r\n"
        "Subject: Undelivered\r\nMIME-Version: 1.0\r\n"
        'Content-Type: multipart/report; report-type=delivery-status; boundary="b"\r\n\r\n'
        "--b\r\nContent-Type: text/plain\r\n\r\nSorry.\r\n"
        "--b\r\nContent-Type: message/delivery-status\r\n\r\nReporting-MTA: dns; mx.example.org\r\n"
        f"\r\nFinal-Recipient: rfc822; jo@example.org\r\nAction: {action}\r\nStatus: 5.1.1\r\n"
        f"{code}\r\n--b\r\nContent-Type: {kind}\r\n\r\n{body}\r\n--b--\r\n"
    ).encode()


@pytest.mark.parametrize("whole", [True, False])
def test_a_letter_that_came_back_is_shown_with_the_server_s_words(cast, sent, whole):
    keep_report(report(mark_of(sent), whole=whole))
    sent.refresh_from_db()
    assert sent.state == State.FAILED
    assert sent.said == "It came back: 550 5.1.1 No such mailbox here"
    ((name, said),) = undelivered_to_jurors(cast.crit)
    assert name == "Jo Juror"
    assert "550 5.1.1 No such mailbox here" in said


def test_a_letter_goes_out_with_the_mark_by_which_it_is_known_again(cast, settings):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    mail_queueing.hand_links(cast.crit)
    with mail_server(settings) as box:
        send()
    assert box.letters[0][MARK] == mark_of(Mail.objects.get())


@pytest.mark.parametrize("action", ["delayed", "delivered", "relayed", "expanded", ""])
def test_what_only_takes_longer_is_no_refusal(sent, action):
    keep_report(report(mark_of(sent), action))
    sent.refresh_from_db()
    assert sent.state == State.SENT


@pytest.mark.parametrize("code", ["X-None: 1\r\n", "Diagnostic-Code: without a type\r\n"])
def test_without_the_server_s_words_its_status_is_said(sent, code):
    keep_report(report(mark_of(sent), "FAILED", code=code))
    sent.refresh_from_db()
    assert sent.said == "It came back: 5.1.1"


def test_a_mark_that_is_not_ours_says_nothing_of_any_letter(sent, caplog):
    mark = mark_of(sent)
    for forged in (str(sent.pk), f"{sent.pk}.guessed", mark[:-1], f"{sent.pk + 1}{mark[1:]}", ""):
        keep_report(report(forged))
    sent.refresh_from_db()
    assert sent.state == State.SENT
    assert "could not be read" in caplog.text


def test_a_letter_that_was_never_sent_or_is_gone_is_passed_over(sent):
    Mail.objects.update(state=State.QUEUED)
    keep_report(report(mark_of(sent)))
    assert Mail.objects.get().state == State.QUEUED
    Mail.objects.all().delete()
    keep_report(report(mark_of(sent)))


NESTED = b"".join(
    b'Content-Type: multipart/mixed; boundary="b%d"\r\n\r\n--b%d\r\n' % (n, n) for n in range(3_000)
)


@pytest.mark.parametrize(
    "odd", [b"", b"\0\xff\xfe", b"Content-Type: multipart/report\r\n\r\n", NESTED], ids=range(4)
)
def test_a_hostile_report_ends_in_nothing(sent, odd):
    keep_report(odd)
    keep_report(odd + report(mark_of(sent))[:200])
    sent.refresh_from_db()
    assert sent.state == State.SENT


def test_odd_words_of_a_server_are_one_short_line(sent):
    code = "Diagnostic-Code: smtp; 550 \xff\0\x1b[31m" + "no " * 300 + "\r\n"
    keep_report(report(mark_of(sent), code=code))
    sent.refresh_from_db()
    assert sent.said.startswith("It came back: 550")
    assert sent.said.isprintable()
    assert len(sent.said) == 300


class Mailbox:
    """Letters by number, as a server of RFC 3501 keeps them; which are read; what was asked."""

    def __init__(self, *letters: bytes) -> None:
        self.letters = dict(enumerate(letters, 1))
        self.read: set[int] = set()
        self.asked: list[str] = []
        self.knows = "a secret word"

    def answer(self, asked: str) -> tuple[bytes, str]:
        """What is said before the last line, and that line."""
        self.asked.append(asked)
        word, _, rest = asked.partition(" ")
        if word == "CAPABILITY":
            return b"* CAPABILITY IMAP4rev1\r\n", "OK done"
        if word == "LOGIN":
            return b"", "OK in" if self.knows in rest else "NO not you"
        if word == "SEARCH":
            unread = [str(n) for n in self.letters if n not in self.read and self.is_report(n)]
            return f"* SEARCH {' '.join(unread)}\r\n".encode(), "OK done"
        if word == "FETCH":
            number, most = re.fullmatch(r"(\d+) \(BODY\.PEEK\[\]<0\.(\d+)>\)", rest).groups()
            part = self.letters[int(number)][: int(most)]
            head = f"* {number} FETCH (BODY[]<0> {{{len(part)}}}\r\n".encode()
            return head + part + b")\r\n", "OK done"
        if word == "STORE":
            self.read.add(int(rest.split()[0]))
            return b"", "OK done"
        return b"* 0 EXISTS\r\n" * (word == "SELECT"), "OK done"

    def is_report(self, number: int) -> bool:
        return b"delivery-status" in self.letters[number].partition(b"\r\n\r\n")[0]


@contextmanager
def mailbox(settings, *letters: bytes, tls: ssl.SSLContext | None = None):
    """A mailbox that is served on this machine, and settings that read it."""
    box = Mailbox(*letters)

    class Server(socketserver.ThreadingTCPServer):
        def handle_error(self, request: object, client_address: object) -> None:
            """Whoever trusts no certificate goes away."""

        def finish_request(self, request: socket.socket, client_address: object) -> None:
            if tls:
                request = tls.wrap_socket(request, server_side=True)
            self.RequestHandlerClass(request, client_address, self)

    class Handler(socketserver.StreamRequestHandler):
        def handle(self) -> None:
            self.wfile.write(b"* OK here\r\n")
            while line := self.rfile.readline().decode().strip():
                tag, _, asked = line.partition(" ")
                before, last = box.answer(asked)
                self.wfile.write(before + f"{tag} {last}\r\n".encode())

    with Server(("127.0.0.1", 0), Handler) as server:
        port = server.server_address[1]
        settings.MAILBOX = MailServer("127.0.0.1", port, "muntin", box.knows)
        thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
        thread.start()
        try:
            yield box
        finally:
            server.shutdown()
            thread.join()


def test_reports_are_read_once_and_other_letters_left_for_somebody(sent, settings):
    question = b"From: jo@example.org\r\nSubject: A question\r\n\r\nWhere is it?\r\n"
    with mailbox(settings, question, report(mark_of(sent)), report("of nobody")) as box:
        read_mailbox.enqueue()
        assert box.read == {2, 3}
        read_mailbox.enqueue()
    assert sum(asked.startswith("FETCH") for asked in box.asked) == 2
    sent.refresh_from_db()
    assert sent.state == State.FAILED


def test_a_huge_report_is_read_in_part(sent, settings, monkeypatch):
    monkeypatch.setattr(mail_bounces, "MOST_BYTES", 2_000)
    huge = report(mark_of(sent)) + b"x" * 100_000
    with mailbox(settings, huge):
        read_mailbox.enqueue()
    sent.refresh_from_db()
    assert sent.state == State.FAILED


def test_so_many_are_read_at_a_look_and_no_more(sent, settings, monkeypatch):
    monkeypatch.setattr(mail_bounces, "MOST_REPORTS", 2)
    with mailbox(settings, *[report("of nobody")] * 3) as box:
        read_mailbox.enqueue()
    assert box.read == {1, 2}


@pytest.mark.parametrize("is_there", [True, False])
def test_a_mailbox_that_is_away_or_refuses_is_said_without_its_password(
    sent, settings, caplog, is_there
):
    with mailbox(settings) as box:
        box.knows = "another word"
        if not is_there:
            settings.MAILBOX = settings.MAILBOX._replace(port=free_port())
        read_mailbox.enqueue()
    assert "The mailbox of refusals was not reached" in caplog.text
    assert "a secret word" not in caplog.text


def test_a_server_whose_certificate_nobody_vouches_for_is_not_told_the_password(
    sent, settings, caplog, tmp_path
):
    own = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    own.load_cert_chain(certificate(tmp_path / "own.pem"))
    with mailbox(settings, report(mark_of(sent)), tls=own) as box:
        settings.MAILBOX = settings.MAILBOX._replace(is_tls=True)
        read_mailbox.enqueue()
    assert box.asked == []
    assert "CERTIFICATE_VERIFY_FAILED" in caplog.text


def certificate(path: Path) -> Path:
    """A certificate of its own making, for this machine, with its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "localhost")])
    made = x509.CertificateBuilder(name, name, key.public_key(), x509.random_serial_number())
    now = timezone.now()
    made = made.not_valid_before(now - timedelta(days=1)).not_valid_after(now + timedelta(days=1))
    words = serialization.Encoding.PEM
    private = key.private_bytes(
        words, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    path.write_bytes(private + made.sign(key, SHA256()).public_bytes(words))
    return path


@pytest.mark.django_db(transaction=True)
def test_every_five_minutes_one_process_looks(cast, settings):
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
    now = timezone.now()
    background.go_round(now)
    looks = DBTaskResult.objects.filter(task_path__endswith="read_mailbox")
    assert looks.count() == 0
    settings.MAILBOX = MailServer("127.0.0.1", 143, "muntin", "word")
    for minutes in (0, 1, 4):
        background.go_round(now + timedelta(minutes=minutes))
    assert looks.count() == 1
    background.go_round(now + timedelta(minutes=6))
    assert looks.count() == 2
