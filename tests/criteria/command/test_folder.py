import pytest

from criteria.command.folder import Unreadable, cohort_of, packages_in, read_folder
from criteria.schedules.openings import Window

ROOMS = "mark,room,floor_m2,clear_height_m,use,sleepers\nR1,Day room,10,2.4,day,\n"
WINDOWS = "mark,room,n,glass_w,glass_h,open_share\nW1,R1,1,1000,800,0.5\n"
TARGETS = "id,what,check,rule,value,unit,note\nT01,Light,daylight_ratio,at least,8,%,\n"
SITE = "people,water_l_pd\n4,15\n"


@pytest.fixture
def folder(tmp_path):
    """A folder of files that can be read, some of them replaced or (None) left out."""

    def made(**files: str | bytes | None):
        texts = {"rooms": ROOMS, "windows": WINDOWS, "targets": TARGETS, "site": SITE, **files}
        for name, content in texts.items():
            if content is not None:
                data = content if isinstance(content, bytes) else content.encode()
                (tmp_path / f"{name}.csv").write_bytes(data)
        return tmp_path

    return made


@pytest.fixture
def problems(folder):
    """Every problem of a folder with some files replaced."""

    def found(options=None, **files) -> list[str]:
        with pytest.raises(Unreadable, match="expected") as unreadable:
            read_folder(folder(**files), **(options or {}))
        assert str(unreadable.value) == "\n".join(unreadable.value.problems)
        return unreadable.value.problems

    return found


def test_a_folder_is_read_into_a_package_and_its_targets(folder):
    reading = read_folder(folder())
    assert [r.mark for r in reading.package.rooms] == ["R1"]
    assert [w.glass_w_m for w in reading.package.windows] == [1.0]
    assert reading.package.site.people == 4
    assert [t.ref for t in reading.targets] == ["T01"]
    assert reading.figures == {}


def test_a_folder_need_not_hold_every_file(folder):
    reading = read_folder(folder(windows=None, targets=None, site=None))
    assert (reading.package.rows_of(Window), reading.targets) == ((), ())
    assert reading.package.site.if_given("people") is None


def test_a_heads_unit_counts_for_bare_numbers_alone(folder):
    windows = "Mark,Room,No.,Glass w [in],Glass h [in]\nW1,R1,1,36,900 mm\nW2,R1,1,-,4'-6\"\n"
    rows = read_folder(folder(windows=windows)).package.windows
    assert [w.if_given("glass_w_m") for w in rows] == [pytest.approx(0.9144), None]
    assert [w.glass_h_m for w in rows] == [0.9, pytest.approx(1.3716)]


def test_a_file_from_a_spreadsheet_may_start_with_a_mark_and_part_by_semicolons(folder):
    text = "\ufeffmark;room;floor_m2;use\r\nR1;Day room;10;day\r\n\r\n;;;\r\n"
    assert read_folder(folder(rooms=text)).package.rooms[0].floor_m2 == 10


def test_figures_that_only_the_targets_say_are_read_and_named(folder):
    targets = (
        "id,what,rule,value,unit,note\n"
        "T07,Floor area per person (13 people),at least,4.5,m2,\n"
        'T14,"Water days, full house, 12 L per person-day",at least,10,days,\n'
    )
    reading = read_folder(folder(targets=targets, site=None))
    assert reading.package.site.people == 13
    assert reading.figures == {"People in the brief": "13", "Water per person-day": "12"}


def test_the_site_sheet_counts_before_words(folder):
    targets = "id,what,rule,value\nT07,Floor area per person (13 people),at least,4.5\n"
    reading = read_folder(folder(targets=targets))
    assert (reading.package.site.people, reading.figures) == (4, {})


TWO = (
    "scheme,rev,mark,room,floor_m2,use\n"
    "H01,A,R1,Day room,10,day\nH01,B,R1,Day room,20,day\nH02,A,R1,Day room,30,day\n"
)


@pytest.mark.parametrize(
    ("scheme", "rev", "floor"), [("H01", "A", 10), ("H01", "B", 20), ("H02", "", 30), ("", "B", 20)]
)
def test_one_of_several_packages_is_chosen(folder, scheme, rev, floor):
    reading = read_folder(folder(rooms=TWO), scheme=scheme, rev=rev)
    assert [r.floor_m2 for r in reading.package.rooms] == [floor]


