"""What becomes of every hostile model, and how long pages take while each is read.

    python -m tests.benchmarks.hostile_models [WORD]

A real server on a folder of its own gets each file whose name holds the word: those of the tests,
and some made here that the limits alone end. Beside it somebody asks for a page every tenth of a
second. Prints what was answered, in how many seconds, and the median and the longest of those pages
[ms]; ends with an error where a file isn't answered in words within ANSWERED_S, or a page takes
longer than PAGE_MS at the median. Not collected by pytest.
"""

import html
import http.client
import re
import statistics
import sys
import tempfile
import threading
import time
import zipfile
from pathlib import Path

from tests.served import ROOT, TOKEN, Site, served

ANSWERED_S, PAGE_MS = 35.0, 200.0
HEAD = (
    "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n"
    "FILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
)
DATA = ROOT / "tests/reviews/exchange/data"


def spaces() -> bytes:
    """As many rooms as no small building has: 23 MB of them."""
    lines = (
        f"#{n}=IFCSPACE('{n:022d}',$,'{n}',$,$,#300001,#300002,$,.ELEMENT.,.SPACE.,$);\n"
        for n in range(1, 300_001)
    )
    return (HEAD + "".join(lines) + "ENDSEC;\nEND-ISO-10303-21;\n").encode()


def booleans() -> bytes:
    """A body cut by a body cut by a body, twenty thousand deep."""
    lines = ["#1=IFCBLOCK($,1.,1.,1.);\n#2=IFCBOOLEANRESULT(.UNION.,#1,#1);\n"]
    lines += [f"#{n}=IFCBOOLEANRESULT(.UNION.,#{n - 1},#1);\n" for n in range(3, 20_003)]
    return (HEAD + "".join(lines) + "ENDSEC;\nEND-ISO-10303-21;\n").encode()


def town() -> bytes:
    """As large as a model may well be: 200 rooms, 800 windows, each a shape of its own."""
    from tests.reviews.exchange.written_models import Model, window

    model, walls = Model(north=(0.0, 1.0)), []
    for number in range(200):
        level, place = divmod(number, 50)
        if number and not place:
            model.storey(f"Level {level}", 3.0 * level)
        x, y, z = 5.3 * (place % 10), 4.3 * (place // 10), 3.0 * level
        model.room(f"Room {number}", (5, 4, 2.5), (x, y, z))
        south = model.thing("IfcWall", "S", [model.box((5.6, 0.3, 2.5))], (x - 0.3, y - 0.3, z))
        east = model.thing(
            "IfcWall", "E", [model.box((4, 0.3, 2.5))], (x + 5.3, y, z), (0.0, 1.0, 0.0)
        )
        for off in (0.3, 2.5):
            model.opening_in(south, window(model, (x + off, y - 0.2, z + 0.8)))
        for off in (0.3, 2.2):
            turned = window(model, (x + 5.15, y + off, z + 0.8), (0.0, 1.0, 0.0))
            model.opening_in(east, turned)
        walls += [south, east]
    model.layers(walls, "Timber wall", [("Cladding", 0.02, 0.13), ("Fibre", 0.28, 0.04)])
    with tempfile.TemporaryDirectory() as folder:
        return Path(model.save(Path(folder) / "town.ifc")).read_bytes()


MADE = {
    "200 rooms, 800 windows.ifc": town,
    "300,000 rooms.ifc": spaces,
    "20,000 cuts.ifc": booleans,
    "noise.ifc": lambda: b"ISO-10303-21;" + bytes(range(256)) * 4000,
    "empty.ifc": lambda: b"ISO-10303-21;\nENDSEC;\nEND-ISO-10303-21;\n",
    "cut.ifc": lambda: zipfile.ZipFile(DATA / "tall.zip").read("tall.ifc")[:200_000],
    "entities.xml": lambda: (
        b'<?xml version="1.0"?><!DOCTYPE gbXML [<!ENTITY a "ha">]><gbXML>&a;</gbXML>'
    ),
}


def files() -> dict[str, bytes]:
    """Every file, by name."""
    with zipfile.ZipFile(DATA / "hostile-models.zip") as archive:
        kept = {name: archive.read(name) for name in archive.namelist()}
    return kept | {name: make() for name, make in MADE.items()}


def send(site: Site, name: str, inside: bytes) -> tuple[int, str]:
    """Send a file as the student; return the status and what is said of it."""
    head = f'--b\r\nContent-Disposition: form-data; name="file"; filename="{name}"\r\n\r\n'
    body = head.encode() + inside + b"\r\n--b--\r\n"
    headers = {
        "Cookie": f"sessionid={site.session}; csrftoken={TOKEN}",
        "X-CSRFToken": TOKEN,
        "X-Forwarded-Proto": "https",
        "Referer": f"https://127.0.0.1:{site.port}/",
        "Content-Type": "multipart/form-data; boundary=b",
    }
    line = http.client.HTTPConnection("127.0.0.1", site.port, timeout=120)
    line.request("POST", f"/schemes/{site.scheme}/files/bring/", body, headers)
    answer = line.getresponse()
    page = answer.read().decode()
    line.close()
    if answer.status == 302:
        return 302, "read"
    said = re.search(r"Read “[^<]*", html.unescape(page))
    return answer.status, said[0] if said else ""


def main(word: str) -> int:
    """Send each; return how many went wrong."""
    wrong = 0
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as site:
        for name, inside in files().items():
            if word not in name:
                continue
            done, times = threading.Event(), []

            def ask(done=done, times=times) -> None:
                while not done.wait(0.1):
                    start = time.perf_counter()
                    status, _, _ = site.get(f"/schemes/{site.scheme}/schedules/rooms/")
                    assert status == 200
                    times.append((time.perf_counter() - start) * 1000)

            reader = threading.Thread(target=ask)
            reader.start()
            start = time.perf_counter()
            status, said = send(site, name, inside)
            took = time.perf_counter() - start
            done.set()
            reader.join()
            middle, longest = (statistics.median(times), max(times)) if times else (0, 0)
            is_wrong = not said or took > ANSWERED_S or middle > PAGE_MS
            wrong += is_wrong
            print(
                f"{'WRONG ' if is_wrong else ''}{name} ({len(inside) / 1e6:.1f} MB): {status} in "
                f"{took:.1f} s; pages {middle:.0f} ms, at most {longest:.0f}; {said}",
                flush=True,
            )
    return wrong


if __name__ == "__main__":
    sys.exit(min(main("".join(sys.argv[1:2])), 1))
