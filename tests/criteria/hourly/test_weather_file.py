"""Weather files read whole, or refused with row, field and reason."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.weather import CELSIUS_K, HOURS, Origin
from criteria.hourly.weather_file import read_epw, read_weather_csv, write_weather_csv
from criteria.hourly.weather_refused import MOST_FAULTS, Fault, WeatherRefused
from tests.criteria.hourly.epw_made import DENVER, HEADS, Rows, csv, denver, epw, setting


def refusal(data: bytes) -> str:
    with pytest.raises(WeatherRefused) as refused:
        read_epw(data)
    return str(refused.value)


def head(line: int, text: str) -> tuple[str, ...]:
    return (*HEADS[: line - 1], text, *HEADS[line:])


def test_a_file_gives_its_year_in_si():
    read = read_epw(epw())
    assert (read.place, read.origin, read.name) == (DENVER, Origin.FILE, "Denver Intl Ap, USA")
    # first row of the file: -18, -19.7 °C, 181 Wh/m², 83,700 Pa
    assert read.air_k[0] == pytest.approx(255.15)
    assert read.dew_k[0] == pytest.approx(253.45)
    assert (read.long_wave_w_m2[0], read.pressure_pa[0]) == (181, 83_700)
    assert read.beam_w_m2[9] == 494
    assert read.diffuse_w_m2[9] == 115
    assert read.wind_m_s[13] == 8.2
    assert read.rain_m is None
    assert read.has_spells
    assert not read.has_snow.any()
    assert read.said == (
        "It doesn't say where snow lies: none is counted.",
        "It gives no rain.",
    )


def test_the_line_that_says_what_a_file_is_made_of_is_kept_as_it_can_be_said():
    assert read_epw(epw()).source == HEADS[0]
    long = HEADS[0].replace("Denver", "<b>Denver") + ",x" * 200
    odd = read_epw(epw(heads=head(1, long)))
    assert odd.source.startswith("LOCATION,bDenver Intl Ap,CO,USA,TMY3")
    assert len(odd.source) == 200
    assert read_weather_csv(csv(), DENVER).source == ""


def test_plain_columns_give_the_same_year():
    read = read_epw(epw())
    for what in ("air_k", "dew_k", "beam_w_m2", "diffuse_w_m2", "wind_m_s", "pressure_pa"):
        assert np.array_equal(getattr(denver(), what), getattr(read, what)), what


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_ends_of_lines_of_other_machines_are_read(end):
    assert np.array_equal(read_epw(epw(end=end)).air_k, denver().air_k)


def test_a_name_in_an_older_encoding_or_of_odd_signs_is_kept_plain():
    named = epw(heads=head(1, HEADS[0].replace("Denver Intl Ap", "Z\xfcrich")))
    assert read_epw(named.decode().encode("latin-1")).name == "Zürich, USA"
    nameless = head(1, HEADS[0].replace("Denver Intl Ap", "<>").replace("USA", ""))
    assert read_epw(epw(heads=nameless)).name == "a place without a name"


def test_a_leap_year_loses_its_29_february():
    def leap(rows: Rows) -> None:
        day = [list(row) for row in rows[58 * 24 : 59 * 24]]
        for row in day:
            row[2], row[6] = "29", "40"
        rows[59 * 24 : 59 * 24] = day

    read = read_epw(epw(leap))
    assert read.air_k.shape == (HOURS,)
    assert np.array_equal(read.air_k, denver().air_k)
    late = refusal(epw(lambda rows: (leap(rows), setting("wind", {1500: "-1"})(rows))))
    assert late.startswith("row 1,500 (3 Mar, hour 12), wind: read “-1”; expected wind, 0 to 60")


def test_a_few_gaps_are_filled_and_said_more_are_refused():
    few = read_epw(epw(setting("dry_bulb", {2: "99.9", 3: ""})))
    assert few.air_k[:4] - CELSIUS_K == pytest.approx([-18, -17.2, -16.4, -14.4 - 1.2], abs=1.3)
    assert few.air_k[1] - few.air_k[0] == pytest.approx(few.air_k[2] - few.air_k[1])
    assert "2 h without dry bulb were filled between their neighbours." in few.said
    many = refusal(epw(setting("wind", dict.fromkeys(range(11, 18), "999"))))
    assert many == (
        "row 11 (1 Jan, hour 11), wind: read “999”; expected a figure; at most 6 h of a year may "
        "lack it; so in 6 rows more"
    )


def test_what_often_lacks_has_something_else_in_its_place():
    def bare(rows: Rows) -> None:
        setting("pressure", "999999")(rows)
        setting("long_wave", "9999")(rows)

    read = read_epw(epw(bare))
    assert read.pressure_pa == pytest.approx(np.full(HOURS, 83_011), abs=1)
    assert "for it gives no cloud" in read.said[-1]
    # a clear sky sends less than the one that was
    assert read.long_wave_w_m2.mean() < denver().long_wave_w_m2.mean()
    clouded = read_epw(epw(lambda rows: (bare(rows), setting("cloud", "8")(rows))))
    assert "the clouds that it gives" in clouded.said[-1]
    assert (clouded.long_wave_w_m2 > read.long_wave_w_m2).all()
    nought = read_epw(epw(setting("long_wave", {1: "0"})))
    assert nought.long_wave_w_m2[0] > 100


def test_rows_may_end_with_the_wind():
    def short(rows: Rows) -> None:
        rows[:] = [row[:22] for row in rows]

    assert np.array_equal(read_epw(epw(short)).wind_m_s, denver().wind_m_s)


def test_rain_and_snow_are_taken_where_they_are_given():
    def wet(rows: Rows) -> None:
        setting("rain", "0")(rows)
        setting("rain", {20: "2.5"})(rows)
        setting("snow", "0")(rows)
        setting("snow", {30: "4"})(rows)

    read = read_epw(epw(wet))
    assert read.rain_m is not None
    assert read.rain_m[19] == pytest.approx(0.0025)
    assert read.has_snow.nonzero()[0].tolist() == [29]
    assert read.said == ()
    assert read_epw(epw(setting("rain", "0"))).rain_m is None


def row(change: Callable[[Rows], object]) -> Callable[[], bytes]:
    return lambda: epw(change)


def cell(what: str, at: int, text: str) -> Callable[[], bytes]:
    return row(setting(what, {at: text}))


def first_line(old: str, new: str) -> Callable[[], bytes]:
    return lambda: epw(heads=head(1, HEADS[0].replace(old, new)))


WRONG: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "file: read “nothing”; expected plain text, a row an hour"),
    "binary": (lambda: b"PK\3\4\0\0", "read “signs that no text has”"),
    "large": (lambda: b"x" * 40_000_000, "read “40.0 MB”; expected a year of hours, at most 8 MB"),
    "one line": (lambda: b"x" * 20_000, "expected lines of at most 10,000 characters"),
    "other": (lambda: b"month,day\n1,1\n", "line 1: read “month,day”; expected LOCATION, city"),
    "8,759": (
        row(lambda rows: rows.pop()),
        "file: read “8,759 rows”; expected 8,760 rows, or 8,784",
    ),
    "none": (row(lambda rows: rows.clear()), "file: read “0 rows”"),
    "8,783": (
        row(lambda rows: rows.extend(list(rows[0]) for _ in range(23))),
        "file: read “8,783 rows”; expected 8,760 rows",
    ),
    "shuffled": (
        row(lambda rows: rows.insert(99, rows.pop(3))),
        "row 4, month, day and hour: read “1, 1, 5”; expected 1, 1, 4",
    ),
    "no day": (
        row(lambda rows: rows[8].__setitem__(2, "first")),
        "row 9, month, day and hour: read “1, first, 9”",
    ),
    "short row": (row(lambda rows: rows[6].__delitem__(slice(9, 35))), "row 7: read “1999,1,1,7,0"),
    "nan": (cell("dry_bulb", 5, "nan"), "row 5 (1 Jan, hour 5), dry bulb: read “nan”"),
    "inf": (cell("dry_bulb", 5, "inf"), "read “inf”; expected dry bulb, −70 to 60 °C"),
    "underscore": (cell("dry_bulb", 5, "1_0"), "dry bulb: read “1_0”"),
    "other digits": (cell("wind", 5, "٣"), "wind: read “٣”"),
    "cold": (cell("dry_bulb", 5, "-71"), "read “-71”"),
    "beam": (cell("beam", 12, "1201"), "direct normal sun: read “1201”; expected direct"),
    "diffuse": (cell("diffuse", 12, "450"), "diffuse sun: read “450”; expected at most the global"),
    "dew": (cell("dew_point", 1, "-17"), "read “-17”; expected at most the dry bulb, -18"),
    "no global": (row(setting("global", "0")), "read “8”; expected at most the global sun, 0"),
    "latitude in words": (first_line("39.83", "north"), "line 1, latitude: read “north”"),
    "latitude": (first_line("39.83", "93"), "latitude: read “93”; expected a number, −90 to 90"),
    "quarters": (lambda: epw(heads=head(8, "DATA PERIODS,1,4")), "line 8: read “DATA PERIODS,1,4”"),
    "head": (lambda: epw(heads=head(8, "HOLIDAYS")), "line 8: read “HOLIDAYS”; expected DATA"),
    "six heads": (lambda: epw(heads=HEADS[:6]), "line 7: read “1999,1,1,1,0"),
    "no rows": (lambda: HEADS[0].encode(), "line 8: read “nothing”; expected DATA PERIODS"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_no_year_of_weather_is_refused_with_its_place(name):
    made, expected = WRONG[name]
    assert expected in refusal(made())


def test_a_dark_year_is_refused():
    def dark(rows: Rows) -> None:
        for what in ("global", "beam", "diffuse"):
            setting(what, "0")(rows)

    assert refusal(epw(dark)) == "file, global sun: read “0 all year”; expected sun"


@pytest.mark.parametrize("zone", ["-6", "-7.5", "2"])
def test_a_wrong_time_zone_is_refused_and_the_right_one_named(zone):
    said = refusal(epw(heads=head(1, HEADS[0].replace("-7.0", zone))))
    assert "its rows would fit time zone -7" in said


def test_a_wrong_latitude_is_refused():
    said = refusal(epw(heads=head(1, HEADS[0].replace("39.83", "-39.83"))))
    assert said.startswith("file, beam and diffuse over global sun: read “all year")
    assert "would fit" not in said


def test_a_file_whose_beam_never_fits_names_no_zone():
    said = refusal(epw(setting("beam", dict.fromkeys(range(1, 8761, 2), "0"))))
    assert "would fit" not in said


def test_many_faults_are_counted_not_listed():
    def wrong(rows: Rows) -> None:
        for what in ("dry_bulb", "dew_point", "global", "beam", "diffuse", "wind", "pressure"):
            setting(what, "x")(rows)

    with pytest.raises(WeatherRefused) as refused:
        read_epw(epw(wrong))
    assert len(refused.value.faults) == MOST_FAULTS
    assert refused.value.faults[0].others == HOURS - 1
    assert str(Fault("file", "a" * 200, "b")) == f"file: read “{'a' * 80}…”; expected b"


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"# nothing else", "heads: read “”; expected a column month, day"),
        (csv().replace(b"wind_m_s", b"wind_kmh"), "expected a column wind_m_s"),
        (csv() + b"1,2\n", "row 8,761: read “1,2”; expected 12 fields"),
        (csv().split(b"\n1,1,1,")[0], "file: read “0 rows”"),
    ],
    ids=["no heads", "no wind", "short row", "no rows"],
)
def test_plain_columns_that_dont_fit_are_refused(data, expected):
    with pytest.raises(WeatherRefused, match=expected):
        read_weather_csv(data, DENVER)


def test_a_year_written_as_columns_is_read_again():
    rainy = replace(
        denver(), rain_m=np.tile([0.0, 2.5e-3], HOURS // 2), has_snow=denver().air_k < CELSIUS_K
    )
    for year in (denver(), rainy):
        again = read_weather_csv(write_weather_csv(year).encode(), DENVER)
        for what in ("air_k", "dew_k"):
            assert getattr(again, what) == pytest.approx(getattr(year, what), abs=0.006), what
        for what in ("beam_w_m2", "diffuse_w_m2", "long_wave_w_m2", "wind_m_s", "pressure_pa"):
            assert getattr(again, what) == pytest.approx(getattr(year, what), abs=0.006), what
        assert np.array_equal(again.has_snow, year.has_snow)
        assert (again.rain_m is None) == (year.rain_m is None)
    assert again.rain_m == pytest.approx(rainy.rain_m)
    told = write_weather_csv(year).splitlines()[0]
    assert told == "# Denver: latitude 39.83, longitude -104.65, UTC -7 h, altitude 1650 m"
