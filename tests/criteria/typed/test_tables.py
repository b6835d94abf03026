import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, CLIMATE, SCHEDULES, SITE
from criteria.typed.columns import Kind
from criteria.typed.tables import (
    MOST_ROWS,
    RefusedCell,
    match_head,
    match_heads,
    parse_block,
    read_grid,
    read_records,
    under_head,
    write_csv,
)
from criteria.units import PLAIN, DecimalSign, Notation, System

ROOMS, WINDOWS, OCCUPANTS = BY_SLUG["rooms"], BY_SLUG["windows"], BY_SLUG["occupants"]


def read_block(schedule, text, notation=PLAIN):
    return read_grid(schedule, parse_block(text), notation)


def window(mark="W1", room="R1", **cells):
    return {"mark": mark, "room": room, **cells}


def test_a_clean_table_gives_records_as_typed_and_rows_in_si():
    reading = read_records(WINDOWS, [window(glass_w="4'-6\"", n="2")])
    assert reading.is_clean
    assert reading.records[0]["glass_w"] == "4'-6\""
    assert reading.records[0]["sill"] == ""
    assert reading.rows[0].glass_w_m == pytest.approx(1.3716)


def test_a_refused_cell_is_named_by_row_mark_and_column():
    reading = read_records(WINDOWS, [window(), window("W2", glass_h="tall")])
    assert not reading.is_clean
    (cell,) = reading.refused
    assert (cell.row, cell.mark, cell.column, cell.read) == (2, "W2", "Glass h", "tall")
    assert str(cell).startswith("row 2 (W2), Glass h: read “tall”; expected a length")


def test_a_refused_cell_without_a_mark_is_named_by_row_alone():
    assert str(RefusedCell(3, "", "Who", "x", "y")) == "row 3, Who: read “x”; expected y"


def test_a_row_without_what_it_needs_is_a_row_that_remembers_it():
    reading = read_records(WINDOWS, [{"mark": "W1", "n": "2"}])
    assert reading.refused[0].column == "Room"
    (row,) = reading.read
    assert list(row.refused) == ["room"]


@pytest.mark.parametrize("mark", ["", "W 1!", "W2"])
def test_a_row_that_cannot_be_told_from_others_is_no_row_and_is_named(mark):
    reading = read_records(WINDOWS, [window("W2"), window(mark)])
    assert reading.rows[1] is None
    assert [row.mark for row in reading.read] == ["W2"]
    assert [(cell.row, cell.column) for cell in reading.unread] == [(2, "Mark")]


def test_the_second_row_of_a_mark_is_refused():
    reading = read_records(WINDOWS, [window(), window("W2"), window(), window("w1")])
    assert [(cell.row, cell.read) for cell in reading.refused] == [(3, "W1")]
    assert reading.refused[0].expected == "a mark that no row above has"


def test_a_reference_is_held_to_the_marks_that_are_there():
    records = [window(room="R1"), window("W2", room="R9"), window("W3", room="!")]
    reading = read_records(WINDOWS, records, marks={"rooms": ["R1", "R2"]})
    assert [(cell.row, cell.read) for cell in reading.refused] == [(2, "R9"), (3, "!")]
    assert reading.refused[0].expected == "a mark of the rooms schedule (R1, R2)"


def test_a_reference_to_an_empty_schedule_says_that_it_is_empty():
    reading = read_records(WINDOWS, [window()], marks={"rooms": []})
    assert reading.refused[0].expected == "a mark of the rooms schedule (none yet)"


def test_a_reference_is_not_held_to_marks_that_nobody_gave():
    assert read_records(WINDOWS, [window(room="R9")]).is_clean


def test_a_us_table_takes_bare_numbers_in_us_units():
    (row,) = read_records(WINDOWS, [window(glass_w="36")], Notation(System.US)).rows
    assert row.glass_w_m == pytest.approx(0.9144)


# Headings as people write them over a column.
@pytest.mark.parametrize(
    ("heading", "head", "unit"),
    [
        ("frame_w", "frame_w", ""),
        ("Frame w", "frame_w", ""),
        ("FRAME W", "frame_w", ""),
        ("Frame w [mm]", "frame_w", "mm"),
        ("Frame w [in]", "frame_w", "in"),
        ("sill (in)", "sill", "in"),
        ("Sill, m", "sill", "m"),
        ("  glass_h ( ft ) ", "glass_h", "ft"),
        ("No.", "n", ""),
        ("Opens (how)", "opens", ""),
    ],
)
def test_a_heading_is_known_by_name_or_label_and_may_name_a_unit(heading, head, unit):
    column, found = match_head(WINDOWS, heading)
    assert (column.head, found) == (head, unit)