def test_the_packages_of_a_folder_are_listed_once(folder):
    blank_row = TWO + ",,,,,\n"
    assert packages_in(folder(rooms=blank_row)) == [("H01", "A"), ("H01", "B"), ("H02", "A")]
    assert packages_in(folder()) == []


def test_a_folder_of_one_package_needs_no_choice(folder):
    one = "scheme,mark,room,use\nH01 ,R1,Day room,day\n,,,\n"
    assert read_folder(folder(rooms=one)).package.rooms[0].name == "Day room"


TWO_COHORTS = (
    "cohort,id,check,rule,value\nH,T01,water_days,at least,10\nE,T01,water_days,at least,14\n"
)


def test_the_cohort_of_a_scheme_chooses_its_targets(folder):
    path = folder(rooms=TWO, targets=TWO_COHORTS, schemes="cohort,no\nH,H01\nE,H02\n")
    assert cohort_of(path, "H02") == "E"
    assert cohort_of(path, "H03") == ""
    (target,) = read_folder(path, scheme="H02").targets
    assert target.values == (14 * 86_400,)
    (target,) = read_folder(path, scheme="H02", cohort="H").targets
    assert target.values == (10 * 86_400,)


def test_targets_may_stand_in_another_file(folder, tmp_path):
    other = tmp_path / "brief.csv"
    other.write_text("id,check,rule,value\nT09,daylight_ratio,at least,12\n")
    (target,) = read_folder(folder(), targets_file=other).targets
    assert target.ref == "T09"


# Each broken folder, and what a person is told: file, row, column, read, expected.
@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({"rooms": ROOMS.replace(",use", ",usage")},
         "rooms.csv, row 1, heads: read “mark, room, floor_m2, clear_height_m, usage, sleepers”; "
         "expected also a column use"),
        ({"rooms": ROOMS.replace("Day", "D\xe9").encode("latin-1")},
         "rooms.csv, row 2: read byte 0xe9; expected text in UTF-8"),
        ({"rooms": ROOMS.encode("utf-16")},
         "rooms.csv, row 1: read byte 0xff; expected text in UTF-8"),
        ({"rooms": ""}, "rooms.csv, row 1: read nothing; expected heads"),
        ({"rooms": "\n\nmark,room\n"}, "rooms.csv, row 1: read nothing; expected heads"),
        ({"rooms": ROOMS.replace("day,", "day,,x")},
         "rooms.csv, row 2, beyond the last column: read “x”; expected 6 cells in a row"),
        ({"targets": "id,what\nT01,Light\n"},
         "targets.csv, row 1, heads: read “id, what”; expected also a column rule, value"),
        ({"targets": TWO_COHORTS},
         "targets.csv, column cohort: read no --cohort; expected one cohort among H, E"),
        ({"windows": WINDOWS.replace("open_share", "Glass w [in]")},
         "windows.csv, row 1, heads: read “Glass w [in]” again; expected each column once"),
        ({"rooms": TWO},
         ": read no --scheme and --rev; expected one package among H01 A, H01 B, H02 A"),
    ],
)  # fmt: skip
def test_a_broken_file_is_named_with_row_column_read_and_expected(problems, files, said):
    found = problems(**files)
    assert len(found) == 1
    assert said in found[0]


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({"windows": WINDOWS.replace("1000", "1000 kg")},
         "windows.csv, row 2 (W1), column Glass w: read “1000 kg”; expected a length, such as "
         "1200, 1200 mm, 1.2 m or 4'-6\" (kg is a mass)"),
        ({"windows": WINDOWS.replace("R1", "R9")},
         "windows.csv, row 2 (W1), column Room: read “R9”; expected a mark of the rooms schedule "
         "(R1)"),
        ({"rooms": ROOMS + "\nR1,Bunks,9,2,sleep,2\n"},
         "rooms.csv, row 4 (R1), column Mark: read “R1”; expected a mark that no row above has"),
        ({"rooms": ROOMS.replace("10", "1.6e1")},
         "rooms.csv, row 2 (R1), column Floor: read “1.6e1”; expected an area, such as 12.5, "
         "12.5 m² or 86 sq ft"),
        ({"targets": TARGETS.replace(",8,", ",lots,")},
         "targets.csv, row 2 (T01), column Value: read “lots”; expected a number, such as "
         "75 or 75 %"),
        ({"targets": TARGETS.replace("daylight_ratio", "glare")},
         "targets.csv, row 2 (T01), column Check: read “glare”; expected one of: "),
        ({"site": SITE + "5,15\n"},
         "site.csv, row 3, column rows: read “2 rows”; expected one row"),
        ({"site": SITE.replace("4", "4.5")},
         "site.csv, row 2, column People in the brief: read “4.5”; expected a whole number, from "
         "1 to 500"),
    ],
)  # fmt: skip
def test_a_cell_that_cannot_be_read_is_named_and_the_rest_is_read(folder, files, said):
    (refused,) = read_folder(folder(**files)).refused
    assert said in refused


