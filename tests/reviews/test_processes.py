"""Three processes serve as one: what one keeps, the others know at once, and nothing is lost."""

import http.client
import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.cookies import SimpleCookie
from pathlib import Path

import pytest
from django.test.client import BOUNDARY, MULTIPART_CONTENT, encode_multipart

from reviews.deeds.juror_entering import MOST_WRONG
from reviews.deeds.signing_in import FREE
from tests.reviews.test_serving import workers
from tests.reviews.test_sheets_views import picture
from tests.served import ROOT, Site, served, surroundings

pytestmark = pytest.mark.apart

PROCESSES = 3
ELSEWHERE = {"X-Real-IP": "203.0.113.9"}
WORD = "a word for tests alone"

SEED = f"""
import django; django.setup()
import json
from django.test import Client
from tests import factories
from tests.conftest import make_cast
from axes.models import AccessAttempt
from reviews.models import Person

Person.objects.filter(email="stef@example.org").update(email="former@example.org")
cast = make_cast()
for person in (cast.student, cast.classmate):
    person.set_password({WORD!r})
    person.save()
row = factories.RowFactory(package=cast.scheme.package, changed_by=cast.student)
cells = {{"id": "T02", "what": "Day room", "check": "floor_area", "rule": "at least", "value": "9"}}
factories.TargetLineFactory(brief=cast.studio.brief, cells=cells | {{"unit": "m²"}})
factories.issue_sheets(cast, "02")
seats = [cast.seat, *factories.SeatFactory.create_batch(2, crit=cast.crit)]
AccessAttempt.objects.create(
    username=cast.classmate.email, ip_address="198.51.100.7", user_agent="",
    failures_since_start={FREE - 3}, path_info="/",
)

def session(who):
    return cast.client(who).cookies["sessionid"].value

print(json.dumps({{
    "scheme": cast.scheme.pk, "crit": cast.crit.pk, "row": row.pk,
    "student_email": cast.student.email, "guessed": cast.classmate.email,
    "criteria": [cast.criterion.pk, cast.other_criterion.pk],
    "student": session(cast.student), "mate": session(cast.mate), "leader": session(cast.leader),
    "jurors": [session(seat) for seat in seats],
}}))
"""


def token_of(page: str) -> str:
    """The token of the forms on a page."""
    return re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)[1]


@dataclass
class Process:
    """One process of the server, and a connection that leads to it alone."""

    pid: int
    line: http.client.HTTPConnection


@dataclass
class Browser:
    """Somebody's browser: its cookies go to whichever process is asked."""

    cookies: dict[str, str] = field(default_factory=dict)

    def ask(self, process: Process, method: str, path: str, body: bytes = b"", **headers: str):
        """Ask one process; return status, headers and text."""
        said = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        process.line.request(method, path, body, {**said, **headers})
        answer = process.line.getresponse()
        for name, value in answer.getheaders():
            if name == "Set-Cookie":
                self.cookies |= {k: cookie.value for k, cookie in SimpleCookie(value).items()}
        return answer.status, answer.headers, answer.read()

    def get(self, process: Process, path: str, **headers: str) -> str:
        status, _, read = self.ask(process, "GET", path, **headers)
        assert status == 200, (path, status)
        return read.decode()

    def post(self, process: Process, path: str, sent: dict, form: tuple[Process, str], **headers):
        """Send a form to one process that another has given, with its token."""
        token = token_of(self.get(*form))
        body = encode_multipart(BOUNDARY, {**sent, "csrfmiddlewaretoken": token})
        headers |= {"Content-Type": MULTIPART_CONTENT}
        return self.ask(process, "POST", path, body, **headers)


@dataclass
class Cast:
    """Who and what is in the database, by the keys that the seed tells."""

    site: Site
    three: list[Process]
    told: dict

    def browser(self, session: str) -> Browser:
        return Browser({"sessionid": session})


def _takes(pid: int, port: int, line: http.client.HTTPConnection) -> bool:
    """Whether a connection ends in a process, by the sockets that it holds open."""
    own = line.sock.getsockname()[1]
    ends = (row.split() for row in Path("/proc/net/tcp").read_text().splitlines()[1:])
    node = next(
        end[9] for end in ends if end[1].endswith(f":{port:04X}") and end[2].endswith(f":{own:04X}")
    )
    held = Path(f"/proc/{pid}/fd").iterdir()
    return any(os.readlink(each) == f"socket:[{node}]" for each in held if each.is_symlink())


@contextmanager
def stopped(pids: Iterable[int]):
    for pid in pids:
        os.kill(pid, signal.SIGSTOP)
    try:
        yield
    finally:
        for pid in pids:
            os.kill(pid, signal.SIGCONT)


