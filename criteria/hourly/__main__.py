"""One case in the explicit form from a command line: `python -m criteria.hourly CASE WEATHER`."""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from criteria.hourly.building import ANY_PLANT
from criteria.hourly.case_file import read_case
from criteria.hourly.figures import figures, load_kw
from criteria.hourly.running import Ready
from criteria.hourly.weather import CELSIUS_K
from criteria.hourly.weather_file import read_weather_csv
from criteria.hourly.weather_refused import WeatherRefused
from criteria.typed.json_file import UnreadableFile

EXIT_UNREADABLE = 2
NAMES = {"mwh": "MWh", "kw": "kW", "c": "°C"}


def parser() -> argparse.ArgumentParser:
    """Return the command's grammar."""
    given = argparse.ArgumentParser(prog="python -m criteria.hourly", description=__doc__)
    given.add_argument("case", metavar="CASE.json", type=Path, help="one case, keys with units")
    given.add_argument(
        "weather", metavar="WEATHER.csv", type=Path, help="8,760 rows of plain columns"
    )
    given.add_argument("--hours", action="store_true", help="the air and the load of each hour too")
    given.add_argument("--json", action="store_true", help="all figures, not rounded")
    return given


def main(arguments: Sequence[str] | None = None) -> int:
    """Print what a case comes to; return 0, or 2 where the input can't be read."""
    options = parser().parse_args(arguments)
    try:
        case = read_case(options.case)
        weather = read_weather_csv(options.weather.read_bytes(), case.place, options.weather.name)
    except (UnreadableFile, WeatherRefused) as unreadable:
        print(unreadable, file=sys.stderr)
        return EXIT_UNREADABLE
    except OSError as error:
        print(f"{error.filename}: read “{error.strerror}”; expected a file", file=sys.stderr)
        return EXIT_UNREADABLE
    for key in case.unread:
        print(f"{options.case}: {key}: not read, nothing here is called that", file=sys.stderr)
    run, _ = Ready(case.building, weather).run(ANY_PLANT)
    told: dict[str, object] = {"case": case.name, **figures(run), "closure": run.closure}
    if options.hours:
        told["air_c_by_hour"] = (run.air_k - CELSIUS_K).tolist()
        told["load_kw_by_hour"] = load_kw(run).tolist()
    if options.json:
        print(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        for key, value in figures(run).items():
            name, _, unit = key.rpartition("_")
            print(f"{name.replace('_', ' '):<14} {value:9.3f} {NAMES[unit]}")
        if options.hours:
            for hour, (air, load) in enumerate(zip(run.air_k, load_kw(run), strict=True), 1):
                print(f"hour {hour:<9} {air - CELSIUS_K:9.3f} °C {load:9.3f} kW")
    return 0


if __name__ == "__main__":
    sys.exit(main())