@pytest.mark.parametrize(
    ("heading", "head", "unit"),
    [
        ("Frame wmm", "frame_w", "mm"),
        ("Frame w\nmm", "frame_w", "mm"),
        ("Frame w in", "frame_w", "in"),
        ("UW/m²K", "u", "W/m²K"),
    ],
)
def test_a_head_taken_off_a_page_is_known_with_its_unit_behind_it(heading, head, unit):
    column, named = match_head(WINDOWS, heading)
    assert (column.head, named) == (head, unit)


@pytest.mark.parametrize("heading", ["", "colour", "Frame", "[in]", "Frame wkg", "mm"])
def test_an_unknown_heading_means_no_column(heading):
    assert match_head(WINDOWS, heading) is None


def test_a_heading_that_comes_twice_is_matched_once():
    first, second, third = match_heads(WINDOWS, ["Sill [in]", "sill", "colour"])
    assert first[0].head == "sill"
    assert second is third is None


@pytest.mark.parametrize(
    ("cell", "given"),
    [
        ("36", "36 in"),
        ("6⅛", "6⅛ in"),
        ("36 mm", "36 mm"),
        ("4'", "4'"),
        ("-", "-"),
        ("–", "–"),
        ("", ""),
        ("about 36", "about 36"),
    ],
)
def test_a_bare_number_takes_the_unit_of_its_head(cell, given):
    sill = WINDOWS.column("sill")
    assert under_head(cell, sill, "in") == given
    assert under_head(cell, sill, "", System.US) == given
    for system in System:
        assert under_head(cell, sill, "mm", system) == cell
        assert under_head(cell, WINDOWS.column("opens"), "", system) == cell
    assert under_head(cell, sill, "") == cell


def test_a_head_that_names_metric_is_metric_for_whoever_types():
    block = "mark,room,glass_w [mm],glass_h\nW1,R1,1200,36"
    reading = read_block(WINDOWS, block, Notation(System.US))
    assert [reading.records[0][h] for h in ("glass_w", "glass_h")] == ["1200", "36 in"]
    assert [reading.rows[0].glass_w_m, reading.rows[0].glass_h_m] == [1.2, 0.9144]


def test_a_block_with_heads_is_read_in_any_order_of_columns():
    reading = read_block(WINDOWS, "Room\tMark\tGlass w [in]\nR1\tW1\t36\nR2\tW2\t900 mm\n")
    assert reading.is_clean
    assert [(row.mark, row.room) for row in reading.rows] == [("W1", "R1"), ("W2", "R2")]
    assert [row.glass_w_m for row in reading.rows] == [pytest.approx(0.9144), 0.9]


def test_a_block_without_heads_is_read_in_the_schedules_own_order():
    reading = read_block(ROOMS, "R1\tDay room\t22.4\t2.5\tday\nR2\tBunks\t16\t2.4\tsleep\t8\n")
    assert reading.is_clean
    assert [(r.name, r.floor_m2, r.sleepers) for r in reading.rows] == [
        ("Day room", 22.4, 0),
        ("Bunks", 16.0, 8),
    ]


def test_a_first_row_that_has_a_mark_is_data_whatever_its_words():
    reading = read_block(ROOMS, "R1\tRoom\t22\t2.5\tUse\n")
    assert len(reading.records) == 1
    assert [(cell.row, cell.column) for cell in reading.refused] == [(1, "Use")]


def test_heads_that_mean_nothing_are_named_as_ignored():
    reading = read_block(ROOMS, "Mark\tRoom\tColour\tUse\tUse\tFloor\nR1\tDay\tred\tday\tlab\t9\n")
    assert reading.ignored == ("Colour", "Use")
    assert reading.rows[0].use == "day"


def test_a_head_that_comes_twice_does_not_overwrite_the_first():
    reading = read_block(WINDOWS, "Mark,Room,Sill [in],Sill\nW1,R1,30,\n")
    assert reading.rows[0].sill_m == pytest.approx(0.762)
    assert reading.ignored == ("Sill",)


def test_heads_alone_are_no_rows_and_no_fault():
    reading = read_block(ROOMS, "Mark\tRoom\tUse\n")
    assert (reading.rows, reading.refused) == ((), ())