def line_to(pid: int, site: Site) -> Process:
    """Connect while the other processes are stopped, so that this one takes it."""
    line = http.client.HTTPConnection("127.0.0.1", site.port, timeout=60)
    with stopped(workers(site) - {pid}):
        line.request("GET", "/healthz")
        line.getresponse().read()
        assert _takes(pid, site.port, line)
    return Process(pid, line)


@pytest.fixture(scope="module")
def cast(tmp_path_factory):
    folder = tmp_path_factory.mktemp("three")
    with served(folder, ["--processes", f"{PROCESSES}"], MUNTIN_CLIENT_HEADER="X-Real-IP") as site:
        own = surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings")
        made = subprocess.run(
            [sys.executable, "-c", SEED], cwd=ROOT, env=own, capture_output=True, text=True
        )
        assert made.returncode == 0, made.stderr
        three = [line_to(pid, site) for pid in sorted(workers(site))]
        assert len({process.pid for process in three}) == PROCESSES
        yield Cast(site, three, json.loads(made.stdout))
        for process in three:
            process.line.close()


def test_whoever_signs_in_at_one_is_in_at_all_and_out_at_all(cast):
    a, b, c = cast.three
    browser = Browser()
    signing = {"username": cast.told["student_email"], "password": WORD}
    status, _, _ = browser.post(b, "/sign-in/", signing, form=(a, "/sign-in/"))
    assert status == 302
    assert all("Stef Student" in browser.get(each, "/you/") for each in cast.three)
    browser.post(c, "/sign-out/", {}, form=(a, "/you/"))
    assert [browser.ask(each, "GET", "/you/")[0] for each in cast.three] == [302, 302, 302]


def test_a_form_without_its_token_is_refused_by_each(cast):
    browser = cast.browser(cast.told["student"])
    for each in cast.three:
        headers = {"Content-Type": "application/x-www-form-urlencoded"}
        assert browser.ask(each, "POST", "/you/", b"name=Other", **headers)[0] == 403


def test_a_sheet_that_one_hangs_is_shown_by_the_others(cast):
    a, b, c = cast.three
    browser, sheets = cast.browser(cast.told["student"]), f"/schemes/{cast.told['scheme']}/sheets/"
    status, _, read = browser.post(a, sheets, {"files": picture()}, form=(b, sheets))
    assert status == 302, read.decode()
    shown = [browser.get(each, sheets) for each in cast.three]
    (close,) = {re.search(r'href="([^"]+)/close/"', page)[1] for page in shown}
    image = f"{close}/full.jpg"
    sent = {browser.ask(each, "GET", image)[2] for each in (b, c)}
    assert len(sent) == 1
    assert sent.pop().startswith(b"\xff\xd8")


def test_a_cell_that_one_changes_is_worked_with_by_the_others_at_once(cast):
    """Each process keeps what it has worked out, told apart by what it read."""
    scheme, browser = f"/schemes/{cast.told['scheme']}", cast.browser(cast.told["mate"])
    rooms = f"{scheme}/schedules/rooms/"
    for by, figure in enumerate(("31.3", "41.7", "51.9")):
        before = [browser.get(each, f"{scheme}/checks/") for each in cast.three]
        assert not any(f"{figure} m²" in page for page in before)
        sent = {"cell-floor_m2": figure, "version": str(by + 1), "key": ""}
        form = (cast.three[by - 1], rooms)
        path = f"{rooms}rows/{cast.told['row']}/"
        assert browser.post(cast.three[by], path, sent, form)[0] == 302
        shown = [browser.get(each, f"{scheme}/checks/") for each in cast.three]
        assert all(f"{figure} m²" in page for page in shown)


def at_once(*deeds):
    with ThreadPoolExecutor(len(deeds)) as pool:
        return [made.result() for made in [pool.submit(deed) for deed in deeds]]


def level_sent(cast, juror: str, by: int, criterion: int, level: str, seen: str = "0"):
    """Have a level ready to be sent to one process, of a form that another gave."""
    sheet = f"/jury/{cast.told['scheme']}/"
    browser = cast.browser(juror)
    page = browser.get(cast.three[by - 1], sheet)
    of = re.search(r'name="of" value="(\d+)"', page)[1]
    token = token_of(page)
    sent = {"level": level, "seen": seen, "of": of, "csrfmiddlewaretoken": token}
    body = encode_multipart(BOUNDARY, sent)
    headers = {"Content-Type": MULTIPART_CONTENT, "HX-Request": "true"}
    path = f"{sheet}levels/{criterion}/"
    return lambda: browser.ask(cast.three[by], "POST", path, body, **headers)


