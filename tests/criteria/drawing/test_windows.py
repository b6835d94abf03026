"""Windows, drawn: glass, sills and floors on paper are as long as rows and findings have them."""

from dataclasses import replace

import pytest

from criteria.check_sheet.sheet import judge, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.elevations import rooms_of
from criteria.drawing.marks import Path, Strokes, Touch, around
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked, Seen
from criteria.drawing.windows import WINDOWS, draw_windows
from criteria.findings import Amount, Measured, Rule
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

ROOMS = [
    {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "24", "clear_height_m": "2.5"}
    | {"width_m": "6", "depth_m": "4", "sleepers": "0"},
    {"mark": "R2", "room": "Bunk room", "use": "sleep", "floor_m2": "8", "clear_height_m": "2.2"}
    | {"width_m": "4", "depth_m": "2", "sleepers": "2"},
    {"mark": "R3", "room": "Nook", "use": "work", "floor_m2": "6", "clear_height_m": "2.2"}
    | {"width_m": "3", "depth_m": "2", "sleepers": "0"},
]


def window(mark, room, faces, size, **cells):
    wide, high = size
    return {
        "mark": mark,
        "room": room,
        "n": "1",
        "faces": faces,
        "glass_w": wide,
        "glass_h": high,
    } | {
        "open_share": "0.5",
        **cells,
    }


WIN = [
    window(
        *("W1", "R1", "S", ("2000", "1500")),
        **{"frame_w": "2100", "frame_h": "1600", "sill": "600", "left": "1500", "opens": "pivot"},
    ),
    window("W2", "R1", "W", ("700", "1000"), n="2", sill="800", left="900", opens="top-hung"),
    window("W3", "R2", "E", ("900", "400"), sill="1100", left="500", opens="bottom-hung"),
    window("W4", "R2", "up", ("500", "700"), opens="roof light", left="300", from_wall="600"),
    window("W5", "R1", "N", ("600", "600"), sill="1000", left="300", opens="louvre"),
]
SITE = [{"drift_m": "2", "drift_side": "E"}]
TABLES = {"rooms": ROOMS, "windows": WIN, "site": SITE, "ramp": [{"rise_mm": "400"}]}


def package_of(**changed):
    return read_package({**TABLES, **changed}).package


def but(nth, **cells):
    """The windows with one of them typed otherwise."""
    return [row | cells if n == nth else row for n, row in enumerate(WIN)]


def seen_of(package, check="daylight_ratio", rule="", value="", nth=0):
    finding = unasked(package, CHECKS[check])
    if rule:
        row = {"id": "T01", "check": check, "rule": rule, "value": value}
        finding = judge(package, read_targets([row]).targets[0])
    measured = (*finding.worst_first, Measured())[nth]
    is_number = bool(measured.values) and finding.rule is not Rule.ALL
    asked = Asked(
        title=finding.title,
        measured=measured,
        amount=Amount(measured.values[0], finding.scale) if is_number else None,
        limit=Amount(finding.target, finding.scale) if is_number and rule else None,
        state=finding.state,
    )
    return Seen(package=package, check=check, asked=asked, findings={check: finding})


def drawn(package=None, *asks, field=None):
    package = package or package_of()
    return draw_windows(rooms_of(package), seen_of(package, *asks), field or Field())


def words(drawing):
    return {letter.words for letter in drawing.letters}


def panes(drawing, mark):
    touches = [each for each in drawing.marks if isinstance(each, Touch) and each.mark == mark]
    glass = [
        next(m for m in t.marks if isinstance(m, Path) and m.fill is Fill.GLASS) for t in touches
    ]
    return [around(each.points) for each in glass]


FIELDS = [Field(width_mm=w, system=s) for w in (MIDDLE_MM, NARROW_MM) for s in System]
ASKED = [
    (),
    ("daylight_ratio", "at least", "8 %"),
    ("openable_ratio", "at least", "400 %"),
    ("lowest_sill", "at most", "500 mm"),
    ("seated_view", "all", "yes"),
    ("lying_view", "all", "yes"),
    ("possible_sun", "at least", "2 h"),
]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
@pytest.mark.parametrize("asks", ASKED, ids=lambda asks: asks[0] if asks else "")
def test_letters_keep_their_height_and_their_distance(asks, field):
    keeps_the_rules(drawn(None, *asks, field=field))


