"""The studio that a crowd works in: put into an empty site, and what stands in it afterwards."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass

from tests.served import ROOT

SEED = """
import sys, json, django; django.setup()
from django.test import Client
from reviews.access import SEAT_KEY
from reviews.deeds.revision_issuing import issue
from django.utils import timezone
from tests import factories
jurors, pairs, hangers = (int(number) for number in sys.argv[1:])
factories.PersonFactory.reset_sequence(1000)  # others are there already
leader = factories.PersonFactory(name="Lena Leader", email="lena@example.org")
studio = factories.StudioFactory(opened_by=leader)
brief = factories.BriefFactory(studio=studio, issued_at=timezone.now(), issued_by=leader)
factories.TargetLineFactory(brief=brief)
factories.MembershipFactory(studio=studio, person=leader, role="leader")
crit = factories.CritFactory(studio=studio)
criteria = [factories.CriterionFactory(crit=crit, position=n, weight=25).pk for n in range(4)]
def session(person=None, seat=None):
    client = Client()
    if person: client.force_login(person)
    else:
        held = client.session; held[SEAT_KEY] = [seat.pk, seat.code]; held.save()
    return client.cookies["sessionid"].value
found = {"criteria": criteria, "schemes": {}}
found |= {name: [] for name in ("students", "jurors", "hangers", "rows")}
for number in range(pairs + hangers):
    is_pair = number < pairs
    members = [factories.PersonFactory() for _ in range(2 if is_pair else 1)]
    for person in members:
        factories.MembershipFactory(studio=studio, person=person)
    scheme = factories.SchemeFactory(studio=studio, members=members)
    row = factories.RowFactory(package=scheme.package, changed_by=members[0])
    found["rows"].append(row.pk)
    if is_pair:
        factories.SlotFactory(crit=crit, scheme=scheme)
        found["schemes"][scheme.pk] = issue(scheme.package, members[0]).pk
    found["students" if is_pair else "hangers"] += [(scheme.pk, session(p)) for p in members]
for _ in range(jurors):
    found["jurors"].append(session(seat=factories.SeatFactory(crit=crit)))
print(json.dumps(found))
"""

DUMP = """
import json, django; django.setup()
from collections import Counter
from django.core.files.storage import default_storage
from reviews.models import *
from reviews.models.sent_pictures import SentPicture
rows = [(r.package.scheme_id, r.cells.get("mark"), r.cells.get("floor_m2"))
        for r in Row.objects.select_related("package")]
print(json.dumps({
    "rows": rows,
    "changes": Counter(str(change.key) for change in Change.objects.exclude(key=None)),
    "levels": [(g.jury_sheet.seat_id, g.jury_sheet.scheme_id, g.criterion_id, g.level, g.version)
               for g in LevelGiven.objects.select_related("jury_sheet")],
    "comments": [(str(c.key), c.words, c.version) for c in Comment.objects.all()],
    "sheets": [(s.package.scheme_id, s.number,
                all(default_storage.exists(f.name) for f in (s.file.image, s.file.preview)))
               for s in Sheet.objects.select_related("package", "file")],
    "in_line": [(s.package.scheme_id, s.name[:2]) for s in
                SentPicture.objects.waiting().select_related("package")],
    "revisions": [(r.scheme_id, r.letter, r.students.count()) for r in Revision.objects.all()],
    "mails": [(m.pk, m.key, m.state) for m in Mail.objects.all()],
}))
"""


@dataclass(frozen=True)
class Studio:
    """Who is there, as the seed tells: sessions, and what each works on.

    schemes   of those that jurors judge, the revision that they are shown
    rows      one of each scheme
    """

    criteria: list[int]
    students: list[tuple[int, str]]
    jurors: list[str]
    hangers: list[tuple[int, str]]
    schemes: dict[str, int]
    rows: list[int]


def run(script: str, *words: str, **of: str) -> dict[str, object]:
    """Run a script on the site of an environment; return what it says."""
    done = subprocess.run(
        [sys.executable, "-c", script, *words],
        cwd=ROOT,
        env={**of, "DJANGO_SETTINGS_MODULE": "reviews.settings"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    said: dict[str, object] = json.loads(done.stdout)
    return said


def seeded(jurors: int, pairs: int, hangers: int = 0, **of: str) -> Studio:
    """Put so many people into an empty, migrated database."""
    return Studio(**run(SEED, f"{jurors}", f"{pairs}", f"{hangers}", **of))