def test_a_dash_under_a_head_with_a_unit_is_blank():
    reading = read_block(WINDOWS, "Mark\tRoom\tSill [in]\nW1\tR1\t-\nW2\tR1\t–\n")
    assert reading.is_clean
    assert [row.if_given("sill_m") for row in reading.rows] == [None, None]


@pytest.mark.parametrize("text", ["", "\n\n", "\t\t\n", " "])
def test_an_empty_block_is_refused(text):
    (cell,) = read_block(ROOMS, text).refused
    assert str(cell) == "row 0, heads: read “nothing”; expected at least one row"


def test_cells_beyond_the_last_column_are_refused_with_their_row():
    reading = read_block(ROOMS, "Mark\tRoom\tUse\nR1\tDay\tday\nR2\tBunk\tsleep\tbeyond\t\n")
    assert [(c.row, c.mark, c.read) for c in reading.refused] == [(2, "R2", "beyond")]
    assert len(reading.rows) == 2


@pytest.mark.parametrize(("rows", "refused"), [(MOST_ROWS, 0), (MOST_ROWS + 1, 1)])
def test_a_block_has_at_most_so_many_rows(rows, refused):
    text = "Mark\tWho\n" + "".join(f"O{n}\tWalker\n" for n in range(rows))
    reading = read_block(OCCUPANTS, text)
    assert len(reading.refused) == refused
    assert len(reading.rows) == (0 if refused else rows)
    if refused:
        assert str(reading.refused[0]) == "row 0, rows: read “1001”; expected at most 1000 rows"


# Cells that begin with an inch sign: the trap of any reader of quoted cells.
@pytest.mark.parametrize(
    "block",
    [
        'W1\tR1\t"A\nW2\tR2\t"B',
        'W1\tR1\t"A\nW2\tR2\tB',
        'W1\tR1\tA"\nW2\tR2\tB"',
        'W1\t"\tA\nW2\t"\tB',
        'W1\tR1\t"\nW2\tR2\t"',
        'W1\tR1\t"A\nW2\tR2',
        'W1,R1,"A\nW2,R2,"B',
    ],
)
def test_an_inch_sign_at_the_start_of_a_cell_swallows_no_row(block):
    grid = parse_block(block)
    assert [line[0] for line in grid] == ["W1", "W2"]
    assert '"' in "".join(grid[0])


@pytest.mark.parametrize(
    ("block", "grid"),
    [
        ('a\tb\n"c"\td', [["a", "b"], ["c", "d"]]),
        ('a,b\n"c, d",e', [["a", "b"], ["c, d", "e"]]),
        ('a,b\n"c\nd",e', [["a", "b"], ["c\nd", "e"]]),
        ('a\tb\n"c\nd"\te', [["a", "b"], ["c\nd", "e"]]),
        ('"a","b"\r\n"c","d"\r\n', [["a", "b"], ["c", "d"]]),
        ('a,b\n"say ""c""",d', [["a", "b"], ['say "c"', "d"]]),
        ("W1;1,2;2,4\nW2;0,9;,5", [["W1", "1,2", "2,4"], ["W2", "0,9", ",5"]]),
        ("1,2;3,4", [["1,2", "3,4"]]),
        ("W1,Porch; main,3", [["W1", "Porch; main", "3"]]),
        ("a;b\nc,d;e", [["a", "b"], ["c,d", "e"]]),
        ("a,b\nc;d,e", [["a", "b"], ["c;d", "e"]]),
        ("a,b\nc\td,e", [["a", "b"], ["c\td", "e"]]),
        ("\n\na\tb\nc\td", [[], [], ["a", "b"], ["c", "d"]]),
        ("\ufeffa,b\rc,d", [["a", "b"], ["c", "d"]]),
        ('a\tb\n4\'-6"\t6"', [["a", "b"], ["4'-6\"", '6"']]),
        ("a\tb\n'-5\t'=x", [["a", "b"], ["-5", "=x"]]),
        ("a\tb\n'quoted'\t'", [["a", "b"], ["'quoted'", "'"]]),
    ],
)
def test_a_block_is_parted_as_its_writer_meant(block, grid):
    assert parse_block(block) == grid