def test_glass_lies_on_paper_where_rows_have_it():
    drawing = drawn()
    assert drawing.scale == "1:100"
    ((left, top, right, low),) = panes(drawing, "W1")
    assert (right - left, low - top) == (pytest.approx(20), pytest.approx(15))
    (floor,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT][:1]
    (start, foot), (end, _) = floor.points
    assert (end - start, foot - low, left - start) == pytest.approx((60, 6, 15))
    one, other = panes(drawing, "W2")
    # between equal ends of a wall of 4 m: 900, 700, 800, 700, 900
    assert other[0] - one[2] == pytest.approx(8)
    ((left, top, right, low),) = panes(drawing, "W4")  # in plan, at half the scale
    assert (right - left, low - top) == (pytest.approx(2.5), pytest.approx(3.5))


def test_glass_on_the_floor_is_its_share_of_it_and_what_is_missing_is_drawn():
    """R2 by hand: 0.9 × 0.4 + 0.5 × 0.7 = 0.71 m² of 8; 12 % are 0.96."""
    drawing = drawn(None, "daylight_ratio", "at least", "12 %")
    strips = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.GLASS]
    deep = [box[3] - box[1] for box in (around(strip.points) for strip in strips)]
    assert deep[1] == pytest.approx(0.71 / 8 * 20)  # 4 m at 1:200
    short = [
        around(m.points)
        for m in drawing.marks
        if isinstance(m, Path) and m.tone is Tone.SHORT and m.is_closed
    ]
    assert short[0][3] - short[0][1] == pytest.approx((0.12 - 0.71 / 8) * 20)
    assert short[1][3] - short[1][1] == pytest.approx(0.12 * 10)  # R3, which has no window
    limits = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert len(limits) == 4 + 3  # the floor lines of four walls, what is asked of three rooms
    assert {"8.9 % short", "0.0 % short", "19.8 % meets"} <= words(drawing)


def test_each_lettered_figure_is_the_findings():
    package = package_of()
    for check in ("daylight_ratio", "openable_ratio"):
        seen = seen_of(package, check)
        drawing = draw_windows(rooms_of(package), seen, Field())
        known = {m.values[0] for m in seen.findings[check].worst_first}
        assert {f.amount.si for f in drawing.figures} == known


def test_openings_are_laid_on_the_floor_where_these_are_asked():
    drawing = drawn(None, "openable_ratio")
    strips = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE]
    assert around(strips[1].points)[3] - around(strips[1].points)[1] == pytest.approx(
        0.71 / 16 * 20
    )


def test_what_looks_out_over_a_sill_is_drawn_at_its_height():
    drawing = drawn()
    assert {"seated eye 1\u202f200", "lying eye 600", "drift 2\u202f000"} <= words(drawing)
    eyes = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    assert len(eyes) == 4  # three walls of the day room, one where people lie
    (hatch,) = [m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.GRAPHITE]
    ys = [y for segment in hatch.segments for _, y in segment]
    assert max(ys) - min(ys) == pytest.approx(16, abs=1.8)  # 2 m of snow, 0.4 of it under the floor


def test_the_lowest_sill_and_the_rooms_that_miss_are_picked_out():
    low = drawn(None, "lowest_sill", "at most", "500 mm")
    toned = [m for m in low.flat if isinstance(m, Path) and m.fill is Fill.GLASS]
    assert [m.tone for m in toned if m.tone is not Tone.INK] == [Tone.SHORT]
    lying = drawn(None, "lying_view", "all", "yes")
    strong = {m.words for m in lying.letters if m.is_strong and m.tone is Tone.SHORT}
    assert strong >= {"R2 looking E, Bunk room", "R2 floor"}
    assert not any(each.startswith("R1") for each in strong)


