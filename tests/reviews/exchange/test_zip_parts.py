"""The parts of a ZIP from outside."""

import io
import stat
import zipfile

import pytest

from criteria.errors import Refused
from reviews.exchange.zip_parts import MOST_PARTS, parts_of


def _zip_at(path, parts):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as made:
        for name, held in parts:
            made.writestr(name, held)
    return str(path)


def _refusal(path, **bounds):
    with pytest.raises(Refused) as refused:
        _read_all(str(path), **bounds)
    return refused.value.read


def _read_all(path, **bounds):
    with parts_of(path, **bounds) as held:
        return [held.read(name) for name in held.namelist()]


def _link():
    info = zipfile.ZipInfo("users.csv")
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    return info


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ([("../users.csv", "")], "a ZIP with the part ../users.csv"),
        ([("/etc/users.csv", "")], "a ZIP with the part /etc/users.csv"),
        ([("a\\..\\..\\users.csv", "")], "a ZIP with the part a/../../users.csv"),
        ([(_link(), "/etc/passwd")], "a ZIP whose part users.csv is a link"),
        ([(f"{n}.csv", "") for n in range(MOST_PARTS + 1)], "a ZIP of 201 parts"),
        ([("users.csv", b"0" * (2 * 2**20))], "a ZIP that unfolds to 2 MB"),
    ],
    ids=["outside", "absolute", "backslashes", "a link", "many", "large"],
)
def test_a_zip_out_of_bounds_is_refused(tmp_path, parts, said):
    path = _zip_at(tmp_path / "x.zip", parts)
    assert _refusal(path, most_mb=1).replace("\\", "/") == said


def test_what_is_cut_or_locked_is_refused_in_words(tmp_path):
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as made:
        made.writestr("users.csv", "sourcedId\n" * 99)
    raw = whole.getvalue()
    cases = {
        "cut": raw[:-40],
        "noise": b"PK\x03\x04" + bytes(range(256)),
        "changed": raw.replace(b"sourcedId\n", b"sourcedID\n", 1),
        "locked": _with_flag(raw),
    }
    for name, held in cases.items():
        (tmp_path / name).write_bytes(held)
    said = {name: _refusal(tmp_path / name) for name in cases}
    assert said == dict.fromkeys(cases, "a ZIP that can't be unpacked") | {
        "locked": "a ZIP with a password"
    }


def _with_flag(raw):
    at = raw.index(b"PK\x01\x02") + 8
    return raw[:at] + b"\x01\x00" + raw[at + 2 :]


def test_what_a_part_says_that_it_holds_is_all_that_it_gives(tmp_path):
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("users.csv", b"0" * 9_000_000)
    raw = whole.getvalue()
    lied = raw.replace((9_000_000).to_bytes(4, "little"), (9).to_bytes(4, "little"))
    assert lied != raw
    (tmp_path / "x.zip").write_bytes(lied)
    assert _refusal(tmp_path / "x.zip", most_mb=1) == "a ZIP that can't be unpacked"
