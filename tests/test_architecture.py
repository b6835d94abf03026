"""The direction of imports, and what no file of ours may be. Reads source and addresses."""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from reviews.exchange.kinds import KINDS
from reviews.urls import urlpatterns

ROOT = Path(__file__).parent.parent
OURS = ("criteria", "reviews", "templates", "tests")
MOST_LINES = 400


LAYERS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "addresses and commands",
        (
            *(
                "urls",
                "package_urls",
                "brief_urls",
                "evidence_urls",
                "script_urls",
                "wsgi",
                "serving",
                "background",
            ),
            *("management", "demo", "__main__"),
        ),
    ),
    ("views", ("views", "admin")),
    ("template tags", ("templatetags",)),
    ("forms", ("forms",)),
    ("pages", ("pages",)),
    ("deeds", ("deeds",)),
    ("reading", ("reading",)),
    (
        "access",
        (
            *("access", "access_again", "access_answers", "access_day", "access_scripts"),
            "access_studio",
        ),
    ),
    ("models", ("models", "migrations")),
    (
        "ground",
        (
            *(
                "apps",
                "bucket",
                "clock",
                "compressing",
                "demo_mark",
                "env",
                "env_mail",
                "env_school",
            ),
            *("env_store", "exchange", "jobs", "logs", "middleware", "moments", "outages"),
            *("picture_limits", "places", "plain_pdf", "plain_picture", "request_size"),
            *("script_problems", "settings", "sqlite_fault", "stylesheets"),
            *("strokes", "surroundings", "tiff_pages", "tiles", "versions", "watch", "worked_out"),
        ),
    ),
)
"""Layers of reviews from the top down, with their modules; what none names is a deed.

A module imports from its own layer and from those below it. Nothing of the ground imports what
stands on it. All may import criteria, which imports none of them.
"""

LAYER_OF = {name: rank for rank, (_, names) in enumerate(LAYERS) for name in names}
DEEDS = [name for name, _ in LAYERS].index("deeds")


