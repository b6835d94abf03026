"""A school's roster: OneRoster 1.2 CSV, written by hand after the binding's heads."""

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from criteria.errors import Refused
from reviews.exchange import roster
from reviews.exchange.kinds import kind_of

ROSTER = Path(__file__).parent / "data" / "roster.zip"
"""Ours: users.csv with the heads of two public programs, the rest as the standard names them."""

USERS = "sourcedId,status,enabledUser,givenName,familyName,email,password,birthDate\n"
ENROLLED = "sourcedId,status,classSourcedId,userSourcedId,role,endDate\n"
PARTS = {
    "manifest.csv": "propertyName,value\noneroster.version,1.2\nfile.enrollments,bulk\n",
    "classes.csv": "sourcedId,status,title,classCode\nc1,,Studio 4,\n",
    "users.csv": USERS + "u1,,true,Ada,Merrowby,ada@example.org,secret,2004-02-29\n",
    "enrollments.csv": ENROLLED + "e1,,c1,u1,student,\n",
}


@pytest.fixture
def zipped(tmp_path):
    def made(folder="", **changed):
        path = tmp_path / "roster.zip"
        parts = PARTS | {f"{name}.csv": text for name, text in changed.items()}
        with zipfile.ZipFile(path, "w") as out:
            for name, text in parts.items():
                if text is not None:
                    raw = text if isinstance(text, bytes) else text.encode()
                    out.writestr(folder + name, raw)
        return str(path)

    return made


def _people(proposal):
    heads = ("name", "email", "role")
    return [
        (row.source, *(row.cells[h].text if h in row.cells else None for h in heads))
        for row in proposal.rows
    ]


def test_of_several_classes_the_leader_picks_one():
    asked = roster.read(str(ROSTER), {})
    (question,) = asked.questions
    assert (asked.rows, question.chosen) == ((), "")
    assert question.choices == (("c1", "Studio 4: 5 people"), ("c2", "Structures 2: 1 person"))


def test_who_is_in_the_class_is_proposed_and_who_is_not_enabled_is_said():
    told = roster.read(str(ROSTER), {"class": "c1"})
    assert _people(told) == [
        ("u1", "Addie Merrowby", "ada@example.org", "student"),
        ("u2", "Li Ōta, jr", "li@example.org", "student"),
        ("u4", "R. Okafor", "rok@example.org", "leader"),
        ("u5", "No Mail", None, "student"),
    ]
    assert told.said == ("Left Already isn’t enabled in the file, and is left out.",)
    assert told.about == {"is_whole": True}


def test_nothing_else_of_a_person_leaves_the_file(zipped):
    told = json.dumps(roster.read(zipped(), {}).as_json())
    assert "ada@example.org" in told
    assert not [word for word in ("secret", "2004", "birth", "password") if word in told.lower()]


def test_one_class_is_not_asked_for(zipped):
    told = roster.read(zipped(folder="export/"), {})
    assert told.questions[0].chosen == "c1"
    assert _people(told) == [("u1", "Ada Merrowby", "ada@example.org", "student")]


@pytest.mark.parametrize(
    ("user", "enrolled", "said"),
    [
        ("u1,tobedeleted,true,Ada,M,a@b.org,,", "c1,u1,student,", "Ada M is to be deleted by"),
        ("u1,,FALSE,Ada,M,a@b.org,,", "c1,u1,student,", "Ada M isn’t enabled in the file"),
        ("u1,,true,Ada,M,a@b.org,,", "c1,u1,proctor,", "Ada M is in the class as proctor"),
        ("u1,,true,Ada,M,a@b.org,,", "c1,u9,student,", "u9 is enrolled but isn’t in users.csv"),
    ],
)
def test_who_is_left_out_is_named_with_the_reason(zipped, user, enrolled, said):
    path = zipped(users=f"{USERS}{user}\n", enrollments=f"{ENROLLED}e1,,{enrolled}\n")
    told = roster.read(path, {})
    assert told.rows == ()
    assert told.said[0].startswith(said)
    assert told.said[0].endswith("left out.")


def test_what_is_to_be_deleted_is_neither_class_nor_place(zipped):
    path = zipped(
        classes=PARTS["classes.csv"] + "c2,tobedeleted,Old,\n",
        enrollments=PARTS["enrollments.csv"] + "e2,tobedeleted,c1,u1,teacher,\n",
    )
    told = roster.read(path, {})
    assert [row.cells["role"].text for row in told.rows] == ["student"]
    assert [value for value, _ in told.questions[0].choices] == ["c1"]


def test_the_same_person_is_one_row_a_role_and_an_end_is_said(zipped):
    lines = "e1,,c1,u1,Student,\ne2,,c1,u1,student,\ne3,,c1,u1,teacher,2026-12-18\n"
    told = roster.read(zipped(enrollments=ENROLLED + lines), {})
    assert [row.cells["role"].text for row in told.rows] == ["student", "leader"]
    end = "The file ends the time of Ada Merrowby in the class on 2026-12-18."
    assert told.said == (end,)


def test_a_file_of_changes_tells_nobody_gone(zipped):
    told = roster.read(zipped(manifest=PARTS["manifest.csv"].replace("bulk", "delta")), {})
    assert told.about == {"is_whole": False}
    assert "changes alone" in told.said[0]


def test_another_version_or_none_is_said(zipped):
    older = PARTS["manifest.csv"].replace("1.2", "1.1")
    assert "names OneRoster 1.1" in roster.read(zipped(manifest=older), {}).said[0]
    unnamed = "propertyName,value\nfile.users,bulk\n"
    assert "names no version" in roster.read(zipped(manifest=unnamed), {}).said[0]
    assert "no manifest.csv" in roster.read(zipped(manifest=None), {}).said[0]


@pytest.mark.parametrize(
    ("changed", "answer", "read"),
    [
        ({"users": None}, "", "a ZIP without users.csv"),
        ({"users": "sourcedId,givenName\nu1,Ada\n"}, "", "users.csv without familyName, email"),
        ({"users": ""}, "", "users.csv without sourcedId, givenName, familyName, email"),
        ({"users": USERS.encode() + b"u1,,true,Zo\xeb,,,,\n"}, "", "users.csv in letters that"),
        ({"users": USERS + "u1,,true," + "a" * 200_000}, "", "users.csv: field larger than"),
        ({"classes": "sourcedId,title\n"}, "", "classes.csv without a class that stands"),
        ({"manifest": "propertyName,value\nfile.users,absent"}, "", "a manifest that says users"),
        ({}, "c7", "c7"),
    ],
)
def test_what_is_no_roster_is_refused_with_what_it_lacks(zipped, changed, answer, read):
    with pytest.raises(Refused) as refused:
        roster.read(zipped(**changed), {"class": answer})
    assert refused.value.read.startswith(read)


def test_a_roster_is_told_by_its_parts_and_read_in_a_process_of_its_own():
    with ROSTER.open("rb") as file:
        assert kind_of(file).name == "roster"
    command = [sys.executable, "-m", "reviews.exchange.read", "roster", str(ROSTER)]
    told = json.loads(subprocess.run([*command, '{"class": "c2"}'], capture_output=True).stdout)
    assert [row["source"] for row in told["rows"]] == ["u1"]
