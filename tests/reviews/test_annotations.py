"""Comments as Web Annotations, held to each MUST of the Recommendation that concerns them.

Web Annotation Data Model, W3C Recommendation 23 February 2017; the section stands at each.
"""

import json
import re
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4
from xml.etree import ElementTree

import pytest
from django.urls import reverse

from reviews.deeds import comment_answering, crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.comment_answering import AnswerSent
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.exchange.annotations import MEDIA_TYPE, Answered, Noted, Where, collection_of
from reviews.models import Closing, Comment, IssuedPackage
from reviews.places import Place, Point
from reviews.reading.sheet_lettering import PageText, Word
from tests import factories

AT = datetime(2026, 11, 29, 10, 4, tzinfo=UTC)
SVG = "{http://www.w3.org/2000/svg}"

MOTIVATIONS = {
    *("assessing", "bookmarking", "classifying", "commenting", "describing", "editing"),
    *("highlighting", "identifying", "linking", "moderating", "questioning", "replying", "tagging"),
}
"""Section 3.3.5."""


def broken(annotation, ids):
    """Every MUST of one annotation that it breaks, by section of the Recommendation."""
    text = lambda each: isinstance(each, str) and each != ""  # noqa: E731
    listed = lambda each: each if isinstance(each, list) else [each]  # noqa: E731
    bodies, targets = listed(annotation.get("body", [])), listed(annotation.get("target", []))
    made, creator = annotation["created"], annotation["creator"]
    held = {
        "3.1 exactly one id, an IRI": re.fullmatch(r"urn:uuid:[0-9a-f-]{36}", annotation["id"]),
        "3.1 its type is Annotation": annotation["type"] == "Annotation",
        "3.1 at least one target": targets,
        "3.1 ids are of one annotation": list(ids).count(annotation["id"]) == 1,
        "3.2.4 a textual body has one value": all(text(each["value"]) for each in bodies),
        "3.2.4 a textual body is of type TextualBody": all(
            each["type"] == "TextualBody" for each in bodies
        ),
        "3.2.1 a format is a media type": all(each["format"] == "text/plain" for each in bodies),
        "3.3.5 a purpose is a motivation": {each["purpose"] for each in bodies} <= MOTIVATIONS,
        "3.3.5 its motivation is one of the list": annotation["motivation"] in MOTIVATIONS,
        "3.3.1 created is a dateTime in UTC, as Z": re.fullmatch(
            r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", made
        ),
        "3.3.1 so is modified": annotation.get("modified", made).endswith("Z"),
        "3.3.2 a creator is a Person of one name": creator["type"] == "Person"
        and text(creator["name"]),
    }
    for target in targets:
        if isinstance(target, str):
            held["3.2.1 a resource is an IRI"] = re.fullmatch(
                r"urn:(uuid|sha256):[0-9a-f-]+|https?://\S+", target
            )
            continue
        selector = target["selector"]
        held["4 a specific resource has one source"] = text(target["source"])
        if selector["type"] == "FragmentSelector":
            box = re.fullmatch(r"xywh=percent:(.+)", selector["value"])[1].split(",")
            left, top, width, height = map(float, box)
            held["4.2.1 a fragment says what it conforms to"] = (
                selector["conformsTo"] == "http://www.w3.org/TR/media-frags/"
            )
            held["Media Fragments 4.2.2 a box within the picture"] = (
                min(left, top) >= 0 < min(width, height)
                and max(left + width, top + height) <= 100.001
            )
        else:
            held["4.2.7 type SvgSelector"] = selector["type"] == "SvgSelector"
            held["4.2.7 its value is well-formed SVG"] = (
                ElementTree.fromstring(selector["value"]).tag == f"{SVG}svg"
            )
    return [rule for rule, holds in held.items() if not holds]


def _noted(where=None, **more):
    at = {"begun_at": AT, "kept_at": AT, "where": where or Where("urn:sha256:0a1b")}
    usual = {"id": f"urn:uuid:{uuid4()}", "by": "Juror B", "kind": "Ask", "words": "Why?"}
    return Noted(**{**usual, **at, "tags": ("Ask", "F2"), **more})


@pytest.mark.parametrize("point", [(0.412, 0.33), (0.0, 0.0), (1.0, 1.0), (0.995, 0.5)])
def test_a_point_is_a_box_about_it_within_the_sheet(point):
    made = collection_of("urn:uuid:1", "x", [_noted(Where("urn:sha256:0a1b", point=point))])
    comment = made["first"]["items"][0]
    assert broken(comment, [comment["id"]]) == []
    box = comment["target"]["selector"]["value"]
    assert box == {0.412: "xywh=percent:40.2,32,2,2"}.get(point[0], box)