def sources(*folders: str, suffixes: tuple[str, ...] = (".py",)) -> list[Path]:
    found = (path for folder in folders for path in sorted((ROOT / folder).rglob("*")))
    return [
        path
        for path in found
        if path.suffix in suffixes and not {"migrations", "vendor", "__pycache__"} & {*path.parts}
    ]


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """Every module that a file imports, with its line; `from a import b` gives a.b."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{name_of(path)}:{node.lineno} imports relatively"
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)


def layer(dotted: str) -> int:
    """The layer of reviews.x.y, by its x."""
    return LAYER_OF.get(dotted.split(".")[1], DEEDS)


def against_the_direction(path: Path) -> Iterator[str]:
    here = layer(f"reviews.{path.relative_to(ROOT / 'reviews').parts[0].removesuffix('.py')}")
    for line, name in imports(path):
        if name.startswith("reviews.") and layer(name) < here:
            yield f"{name_of(path)}:{line} ({LAYERS[here][0]}) imports {name}"


def test_there_is_something_to_walk():
    assert len(sources("criteria")) > 20
    assert len(sources("reviews")) > 10


def test_the_library_knows_no_web():
    allowed = sys.stdlib_module_names | {"numpy", "scipy", "criteria"}
    found = [
        f"{name_of(path)}:{line} imports {name}"
        for path in sources("criteria")
        for line, name in imports(path)
        if name.split(".")[0] not in allowed
    ]
    assert found == []


def test_exchange_formats_know_neither_the_site_nor_its_web():
    """Each reads and writes with the library and what is made for its format, in a child too."""
    refused = ("django", "reviews")
    found = [
        f"{name_of(path)}:{line} imports {name}"
        for path in sources("reviews/exchange")
        for line, name in imports(path)
        if name.split(".")[0] in refused and not name.startswith("reviews.exchange.")
    ]
    assert sources("reviews/exchange")
    assert found == []


READERS = {"ifcopenshell", "ezdxf", "defusedxml", "python_calamine", "xlsxwriter"}
"""Libraries that read or write files of others, which no web process may read with."""


def test_files_of_others_are_read_in_exchange_alone():
    found = [
        f"{name_of(path)}:{line} imports {name}"
        for path in sources("criteria", "reviews")
        for line, name in imports(path)
        if name.split(".")[0] in READERS and not name_of(path).startswith("reviews/exchange/")
    ]
    assert found == []


def test_no_page_imports_what_reads_a_file():
    """What reads is named by kinds alone, and imported by the process apart."""
    read = {kind.module for kind in KINDS} - {"reviews.exchange.table_in"}
    found = [
        f"{name_of(path)}:{line} imports {name}"
        for path in sources("reviews")
        for line, name in imports(path)
        if any(name == each or name.startswith(f"{each}.") for each in read)
        and not name_of(path).startswith("reviews/exchange/")
    ]
    assert found == []


PASSED_OVER = re.compile(r"\.leniently\b|\bor 0\b|\.if_given\(\"(\w+)\"\)")
"""How a gap could be passed over: fit for names and notes, never for a figure."""

IN_NOTES = {
    "checks/access.py": {"clear_w_m", "flood_m"},  # which door is asked; a note on the tide
    "checks/air.py": {"name"},
    "checks/envelope.py": {"layer"},
    "checks/moving.py": {"n", "mass_kg"},  # the mass in all, and which have none
    "checks/reach.py": {None},  # rows without a reach are left out before
    "checks/rooms.py": {"name", "height_m"},
    "checks/setting_up.py": {"lift_to_m", "is_adult", "is_dry"},
    "checks/setting_up_asks.py": {None},  # what is asked beside the figures, never decided
    "checks/standing.py": {"n", "mass_kg"},  # which part of the mass is known
    "checks/stowage.py": {"people", "mass_kg", "over_heat"},
    "checks/transport.py": {"vehicle"},
    "checks/water.py": {"use"},
    "checks/ways_out.py": {"clear_w_m", "height_m", "is_outside", "drift_m"},  # a hatch; the drift
}
"""What is asked that way for words beside a figure, each looked at by hand."""


def test_no_verdict_is_computed_round_a_gap():
    for path in sources("criteria/checks", "criteria/measures"):
        if path.name != "reading.py":
            name = name_of(path).removeprefix("criteria/")
            found = PASSED_OVER.finditer(path.read_text(encoding="utf-8"))
            assert {match[1] for match in found} == IN_NOTES.get(name, set()), name


def test_the_sites_imports_run_one_way():
    found = [wrong for path in sources("reviews") for wrong in against_the_direction(path)]
    assert found == []


def test_the_demo_is_imported_by_its_own_command_alone():
    command = ROOT / "reviews/management/commands/demo.py"
    found = [
        f"{name_of(path)}:{line} imports {name}"
        for path in sources("criteria", "reviews")
        if path != command and ROOT / "reviews/demo" not in path.parents
        for line, name in imports(path)
        if f"{name}.".startswith("reviews.demo.")
    ]
    assert found == []
    assert any(name.startswith("reviews.demo") for _, name in imports(command))


def test_nothing_asks_whether_it_is_being_tested():
    sniffs = [name_of(p) for p in sources("criteria", "reviews") if "pytest" in p.read_text()]
    assert sniffs == []


def test_an_import_against_the_direction_is_found(tmp_path, monkeypatch):
    monkeypatch.setitem(globals(), "ROOT", tmp_path)
    (tmp_path / "reviews/models").mkdir(parents=True)
    file = tmp_path / "reviews/models/rooms.py"
    file.write_text("from reviews.views import rooms\nfrom reviews.env import read\n")
    assert list(against_the_direction(file)) == [
        "reviews/models/rooms.py:1 (models) imports reviews.views.rooms"
    ]


FACTS = ("held_at", "locked_at", "released_at", "removed_at", "taken_back_at", "withdrawn_at")
"""Which sheets count, which comments stand, who is withdrawn: said on the models alone."""

ASKING = ("filter", "exclude", "get", "Q")


def queries(path: Path) -> Iterator[tuple[int, str, list[str]]]:
    """Line, name and arguments of every call that asks the database."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name in ASKING:
                yield node.lineno, name, [each.arg or "" for each in node.keywords]


