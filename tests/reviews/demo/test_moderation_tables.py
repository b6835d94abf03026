"""The tables that the scenario prints of its crits, on the leader's page to the printed digit.

Printed from binary floats were E07 2.42, E08 3.92 and, of Ferro's room, 3.02: 2.425, 3.925 and
3.025 exactly, and half up the other digit. The page shows that one.
"""

from datetime import date
from html.parser import HTMLParser

import pytest
from django.test import Client
from django.urls import reverse

from reviews.demo import crits, studios
from reviews.demo.agreed import agree
from reviews.demo.scenario import STUDIOS, Calendar
from reviews.models import Crit, Verdict
from reviews.reading.crit_agreed import agreed_of, weighted_agreed

pytestmark = pytest.mark.django_db

FINAL = """
E01 3 3.98 2.00 3 5 3.98 | E02 11 3.25 1.80 8 9 3.25 | E03 7 3.56 2.40 6 8 3.56
E04 5 4.09 1.85 1 1 4.09 | E05 14 3.33 1.40 7 6 3.36 | E06 1 2.30 1.70 12 12 2.30
E07 9 2.43 1.65 11 11 2.43 | E08 12 3.93 1.95 4 4 3.93 | E09 4 1.91 1.85 13 13 1.91
E10 10 3.89 2.10 5 2 3.89 | E11 13 3.14 2.00 9 7 3.14 | E12 2 2.99 1.25 10 10 2.99
E13 6 1.78 1.50 14 14 1.75 | E14 8 4.06 1.35 2 3 4.06
"""
"""Scheme, position, mean, spread, rank, rank without Ferro, level without juror effect."""

JURORS = """
Hesper Quill: 14 2.50 0.77 −0.92 −0.68 0.85 0.32 −0.024 0.43
Bea Lantry: 14 3.90 0.77 +0.97 +0.71 0.83 0.35 +0.060 0.41
Marek Ostrey: 13 3.25 0.88 +0.09 +0.08 0.90 0.28 −0.024 0.60
Cass Ferro: 13 3.20 1.28 −0.14 −0.10 0.49 0.80 −0.013 0.45
"""
ROOM_A = """
Hesper Quill: 8 2.65 0.74 −0.85 −0.57 0.98 0.13 0.32
Bea Lantry: 8 3.95 0.62 +1.10 +0.73 0.89 0.19 0.38
Odell Brannick: 8 3.05 0.60 −0.25 −0.17 0.92 0.17 0.59
"""
ROOM_B = """
Marek Ostrey: 8 3.53 0.83 +0.07 +0.05 0.62 0.49 0.45
Cass Ferro: 8 3.03 1.40 −0.68 −0.45 0.58 0.71 0.40
Pia Norrow: 8 3.89 0.63 +0.61 +0.41 0.82 0.36 0.09
"""
CRITERIA = """
F1 3.56 1.93 12 1.45 1 | F2 3.07 1.64 8 1.37 2 | F3 3.22 1.86 11 1.47 2
F4 2.91 1.86 10 1.41 2 | F5 3.11 1.79 10 1.48 2 | F6 3.30 2.07 13 1.65 4
F7 3.28 1.71 9 1.35 2 | F8 3.37 1.71 9 1.42 1
"""
IMPRESSIONS = """
E01 3 (3.00) 4 (4.00) 4 (3.90) 5 (5.00) | E02 2 (2.15) 4 (3.85) 3 (3.05) 4 (3.95)
E03 4 (2.40) 4 (3.85) 3 (3.20) 5 (4.80) | E04 4 (3.80) 5 (4.85) 5 (4.70) 3 (3.00)
E05 3 (3.00) 4 (4.20) – 3 (2.80) | E06 2 (1.80) 3 (3.15) 3 (2.80) 1 (1.45)
E07 2 (1.80) 3 (3.45) 3 (2.60) 2 (1.85) | E08 3 (2.75) 5 (4.70) 4 (3.70) 5 (4.55)
E09 2 (1.70) 2 (2.85) 2 (2.10) 1 (1.00) | E10 4 (3.55) 5 (5.00) 4 (4.10) 3 (2.90)
E11 2 (2.30) 4 (4.30) 3 (3.40) 3 (2.55) | E12 2 (2.35) 3 (3.05) 2 (2.95) 5 (3.60)
E13 1 (1.15) 3 (2.65) 2 (1.55) – | E14 3 (3.30) 5 (4.65) 4 (4.20) 4 (4.10)
"""
"""Quill, Lantry, Ostrey, Ferro."""