def test_what_a_comment_says_and_is_of_stands_in_its_annotation():
    strokes = (((0.0, 0.0), (0.5, 0.25)),)
    where = Where("urn:sha256:0a1b", (0.5, 0.5, 1 / 6, 0.25), None, strokes, 1600, 1000)
    comment = collection_of("urn:uuid:1", "H13", [_noted(where)])["first"]["items"][0]
    assert comment["motivation"] == "questioning"
    assert [(each["purpose"], each["value"]) for each in comment["body"]] == [
        ("questioning", "Why?"),
        ("tagging", "Ask"),
        ("tagging", "F2"),
    ]
    square, drawn = comment["target"]
    assert square["selector"]["value"] == "xywh=percent:50,50,16.6667,25"
    svg = ElementTree.fromstring(drawn["selector"]["value"])
    assert svg.get("viewBox") == "0 0 1600 1000"
    assert [line.get("points") for line in svg] == ["0.0,0.0 800.0,250.0"]


SAMPLE = json.loads((Path(__file__).parent / "exchange/data/annotation.json").read_text())
"""A comment and its answer, ours, held to the JSON schemas of the W3C's own tests of the model."""

OPTIONS = {"@context", "language", "format", "modified"}
"""What a SHOULD or MAY asks: the sample and we choose otherwise. So is a creator's own id."""


def plain(told, name=""):
    """An annotation without its options, single values in lists, figures as figures."""
    if isinstance(told, list):
        return [plain(each) for each in told]
    if not isinstance(told, dict):
        box = str(told).removeprefix("xywh=percent:")
        return [float(part) for part in box.split(",")] if box != told else told
    kept = {key: plain(value, key) for key, value in told.items() if key not in OPTIONS}
    for key in ("body", "selector"):
        if key in kept and not isinstance(kept[key], list):
            kept[key] = [kept[key]]
    for key in {"creator": ["id"], "target": ["type"]}.get(name, []):
        kept.pop(key, None)
    return kept


def test_what_we_write_is_the_published_sample_but_for_its_options():
    comment, answer = SAMPLE["comment"], SAMPLE["answer"]
    at, by = datetime(2026, 11, 28, 10, 4, tzinfo=UTC), comment["creator"]["name"]
    made = _noted(
        Where("urn:sha256:0a1b", (0.412, 0.33, 0.02, 0.02)),
        id=comment["id"],
        by=by,
        words="Why is the sill at 900?",
        tags=("light",),
        begun_at=at,
        answer=Answered(answer["id"], by, at, answer["body"]["value"]),
    )
    items = collection_of("urn:uuid:1", "H13", [made])["first"]["items"]
    sample = [plain(comment), plain(answer)]
    sample[1]["body"][0]["purpose"] = "replying"  # an option of ours: the sample leaves it to 3.3.5
    assert [plain(each) for each in items] == sample
    ids = [each["id"] for each in items]
    assert [rule for each in items for rule in broken(each, ids)] == []


def test_nothing_said_is_an_empty_collection():
    """5.1: a total of none needs no first page."""
    made = collection_of("urn:uuid:1", "H13", [])
    assert (made["total"], "first" in made) == (0, False)


@pytest.fixture
def released(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02")
    drawn = ((Point(0.6, 0.6), Point(0.7, 0.6)),)
    for sent in (
        CommentSent("Ask", Place("02", "C4"), cast.criterion, "Why 900?", Point(0.6, 0.6), drawn),
        CommentSent("Keep", Place("02", "A1"), None, "The lee."),
        CommentSent("", Place(), None, "Who empties it?"),
        CommentSent("Rework", Place("02", "B2"), None, "You gave up."),
    ):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), sent, 0)
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    unkind = Comment.objects.get(words="You gave up.")
    crit_moderating.hold_comment(unkind, cast.leader, "About the person.")
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    answer = AnswerSent("Taken up", "Sill at 450.", "02 C4")
    comment_answering.answer_comment(Comment.objects.get(kind="Ask"), cast.student, answer, 0)
    return cast


def _export(cast, who):
    where = reverse("export-annotations", args=[cast.crit.pk, cast.scheme.pk])
    return cast.client(who).get(where)