def test_views_ask_the_database_in_words_alone():
    found = [
        f"{name_of(path)}:{line} {name}"
        for path in sources("reviews/views")
        for line, name, _ in queries(path)
        if name in ("filter", "exclude")
    ]
    assert found == []


def test_what_counts_and_stands_is_said_on_the_models_alone():
    found = [
        f"{name_of(path)}:{line} {name}({argument})"
        for path in sources("reviews")
        if "models" not in path.parts
        for line, name, arguments in queries(path)
        for argument in arguments
        if set(argument.split("__")) & set(FACTS)
    ]
    assert found == []


def test_a_query_that_says_a_fact_is_found(tmp_path):
    file = tmp_path / "rooms.py"
    file.write_text("a.objects.filter(jury_sheet__locked_at=None).get(pk=1)\nlocked_at=None\n")
    assert list(queries(file)) == [(1, "get", ["pk"]), (1, "filter", ["jury_sheet__locked_at"])]


def test_no_file_is_too_long_to_read():
    paths = sources(*OURS, suffixes=(".py", ".html", ".css", ".js"))
    long = {name_of(path): len(path.read_text(encoding="utf-8").splitlines()) for path in paths}
    assert {name: n for name, n in long.items() if n > MOST_LINES} == {}


UNLINKED = {
    "come-from-school": "where the school sends people back",
    "set-password": "sent to one person as a link of their own",
    "send-piece": "told to whoever begins to send a file",
    "stop-mail": "at the foot of each letter",
    "specimen": "for whoever works on the look",
    "send-worker": "asked for by js/day.js, of the browser",
    "healthz": "asked by whatever watches over the server",
}
"""Addresses that no page leads to, and why."""


def test_every_address_is_led_to_from_some_page():
    names = [str(address.name) for address in urlpatterns]
    assert len(names) > 80
    pages = sources("templates", "reviews/pages", suffixes=(".html", ".py"))
    led_to = {
        match[1]
        for path in pages
        for match in re.finditer(
            r"""(?:{% url |reverse\()["']([a-z-]+)["']""", path.read_text(encoding="utf-8")
        )
    }
    assert [name for name in names if name not in led_to | UNLINKED.keys()] == []
    assert sorted(UNLINKED.keys() & led_to) == []


def test_no_module_is_named_for_nothing():
    idle = {"utils", "util", "helpers", "misc", "common"}
    assert [name_of(p) for p in sources("criteria", "reviews", "tests") if p.stem in idle] == []
    folders = {path.parent.name for path in sources("criteria", "reviews", "tests")}
    assert not folders & idle


INLINE = re.compile(
    r"<style\b|\sstyle\s*=|\son[a-z]+\s*=|\shx-on[:-]|javascript:|<script\b(?![^>]*\ssrc=)",
    re.IGNORECASE,
)
"""What the Content-Security-Policy refuses; a script with its source elsewhere is none."""


@pytest.mark.parametrize(
    ("html", "is_inline"),
    [
        ('<script src="/a.js" defer></script>', False),
        ("<script>go()</script>", True),
        ("<script defer>go()</script>", True),
        ("<style>p {}</style>", True),
        ('<p style="color: red">', True),
        ('<p class="style">', False),
        ('<a onclick="go()">', True),
        ('<a hx-on:click="go()">', True),
        ('<a href="javascript:go()">', True),
        ("once = only", False),
    ],
)
def test_what_is_inline_is_found(html, is_inline):
    assert bool(INLINE.search(html)) is is_inline


def test_no_template_has_a_style_or_script_of_its_own():
    found = [
        f"{name_of(path)}: {match[0].strip()}"
        for path in sources("templates", suffixes=(".html", ".svg", ".txt"))
        if (match := INLINE.search(path.read_text(encoding="utf-8")))
    ]
    assert found == []


def test_the_top_level_holds_what_it_should():
    made = {"build", "staticfiles", "muntin.egg-info", "__pycache__"}
    here = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")} - made
    assert here <= {"README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml", *OURS}
