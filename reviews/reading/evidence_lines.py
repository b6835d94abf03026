"""Lines of the tables of a book of evidence, of its contents; a figure that isn’t one is blank."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal, InvalidOperation
from typing import Any

from reviews.exchange.data_package import TABLES

Told = dict[str, Any]
Lines = Iterable[Iterable[Any]]

MINUS = "−"
SHEET = ("number", "title", "scale", "drawn_by", "checked_by", "width", "height")
SAID = ("place", "on", "juror", "kind", "criterion", "words", "reworded", "held")


def schedules_path(folder: str, path: str) -> str:
    """Where a file of a revision’s schedules lies in the book."""
    return f"{folder}/schedules/{path}"


def _number(text: str) -> str:
    """A figure as it is shown, for scripts; blank where it is none.

    >>> _number("−0.25"), _number("+0.40"), _number("none")
    ('-0.25', '0.40', '')
    """
    plain = text.replace(MINUS, "-").removeprefix("+")
    try:
        return plain if Decimal(plain).is_finite() else ""
    except InvalidOperation:
        return ""


def crits(told: Told) -> Lines:
    """Crits that are released."""
    for crit in told["studio"]["crits"]:
        yield crit["crit"], crit["day"], crit["released"], crit["words"]


def criteria(told: Told) -> Lines:
    """Criteria of each, with what their levels mean."""
    for crit in told["studio"]["crits"]:
        for each in crit["criteria"]:
            own = each["code"], each["name"], each["weight"], each["evidence"]
            yield crit["crit"], *own, *each["levels"]


def cohort(told: Told) -> Lines:
    """Of each criterion how many levels were given, their mean, how many of each."""
    codes = {
        (crit["crit"], f"{each['code']} {each['name']}"): each["code"]
        for crit in told["studio"]["crits"]
        for each in crit["criteria"]
    }
    for crit, criterion, given, mean, *counts in told["studio"]["cohort_figures"]:
        yield crit, codes.get((crit, criterion)), criterion, given, _number(mean), *counts


def jurors(told: Told) -> Lines:
    """A juror's lean with its interval; what isn't known says why."""
    for crit, juror, sheets, lean, interval in told["studio"]["jurors"]:
        if not sheets:  # then a reason stands in a name's place
            yield crit, "", "", "", "", "", juror
            continue
        low, _, high = interval.partition(" to ")
        ends = _number(low), _number(high)
        yield crit, juror, sheets, _number(lean), *ends, "" if all(ends) else interval


def of_schemes(told: Told) -> Lines:
    """Schemes of the book."""
    for each in told["schemes"]:
        yield each["number"], each["name"], each["by"], each["withdrawn"]


def _revisions(told: Told) -> Iterator[tuple[str, Told]]:
    for scheme in told["schemes"]:
        for each in scheme["revisions"]:
            yield scheme["number"], each


def issued(told: Told) -> Lines:
    """What each scheme issued."""
    for scheme, each in _revisions(told):
        when = each["issued"], each["for"], each["late"]
        yield scheme, each["letter"], *when, each["by"], each["lacks"], each["receipt"]


def checks(told: Told) -> Lines:
    """What each target asked and what was found."""
    for scheme, each in _revisions(told):
        for check in each["checks"]:
            yield scheme, each["letter"], *check


def schedules(told: Told) -> Lines:
    """Which schedules were issued, and where they lie."""
    there = {each["path"] for each in told["files"]}
    for scheme, each in _revisions(told):
        for slug, rows in each["schedules"].items():
            path = schedules_path(each["folder"], f"{TABLES}/{slug}.csv")
            yield scheme, each["letter"], slug, rows, path if path in there else ""


def sheets(told: Told) -> Lines:
    """Sheets as issued, and where their pictures lie."""
    for scheme, revision in _revisions(told):
        for each in revision["sheets"]:
            own = (each[name] for name in SHEET)
            yield scheme, revision["letter"], *own, each["sha256"], each.get("path")


def _results(told: Told) -> Iterator[tuple[str, str, Told]]:
    for scheme in told["schemes"]:
        for each in scheme["crits"]:
            yield each["crit"], scheme["number"], each


def verdicts(told: Told) -> Lines:
    """How each scheme goes on from a crit."""
    for crit, scheme, each in _results(told):
        if verdict := each["verdict"]:
            names = ("kind", "words", "criteria", "by", "at")
            yield crit, scheme, *(verdict[name] for name in names)


def agreed(told: Told) -> Lines:
    """The level that a jury agreed on."""
    for crit, scheme, each in _results(told):
        for criterion in each["criteria"]:
            if level := criterion["agreed"]:
                more = criterion["agreed_word"], criterion["reason"]
                yield crit, scheme, criterion["code"], _number(level), *more


def _levels(told: Told) -> Iterator[tuple[tuple[str, ...], Told]]:
    """Each juror's level of a criterion, under crit, scheme, code and juror."""
    for crit, scheme, each in _results(told):
        for criterion in each["criteria"]:
            for level in criterion["levels"]:
                yield (crit, scheme, criterion["code"], level["juror"]), level


