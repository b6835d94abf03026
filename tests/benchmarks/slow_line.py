"""How long pages take on a telephone's slow line: until something is painted, until all is there.

    python -m tests.benchmarks.slow_line [FOLDER [PAGE …]]

FOLDER is a demo's, loaded before; without one it is loaded anew. Pages are those named in ASK. A
Chromium is given 1.5 Mbit/s and 150 ms a request, as a telephone of 390 px at three dots a px. A
page is opened by a browser that has never been here (cold) and by one that comes from another page
(warm). Prints medians of first paint, load and bytes received. Not collected by pytest.
"""

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from urllib.request import Request, urlopen

from playwright.sync_api import Browser, sync_playwright

from tests.served import ROOT, free_port, manage, surroundings

CHROMIUM = os.environ.get("MUNTIN_CHROMIUM") or shutil.which("chromium")
FLAGS = ["--no-sandbox", "--disable-gpu"]
TIMES = 3
LINE = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_500_000 / 8,
    "uploadThroughput": 1_500_000 / 8,
}
TELEPHONE = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 3,
    "is_mobile": True,
    "has_touch": True,
}
SCREEN = {"viewport": {"width": 1440, "height": 900}}

ASK = """
import django; django.setup()
import json
from django.db.models import Count
from django.test import Client
from reviews.access import SEAT_KEY
from reviews.models import Comment, Crit, Membership, Revision, Seat

crit = Crit.objects.released().order_by("-pk")[0]
said = Comment.objects.filter(jury_sheet__seat__crit=crit).exclude(issued_sheet=None)
most = said.values("jury_sheet__scheme").annotate(n=Count("pk")).order_by("-n")[0]
scheme = crit.studio.schemes.get(pk=most["jury_sheet__scheme"])
revision = scheme.revisions.filter(crit=crit).last()
seat = Seat.objects.filter(crit__in=Crit.objects.exclude(pk__in=Crit.objects.released())).first()
slot = seat.crit.slots.exclude(scheme=None).first()
leader = Membership.objects.filter(studio=crit.studio, role="leader").first().person


def of(person=None, seat=None):
    client = Client()
    if person:
        client.force_login(person)
    else:
        session = client.session
        session[SEAT_KEY] = [seat.pk, seat.code]
        session.save()
    return client.cookies["sessionid"].value


student = of(scheme.members.first())
head, leads = f"/schemes/{scheme.pk}/", of(leader)
print(json.dumps({
    "sign in": ["/sign-in/", ""],
    "home": ["/", student],
    "leader's home": ["/", leads],
    "package": [head, student],
    "schedule": [head + "schedules/windows/", student],
    "check sheet": [head + "checks/", student],
    "questions": [head + "questions/", student],
    "revision": [f"/revisions/{revision.pk}/", student],
    "issued sheet": [f"/revisions/{revision.pk}/sheets/{revision.sheets.first().number}/", student],
    "results": [f"/crits/{crit.pk}/results/{scheme.pk}/", student],
    "moderation": [f"/crits/{crit.pk}/table/", leads],
    "compare": [f"/studios/{crit.studio_id}/compare/", leads],
    "jury sheet": [f"/jury/{slot.scheme_id}/", of(seat=seat)],
}))
"""

WHEN = """() => {
    const [page] = performance.getEntriesByType("navigation");
    const paints = performance.getEntriesByType("paint");
    return [Math.min(...paints.map(each => each.startTime)), page.loadEventEnd];
}"""


def opened(browser: Browser, url: str, path: str, session: str, *, warm: str, shape: dict):
    """First paint [ms], load [ms] and bytes received until then of a page, and of all it asked."""
    context = browser.new_context(**shape)
    if session:
        context.add_cookies([{"name": "sessionid", "value": session, "url": url}])
    page = context.new_page()
    if warm:
        page.goto(url + warm, timeout=120_000)
    line, received = context.new_cdp_session(page), []
    line.send("Network.enable")
    line.send("Network.emulateNetworkConditions", LINE)
    line.on("Network.loadingFinished", lambda told: received.append(told["encodedDataLength"]))
    page.goto(url + path, wait_until="load", timeout=120_000)
    while not page.evaluate("performance.getEntriesByType('paint').length"):
        page.wait_for_timeout(50)
    painted, loaded = page.evaluate(WHEN)
    context.close()
    return painted, loaded, sum(received)


def main() -> None:
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(tempfile.mkdtemp()) / "demo"
    own = surroundings(folder, DJANGO_SETTINGS_MODULE="reviews.settings")
    loaded = manage("demo", "--no-serve", **own)
    assert loaded.returncode == 0, loaded.stderr
    asked = subprocess.run(
        [sys.executable, "-c", ASK], cwd=ROOT, env=own, capture_output=True, text=True, check=False
    )
    assert asked.returncode == 0, asked.stderr
    pages = json.loads(asked.stdout)
    pages = {what: pages[what] for what in sys.argv[2:] or pages}
    port = free_port()
    words = [sys.executable, "manage.py", "serve", "--port", str(port)]
    url = f"http://127.0.0.1:{port}"
    server = subprocess.Popen(words, cwd=ROOT, env=own)
    try:
        measure(url, pages)
    finally:
        server.terminate()
        server.wait()


def measure(url: str, pages: dict[str, tuple[str, str]]) -> None:
    """Print a line a page, a device and a way to come to it."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        _wait_for(browser, url)
        for path, session in pages.values():  # what the server does once, it has done
            asked = Request(url + path, headers={"Cookie": f"sessionid={session}"})
            urlopen(asked).close()
        print(f"{'':16}{'':15}{'first paint':>12}{'load':>10}{'received':>12}")
        for shape, name in ((TELEPHONE, "telephone"), (SCREEN, "screen")):
            for what, (path, session) in pages.items():
                if shape is SCREEN and what not in ("results", "package", "issued sheet"):
                    continue
                for warm in ("", "/sign-in/" if not session else "/you/"):
                    if warm and "jury" in path:
                        warm = "/jury/"
                    took = [
                        opened(browser, url, path, session, warm=warm, shape=shape)
                        for _ in range(TIMES)
                    ]
                    paint, load, read = map(statistics.median, zip(*took, strict=True))
                    how = f"{name}, {'warm' if warm else 'cold'}"
                    figures = f"{paint:8.0f} ms{load:7.0f} ms{read / 1000:9.0f} kB"
                    print(f"{what:16}{how:16}{figures}", flush=True)
        browser.close()


def _wait_for(browser: Browser, url: str) -> None:
    page = browser.new_page()
    for _ in range(60):
        try:
            page.goto(url + "/sign-in/")
        except Exception:
            page.wait_for_timeout(500)
        else:
            break
    page.close()


if __name__ == "__main__":
    main()