SEEN_A = """
H01 1.80 3.00 2.55 2.45 | H02 3.00 4.00 3.20 3.40 | H03 3.00 4.45 3.55 3.67
H04 2.35 3.70 2.70 2.92 | H05 3.20 4.20 3.70 3.70 | H06 1.90 3.80 2.25 2.65
H07 2.05 3.45 2.60 2.70 | H10 3.90 5.00 3.85 4.25
"""
SEEN_B = """
H03 4.45 3.90 4.20 4.18 | H08 3.20 1.80 3.00 2.67 | H09 3.20 5.00 4.00 4.07
H10 4.50 5.00 4.90 4.80 | H11 3.05 1.75 4.00 2.93 | H12 3.80 2.55 4.00 3.45
H13 2.00 2.15 3.00 2.38 | H14 4.00 2.05 4.00 3.35
"""
VERDICTS = {
    "go-on": "H02 H03 H05 H09 H10 H12 H14",
    "corrections": "H01 H04 H06 H08 H11",
    "again": "H07 H13",
}


def rows(printed):
    """Each printed row by its first word."""
    lines = [line for part in printed.strip().splitlines() for line in part.split(" | ")]
    return {line.split()[0]: line.split()[1:] for line in lines}


def by_juror(printed):
    return {
        name: figures.split()
        for name, _, figures in (line.partition(":") for line in printed.strip().splitlines())
    }


class Tables(HTMLParser):
    """Every table of a page by the name of its region: heads, and rows of cells; units left out."""

    def __init__(self, page):
        super().__init__()
        self.found, self._rows, self._cell, self._spans = {}, None, None, []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if given.get("role") == "region":
            self._rows = self.found.setdefault(given["aria-label"], [])
        elif tag == "tr" and self._rows is not None:
            self._rows.append([])
        elif tag in ("td", "th") and self._rows:
            self._cell, self._spans = [], []
        elif tag in ("span", "strong"):
            self._spans.append(given.get("class", ""))

    def handle_endtag(self, tag):
        if tag in ("span", "strong") and self._spans:
            self._spans.pop()
        elif tag in ("td", "th") and self._cell is not None:
            self._rows[-1].append(" ".join("".join(self._cell).split()))
            self._cell = None
        elif tag == "table":
            self._rows = None

    def handle_data(self, data):
        if self._cell is not None and not {"unit", "scheme-name"} & {*self._spans}:
            self._cell.append(data)

    def of(self, name, *heads):
        """Rows by their first cell, under some heads; all of them where none is named."""
        (head, *lines) = self.found[name]
        places = [head.index(each) for each in heads] or range(1, len(head))
        return {line[0]: [line[place] for place in places] for line in lines}


@pytest.fixture(scope="module")
def pages(django_db_setup, django_db_blocker):
    """The leader's page of cohort E's final and of cohort H's interim, and these crits."""
    from django.db import transaction

    calendar = Calendar(date(2026, 12, 4))
    with (
        django_db_blocker.unblock(),
        pytest.MonkeyPatch.context() as patch,
        transaction.atomic(),
    ):
        patch.setattr(crits, "_comment", lambda *given: None)
        found = {}
        for story in STUDIOS:
            is_final = story.letter == "E"
            kind = Crit.Kind.FINAL if is_final else Crit.Kind.INTERIM
            day = story.final if is_final else story.interim
            crit = studios.open_studio(story, calendar).crits.get(kind=kind)
            if is_final:
                crits._step_aside(
                    crit, "Marek Ostrey", "E05", "Worked for my firm.", calendar.at(*day, "09:00")
                )
            crits._hold(crit, story, calendar.at(*day, "12:00"))
            client = Client()
            client.force_login(studios.leader())
            page = client.get(reverse("show-table", args=[crit.pk])).content.decode()
            agree(crit, story, calendar.at(*day, "18:00"))
            after = client.get(reverse("show-table", args=[crit.pk])).content.decode()
            found[story.letter] = crit, page, after
        yield found
        transaction.set_rollback(True)


