"""Tables as a ZIP, out and in again: every cell as typed, every figure the same, and no way out."""

import csv
import io
import json
import zipfile
from datetime import UTC, datetime

import pytest

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, SCHEDULES
from criteria.units import PLAIN, DecimalSign, Notation
from reviews.demo.tables import given, typed
from reviews.exchange import data_package_in
from reviews.exchange.data_package import Told, data_package, zip_of
from tests.reviews.exchange.nasty import NASTY, tables_of, told_by

AT = datetime(2026, 11, 28, 12, tzinfo=UTC)


def _parts(tables, notation=PLAIN):
    told = Told(name="H07-A", title="H07 revision A", notation=notation, made_at=AT)
    return data_package([(BY_SLUG[slug], rows) for slug, rows in tables.items()], told)


@pytest.fixture
def read(tmp_path):
    """Read a ZIP of these parts, paths with their text."""

    def laid(parts):
        path = tmp_path / "sent"
        with zipfile.ZipFile(path, "w") as archive:
            for name, text in parts:
                archive.writestr(name, text)
        return data_package_in.read(str(path), {})

    return laid


def _filed(parts):
    return [(part.path, part.text) for part in parts]


def test_every_column_keeps_every_text(tmp_path):
    tables = tables_of(NASTY)
    parts = _parts(tables)
    (tmp_path / "sent").write_bytes(zip_of(parts))
    proposal = data_package_in.read(str(tmp_path / "sent"), {})
    assert told_by(proposal) == tables
    assert (proposal.said, proposal.questions) == ((), ())
    assert zip_of(parts) == zip_of(_parts(tables))


def test_a_package_moves_to_another_installation_with_every_figure(read):
    """One of the demo's, of seventeen schedules."""
    demo = typed(given("H07", "B"))
    tables = {slug: rows for slug, rows in demo.items() if slug in BY_SLUG and rows}
    parts = _parts(tables)
    held = told_by(read(_filed(parts)))
    by_path = dict(_filed(parts))
    figures = 0
    for slug, rows in tables.items():
        schedule = BY_SLUG[slug]
        metric = list(csv.DictReader(io.StringIO(by_path[f"tables/{slug}.csv"])))
        for was, came, written in zip(rows, held[slug], metric, strict=True):
            assert came == {head: text for head, text in was.items() if text}
            row, again = schedule.parse(was), schedule.parse(written)
            for column in schedule.columns:
                value = row.typed(column.attribute)
                assert again.typed(column.attribute) == pytest.approx(value, rel=1e-9)
                figures += isinstance(value, float)
    assert len(tables) >= 15
    assert figures > 300


def test_figures_are_metric_and_what_was_typed_otherwise_stands_beside():
    rows = [
        {"mark": "W1", "sill": "4'-6\"", "glass_w": "1240", "room": "R1"},
        {"mark": "W2", "sill": "0,7 m", "glass_w": "wide"},
    ]
    tables = {"rooms": [{"mark": "R1", "room": "=1+1"}], "windows": rows}
    by_path = dict(_filed(_parts(tables, Notation(decimal=DecimalSign.COMMA))))
    first, second = csv.DictReader(io.StringIO(by_path["tables/windows.csv"]))
    assert (first["sill"], first["glass_w"]) == ("1371.6", "1240")
    assert (second["sill"], second["glass_w"]) == ("700", "")
    was, beside = csv.DictReader(io.StringIO(by_path["typed/windows.csv"]))
    assert (was["sill"], was["mark"], was["glass_w"]) == ("4'-6\"", "W1", "1240")
    assert (beside["sill"], beside["glass_w"]) == ("0,7 m", "wide")
    assert "typed/rooms.csv" not in by_path
    assert ",'=1+1," in by_path["tables/rooms.csv"]