def test_released_comments_and_answers_meet_every_must(released):
    response = _export(released, released.student)
    assert response["Content-Type"] == MEDIA_TYPE
    made = json.loads(response.content)
    items = made["first"]["items"]
    ids = [each["id"] for each in items]
    assert {rule for each in items for rule in broken(each, ids)} == set()
    assert made["@context"] == "http://www.w3.org/ns/anno.jsonld"  # 3.1, 5.1
    assert (made["type"], made["first"]["type"]) == ("AnnotationCollection", "AnnotationPage")
    assert made["total"] == len(items) == 4  # 5.1, 5.2
    assert made["id"] != made["first"]["id"]
    answers = [each for each in items if each["motivation"] == "replying"]
    asked = next(each for each in items if each["motivation"] == "questioning")
    assert [each["target"] for each in answers] == [asked["id"]]
    assert "Sill at 450." in answers[0]["body"]["value"]
    tags = [each["value"] for each in asked["body"] if each["purpose"] == "tagging"]
    assert tags == ["Ask", str(released.criterion)]  # in words: a code says nothing elsewhere
    sheet = released.scheme.revisions.get().sheets.get()
    assert {each["source"] for each in asked["target"]} == {f"urn:sha256:{sheet.file.sha256}"}


LETTERS = PageText((Word("W2", 0.58, 0.59, 0.04, 0.02), Word("W1", 0.1, 0.1, 0.04, 0.02)))
"""The comment that asks has its point at (0.6, 0.6): on W2, the second row."""


@pytest.mark.parametrize(
    ("letters", "marks", "leads"),
    [
        (LETTERS, "W1 W2", True),
        (LETTERS, "W1", False),  # read today, and no mark when it was issued
        (PageText((Word("W2", 0.58, 0.59, 0.019, 0.02),)), "W1 W2", False),  # near is no row
        (PageText(), "W1 W2", False),
    ],
)
def test_a_point_on_the_letters_of_a_mark_is_of_its_row_too(released, letters, marks, leads):
    revision = released.scheme.revisions.get()
    contents = dict(revision.contents) | {
        "schedules": {
            "windows": [{"mark": "W1"}, {"mark": "W2", "sill": "900"}],
            "plan_marks": [{"sheet": "02", "marks": marks, "how": "read"}],
        }
    }
    IssuedPackage.objects.filter(revision=revision).update(contents=contents)
    revision.sheets.update(lettering=letters.as_record())
    items = json.loads(_export(released, released.student).content)["first"]["items"]
    assert [rule for each in items for rule in broken(each, [i["id"] for i in items])] == []
    rows = [
        (each["motivation"], target)
        for each in items
        for target in (each["target"] if isinstance(each["target"], list) else [])
        if isinstance(target, str)
    ]
    address = reverse("show-issued-schedule", args=[revision.pk, "windows"])
    assert rows == ([("questioning", f"http://testserver{address}#line-2")] if leads else [])
    page = released.client(released.student).get(address).content.decode()
    assert "W2" in page.partition('id="line-2"')[2].partition("</tr>")[0]


def test_how_a_comment_stands_moderates_it(released):
    asked = Comment.objects.get(kind="Ask")
    for is_closed, words in ((True, ""), (False, "Sheet 02 says another sill.")):
        Closing.objects.create(comment=asked, is_closed=is_closed, words=words, by=released.leader)
        items = json.loads(_export(released, released.student).content)["first"]["items"]
        ids = [each["id"] for each in items]
        (stands,) = [each for each in items if each["motivation"] == "moderating"]
        assert broken(stands, ids) == []
        assert stands["target"] == f"urn:uuid:{asked.key}"
        assert stands["creator"]["name"] == released.leader.name
        said = [(each["purpose"], each["value"]) for each in stands["body"]]
        state = ("tagging", "Closed" if is_closed else "Open again")
        assert said == [state, *([("moderating", words)] if words else [])]


def test_names_are_those_that_readers_know_and_what_is_held_stays_out(released):
    released.crit.refresh_from_db()
    released.crit.names_jurors = False
    released.crit.save()
    text = _export(released, released.leader).content.decode()
    assert "Juror A" in text
    assert released.seat.name not in text
    assert released.seat.code not in text
    assert "You gave up." not in text


def test_only_its_own_people_and_leaders_take_them_and_only_once_released(released):
    assert _export(released, released.leader).status_code == 200
    assert _export(released, released.examiner).status_code == 403
    assert _export(released, released.coordinator).status_code == 403
    assert _export(released, released.classmate).status_code == 404
    page = reverse("show-results", args=[released.crit.pk, released.scheme.pk])
    assert "annotations/" in released.client(released.student).get(page).content.decode()
    assert "annotations/" not in released.client(released.examiner).get(page).content.decode()