def test_what_isnt_given_is_dashed_or_left_out_and_named():
    drawing = drawn(
        package_of(windows=[*but(0, left="", sill=""), window("W9", "", "S", ("1", "1"))])
    )
    keeps_the_rules(drawing)
    says = [gap.says for gap in drawing.gaps]
    assert says == ["W1: place, sill not given", "W9: room can't be read"]
    bare = drawn(
        package_of(windows=[*but(2, glass_h="tall"), window("W8", "R1", "", ("400", "400"))])
    )
    keeps_the_rules(bare)
    assert [gap.says for gap in bare.gaps] == [
        "W8: place, wall, sill not given",
        "W3: glass h can't be read",
    ]
    assert not panes(bare, "W3")
    rooms = [ROOMS[0] | {"width_m": "", "depth_m": ""}, ROOMS[1] | {"floor_m2": "", "width_m": ""}]
    sides = drawn(package_of(rooms=rooms))
    keeps_the_rules(sides)
    assert "R1: depth and width not given, its proportions are assumed" in says_of(sides)
    assert "R2: floor not given" in says_of(sides)
    assert "not known" not in words(sides)


def says_of(drawing):
    return [gap.says for gap in drawing.gaps]


def test_snow_is_drawn_only_where_the_floor_over_the_ground_is_known():
    drawing = drawn(package_of(ramp=[]))
    assert says_of(drawing) == ["drift before a wall: floor over the ground not given"]
    assert not any("drift" in each for each in words(drawing))
    deep = drawn(package_of(site=[{"drift_m": "9", "drift_side": "E"}]))
    keeps_the_rules(deep)
    assert not says_of(drawn(package_of(site=[])))
    tight = [ROOMS[1] | {"width_m": "1", "clear_height_m": "0.9"}]
    full = [window("W3", "R2", "E", ("900", "800"), sill="50", left="50")]
    hidden = drawn(package_of(rooms=tight, windows=full), field=FIELDS[2])
    keeps_the_rules(hidden)
    assert any(each.startswith("drift 2") for each in hidden.key)


def test_a_room_that_nobody_lives_in_shows_its_windows_and_no_floor():
    wash = {"mark": "R4", "room": "Wash", "use": "wc", "floor_m2": "3", "clear_height_m": "1"}
    store = wash | {"mark": "R5", "use": "store"}
    drawing = drawn(
        package_of(rooms=[wash, store], windows=[WIN[0] | {"room": "R4", "left": "10"}])
    )
    keeps_the_rules(drawing)
    assert {"R4 looking S, Wash"} <= words(drawing)
    assert not any("floor" in each or "plans" in each or "R5" in each for each in words(drawing))


def test_no_eye_looks_out_over_the_ceiling():
    low = [ROOMS[0] | {"clear_height_m": "1"}]
    sill = [WIN[0] | {"glass_h": "300", "frame_h": "400"}]
    assert not any("eye" in each for each in words(drawn(package_of(rooms=low, windows=sill))))


def test_a_large_pane_says_its_size_and_how_high_it_stands():
    drawing = drawn(package_of(rooms=ROOMS[:1], windows=WIN[:1]))
    assert drawing.scale == "1:50"
    assert {"W1", "2\u202f000 × 1\u202f500", "600"} <= words(drawing)


def test_marks_without_room_go_to_the_key():
    alike = [window(f"W{n}", "R1", "S", ("300", "200"), sill="100", left="0") for n in range(9)]
    drawing = drawn(
        package_of(rooms=[ROOMS[0] | {"width_m": "0.6", "clear_height_m": "0.5"}], windows=alike)
    )
    keeps_the_rules(drawing)
    assert {f"W{n}" for n in range(9)} == {*drawing.key} | (
        words(drawing) & {f"W{n}" for n in range(9)}
    )
    assert "W8" in drawing.key


def test_a_use_that_cant_be_read_leaves_all_floors_out():
    drawing = drawn(package_of(rooms=[ROOMS[0], ROOMS[1] | {"use": "hall of fame"}]))
    keeps_the_rules(drawing)
    assert not any(each.endswith("floor") for each in words(drawing))