def test_a_table_of_semicolons_with_decimal_commas_goes_in():
    block = "mark;room;Glass w [m];glass_h\nW1;R1;1,25;900,5\nW2;R1;0,9;1,2 m"
    for sign in DecimalSign:
        reading = read_block(WINDOWS, block, Notation(decimal=sign))
        assert reading.is_clean
        assert [(w.glass_w_m, w.glass_h_m) for w in reading.rows] == [(1.25, 0.9005), (0.9, 1.2)]


def test_a_figure_of_two_readings_is_refused_in_its_cell():
    block = "mark;room;glass_w\nW1;R1;1,200"
    (cell,) = read_block(WINDOWS, block, Notation(decimal=DecimalSign.COMMA)).refused
    assert str(cell) == (
        "row 1 (W1), Glass w: read “1,200”; expected 1,2 or 1200: it could be either"
    )


def test_a_badly_quoted_cell_still_leaves_its_row_in_place():
    grid = parse_block('mark,what,n\nW1,"Porch, "main"",3\nW2,Day,4')
    assert [len(line) for line in grid] == [3, 3, 3]


def test_a_cell_longer_than_any_cell_is_refused():
    huge = "Mark\tWho\nO1\t" + "x" * 200_000
    with pytest.raises(Refused, match=r"expected cells of at most 131,072 characters") as caught:
        parse_block(huge)
    assert len(caught.value.read) < 200


@given(st.text(max_size=200))
def test_any_text_is_parted_into_cells(text):
    assert all(isinstance(cell, str) for line in parse_block(text) for cell in line)


@given(st.text("W1\tR,;\"'\n=-x", max_size=80), st.sampled_from((*SCHEDULES, SITE)))
def test_any_block_is_read_or_refused_cell_by_cell(text, schedule):
    reading = read_block(schedule, text)
    for cell in reading.refused:
        assert cell.expected
        assert cell.column


def _typed(column):
    if column.kind in (Kind.MARK, Kind.REFERENCE):
        return st.from_regex(r"[A-Z]\d{1,3}", fullmatch=True)
    signs = st.characters(exclude_categories=["Cs"], exclude_characters="\r\ufeff")
    plain = st.text(signs, max_size=20)
    likely = st.text("=+-@'\"\t,;\n4 in", max_size=8)
    return st.one_of(plain, likely).map(str.strip)


@settings(max_examples=40)
@given(st.data(), st.sampled_from([schedule for schedule in SCHEDULES if schedule.mark_head]))
def test_what_is_written_as_csv_is_read_back_as_it_was_typed(data, schedule):
    row = st.fixed_dictionaries({c.head: _typed(c) for c in schedule.columns})
    key = schedule.mark_head
    records = data.draw(st.lists(row, min_size=1, max_size=4, unique_by=lambda r: r[key]))
    for units in (None, System.METRIC):
        assert list(read_block(schedule, write_csv(schedule, records, units)).records) == records


@pytest.mark.parametrize("sign", ["=", "+", "-", "@"])
def test_words_that_a_spreadsheet_takes_for_a_formula_are_guarded(sign):
    text = write_csv(OCCUPANTS, [{"mark": "O1", "who": f"{sign}1+1", "n": "-1"}])
    assert f"O1,'{sign}1+1,-1," in text


def test_a_figure_and_a_lone_dash_are_not_guarded():
    text = write_csv(OCCUPANTS, [{"mark": "O1", "who": "-", "n": "-1"}])
    assert "O1,-,-1," in text


def test_the_heads_of_a_csv_name_their_units_where_asked():
    assert write_csv(ROOMS, [], System.METRIC).startswith("mark,room,floor_m2 [m²],clear_height_m ")
    assert write_csv(ROOMS, [], System.US).startswith("Mark,Room,Floor [ft²],Clear height [ft]")
    assert write_csv(ROOMS, []).startswith("mark,room,floor_m2,clear_height_m")


@pytest.mark.parametrize("schedule", [*SCHEDULES, SITE, CLIMATE], ids=lambda each: each.slug)
@pytest.mark.parametrize("system", System)
def test_every_head_that_is_taken_out_is_known_again_with_its_unit(schedule, system):
    heads = parse_block(write_csv(schedule, [], system))[0]
    units = [column.unit(system) for column in schedule.columns]
    assert match_heads(schedule, heads) == list(zip(schedule.columns, units, strict=True))


def test_a_word_behind_a_head_that_is_no_unit_is_refused_cell_by_cell():
    refused = read_block(WINDOWS, "mark,sill [hands]\nW1,9").refused
    assert "9 hands" in [cell.read for cell in refused]