def test_the_final_of_cohort_e(pages):
    _, page, _ = pages["E"]
    tables = Tables(page)
    heads = (
        "Position",
        "As given",
        "Spread",
        "Place by the mean",
        "Without Cass Ferro",
        "Effect out",
    )
    assert tables.of("All schemes", *heads) == rows(FINAL)
    assert tables.of("Jurors of the crit") == by_juror(JURORS)
    shown = tables.of(
        "By criterion",
        "Mean level", "Spread as given", "Schemes 2 apart", "Spread, severity out",
    )  # fmt: skip
    printed = rows(CRITERIA)
    assert {name.split()[0]: line for name, line in shown.items()} == {
        code: line[:4] for code, line in printed.items()
    }
    out = [line[6] for line in tables.found["By criterion"][1:]]
    assert out[: len(printed)] == [line[4] for line in printed.values()]
    given = tables.of("Impressions and weighted levels", *JUROR_ORDER)
    assert {scheme: " ".join(line) for scheme, line in given.items()} == {
        scheme: " ".join(line) for scheme, line in rows(IMPRESSIONS).items()
    }


JUROR_ORDER = "Hesper Quill", "Bea Lantry", "Marek Ostrey", "Cass Ferro"


def test_hundredths_make_no_ranking(pages):
    _, page, _ = pages["E"]
    alike = page.partition("Not separable: ")[2].partition("</p>")[0]
    assert "E04" in alike.partition(";")[0]
    assert "E14" in alike.partition(";")[0]
    places = [line[4] for line in Tables(page).found["All schemes"][1:]]
    assert len(places) == 14
    assert page.count(">open: ") == 14


def test_the_interim_of_cohort_h_by_room(pages):
    _, page, _ = pages["H"]
    tables = Tables(page)
    for room, jurors, seen, order in (
        ("A", ROOM_A, SEEN_A, ("Hesper Quill", "Bea Lantry", "Odell Brannick")),
        ("B", ROOM_B, SEEN_B, ("Marek Ostrey", "Cass Ferro", "Pia Norrow")),
    ):
        assert tables.of(f"Schemes of room {room}", *order, "Mean") == rows(seen)
        figures = tables.of(f"Jurors of the room {room}")
        # the scenario gives the rooms no places in the day, so it prints no drift
        shown = {name: [*line[:7], line[8]] for name, line in figures.items()}
        assert shown == by_juror(jurors)
    assert tables.of("Rooms A and B") == {
        "H03": ["3.67", "4.18", "−0.52"],
        "H10": ["4.25", "4.80", "−0.55"],
    }
    said = "Room A gave the opening pair 0.53 lower than Room B (95 % interval −1.14 to +0.07"
    assert said in " ".join(page.split())
    assert "Rooms A and B share no juror: one row is held together by H03 and H10" in page


def test_decisions_stand_in_their_order_and_lead_to_the_words(pages):
    crit, page, after = pages["E"]
    found = page.partition('id="decide-title"')[2].partition('id="strips-title"')[0]
    titles = (
        "Two levels apart or more", "Near a boundary where one juror decides the side",
        "Jurors to talk with", "Missing or partial panels", "Few comments, or nothing to keep",
        "Impression and weighted level far apart",
    )  # fmt: skip
    places = [found.index(title) for title in titles]
    assert places == sorted(places)
    scheme = crit.studio.schemes.get(number="E03").pk
    assert f"/table/{scheme}/#levels-title" in found
    for words in (
        "2.40 levels apart: Hesper Quill 2.40, Cass Ferro 4.80",
        "mean 3.56, near 3.5: 3.47 without Bea Lantry; 3.15 without Cass Ferro",
        "Hesper Quill: impression 4, criteria 2.40",
        "Marek Ostrey: impression 2, criteria 2.95",
        "Bea Lantry: impression 2, criteria 2.85",
        "Hesper Quill: 0.92 below the others on the same schemes",
        "leftover scatter 0.80",
        "Looked for, and nothing found: Hazards open; Held for tone; Opposed comments",
    ):
        assert words in found, words
    agreed = after.partition('id="decide-title"')[2].partition('id="strips-title"')[0]
    assert "levels apart:" not in agreed
    assert "near 3.5" not in agreed


def test_what_is_agreed_of_both_crits(pages):
    final, _, page = pages["E"]
    interim = pages["H"][0]
    for crit in (final, interim):
        agreed, criteria = agreed_of(crit), list(crit.criteria.all())
        assert len(agreed) == 14
        assert all(weighted_agreed(criteria, own).available for own in agreed.values())
    assert [
        (row.scheme.number, row.criterion.code, row.level)
        for own in agreed_of(final).values()
        for row in own.values()
        if row.reason
    ] == [("E03", "F4", 2)]
    for kind, numbers in VERDICTS.items():
        given = Verdict.objects.standing().filter(crit=interim, kind=kind)
        assert sorted(given.values_list("scheme__number", flat=True)) == numbers.split()
    assert "Show again: F1, F2, F4, F6" in page