def test_two_levels_at_once_are_both_kept_and_of_two_for_one_the_second_is_refused(cast):
    first, second, _ = cast.told["jurors"]
    light, making = cast.told["criteria"]
    answers = at_once(
        level_sent(cast, first, 0, light, "4"), level_sent(cast, second, 1, light, "2")
    )
    assert [status for status, _, _ in answers] == [200, 200]
    answers = at_once(
        level_sent(cast, first, 1, making, "5"), level_sent(cast, first, 2, making, "1")
    )
    assert sorted(status for status, _, _ in answers) == [200, 409]
    (refused,) = (read.decode() for status, _, read in answers if status == 409)
    assert "data-seen" in refused
    kept = {"5" if answers[0][0] == 200 else "1", "4"}
    for each in cast.three:
        page = cast.browser(first).get(each, f"/jury/{cast.told['scheme']}/")
        pressed = re.findall(r'value="(\d)" aria-pressed="true"', page)
        assert set(pressed) == kept


def test_a_sheet_is_locked_once_however_many_lock_it_and_all_know(cast):
    *_, juror = cast.told["jurors"]
    light, making = cast.told["criteria"]
    sheet, browser = f"/jury/{cast.told['scheme']}/", cast.browser(juror)
    for criterion in (light, making):
        assert level_sent(cast, juror, 0, criterion, "3")()[0] == 200
    late = level_sent(cast, juror, 1, light, "1", seen="1")
    token = token_of(browser.get(cast.three[0], sheet))
    body = encode_multipart(BOUNDARY, {"csrfmiddlewaretoken": token})
    headers = {"Content-Type": MULTIPART_CONTENT}

    def lock(process):
        return lambda: browser.ask(process, "POST", f"{sheet}lock/", body, **headers)

    answers = at_once(*(lock(each) for each in cast.three))
    assert [status for status, _, _ in answers] == [302, 302, 302]
    locked = [browser.get(each, sheet) for each in cast.three]
    time = re.compile(r'id="locked">.*?(\d\d:\d\d:\d\d)', re.DOTALL)
    times = {time.search(page)[1] for page in locked}
    assert len(times) == 1
    assert late()[0] == 409
    table = f"/crits/{cast.told['crit']}/table/"
    leader = cast.browser(cast.told["leader"])
    assert len({leader.get(each, table).count("1 of 2") for each in cast.three}) == 1


def test_wrong_passwords_are_counted_whichever_process_they_reach(cast):
    """So many but three were counted before; three more, and the right one is refused by all."""
    browser, whence = Browser(), {"X-Real-IP": "198.51.100.7"}
    email, page = cast.told["guessed"], "/sign-in/"
    for each, word, expected in (
        *((process, "wrong", 200) for process in cast.three[:2]),
        (cast.three[2], "wrong", 429),
        *((process, WORD, 429) for process in cast.three),
    ):
        sent = {"username": email, "password": word}
        status, _, _ = browser.post(each, page, sent, form=(each, page), **whence)
        assert status == expected
    elsewhere = Browser()
    sent = {"username": email, "password": WORD}
    status, _, _ = elsewhere.post(each, page, sent, form=(each, page), **ELSEWHERE)
    assert status in (302, 429)  # at most a delay: nobody locks another out


def test_wrong_short_codes_are_counted_whichever_process_they_reach(cast):
    browser, page = Browser(), "/enter/"
    token = token_of(browser.get(cast.three[0], page))
    body = encode_multipart(BOUNDARY, {"code": "aaaa aaaa", "csrfmiddlewaretoken": token})
    headers = {"Content-Type": MULTIPART_CONTENT, **ELSEWHERE}
    found = [
        browser.ask(cast.three[n % PROCESSES], "POST", page, body, **headers)[0]
        for n in range(MOST_WRONG + PROCESSES)
    ]
    assert found == [200] * MOST_WRONG + [429] * PROCESSES


def test_a_live_part_asked_of_one_shows_what_another_keeps(cast):
    """The page with a picture in line asks again every two seconds, of whichever process."""
    scheme = cast.told["scheme"]
    browser, sheets = cast.browser(cast.told["mate"]), f"/schemes/{scheme}/sheets/"
    live = {"HX-Request": "true", "HX-Target": "sheets-now"}
    before = [browser.get(each, sheets, **live) for each in cast.three]
    assert all('id="sheets-now"' in part[:60] for part in before)
    sent = {"files": picture("07 Section.png", "red")}
    browser.post(cast.three[1], sheets, sent, form=(cast.three[0], sheets))
    after = [browser.get(each, sheets, **live) for each in cast.three]
    # its title: its number alone stands in the hour too, at seven past
    named = [("Section" in old, "Section" in part) for old, part in zip(before, after, strict=True)]
    assert named == [(False, True)] * len(cast.three)