def given(told: Told) -> Lines:
    """Each juror’s level; what isn’t one in words."""
    for of, level in _levels(told):
        figure = _number(level["level"])
        yield *of, figure, level["word"] if figure else level["level"], level["on"]


def corrections(told: Told) -> Lines:
    """Levels put right since the release."""
    for of, level in _levels(told):
        for each in level["corrections"]:
            names = ("was", "now", "reason", "by", "at", "appeal")
            yield *of, *(each[name] for name in names)


def again(told: Told) -> Lines:
    """Levels before and after a re-crit."""
    for crit, scheme, each in _results(told):
        for line in each.get("again", ()):
            yield crit, scheme, *(line[name] for name in ("criterion", "before", "after", "why"))


def _numbered(told: Told) -> Iterator[tuple[tuple[str, str, int], Told]]:
    for crit, scheme, each in _results(told):
        for n, comment in enumerate(each["comments"], start=1):
            yield (crit, scheme, n), comment


def comments(told: Told) -> Lines:
    """Comments by their place in the list, with their answers."""
    for of, each in _numbered(told):
        answer, alike = each.get("answer") or {}, each.get("alike") or {}
        answered = (answer.get(name) for name in ("kind", "words", "place", "by", "at"))
        same = (alike.get(name) for name in ("jurors", "heading", "comments"))
        yield *of, *(each.get(name) for name in SAID), *answered, *same


def opposed(told: Told) -> Lines:
    """Which comments oppose each other."""
    for of, each in _numbered(told):
        for pair in each.get("opposed", ()):
            yield *of, pair["by"], pair["ruling"], pair["argue_by"]


def closings(told: Told) -> Lines:
    """When comments were closed, or opened again."""
    for of, each in _numbered(told):
        for closing in each.get("closings", ()):
            yield *of, *(closing[name] for name in ("state", "words", "by", "at"))


def under(name: str, *heads: str) -> Callable[[Told], Lines]:
    """Lines of what stands in a list of each result."""

    def lines(told: Told) -> Lines:
        for crit, scheme, each in _results(told):
            for line in each.get(name, ()):
                yield crit, scheme, *(line[head] for head in heads)

    return lines


def targets(told: Told) -> Lines:
    """Targets of the brief in force."""
    return [*told["studio"]["brief"]["targets"]]


def standards(told: Told) -> Lines:
    """The map of standards."""
    return [*told["studio"]["standards"]["lines"]]


def register(told: Told) -> Lines:
    """The register."""
    return [*told["studio"]["register"]]


def chosen_from(told: Told) -> Lines:
    """What the schemes were chosen from, by which figures."""
    for each in told["drawn_from"].get("list", ()):
        own = (each[name] for name in ("scheme", "name"))
        yield *own, _number(each["figure"]), each["of"], each["verdict"], each["chosen"]


def missing(told: Told) -> Lines:
    """What couldn’t be read when the book was made."""
    return [[words] for words in told["missing"]]


def files(told: Told) -> Lines:
    """Every file that the contents name."""
    for each in told["files"]:
        yield each["path"], each["words"], each["bytes"], each["sha256"]