def test_every_problem_of_a_folder_is_told_at_once(problems):
    found = problems(site=b"\xff", targets="")
    assert [line.split(":")[0] for line in found] == ["site.csv, row 1", "targets.csv, row 1"]


def test_every_cell_that_cannot_be_read_is_told_at_once(folder):
    rooms = ROOMS.replace("10", "big").replace("2.4", "high")
    found = read_folder(folder(rooms=rooms, windows=WINDOWS.replace("1000", "wide"))).refused
    assert [line.split(":")[0] for line in found] == [
        "rooms.csv, row 2 (R1), column Floor",
        "rooms.csv, row 2 (R1), column Clear height",
        "windows.csv, row 2 (W1), column Glass w",
    ]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"scheme": "H09"}, "read H09; expected one package among H01 A, H01 B, H02 A"),
        ({"scheme": "H02", "rev": "C"}, "read H02 C; expected one package among"),
        ({"scheme": "H01"}, "read H01; expected one package among"),
    ],
)
def test_a_package_that_is_not_there_is_named_with_those_that_are(problems, options, said):
    assert said in problems(options, rooms=TWO)[0]


def test_a_cohort_that_is_not_there_is_named_with_those_that_are(problems):
    (said,) = problems({"cohort": "Z"}, targets=TWO_COHORTS)
    assert said == "targets.csv, column cohort: read Z; expected one cohort among H, E"


def test_a_folder_without_a_schedule_is_refused(problems):
    (said,) = problems(rooms=None, windows=None, site=None, targets=None)
    assert "read no schedule; expected any of rooms.csv, rooms_by_state.csv, windows.csv" in said


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    for place in (tmp_path / "none", tmp_path / "file"):
        (tmp_path / "file").write_text("")
        with pytest.raises(Unreadable, match=r"read no folder; expected a folder of schedule CSVs"):
            read_folder(place)


def test_files_that_are_named_and_not_there_are_refused(problems, tmp_path):
    (said,) = problems({"targets_file": tmp_path / "no.csv"})
    assert said == f"{tmp_path / 'no.csv'}: read no file; expected a CSV of targets"
    (said,) = problems({"site_file": tmp_path / "no.csv"})
    assert said == f"{tmp_path / 'no.csv'}: read no file; expected a CSV of the site sheet"


def test_a_figure_in_words_that_no_site_takes_is_refused(folder):
    targets = "id,what,rule,value\nT07,Floor area per person (9000 people),at least,4.5\n"
    (said,) = read_folder(folder(targets=targets, site=None)).refused
    assert said == (
        "targets.csv, in words, row 1, column People in the brief: read “9000”; expected a whole "
        "number, from 1 to 500"
    )


def test_a_cell_longer_than_any_cell_is_refused_in_a_short_message(problems):
    (said,) = problems(rooms=ROOMS + "R2," + "x" * 200_000 + ",9,2,day,\n")
    assert "expected cells of at most 131,072 characters" in said
    assert len(said) < 250


def test_a_huge_cell_that_can_be_parted_is_refused_in_a_short_message(folder):
    (said,) = read_folder(folder(rooms=ROOMS + "R2,Room," + "9" * 100_000 + ",2,day,\n")).refused
    assert said.startswith("rooms.csv, row 3 (R2), column Floor: read “999")
    assert len(said) < 300