def test_both_descriptions_say_the_same_of_every_column():
    marked = {s.slug: [{s.columns[0].head: "M1"}] for s in SCHEDULES}
    by_path = dict(_filed(_parts(marked)))
    package = json.loads(by_path["datapackage.json"])
    web = json.loads(by_path["csv-metadata.json"])
    tables = {table["url"]: table["tableSchema"] for table in web["tables"]}
    resources = {each["name"]: each for each in package["resources"]}
    assert package["created"] == "2026-11-28T12:00:00Z"
    for schedule in SCHEDULES:
        resource = resources[schedule.slug]
        schema, table = resource["schema"], tables[resource["path"]]
        heads = by_path[resource["path"]].split("\r\n")[0].split(",")
        assert [f["name"] for f in schema["fields"]] == heads
        assert [c["name"] for c in table["columns"]] == heads
        assert schema.get("primaryKey") == table.get("primaryKey")
        keys = {k["fields"] for k in schema.get("foreignKeys", [])}
        filled = {head for head in keys if head == heads[0]}  # the one cell of its row
        assert {k["columnReference"] for k in table.get("foreignKeys", [])} == filled
        for field, column in zip(schema["fields"], table["columns"], strict=True):
            own = schedule.column(field["name"])
            assert field.get("unit", "") == column.get("schema:unitText", "") == own.unit()
            rules, kind = field.get("constraints", {}), column["datatype"]
            assert rules.get("minimum") == (kind.get("minimum") if isinstance(kind, dict) else None)
            assert rules.get("required", False) == own.required
    (room,) = [k for k in resources["windows"]["schema"]["foreignKeys"] if k["fields"] == "room"]
    assert room["reference"] == {"resource": "rooms", "fields": "mark"}
    sill = next(f for f in resources["windows"]["schema"]["fields"] if f["name"] == "sill")
    assert (sill["type"], sill["unit"]) == ("number", "mm")
    assert sill["constraints"] == {"minimum": 0, "maximum": 9000}


def _package(*resources):
    return ("datapackage.json", json.dumps({"resources": list(resources)}))


def test_tables_of_others_are_read_by_their_own_signs_and_units(read):
    fields = [{"name": "Mark"}, {"name": "sill", "unit": "in"}, {"name": "glass_w"}]
    windows = {
        "name": "windows",
        "path": "data/w.csv",
        "dialect": {"delimiter": ";"},
        "schema": {"fields": fields},
    }
    people = {"name": "people", "path": "data/p.csv"}
    proposal = read(
        [_package(windows, people), ("data/w.csv", "Mark;sill;glass_w\nW1;27,5;1240\n")]
    )
    assert told_by(proposal) == {"windows": [{"mark": "W1", "sill": "27,5 in", "glass_w": "1240"}]}
    assert proposal.rows[0].cells["sill"].place == "data/w.csv, line 2, sill"
    assert proposal.said == ("No schedule is called “people”: left out.",)
    (asked,) = proposal.questions
    assert dict(asked.choices)["us"] == "US units: 1240 in"


def test_cells_as_typed_with_other_lines_are_not_laid_over(read):
    parts = _filed(_parts({"windows": [{"mark": "W1", "sill": "4'-6\""}]}))
    parts = [(p, f"{t}W9\r\n" if p == "typed/windows.csv" else t) for p, t in parts]
    proposal = read(parts)
    assert told_by(proposal) == {"windows": [{"mark": "W1", "sill": "1371.6"}]}
    assert "other lines" in proposal.said[0]


TABLE = {"name": "windows", "path": "w.csv"}
HOSTILE = {
    "outside": ([_package({"name": "windows", "path": "../w.csv"})], "the path ../w.csv"),
    "absolute": ([_package({"name": "windows", "path": "/etc/passwd"})], "the path /etc/passwd"),
    "elsewhere": ([_package({"name": "windows", "path": "http://x.example/w"})], "the path http:"),
    "several": ([_package({"name": "windows", "path": ["w.csv"]})], "a table at"),
    "missing": ([_package(TABLE)], "w.csv, which isn’t in the ZIP"),
    "no text": ([_package(TABLE), ("w.csv", b"\xff\xff")], "w.csv, which is no UTF-8"),
    "no table": ([_package(TABLE), ("w.csv", "a" * 200_000)], "w.csv, which is no CSV"),
    "no JSON": ([("datapackage.json", "[" * 100_000)], "datapackage.json, which is no JSON"),
    "no list": ([("datapackage.json", '{"resources": 3}')], "datapackage.json without a list"),
    "no description": ([("w.csv", "mark")], "datapackage.json, which isn’t in the ZIP"),
    "way out": ([_package(TABLE), ("../../w.csv", "mark")], "a ZIP with the part"),
    "large": ([_package(TABLE), ("w.csv", bytes(21 * 2**20))], "w.csv, 21 MB"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_zip_that_means_harm_is_refused_in_words(read, name):
    parts, said = HOSTILE[name]
    with pytest.raises(Refused) as refused:
        read(parts)
    assert refused.value.read.startswith(said)