def test_a_floor_that_isnt_known_says_so_and_draws_no_glass():
    drawing = drawn(package_of(rooms=[ROOMS[0] | {"floor_m2": ""}]))
    keeps_the_rules(drawing)
    assert {"not known"} <= words(drawing)


def test_beds_without_a_height_leave_out_the_eye_of_who_lies_there():
    beds = [{"mark": "U1", "item": "Bunk", "kind": "bed", "room": "R2"}]
    assert not any("lying" in each for each in words(drawn(package_of(furniture=beds))))


def test_what_cant_be_is_named_not_drawn():
    past = drawn(package_of(windows=but(0, left="29000")))
    assert "W1: goes past the end of its wall, not drawn there" in says_of(past)
    long = drawn(package_of(rooms=[ROOMS[0] | {"width_m": "", "depth_m": "0.3"}, *ROOMS[1:]]))
    keeps_the_rules(long)
    assert any("R1" in gap.mark for gap in long.gaps)


@pytest.mark.parametrize("field", FIELDS[::3], ids=lambda f: f"{f.width_mm:g}")
def test_two_hundred_windows_and_rooms_stay_on_a_sheet(field):
    alike = [window(f"W{n}", "R1", "S", ("100", "200"), n="3") for n in range(200)]
    keeps_the_rules(drawn(package_of(windows=alike), field=field))
    rooms = [ROOMS[0] | {"mark": f"R{n}"} for n in range(1, 201)]
    each = [window(f"W{n}", f"R{n}", "S", ("2000", "1500")) for n in range(1, 201)]
    many = drawn(
        package_of(rooms=rooms, windows=each), "daylight_ratio", "at least", "90 %", field=field
    )
    keeps_the_rules(many)
    assert many.height_mm <= 180
    assert many.key[-1].endswith(", R200")
    huge = drawn(package_of(rooms=[ROOMS[0] | {"width_m": "30", "depth_m": "29"}]), field=field)
    keeps_the_rules(huge)


def test_both_limits_are_drawn_where_there_are_two():
    row = {"id": "T01", "check": "daylight_ratio", "rule": "at least", "value": "12 %"}
    target = read_targets([row | {"note": "not over 22 %"}]).targets[0]
    finding = judge(package_of(), target)
    seen = seen_of(package_of(), "daylight_ratio", "at least", "12 %")
    drawing = draw_windows(
        rooms_of(package_of()), replace(seen, findings={finding.check: finding}), Field()
    )
    limits = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert len(limits) == 4 + 2 * 3
    assert "not over 22.0 %" in words(drawing)


def test_a_figure_beyond_the_whole_floor_fills_it():
    rooms = [ROOMS[0] | {"floor_m2": "1"}]
    keeps_the_rules(drawn(package_of(rooms=rooms), "daylight_ratio", "at least", "150 %"))


def test_where_nothing_can_be_drawn_nothing_is():
    for tables in ({"windows": []}, {"rooms": []}, {"windows": [WIN[0], WIN[0]]}):
        package = package_of(**tables)
        seen = Seen(package=package, check="daylight_ratio", asked=Asked(title="", measured=None))
        assert WINDOWS.ready(seen) is None
    assert WINDOWS.ready(seen_of(package_of())).of(Field()).marks


def test_it_says_the_answer_first_and_what_isnt_given():
    drawing = drawn(package_of(windows=but(0, left="")), "daylight_ratio", "at least", "12 %")
    assert drawing.says == "0.0 %, at least 12.0 %, Short. Not given: W1: place not given."
    situated = seen_of(package_of())
    situated = replace(situated, asked=replace(situated.asked, situation="night"))
    title = draw_windows(rooms_of(package_of()), situated, Field()).title
    assert title == "Windows from inside, night: Daylight ratio"


def test_floors_are_never_so_small_that_nothing_lies_on_them():
    wide = [ROOMS[0] | {"width_m": "9.2", "depth_m": "4.5"}]
    drawing = drawn(package_of(rooms=wide), field=FIELDS[2])
    assert {"plans 1:500"} <= words(drawing)
    assert drawing.scale == "1:200"
